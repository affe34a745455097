"""A shop file whose texts steer a terminal, as a careless writer or a forger might leave it."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import cast

STEERS = "\x1b]0;x\x07\x1b[2J\x9b31m\u202e\u2028\x7f"
"""A window's title, a bell, an erased screen, a C1 code, turned writing, a line, a deleted sign."""
FREE = frozenset({
    "name", "label", "complaint", "work", "text", "texts", "note", "notes", "why", "what", "firm",
    "said", "report", "next_move", "out_reason", "lamps", "photographs", "check_text", "receiver",
    "interval_source", "damage", "old_parts", "fluids", "faults_before", "faults_after", "run_in",
    "detail", "caution", "cautions", "advise", "terminal", "telephone", "inspector", "batch",
    "serial", "as_is", "missing",
})  # fmt: skip
"""Columns and keys that hold words of people, wherever they stand."""


def steering(path: Path) -> int:
    """Put what steers a terminal behind every text of people in a shop file.

    Returns:
        How many texts there were.
    """
    changed = 0
    with closing(sqlite3.connect(path)) as db:
        for (name,) in db.execute(
            "select name from sqlite_schema where type = 'trigger'"
        ).fetchall():
            db.execute(f"drop trigger {name}")
        for (table,) in db.execute(
            "select name from sqlite_schema where type = 'table' and name not glob 'sqlite_*'"
        ).fetchall():
            columns = db.execute("select name, type from pragma_table_info(?)", [table]).fetchall()
            for column, kind in columns:
                if kind.upper() == "TEXT":
                    changed += _spoilt(db, table, column)
        db.commit()
    return changed


def _spoilt(db: sqlite3.Connection, table: str, column: str) -> int:
    found = db.execute(f'select distinct "{column}" from "{table}"').fetchall()
    changed = 0
    for (text,) in found:
        new = _with(text, free=column in FREE) if isinstance(text, str) else text
        if new != text:
            try:
                db.execute(f'update "{table}" set "{column}" = ? where "{column}" = ?', [new, text])
            except sqlite3.IntegrityError:
                continue  # one of a few words that stand there by a rule
            changed += 1
    return changed


def _with(text: str, *, free: bool) -> str:
    if text[:1] in "[{" and text:
        try:
            return json.dumps(_inside(json.loads(text), free=free), ensure_ascii=False)
        except ValueError:
            return text
    return text + STEERS if free and text.strip() and text != "the customer" else text


def _inside(value: object, *, free: bool) -> object:
    if isinstance(value, dict):
        return {
            key: _inside(each, free=key in FREE)
            for key, each in cast("dict[str, object]", value).items()
        }
    if isinstance(value, list):
        return [_inside(each, free=free) for each in cast("list[object]", value)]
    return _with(value, free=free) if isinstance(value, str) else value
