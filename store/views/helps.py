"""What helps most, as the learner found it last: told only while it is still open."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from datetime import datetime

from store.file.learned.help_values import Chance, Help, Helped
from store.file.learned.kept import forecasts, newest_position
from store.file.learned.kept_help import kept_help
from store.file.open_acts.gathered import gathered
from store.file.open_acts.going import Gathered
from store.file.shop import Shop
from store.sums import moving
from store.views.needs import needs_of
from store.views.needs_values import ChanceMoved, HelpLine, Helps, Need, NextFree, OutMoved

LEAST_MOVE = 0.005
"""A chance that moves less is as it was."""
LEAST_OUT_H = 0.25


def helps(shop: Shop, now: datetime, *, every: bool = False, costs: bool = True) -> Helps:
    """Return the acts that help most.

    Args:
        every: those that are not worth a line too, as long as they help at all.
        costs: with what waiting costs; a floor that paints for the first time can do without.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        here = gathered(db, now)
        known = kept_help(db)
        newest = newest_position(db).seq
        lines = help_lines(here, needs_of(db, here, known, costs=costs), known, every=every)
        return Helps(
            now, here.calendar, tuple(lines), known.at.seq if known else None,
            known.made_at if known else None,
            here.calendar.working_h(min(known.made_at, now), now) if known else 0.0,
            newest - known.at.seq if known else 0, _comes(db, here),
        )  # fmt: skip


def help_lines(
    here: Gathered, needs: Sequence[Need], known: Help | None, *, every: bool = False
) -> list[HelpLine]:
    """Return the acts that were found to help and are still open, best first."""
    if known is None:
        return []
    open_now = {one.act.name: one for one in needs}
    vehicles = {one.act.job: one.vehicle for one in needs if one.act.job is not None}
    vehicles |= _labels(here.db)
    found: list[HelpLine] = []
    for one in known.helped:
        need = open_now.get(one.act)
        helpful = one.gain > 0 or (one.gain == 0 and one.lift_h > 0)
        if need is not None and (one.worth or (every and helpful)):
            found.append(_line(here, len(found) + 1, need, known, one, vehicles))
    return found


def _labels(db: sqlite3.Connection) -> dict[str, str]:
    return {
        row[0]: row[1]
        for row in db.execute(
            "select job, label from job join vehicle using (vehicle) where promise is not null "
            "and state not in ('closed', 'declined', 'turned-away')"
        )
    }


def _line(
    here: Gathered, place: int, need: Need, known: Help, helped: Helped,
    vehicles: Mapping[str, str | None],
) -> HelpLine:  # fmt: skip
    return HelpLine(
        place, need, helped.gain, helped.lift_h, _moved(helped.chances, vehicles),
        _outs(here, known, helped), helped.refused_gain,
        _moved(helped.refused_chances, vehicles), helped.told,
    )  # fmt: skip


def _moved(
    chances: Sequence[Chance], vehicles: Mapping[str, str | None]
) -> tuple[ChanceMoved, ...]:
    found = [
        ChanceMoved(one.job, vehicles.get(one.job) or "", one.before, one.after)
        for one in chances
        if abs(one.after - one.before) >= LEAST_MOVE
    ]
    return tuple(sorted(found, key=lambda one: (-abs(one.after - one.before), one.job)))


def _outs(here: Gathered, known: Help, helped: Helped) -> tuple[OutMoved, ...]:
    """When jobs on lifts would leave them, where that moves by a quarter of an hour and more."""
    after = here.calendar.after
    found: list[tuple[float, OutMoved]] = []
    for one in helped.outs:
        going = here.jobs.get(one.job)
        moves_h = one.before_h - one.after_h
        if going is not None and going.lift is not None and abs(moves_h) >= LEAST_OUT_H:
            times = (after(known.made_at, hours) for hours in (one.before_h, one.after_h))
            found.append((moves_h, OutMoved(one.job, going.lift, *times)))
    return tuple(out for _, out in sorted(found, key=lambda one: (-abs(one[0]), one[1].lift)))


def _comes(db: sqlite3.Connection, here: Gathered) -> NextFree | None:
    """The next lift to be free: one that is, else the likeliest."""
    in_service = [one for one in here.lifts if one.in_service]
    free = next((one for one in in_service if one.job is None), None)
    if free is not None:
        return NextFree(free.code, None, None)
    known = forecasts(db, [one.job for one in in_service if one.job is not None])
    ends: list[tuple[datetime, str, str]] = []
    for lift in in_service:
        forecast = known.get(lift.job) if lift.job is not None else None
        if forecast is None or forecast.finish is None or lift.job is None:
            continue
        passed = here.calendar.working_h(min(forecast.made_at, here.now), here.now)
        left = moving.left(forecast.finish.quantiles, passed)
        ends.append((here.calendar.after(here.now, left[9]), lift.code, lift.job))
    return None if not ends else NextFree(min(ends)[1], min(ends)[2], min(ends)[0])
