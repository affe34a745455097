"""A work book of nonsense: faults in lines that can be shown, never anything else."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from store.edges.workbook.model import BadWorkBook, check, load
from store.trouble import Refused
from tui.settings import read_settings

STARTER = (Path(__file__).parents[3] / "demo" / "starter.toml").read_text("utf-8")
NAME, HOURS = 'name = "', "hours = "


def named(text: str) -> str:
    """The starter book with something put at the beginning of its name."""
    return STARTER.replace(NAME, NAME + text, 1)


def lasting(text: str) -> str:
    """The starter book with another number of hours."""
    return STARTER.replace(HOURS, f"{HOURS}{text} #", 1)


NONSENSE = {
    "lists too deep": ("a = " + "[" * 100_000, "too deep"),
    "tables too deep": ("a = " + "{a = " * 100_000, "too deep"),
    "a path too deep": (STARTER + ".".join("a" * 3000) + " = 1\n", "too deep"),
    "digits": ("name = " + "9" * 10_000, "too long"),
    "beyond a float, whole": (lasting("1" + "0" * 400), "too large"),
    "beyond a float": (lasting("1e309"), "not finite"),
    "infinite": (lasting("inf"), "not finite"),
    "below all": (lasting("-inf"), "not finite"),
    "no number": (lasting("nan"), "not finite"),
    "yes": (lasting("true"), "must be a number"),
    "a day": (lasting("2026-10-10"), "must be a number"),
    "no day": (lasting("2026-13-45"), "Put the brackets"),
    "an escape": (named("\\u001b[2J"), "cannot be shown"),
    "a code of C1": (named("\x9b2J"), "cannot be shown"),
    "a nul": (named("\\u0000"), "cannot be shown"),
    "turned": (named("\u202e"), "cannot be shown"),
    "a line": (named("\\n"), "cannot be shown"),
    "half a sign": (named("\\ud800"), "Put the brackets"),
    "a raw nul": (STARTER.replace("name", "na\0me", 1), "Put the brackets"),
    "long": (named("x" * 100_000), "longer than"),
    "two marks of order": ("\ufeff\ufeff" + STARTER, "Put the brackets"),
    "old lines": (STARTER.replace("\n", "\r"), "Put the brackets"),
    "twice": (STARTER + STARTER, "Put the brackets"),
    "a key that steers": (STARTER + '"\\u001b[31m" = 1\n', "no word of the work book"),
    "odds of thousands of digits": (
        STARTER + "[[operation.surprise]]\ncode = 'Q'\nphase = 'CL3'\ntext = 'q'\nhours = 1.0\n"
        f"odds = '{'1' + '0' * 400} in 1'\n", "must be odds",
    ),
}  # fmt: skip


@pytest.mark.parametrize("kind", sorted(NONSENSE))
def test_nonsense_in_a_book_is_named_in_a_line(kind: str) -> None:
    text, says = NONSENSE[kind]
    faults = check(text)
    assert any(says in one for one in faults), faults
    for one in faults:
        assert one.startswith("line "), one
        assert one.isprintable(), ascii(one)
        assert len(one) < 500, one
    with pytest.raises(BadWorkBook) as refused:
        load(text)
    assert str(refused.value).isprintable()


@pytest.mark.parametrize("kind", sorted(NONSENSE))
def test_nonsense_in_the_settings_is_named_in_a_line(kind: str) -> None:
    with pytest.raises(Refused) as refused:
        read_settings(NONSENSE[kind][0], Path("settings.toml"))
    assert str(refused.value).startswith("settings.toml, line ")
    assert str(refused.value).isprintable()


def test_a_mark_of_order_and_lines_of_another_system_are_no_faults() -> None:
    assert check("\ufeff" + STARTER) == ()
    assert check(STARTER.replace("\n", "\r\n")) == ()


BITS = st.sampled_from((
    "1e309", "nan", "-1", "9" * 30, '"', "'''", "[[", "]", "{", "}", "=", ".", ",", "\n", "\r",
    "#", "\0", "\u202e", "true", "2026-10-10", "\\u001b", "name", "hours", "-0", "1_0", "\ud800",
))  # fmt: skip
EDITS = st.lists(st.tuples(st.integers(0, len(STARTER)), st.integers(0, 30), BITS), max_size=4)


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(EDITS)
def test_a_spoilt_book_is_taken_or_named_in_lines_that_can_be_shown(
    edits: list[tuple[int, int, str]],
) -> None:
    text = STARTER
    for at, length, bit in edits:
        text = text[:at] + bit + text[at + length :]
    for one in check(text):
        assert one.startswith("line "), one
        assert one.isprintable(), ascii(one)
