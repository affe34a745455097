"""A job comes in for the first time: ready, or on the foreman's word."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.trouble import MayNot
from store.file.ready_now import facts_of
from store.rules.readiness import lacking
from store.rules.roles import why_not
from store.trouble import Refused

NOT_HERE = ("enquiry", "booked")


def refuse_unready(doing: Acting, job: str) -> list[str]:
    """Refuse to bring a job in that lacks something, unless a foreman or owner does it.

    What comes for its qualifying check comes as it is, small jobs never lack anything, and what
    was on a lift before is in already.

    Returns:
        What lacks, in words; nothing where it is ready.

    Raises:
        MayNot, PinNeeded, NoPin, WrongPin: it takes the foreman's word.
        Refused: the vehicle is not here yet.
    """
    facts = facts_of(doing.db, [job], doing.at, doing.calendar).get(job)
    if facts is None:
        return []
    _refuse_not_here(doing, job)
    if facts.check == "to do":
        return []
    lacks = [one.words for one in lacking(facts, doing.at, doing.calendar.zone)]
    lacks += [f"held: {reason}" for reason in _held(doing, job)]
    if not lacks:
        return []
    if why_not("bring in unready", doing.person.role, doing.person.experience):
        raise MayNot(
            f"{job} is not ready: {'; '.join(lacks)}. To bring it in all the same takes the "
            "foreman's word: ask a foreman or the owner to do it."
        )
    doing.may("bring in unready")
    return lacks


def _refuse_not_here(doing: Acting, job: str) -> None:
    state = doing.db.execute("select state from job where job = ?", [job]).fetchone()[0]
    if state in NOT_HERE:
        raise Refused(f"The vehicle of {job} has not arrived: write its arrival down first.")


def _held(doing: Acting, job: str) -> list[str]:
    rows = doing.db.execute(
        "select reason from hold where job = ? and phase is null and until is null order by seq",
        [job],
    )
    return [row[0] for row in rows]
