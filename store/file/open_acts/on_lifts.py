"""Acts about lifts: a waiting job in, a lift cleared, a look-over, an inspection."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta

from store.file.facts import day_bounds, setting
from store.file.open_acts.going import Gathered, Going, LiftNow
from store.file.open_acts.people import able, named
from store.file.ready_now import facts_of
from store.file.route_now import stands
from store.rules.acts import MINUTES, Act, ActKind
from store.rules.blocking import blocking_deed
from store.rules.lift_fit import DUE_SOON, Inspection, carries
from store.rules.readiness import lacking
from store.rules.roles import Act as Deed

MOST = 6
"""Of the waiting line as many are looked at: whoever comes after them comes after them."""


def acts_on_lifts(every: Gathered) -> Iterator[Act]:
    """Yield what is open about lifts."""
    ready = ready_to_come_in(every)
    yield from _bring_in(every, ready)
    yield from _clear(every, ready)
    for lift in every.lifts:
        yield from _looked_over(every, lift)
        yield from _inspected(every, lift)


def ready_to_come_in(every: Gathered) -> list[Going]:
    """Jobs that wait for nothing but a lift, the longest waiting first."""
    waiting = [
        one for one in every.jobs.values()
        if one.state == "waiting" and not one.holds and not one.asked and one.lift is None
    ]  # fmt: skip
    facts = facts_of(every.db, [one.job for one in waiting], every.now, every.calendar)
    zone = every.calendar.zone
    return [
        one
        for one in waiting
        if one.job not in facts or not lacking(facts[one.job], every.now, zone)
    ][:MOST]


def raises(every: Gathered, lift: LiftNow) -> bool:
    """It is in service, and no rule of the shop keeps vehicles off it."""
    if not lift.in_service:
        return False
    due = _due(lift)
    overdue = due is None or due < every.calendar.day_of(every.now)
    return not (overdue and bool(setting(every.db, "overdue lift refused")))


def _bring_in(every: Gathered, ready: Sequence[Going]) -> Iterator[Act]:
    """Each ready job onto the first free lift that carries it."""
    free = [one for one in every.lifts if one.job is None and raises(every, one)]
    for going in ready:
        lift = next((one for one in free if carries(one.rated_kg, going.mass_kg)), None)
        if lift is None:
            continue
        since = max([one for one in (lift.free_since, going.queued) if one], default=None)
        yield _act(
            every, "bring in", "move job", going.job, lift.code,
            f"{going.job} can come in: lift {lift.code} is free", since,
            ("move", going.job, "--lift", lift.code), place=lift.code,
        )  # fmt: skip


def _clear(every: Gathered, ready: Sequence[Going]) -> Iterator[Act]:
    """What is stuck and rolls leaves its lift, where a job waits that finds no other."""
    if not every.yards:
        return
    free = [one for one in every.lifts if one.job is None and raises(every, one)]
    short = [one for one in ready if not any(carries(lift.rated_kg, one.mass_kg) for lift in free)]
    for lift in every.lifts:
        going = every.jobs.get(lift.job) if lift.job is not None else None
        if going is None or not going.stuck or not _rolls(every, going):
            continue
        comes = next((one for one in short if carries(lift.rated_kg, one.mass_kg)), None)
        if comes is not None and raises(every, lift):
            yield _act(
                every, "clear", "move job", going.job, lift.code,
                f"lift {lift.code} cleared for {comes.job}: {going.job} cannot go on", going.rested,
                ("clear", lift.code), place=every.yards[0],
            )  # fmt: skip


def _rolls(every: Gathered, going: Going) -> bool:
    if stands(list(going.phases)) == "fixed":
        return False
    gates = [one.gate() for one in going.gates]
    if any(blocking_deed(gates, going.at, deed) for deed in ("move", "lower")):
        return False
    return not every.forbidden.get(going.job, frozenset()) & {"move", "lower"}


def _looked_over(every: Gathered, lift: LiftNow) -> Iterator[Act]:
    """Before its first use of the day; what stands on it already was raised before."""
    today = every.calendar.day_of(every.now).isoformat()
    there = every.jobs.get(lift.job) if lift.job is not None else None
    used = there is not None and bool(there.clocked)
    if lift.in_service and used and (lift.looked_over is None or lift.looked_over < today):
        yield _act(
            every, "look over", "look lift over", None, lift.code,
            f"lift {lift.code} was not looked over today", None, ("lift", "look", lift.code),
        )  # fmt: skip


def _inspected(every: Gathered, lift: LiftNow) -> Iterator[Act]:
    due, today = _due(lift), every.calendar.day_of(every.now)
    if not lift.in_service or (due is not None and due > today + DUE_SOON):
        return
    words = "has no inspection on record" if due is None else f"is inspected until {due}"
    command = (
        "lift", "inspect", lift.code, "--date", "-DATE", "--months", "-N", "--source", "-TEXT",
        "--by", "-NAME",
    )  # fmt: skip
    yield _act(
        every, "inspect", "record inspection", None, lift.code, f"lift {lift.code} {words}", None,
        command, by=None if due is None else _end(every, due),
    )  # fmt: skip


def _due(lift: LiftNow) -> date | None:
    if lift.inspected is None or lift.months is None:
        return None
    return Inspection(date.fromisoformat(lift.inspected), lift.months, "").due


def _end(every: Gathered, day: date) -> datetime:
    return day_bounds(day, every.calendar.zone)[1] - timedelta(seconds=1)


def _act(
    every: Gathered, kind: ActKind, deed: Deed, job: str | None, lift: str, says: str,
    since: datetime | None, command: tuple[str, ...], *, place: str | None = None,
    by: datetime | None = None,
) -> Act:  # fmt: skip
    people = able(every.people, deed)
    badge = people[0].badge if people else None
    return Act(
        kind, job, None, None, lift, place, badge, named(people, "foreman or owner"), by, since,
        MINUTES[kind], says, (*command, "--as", badge or "-BADGE"),
    )  # fmt: skip
