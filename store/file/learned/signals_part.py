"""What changed in the work that luck hardly explains: looked for once a month, kept as JSON.

The promise about false ones counts one look a month. So what is looked at are the phases finished
before the month (UTC) of the newest that teaches, and a second look at the same ones says the same.
"""

from __future__ import annotations

import json
import sqlite3
from dataclasses import asdict
from datetime import UTC, datetime

from store.file.learned.cases import Cases, digest, plain
from store.file.learned.kept import Part, parts
from store.learn.signals.found import Found, Search

NAME, VERSION = "signals", "1"


def learn(cases: Cases, known: Part | None) -> Part:
    """Look, unless the same was looked at.

    Args:
        known: what was found before.
    """
    until = _month(cases.as_of)
    records = [one for one in cases.records if one.closed < until]
    mark = digest(records)
    if known is not None and known.digest == mark:
        return Part(NAME, VERSION, cases.at, len(records), mark)
    from store.learn.signals.search import search

    content = plain({"until": until, **asdict(search(records))})
    return Part(NAME, VERSION, cases.at, len(records), mark, content)


def kept_signals(db: sqlite3.Connection) -> Search | None:
    """Return what was found last; None where nobody looked, or it cannot be read."""
    found = parts(db, {NAME: VERSION}, whole=True).get(NAME)
    if found is None or found.content is None:
        return None
    try:
        told = json.loads(found.content)
        return Search(tuple(Found(**one) for one in told["found"]), int(told["watched"]))
    except (ValueError, LookupError, TypeError):
        return None


def _month(as_of: float) -> float:
    at = datetime.fromtimestamp(as_of, UTC)
    return datetime(at.year, at.month, 1, tzinfo=UTC).timestamp()
