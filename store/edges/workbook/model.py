"""The work book: read from TOML and checked, kept as JSON."""

from __future__ import annotations

from functools import lru_cache

from store.edges.workbook.build import build
from store.edges.workbook.faults import form_faults
from store.edges.workbook.json import BadBookText, from_json, to_json
from store.edges.workbook.read import BadToml, read, sentences
from store.edges.workbook.routes import route_faults
from store.rules.book import WorkBook
from store.trouble import Trouble

__all__ = ["BadBookText", "BadWorkBook", "check", "from_json", "load", "to_json"]


class BadWorkBook(Trouble):
    """The book has faults; `faults` holds them all, `line N: what is wrong, what to do`."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        self.faults = faults
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        first = next(iter(faults), "it is empty. Write one operation.")
        super().__init__(f"The work book was not taken: {first}{more}")


def check(text: str) -> tuple[str, ...]:
    """All faults of a work book in TOML, from the top down; none when it can be loaded."""
    return _looked_through(text)[1]


def load(text: str, *, routes_tried: bool = False) -> WorkBook:
    """The checked work book.

    Args:
        routes_tried: every route of this text was laid before, alone and two by two, and none had
            a fault: that is most of the checking. Only for a book that comes with its tests.

    Raises:
        BadWorkBook: it has faults; all of them are named.
    """
    book, faults = _looked_through(text, routes_tried=routes_tried)
    if book is None or faults:
        raise BadWorkBook(faults)
    return book


@lru_cache(maxsize=4)
def _looked_through(
    text: str, *, routes_tried: bool = False
) -> tuple[WorkBook | None, tuple[str, ...]]:
    """Read and check a text; one that is shown, then loaded, is checked once."""
    try:
        source = read(text)
    except BadToml as error:
        return None, (str(error),)
    book = build(source.form)
    faults = [*source.faults, *form_faults(source.form)]
    if not routes_tried:
        faults += route_faults(source.form, book)
    return book, sentences(faults, source.lines)
