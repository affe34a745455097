"""A technician's day on a real line, at the machine's own hour, each act within its keys.

The shop's zone is chosen so that it is morning there whenever this runs; yesterday's clock was
left running. What is typed (a badge, a figure) is no key of an act, as in
`tests/tui/bay/test_key_counts.py`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from store.file.shop import Shop
from store.file.verify import verify
from store.views.ledger import ledger
from tests.end_to_end.pty_terminal import PtyTerminal, program
from tests.tui.bay.test_key_counts import Typed
from tests.tui.shops import Pen, worked_on
from tui.now import machine_now

MORNING = 7
EVERY_DAY = [1, 2, 3, 4, 5, 6, 7]


def morning_zone(now: datetime) -> str:
    """A zone in which it is after seven and before eight in the morning.

    Zones named `Etc/GMT+5` lie five hours behind UTC: the sign is the other way round (tz database,
    file `etcetera`).
    """
    ahead = (MORNING - now.hour + 12) % 24 - 12
    return f"Etc/GMT{-ahead:+d}"


@dataclass(slots=True)
class Line:
    """Somebody at the line, and what was pressed for each act."""

    at: PtyTerminal
    pressed: dict[str, int] = field(default_factory=dict[str, int])

    def act(self, name: str, most: int, *keys: str, shows: tuple[str, ...]) -> None:
        """Press the keys of an act, no more than so many, and wait for what it shows."""
        for key in keys:
            self.at.keys(key)
        self.at.wait(*shows)
        self.pressed[name] = self.pressed.get(name, 0) + sum(not isinstance(k, Typed) for k in keys)
        assert self.pressed[name] <= most, self.pressed

    def choice(self, where: str) -> str:
        """The digit that stands before a phase."""
        self.at.wait(where)
        words = self.at.flat.split()
        return next(words[n - 1] for n, word in enumerate(words)
                    if word == where and words[n - 1] in "123456789")  # fmt: skip


@pytest.fixture(name="path")
def path_fixture(tmp_path: Path) -> Path:
    """Ines began 1001 yesterday morning and went home without a key."""
    now = machine_now()
    zone = morning_zone(now)
    yesterday = now.astimezone(ZoneInfo(zone)).replace(hour=MORNING, minute=0) - timedelta(days=1)
    shop = worked_on(tmp_path / "day.shop", Pen(yesterday.astimezone(now.tzinfo)), zone, EVERY_DAY)
    shop.close()
    return shop.path


def test_a_day_on_a_line(path: Path) -> None:
    with program(path, "open", "--lift", "1") as at:
        at.wait("Scan your badge")
        line = Line(at)
        comes_in(line)
        works(line)
        measures(line)
        goes_over(line)
        ends(line)
    assert verify(path).ok
    shop = Shop(path)
    try:
        kinds = [one.kind for one in ledger(shop)]
    finally:
        shop.close()
    assert kinds[-1] == "day-confirmed"
    assert kinds.count("held") == 3, "a reading outside its limits, the customer's word, parts"


def comes_in(line: Line) -> None:
    """The clock left running is asked about first thing; one key."""
    line.act("badge", 1, Typed("B12"), "Enter", shows=("When did you stop?", "shift's end"))
    line.act("left running", 1, "Enter", shows=("NO CLOCK",))


def works(line: Line) -> None:
    """On, five steps, done; why it took so long."""
    line.act("clock on", 1, "1", shows=("CLOCK RUNS", "1001.1 reception"))
    for step in range(1, 6):
        line.act(f"step {step}", 1, "3", shows=(f"1.{step} done",))
    line.act("finish", 1, "Enter", shows=("over the cautious", "Why?"))
    line.act("why", 1, "1", shows=("took longer because rusty or seized",))
    line.act("next phase", 1, "1", shows=("CLOCK RUNS", "1001.2"))


def measures(line: Line) -> None:
    """Nothing gets past the hold point; the reading is outside, and becomes a finding."""
    line.act("ahead", 2, "down", "3", shows=("waits for the hold point 1001.2.1",))
    line.act("reading", 3, "up", "3", Typed("4200"), "Enter", shows=("is outside its limits",))
    line.act("finding", 2, "1", "1", shows=("4200 kg", "what"))
    line.act("its words", 1, "Enter", shows=("hours it adds",))
    line.act("its hours", 1, Typed("2"), "Enter", shows=("held for the customer's word",))


def goes_over(line: Line) -> None:
    """Over in two keys, away and back in one each, the wrong job put right in three."""
    line.act("over", 2, "2", shows=("over to",))
    line.act("over", 2, line.choice("1002.1"), shows=("CLOCK RUNS", "1002.1 reception"))
    line.act("away", 1, ".", shows=("AWAY", "dot brings you back"))
    line.act("back", 1, ".", shows=("CLOCK RUNS", "1002.1 reception"))
    line.act("wrong", 2, "2", shows=("over to",))
    line.act("wrong", 2, line.choice("1003.1"), shows=("CLOCK RUNS", "1003.1 reception"))
    line.act("put right", 3, "-", shows=("day sheet of Ines",))
    line.act("put right", 3, "3", shows=("was not 1003.1, but",))
    line.act("put right", 3, line.choice("1002.1"), shows=("put right: 1002.1",))
    line.act("home", 1, "Esc", shows=("CLOCK RUNS", "1002.1 reception"))


def ends(line: Line) -> None:
    """Held in two keys, sweeping in two, the day confirmed while the clock runs in three."""
    line.act("hold", 2, "4", shows=("What lacks?",))
    line.act("hold", 2, "1", shows=("Expected when?",))
    line.act("left open", 1, "Esc", shows=("NO CLOCK",))
    line.act("sweep", 2, "6", shows=("work on no job",))
    line.act("sweep", 2, "1", shows=("BAY WORK",))
    line.act("confirm", 3, "-", shows=("day sheet of Ines",))
    line.act("confirm", 3, "Enter", shows=("still runs",))
    line.act("confirm", 3, "1", shows=("is confirmed",))
    line.act("home again", 1, "Esc", shows=("NO CLOCK",))
    line.act("sign off", 1, "Esc", shows=("Scan your badge",))
