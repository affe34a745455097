"""How many keys each act of a technician takes: the table, and the most that is allowed.

The numbers are those of the pad (clock, away and back: one; over, hold, time on no job, an answer:
two) and of the day walked through (the wrong job put right: three). What is typed, a figure, a
badge, a PIN or words, counts as nothing; the keys round it do.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest

from store.views.ledger import ledger
from tests.tui.bay.ready import (
    Make,
    away,
    held,
    in_check,
    off,
    overlap,
    second_name,
    to_decide,
    wrong_job,
)
from tests.tui.driver import terminal
from tests.tui.shops import PIN, Pen, worked_on
from tui.parts.where import BAY


class Typed(str):
    """A figure, a badge, a PIN or words; no key of the act."""


@dataclass(frozen=True, slots=True)
class Act:
    """One thing to do.

    Attributes:
        keys: what is pressed.
        most: keys that it may take.
        kinds: what is in the ledger after it.
        ready: makes the shop as it is before.
        later: hours that pass before anybody looks.
        before: keys pressed before the act begins.
    """

    keys: tuple[str, ...]
    most: int
    kinds: tuple[str, ...]
    ready: Make = lambda shop, pen: None
    later: float = 0.0
    before: tuple[str, ...] = ()


CLOCKED_OVER = ("clocked-off", "clocked-on")
ACTS: dict[str, Act] = {
    "clock on": Act(("1",), 1, ("clocked-on",), off),
    "clock off": Act(("1",), 1, ("clocked-off",)),
    "over to another phase or job": Act(("2", "2"), 2, CLOCKED_OVER),
    "called away": Act((".",), 1, ("clocked-off", "clocked-indirect")),
    "and back": Act((".",), 1, CLOCKED_OVER, away),
    "work on no job, with its reason": Act(("6", "1"), 2, ("clocked-off", "clocked-indirect")),
    "a step done": Act(("3",), 1, ("step-signed",)),
    "a hold point with a reading": Act(
        ("3", Typed("2100"), "Enter"), 2, ("step-signed",), in_check
    ),
    "a reading outside its limits, and its finding": Act(
        ("3", Typed("4200"), "Enter", "1", "1", "Enter", Typed("2"), "Enter"), 6,
        ("step-signed", "clocked-off", "held", "found", "released", "held"), in_check,
    ),
    "a second name": Act(
        ("3", Typed("B13"), "Enter", Typed(PIN), "Enter"), 3, ("step-signed",), second_name
    ),
    "a decision": Act(("3", "1"), 2, ("step-signed",), to_decide),
    "the clock comes along with a step of the next phase": Act(
        ("1",), 1, CLOCKED_OVER, before=("7", "right", "3", "2100", "Enter")
    ),
    "hold, with its reason": Act(("4", "1"), 2, ("clocked-off", "held")),
    "hold, with its end and next move": Act(
        ("4", "1", "1", "1"), 4, ("clocked-off", "held", "hold-changed")
    ),
    "hold, end and next move passed over": Act(
        ("4", "1", "Enter", "Enter"), 4, ("clocked-off", "held")
    ),
    "it can go on": Act(("4", "1"), 2, ("released",), held),
    "a finding": Act(
        ("5", "1", Typed("stud broken"), "Enter", Typed("2"), "Enter"), 4,
        ("found", "clocked-off", "held"),
    ),
    "a phase finished": Act(("Enter",), 1, ("clocked-off", "phase-finished")),
    "a phase finished over its hours, and why": Act(
        ("Enter", "1"), 2, ("clocked-off", "phase-finished", "phase-noted"), later=3
    ),
    "why it took longer, on the day sheet": Act(
        ("-", "down", "3", "1"), 4, ("phase-noted",), later=3, before=("Enter", "0")
    ),
    "one's last entry taken back": Act(("0",), 1, ("undone", "clock-corrected"), off),
    "when a clock stopped that was left running": Act(("Enter",), 1, ("clocked-off",), later=24),
    "half an hour earlier": Act(("2",), 1, ("clocked-off",), later=24),
    "another time": Act(("4", Typed("1415"), "Enter"), 2, ("clocked-off",), later=24),
    "the wrong job put right": Act(
        ("-", "3", "1"), 3, ("clock-corrected", "phase-taken-back"), wrong_job
    ),
    "that taken back": Act(
        (".",), 1, ("undone", "clock-corrected"), wrong_job, before=("-", "3", "1")
    ),
    "a clock split in two": Act(
        ("-", "7", Typed("0800"), "Enter", "1"), 4, ("clock-corrected", "clock-entered"), off
    ),
    "a running clock split in two": Act(
        ("-", "7", Typed("0750"), "Enter", "1"), 4, CLOCKED_OVER, later=0.5
    ),
    "a gap filled as proposed": Act(("-", "up", "3"), 3, ("clock-entered",), off),
    "an overlap as proposed": Act(("-", "down", "3"), 3, ("clock-corrected",), overlap),
    "the day confirmed": Act(("-", "Enter"), 2, ("day-confirmed",), off),
    "the day confirmed while a clock runs": Act(
        ("-", "Enter", "1"), 3, ("clocked-off", "day-confirmed"), later=1
    ),
    "the day confirmed with an overlap": Act(
        ("-", "Enter", "1"), 3, ("clock-corrected", "day-confirmed"), overlap
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", ACTS)
async def test_an_act_takes_no_more_keys_than_are_allowed(name: str, tmp_path: Path) -> None:
    act, pen = ACTS[name], Pen()
    shop = worked_on(tmp_path / "made.shop", pen)
    try:
        act.ready(shop, pen)
        now = pen.now + timedelta(hours=act.later)
        async with terminal(shop, now, first=BAY, badge="B12") as at:
            await at.keys(*act.before)
            before = max(line.seq for line in ledger(shop))
            await at.keys(*act.keys)
        assert tuple(one.kind for one in ledger(shop) if one.seq > before) == act.kinds
        assert sum(not isinstance(key, Typed) for key in act.keys) <= act.most
    finally:
        shop.close()
