"""Lateness of suppliers: against SciPy's beta laws; the trade's figures where nothing is seen."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from store.sums.hires.lateness import (
    LATEST,
    Seen,
    arrivals,
    days_late,
    faulty_chance,
    late_chance,
    mean_days_late,
)

SEEN = [Seen(), Seen(20, 3, 4, 18, 0), Seen(400, 4, 40, 400, 80), Seen(5, 5, 5, 5, 5)]


@st.composite
def seen(draw: st.DrawFn) -> Seen:
    late, faulty = draw(st.integers(0, 60)), draw(st.integers(0, 60))
    more = draw(st.integers(0, 100)) if late else 0
    return Seen(
        late + draw(st.integers(0, 300)),
        late,
        late + more,
        faulty + draw(st.integers(0, 300)),
        faulty,
    )


def test_of_a_supplier_of_whom_nothing_is_known_the_trade_is_expected() -> None:
    """Common practice, no source: 1 in 8 a day late or more, 1 in 25 incomplete or wrong."""
    assert late_chance(Seen()) == 1 / 8
    assert faulty_chance(Seen()) == 1 / 25
    assert mean_days_late(Seen()) == pytest.approx(1.5)


@pytest.mark.parametrize("one", SEEN)
def test_chances_are_those_of_the_next_one_under_beta_binomial_laws(one: Seen) -> None:
    late = stats.betabinom(1, 1 + one.late, 7 + one.deliveries - one.late)
    faulty = stats.betabinom(1, 1 + one.faulty, 24 + one.checked - one.faulty)
    assert late_chance(one) == pytest.approx(float(late.pmf(1)))
    assert faulty_chance(one) == pytest.approx(float(faulty.pmf(1)))


@pytest.mark.parametrize("one", SEEN)
def test_days_late_are_geometric_with_a_rate_of_a_beta_law(one: Seen) -> None:
    rate = stats.beta(5 + one.late, 2 + one.days_late - one.late)

    def chance(j: int) -> float:
        return float(
            integrate.quad(lambda r: stats.geom.pmf(j, r) * rate.pdf(r), 0, 1, epsabs=1e-12)[0]
        )

    found = days_late(one)
    assert found[:-1] == pytest.approx([chance(j) for j in range(1, LATEST)], abs=1e-7)
    mean = float(integrate.quad(lambda r: rate.pdf(r) / r, 0, 1, epsabs=1e-12)[0])
    assert mean_days_late(one) == pytest.approx(mean, rel=1e-6)


@given(seen(), st.integers(0, 6))
def test_arrivals_are_chances_that_sum_to_one(one: Seen, lead_days: int) -> None:
    found = arrivals(one, lead_days)
    assert len(found) == 1 + LATEST + lead_days
    assert min(found) >= 0
    assert math.fsum(found) == pytest.approx(1)
    on_time = (1 - late_chance(one)) * (1 if lead_days == 0 else 1 - faulty_chance(one))
    assert found[0] == pytest.approx(on_time)


@given(seen())
def test_who_was_late_once_more_is_later_and_who_was_in_time_less(one: Seen) -> None:
    worse = Seen(one.deliveries + 1, one.late + 1, one.days_late + 3, one.checked, one.faulty)
    better = Seen(one.deliveries + 1, one.late, one.days_late, one.checked, one.faulty)
    assert late_chance(better) < late_chance(one) < late_chance(worse)
    assert faulty_chance(one) == faulty_chance(worse)


def test_much_that_was_seen_outweighs_what_is_usual() -> None:
    assert late_chance(Seen(10_000, 5_000, 10_000)) == pytest.approx(0.5, abs=0.001)
    assert mean_days_late(Seen(10_000, 5_000, 15_000)) == pytest.approx(3, abs=0.01)


@pytest.mark.parametrize(
    "counts", [(1, 2, 2), (-1, 0, 0), (5, 2, 1), (5, 0, 1), (0, 0, 0, 1, 2), (0, 0, 0, 0, -1)]
)
def test_counts_that_do_not_fit_are_refused(counts: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="do not fit"):
        Seen(*counts)
