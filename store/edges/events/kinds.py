"""Every kind of event by its name, from all modules that say what one is."""

from __future__ import annotations

from store.edges.events import (
    book,
    desk,
    end,
    hires,
    holds,
    jobs,
    labour,
    month,
    next,
    parts,
    past,
    people,
    phases,
    places,
    route,
    shop,
)
from store.edges.events.base import Event

MODULES = (
    book,
    desk,
    end,
    hires,
    holds,
    jobs,
    labour,
    month,
    next,
    parts,
    past,
    people,
    phases,
    places,
    route,
    shop,
)
"""Importing them makes their kinds known."""


def _kinds(base: type[Event]) -> dict[str, type[Event]]:
    found: dict[str, type[Event]] = {}
    for one in base.__subclasses__():
        found[one.kind] = one
        found.update(_kinds(one))
    return found


KINDS: dict[str, type[Event]] = _kinds(Event)
"""The model of every kind of event."""
