"""Kinds of event of the work book and of the kits that it names."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from store.edges.events.base import Day, Event, Id, Text


class BookLoaded(Event):
    """A version of the work book, from a day on; a job keeps the version it was taken with."""

    kind = "book-loaded"
    version: Annotated[int, Field(ge=1)]
    from_day: Day
    source: str
    content: str
    """Canonical JSON of the checked book."""
    cause: Text | None = None
    """Why, where no person wrote it: what was learned, or another version taken back."""


class KitKnown(Event):
    """A tool kit: a thing of its own, whatever phases need it."""

    kind = "kit-known"
    kit: Id
    code: Text
    name: Text
    owned: bool
