"""The demo's story: what it makes of hours, day by day, and that it stands in the hours alone."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from demo.people import NOOR
from demo.story import NO_STORY, STORY, Learning, Story, Tool

DAY = date(2026, 5, 4)
ROOT = Path(__file__).parents[2]


def test_without_a_story_hours_are_what_they_are() -> None:
    assert NO_STORY.factor("TC2", "strip", "D4-M-R", NOOR.badge, DAY) == 1.0
    assert not NO_STORY.lets_lead(NOOR.badge, "PS-off", DAY)


def test_a_wrong_book_is_wrong_in_the_operation_s_own_phases_only() -> None:
    told = Story(books={"TC": 1.3})
    assert told.factor("TC2", "work", "S6-M-R", "B12", DAY) == 1.3
    assert told.factor("GB-off", "strip", "S6-M-R", "B12", DAY) == 1.0


def test_rust_hits_the_strip_of_its_family_only() -> None:
    told = Story(rust={"D4-M-R": 1.35})
    assert told.factor("GB-off", "strip", "D4-M-R", "B12", DAY) == 1.35
    assert told.factor("GB-on", "refit", "D4-M-R", "B12", DAY) == 1.0
    assert told.factor("GB-off", "strip", "D4-M-F", "B12", DAY) == 1.0


def test_a_tool_helps_from_its_first_day() -> None:
    told = Story(tools=(Tool("GB-on", DAY, 0.7),))
    factors = [told.factor("GB-on", "refit", "x", "B12", date(2026, 5, n)) for n in (3, 4, 5)]
    assert factors == [1.0, 0.7, 0.7]


def test_an_apprentice_gets_faster_in_equal_steps_and_then_keeps_the_pace() -> None:
    told = Learning("B23", date(2026, 1, 1), date(2026, 1, 11), 1.4, 0.9, frozenset({"PS-off"}))
    days = (date(2025, 12, 1), date(2026, 1, 1), date(2026, 1, 6), date(2026, 3, 1))
    assert [told.factor(day) for day in days] == pytest.approx([1.4, 1.4, 1.15, 0.9])
    story = Story(learning=(told,))
    assert [story.lets_lead("B23", "PS-off", day) for day in days] == [False, True, True, True]
    assert not story.lets_lead("B23", "GB-off", days[1])
    assert story.factor("PS-off", "strip", "x", "B12", days[1]) == 1.0


def test_the_demo_s_apprentice_goes_from_twice_a_skilled_hand_s_hours_to_a_sixth_more() -> None:
    one = STORY.learning[0]
    assert one.factor(one.since) * NOOR.pace[0] == pytest.approx(1.95, abs=0.02)
    assert one.factor(one.until) * NOOR.pace[0] == pytest.approx(1.17, abs=0.02)


def test_nothing_outside_the_demo_knows_the_story() -> None:
    knows = re.compile(r"\bdemo\.story\b|\bfrom demo import story\b")
    found = [
        path.relative_to(ROOT)
        for folder in ("store", "tui")
        for path in (ROOT / folder).rglob("*.py")
        if knows.search(path.read_text("utf-8"))
    ]
    assert not found
