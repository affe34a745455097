"""What a field can hold, and what is said of one that cannot."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from store.edges.tables.fields import day, flag, hours, instant, one_of, text, texts, whole
from store.edges.tables.rows import Bad

BERLIN = ZoneInfo("Europe/Berlin")


def seconds(*when: int) -> float:
    """POSIX seconds of an instant of UTC."""
    year, month, date, hour, minute, second = (*when, 0, 0, 0)[:6]
    return datetime(year, month, date, hour, minute, second, tzinfo=UTC).timestamp()


@pytest.mark.parametrize(
    "written, value", [("2.5", 2.5), ("2", 2), (".5", 0.5), ("2.", 2), ("+1.25e1", 12.5)]
)
def test_hours_are_decimal(written: str, value: float) -> None:
    assert hours(comma=False)(written) == value


@pytest.mark.parametrize(
    "written",
    ["0", "-1", "nan", "inf", "1e400", "1e-400", "1_000", "2,5", "1:30", "٢", "2.5 h", "1e7"],
)
def test_what_is_no_length_of_work_is_refused(written: str) -> None:
    with pytest.raises(Bad, match=r"write hours"):
        hours(comma=False)(written)


def test_a_comma_stands_for_the_point_where_it_parts_no_fields() -> None:
    assert hours(comma=True)("2,5") == hours(comma=True)("2.5") == 2.5
    with pytest.raises(Bad):
        hours(comma=True)("1.234,5")


def test_nothing_found_is_a_figure_too_where_it_can_be() -> None:
    assert hours(comma=False, zero=True)("0") == 0
    with pytest.raises(Bad):
        hours(comma=False, zero=True)("-1")


def test_whole_numbers_may_come_out_of_a_spreadsheet() -> None:
    read = whole(1, 4, "a grade")
    assert [read(one) for one in ("1", "4", "3.0", "2,00", "+1")] == [1, 4, 3, 2, 1]
    for wrong in ("0", "5", "2.5", "-1", "x", "²", "1e0", "9999999999"):
        with pytest.raises(Bad, match="is not a grade"):
            read(wrong)


def test_choices_and_flags() -> None:
    assert one_of("strip", "work")("work") == "work"
    assert (flag("1"), flag("0"), flag("1.0")) == (True, False, True)
    with pytest.raises(Bad, match="is none of strip, work"):
        one_of("strip", "work")("Work")
    with pytest.raises(Bad, match="is not 1 or 0"):
        flag("yes")


# ISO 8601 as RFC 3339, section 5.8 shows it, and with other offsets
@pytest.mark.parametrize(
    "written, at",
    [
        ("1985-04-12T23:20:50.52Z", seconds(1985, 4, 12, 23, 20, 50) + 0.52),
        ("1996-12-19T16:39:57-08:00", seconds(1996, 12, 20, 0, 39, 57)),
        ("2026-10-14 10:40+02:00", seconds(2026, 10, 14, 8, 40)),
        ("20261014T1040+0200", seconds(2026, 10, 14, 8, 40)),
    ],
)
def test_instants_are_read_with_any_offset(written: str, at: float) -> None:
    assert instant(None)(written) == at
    assert instant(BERLIN)(written) == at


@pytest.mark.parametrize("written", ["2026-10-14T10:40", "2026-10-14 10:40:00", "20261014T1040"])
def test_without_offset_a_zone_must_be_said(written: str) -> None:
    with pytest.raises(Bad, match="--zone"):
        instant(None)(written)
    assert instant(BERLIN)(written) == seconds(2026, 10, 14, 8, 40)


@pytest.mark.parametrize(
    "written", ["14.10.2026 10:40", "2026-10-14", "2026-13-01T00:00Z", "0001-01-01T00:00Z", "now"]
)
def test_what_is_no_instant_is_refused(written: str) -> None:
    with pytest.raises(Bad):
        instant(BERLIN)(written)


def test_a_local_time_that_is_skipped_is_refused() -> None:
    with pytest.raises(Bad, match="skipped"):
        instant(BERLIN)("2026-03-29T02:30")


def test_a_day_begins_and_ends_at_midnight_of_the_zone() -> None:
    assert day(BERLIN)("2026-10-25") == seconds(2026, 10, 24, 22)
    assert day(BERLIN, end=True)("2026-10-25") == seconds(2026, 10, 25, 23)
    assert day(None)("2026-10-25") == seconds(2026, 10, 25)
    assert day(None)("2026-10-25T10:00Z") == seconds(2026, 10, 25, 10)
    with pytest.raises(Bad):
        day(None)("25.10.2026")


def test_texts_are_one_line_of_signs() -> None:
    assert text("Ö’Brien\u00a0& co") == "Ö’Brien\u00a0& co"
    assert texts("CL + CH+") == ("CL", "CH")
    for wrong in ("a\nb", "a\x00", "\u202eab", "\u2028"):
        with pytest.raises(Bad, match="cannot be shown"):
            text(wrong)
    with pytest.raises(Bad, match="no UTF-8"):
        text("a\udcff")
    with pytest.raises(Bad, match="longer than"):
        text("x" * 201)
