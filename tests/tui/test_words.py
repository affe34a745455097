from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tui import words
from tui.words import Chance, chance, cut, initials, settled, wrapped, zone_of

BERLIN = zone_of("Europe/Berlin")
NOW = datetime(2026, 10, 14, 8, 40, tzinfo=UTC)
CHANCES = st.floats(0, 1)
TEXTS = st.text(max_size=60)


def test_hours_are_tenths_and_never_minus_nought() -> None:
    assert words.hours(1.44) == "1.4 h"
    assert words.hours(-0.04) == "0.0 h"
    assert words.tenth(12) == "12.0"


@pytest.mark.parametrize(
    "amount, said",
    [(210, "210"), (38.5, "38.50"), (1250, "1,250"), (0, "0"), (1234.567, "1,234.57")],
)
def test_money_drops_empty_cents(amount: float, said: str) -> None:
    assert words.money(amount) == said


def test_elapsed_is_hours_and_minutes_and_never_negative() -> None:
    assert words.elapsed(NOW - timedelta(minutes=72, seconds=59), NOW) == "1:12"
    assert words.elapsed(NOW - timedelta(hours=26), NOW) == "26:00"
    assert words.elapsed(NOW + timedelta(hours=1), NOW) == "0:00"


def test_instants_are_said_in_the_shops_zone() -> None:
    assert words.moment(NOW, BERLIN) == "Wed 14 Oct  10:40"
    assert words.day_date(datetime(2026, 10, 14, 22, 30, tzinfo=UTC), BERLIN) == "Thu 15"
    assert words.time(NOW, zone_of("America/Los_Angeles")) == "01:40"


@pytest.mark.parametrize(
    "away, said",
    [
        (timedelta(0), "Wed 10:40"),
        (timedelta(days=1, hours=1, minutes=20), "Thu 12:00"),
        (timedelta(days=-5), "Fri 10:40"),
        (timedelta(days=6), "20 Oct 10:40"),
        (timedelta(days=400), "18 Nov 2027 09:40"),
    ],
)
def test_a_day_is_named_while_its_name_is_plain(away: timedelta, said: str) -> None:
    assert words.day_time(NOW + away, BERLIN, NOW) == said


def test_when_a_lift_frees_says_the_day_once() -> None:
    later = NOW + timedelta(minutes=35)
    assert words.out_by(NOW, later, BERLIN, NOW) == "out Wed 10:40, by 11:15"
    next_day = NOW + timedelta(days=1)
    assert words.out_by(NOW, next_day, BERLIN, NOW) == "out Wed 10:40, by Thu 10:40"
    assert words.out_by(NOW, NOW, BERLIN, NOW) == "out Wed 10:40"


@pytest.mark.parametrize(
    "keeping, word, tenths, role",
    [
        (1.0, "safe", "", "ahead"), (0.95, "safe", "", "ahead"),
        (0.949, "likely", "9 in 10", "ahead"), (0.75, "likely", "8 in 10", "ahead"),
        (0.749, "more likely than not", "7 in 10", "text"),
        (0.55, "more likely than not", "6 in 10", "text"),
        (0.549, "a coin toss", "5 in 10", "behind"), (0.35, "a coin toss", "4 in 10", "behind"),
        (0.349, "doubtful", "3 in 10", "behind"), (0.15, "doubtful", "2 in 10", "behind"),
        (0.149, "will break", "1 in 10", "blocked"),
        (0.049, "will break", "under 1 in 10", "blocked"),
        (0.0, "will break", "under 1 in 10", "blocked"),
    ],
)  # fmt: skip
def test_chances_have_their_words(keeping: float, word: str, tenths: str, role: str) -> None:
    said = chance(keeping)
    assert (said.word, said.tenths, said.role) == (word, tenths, role)


@given(CHANCES)
def test_word_and_tenths_never_disagree(keeping: float) -> None:
    said = chance(keeping)
    again = chance(said.step / 10)
    assert said == again
    assert abs(said.step / 10 - keeping) <= 0.0500001


@given(CHANCES, CHANCES)
def test_a_live_word_stays_until_the_chance_is_clear_of_the_border(
    before: float, keeping: float
) -> None:
    shown = settled(chance(before), keeping)
    off = abs(chance(before).step / 10 - keeping)
    assert shown == (chance(before) if off < 0.0699999 else chance(keeping)) or off < 0.0700001


def test_a_chance_on_the_border_does_not_flicker() -> None:
    shown: list[Chance] = [settled(None, 0.56)]
    for keeping in (0.549, 0.551, 0.54, 0.55, 0.531):
        shown.append(settled(shown[-1], keeping))
    assert {each.word for each in shown} == {"more likely than not"}
    assert settled(shown[-1], 0.52).word == "a coin toss"


@given(TEXTS, st.integers(0, 40))
def test_cut_text_fits_and_keeps_what_fits(text: str, width: int) -> None:
    assert cell_len(cut(text, width)) <= width
    if cell_len(words.plain(text)) <= width:
        assert cut(text, width) == words.plain(text)


def test_cut_text_says_that_it_was_cut() -> None:
    assert cut("gearbox out", 8) == "gearbox…"
    assert cut("gearbox out", 9) == "gearbox…"
    assert cut("gearbox out", 8, ".") == "gearbox."
    assert cut("変速機を外す", 6) == "変速…"
    assert cut("abc", 0) == ""


def test_text_from_people_cannot_move_the_cursor() -> None:
    assert cut("one\ttwo\n\x1b[31mred", 40) == "one two  [31mred"


@given(TEXTS, st.integers(1, 30))
def test_wrapped_lines_fit(text: str, width: int) -> None:
    assert all(cell_len(line) <= width for line in wrapped(text, width))


@pytest.mark.parametrize(
    "names, said", [([], ""), (["Ines"], "Ines"), (["Ines", "Olu", "Per"], "Ines, Olu and Per")]
)
def test_names_are_listed(names: list[str], said: str) -> None:
    assert words.listed(names) == said


def test_four_people_are_counted() -> None:
    assert words.joined(["TO", "OL"]) == "TO+OL"
    assert words.joined(["TO", "OL", "IN", "PE"]) == "TO+3"
    assert words.joined([]) == ""


def test_initials_tell_people_apart() -> None:
    assert initials(["Ines Holm", "Ingrid", "Inka Berg", "Tomas"]) == ["IN", "IG", "IB", "TO"]


@given(st.lists(TEXTS, max_size=40))
def test_no_two_people_have_the_same_initials(names: list[str]) -> None:
    found = initials(names)
    assert len(set(found)) == len(names)
    assert all(len(pair) == 2 for pair in found)
