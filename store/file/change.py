"""One change of the shop: events appended and applied inside an open transaction."""

from __future__ import annotations

import secrets
import sqlite3
from dataclasses import dataclass, field
from datetime import datetime

from store.edges.events import Event
from store.edges.instants import from_text, to_text
from store.file.ledger import FIRST, Row, digest, payload_of
from store.file.tables import apply
from store.file.trouble import AlreadyRecorded


def new_key() -> str:
    """Return a key for an act: random, 24 hexadecimal digits, made before the first try."""
    return secrets.token_hex(12)


@dataclass(frozen=True, slots=True)
class By:
    """Who acts, where and when.

    Attributes:
        badge: as it was typed or scanned.
        terminal: name of the terminal.
        now: the machine's instant.
        at: when it was so, for a late entry; None is now.
        pin: as it was typed, None if it was not.
        key: of this act: a second try with the same key does nothing twice.
    """

    badge: str
    terminal: str
    now: datetime
    at: datetime | None = None
    pin: str | None = field(default=None, repr=False)
    key: str = field(default_factory=new_key)


@dataclass(frozen=True, slots=True)
class Last:
    """The newest row of the ledger."""

    seq: int = 0
    recorded_at: str = ""
    hash: str = FIRST


def newest(db: sqlite3.Connection) -> Last:
    """Return the newest row of the ledger."""
    row = db.execute(
        "select seq, recorded_at, hash from ledger order by seq desc limit 1"
    ).fetchone()
    return Last(*row) if row else Last()


class Change:
    """Collects the events of one act.

    Attributes:
        db: the open transaction.
        recorded_at: the stamp of every event of this act, never before that of an earlier one.
        happened_at: when it was so.
        recorded: sequence numbers of the events so far.
        says: what was done, in words; set by the action.
    """

    def __init__(self, db: sqlite3.Connection, by: By | None, last: Last | None = None) -> None:
        self.db = db
        self.last = last or newest(db)
        self.recorded: list[int] = []
        if by is None:
            return
        self.by = by
        seen = db.execute("select seq from ledger where key = ?", [by.key]).fetchone()
        if seen:
            raise AlreadyRecorded(by.key, seen[0])
        machine = to_text(by.now)
        self.recorded_at = max(machine, self.last.recorded_at)
        self.stepped_back = _seconds_between(machine, self.recorded_at)
        self.happened_at = self.recorded_at if by.at is None else to_text(by.at)
        self.person: str | None = None
        self.job: str | None = None

    @property
    def now(self) -> datetime:
        """The instant of the act as it is stamped."""
        return from_text(self.recorded_at)

    @property
    def at(self) -> datetime:
        """The instant at which it was so."""
        return from_text(self.happened_at)

    def new_id(self, letter: str) -> str:
        """Return an id for a new thing, made from the act's own key: same key, same id."""
        self._ids = getattr(self, "_ids", -1) + 1
        return f"{letter}-{self.by.key[:16]}{self._ids:02x}"

    def record(self, event: Event, *, happened_at: str | None = None) -> int:
        """Append an event and apply it to the tables; return its sequence number."""
        seq = self.last.seq + 1
        nth = len(self.recorded)
        happened_at = happened_at or self.happened_at
        key = self.by.key if nth == 0 else f"{self.by.key}.{nth}"
        payload = payload_of(event)
        own = digest(
            seq=seq, key=key, happened_at=happened_at, recorded_at=self.recorded_at,
            badge=self.by.badge, terminal=self.by.terminal, kind=event.kind, payload=payload,
            stepped_back=self.stepped_back, previous=self.last.hash,
        )  # fmt: skip
        row = Row(
            seq, key, happened_at, self.recorded_at, self.by.badge, self.by.terminal,
            event.kind, payload, self.stepped_back, self.last.hash, own,
        )  # fmt: skip
        self.db.execute(
            "insert into ledger values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (row.seq, row.key, row.happened_at, row.recorded_at, row.badge, row.terminal,
             row.kind, row.payload, row.stepped_back, row.previous, row.hash),
        )  # fmt: skip
        apply(self.db, row, event)
        self.last = Last(seq, self.recorded_at, own)
        self.recorded.append(seq)
        return seq


def _seconds_between(earlier: str, later: str) -> int:
    if earlier >= later:
        return 0
    return max(1, round((from_text(later) - from_text(earlier)).total_seconds()))
