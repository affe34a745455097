"""A day from paper by keys: rows with what changes only, each checked, all written at once."""

from __future__ import annotations

from collections.abc import Generator
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from store.file.shop import Shop
from store.file.verify import verify
from store.rules.codes import MARK, Code, written
from tests.tui.driver import KNOWN, Terminal, terminal
from tests.tui.shops import Pen, kinds, last, worked_on
from tui.parts.keyline import Pressed
from tui.parts.where import BAY, FLOOR

ZONE = ZoneInfo("Europe/Amsterdam")
EVENING = datetime(2026, 10, 14, 17, 0, tzinfo=ZONE)
MOST_KEYS = 90
"""A day of six rows takes fewer, whose and which day and the writing included."""


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Generator[Shop]:
    shop = worked_on(tmp_path / "made.shop", pen)
    yield shop
    shop.close()


def pressed(*keys: str) -> int:
    """How many keys that is."""
    return sum(1 if key in KNOWN else len(key) for key in keys)


async def opened(at: Terminal, badge: str = "B13") -> str:
    """The grid of somebody's today, by the foreman."""
    return await at.keys("e", badge, "Enter", "Enter")


DAY = (
    "1002.1 0830", "Enter", "t 0845", "Enter", "1001.1 1200", "Enter", "c 1300", "Enter",
    ".1 1500", "Enter", "1002.1 1630", "Enter",
)  # fmt: skip


async def test_six_rows_of_a_day_take_few_keys(
    shop: Shop, pen: Pen, capsys: pytest.CaptureFixture[str]
) -> None:
    before = last(shop)
    ways = ("e", "B13", "Enter", "Enter")
    rows = (
        "1002.1 0830", "Enter", "t 0845", "Enter", "1001.1 1200", "Enter", "c 1300", "Enter",
        "1001.1 1500", "Enter", "o 1630", "Enter",
    )  # fmt: skip
    many = pressed(*ways, *rows, "Enter", "Enter")
    async with terminal(shop, EVENING, first=FLOOR, badge="F01") as at:
        text = await at.keys(*ways, *rows)
        assert "6 rows, 8.2 h of 8.2 h" in text, text
        assert "1002.1  reception, estate, grey" in text
        assert "07:30  08:30   1.0 h" in text
        assert "12:45  13:00" in text, "after the break that came then"
        text = await at.keys("Enter")
        assert "Tomas, 2026-10-14: 6 rows, 8.2 h" in text
        await at.keys("Enter")
        await at.keys("2468", "Enter")
        assert "entered from paper" in at.said
    assert kinds(shop, before) == ["clock-entered"] * 6
    assert verify(shop.path).ok
    assert many < MOST_KEYS
    with capsys.disabled():
        print(f"\n  a day of six rows from paper: {many} keys (and the PIN, once)")


async def test_a_row_that_cannot_be_stays_and_says_why_until_it_is_mended(
    shop: Shop, pen: Pen
) -> None:
    before = last(shop)
    async with terminal(shop, EVENING, first=FLOOR, badge="F01") as at:
        await opened(at)
        text = await at.keys("1002.77 0830", "Enter")
        assert "no phase 1002.77" in " ".join(text.split())
        assert "2 " not in text.splitlines()[5], "no new row yet"
        await at.keys(*["backspace"] * 7, "1 0830", "Enter")
        text = await at.keys("t 0800 0815", "Enter")
        assert "overlaps 1002.1" in " ".join(text.split())
        await at.keys(*["backspace"] * 4, *["backspace"] * 5, "0845", "Enter")
        text = await at.keys("1002.2 2300", "Enter")
        assert "has not come yet" in " ".join(text.split())
        await at.keys(*["backspace"] * 20, "Enter")
        text = await at.keys("sleeping 0900", "Enter")
        assert "neither a phase" in text
        await at.keys(*["backspace"] * 20, "Enter", "Enter", "2", "2468", "Enter")
        assert "and confirmed" in at.said, at.text
    assert kinds(shop, before) == ["clock-entered"] * 2 + ["day-confirmed"]


