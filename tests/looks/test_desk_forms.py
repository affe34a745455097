"""The desk's questions and pages at three sizes, as keys bring them up, against what was kept.

Kept anew like the painted screens: `HOISTBOOK_GOLDEN=1 pytest tests/looks`.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest

from store.file.shop import Shop
from tests.looks.forms import Make, compare_form, kept, kinds, made, name_of
from tests.tui.desk.ready import JOB, called, here, in_check, quoted
from tests.tui.driver import terminal
from tui.parts.where import DESK, Where
from tui.signs import Signs


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
KINDS = kinds([(60, 20), (80, 24), (120, 40), (200, 50)])


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
            compare_form(name_of("desk", name, size, signs), at.lines)
    finally:
        shop.close()


def test_no_form_is_kept_that_nobody_brings_up() -> None:
    shown = {name_of("desk", name, *kind) for name in FORMS for kind in KINDS}
    assert kept("desk") == shown
