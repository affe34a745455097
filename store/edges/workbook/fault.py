"""A fault of a work book: where it stands and what it says; and the two commonest kinds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from difflib import get_close_matches

from store.edges.toml_lines import Path

UNKNOWN = "?"
"""Begins every code that stands in for one that is missing; nobody looks it up."""


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong at a place of the book: what is wrong, what to do."""

    path: Path
    says: str


Found = Iterator[Fault]


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word that is most like it, or all of them when none is."""
    known = sorted(known)
    close = get_close_matches(word, known, n=1, cutoff=0.5)
    if close:
        return f"did you mean {close[0]!r}?"
    return f"possible: {', '.join(known)}." if known else "there are none; write one or leave it."


def unknown(code: str, known: Iterable[str], path: Path, what: str) -> Found:
    """A fault when the code is none of those; stand-ins of missing codes are passed over."""
    known = list(known)
    if code not in known and not code.startswith(UNKNOWN):
        yield Fault(path, f"there is no {what} {code!r}: {nearest(code, known)}")


def twice(codes: Iterable[tuple[str, Path]], what: str) -> Found:
    """A fault for every code that stood before."""
    seen: set[str] = set()
    for code, path in codes:
        if code in seen and not code.startswith(UNKNOWN):
            yield Fault(path, f"{what} {code!r} is there twice: give one of them another name.")
        seen.add(code)


def odds_fault(number: float, path: Path) -> Found:
    """Odds are a share."""
    if not 0 <= number <= 1:
        yield Fault(path, 'odds must be from 0 to 1: write them like "1 in 12".')
