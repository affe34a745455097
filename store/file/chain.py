"""The ledger's chain, row by row: does each follow the one before, and is it what was written?"""

from __future__ import annotations

import re

from store.edges.events import Event
from store.file.layout import STUMBLES
from store.file.ledger import FIRST, Row, payload_of, rehash

INSTANT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}\+00:00")
FOUNDING = "shop-founded"


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
            return f"entry {self.seq + 1} is missing: after {self.seq} comes {row.seq}."
        if row.previous != self.hash:
            return (
                f"entry {row.seq} does not follow from entry {self.seq}: one of them was changed."
            )
        if row.hash != rehash(row):
            return f"entry {row.seq} is not what was recorded: it does not fit its own hash."
        if (row.kind == FOUNDING) != (row.seq == 1):
            return f"entry {row.seq} is {row.kind}: a ledger begins with {FOUNDING}, once."
        return None

    def _content(self, row: Row) -> str | None:
        for name, instant in (("happened_at", row.happened_at), ("recorded_at", row.recorded_at)):
            if not INSTANT.fullmatch(instant):
                return f"entry {row.seq}: {name} is no instant: {instant!r}."
        if row.recorded_at < self._recorded_at:
            return f"entry {row.seq} was recorded before entry {self.seq}."
        if row.happened_at > row.recorded_at:
            return f"entry {row.seq} happened after it was recorded."
        if row.key in self._keys:
            return f"entry {row.seq} has the key of an earlier one, {row.key}."
        if "\n" in f"{row.key}{row.badge}{row.terminal}" or row.stepped_back < 0:
            return f"entry {row.seq} has a key, badge, terminal or step back that cannot be."
        return None


def read_event(row: Row) -> Event | str:
    """Return the event of a row, or say why it is none."""
    try:
        event = row.event()
        canonical = payload_of(event)
    except STUMBLES as error:
        first = str(error).partition("\n")[0]
        return f"entry {row.seq} is no {row.kind}: {first}."
    if canonical != row.payload:
        return f"entry {row.seq}: its payload is not in the form in which it is recorded."
    return event
