"""Forecasts judged: shares against their counts, misses and nearness against sums by hand."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from store.learn import scores
from store.learn.dates.replay import Row
from store.learn.hindsight import Scored
from store.learn.judged import dates_judged, hours_judged

STEPS = tuple(n / 20 for n in range(1, 20))


def scored(job: str, came: float, book: float, quantiles: Sequence[float]) -> Scored:
    """A forecast of a phase."""
    return Scored(job, "CL", "B4", "CL1", 1, "booked", 0.0, book, came, 0.0, tuple(quantiles))


def dated(job: str, came: float, plain: float, quantiles: Sequence[float]) -> Row:
    """A forecast of a finish."""
    return Row(job, 0, "booked", 0.0, came, 0.0, tuple(quantiles), plain)


def ten(first: float) -> list[float]:
    """19 quantiles from a first one on, half an hour apart."""
    return [first + n / 2 for n in range(19)]


ROWS = [
    scored("1", 5.0, 6.0, ten(1.0)),  # the middle one is 5.5, the 80th 8.5, low and high 1.5, 9.5
    scored("2", 8.5, 6.0, ten(1.0)),
    scored("3", 9.6, 6.0, ten(1.0)),
    scored("4", 1.0, 6.0, ten(1.0)),
]


def test_a_figure_was_enough_where_no_more_hours_came() -> None:
    found = hours_judged(ROWS, 0.8)
    assert (found.jobs, found.count) == (4, 4)
    shares = [one.share for one in (found.book, found.middle, found.cautious, found.within)]
    assert shares == [0.5, 0.5, 0.75, 0.5]
    for one in (found.book, found.cautious):
        assert np.allclose((one.low, one.high), scores.wilson(round(4 * one.share), 4))


def test_the_typical_miss_is_the_middle_one() -> None:
    found = hours_judged(ROWS, 0.8)
    assert math.isclose(found.book_miss, (2.5 / 8.5 + 3.6 / 9.6) / 2)
    assert math.isclose(found.miss, (3 / 8.5 + 4.1 / 9.6) / 2)


def test_nearer_is_the_loss_over_all_levels_against_one_figure() -> None:
    # Koenker, Bassett (1978), summed by hand
    def loss(came: float, said: Sequence[float]) -> float:
        return sum(
            p * (came - q) if came >= q else (1 - p) * (q - came)
            for p, q in zip(STEPS, said, strict=True)
        )

    own = sum(loss(one.actual_hours, one.quantiles) for one in ROWS)
    book = sum(loss(one.actual_hours, [one.book_hours] * 19) for one in ROWS)
    assert math.isclose(hours_judged(ROWS, 0.8).nearer or 0.0, 1 - own / book)


def test_who_says_what_the_book_says_is_no_nearer() -> None:
    rows = [scored("1", 5.0, 6.0, [6.0] * 19), scored("2", 7.0, 6.5, [6.5] * 19)]
    found = hours_judged(rows, 0.8)
    assert (found.nearer, found.miss) == (0.0, found.book_miss)


def test_nobody_is_nearer_than_a_book_that_was_right_every_time() -> None:
    assert hours_judged([scored("1", 6.0, 6.0, ten(1.0))], 0.8).nearer is None


@pytest.mark.parametrize(
    "cautious, enough", [(0.5, 5.5), (0.75, 8.0), (0.8, 8.5), (0.82, 8.7), (0.99, 10.0)]
)
def test_the_cautious_figure_is_the_shops_own(cautious: float, enough: float) -> None:
    for came, share in ((enough - 0.001, 1.0), (enough + 0.001, 0.0)):
        rows = [scored("1", came, 6.0, ten(1.0))]
        assert hours_judged(rows, cautious).cautious.share == share


def test_rows_of_one_job_leave_more_open_than_as_many_jobs() -> None:
    held = [ROWS[n % 10 // 5 * 2] for n in range(100)]
    alone = hours_judged([scored(str(n), one.actual_hours, 6.0, one.quantiles)
                          for n, one in enumerate(held)], 0.8)  # fmt: skip
    together = hours_judged([scored(str(n // 5), one.actual_hours, 6.0, one.quantiles)
                             for n, one in enumerate(held)], 0.8)  # fmt: skip
    assert alone.cautious.share == together.cautious.share
    wide = together.cautious.high - together.cautious.low
    assert wide > 1.5 * (alone.cautious.high - alone.cautious.low)


def test_a_promise_is_kept_by_what_comes_no_later() -> None:
    rows = [dated("1", 8.5, 3.0, ten(1.0)), dated("2", 2.0, 3.0, ten(1.0)),
            dated("3", 8.6, 3.0, ten(1.0)), dated("3", 1.2, 3.0, ten(1.0))]  # fmt: skip
    found = dates_judged(rows, 0.8)
    assert (found.jobs, found.count) == (3, 4)
    assert (found.promise.share, found.within.share, found.plain.share) == (0.75, 0.75, 0.5)
    assert math.isclose(found.plain_miss, (5.5 / 8.5 + 5.6 / 8.6) / 2)


@given(st.lists(st.tuples(st.floats(0.1, 50), st.floats(0.1, 50)), min_size=1, max_size=8))
def test_hours_or_minutes_make_no_difference(rows: list[tuple[float, float]]) -> None:
    assume(all(abs(came - book) > 1e-3 for came, book in rows))
    hours = [scored("1", came, book, ten(book / 2)) for came, book in rows]
    minutes = [
        scored("1", 60 * came, 60 * book, [60 * one for one in ten(book / 2)])
        for came, book in rows
    ]
    one, other = hours_judged(hours, 0.8), hours_judged(minutes, 0.8)
    assert math.isclose(one.miss, other.miss, rel_tol=1e-9)
    assert one.nearer is not None
    assert other.nearer is not None
    assert math.isclose(one.nearer, other.nearer, rel_tol=1e-6, abs_tol=1e-9)
