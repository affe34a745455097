"""Forms: what was typed stays until it is answered or left; nothing gets past a question."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.parts.keyline import ENTER, ESC, IDLE, KeyLine, Pressed
from tui.parts.prompt import Field, Option, Prompt
from tui.parts.talk import LONGEST, Back, SignedOff, Talk, edited
from tui.parts.when import number


class Stage:
    """A talk with keys laid ready, and every prompt that it showed."""

    def __init__(self, *keys: Pressed | str) -> None:
        self.line = KeyLine()
        self.shown: list[Prompt | None] = []
        self.talk = Talk(self.line, self.shown.append)
        for key in keys:
            if isinstance(key, Pressed):
                self.line.put(key)
            else:
                for letter in key:
                    self.line.put(Pressed(letter, letter))


YES_NO = (Option("1", "yes"), Option("2", "no", hot=True))


async def test_a_pick_takes_its_keys_and_passes_over_all_others() -> None:
    assert await Stage("x", "9", "1").talk.pick("?", YES_NO) == "1"
    assert await Stage(ENTER).talk.pick("?", YES_NO) == "2"


@pytest.mark.parametrize("key", [ESC, Pressed("0", "0")])
async def test_a_pick_is_left_with_esc_or_nought(key: Pressed) -> None:
    stage = Stage(key)
    with pytest.raises(Back):
        await stage.talk.pick("?", YES_NO)
    assert stage.shown[-1] is None


async def test_a_wrong_answer_is_explained_and_stays_to_be_mended() -> None:
    stage = Stage("1.x", ENTER, Pressed("backspace"), "5", ENTER)
    assert await stage.talk.type("?", "mm", number) == 1.5
    wrong = [one.wrong for one in stage.shown if one is not None and one.wrong]
    assert wrong == ["! 1.x is no number. Type one like 0.15."]


async def test_a_secret_is_never_shown_and_begins_anew_when_it_was_wrong() -> None:
    stage = Stage("12", ENTER, "3", ENTER)
    answers = iter((False, True))

    def read(text: str) -> str:
        if not next(answers):
            number("wrong")
        return text

    assert await stage.talk.type("?", "PIN", read, secret=True) == "3"
    assert all(one.field.secret for one in stage.shown if one is not None and one.field)


async def test_a_long_silence_leaves_every_form() -> None:
    with pytest.raises(SignedOff):
        await Stage("ab", IDLE).talk.type("?", "text", str)


async def test_what_cannot_be_undone_takes_enter_alone() -> None:
    stage = Stage("y", "1", ENTER)
    await stage.talk.sure("close?", "close it", "keep it")
    with pytest.raises(Back):
        await Stage("y", ESC).talk.sure("close?", "close it", "keep it")


MOVES = st.sampled_from(["left", "right", "home", "end", "backspace", "delete", "up", "tab"])


@given(st.lists(st.one_of(st.text(max_size=3), MOVES), max_size=40))
def test_a_field_stays_whole_whatever_is_pressed(keys: list[str]) -> None:
    field = Field("text")
    for key in keys:
        known = len(key) > 1 and key.isalpha() and key.isascii() and key.islower()
        field = edited(field, Pressed(key) if known else Pressed(key, key))
        assert 0 <= field.at <= len(field.text) <= LONGEST
        assert field.text.isprintable()


async def test_a_paste_is_text_and_its_line_ends_are_enter() -> None:
    line = KeyLine()
    line.paste("B12\r\nx")
    assert [await line.get() for _ in range(3)] == [
        Pressed("text", "B12"), ENTER, Pressed("text", "x")
    ]  # fmt: skip
