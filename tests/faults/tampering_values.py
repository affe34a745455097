"""Another value in the place of one, as somebody with a tool and bad intent would write it."""

from __future__ import annotations

import json
import math
import unicodedata
from collections.abc import Callable
from contextlib import suppress
from random import Random

Value = str | int | float | bytes | None


def another(dice: Random, value: Value) -> Value:
    """A value that is not the same, often by very little: to read, not to the byte."""
    found = value
    while type(found) is type(value) and found == value:
        match value:
            case None:
                found = dice.choice(("x", 0, 1.5))
            case bool() | int():
                found = dice.choice((value + 1, value - 1, -value, value * 10, 2**62, 0))
            case float():
                found = dice.choice(
                    (math.nextafter(value, math.inf), -value, value * 10, 0.0, 1e308)
                )
            case bytes():
                found = _one_bit(dice, value)
            case str():
                found = dice.choice(TEXTS)(dice, value)
    return found


def _one_bit(dice: Random, value: bytes) -> bytes:
    at = dice.randrange(len(value))
    return value[:at] + bytes([value[at] ^ 1 << dice.randrange(8)]) + value[at + 1 :]


def _one_sign(dice: Random, text: str) -> str:
    at = dice.randrange(len(text) + 1)
    return text[:at] + dice.choice("0aZ é\u202e\0") + text[at + 1 :]


def _other_form(dice: Random, text: str) -> str:
    return unicodedata.normalize(dice.choice(("NFC", "NFD", "NFKC")), text)


def _like_it(_: Random, text: str) -> str:
    """Letters of another script that look the same."""
    return text.translate(str.maketrans("aeopcxAB", "аеорсхАВ"))


def _same_json(dice: Random, text: str) -> str:
    """JSON of the same meaning."""
    with suppress(ValueError):
        read = json.loads(text)
        return dice.choice((
            json.dumps(read), json.dumps(read, separators=(",", ":"), ensure_ascii=True),
            text.replace("{", "{ ", 1), text + "\n", _decimals(text),
        ))  # fmt: skip
    return text


def _decimals(text: str) -> str:
    """Whole numbers written with a nought behind the point."""
    return json.dumps(
        json.loads(text, parse_int=float), separators=(",", ":"), ensure_ascii=False
    )  # fmt: skip


def _other_length(dice: Random, text: str) -> str:
    return dice.choice((f"{text} ", f" {text}", text[:-1], text + text, f"{text}\u200b"))


def _other_spelling(dice: Random, text: str) -> str:
    return dice.choice((text.swapcase(), text.replace("+00:00", "Z"), text[::-1]))


TEXTS: tuple[Callable[[Random, str], str], ...] = (
    _one_sign, _one_sign, _other_length, _other_spelling, _other_form, _like_it, _same_json,
    _same_json,
)  # fmt: skip
