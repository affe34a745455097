"""The public holidays of the demo's country."""

from __future__ import annotations

from datetime import date

import pytest
from dateutil.easter import easter as reference

from demo.days_off import easter, holidays


@pytest.mark.parametrize("year", range(1990, 2100))
def test_easter_is_where_the_reference_library_has_it(year: int) -> None:
    """Source: dateutil.easter, western method."""
    assert easter(year) == reference(year)


def test_the_king_is_not_celebrated_on_a_sunday() -> None:
    assert (date(2025, 4, 26), "King's Day") in holidays(2025)  # the 27th is a Sunday
    assert (date(2026, 4, 27), "King's Day") in holidays(2026)


def test_liberation_day_closes_the_shop_every_five_years() -> None:
    assert "Liberation Day" in {name for _, name in holidays(2025)}
    assert "Liberation Day" not in {name for _, name in holidays(2026)}
