"""A foreman's morning at 80x24, by keys alone, on real lines: each act within its keys.

Time stands still at twenty to eight for every process, the learner's too, so that the glass and
`floor --json` can be held side by side. What is typed (a PIN, why) is no key of an act.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from time import monotonic
from typing import Any

import pytest

from store.file.learned.alone import is_somebody_there
from store.file.shop import Shop
from store.file.verify import verify
from store.views.ledger import Entry, ledger
from tests.end_to_end.foremans_shop import NOW, made
from tests.end_to_end.pty_terminal import PATIENCE_S, ROOT, PtyTerminal, environment, program
from tests.tui.bay.test_key_counts import Typed
from tests.tui.floor.test_same_as_json import agrees, says
from tests.tui.shops import PIN
from tui.words import STICKS

SIZE = (80, 24)
LANES_TOP, LANE_ROWS = 4, 2
"""Under the header, the sentence and the axis; two lines of text a lift."""
STILL = {
    "HOISTBOOK_TEST_NOW": NOW.isoformat(),
    "PYTHONPATH": os.pathsep.join((str(Path(__file__).parent / "still"), str(ROOT))),
}


def opened(path: Path, *arguments: str) -> AbstractContextManager[PtyTerminal]:
    """The program on a line of its own, at the hour that stands still."""
    return program(path, "open", *arguments, size=SIZE, **STILL)


def said(path: Path) -> Any:
    """What `floor --json` says now."""
    ran = subprocess.run(
        [sys.executable, "-m", "tui", "--shop", str(path), "floor", "--json"],
        env=environment(**STILL), cwd=ROOT, capture_output=True, check=True,
    )  # fmt: skip
    return json.loads(ran.stdout)


@dataclass(slots=True)
class Hand:
    """Somebody at a line, and what they pressed for each act."""

    at: PtyTerminal
    path: Path
    pressed: dict[str, int] = field(default_factory=dict[str, int])

    def act(self, name: str, most: int, *keys: str, shows: tuple[str, ...]) -> str:
        """Press keys of an act, no more than so many in all, and wait for what it shows."""
        self.at.keys(*keys)
        self.pressed[name] = self.pressed.get(name, 0) + sum(not isinstance(k, Typed) for k in keys)
        assert self.pressed[name] <= most, self.pressed
        self.at.wait(*shows)
        return self.at.flat

    def choice(self, words: str) -> str:
        """The digit that stands before an answer."""
        self.at.wait(words)
        return str(re.findall(rf"([1-9]) {re.escape(words)}", self.at.flat)[-1])

    def written(self, kind: str) -> list[Entry]:
        """Entries of that kind."""
        shop = Shop(self.path)
        try:
            return [one for one in ledger(shop) if one.kind == kind]
        finally:
            shop.close()


@pytest.fixture(name="path")
def path_fixture(tmp_path: Path) -> Path:
    shop = made(tmp_path / "morning.shop")
    shop.close()
    return shop.path


def test_a_foremans_morning(path: Path) -> None:
    with (
        opened(path, "--view", "floor", "--as", "F01") as at,
        opened(path, "--lift", "1", "--as", "B12") as bay,
    ):
        ruth = Hand(at, path)
        looks(ruth)
        opens_the_worst(ruth)
        bay.wait("held for the customer's word: stud broken")
        answers(ruth, bay)
        promises(ruth)
        a_lock_that_does_not_engage(ruth)
        calls_in(ruth)
        a_forgotten_clock(ruth)
        with opened(path, "--view", "floor", "--as", "F02") as other:
            two_at_once(ruth, Hand(other, path))
    learned(path)
    assert verify(path).ok


def learned(path: Path) -> None:
    """The learner that was begun for these acts ends by itself."""
    end = monotonic() + PATIENCE_S
    while is_somebody_there(path):
        assert monotonic() < end


def same_as_json(hand: Hand) -> Any:
    """The glass says what the document of the same instant says; returns the document.

    A forecast may come between the two: then both are asked again.
    """
    found: list[Any] = []

    def agree() -> bool:
        found[:] = [said(hand.path)]
        hand.at.idle(0.3)
        return bool(found[0] == said(hand.path))

    hand.at.until(agree, "a document that stays")
    now = datetime.fromisoformat(found[0]["at"])
    assert now == NOW
    rows = hand.at.text.split("\n")
    for nth, lane in enumerate(found[0]["lanes"]):
        top = LANES_TOP + LANE_ROWS * nth
        block = "\n".join(rows[top : top + LANE_ROWS])
        assert f"{lane['lift']} " in block.replace("!", " ")
        if lane["job"] is None:
            assert f"{lane['kind']} {lane['rated_kg'] / 1000:.1f} t" in block
            assert ("free" in block) == lane["in_service"]
        else:
            agrees(block, lane["job"], now, STICKS)
    for job in found[0]["waiting"]:
        first = job["lacks"][0].split(", ")[0] if job["lacks"] else "can come in"
        assert f"{job['number']} {first}" in hand.at.flat
    return found[0]


def looks(hand: Hand) -> None:
    """Walks in: which lift needs me stands in the first lines, before any key."""
    hand.at.wait("Marsh Lane Works", "Thu 15 Oct 07:40", "Ruth, foreman")
    document = same_as_json(hand)
    first, second = hand.at.text.split("\n")[1:3]
    assert "? ANSWER   lift 1: 1001 customer's word: stud broken, +2.0 h" in first
    worst = min(
        (lane["job"] for lane in document["lanes"] if lane["job"]),
        key=lambda job: job["promise_chance"],
    )
    assert worst["number"] == "1001"
    assert f"1001 {says(worst['promise_chance'])[0]}" in second
    glass = hand.at.flat
    assert "◔ DUE lift 4 inspection of lift 4 was due Wed 7 Oct" in glass
    assert "? CLOCK" in glass
    assert "Tomas: left running on 1004.1" in glass


def opens_the_worst(hand: Hand) -> None:
    """One key: late by which phase, whose, since when, and what was agreed."""
    card = hand.act(
        "why", 1, "Enter",
        shows=("◫ 1 reception", "asked Wed 14:32 by Ines", "stud broken: +2.0 h, 180"),
    )  # fmt: skip
    assert "1001 panel van, long lift 1, in since Wed 07:42" in card
    assert "promised Fri 07:42 will break" in card
    hand.act("why, back", 1, "Esc", shows=("Marsh Lane Works",))


def answers(hand: Hand, bay: PtyTerminal) -> None:
    """The customer rings back: two keys, and the technician's bay may go on."""
    hand.act("answer", 2, "a", shows=("1001: what did the customer say?", "1 approved"))
    hand.act("answer", 2, "1", shows=("This takes Ruth's PIN.",))
    approved = ("1001: approved: stud broken. 1001.1 can go on.",)
    hand.act("PIN", 1, Typed(PIN), "Enter", shows=approved)
    bay.until(
        lambda: "held for the customer's word" not in bay.flat and "hold: cannot go" in bay.flat,
        "the phase released on the bay",
    )
    bay.keys("1")
    bay.wait("CLOCK RUNS", "1001.1 reception")
    answered = hand.written("supplement-answered")
    assert [one.badge for one in answered] == ["F01"]


