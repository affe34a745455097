"""A scanner among hands: a code is whole or nothing, and nobody's key is lost for it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.codes import LETTERS, MARK, Code, read, written
from tui import keys
from tui.parts.keyline import ENTER, ESC, IDLE, KeyLine, Pressed
from tui.parts.pressed import scan
from tui.parts.prompt import Field
from tui.parts.scan import (
    FORGOTTEN,
    FORGOTTEN_AFTER_S,
    HALF,
    SAID_AFTER_S,
    UNREAD,
    WRONG,
    Catcher,
    pasted,
    split_off,
)
from tui.parts.talk import edited

TAB = Pressed("tab")
STEP = Code("step", "1001.2.4")
BADGE = Code("badge", "B12")
PAUSE, LONG_PAUSE = Pressed("pause"), Pressed("long pause")
"""No keys: a stall of some seconds, and one of more than half a minute."""


def typed(text: str) -> list[Pressed]:
    """A text as a scanner or hands type it."""
    return [TAB if one == MARK else ENTER if one == "\r" else Pressed(one, one) for one in text]


def printed(code: Code) -> list[Pressed]:
    """What a scanner sends of a code."""
    return typed(f"{MARK}{written(code)}\r")


def taken(*keys_in: Pressed) -> list[Pressed]:
    """What the screens get of it."""
    catcher = Catcher()
    found: list[Pressed] = []
    for key in keys_in:
        found += step(catcher, key)
    return found


def step(catcher: Catcher, key: Pressed) -> list[Pressed]:
    """A key, or so much time that the catcher's patience ends, or does not."""
    if key not in (PAUSE, LONG_PAUSE):
        return catcher.take(key)
    found: list[Pressed] = []
    while catcher.patience == SAID_AFTER_S or (key is LONG_PAUSE and catcher.patience):
        found += catcher.silent()
    return found


def test_the_mark_is_no_key_of_any_screen_and_types_nothing() -> None:
    for table in (*keys.TABLES.values(), keys.FORM):
        assert not {"tab", "ctrl+i"} & {key for line in table for key in line.keys}
    assert edited(Field("text", "abc", 1), TAB) == Field("text", "abc", 1)


def test_a_code_is_one_key_and_what_is_pressed_around_it_stays() -> None:
    found = taken(*typed("12"), *printed(STEP), *typed("3"))
    assert found == [*typed("12"), scan(STEP), *typed("3")]


CODES = st.one_of(
    st.builds(Code, st.just("badge"), st.from_regex(r"[A-Z0-9]{1,8}", fullmatch=True)),
    st.builds(Code, st.just("step"), st.from_regex(r"[1-9]{1,4}\.[1-9]\.[1-9]", fullmatch=True)),
)


@given(st.lists(CODES, max_size=6), st.data())
def test_codes_are_whole_wherever_the_line_stalls(codes: list[Code], data: st.DataObject) -> None:
    sent: list[Pressed] = []
    for key in (key for code in codes for key in printed(code)):
        sent += [key, *[PAUSE] * data.draw(st.integers(0, 1))]
    found = [one for one in taken(*sent) if one not in (TAB, Pressed(HALF))]
    assert found == [scan(code) for code in codes]


@pytest.mark.parametrize("at", range(1, len(printed(STEP))))
def test_half_a_code_is_said_once_and_a_digit_is_a_digit_again(at: int) -> None:
    """The cable was pulled: a second later somebody is told, and the pad works at once."""
    half = printed(STEP)[:at]
    found = taken(*half, PAUSE, *typed("1"))
    assert found in ([Pressed(HALF), *typed("1")], [TAB, *typed("1")], [Pressed(HALF), *half,
                                                                       *typed("1")])  # fmt: skip
    assert found[-1] == Pressed("1", "1")


def test_the_next_scan_after_half_a_code_is_whole() -> None:
    half = printed(STEP)[:6]
    assert taken(*half, *printed(BADGE)) == [Pressed(HALF), scan(BADGE)]
    assert taken(*half, PAUSE, *printed(BADGE)) == [Pressed(HALF), scan(BADGE)]


def test_a_badge_typed_by_hand_after_half_a_code_is_typed_whole() -> None:
    found = taken(*printed(STEP)[:6], PAUSE, *typed("B13\r"))
    assert found == [Pressed(HALF), *typed("B13\r")]


def test_esc_forgets_half_a_code_and_does_nothing_else() -> None:
    half = printed(STEP)[:6]
    assert taken(*half, PAUSE, ESC, ESC) == [Pressed(HALF), Pressed(FORGOTTEN), ESC]
    assert taken(*half, ESC, ESC) == [Pressed(HALF), ESC]


def test_half_a_code_is_forgotten_in_the_end() -> None:
    assert taken(*printed(STEP)[:6], LONG_PAUSE, *typed("n")) == [Pressed(HALF), *typed("n")]
    catcher = Catcher()
    assert catcher.patience is None
    for key in printed(STEP)[:6]:
        catcher.take(key)
    assert catcher.patience == SAID_AFTER_S
    catcher.silent()
    assert catcher.patience == FORGOTTEN_AFTER_S
    catcher.silent()
    assert catcher.patience is None


