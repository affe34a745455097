"""In a word whether clearing pays, and what each way of standing costs."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.clearing import COSTS, verdict

FACTS = {"leaves": True, "place": True, "comes": True}


def test_what_sits_worse_costs_more() -> None:
    drives, rolls, fixed = (COSTS[one] for one in ("drives", "rolls", "fixed"))
    assert drives.middle_h == 0 < rolls.middle_h < fixed.middle_h
    assert rolls.middle_h == pytest.approx(0.6)
    assert fixed.middle_h == pytest.approx(2.75)
    assert (drives.people, rolls.people) == (1, 2)


@pytest.mark.parametrize(
    ("lacks", "word"), [("leaves", "stays"), ("place", "no place"), ("comes", "nobody is ready")]
)
@given(st.floats(-100, 100), st.floats(0, 1))
def test_what_lacks_is_said_before_any_figure(
    lacks: str, word: str, value: float, longer: float
) -> None:
    assert verdict(**(FACTS | {lacks: False}), value_h=value, longer=longer) == word


@given(st.floats(-100, 100), st.floats(0, 1))
def test_it_pays_where_it_brings_more_than_it_costs(value: float, longer: float) -> None:
    found = verdict(**FACTS, value_h=value, longer=longer)
    assert (found == "does not pay") == (value <= 0)
    assert (found == "pays") == (value > 0 and longer >= 0.5)
