"""Searching by typing: every word typed must begin a word of what is looked for, in any order."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import TypeVar

T = TypeVar("T")
_WORD = re.compile(r"[^\W_]+")


def folded(text: str) -> str:
    """Lower case without accents: `Citroen` finds what was written with a diaeresis."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


@lru_cache(maxsize=20_000)
def words_of(text: str) -> tuple[str, ...]:
    """The words of a text, and what stands between two blanks without its signs: `AB-12-C` is
    found by `ab12c` too."""
    plain = folded(text)
    glued = ("".join(_WORD.findall(part)) for part in plain.split())
    return tuple(dict.fromkeys((*_WORD.findall(plain), *(word for word in glued if word))))


def matches(typed: str, text: str) -> bool:
    """Whether each word typed begins a word of the text; nothing typed matches all."""
    there = words_of(text)
    return all(
        any(word.startswith(wanted) for word in there)
        for wanted in ("".join(_WORD.findall(part)) for part in folded(typed).split())
        if wanted
    )


def matching(typed: str, things: Sequence[T], text_of: Callable[[T], str]) -> list[T]:
    """The things whose text matches, in their order."""
    return [thing for thing in things if matches(typed, text_of(thing))]
