"""A lift cleared of what cannot go on: the vehicle leaves it for a yard, in one act."""

from __future__ import annotations

from store.actions.acting import Acting, Done, acting
from store.actions.places import PlaceRow, place_by, set_at
from store.file.change import By
from store.file.open_acts.gathered import gathered
from store.file.shop import Shop
from store.trouble import Refused


def clear(shop: Shop, by: By, *, lift: str, place: str | None = None) -> Done:
    """Move the vehicle that cannot go on away from a lift.

    Args:
        lift: code of the lift.
        place: where to; None is the first yard.

    Raises:
        NoSuch: no such lift or place.
        Refused: nothing stands on it; somebody works on its job, or could go on with it; it sits
            fixed; an open condition or hold point forbids it; the place is taken or too weak.
    """
    with acting(shop, by, "move job") as doing:
        target = place_by(doing, lift, "lift")
        job = _stuck_on(doing, target)
        to = _place(doing, place)
        says = set_at(doing, job, to)
        return doing.done(f"Lift {target.code} is clear: {says}", job=job)


def _stuck_on(doing: Acting, lift: PlaceRow) -> str:
    """The job on a lift that cannot go on: as it is now, whatever a screen showed before."""
    row = doing.db.execute("select job from job_place where place = ?", [lift.place]).fetchone()
    if row is None:
        raise Refused(f"Lift {lift.code} is free: there is nothing to clear.")
    job = str(row["job"])
    going = gathered(doing.db, doing.at).jobs[job]
    if going.clocked:
        phase = next(iter(going.clocked))
        raise Refused(f"Somebody is at work on {job}.{phase} on lift {lift.code}: it stays there.")
    if going.left and not going.stuck:
        raise Refused(
            f"{job} on lift {lift.code} is neither held nor away: it can go on there. "
            f"`hoistbook move {job}` moves it all the same."
        )
    return job


def _place(doing: Acting, code: str | None) -> PlaceRow:
    if code is not None:
        return place_by(doing, code)
    row = doing.db.execute(
        "select code from place where kind = 'yard' order by position limit 1"
    ).fetchone()
    if row is None:
        raise Refused("The shop has no yard. Name a place: --place CODE.")
    return place_by(doing, row["code"])
