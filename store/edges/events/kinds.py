"""Every kind of event by its name, from all modules of this folder."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

from store.edges import events
from store.edges.events.base import Event

for _one in iter_modules(events.__path__, f"{events.__name__}."):
    if _one.name != __name__:
        import_module(_one.name)  # makes its kinds known


def _kinds(base: type[Event]) -> dict[str, type[Event]]:
    found: dict[str, type[Event]] = {}
    for one in base.__subclasses__():
        found[one.kind] = one
        found.update(_kinds(one))
    return found


KINDS: dict[str, type[Event]] = _kinds(Event)
"""The model of every kind of event."""
