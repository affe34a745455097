"""What the hand-over of a job asks for, and what is usual for it."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass

from store.file.books import book_of
from store.file.route_now import PhaseRow, phases_of, steps_of
from store.rules.book import FollowUp, Operation, Step
from store.rules.follow_ups import Ended
from store.rules.route_when import Vehicle

WHEEL = "wheel"
"""In the text of a hold point, or in the name of an open condition: the wheels were off."""


@dataclass(frozen=True, slots=True)
class KitToCount:
    """A tool kit that was used on the vehicle and is in the shop: no piece of it drives away.

    Attributes:
        pieces: that the work book lists, in words; the kit itself where it lists none.
    """

    code: str
    name: str
    pieces: tuple[str, ...]


def kits_to_count(db: sqlite3.Connection, job: str) -> tuple[KitToCount, ...]:
    """Return the kits of a job's route, in its order, less those counted when they went back."""
    phases = [one for one in phases_of(db, job) if one.state != "skipped"]
    codes = dict.fromkeys(code for one in phases for code in _list(one.kits))
    gone = {
        row[0]
        for row in db.execute(
            "select kit from hire where job = ? and sent_at is not null", [job]
        )
    }  # fmt: skip
    known = _kits(db, phases)
    return tuple(known.get(code, KitToCount(code, code, (code,)))
                 for code in codes if code not in gone)  # fmt: skip


def _kits(db: sqlite3.Connection, phases: list[PhaseRow]) -> dict[str, KitToCount]:
    versions = dict.fromkeys(one.version for one in phases if one.version is not None)
    return {
        kit.code: KitToCount(kit.code, kit.name, kit.contains or (kit.name,))
        for version in versions
        for kit in book_of(db, version).kits
    }


def ended(db: sqlite3.Connection, job: str) -> Ended:
    """Return what a job was, as far as what follows it goes; no word on warranty or old parts."""
    row = db.execute("select small from job where job = ?", [job]).fetchone()
    return Ended(
        small=bool(row["small"]), wheels_off=_wheels_off(db, job),
        of_the_book=_of_the_book(db, job), declined=_declined(db, job),
    )  # fmt: skip


def run_in_text(db: sqlite3.Connection, job: str) -> str:
    """Return how the work book has the vehicle driven at first; "" where it says nothing."""
    return " ".join(dict.fromkeys(one.run_in for one in _operations(db, job) if one.run_in))


def _wheels_off(db: sqlite3.Connection, job: str) -> bool:
    """A signed step tightened them, or ended the open condition that they were loose."""
    return any(
        WHEEL in one.spec.text.casefold() if one.kind == "hold point" else _of_wheels(one.spec)
        for one in steps_of(db, job)
        if one.state == "done"
    )


def _of_wheels(spec: Step) -> bool:
    return any(WHEEL in code.casefold() for code in spec.closes)


def _operations(db: sqlite3.Connection, job: str) -> list[Operation]:
    row = db.execute("select operations, version from job where job = ?", [job]).fetchone()
    if row["version"] is None:
        return []
    book = book_of(db, row["version"])
    return [book.operations[code] for code in _list(row["operations"]) if code in book.operations]


def _of_the_book(db: sqlite3.Connection, job: str) -> tuple[FollowUp, ...]:
    row = db.execute("select family, grade, options from job where job = ?", [job]).fetchone()
    vehicle = Vehicle(row["family"], row["grade"], json.loads(row["options"]))
    found = {
        one.what: one
        for operation in _operations(db, job)
        for one in operation.follow_ups
        if vehicle.meets(one.when)
    }
    return tuple(found.values())


def _declined(db: sqlite3.Connection, job: str) -> tuple[str, ...]:
    """Advice that was not taken, and extra work that was refused."""
    advised = db.execute(
        "select finding.text from finding left join advice on advice.finding = finding.seq "
        "where finding.job = ? and kind = 'advice' and not withdrawn "
        "and coalesce(answer, 'declined') != 'agreed' order by finding.seq",
        [job],
    ).fetchall()
    refused = db.execute(
        "select text from supplement where job = ? and state = 'refused' order by line", [job]
    ).fetchall()
    return tuple(dict.fromkeys(row[0] for row in [*advised, *refused]))


def _list(text: str) -> list[str]:
    found: list[str] = json.loads(text)
    return found
