"""The night on which clocks change: what somebody works in it is counted as it was."""

from __future__ import annotations

from contextlib import closing, nullcontext
from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path
from random import Random
from unittest.mock import patch
from zoneinfo import ZoneInfo

from store.actions import clock, jobs
from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.edges.events.shop import WeekSpan
from store.edges.instants import to_text
from store.file import change as change_module
from store.file.pins import make_secret
from store.file.shop import By, Shop
from store.views.day import day
from store.views.job import job_card
from tests.faults.before import total
from tests.faults.row import Outcome, Row, Tries
from tests.tui.shops import PIN

NIGHTS = {
    ("Europe/Amsterdam", date(2026, 3, 28)): 60, ("Europe/Amsterdam", date(2026, 10, 24)): -60,
    ("Australia/Lord_Howe", date(2026, 4, 4)): -30, ("Australia/Lord_Howe", date(2026, 10, 3)): 30,
}  # fmt: skip
"""Evenings before a change, and minutes by which clocks go ahead in that night (IANA tz data)."""
EVERY = [1, 2, 3, 4, 5, 6, 7]
BREAK_H = 0.5


def night_shop(path: Path, zone: str, evening: date) -> Shop:
    """A shop that works from ten at night to six, with half an hour's rest at four."""
    plan = ShopPlan(
        "Marsh Lane Works", zone, "EUR", [WeekSpan(days=EVERY, start="22:00", end="06:00")],
        [WeekSpan(days=EVERY, start="04:00", end="04:30")], [LiftPlan("1", "two-post", 4000)],
        "OWN", "Olga", PIN, rate_per_hour=90, from_day=evening - timedelta(days=9),
    )  # fmt: skip
    noon = datetime(evening.year, evening.month, evening.day, 1, tzinfo=UTC)
    by = By("OWN", "made", noon, pin=PIN)
    return found_shop(path, by, plan, secret=make_secret(PIN, b"0" * 16))


def night(folder: Path, dice: Random) -> Outcome:
    """Somebody clocks on before midnight and off before six, through the change of clocks."""
    (zone, evening), ahead = dice.choice(sorted(NIGHTS.items()))
    wall = datetime(evening.year, evening.month, evening.day, 22, tzinfo=ZoneInfo(zone))
    on = (wall + timedelta(minutes=dice.randrange(119))).astimezone(UTC)
    morning = wall.replace(day=wall.day) + timedelta(hours=7, minutes=dice.randrange(59))
    off = morning.astimezone(UTC)  # wall times added on the wall, then looked up in zoneinfo
    on_wall = morning.replace(tzinfo=None) - on.astimezone(wall.tzinfo).replace(tzinfo=None)
    worked = (on_wall - timedelta(minutes=ahead)).total_seconds() / 3600 - BREAK_H
    shop = night_shop(folder / "night.shop", zone, evening)
    with closing(shop):
        by = partial(By, "OWN", "made", pin=PIN)
        jobs.take_small(shop, by(on), text="lamp", vehicle="van", lift="1")
        clock.clock_on(shop, by(on), job="1001", phase="1")
        clock.clock_off(shop, by(off))
        card = job_card(shop, "1001", off)
        sheet = day(shop, "OWN", evening, off)
    told = {"card": card.job.labour_h, "day sheet": sum(one.labour_h for one in sheet.clocks)}
    wrong = [f"{zone} {evening}: {where} says {found:.3f} h, it was {worked:.3f}"
             for where, found in told.items() if abs(found - worked) > 1 / 3600]  # fmt: skip
    happened = wall.utcoffset() != morning.utcoffset()
    return Outcome(int(happened), int(not happened), int(bool(wrong)), int(not wrong), (*wrong,))


def on_the_wall(instant: datetime) -> str:
    """Taken out: instants in UTC. Entries are stamped with what the clock on the wall shows."""
    zone = ZoneInfo("Australia/Lord_Howe" if instant.month in (4, 10) else "Europe/Amsterdam")
    return to_text(instant.astimezone(zone).replace(tzinfo=UTC) - timedelta(hours=11))


def nights(tries: Tries) -> Outcome:
    """One night after the other."""
    taken = patch.object(change_module, "to_text", on_the_wall)
    outcomes: list[Outcome] = []
    for n in range(tries.times):
        folder = tries.folder / str(n)
        folder.mkdir()
        with nullcontext() if tries.protected else taken:
            outcomes.append(night(folder, tries.dice))
    return total(outcomes)


ROWS: tuple[Row, ...] = (
    Row(
        "night of the changed clocks",
        "a labour clock runs through the change, both ways, in Amsterdam and on Lord Howe Island",
        "the offset by zoneinfo differs between the two ends of the clock",
        "instants in UTC: stamped by the wall, a night has an hour or half an hour too much",
        nights, 4, 200, 2,
    ),
)  # fmt: skip
