"""Dates as iCalendar, read by an independent library (icalendar), and by RFC 5545 itself."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from store.views.dates import Dated, Dates, dates
from tests.store.actions.made import World
from tui.papers.ics import FOLD, escaped, folded, ics_of

AT = datetime(2026, 10, 14, 8, 40, tzinfo=UTC)


def _one(title: str, when: datetime | date = AT, note: str = "") -> Dates:
    return Dates("s-1", "Made", AT, (Dated("promise", "promise-7", when, title, note,
                                           timedelta(hours=2)),))  # fmt: skip


def _read(found: Dates, name: str) -> list[Any]:
    """Parts of that name, as the library reads them."""
    calendar: Any = Calendar.from_ical(ics_of(found))
    return list(calendar.walk(name))


def test_text_is_escaped_as_the_standard_says() -> None:
    # RFC 5545, 3.3.11: BACKSLASH, COMMA, SEMICOLON behind a BACKSLASH; COLON is not.
    assert escaped("Project XYZ Final Review, Conference Room - 3B; a\\b: c") == (
        "Project XYZ Final Review\\, Conference Room - 3B\\; a\\\\b: c"
    )


def test_lines_are_folded_at_75_octets_before_a_blank() -> None:
    # RFC 5545, 3.1: "Lines of text SHOULD NOT be longer than 75 octets, excluding the line break";
    # a fold is CRLF and one white space; unfolding takes both away.
    line = "DESCRIPTION:This is a long description that exists on a long line, longer than fits."
    pieces = list(folded(line))
    assert len(pieces) == 2
    assert len(pieces[0]) == FOLD
    assert pieces[1].startswith(" ")
    assert "".join([pieces[0], *(one[1:] for one in pieces[1:])]) == line


@given(st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=300))
def test_folding_cuts_no_sign_and_loses_none(text: str) -> None:
    pieces = list(folded(f"SUMMARY:{text}"))
    assert all(len(one.encode()) <= FOLD for one in pieces)
    assert pieces[0] + "".join(one[1:] for one in pieces[1:]) == f"SUMMARY:{text}"


@given(st.text(st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp", "Cf", "Co", "Cn", "Zs")),
               min_size=1, max_size=200))  # fmt: skip
def test_what_was_written_is_what_a_library_reads(title: str) -> None:
    event = _read(_one(title), "VEVENT")[0]
    assert str(event["SUMMARY"]) == title


def test_instants_are_utc_and_days_are_days() -> None:
    text = ics_of(_one("x"))
    assert "DTSTART:20261014T084000Z\r\n" in text  # 3.3.5, form 2
    assert "DTSTART;VALUE=DATE:20261014\r\n" in ics_of(_one("x", date(2026, 10, 14)))  # 3.3.4
    event = _read(_one("x"), "VEVENT")[0]
    assert event.decoded("DTSTART") == AT
    assert event.decoded("DTSTAMP") == AT
    day = _read(_one("x", date(2026, 10, 14)), "VEVENT")[0]
    assert day.decoded("DTSTART") == date(2026, 10, 14)
    assert str(day["TRANSP"]) == "TRANSPARENT"


def test_an_alarm_goes_off_before_its_time() -> None:
    alarm = _read(_one("x"), "VALARM")[0]
    assert alarm.decoded("TRIGGER") == -timedelta(hours=2)
    assert str(alarm["ACTION"]) == "DISPLAY"  # 3.6.6: such an alarm has a DESCRIPTION
    assert str(alarm["DESCRIPTION"]) == "x"


def test_what_every_calendar_must_have() -> None:
    # RFC 5545: 3.6 PRODID and VERSION once; 3.6.1 UID and DTSTAMP in every event; a component at
    # least, even where nothing is due.
    for found in (_one("x"), Dates("s-1", "Made", AT)):
        text = ics_of(found)
        assert text.endswith("END:VCALENDAR\r\n")
        assert "\n" not in text.replace("\r\n", "")
        calendar: Any = Calendar.from_ical(text)
        assert str(calendar["VERSION"]) == "2.0"
        assert str(calendar["PRODID"])
        assert calendar.subcomponents
        assert not calendar.errors


def test_the_dates_of_a_shop_are_read_whole_and_name_no_customer(busy: World) -> None:
    found = dates(busy.shop, busy.now)
    text = ics_of(found)
    events = _read(found, "VEVENT")
    assert len(events) == len(found.dates)
    kinds = {one.kind for one in found.dates}
    assert {"promise", "inspection", "follow-up"} <= kinds
    assert "Kim" not in text
    uids = [str(one["UID"]) for one in events]
    assert len(set(uids)) == len(uids)
    later = dates(busy.shop, busy.now + timedelta(minutes=5))
    assert [str(one["UID"]) for one in _read(later, "VEVENT")] == uids


@pytest.mark.parametrize("kind", ["promise", "arrival", "hire", "outwork", "chase"])
def test_each_kind_that_the_busy_shop_has_says_which_job_or_kit(busy: World, kind: str) -> None:
    for one in dates(busy.shop, busy.now).dates:
        if one.kind == kind:
            assert one.title
            assert one.thing.startswith(kind)
