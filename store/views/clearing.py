"""Lifts whose job cannot go on: what clearing each takes, who would come in, whether it pays."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import NamedTuple, cast

from store.edges.instants import from_text
from store.file.kits.now import LIVE
from store.file.learned.rests import Rests
from store.file.open_acts.gathered import gathered
from store.file.open_acts.going import Gathered, Going, HoldNow, LiftNow
from store.file.open_acts.on_lifts import raises, ready_to_come_in
from store.file.route_now import PhaseRow, stands
from store.file.shop import Shop
from store.rules.blocking import blocking_deed
from store.rules.book import Deed
from store.rules.clearing import COSTS, Cost, Standing, verdict
from store.rules.lift_fit import carries
from store.sums.clearing import LONGEST_H, Rest, Worth, worth
from store.trouble import Refused
from store.views.clearing_values import Clearing
from store.views.learned_waits import HELD_FOR

DEEDS: tuple[tuple[Deed, str], ...] = (("lower", "lowering"), ("move", "moving"))
"""What leaving a lift takes, in words."""


class _Wait(NamedTuple):
    """What a job waits for, since when and until when it was said, and what is left of it."""

    words: str
    since: datetime | None
    until: datetime | None
    rest: Rest

    @property
    def mean_h(self) -> float:
        return self.rest.beyond(0) - self.rest.beyond(LONGEST_H)


class _Out(NamedTuple):
    """Parts away at a firm."""

    firm: str
    since: datetime
    promised: datetime | None


class _Known(NamedTuple):
    """What is read once for all lifts."""

    every: Gathered
    rests: Rests
    ready: Sequence[Going]
    away: Mapping[str, Sequence[_Out]]
    vehicles: Mapping[str, str]
    tags: Mapping[str, Sequence[tuple[str, str]]]
    units: Mapping[str, str]
    unit_places: tuple[str, ...]


def clearing(shop: Shop, now: datetime, lift: str | None = None) -> tuple[Clearing, ...]:
    """Return every lift whose job is held or away, in the shop's order.

    Of several things that a job waits for the one counts that is likely to take longest.

    Args:
        lift: this one only.

    Raises:
        Refused: there is no such lift, nothing stands on it, or its job can go on.
    """
    with shop.reading() as db:
        every = gathered(db, now)
        if lift is not None:
            _refuse_going(every, lift)
        return _of(db, every, [one for one in every.lifts if lift in (None, one.code)])


def clearing_of(db: sqlite3.Connection, job: str, now: datetime) -> Clearing | None:
    """Return the same of one job out of an open look; None where it is on no lift or goes on."""
    every = gathered(db, now)
    return next(iter(_of(db, every, [one for one in every.lifts if one.job == job])), None)


def _of(db: sqlite3.Connection, every: Gathered, lifts: Sequence[LiftNow]) -> tuple[Clearing, ...]:
    stuck = [(one, going) for one in lifts if (going := _stuck(every, one))]
    if not stuck:
        return ()
    known = _known(db, every)
    waits = [(lift, going, _wait(known, going)) for lift, going in stuck]
    return tuple(_clearing(known, lift, going, wait) for lift, going, wait in waits if wait)


def _stuck(every: Gathered, lift: LiftNow) -> Going | None:
    """The job on a lift, where nothing of it can go on; what only cures is not for moving."""
    going = every.jobs.get(lift.job) if lift.job is not None else None
    if going is None or not going.stuck:
        return None
    cures = any(one.kind == "standing" and one.state == "under way" for one in going.phases)
    return None if cures and not going.holds else going


def _refuse_going(every: Gathered, code: str) -> None:
    lift = next((one for one in every.lifts if one.code == code), None)
    if lift is None:
        there = ", ".join(one.code for one in every.lifts)
        raise Refused(f"There is no lift {code}. There are: {there or 'none yet'}.")
    if lift.job is None:
        raise Refused(f"Lift {code} is free: there is nothing to clear.")
    if _stuck(every, lift) is None:
        raise Refused(f"{lift.job} on lift {code} is neither held nor away: it goes on there.")


def _known(db: sqlite3.Connection, every: Gathered) -> _Known:
    ready = ready_to_come_in(every)
    away: dict[str, list[_Out]] = {}
    for row in db.execute(
        "select job, firm, sent_at, promised_now from outwork where back_at is null order by seq"
    ):
        promised = from_text(row[3]) if row[3] else None
        away.setdefault(row[0], []).append(_Out(row[1], from_text(row[2]), promised))
    tags: dict[str, list[tuple[str, str]]] = {}
    for row in db.execute(
        "select condition.job, text, deed.value from condition join job using (job) "
        "join book_condition using (version, code), json_each(forbids) as deed "
        "order by condition.seq"
    ):
        tags.setdefault(row[0], []).append((row[2], row[1]))
    return _Known(
        every, Rests(db, every.calendar, every.now), ready, away,
        dict(db.execute(
            f"select job, label from job join vehicle using (vehicle) where job in (select job "
            f"from job where {LIVE} union select job from job_place)"
        ).fetchall()),
        tags, dict(db.execute(
            "select job, code from job_place join place using (place) where part = 'unit'"
        ).fetchall()),
        tuple(row[0] for row in db.execute(
            "select code from place where kind = 'bench' or (kind = 'stand' and not exists "
            "(select 1 from job_place where job_place.place = place.place)) order by position"
        )),
    )  # fmt: skip


def _wait(known: _Known, going: Going) -> _Wait | None:
    """What keeps a job longest; one that only lacks a name waits for a person."""
    rests = known.rests
    found = [_held(rests, one) for one in going.holds]
    found += [
        _Wait(f"its parts are away at {one.firm}", one.since, one.promised,
              rests.away(one.firm, one.since, one.promised))
        for one in known.away.get(going.job, ())
    ]  # fmt: skip
    if not found and going.rested is not None:
        rest = rests.hold("person", going.rested, None)
        found = [_Wait("waits for a name or a decision", going.rested, None, rest)]
    return max(found, key=lambda one: one.mean_h, default=None)


def _held(rests: Rests, hold: HoldNow) -> _Wait:
    rest = rests.hold(hold.reason, hold.since, hold.expected)
    words = f"held for {HELD_FOR.get(hold.reason, hold.reason)}"
    return _Wait(words, hold.since, hold.expected, rest)


def _clearing(known: _Known, lift: LiftNow, going: Going, wait: _Wait) -> Clearing:
    every = known.every
    how = cast("Standing", stands(list(going.phases)))
    why = _why_not(known, going, how)
    cost = None if why else COSTS[how]
    comes, other = _comes(every, lift, known.ready)
    brings = _worth(known, wait, cost)
    word = verdict(
        leaves=why is None, place=bool(every.yards), comes=bool(comes),
        value_h=brings.value_h if brings else 0.0, longer=brings.longer if brings else 0.0,
    )  # fmt: skip
    return Clearing(
        lift.code, going.job, known.vehicles[going.job], wait.words, wait.since, wait.until,
        wait.mean_h, how, why, cost, tuple(every.yards), known.units.get(going.job),
        known.unit_places, comes, other, brings, word, every.now, str(every.calendar.zone),
    )  # fmt: skip


def _worth(known: _Known, wait: _Wait, cost: Cost | None) -> Worth | None:
    if cost is None:
        return None
    return worth(wait.rest, clear_h=cost.middle_h, people=cost.people, pace=known.rests.pace)


def _why_not(known: _Known, going: Going, how: Standing) -> str | None:
    """Why a vehicle cannot leave its lift; None where it can.

    What sits fixed can be closed far enough where the phase that made it so is over, and nothing
    forbids lowering it. What forbids only moving, loose wheels, is closed with the rest.
    """
    deeds = DEEDS[:1] if how == "fixed" else DEEDS
    if how == "fixed":
        half = _half_way(going.phases)
        if half is not None:
            return f"{half.name} keeps it fixed and is not finished"
    for deed, words in deeds:
        gate = blocking_deed([one.gate() for one in going.gates], going.at, deed)
        if gate is not None:
            return f"{words} waits for the hold point {going.job}.{gate.at} ({gate.spec.text})"
        tags = [text for what, text in known.tags.get(going.job, ()) if what == deed]
        if tags:
            again = f"; {_kept_by(going.phases)}" if how == "fixed" else ""
            return f"{', '.join(tags)}: that forbids {words}{again}"
    return None


def _half_way(phases: Sequence[PhaseRow]) -> PhaseRow | None:
    """The phase under way that makes a vehicle sit fixed which rolled before it."""
    over = [one for one in phases if one.state != "under way"]
    if stands(over) == "fixed":
        return None
    return next(one for one in phases if one.state == "under way" and one.after == "fixed")


def _kept_by(phases: Sequence[PhaseRow]) -> str:
    """Which phase keeps a vehicle fixed, and after which it rolls again."""
    since = ""
    for one in phases:
        if one.state in ("to come", "skipped") or one.after == "as before":
            continue
        since = (since or one.name) if one.after == "fixed" else ""
    again = next(
        (one.name for one in phases if one.state in ("to come", "under way")
         and one.after in ("rolls", "drives")),
        None,
    )  # fmt: skip
    return f"{since} keeps it fixed" + (f" until {again} is finished" if again else "")


def _comes(
    every: Gathered, lift: LiftNow, ready: Sequence[Going]
) -> tuple[tuple[str, ...], tuple[str, str] | None]:
    """Ready jobs that need just this lift; and one that a free lift takes already."""
    if not raises(every, lift):
        return (), None
    free = [one for one in every.lifts if one.job is None and raises(every, one)]
    comes: list[str] = []
    other: tuple[str, str] | None = None
    for one in ready:
        taken = next((each for each in free if carries(each.rated_kg, one.mass_kg)), None)
        if taken is not None:
            free.remove(taken)
            other = other or (one.job, taken.code)
        elif carries(lift.rated_kg, one.mass_kg):
            comes.append(one.job)
    return tuple(comes), other
