"""Whether a free text names somebody outside the shop: what the ledger is told stays for ever."""

from __future__ import annotations

import re

LEAST_DIGITS = 6
"""Of a telephone number: shorter ones are hours, sizes and torques."""
MOST_DIGITS = 8
LEAST_LETTERS = 3
WORD = re.compile(r"[^\W\d_][\w'’-]*")


def names(text: str, name: str, telephone: str) -> bool:
    """Tell whether a text holds a person's name, a word of it written as a name, or the number.

    A word counts with its capital, so that a customer called Brown does not forbid brown deposits.
    """
    said = " ".join(text.casefold().split())
    whole = " ".join(name.casefold().split())
    if whole and whole in said:
        return True
    own = {one for one in WORD.findall(name) if len(one) >= LEAST_LETTERS and one[0].isupper()}
    spoken = {word for one in WORD.findall(text) for word in (one, one.removesuffix("'s"))}
    if own & spoken or {one.upper() for one in own} & spoken:
        return True
    number = _digits(telephone)
    return len(number) >= LEAST_DIGITS and _core(number) in _digits(text)


def _digits(text: str) -> str:
    return "".join(sign for sign in text if sign.isdecimal())


def _core(number: str) -> str:
    """The end of a number, which is the same from the same town and from abroad."""
    return number.lstrip("0")[-MOST_DIGITS:]