async def test_a_technician_enters_their_own_day_from_the_list_of_all_actions(
    shop: Shop, pen: Pen
) -> None:
    async with terminal(shop, EVENING, first=BAY, badge="B13") as at:
        text = await at.keys("F9", "paper", "Enter")
        assert "which day" in text
        text = await at.keys("Enter")
        assert "from paper: Tomas" in text
        await at.keys("1002.1 0830", "Enter", "Enter", "Enter")
        assert "Tomas's 2026-10-14, 1 row, 1.0 h entered from paper." in at.said


async def test_what_was_typed_is_there_when_one_returns(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, EVENING, first=FLOOR, badge="F01") as at:
        await opened(at)
        await at.keys("1002.1 0830", "Enter", "t 0845", "Esc")
        assert "from paper" not in at.text
        text = await opened(at)
        assert "2 rows" in text
        assert "tidying" in text
        await at.keys("up", "up")
        text = await at.keys("down")
        assert "t 0845" in text
        await at.keys(*["backspace"] * 10, "Enter")
        assert "1 row," in at.text
    assert last(shop) == before


async def test_a_confirmed_day_a_day_to_come_and_a_wrong_key_are_answered(
    shop: Shop, pen: Pen
) -> None:
    async with terminal(shop, EVENING, first=FLOOR, badge="F01") as at:
        await at.keys("e", "B99", "Enter")
        assert "Nobody here has the badge B99" in at.text
        await at.keys("B13", "Enter", "2027-01-01", "Enter")
        assert "has not come yet" in at.text
        await at.keys(*["backspace"] * 10, "xx", "Enter")
        assert "!" in at.said
        await at.keys("backspace", "backspace", "Enter")
        await at.keys("F11")
        assert "0730 1000" in at.said
        await at.keys("Enter")
        assert "0730 1000" in at.said, "nothing is typed: nothing is written"
        await at.keys("t 0845", "Enter", "Enter", "2", "2468", "Enter")
        await at.keys("e", "B13", "Enter", "Enter")
        assert "confirmed already" in at.said


async def test_beyond_the_shift_is_allowed_and_said(shop: Shop, pen: Pen) -> None:
    late = EVENING.replace(hour=19)
    async with terminal(shop, late, first=FLOOR, badge="F01") as at:
        await opened(at)
        text = await at.keys("t 1600 1800", "Enter")
        assert "Beyond the shift" in text


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 50)])
async def test_it_fits_every_terminal_and_many_rows_scroll(
    shop: Shop, pen: Pen, size: tuple[int, int]
) -> None:
    async with terminal(shop, EVENING, first=FLOOR, badge="F01", size=size) as at:
        await opened(at)
        for n in range(24):
            hour, minute = divmod(450 + 10 * n, 60)
            then = f"{hour:02d}{minute:02d} {hour:02d}{minute + 9:02d}"
            await at.keys(f"t {then}", "Enter")
        assert all(len(line) == size[0] for line in at.lines)
        assert " 25" in at.text, at.text
        await at.pilot.resize_terminal(59, 24)
        await at.settle()
        assert "needs 60 columns" in " ".join(at.text.split())


async def test_a_card_is_written_from_the_list_of_all_actions(
    shop: Shop, pen: Pen, tmp_path: Path
) -> None:
    target = tmp_path / "1001.html"
    async with terminal(shop, EVENING, first=FLOOR, badge="F01") as at:
        await at.keys("F9", "job card to print", "Enter")
        assert "job card of 1001" in at.text, "the job on the lift that one is at"
        await at.keys(*["backspace"] * 40, str(shop.path), "Enter")
        assert "shop file" in at.text
        await at.keys(*["backspace"] * 200, str(target), "Enter")
        assert "Job card of 1001 written" in " ".join(at.said.split())
    page = target.read_text("utf-8")
    assert "Job 1001" in page
    assert page.count("<svg") > 3


async def test_a_scanned_phase_of_the_card_is_what_the_row_was_on(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, EVENING, first=FLOOR, badge="F01") as at:
        await opened(at)
        for code in (Code("phase", "1002.1"), Code("lift", "1")):
            for letter in MARK + written(code):
                at.app.line.put(Pressed("tab" if letter == MARK else letter,
                                        "" if letter == MARK else letter))  # fmt: skip
            await at.keys("Enter")
            if code.kind == "lift":
                assert "Others mean nothing" in at.said
        await at.keys("0830", "Enter")
        assert "1002.1  reception, estate, grey" in at.text
