"""The ledger's chain, row by row: does each follow the one before, and is it what was written?"""

from __future__ import annotations

import re

from store.edges.events.base import Event
from store.file.layout import STUMBLES
from store.file.ledger import FIRST, Row, payload_of, rehash

INSTANT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}\+00:00")
FOUNDING = "shop-founded"
TYPES = (int, str, str, str, str, str, str, str, int, str, str)
"""Of a row's columns; a table whose schema was changed for a moment can hold others."""


def named(row: Row) -> str:
    """Name an entry so that people find it: number, day, what and who, as it stands there now."""
    return (
        f"entry {row.seq:,} of {shown(row.recorded_at)[:10]} "
        f"({shown(row.kind)} by {shown(row.badge)})"
    )


def shown(value: object, longest: int = 40) -> str:
    """What stands in a column, whatever it is, on a line."""
    text = value if isinstance(value, str) and value.isprintable() else ascii(value)
    return text if len(text) <= longest else f"{text[:longest]}…"


class Chain:
    """Checks rows in their order; holds the newest one that was right.

    Attributes:
        seq: its number, 0 before the first.
        hash: its hash.
    """

    def __init__(self) -> None:
        self.seq = 0
        self.hash = FIRST
        self._recorded_at = ""
        self._keys: set[str] = set()

    def fault(self, row: Row) -> str | None:
        """Say what is wrong with the next row; None, and go on to it, where it is right."""
        wrong = self._place(row) or self._content(row)
        if wrong is None:
            self.seq, self.hash, self._recorded_at = row.seq, row.hash, row.recorded_at
            self._keys.add(row.key)
        return wrong

    def _place(self, row: Row) -> str | None:
        if row.seq != self.seq + 1:
            return f"entry {self.seq + 1:,} is missing: after {self.seq:,} comes {row.seq:,}."
        if tuple(map(type, row)) != TYPES:
            return f"{named(row)} was changed: it holds a value of a type that none has."
        if row.hash != rehash(row):
            return f"{named(row)} was changed: it does not fit its own hash."
        if row.previous != self.hash:
            return f"{named(row)} does not follow from entry {self.seq:,}: one of them was changed."
        if (row.kind == FOUNDING) != (row.seq == 1):
            return f"{named(row)} stands wrong: a ledger begins with {FOUNDING}, once."
        return None

    def _content(self, row: Row) -> str | None:
        for name, instant in (("happened_at", row.happened_at), ("recorded_at", row.recorded_at)):
            if not INSTANT.fullmatch(instant):
                return f"{named(row)}: {name} is no instant: {shown(instant)}."
        if row.recorded_at < self._recorded_at:
            return f"{named(row)} was recorded before entry {self.seq:,}."
        if row.happened_at > row.recorded_at:
            return f"{named(row)} happened after it was recorded."
        if row.key in self._keys:
            return f"{named(row)} has the key of an earlier one, {shown(row.key)}."
        if "\n" in f"{row.key}{row.badge}{row.terminal}" or row.stepped_back < 0:
            return f"{named(row)} has a key, badge, terminal or step back that cannot be."
        return None


def read_event(row: Row) -> Event | str:
    """Return the event of a row, or say why it is none."""
    try:
        event = row.event()
        canonical = payload_of(event)
    except STUMBLES as error:
        first = str(error).partition("\n")[0]
        return f"{named(row)} is no {shown(row.kind)}: {shown(first, 200)}."
    if canonical != row.payload:
        return f"{named(row)}: its payload is not in the form in which it is recorded."
    return event
