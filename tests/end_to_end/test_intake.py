"""A new job at the counter on a real line at 80x24: how few keys, and what was shown is frozen.

The short form of the walk: two operations are likely, the family is typed in three letters, the
route appears with its access paid once, the promise is chosen by its chance, and it is agreed.
"""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from store.actions.history import import_history
from store.file.shop import Shop
from store.file.verify import verify
from store.views.job import job_card
from store.views.ledger import ledger
from tests.end_to_end.pty_terminal import KEYS, PtyTerminal, program
from tests.tui.driver import Hands
from tests.tui.shops import PIN, Pen, worked_on
from tests.tui.taught import FAMILY, past
from tui.learner import take_in
from tui.now import machine_now
from tui.words import day_time, tenth, zone_of

ZONE = zone_of("Europe/Amsterdam")
MOST_NEW = 16
"""Keys for a vehicle that was never here: F5, three letters, Enter, three of its family, Enter,
two codes and a blank, Enter, Enter."""
MOST_KNOWN = 13
"""Keys for one that was here, found by three letters: its family comes with it."""


class Counted:
    """Somebody who presses one key after another."""

    def __init__(self, at: PtyTerminal) -> None:
        self.at, self.pressed = at, 0

    def press(self, *keys: str) -> None:
        """Keys by name, or letters."""
        for key in keys:
            self.pressed += 1 if key in KEYS else len(key)
            self.at.keys(key)


@pytest.fixture(name="path")
def path_fixture(tmp_path: Path) -> Path:
    """A shop of this very hour that learned from its past."""
    pen = Pen(now=machine_now() - timedelta(hours=2))
    shop = worked_on(tmp_path / "made.shop", pen)
    import_history(shop, pen.by("F01"), records=past(shop, pen.now), source="old.csv")
    take_in(shop, Hands(pen.now))
    shop.close()
    return tmp_path / "made.shop"


def test_two_operations_in_few_keys_and_what_was_shown_is_frozen(path: Path) -> None:
    with program(path, "open", "--view", "floor", "--as", "F01", HOISTBOOK_LEARNER="off") as at:
        at.wait("Marsh Lane Works")
        hand = Counted(at)
        hand.press("F5")
        at.wait("number plate")
        hand.press("van", "Enter", "b4m")
        at.wait(FAMILY)
        hand.press("Enter", "cl rs", "Enter")
        shown = at.wait("likely 8 in 10", "sharing saves", "what if", "while open")
        hand.press("Enter")
        at.wait("Ruth's PIN")
        assert hand.pressed <= MOST_NEW
        at.keys(PIN, "Enter")
        at.wait("1004 taken")
    shop = Shop(path)
    try:
        agreed = next(one for one in ledger(shop) if one.kind == "estimate-agreed"
                      and one.payload["job"] == "1004")  # fmt: skip
        quantiles = agreed.payload["total"]["quantiles"]
        together = next(line for line in shown.splitlines() if line.startswith(" together"))
        assert f" {tenth(quantiles[9])} " in together
        assert f"{tenth(quantiles[1])} to {tenth(quantiles[17])} h" in together
        assert agreed.payload["source"].startswith("learned")
        promise = job_card(shop, "1004", machine_now()).job.promise
        assert promise is not None
        assert day_time(promise, ZONE, machine_now()) in shown
    finally:
        shop.close()
    assert verify(path).ok


def test_a_vehicle_that_was_here_takes_fewer(path: Path) -> None:
    with program(path, "open", "--view", "floor", "--as", "F01", HOISTBOOK_LEARNER="off") as at:
        at.wait("Marsh Lane Works")
        hand = Counted(at)
        hand.press("F5")
        at.wait("number plate")
        hand.press("gre", "down", "Enter")
        at.wait("work: code or words", FAMILY)
        hand.press("cl rs", "Enter")
        at.wait("likely 8 in 10")
        hand.press("Enter")
        at.wait("Ruth's PIN")
        assert hand.pressed <= MOST_KNOWN
        at.keys("Esc", "Esc")
        at.wait("Marsh Lane Works", "lift")
        at.keys("F5")
        at.wait("estate, grey", "likely 8 in 10")