def promises(hand: Hand) -> None:
    """The promise is asked about; Enter takes the date that holds at the shop's chance."""
    glass = hand.act(
        "promise", 1,
        shows=("1001 panel van, long: what is the customer told?", "likely 8 in 10 the shop's own"),
    )  # fmt: skip
    date = glass.partition(" likely 8 in 10 the shop's own")[0].split(" 1 ")[-1]
    hand.act("promise", 1, "Enter", shows=("1001 is promised for", f"{date}. u undoes it."))
    document = same_as_json(hand)
    job = document["lanes"][0]["job"]
    assert job["promise"].startswith("2026-10-2")
    assert 0.7 < job["promise_chance"] < 0.95


def a_lock_that_does_not_engage(hand: Hand) -> None:
    """Out of service with its reason; too heavy for the free lift; the inspection ran out."""
    hand.act("out", 3, "2", "o", shows=("lift 2 out of service: why?",))
    lock = hand.choice("lock does not engage")
    hand.act("out", 3, lock, shows=("1004 tipper: move to", "lift 3 scissor 3.0 t"))
    hand.act("refused", 1, hand.choice("lift 3"), shows=("3,400 kg", "3,000 kg"))
    hand.act("moved", 2, "m", shows=("1004 tipper: move to",))
    hand.act(
        "moved", 2, hand.choice("lift 4"),
        shows=("1004 is on lift 4.", "Inspection was due 7 Oct 2026, lift 4"),
    )  # fmt: skip
    glass = hand.act("looks", 1, "2", shows=("⊗ out of service", "lock does not engage"))
    assert "4!1004 tipper" in glass.replace("4 !", "4!")
    withdrawn = hand.written("lift-withdrawn")
    assert [one.payload["reason"] for one in withdrawn] == ["lock does not engage"]
    same_as_json(hand)


def calls_in(hand: Hand) -> None:
    """The next that waits comes in on her word; what it lacks is said once before."""
    hand.act("call in", 3, "c", shows=("to lift 3: which job?", "lacks parts 4 of 4"))
    hand.act("call in", 3, hand.choice("1003 farm"), shows=("1003 farm pick-up is not ready",))
    hand.act("call in", 3, "Enter", shows=("1003 is on lift 3.", "It was not ready"))
    document = same_as_json(hand)
    assert document["lanes"][2]["job"]["number"] == "1003"


def a_forgotten_clock(hand: Hand) -> None:
    """The clock of a man who is ill: his shift's end, and why; who says so is kept."""
    hand.act(
        "clock",
        3,
        "f",
        shows=("Tomas's clock on 1004.1 runs since Wed 14:31", "16:30, the shift ended: 2.0 h"),
    )
    hand.act("clock", 3, "1", shows=("because",))
    hand.act("clock", 3, Typed("ill today"), "Enter", shows=("Tomas's clock", "put right"))
    assert "left running" not in hand.at.flat
    entry = hand.written("clock-corrected")[-1]
    assert (entry.badge, entry.payload["why"]) == ("F01", "ill today")
    assert str(entry.payload["until"]).startswith("2026-10-14T14:30")
    began = [one for one in hand.written("clocked-on") if one.badge == "B13"]
    assert len(began) == 1, "both truths stay"
    same_as_json(hand)


def two_at_once(one: Hand, other: Hand) -> None:
    """Both have the same question open and press the same key: one job comes in, once."""
    before = len(one.written("placed"))
    for hand in (one, other):
        hand.act("call", 3, "5", "c", shows=("to lift 5: which job?", "1005 old saloon"))
    for hand in (one, other):
        hand.act("call", 3, hand.choice("1005 old saloon"), shows=("is not ready",))
    for hand in (one, other):
        hand.act("call", 4, "Enter", shows=())
    for hand in (one, other):
        hand.at.wait("1005 is on lift 5")
    refused = [hand for hand in (one, other) if "1005 is on lift 5 already." in hand.at.flat]
    assert len(refused) == 1
    placed = one.written("placed")
    assert len(placed) == before + 1
    for hand in (one, other):
        same_as_json(hand)
