"""Lifts and other places: who stands where, what a lift can carry, in and out of service."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date
from typing import Literal

from store.actions.acting import Acting, Done, acting
from store.actions.clock import stop_all
from store.actions.coming_in import refuse_unready
from store.actions.deeds import refuse_deed
from store.actions.gates import blocked_from, refuse_worked_since
from store.actions.jobs_now import live_job
from store.actions.trouble import NoSuch
from store.edges.events.jobs import Placed
from store.edges.events.places import (
    LiftInspected,
    LiftLookedOver,
    LiftReturned,
    LiftWithdrawn,
    PlaceAdded,
)
from store.edges.events.route import StepRef
from store.file.change import By
from store.file.facts import setting
from store.file.route_now import gates_of, phases_of, stands, steps_of
from store.file.shop import Shop
from store.rules.lift_fit import Inspection, lift_fit
from store.trouble import Refused

PlaceKind = Literal["lift", "bench", "stand", "yard"]
VehiclePart = Literal["body", "unit"]
STAYS = ("enquiry", "booked", "arrived", "quoted", "finished")
"""States that a lift does not change: what is not agreed is on it for its qualifying check."""
HOLDS_MANY: tuple[str, ...] = ("yard", "bench")
"""Kinds of place with room for more than one."""


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """A place as the tables have it."""

    place: str
    code: str
    kind: str
    rated_kg: float | None
    in_service: bool
    out_reason: str | None
    inspected: str | None
    months: int | None
    interval_source: str | None
    looked_over: str | None


PLACE = (
    "place, code, kind, rated_kg, in_service, out_reason, inspected, months, interval_source, "
    "looked_over"
)


def place_by(doing: Acting, code: str, kind: str | None = None) -> PlaceRow:
    """Return a place by its code.

    Raises:
        NoSuch: there is none.
    """
    row = doing.db.execute(
        f"select {PLACE} from place where code = ? and (? is null or kind = ?)", [code, kind, kind]
    ).fetchone()
    if row is None:
        there = [
            one[0]
            for one in doing.db.execute(
                "select code from place where ? is null or kind = ? order by position", [kind, kind]
            )
        ]
        raise NoSuch(kind or "place", code, f"There are: {', '.join(there) or 'none yet'}.")
    return PlaceRow(
        row["place"], row["code"], row["kind"], row["rated_kg"], bool(row["in_service"]),
        row["out_reason"], row["inspected"], row["months"], row["interval_source"],
        row["looked_over"],
    )  # fmt: skip


def move(
    shop: Shop, by: By, *, job: str, place: str, lift: bool, part: VehiclePart = "body"
) -> Done:
    """Move a vehicle, or a unit out of it, to a lift or another place.

    Args:
        place: code of the place.
        lift: it must be a lift.
        part: the body, or a unit taken out of it.

    Raises:
        NoSuch: no such job or place.
        MayNot: it is not ready to come in, which takes the foreman's word.
        Refused: it sits fixed, an open condition or hold point forbids it, the place is taken, or
            the lift is out of service or too weak.
    """
    with acting(shop, by, "move job") as doing:
        target = place_by(doing, place, "lift" if lift else None)
        return doing.done(set_at(doing, job, target, part), job=job)


def set_at(doing: Acting, job: str, target: PlaceRow, part: VehiclePart = "body") -> str:
    """Set a vehicle, or its unit, at a place, inside an act that was begun; say what was done.

    Raises:
        NoSuch, MayNot, Refused: as `move` does.
    """
    row = live_job(doing, job)
    at = _at(doing, job, part)
    if at is not None and at["place"] == target.place:
        where = f"on lift {target.code}" if target.kind == "lift" else f"at {target.code}"
        raise Refused(f"{job} is {where} already.")
    _refuse_weak(target, part)
    if at is not None and doing.at_text < at["since"]:
        raise Refused(f"{job} came to {at['code']} later than that. Give a later time.")
    if part == "body":
        _refuse_move(doing, job, at)
    if target.kind == "lift":
        return put_on_lift(doing, job, target)
    refuse_taken(doing, job, target)
    keeps = part == "unit" or row.state in (*STAYS, "waiting")
    state = row.state if keeps else "off-lift"
    doing.record(Placed(job=job, part=part, place=target.place, state=state))
    return f"{'The unit of ' if part == 'unit' else ''}{job} is at {target.code} now."


def _refuse_weak(target: PlaceRow, part: VehiclePart) -> None:
    """A lift raises whole vehicles; benches and stands carry what was taken out of one."""
    if part == "unit" and target.kind == "lift":
        raise Refused("A lift raises whole vehicles. Give a bench or a stand for the unit.")
    if part == "body" and target.kind in ("bench", "stand"):
        raise Refused(
            f"{target.kind.capitalize()} {target.code} is too weak for a vehicle: it carries "
            "units. Give a lift or a yard."
        )


def _at(doing: Acting, job: str, part: str) -> sqlite3.Row | None:
    row: sqlite3.Row | None = doing.db.execute(
        "select place, code, kind, since from job_place join place using (place) "
        "where job = ? and part = ?",
        [job, part],
    ).fetchone()
    return row


def _refuse_move(doing: Acting, job: str, at: sqlite3.Row | None) -> None:
    phases = phases_of(doing.db, job)
    if at is not None and stands(phases) == "fixed":
        fixed = [one for one in phases if one.after == "fixed" and one.state != "to come"]
        since = f" since {fixed[-1].name}" if fixed else ""
        raise Refused(
            f"{job} sits fixed{since}: it stays until it rolls again. Go on with it there."
        )
    refuse_deed(doing, job, "move", phases)
    if at is not None and at["kind"] == "lift":
        refuse_deed(doing, job, "lower", phases)


def put_on_lift(doing: Acting, job: str, lift: PlaceRow) -> str:
    """Set a vehicle on a lift; hold points that must be signed on each lift anew are void.

    Returns:
        What was done and what to be warned of, in words.

    Raises:
        MayNot, PinNeeded, NoPin, WrongPin: it comes in unready, which takes the foreman's word.
        Refused: the lift is taken, out of service or too weak.
    """
    refuse_taken(doing, job, lift)
    warnings = _refuse_unfit(doing, job, lift)
    unready = refuse_unready(doing, job)
    voids = raised_anew(doing, job)
    stopped = stop_behind(doing, job, voids)
    state = doing.db.execute("select state from job where job = ?", [job]).fetchone()[0]
    doing.record(
        Placed(
            job=job, part="body", place=lift.place, voids=voids, unready=unready,
            state=state if state in STAYS else "on-lift",
        )
    )  # fmt: skip
    says = [f"{job} is on lift {lift.code}."]
    if unready:
        says.append(f"It was not ready: {'; '.join(unready)}.")
    if voids:
        listed = ", ".join(f"{job}.{one.phase}.{one.step}" for one in voids)
        says.append(f"To be signed again: {listed}.")
    if stopped:
        says.append(f"Stopped: the clock of {', '.join(stopped)}.")
    return " ".join([*says, *warnings])


def raised_anew(doing: Acting, job: str) -> list[StepRef]:
    """Return the signatures that die when a vehicle is set on a lift."""
    return [
        StepRef(phase=one.phase, step=one.step)
        for one in steps_of(doing.db, job, gates_only=True)
        if one.void_on_lift and one.state != "open"
    ]


def stop_behind(doing: Acting, job: str, voids: list[StepRef]) -> list[str]:
    """Stop the clocks on phases behind signatures that die; return whose they were."""
    dying = {(one.phase, one.step) for one in voids}
    gates = [one for one in gates_of(doing.db, job) if (one.phase, one.step) in dying]
    behind = blocked_from(gates, phases_of(doing.db, job))
    refuse_worked_since(doing, job, behind)
    return [
        name
        for one in behind
        if one.state == "under way"
        for name in stop_all(doing, job, one.phase, leave_forgotten=True)
    ]


def refuse_taken(doing: Acting, job: str, place: PlaceRow) -> None:
    """Refuse a place that holds one, and has it.

    Raises:
        Refused: saying whose it is, and what is free.
    """
    if place.kind in HOLDS_MANY:
        return
    there = doing.db.execute(
        "select job from job_place where place = ? and job != ?", [place.place, job]
    ).fetchone()
    if there is not None:
        free = _free_places(doing, place.kind)
        hint = f"Free are: {', '.join(free)}." if free else f"No {place.kind} is free."
        raise Refused(f"{place.kind.capitalize()} {place.code} is taken by {there['job']}. {hint}")


def _free_places(doing: Acting, kind: str) -> list[str]:
    return [
        row[0]
        for row in doing.db.execute(
            "select code from place where kind = ? and in_service and not exists "
            "(select 1 from job_place where job_place.place = place.place) order by position",
            [kind],
        )
    ]


def _refuse_unfit(doing: Acting, job: str, lift: PlaceRow) -> tuple[str, ...]:
    if lift.rated_kg is None:
        return ()
    mass = doing.db.execute(
        "select mass_kg from job join vehicle using (vehicle) where job = ?", [job]
    ).fetchone()[0]
    if not lift.in_service:
        raise Refused(
            f"Lift {lift.code} is out of service: {lift.out_reason}. Use another, or let a foreman "
            f"return it: hoistbook lift return {lift.code}."
        )
    fit = lift_fit(
        lift=lift.code, rated_kg=lift.rated_kg, in_service=lift.in_service,
        inspection=inspection_of(lift), overdue_refuses=setting(doing.db, "overdue lift refused"),
        looked_over=date.fromisoformat(lift.looked_over) if lift.looked_over else None,
        mass_kg=mass, today=doing.today,
    )  # fmt: skip
    if fit.refused:
        raise Refused(fit.refused)
    return fit.warnings


def inspection_of(lift: PlaceRow) -> Inspection | None:
    """Return the last inspection on record."""
    if lift.inspected is None or lift.months is None:
        return None
    return Inspection(date.fromisoformat(lift.inspected), lift.months, lift.interval_source or "?")


def add_place(
    shop: Shop,
    by: By,
    *,
    code: str,
    kind: PlaceKind,
    lift_kind: str | None = None,
    rated_kg: float | None = None,
) -> Done:
    """Add a lift, bench, stand or yard.

    Raises:
        Refused: the code is taken; a lift without kind or rated capacity.
    """
    with acting(shop, by, "add place") as doing:
        record_place(doing, code, kind, lift_kind, rated_kg)
        return doing.done(f"{kind.capitalize()} {code} added.")


def record_place(
    doing: Acting, code: str, kind: PlaceKind, lift_kind: str | None, rated_kg: float | None
) -> None:
    """Write a new place down; it comes last in the shop's order."""
    if doing.db.execute("select 1 from place where code = ?", [code]).fetchone():
        raise Refused(f"There is a place {code} already. Give another code.")
    if kind == "lift" and (lift_kind is None or rated_kg is None):
        raise Refused("A lift has a kind and a rated capacity: --kind TEXT --kg NUMBER.")
    if rated_kg is not None and not 0 < rated_kg <= 100_000:
        raise Refused("The rated capacity is in kilograms, more than 0.")
    position = doing.db.execute("select count(*) from place").fetchone()[0] + 1
    doing.record(
        PlaceAdded(
            place=doing.change.new_id("l"), code=code, place_kind=kind, position=position,
            lift_kind=lift_kind, rated_kg=rated_kg,
        )
    )  # fmt: skip


