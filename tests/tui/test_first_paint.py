"""What a bay terminal loads before it paints: nothing that can wait."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

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
        "desk.screen",
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
    shop.close()
    code = (
        "import sys\nfrom pathlib import Path\nfrom datetime import datetime\n"
        "from store.file.shop import Shop\nfrom store.views.bay import bay\n"
        "from store.views.floor import floor\nfrom tui.bay.paint import bay_canvas\n"
        "from tui.bay.state import BayState\nfrom tui.floor.paint import floor_canvas\n"
        "from tui.floor.state import FloorState\nfrom tui.signs import UNICODE\n"
        "shop = Shop(Path(sys.argv[1]))\nnow = datetime.fromisoformat(sys.argv[2])\n"
        "bay_canvas(bay(shop, 'B12', now), (80, 24), UNICODE, BayState())\n"
        "floor_canvas(floor(shop, now), (80, 24), UNICODE, FloorState())"
    )
    assert loaded(code, str(tmp_path / "made.shop"), pen.now.isoformat()) == "[]"
