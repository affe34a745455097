"""Why a phase went over its cautious hours: few reasons, so that not all of them become one."""

from __future__ import annotations

REASONS: dict[str, str] = {
    "rust": "rusty or seized",
    "broke": "something broke or stripped",
    "part": "wrong or missing part",
    "access": "access worse than the book",
    "interrupted": "interrupted often",
}
"""Code and words. The words are what the ledger keeps, so that one's own words stand beside them.
More than five, and everybody takes the first (common practice, no source)."""


def reason_of(note: str | None) -> str | None:
    """The code of a note that is one of the reasons; None for one's own words and for nothing."""
    return next((code for code, words in REASONS.items() if words == note), None)
