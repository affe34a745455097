"""The screen says what `floor --json` says of the same instant: words, figures and chances."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

import pytest

from store.file.learned.kept import Forecast, PhaseLeft, Spread, keep_forecasts, newest_position
from store.file.shop import Shop
from store.views.floor import floor as view
from tests.tui.driver import terminal
from tests.tui.made_floor import calm_floor, floor, unlearned
from tests.tui.shops import Pen
from tui.cli.json_floor import document
from tui.floor.paint import floor_canvas
from tui.floor.plan import plan
from tui.floor.state import FloorState
from tui.parts.where import FLOOR
from tui.signs import UNICODE

WORDS = (
    (0.95, "safe"), (0.75, "likely"), (0.55, "leans good|more likely than not"),
    (0.35, "coin toss|a coin toss"), (0.15, "doubtful"), (0.0, "will break"),
)  # fmt: skip
"""The borders as they were decided, written down a second time."""
STATE = FloorState(who="Ruth, foreman")


def says(chance: float) -> list[str]:
    """Words that may stand for a chance; which of them depends on the room."""
    middle = round(chance * 10) / 10 if 0.05 <= chance < 0.95 else chance
    return next(words.split("|") for least, words in WORDS if middle >= least)


def clock(text: str, now: datetime) -> str:
    """`Thu 12:00` of an instant of the document, or its day where that is far off."""
    at = datetime.fromisoformat(text)
    if abs((at.date() - now.date()).days) >= 6:
        return f"{at.day} {at:%b}"
    return f"{at:%a %H:%M}"


def later(text: str, than: str, now: datetime) -> str:
    """The same of a second instant: only its time where both are on one day that is near."""
    said = clock(text, now)
    one_day = datetime.fromisoformat(text).date() == datetime.fromisoformat(than).date()
    return said.split()[-1] if one_day and ":" in said else said


def agrees(block: str, job: dict[str, Any], now: datetime, sticks: float = 0.0) -> None:
    """What is painted of a lift is what the document says of its job.

    Args:
        sticks: how far past a border of words a live screen keeps the last one.
    """
    assert job["number"] in block
    if job["finish"] is not None:
        middle, cautious = (job["finish"][which] for which in ("middle", "cautious"))
        assert f"out {clock(middle, now)}" in block
        assert f"by {later(cautious, middle, now)}" in block or middle == cautious
    if job["promise_chance"] is not None:
        near = [job["promise_chance"] + by for by in (0.0, -sticks, sticks)]
        words = [word for chance in near for word in says(max(0.0, chance))]
        assert any(word in block for word in words), (words, block)
        tenths = [f"{int(chance * 10 + 0.5)} in 10" for chance in near]
        assert "in 10" not in block or any(said in block for said in ("under 1 in 10", *tenths))
    if job["promise"] is not None:
        assert clock(job["promise"], now) in block
    over = "over-estimate" in job["flags"] and "supplement-asked" not in job["flags"]
    if job["phase"] is not None and (over or (job["phase"]["people"] and not job["flags"])):
        hours = job["phase"]["labour_hours"], job["phase"]["estimate_hours"]["middle"]
        assert f"{hours[0]:.1f}/{hours[1]:.1f}" in block


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 50)])
def test_every_lane_and_list_says_what_the_document_says(size: tuple[int, int]) -> None:
    for of in (floor(), calm_floor(), unlearned(floor())):
        said = json.loads(json.dumps(document(of)))
        now = datetime.fromisoformat(said["at"])
        laid, rows = plan(of, size, STATE), floor_canvas(of, size, UNICODE, STATE).text()
        assert f"{now:%a} {now.day} {now:%b}  {now:%H:%M}" in rows[0]
        assert said["shop"] in rows[0]
        for nth, lane in enumerate(said["lanes"]):
            top = laid.lanes_top + nth * laid.lane_rows
            block = "\n".join(rows[top : top + laid.lane_rows])
            if lane["job"] is None:
                assert "free" in block
            else:
                agrees(block, lane["job"], now)
        under = "\n".join(rows[laid.lists_top :])
        for job in said["waiting"]:
            assert job["number"] in under
            assert size[0] < 112 or ", ".join(job["lacks"]) in under


def known(shop: Shop, pen: Pen, number: str, open_h: float) -> Forecast:
    """A forecast of so many open hours, give or take two fifths."""
    with shop.reading() as db:
        seq = newest_position(db).seq
        phases = db.execute("select phase from phase where job = ?", [number]).fetchall()
    spread = Spread(open_h, tuple(open_h * (0.6 + 0.8 * n / 20) for n in range(1, 20)))
    left = {row[0]: PhaseLeft(0.0, Spread(1.0, spread.quantiles)) for row in phases}
    return Forecast(number, seq, seq, pen.now, 0.0, spread, spread, left)


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 50)])
async def test_a_shop_with_forecasts_is_shown_as_its_document_says(
    shop: Shop, pen: Pen, size: tuple[int, int]
) -> None:
    made = [known(shop, pen, "1001", 17.0), known(shop, pen, "1002", 9.0)]
    with shop.beside() as db:
        assert keep_forecasts(db, made, newest_position(db))
    said = json.loads(json.dumps(document(view(shop, pen.now))))
    chances = [lane["job"]["promise_chance"] for lane in said["lanes"] if lane["job"]]
    assert all(chance is not None for chance in chances)
    async with terminal(shop, pen.now, first=FLOOR, size=size) as at:
        laid = plan(view(shop, pen.now), size, STATE)
        for nth, lane in enumerate(said["lanes"]):
            top = laid.lanes_top + nth * laid.lane_rows
            if lane["job"] is not None:
                block = "\n".join(at.lines[top : top + laid.lane_rows])
                agrees(block, lane["job"], datetime.fromisoformat(said["at"]))
