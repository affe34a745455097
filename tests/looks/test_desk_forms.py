"""The desk's questions and pages at three sizes, as keys bring them up, against what was kept.

Kept anew like the painted screens: `HOISTBOOK_GOLDEN=1 pytest tests/looks`.
"""

from __future__ import annotations

import atexit
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from pathlib import Path

import pytest

from store.file.shop import Shop
from tests.looks.golden import SCREENS, compare
from tests.tui.desk.ready import JOB, called, here, in_check, quoted
from tests.tui.driver import terminal
from tests.tui.shops import Pen, worked_on
from tui.parts.where import DESK, Where
from tui.signs import ASCII, UNICODE, Signs

Make = Callable[[Shop, Pen], None]


@dataclass(frozen=True, slots=True)
class Form:
    """How a form comes up: what is pressed for it, on which screen, in which shop."""

    keys: tuple[str, ...]
    ready: Make = called
    first: Where = DESK


FORMS: dict[str, Form] = {
    "list": Form(()),
    "call": Form(("e", "van", "Enter")),
    "booked": Form(("b", "thu", "Enter")),
    "arrived": Form(("a", "84200", "Enter")),
    "judged": Form(("k",), in_check),
    "agreed": Form(("g",), quoted),
    "agreed-part": Form(("g", "1", "2"), quoted),
    "agreed-ahead": Form(("g", "5"), quoted),
    "declined": Form(("x",), quoted),
    "in": Form(("c",), here),
    "tried": Form(("t",)),
    "visits": Form(("v",), quoted),
    "card": Form(("d",), quoted, Where("job", JOB)),
    "small": Form(("F12", "wipers", "Enter", "van", "Enter")),
}
SIZES = [(60, 20), (80, 24), (120, 40), (200, 50)]
KINDS = [*((size, UNICODE) for size in SIZES), ((80, 24), ASCII)]


def name_of(form: str, size: tuple[int, int], signs: Signs) -> str:
    return f"forms/desk-{form}-{size[0]}x{size[1]}{'-ascii' if signs.ascii else ''}"


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


@pytest.mark.parametrize(("size", "signs"), KINDS, ids=str)
@pytest.mark.parametrize("name", FORMS)
async def test_a_form_looks_as_it_was_kept(
    name: str, size: tuple[int, int], signs: Signs, tmp_path: Path
) -> None:
    form = FORMS[name]
    path, now = made(form.ready)
    shop = Shop(Path(shutil.copy(path, tmp_path / "made.shop")))
    try:
        async with terminal(
            shop, now + timedelta(minutes=5), first=form.first, badge="F01", size=size, signs=signs
        ) as at:
            if form.first == DESK:
                await at.keys("up", "up", "up")
            await at.keys(*form.keys)
            (SCREENS / "forms").mkdir(exist_ok=True)
            compare(name_of(name, size, signs), at.lines)
    finally:
        shop.close()


def test_no_form_is_kept_that_nobody_brings_up() -> None:
    shown = {name_of(name, *kind) for name in FORMS for kind in KINDS}
    kept = {f"forms/{one.stem}" for one in (SCREENS / "forms").glob("desk-*.txt")}
    assert kept == shown
