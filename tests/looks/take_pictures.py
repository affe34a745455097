"""Takes the pictures of README.md anew: `python tests/looks/take_pictures.py`.

Makes the demo shop in a temporary folder, opens its screens and writes them as PNG through a
browser without a window (Debian: chromium, and fonts-dejavu-core for the letters).
"""

from __future__ import annotations

import asyncio
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(TOP))

from demo.making import make_demo  # noqa: E402 - the path is set above
from store.file.shop import Shop  # noqa: E402
from store.views.about import about  # noqa: E402
from store.views.door import door  # noqa: E402
from store.views.floor import floor  # noqa: E402
from tui.app import Hoistbook  # noqa: E402
from tui.colours import Paint, choose_look  # noqa: E402
from tui.learner import take_in  # noqa: E402
from tui.parts.where import BAY, FLOOR, Where  # noqa: E402
from tui.session import Session  # noqa: E402
from tui.signs import UNICODE  # noqa: E402

PICTURES = Path(__file__).parent / "pictures"
BROWSER = "chromium"
EDGES = (8.0, 41.0, 8.0, 8.0)
"""Left, top, right and low edge of the window that Textual draws round a screen."""


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture: its name, who sits there, which screen, how large."""

    name: str
    badge: str
    first: Where
    size: tuple[int, int]
    lift: str | None = None


@dataclass(frozen=True, slots=True)
class Still:
    """A clock that stands still."""

    at: datetime
    sleeps: bool = False

    def look(self) -> datetime:
        """The instant it shows."""
        return self.at

    def use(self) -> datetime:
        """The same."""
        return self.at


def shots(job: str) -> tuple[Shot, ...]:
    """Return what README.md shows; `job` is the one on the card."""
    return (
        Shot("floor", "A02", FLOOR, (120, 40)),
        Shot("bay", "B12", BAY, (80, 24), "1"),
        Shot("job", "A02", Where("job", job), (120, 40)),
    )


async def take(shop: Shop, shot: Shot, at: datetime) -> str:
    """Return one screen as SVG."""
    session = Session(
        shop,
        Still(at),
        "pictures",
        Paint(choose_look({"COLORTERM": "truecolor"}, None)),
        UNICODE,
        lift=shot.lift,
    )
    session.sign_in(door(shop, at).who(shot.badge))
    app = Hoistbook(session, shot.first, alone=True)
    async with app.run_test(size=shot.size) as pilot:
        for _ in range(20):
            await pilot.pause(0.1)
        return app.export_screenshot()


def write(svg: str, target: Path) -> None:
    """Write an SVG as PNG, without the window that is drawn round it."""
    left, top, right, low = EDGES
    wide, high = map(float, re.findall(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"', svg)[0])
    size = round(wide - left - right), round(high - top - low)
    plain = re.sub(r"@font-face\s*{.*?}", "", svg, flags=re.DOTALL)
    plain = plain.replace("Fira Code, monospace", "DejaVu Sans Mono").replace(
        "Fira Code", "DejaVu Sans Mono"
    )
    box = f'viewBox="{left} {top} {size[0]} {size[1]}" width="{size[0]}" height="{size[1]}"'
    plain = re.sub(r'viewBox="[^"]*"', box, plain, count=1)
    with tempfile.TemporaryDirectory() as folder:
        drawn = Path(folder) / "screen.svg"
        drawn.write_text(plain, "utf-8")
        subprocess.run(
            [BROWSER, "--headless=new", "--no-sandbox", "--hide-scrollbars",
             f"--window-size={size[0]},{size[1]}", f"--screenshot={target}", drawn.as_uri()],
            check=True, capture_output=True,
        )  # fmt: skip


def main() -> int:
    """Take all pictures; return the exit status."""
    if shutil.which(BROWSER) is None:
        print(f"{BROWSER} is not here: install it to draw the pictures.", file=sys.stderr)
        return 1
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        shop = make_demo(Path(folder) / "demo.shop")
        demo = about(shop).demo
        assert demo is not None
        take_in(shop, Still(demo.opens_at))
        lanes = floor(shop, demo.opens_at).lanes
        late = next(lane.job.number for lane in lanes if lane.job and lane.job.held)
        for shot in shots(late):
            svg = asyncio.run(take(shop, shot, demo.opens_at))
            write(svg, PICTURES / f"{shot.name}.png")
        shop.close()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
