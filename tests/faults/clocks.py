"""Rows: the machine's clock is set back and ahead, drifts, or differs between two terminals."""

from __future__ import annotations

import sqlite3
from collections.abc import Generator
from contextlib import AbstractContextManager, ExitStack, closing, contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from unittest.mock import patch

from store.actions import clock, jobs
from store.file import change as change_module
from store.file.pins import Uptime
from store.file.shop import By, Shop
from tests.faults.before import Before, Scene, command, run
from tests.faults.row import Outcome, Row, Tries
from tests.tui.shops import PIN
from tui import now as now_module
from tui.now import ShopClock, Steps

STEPS = [timedelta(hours=-2), timedelta(hours=2), timedelta(days=-365), timedelta(days=365)]
FAR = timedelta(hours=12)


@dataclass(slots=True)
class Machine:
    """What the program reads of a machine: its clock, and how long it has run."""

    now: datetime
    up: float = 1000.0

    def run(self, minutes: float, gains: float = 0.0) -> None:
        """Let time pass; the clock gains so much of it."""
        self.up += minutes * 60
        self.now += timedelta(minutes=minutes * (1 + gains))


@contextmanager
def machine(now: datetime) -> Generator[Machine]:
    """Have the program read this machine's clock."""
    made = Machine(now)
    with (
        patch.object(now_module, "machine_now", lambda: made.now),
        patch.object(now_module, "uptime", lambda: Uptime("one start", made.up)),
    ):
        yield made


def seconds_on(path: Path, badge: str = "B12") -> float:
    """How long the clock of somebody ran, from its row."""
    asked = "select since, until from clock join person using (person) where badge = ?"
    with closing(sqlite3.connect(path)) as db:
        since, until = db.execute(asked, [badge]).fetchone()
    return (datetime.fromisoformat(until) - datetime.fromisoformat(since)).total_seconds()


def stop(here: Before, by: By, ran: timedelta, within_s: float = 0.0) -> None:
    """Stop the clock that ran through it; it must have run so long."""
    clock.clock_off(here.shop, by)
    found = seconds_on(here.path)
    if abs(found - ran.total_seconds()) > within_s:
        here.wrong.append(f"{found / 60:.1f} minutes instead of {ran}")


def ines(at: datetime) -> By:
    """Whose clock runs, at a terminal that was just opened."""
    return By("B12", "made", at, pin=PIN)


async def was_set(here: Before) -> bool:
    step = here.dice.choice(STEPS)
    with machine(here.pen.now) as made:
        begun, up = made.now, made.up
        here.at.app.session.clock = ShopClock(here.shop)
        await here.at.look_again()
        made.run(30)
        await _minutes(here)
        made.now += step
        happened = made.now - begun != timedelta(seconds=made.up - up)
        await _minutes(here)
        here.judge(here.at.said[2:], "clock was set", "ahead" if step > timedelta() else "back")
        if step > FAR:
            await here.refused("job-m", "Nothing is entered", "goes on by itself")
        elif not await here.take("job-n"):
            here.wrong.append(f"not taken: {here.at.said}")
        elif step < timedelta():
            here.judge(here.at.said, "behind the newest entry", "This one is kept")
        made.now -= step
        made.run(30)
        await _minutes(here)
        here.judge(here.at.said[2:], "goes as it did")
        if step > FAR:
            await here.again("job-m")
        stop(here, here.at.app.session.by("B12"), made.now - begun)
    return happened


async def _minutes(here: Before) -> None:
    for _ in range(5):  # the minute is looked at with every fourth look at the file
        await here.at.look_again()


async def far_ahead(here: Before) -> bool:
    """A command that knows nothing of the clock's past enters something a year ahead."""
    with machine(here.pen.now) as made:
        begun = made.now
        made.run(20)
        made.now += timedelta(days=365)
        if not command(here.path, "small", "--text", "job-y", "--vehicle", "van", "--as", "F01") \
                .startswith("0 "):  # fmt: skip
            return False
        here.kept.append("job-y")
        made.now -= timedelta(days=365)
        made.run(40)
        here.at.hands.now = made.now
        if not await here.take("job-x"):
            here.wrong.append(f"the terminal did not go on: {here.at.said}")
        here.judge(here.at.said, "behind the newest entry", "This one is kept")
        stop(here, ines(made.now), made.now - begun)
    return True


async def two_clocks(here: Before) -> bool:
    """Two terminals whose clocks differ enter things one after the other."""
    behind = timedelta(minutes=here.dice.choice((3, 7, 45)))
    other, happened, now = Shop(here.path), False, here.pen.now
    with closing(other):
        for n in range(6):
            now += timedelta(seconds=20)
            late = here.dice.random() < 0.5
            by = By("F01", "other", now - behind if late else now, pin=PIN)
            done = jobs.take_small(other if late else here.shop, by, text=f"job-{n}", vehicle="van")
            here.kept.append(f"job-{n}")
            if late:
                happened = True
                here.judge(done.says, "behind the newest entry")
    stop(here, ines(now), now - here.pen.now)
    return happened


async def slewed(here: Before) -> bool:
    """NTP brings a clock in by running it a little faster, for a whole shift."""
    with machine(here.pen.now) as made:
        begun, up = made.now, made.up
        session = here.at.app.session
        session.clock = ShopClock(here.shop)
        for _ in range(8 * 60):
            made.run(1, gains=0.0005)
            session.now()
            if news := session.news():
                here.wrong.append(f"it was said: {news}")
        stop(here, ines(made.now), timedelta(hours=8), within_s=15)
        return made.now - begun > timedelta(seconds=made.up - up + 10)


def row(
    kind: str, scene: Scene, out: AbstractContextManager[object], made: str, known: str,
    without: str, quick: int = 1, bare: int = 1,
) -> Row:  # fmt: skip
    """A row and what is taken out of the product to see it fail."""

    def tried(tries: Tries) -> Outcome:
        with ExitStack() as stack:
            if not tries.protected:
                stack.enter_context(out)
            return run(tries, scene)

    return Row(kind, made, known, without, tried, quick, 40, bare)


def machines_own(one: str, other: str) -> str:
    """In the place of `max`: the machine's clock, whatever stands in the ledger."""
    return one


ROWS: tuple[Row, ...] = (
    row(
        "clock set under a terminal", was_set, patch.object(Steps, "look", return_value=None),
        "the clock that the program reads jumps by two hours or a year, back or ahead, and back",
        "it differs from how long the machine ran, while somebody's labour clock runs",
        "the comparison with the machine's uptime: nobody is told, and a year ahead is written",
        quick=2,
    ),
    row(
        "entry a year ahead", far_ahead, patch.object(change_module, "FAR_S", 10.0**12),
        "a command enters something while the clock stands a year ahead; then it is set right",
        "the command answered; somebody's labour clock ran through it",
        "going by the machine when it is far behind: no labour counts for a year",
    ),
    row(
        "two terminals, two clocks", two_clocks,
        patch.object(change_module, "max", machines_own, create=True),
        "two terminals enter things in turn, the clock of one stands 3 to 45 minutes behind",
        "an entry was made by the one behind after one of the other",
        "stamps that never fall: entries stand before those that they follow; verify names one",
    ),
    row(
        "clock brought in gently", slewed, patch.object(now_module, "SLEW_S", 0.0),
        "the clock gains 0.05 % for eight hours, as NTP brings it in (adjtimex(2), from memory)",
        "it gained more than ten seconds while a labour clock ran",
        "the margin for drift: people are told that the clock was set, again and again",
    ),
)  # fmt: skip
