"""Every kind of event by its name, from all modules that say what one is."""

from __future__ import annotations

from store.edges import (
    events_desk,
    events_end,
    events_hire,
    events_month,
    events_next,
    events_parts,
)
from store.edges.events import Event

MODULES = (events_desk, events_end, events_hire, events_month, events_next, events_parts)
"""Importing them makes their kinds known."""


def _kinds(base: type[Event]) -> dict[str, type[Event]]:
    found: dict[str, type[Event]] = {}
    for one in base.__subclasses__():
        found[one.kind] = one
        found.update(_kinds(one))
    return found


KINDS: dict[str, type[Event]] = _kinds(Event)
"""The model of every kind of event."""
