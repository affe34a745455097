"""One change of the shop: events appended and applied inside an open transaction."""

from __future__ import annotations

import hashlib
import re
import secrets
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from store.edges.instants import from_text, to_text
from store.file.ledger import FIRST, Row, digest, payload_of
from store.file.memory import forget, memory_of
from store.file.pins import Uptime
from store.file.trouble import AlreadyRecorded

if TYPE_CHECKING:
    from store.edges.events.base import Event

KEY = re.compile(r"[0-9A-Za-z-]{8,64}")
"""The key of an act; its later events add a dot and their number."""


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
        up: how long the machine has run, where it can tell: waits after wrong PINs go by it.
        proves: the act takes the PIN, whatever the table of roles says of it.
        sure: the terminal saw the machine's clock set wrong and right again: what lies behind the
            newest entry goes by the clock, not by the entry.
        key: of this act: a second try with the same key does nothing twice.
    """

    badge: str
    terminal: str
    now: datetime
    at: datetime | None = None
    pin: str | None = field(default=None, repr=False)
    proves: bool = False
    up: Uptime | None = None
    sure: bool = False
    key: str = field(default_factory=new_key)


FAR_S = 12 * 3600
"""A machine's clock further behind the newest entry does not catch up within a shift."""


class Last(NamedTuple):
    """The newest row of the ledger."""

    seq: int = 0
    key: str = ""
    recorded_at: str = ""
    hash: str = FIRST


def newest(db: sqlite3.Connection) -> Last:
    """Return the newest row of the ledger."""
    row = db.execute(
        "select seq, key, recorded_at, hash from ledger order by seq desc limit 1"
    ).fetchone()
    return Last(*row) if row else Last()


class Change:
    """Collects the events of one act.

    Attributes:
        db: the open transaction.
        recorded_at: the stamp of every event of this act, never before that of an earlier one.
        stepped_back: seconds by which the machine's clock was behind that stamp.
        by: who acts; a late entry by the machine's time where its clock is far behind.
        happened_at: when it was so.
        recorded: sequence numbers of the events so far.
    """

    def __init__(self, db: sqlite3.Connection, by: By, last: Last | None = None) -> None:
        """Begin an act; `last` spares a look where the newest row is known.

        Raises:
            AlreadyRecorded: an act with this key is in the ledger.
            ValueError: the key is of another form; ids and undoing are built on it.
        """
        if not KEY.fullmatch(by.key):
            raise ValueError(f"not the key of an act: {by.key!r}")
        seen = db.execute("select seq from ledger where key = ?", [by.key]).fetchone()
        if seen:
            raise AlreadyRecorded(by.key, seen[0])
        self.db, self.by = db, by
        self.last = last or newest(db)
        self.recorded: list[int] = []
        self.badge = by.badge.upper()
        self.terminal = " ".join(by.terminal.split())  # a line feed would blur the hashed lines
        machine = to_text(by.now)
        self.recorded_at = max(machine, self.last.recorded_at)
        self.stepped_back = _seconds_between(machine, self.recorded_at)
        behind = self.stepped_back > (0 if by.sure else FAR_S)
        if by.at is None and behind and _is_after_first(db, machine):
            self.by = by = replace(by, at=by.now)
        self.happened_at = self.recorded_at if by.at is None else to_text(by.at)
        self.person: str | None = None
        self.job: str | None = None
        self._ids = 0
        self._marked = self.last

    def mark(self) -> None:
        """Remember this moment of the transaction, for `take_back`."""
        self.db.execute("savepoint marked")
        self._marked = self.last

    def take_back(self) -> None:
        """Undo all that was written since the mark, without letting go of the file."""
        self.db.execute("rollback to marked")
        forget(self.db)
        self.last = self._marked
        self.recorded.clear()

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
        self._ids += 1
        return f"{letter}-{hashlib.sha256(f'{self.by.key} {self._ids}'.encode()).hexdigest()[:20]}"

    def record(
        self, event: Event, *, happened_at: str | None = None, payload: str | None = None
    ) -> int:
        """Append an event and apply it to the tables; return its sequence number.

        Args:
            payload: its canonical JSON, where the caller has it already.

        Raises:
            ValueError: it would have happened after it was recorded.
        """
        happened_at = happened_at or self.happened_at
        if happened_at > self.recorded_at:
            raise ValueError(f"{event.kind} at {happened_at} lies after {self.recorded_at}")
        row = self._row(event, happened_at, payload or payload_of(event))
        self.db.execute("insert into ledger values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", row)
        _apply()(self.db, row, event)
        memory = memory_of(self.db)
        if memory is not None:
            memory.after(event, event.kind)
        self.last = Last(row.seq, row.key, row.recorded_at, row.hash)
        self.recorded.append(row.seq)
        return row.seq

    def _row(self, event: Event, happened_at: str, payload: str) -> Row:
        seq, nth = self.last.seq + 1, len(self.recorded)
        key = self.by.key if nth == 0 else f"{self.by.key}.{nth}"
        own = digest(
            seq=seq, key=key, happened_at=happened_at, recorded_at=self.recorded_at,
            badge=self.badge, terminal=self.terminal, kind=event.kind, payload=payload,
            stepped_back=self.stepped_back, previous=self.last.hash,
        )  # fmt: skip
        return Row(
            seq, key, happened_at, self.recorded_at, self.badge, self.terminal, event.kind,
            payload, self.stepped_back, self.last.hash, own,
        )  # fmt: skip


def load_models() -> None:
    """Load what applies events, before a file is locked: it takes 70 ms, once for each process."""
    _apply()


def _is_after_first(db: sqlite3.Connection, machine: str) -> bool:
    """Whether a clock far behind can be right all the same, since it is later than the first entry:
    it once stood far ahead, and what was written then must not hold up the shop's time until it
    comes. What is entered now is entered as of the machine's time."""
    first = db.execute("select recorded_at from ledger where seq = 1").fetchone()
    return first is not None and bool(first[0] <= machine)


@cache
def _apply() -> Callable[[sqlite3.Connection, Row, Event], None]:
    """Return what applies an event; whoever only looks does without the models."""
    from store.file.tables import apply

    return apply


def _seconds_between(earlier: str, later: str) -> int:
    if earlier >= later:
        return 0
    return max(1, round((from_text(later) - from_text(earlier)).total_seconds()))
