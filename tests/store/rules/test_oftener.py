"""Late suppliers, missed promises and holds."""

from __future__ import annotations

from random import Random

import pytest

from store.rules.oftener import Happened, kept_and_held, suppliers


def row(*stretches: tuple[int, int]) -> list[Happened]:
    """Stretches of so many, of which so many yes, evenly spread."""
    yes = [n * few // many != (n + 1) * few // many for many, few in stretches for n in range(many)]
    return [Happened(86_400.0 * n, one) for n, one in enumerate(yes)]


def test_a_supplier_who_is_late_all_along_is_told_beside_the_others() -> None:
    found = suppliers({"North": row((20, 13)), "South": row((30, 3)), "West": row((12, 1))})
    assert [(one.kind, one.code, one.count_after) for one in found] == [("level", "North", 20)]
    assert found[0].after == pytest.approx(13 / 20)
    assert found[0].before == pytest.approx(4 / 42)


def test_where_everybody_is_late_nobody_is_told() -> None:
    assert suppliers({"North": row((20, 10)), "South": row((30, 15))}) == []


def test_a_supplier_who_became_late_is_told_with_the_day() -> None:
    (found,) = suppliers({"North": row((25, 1), (15, 12)), "South": row((30, 3))})
    assert found.kind == "change"
    assert 22 <= found.since / 86_400 <= 28
    assert found.early <= found.since <= found.late


def test_three_deliveries_are_no_verdict() -> None:
    assert suppliers({"North": row((3, 3)), "South": row((30, 0))}) == []


def test_jobs_held_more_often_since_a_day() -> None:
    (found,) = kept_and_held(row((40, 5)), {"parts": row((30, 2), (20, 15)), "word": row((50, 9))})
    assert (found.what, found.code) == ("held", "parts")
    assert found.after > 0.6
    assert found.before < 0.1


def test_luck_is_hardly_ever_told() -> None:
    dice = Random(3)
    told = 0
    for _ in range(200):
        rows = {
            name: [Happened(float(n), dice.random() < 0.12) for n in range(25)] for name in "NSW"
        }
        told += bool(suppliers(rows))
    assert told <= 4  # promised: of the suppliers' part 1 in 840 looks
