"""Searching by typing: every word typed must begin a word of what is looked for, in any order."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

T = TypeVar("T")
_WORD = re.compile(r"[^\W_]+")


def folded(text: str) -> str:
    """Lower case without accents: `Citroen` finds what was written with a diaeresis."""
    if text.isascii():
        return text.lower()
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


def words_of(text: str) -> tuple[str, ...]:
    """The words of a text, and what stands between two blanks without its signs: `AB-12-C` is
    found by `ab12c` too."""
    plain = folded(text)
    glued = ("".join(_WORD.findall(part)) for part in plain.split())
    return tuple(dict.fromkeys(word for word in (*_WORD.findall(plain), *glued) if word))


def index(things: Iterable[T], text_of: Callable[[T], str]) -> list[tuple[T, str]]:
    """The things, each with its words after blanks; made once, in a thread where they are many."""
    return [(one, "".join(f" {word}" for word in words_of(text_of(one)))) for one in things]


def among(typed: str, indexed: Sequence[tuple[T, str]]) -> list[T]:
    """The things of which each word typed begins a word, in their order; nothing typed is all."""
    glued = ("".join(_WORD.findall(part)) for part in folded(typed).split())
    wanted = [f" {word}" for word in glued if word]
    return [thing for thing, words in indexed if all(word in words for word in wanted)]


def matching(typed: str, things: Iterable[T], text_of: Callable[[T], str]) -> list[T]:
    """The same of things that are few."""
    return among(typed, index(things, text_of))
