"""What a line of text may hold to be shown anywhere: signs, and nothing that steers a terminal."""

from __future__ import annotations

import unicodedata

HIDDEN = ("Cc", "Cs", "Zl", "Zp")
"""Unicode's categories of control characters, halves of signs, and breaks of lines."""
OVERRIDES = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Signs that turn the direction of writing, by which a line can be made to read as another."""


def showable(text: str) -> bool:
    """Whether a text is one line of signs that can be shown."""
    if text.isascii():
        return text.isprintable()
    return not any(map(_hidden, text))


def bare(text: str, *, kept: str = "") -> str:
    """The text with what cannot be shown as its code, like `\\x1b`; `kept` stays as it is."""
    if showable(text):
        return text
    return "".join(
        ascii(sign)[1:-1] if sign not in kept and _hidden(sign) else sign for sign in text
    )


def _hidden(sign: str) -> bool:
    return unicodedata.category(sign) in HIDDEN or sign in OVERRIDES
