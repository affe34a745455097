from __future__ import annotations

from datetime import date

import pytest

from store.trouble import Refused
from tests.tui.made import CALENDAR, NOW
from tui.desk.reading import amount, day_to_come, day_words, mass, odometer

TODAY = date(2026, 10, 14)
"""A Wednesday."""


@pytest.mark.parametrize(
    "typed, value",
    [("84200", (84200.0, "km")), ("84,200 km", (84200.0, "km")), ("84.200", (84200.0, "km")),
     ("84 200", (84200.0, "km")), ("52300 mi", (52300.0, "mi")), ("52300miles", (52300.0, "mi")),
     ("120.5", (120.5, "km")), ("", None)],
)  # fmt: skip
def test_an_odometer_is_read_as_people_write_it(
    typed: str, value: tuple[float, str] | None
) -> None:
    assert odometer(typed, "km") == value


def test_the_unit_of_the_reading_before_holds_where_none_is_typed() -> None:
    assert odometer("52300", "mi") == (52300.0, "mi")


@pytest.mark.parametrize("typed", ["x", "84k", "-5", "12 furlongs"])
def test_what_is_no_distance_is_said_with_an_example(typed: str) -> None:
    with pytest.raises(Refused, match="like 84200"):
        odometer(typed, "km")


@pytest.mark.parametrize("typed, value", [("1,250", 1250.0), ("150", 150.0), ("99,50", 99.5)])
def test_money_is_read_with_points_or_commas(typed: str, value: float) -> None:
    assert amount(typed) == value


@pytest.mark.parametrize("typed", ["0", "-5", "much"])
def test_no_amount_is_refused(typed: str) -> None:
    with pytest.raises(Refused):
        amount(typed)


@pytest.mark.parametrize(
    "typed, day",
    [("today", date(2026, 10, 14)), ("tomorrow", date(2026, 10, 15)), ("wed", date(2026, 10, 14)),
     ("thu", date(2026, 10, 15)), ("tuesday", date(2026, 10, 20)), ("22 oct", date(2026, 10, 22)),
     ("3. jan", date(2027, 1, 3)), ("2026-11-02", date(2026, 11, 2))],
)  # fmt: skip
def test_a_day_is_read_as_people_say_it(typed: str, day: date) -> None:
    assert day_to_come(typed, NOW, CALENDAR.zone) == day


@pytest.mark.parametrize("typed", ["", "soon", "31 feb", "w", "2026-10-13"])
def test_what_is_no_day_to_come_is_refused(typed: str) -> None:
    with pytest.raises(Refused):
        day_to_come(typed, NOW, CALENDAR.zone)


def test_days_near_have_their_names() -> None:
    said = [day_words(one, TODAY) for one in (
        TODAY, date(2026, 10, 15), date(2026, 10, 16), date(2026, 10, 22), date(2025, 3, 3),
    )]  # fmt: skip
    assert said == ["today", "tomorrow", "Fri", "22 Oct", "3 Mar 2025"]


@pytest.mark.parametrize(
    "typed, kg", [("1.5 t", 1500), ("1,5t", 1500), ("1500 kg", 1500), ("1500", 1500), ("", None)]
)
def test_a_mass_is_read_in_tonnes_or_kilograms(typed: str, kg: float | None) -> None:
    assert mass(typed) == kg


@pytest.mark.parametrize("typed", ["heavy", "1.5", "90 t", "12 stone"])
def test_what_weighs_no_vehicle_is_refused(typed: str) -> None:
    with pytest.raises(Refused, match=r"like 1\.5 t"):
        mass(typed)
