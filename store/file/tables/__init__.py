"""From an event to the derived tables: one function for each kind, and nothing but writing down."""

from __future__ import annotations

import sqlite3

from store.edges.events.base import Event
from store.file.ledger import Row
from store.file.tables import (
    book,
    clocks,
    desk,
    end,
    hires,
    holds,
    jobs,
    months,
    next,
    parts,
    past,
    people,
    places,
    route,
    shop,
    steps,
)
from store.file.tables.applying import APPLY, note_entry

MODULES = (
    book, clocks, desk, end, hires, holds, jobs, months, next, parts, past, people, places, route,
    shop, steps,
)  # fmt: skip
"""Importing them registers what they apply."""


def apply(db: sqlite3.Connection, row: Row, event: Event) -> None:
    """Write one event down in the tables."""
    note_entry(db, row, event)
    APPLY[row.kind](db, row, event)
