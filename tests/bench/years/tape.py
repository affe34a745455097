"""A year of the demo shop as a tape: what was begun and ended in it, to be played again elsewhere.

Whatever did not end within the year is left out with all that belongs to it, so that a copy leaves
nothing open: no job, clock, hold, hire or follow-up of a year that is over hangs on.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field
from itertools import groupby
from pathlib import Path
from typing import Any, NamedTuple

from store.file.ledger import COLUMNS, Row, canonical

Payload = dict[str, Any]
ENDED = ("declined", "turned-away")
SMALL_KEPT = 10
"""Of so many small jobs one is kept: a shop that lives by deep jobs."""
OF_THE_SHOP = frozenset({
    "shop-founded", "calendar-set", "holiday-set", "rate-set", "person-added", "person-changed",
    "pin-set", "qualified", "place-added", "book-loaded", "kit-known", "supplier-known",
    "offer-known", "kit-priced", "undone",
})  # fmt: skip
"""Said once, when the shop is founded; and what takes something back, which needs all of it."""
ONE_SEQ = (
    "clock", "because", "takes_back", "away_from", "hold", "signature", "finding", "entry",
)  # fmt: skip
"""Fields that name one earlier entry by its number."""
MANY_SEQ = ("clocks", "confirms")
"""Fields that list earlier entries."""


class Line(NamedTuple):
    """One entry of a tape: its row, and its payload where that was changed."""

    row: Row
    payload: str


@dataclass(slots=True)
class Tape:
    """A year to be copied.

    Attributes:
        acts: the entries of one act stay together; in the order of recording.
        people: the shop's people: id, badge, name, role, experience.
        places: id by code.
        founding: entries by which the shop was founded.
        names: customers: id, name, telephone number.
        words: words of people outside: id, customer, text.
        pins: rows of `pin_private`.
    """

    acts: list[list[Line]]
    founding: list[Row]
    people: list[tuple[str, str, str, str, str]]
    places: dict[str, str]
    names: list[tuple[str, str, str]]
    words: list[tuple[str, str, str]]
    pins: list[tuple[str | int, ...]]


@dataclass(slots=True)
class _Ended:
    """What began and ended before the cut."""

    jobs: set[str] = field(default_factory=set[str])
    hires: set[str] = field(default_factory=set[str])
    clocks: set[int] = field(default_factory=set[int])
    follow_ups: set[tuple[str, int]] = field(default_factory=set[tuple[str, int]])
    vehicles: set[str] = field(default_factory=set[str])
    customers: set[str] = field(default_factory=set[str])


def read_tape(path: Path, until: str | None = None) -> Tape:
    """Read what is to be copied from a demo shop.

    Args:
        until: entries from this instant on belong to the demo's present and are left out, and so
            is whatever did not end by then; without it all is read, and what is open stays open.
    """
    with closing(sqlite3.connect(path)) as db:
        founded: str = db.execute("select recorded_at from ledger where seq = 1").fetchone()[0]
        rows = [Row(*one) for one in db.execute(f"select {COLUMNS} from ledger order by seq")]
        lived = [row for row in rows if row.recorded_at > founded]
        kept = [Line(row, row.payload) for row in lived] if until is None else _past(lived, until)
        return Tape(
            [list(act) for _, act in groupby(kept, lambda one: one.row.key.partition(".")[0])],
            [row for row in rows if row.recorded_at <= founded],
            db.execute("select person, badge, name, role, experience from person").fetchall(),
            dict(db.execute("select code, place from place").fetchall()),
            db.execute("select customer, name, telephone from customer_private").fetchall(),
            db.execute("select word, customer, text from private_word").fetchall(),
            db.execute("select * from pin_private").fetchall(),
        )


def _past(rows: list[Row], until: str) -> list[Line]:
    said = [
        (row, json.loads(row.payload))
        for row in rows
        if row.recorded_at < until and row.kind not in OF_THE_SHOP
    ]
    return list(_kept(said, _ended(said)))


def _ended(said: list[tuple[Row, Payload]]) -> _Ended:
    found = _Ended()
    opened: dict[str, Payload] = {}
    smalls = 0
    invoiced: set[str] = set()
    for row, payload in said:
        job = payload.get("job")
        if row.kind == "job-opened":
            smalls += payload["small"]
            if not payload["small"] or smalls % SMALL_KEPT == 0:
                opened[payload["job"]] = payload
        elif row.kind == "job-closed" or payload.get("state") in ENDED:
            if job in opened:
                found.jobs.add(str(job))
        elif row.kind in ("clocked-off", "clock-removed"):
            found.clocks.add(payload["clock"])
        elif row.kind == "hire-invoiced":
            invoiced.add(payload["hire"])
        elif row.kind == "deposit-returned" and payload["hire"] in invoiced:
            found.hires.add(payload["hire"])
        elif row.kind == "follow-up-done":
            found.follow_ups.add((payload["job"], payload["line"]))
    found.vehicles = {opened[job]["vehicle"] for job in found.jobs}
    for _, payload in said:
        if payload.get("job") in found.jobs:
            found.customers |= {payload["customer"]} if payload.get("customer") else set()
            found.vehicles |= {payload["vehicle"]} if payload.get("vehicle") else set()
    return found


def _kept(said: list[tuple[Row, Payload]], ended: _Ended) -> Iterator[Line]:
    """What is left once all is taken out that did not end, and whatever speaks of it."""
    kept: set[int] = set()
    for row, payload in said:
        if not _stays(row, payload, ended) or any(
            isinstance(payload.get(name), int) and payload[name] not in kept for name in ONE_SEQ
        ):
            continue
        line = Line(row, _without(row, payload, kept, ended))
        if line.payload:
            kept.add(row.seq)
            yield line


def _stays(row: Row, payload: Payload, ended: _Ended) -> bool:
    named = {"job": ended.jobs, "hire": ended.hires, "vehicle": ended.vehicles,
             "customer": ended.customers}  # fmt: skip
    if row.kind in ("clocked-on", "clocked-indirect") and row.seq not in ended.clocks:
        return False
    if row.kind == "comeback-linked" and payload["of"] not in ended.jobs:
        return False
    return all(payload.get(name) is None or payload[name] in of for name, of in named.items())


def _without(row: Row, payload: Payload, kept: set[int], ended: _Ended) -> str:
    """The payload without what lists something that is left out; empty where nothing stays."""
    changed = False
    for name in MANY_SEQ:
        if payload.get(name):
            stay = [one for one in payload[name] if one in kept]
            changed |= len(stay) != len(payload[name])
            payload[name] = stay
    if row.kind == "follow-ups-set":
        stay = [
            one for one in payload["lines"] if (payload["job"], one["line"]) in ended.follow_ups
        ]
        changed |= len(stay) != len(payload["lines"])
        payload["lines"] = stay
        if not stay:
            return ""
    if payload.pop("vin", None):
        changed = True
    return canonical(payload) if changed else row.payload
