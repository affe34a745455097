"""Hours estimates from the book alone."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from store.rules.estimating import Part, of_phase, of_total, together

GB = (1.7, 2.4, 4.0)
FW = (0.4, 0.5, 0.8)


def test_the_middle_is_the_books_figure_and_high_is_the_nine_tenths() -> None:
    figures = of_phase(GB, 0.9)
    assert figures.middle == 2.4
    assert math.isclose(figures.cautious, 4.0, rel_tol=1e-9)
    assert math.isclose(figures.quantiles[9], 2.4, rel_tol=1e-9)


def test_a_total_adds_the_middles_but_not_the_spreads() -> None:
    total = of_total([GB, FW], 0.9)
    assert math.isclose(total.middle, 2.9, rel_tol=1e-9)
    assert 2.9 < total.cautious < 4.8


@given(st.floats(0.1, 20.0))
def test_agreed_extra_work_raises_the_jobs_middle_by_just_its_hours(extra: float) -> None:
    parts = [Part(GB, 2.4, 3.1), Part(FW, 0.5, 0.6)]
    raised = [Part(GB, 2.4 + extra, 3.1 + extra), parts[1]]
    assert math.isclose(together(raised).middle, together(parts).middle + extra, rel_tol=1e-9)
    assert together(raised).cautious > together(parts).cautious


def test_a_phase_without_book_hours_has_no_spread() -> None:
    assert together([Part((0.0, 0.0, 0.0), 1.5, 1.5)]).middle == 1.5
