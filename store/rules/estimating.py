"""Hours estimates from the work book alone, until the shop has learned its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from store.sums import book_range

BOOK = "book"
"""Source of an estimate in which nothing was learned."""
CAUTIOUS = 0.8
"""The quantile that is called cautious at first."""


@dataclass(frozen=True, slots=True)
class Part:
    """One phase's share of a job: the book's low, book and high, and its estimate now."""

    book: tuple[float, float, float]
    middle: float
    cautious: float


@dataclass(frozen=True, slots=True)
class Figures:
    """Labour hours."""

    middle: float
    cautious: float
    mean: float
    quantiles: tuple[float, ...]


@lru_cache(maxsize=2048)
def of_phase(book: tuple[float, float, float], cautious: float = CAUTIOUS) -> Figures:
    """Return a phase's estimate from the book: middle is the book's figure."""
    return Figures(
        book[1],
        book_range.quantile(book, cautious),
        book_range.mean(book),
        tuple(book_range.quantiles19(book)),
    )


def of_total(books: Sequence[tuple[float, float, float]], cautious: float = CAUTIOUS) -> Figures:
    """Return a job's estimate: its spread is not the sum of the phases' spreads."""
    return of_phase(book_range.total(books), cautious)


def together(parts: Sequence[Part], cautious: float = CAUTIOUS) -> Figures:
    """Return the total of phases whose estimates may have moved away from the book.

    A phase that was raised by agreed extra work keeps the book's relative spread on the raised
    figure.
    """
    return of_total([_scaled(part) for part in parts], cautious)


def _scaled(part: Part) -> tuple[float, float, float]:
    low, book, high = part.book
    if book <= 0:
        return (part.middle, part.middle, part.middle)
    ratio = part.middle / book
    return (low * ratio, part.middle, high * ratio)
