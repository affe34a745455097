"""What forms that are kept as they look share: shops made ready once, sizes, names of files."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from collections.abc import Callable, Sequence
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from store.file.shop import Shop
from tests.looks.golden import SCREENS, compare
from tests.tui.shops import Pen, worked_on
from tui.signs import ASCII, UNICODE, Signs

Make = Callable[[Shop, Pen], None]
Size = tuple[int, int]


def kinds(sizes: Sequence[Size]) -> list[tuple[Size, Signs]]:
    """Every size with the usual signs, and one without them."""
    return [*((size, UNICODE) for size in sizes), ((80, 24), ASCII)]


def name_of(place: str, form: str, size: Size, signs: Signs) -> str:
    """The file in which a form is kept."""
    return f"forms/{place}-{form}-{size[0]}x{size[1]}{'-ascii' if signs.ascii else ''}"


@lru_cache
def made(ready: Make) -> tuple[Path, datetime]:
    """A shop made ready once, and its time."""
    folder = Path(tempfile.mkdtemp(prefix="hoistbook-test-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    pen = Pen()
    shop = worked_on(folder / "made.shop", pen)
    ready(shop, pen)
    shop.close()
    return shop.path, pen.now


def compare_form(name: str, lines: Sequence[str]) -> None:
    """Compare a form with how it was kept."""
    (SCREENS / "forms").mkdir(exist_ok=True)
    compare(name, lines)


def kept(place: str) -> set[str]:
    """The names of all forms of a place that are kept."""
    return {f"forms/{one.stem}" for one in (SCREENS / "forms").glob(f"{place}-*.txt")}