def withdraw_lift(shop: Shop, by: By, *, code: str, reason: str) -> Done:
    """Take a lift out of service; what stands on it stays there until it is moved.

    Raises:
        NoSuch: no such lift.
        Refused: it is out of service already.
    """
    with acting(shop, by, "withdraw lift") as doing:
        lift = place_by(doing, code, "lift")
        if not lift.in_service:
            raise Refused(f"Lift {code} is out of service already: {lift.out_reason}.")
        doing.record(LiftWithdrawn(place=lift.place, reason=reason))
        there = doing.db.execute(
            "select job from job_place where place = ?", [lift.place]
        ).fetchone()
        says = f"Lift {code} is out of service: {reason}."
        if there is not None:
            says += f" {there['job']} stands on it: move it with `hoistbook move`."
        return doing.done(says)


def return_lift(shop: Shop, by: By, *, code: str) -> Done:
    """Put a lift back into service.

    Raises:
        NoSuch: no such lift.
        Refused: it is in service.
    """
    with acting(shop, by, "return lift") as doing:
        lift = place_by(doing, code, "lift")
        if lift.in_service:
            raise Refused(f"Lift {code} is in service already.")
        doing.record(LiftReturned(place=lift.place))
        return doing.done(f"Lift {code} is in service again.")


def look_over(shop: Shop, by: By, *, code: str, note: str | None = None) -> Done:
    """The daily look-over of a lift before use.

    Raises:
        NoSuch: no such lift.
        Refused: it was looked over today.
    """
    with acting(shop, by, "look lift over") as doing:
        lift = place_by(doing, code, "lift")
        today = doing.today.isoformat()
        if lift.looked_over is not None and lift.looked_over >= today:
            raise Refused(f"Lift {code} was looked over today.")
        doing.record(LiftLookedOver(place=lift.place, day=today, note=note))
        return doing.done(f"Lift {code} was looked over.")


def inspect_lift(
    shop: Shop, by: By, *, code: str, day: date, months: int, source: str, inspector: str
) -> Done:
    """Record the inspection of a lift by a competent person, with the interval and its source.

    Raises:
        NoSuch: no such lift.
        Refused: the day lies in the future, or the interval is no sensible number of months.
    """
    with acting(shop, by, "record inspection") as doing:
        lift = place_by(doing, code, "lift")
        if day > doing.today:
            raise Refused("The inspection lies in the future. Give the day on which it was.")
        if not 1 <= months <= 120:
            raise Refused("The interval is 1 to 120 months.")
        doing.record(
            LiftInspected(
                place=lift.place, day=day.isoformat(), months=months, source=source, by=inspector
            )
        )
        return doing.done(
            f"Lift {code} was inspected on {day}, next in {months} months ({source})."
        )
