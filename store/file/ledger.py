"""The ledger: one row for each event, each row carrying the hash of the one before.

Hash: SHA-256 (FIPS 180-4) of eleven lines joined by LF and encoded as UTF-8: the words
`hoistbook ledger 1`, seq, key, happened_at, recorded_at, badge, terminal, kind, payload,
stepped_back, previous. The payload is canonical JSON: keys sorted by code point, no white space,
non-ASCII as it is, shortest numbers; JSON escapes line feeds, and no other field can hold one.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Callable, Iterator
from functools import cache
from json.encoder import encode_basestring
from typing import TYPE_CHECKING, Any, NamedTuple

from store.trouble import Refused

if TYPE_CHECKING:
    from store.edges.events.base import Event

FIRST = "0" * 64
"""`previous` of the first event."""

COLUMNS = (
    "seq, key, happened_at, recorded_at, badge, terminal, kind, payload, stepped_back, "
    "previous, hash"
)


class Row(NamedTuple):
    """One row of the ledger. Instants in the file's form; `stepped_back` in seconds."""

    seq: int
    key: str
    happened_at: str
    recorded_at: str
    badge: str
    terminal: str
    kind: str
    payload: str
    stepped_back: int
    previous: str
    hash: str

    def event(self) -> Event:
        """Return the payload as its model.

        Raises:
            pydantic.ValidationError: the payload is not what its kind allows.
            KeyError: the kind is unknown to this version.
        """
        # a terminal that only looks paints before the models are loaded
        from store.edges.events.kinds import KINDS

        return KINDS[self.kind].model_validate_json(self.payload)


_CANONICAL = json.JSONEncoder(
    sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
)


def canonical(payload: dict[str, Any]) -> str:
    """Return the one text that stands for a payload.

    Raises:
        Refused: the text cannot be written as UTF-8 (half of a surrogate pair).
    """
    text = _CANONICAL.encode(payload)
    try:
        text.encode("utf-8")
    except UnicodeEncodeError as error:
        raise Refused("The text holds signs that cannot be written. Type it anew.") from error
    return text


def payload_of(event: Event) -> str:
    """Return an event's payload; fields at their default are left out.

    Most events hold texts and whole numbers only: what `canonical` would write of them is put
    together here, in a third of the time.
    """
    said: dict[str, object] = vars(event)
    parts: list[str] = []
    for name, key, default in _fields(type(event)):
        value = said[name]
        if value != default:
            write = PLAINLY.get(type(value))
            if write is None:
                return canonical(event.model_dump(exclude_defaults=True))
            parts.append(key + write(value))
    text = "{" + ",".join(parts) + "}"
    return text if text.isascii() else canonical(event.model_dump(exclude_defaults=True))


def _true_or_false(value: bool) -> str:
    return "true" if value else "false"


PLAINLY: dict[type, Callable[[Any], str]] = {
    str: encode_basestring, int: int.__repr__, bool: _true_or_false,
}  # fmt: skip
"""How JSON writes values of types that can be written in one way only."""


@cache
def _fields(model: type[Event]) -> tuple[tuple[str, str, object], ...]:
    """The fields of a model by their names: name, the same as a key, and default."""
    return tuple(
        (name, f'"{name}":', field.get_default(call_default_factory=True, validated_data={}))
        for name, field in sorted(model.model_fields.items())
    )


def is_plain(payload: str) -> bool:
    """Tell whether a payload's texts are ASCII that can be shown: JSON escapes all else of it."""
    return payload.isascii() and payload.isprintable() and "\\" not in payload


def digest(
    *,
    seq: int,
    key: str,
    happened_at: str,
    recorded_at: str,
    badge: str,
    terminal: str,
    kind: str,
    payload: str,
    stepped_back: int,
    previous: str,
) -> str:
    """Return the hash of a row, 64 hexadecimal digits."""
    lines = (
        "hoistbook ledger 1", str(seq), key, happened_at, recorded_at, badge, terminal, kind,
        payload, str(stepped_back), previous,
    )  # fmt: skip
    return hashlib.sha256("\n".join(lines).encode("utf-8", "surrogatepass")).hexdigest()


def rehash(row: Row) -> str:
    """Return the hash that a row should carry."""
    return digest(
        seq=row.seq, key=row.key, happened_at=row.happened_at, recorded_at=row.recorded_at,
        badge=row.badge, terminal=row.terminal, kind=row.kind, payload=row.payload,
        stepped_back=row.stepped_back, previous=row.previous,
    )  # fmt: skip


def rows(db: sqlite3.Connection, *, since_seq: int = -(2**63)) -> Iterator[Row]:
    """Yield the ledger in order, from a sequence number on; whole, with what may not be there."""
    for one in db.execute(
        f"select {COLUMNS} from ledger where seq >= ? order by seq",
        [since_seq],
    ):
        yield Row(*one)
