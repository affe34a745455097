"""How figures and instants are written."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.edges.tables.cells import LEVELS, SCORED, exact, instant, of_dates, of_hours, rounded

figures = st.floats(min_value=5e-324, max_value=1e15, allow_nan=False)


@dataclass
class Forecast:
    """A row of both formats."""

    quantiles: list[float]
    mean: float = 2.5
    job: str = "2417"
    template: str = "CL"
    variant: str = "B4-M-F"
    phase: str = "*"
    seq: int = 0
    moment: str = "booked"
    as_of: float = 1791957600.0
    book_hours: float = 2.0
    actual_hours: float = 0.1 + 0.2
    open_hours: float = 12.25
    naive: float = 0.0


def test_the_columns_of_scored_are_those_agreed() -> None:
    assert ",".join(SCORED) == (
        "job,template,variant,phase,seq,moment,as_of,book_hours,actual_hours,mean,q05,q10,q15,q20,"
        "q25,q30,q35,q40,q45,q50,q55,q60,q65,q70,q75,q80,q85,q90,q95"
    )


def test_a_line_of_each_format() -> None:
    row = Forecast([0.5 + 0.25 * n for n in range(19)])
    cells = of_hours(row)
    assert cells[:11] == [
        "2417", "CL", "B4-M-F", "*", "0", "booked", "2026-10-14T06:00:00+00:00", "2",
        "0.30000000000000004", "2.500000", "0.500000",
    ]  # fmt: skip
    assert len(cells) == len(SCORED)
    cells = of_dates(row)
    assert cells[:6] == [
        "2417",
        "0",
        "booked",
        "2026-10-14T06:00:00+00:00",
        "12.250000",
        "2.500000",
    ]
    assert cells[-1] == "0.000000"


@given(figures)
def test_figures_have_no_exponent_and_four_decimals_or_all(value: float) -> None:
    assert float(exact(value)) == value
    for shown in (exact(value), rounded(value)):
        assert set(shown) <= set("0123456789.")
        assert float(shown) > 0
    assert abs(float(rounded(value)) - value) <= max(5.1e-7, 1e-15 * value)


@given(st.lists(figures, min_size=19, max_size=19))
def test_quantiles_never_fall_once_written(quantiles: list[float]) -> None:
    cells = of_hours(Forecast(sorted(quantiles)))[-len(LEVELS) :]
    written = [float(one) for one in cells]
    assert written == sorted(written)
    assert written[0] > 0


def test_a_last_digit_of_floating_point_is_put_right() -> None:
    quantiles = [1.0] * 18 + [1.0 - 2e-16]
    assert of_hours(Forecast(quantiles))[-1] == "1.000000"


@pytest.mark.parametrize(
    "quantiles", [[1.0] * 18, [0.0] + [1.0] * 18, [1.0] * 18 + [float("nan")], [float("inf")] * 19]
)
def test_what_is_no_forecast_is_not_written(quantiles: list[float]) -> None:
    with pytest.raises(ValueError, match=r"no forecast|not above"):
        of_hours(Forecast(quantiles))


def test_a_finish_may_lie_no_open_hour_ahead() -> None:
    assert of_dates(Forecast([0.0] * 19, mean=0.0))[6] == "0.000000"


def test_instants_carry_their_offset() -> None:
    assert instant(1791957600.25) == "2026-10-14T06:00:00.250000+00:00"
