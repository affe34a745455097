"""The same day some months later."""

from __future__ import annotations

from datetime import date

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from store.sums.months import months_later


@pytest.mark.parametrize(
    "day, months, later",
    [
        # Months of 28 to 31 days: ISO 8601-1:2019, table 1, order and number of days of months.
        (date(2026, 1, 31), 1, date(2026, 2, 28)), (date(2028, 1, 31), 1, date(2028, 2, 29)),
        (date(2026, 8, 31), 1, date(2026, 9, 30)), (date(2026, 11, 5), 14, date(2028, 1, 5)),
        (date(2028, 2, 29), 12, date(2029, 2, 28)),
    ],
)  # fmt: skip
def test_months_later(day: date, months: int, later: date) -> None:
    assert months_later(day, months) == later


@given(st.dates(date(1990, 1, 1), date(2090, 1, 1)), st.integers(0, 600))
def test_it_is_what_a_reference_library_says(day: date, months: int) -> None:
    # python-dateutil, relativedelta: "if the day is past the end of the month, its last day".
    assert months_later(day, months) == day + relativedelta(months=months)
