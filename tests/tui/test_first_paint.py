"""What a bay terminal loads before it paints: nothing that can wait."""

from __future__ import annotations

import subprocess
import sys
from datetime import timedelta
from pathlib import Path

from store.actions import holding, jobs
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.views.bay import bay
from tests.tui.shops import Pen, worked_on

HEAVY = ("pydantic", "pendulum", "sqlite_utils", "numpy", "scipy", "pandas")
SEEN = f"import sys; print([one for one in {HEAVY!r} if one in sys.modules])"


def loaded(code: str, *arguments: str) -> str:
    """Which heavy modules a fresh interpreter has after some code."""
    ran = subprocess.run(
        [sys.executable, "-c", f"{code}\n{SEEN}", *arguments], capture_output=True, text=True,
        check=True, cwd=Path(__file__).parents[2],
    )  # fmt: skip
    return ran.stdout.strip()


def test_the_screens_load_no_heavy_module() -> None:
    every = (
        "app", "signin.screen", "bay.screen", "floor.screen", "job.screen", "intake.screen",
        "desk.screen", "month.screen",
    )  # fmt: skip
    assert loaded("\n".join(f"import tui.{name}" for name in every)) == "[]"
    assert loaded("import tui.cli.run, tui.cli.start") == "[]"


def test_a_bay_loads_nothing_of_the_floor_or_its_lanes() -> None:
    code = (
        "import tui.app, tui.opening, tui.bay.screen, sys\nprint('tui.floor.screen' in sys.modules)"
    )
    assert loaded(code).startswith("False")


def test_reading_and_painting_a_bay_and_a_floor_loads_none_either(tmp_path: Path) -> None:
    pen = Pen()
    shop = worked_on(tmp_path / "made.shop", pen)
    assert bay(shop, "B12", pen.now).clock is not None
    jobs.promise(shop, pen.by("F01"), job="1002", at=pen.now + timedelta(hours=24))
    holding.hold(shop, pen.by("F01"), job="1002", phase=None, reason="parts")
    Turns(shop, ShopLearner(), lambda: pen.now).keep_up()
    shop.close()
    code = (
        "import sys\nfrom pathlib import Path\nfrom datetime import datetime\n"
        "from store.file.shop import Shop\nfrom store.views.bay import bay\n"
        "from store.views.floor import floor\nfrom tui.bay.paint import bay_canvas\n"
        "from tui.bay.state import BayState\nfrom tui.floor.paint import floor_canvas\n"
        "from tui.floor.state import FloorState\nfrom tui.signs import UNICODE\n"
        "from store.views.helps import helps\nfrom dataclasses import replace\n"
        "shop = Shop(Path(sys.argv[1]))\nnow = datetime.fromisoformat(sys.argv[2])\n"
        "bay_canvas(bay(shop, 'B12', now), (80, 24), UNICODE, BayState())\n"
        "shown = replace(floor(shop, now), helps=helps(shop, now, costs=False))\n"
        "floor_canvas(shown, (80, 24), UNICODE, FloorState())\n"
        "print('known' if shown.helps.seq else 'silent', end=' ')"
    )
    assert loaded(code, str(tmp_path / "made.shop"), pen.now.isoformat()) == "known []"
