"""The bay's questions and sheets at three sizes, as keys bring them up, against what was kept.

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
from tests.tui.bay.ready import (
    in_check,
    nothing,
    overlap,
    second_name,
    to_decide,
    wrong_job,
)
from tests.tui.driver import terminal
from tui.parts.where import BAY
from tui.signs import Signs


@dataclass(frozen=True, slots=True)
class Form:
    """How a form comes up.

    Attributes:
        keys: what is pressed for it.
        ready: makes the shop as it is before.
        later: hours that pass before anybody looks.
    """

    keys: tuple[str, ...]
    ready: Make = nothing
    later: float = 0.0


FORMS: dict[str, Form] = {
    "left-running": Form((), later=24),
    "hold": Form(("4",)),
    "hold-until": Form(("4", "1")),
    "hold-move": Form(("4", "1", "Enter")),
    "readings": Form(("3",), in_check),
    "reading-out": Form(("3", "4200", "Enter"), in_check),
    "decision": Form(("3",), to_decide),
    "second-name": Form(("3",), second_name),
    "over-why": Form(("Enter",), later=3),
    "move-clock": Form(("7", "right", "3", "2100", "Enter")),
    "day": Form(("-",), overlap, 1),
    "day-why": Form(("Enter", "0", "-"), later=3),
    "split": Form(("-", "7"), wrong_job),
    "split-into": Form(("-", "7", "0830", "Enter"), wrong_job),
}
KINDS = kinds([(80, 24), (120, 40), (200, 50)])


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
            shop, now + timedelta(hours=form.later), first=BAY, badge="B12", lift="1", size=size,
            signs=signs,
        ) as at:  # fmt: skip
            await at.keys(*form.keys)
            compare_form(name_of("bay", name, size, signs), at.lines)
    finally:
        shop.close()


def test_no_form_is_kept_that_nobody_brings_up() -> None:
    shown = {name_of("bay", name, *kind) for name in FORMS for kind in KINDS}
    assert kept("bay") == shown
