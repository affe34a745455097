"""What a month cost: typed by the owner, said anew, taken back; a slip is refused."""

from __future__ import annotations

import math

import pytest

from store.actions import month_costs
from store.actions.undo import taking_back as undo
from store.file.verify import verify
from tests.store.actions.made import World


def costs(w: World, month: str, wages: float, overheads: float) -> None:
    month_costs.set_costs(w.shop, w.by("OWN"), month=month, wages=wages, overheads=overheads)


def rows(w: World) -> list[tuple[object, ...]]:
    return w.all("select month, wages, overheads from month_cost order by seq")


def test_the_newest_word_stands_and_an_undo_gives_the_one_before_back(world: World) -> None:
    costs(world, "2026-10", 9000, 4000)
    costs(world, "2026-10", 9500.5, 4000)
    assert rows(world)[-1] == ("2026-10", 9500.5, 4000)
    undo.undo(world.shop, world.by("OWN"))
    assert rows(world) == [("2026-10", 9000, 4000)]
    assert verify(world.shop.path).ok


@pytest.mark.parametrize(
    "month, wages, overheads, says",
    [
        ("2026-9", 1, 1, "is no month"),
        ("2026-13", 1, 1, "is no month"),
        ("2026-11", 1, 1, "has not begun"),
        ("2026-09", 1, 1, "begin in 2026-10"),
        ("2026-10", 0, 1, "Wages are more than 0"),
        ("2026-10", -1, 1, "Wages are more than 0"),
        ("2026-10", math.nan, 1, "Wages are more than 0"),
        ("2026-10", math.inf, 1, "Wages are more than 0"),
        ("2026-10", 1, -1, "Overheads are 0 or more"),
        ("2026-10", 9000, 4000, "are so already"),
    ],
)
def test_what_cannot_be_is_refused(
    world: World, month: str, wages: float, overheads: float, says: str
) -> None:
    costs(world, "2026-10", 9000, 4000)
    world.refused(lambda: costs(world, month, wages, overheads), says)