def test_a_code_that_does_not_check_is_swallowed_whole_and_said() -> None:
    letters = written(STEP)
    for at in range(2, len(letters)):
        wrong = letters[:at] + ("B" if letters[at] != "B" else "C") + letters[at + 1 :]
        assert taken(*typed(f"{MARK}{wrong}\r")) == [Pressed(WRONG)]
    assert taken(*typed(f"{MARK}{letters[:4]}#1{letters[4:]}\r")) == [Pressed(WRONG)]


def test_a_person_who_presses_tab_loses_nothing() -> None:
    for text in ("\t1", "\t\t4", "\tHead gasket\r", "\thub 0.12\r", "\tb\r", "\t\r"):
        sent = typed(text)
        assert taken(*sent) == sent
        assert taken(*[one for key in sent for one in (key, PAUSE)][:-1])[-1] == sent[-1]


def test_a_scanner_may_end_with_tab_and_send_the_mark_as_ctrl_i() -> None:
    letters = written(BADGE)
    assert taken(*typed(f"{MARK}{letters}{MARK}"), *printed(STEP)) == [scan(BADGE), scan(STEP)]
    assert taken(Pressed("ctrl+i"), *typed(letters), Pressed("ctrl+j")) == [scan(BADGE)]


def test_a_code_that_came_without_enter_waits_for_it() -> None:
    whole = printed(BADGE)[:-1]
    assert taken(*whole, PAUSE, ENTER) == [Pressed(HALF), scan(BADGE)]


def test_capitals_that_are_locked_turn_a_code_over_and_it_holds() -> None:
    assert taken(*typed(f"{MARK}{written(STEP).lower()}\r")) == [scan(STEP)]


def test_a_long_silence_and_arrows_break_a_code_off() -> None:
    half = printed(STEP)[:6]
    assert taken(*half, IDLE) == [Pressed(HALF), IDLE]
    assert taken(*half, Pressed("up")) == [Pressed(HALF), Pressed("up")]


def test_a_scanner_gone_mad_ends_with_its_enter() -> None:
    assert taken(*typed(f"{MARK}HJ{'B' * 5000}\r1")) == [Pressed(WRONG), *typed("1")]


ANYTHING = st.one_of(
    st.sampled_from([TAB, ENTER, ESC, PAUSE, LONG_PAUSE, Pressed("up"), Pressed("F1"), IDLE]),
    st.sampled_from([*LETTERS, "h", "1", "."]).map(lambda one: Pressed(one, one)),
)


@given(st.lists(ANYTHING, max_size=40))
def test_only_checked_codes_are_scans_and_nothing_is_kept_for_ever(sent: list[Pressed]) -> None:
    catcher = Catcher()
    for key in sent:
        for one in step(catcher, key):
            assert one.code is None or read(written(one.code)) == one.code
    while catcher.patience is not None:
        catcher.silent()
    assert catcher.take(Pressed("1", "1")) == [Pressed("1", "1")]


@given(st.lists(ANYTHING.filter(lambda key: key != TAB), max_size=40))
def test_without_a_mark_every_key_goes_on_at_once(sent: list[Pressed]) -> None:
    hands = [key for key in sent if key not in (PAUSE, LONG_PAUSE)]
    assert taken(*hands) == hands


def test_every_unread_code_is_said_in_words() -> None:
    assert set(UNREAD) == {HALF, WRONG, FORGOTTEN}


# -- pastes, and letters without their mark


@pytest.mark.parametrize("end", ["", "\r", "\r\n", "\n"])
async def test_a_paste_of_a_code_is_a_scan(end: str) -> None:
    line = KeyLine()
    line.paste(f"{MARK}{written(STEP)}{end}")
    line.put(ESC)
    assert [await line.get(), await line.get()] == [scan(STEP), ESC]


async def test_codes_and_text_pasted_together_stay_apart() -> None:
    line = KeyLine()
    line.paste(f"worn{MARK}{written(BADGE)}\r{MARK}{written(STEP)}\r1\tx")
    found = [await line.get() for _ in range(4)]
    assert found == [Pressed("text", "worn"), scan(BADGE), scan(STEP), Pressed("text", "1\tx")]


@given(st.text(max_size=20))
def test_a_code_ends_a_typed_line_or_it_is_text(text: str) -> None:
    before, code = split_off(text)
    assert code is not None or before == text
    assert split_off(f"{text.strip()} {written(STEP)}")[1] == STEP
    assert pasted(text)[0] == text or pasted(text)[1] is not None


async def test_a_key_laid_before_the_others_comes_first() -> None:
    line = KeyLine()
    line.put(ESC)
    line.again(scan(STEP))
    assert not line.quiet
    assert [await line.get(), await line.get()] == [scan(STEP), ESC]


def test_of_an_endless_text_only_its_end_is_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[str] = []

    def seen(letters: str) -> Code | None:
        looked.append(letters)
        return read(letters)

    monkeypatch.setattr("tui.parts.scan.read", seen)
    endless = "H" * 100_000
    assert split_off(endless) == (endless, None)
    assert len(looked) < 100
    code = Code("phase", "1001.2")
    assert split_off(endless + written(code)) == (endless, code)
