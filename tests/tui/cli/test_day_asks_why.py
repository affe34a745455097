"""The day sheet as text and document: a phase that went over its cautious hours asks why."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

from store.actions import phases
from store.views.day import day
from tests.tui.shops import Pen, worked_on
from tui.cli.json_day import document
from tui.cli.text_day import lines


def test_it_says_how_to_answer_until_somebody_has(tmp_path: Path) -> None:
    pen = Pen()
    shop = worked_on(tmp_path / "made.shop", pen)
    phases.finish(shop, pen.by("B12", 180), job="1001", phase="1")
    sheet = day(shop, "B12", date(2026, 10, 14), pen.now)
    asked = [line for line in lines(sheet) if "why?" in line]
    assert asked == [
        "  why?     1001.1 took 3.0 h, cautious 0.7 h: hoistbook finish 1001.1 --why TEXT"
    ]
    (over,) = json.loads(json.dumps(document(sheet)))["overruns"]
    assert (over["job"], over["phase"], over["labour_hours"]) == ("1001", "1", 3.0)
    phases.finish(shop, pen.by("B12"), job="1001", phase="1", why="rusty or seized")
    after = day(shop, "B12", date(2026, 10, 14), pen.now)
    assert not any("why?" in line for line in lines(after))
    assert document(after)["overruns"] == []
    shop.close()
