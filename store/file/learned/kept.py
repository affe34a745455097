"""Forecasts and what was learned as the shop file keeps them; read without any array.

Nothing here is the ledger's word: a row that is lost or cannot be read is as one never made, and
the learner makes it again.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from store.edges.instants import from_text, to_text
from store.file.layout import LEARNED
from store.file.learned.kept_needs import KitNeed, keep_needs, let_needs_go

FORM = 1
"""Of a forecast's content; one of another form is not read."""
DIGITS = 5
"""Of hours: a twentieth of a second."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Hours: the mean and the 19 quantiles from .05 to .95, never falling."""

    mean: float
    quantiles: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class PhaseLeft:
    """Labour still to go in a phase, and the labour that was in it when this was said."""

    labour_h: float
    left: Spread


@dataclass(frozen=True, slots=True)
class Forecast:
    """What is left of a job, as it was known at one entry of the ledger.

    Attributes:
        seq: the newest entry known then.
        fit_seq: the newest entry that what was learned knew.
        made_at: from there on open hours are counted.
        labour_h: labour in the whole job then.
        left: labour still to go in all phases together.
        finish: the shop's open hours until its last phase is finished; None where nobody can say.
        phases: labour phases not finished then, by number.
        stay: of a job that waits for a lift the open hours from when it is on one; else None.
        needs: when it needs its kits; kept beside it, and read for itself: see `kept_needs`.
    """

    job: str
    seq: int
    fit_seq: int
    made_at: datetime
    labour_h: float
    left: Spread
    finish: Spread | None
    phases: Mapping[str, PhaseLeft] = field(default_factory=dict[str, PhaseLeft])
    stay: Spread | None = None
    needs: tuple[KitNeed, ...] = field(default=(), compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Position:
    """An entry of the ledger: its number and its hash."""

    seq: int
    hash: str


@dataclass(frozen=True, slots=True)
class Part:
    """One part of what was learned.

    Attributes:
        version: of the learner that made it.
        at: the newest entry that it knows.
        cases: how many taught it.
        digest: SHA-256 of the cases.
        content: None where it was not read, or stays as it is kept.
    """

    part: str
    version: str
    at: Position
    cases: int
    digest: str
    content: bytes | None = field(default=None, repr=False)


def newest_position(db: sqlite3.Connection) -> Position:
    """Return where the ledger stands."""
    row = db.execute("select seq, hash from ledger order by seq desc limit 1").fetchone()
    return Position(row[0], row[1]) if row else Position(0, "")


def is_here(db: sqlite3.Connection, at: Position) -> bool:
    """Tell whether an entry stands in this ledger, and not in that of a file put in its place."""
    if at.seq == 0:
        return True
    row = db.execute("select hash from ledger where seq = ?", [at.seq]).fetchone()
    return row is not None and row[0] == at.hash


def forecasts(db: sqlite3.Connection, jobs: Sequence[str]) -> dict[str, Forecast]:
    """Return what is known of jobs, by number: one query; jobs without a forecast are left out."""
    marks = ", ".join("?" * len(jobs))
    found = _rows(
        db,
        "select job, seq, fit_seq, made_at, labour_h, content from learned_forecast "
        f"where form = {FORM} and job in ({marks})",
        jobs,
    )
    read = (_forecast(row) for row in found)
    return {one.job: one for one in read if one is not None}


def parts(
    db: sqlite3.Connection, versions: Mapping[str, str], *, whole: bool = False
) -> dict[str, Part]:
    """Return what these versions of the learner made from this ledger, by the name of the part.

    Args:
        whole: with their content.
    """
    content = "content" if whole else "null"
    found = [
        Part(row[0], row[1], Position(row[2], row[3]), row[4], row[5], row[6])
        for row in _rows(
            db,
            f"select part, version, seq, hash, cases, digest, {content} from learned_part "
            "order by part",
            [],
        )
    ]
    return {
        one.part: one
        for one in found
        if versions.get(one.part) == one.version and is_here(db, one.at)
    }


def looked_at(db: sqlite3.Connection) -> Position:
    """Return up to which entry jobs have their forecast; 0 where none was made."""
    for row in _rows(db, "select seq, hash from learned_turn", []):
        return Position(row[0], row[1])
    return Position(0, "")


def turn(db: sqlite3.Connection) -> int:
    """Return how often something was written here."""
    for row in _rows(db, "select turn from learned_turn", []):
        return int(row[0])
    return 0


def keep_forecasts(db: sqlite3.Connection, made: Iterable[Forecast], at: Position) -> bool:
    """Write forecasts down inside an open transaction, unless newer ones are there.

    Args:
        at: the entry up to which the ledger was read for them.

    Returns:
        False where the file is another one by now, and nothing was written.
    """
    if not _ready(db, at):
        return False
    db.execute("delete from learned_forecast where seq > (select max(seq) from ledger)")
    for one in made:
        db.execute(
            "insert into learned_forecast values (?, ?, ?, ?, ?, ?, ?) on conflict (job) do update "
            "set form = excluded.form, seq = excluded.seq, fit_seq = excluded.fit_seq, "
            "made_at = excluded.made_at, labour_h = excluded.labour_h, content = excluded.content "
            "where excluded.seq >= seq or excluded.form != form",
            (one.job, FORM, one.seq, one.fit_seq, to_text(one.made_at), one.labour_h,
             _content(one)),
        )  # fmt: skip
        keep_needs(db, one.job, one.seq, one.needs)
    let_needs_go(db)
    db.execute(
        "delete from learned_forecast where job not in (select job from job "
        "where state not in ('closed', 'declined', 'turned-away'))"
    )
    _raise_turn(db, at)
    return True


def keep_parts(db: sqlite3.Connection, learned: Iterable[Part], at: Position) -> bool:
    """Write down what was learned inside an open transaction, in place of what was known before.

    Args:
        at: the newest entry that all of it knows now, also what stays as it is.

    Returns:
        False where the file is another one by now, and nothing was written.
    """
    if not _ready(db, at):
        return False
    for one in learned:
        if one.content is not None:
            db.execute(
                "insert or replace into learned_part values (?, ?, ?, ?, ?, ?, ?)",
                (one.part, one.version, at.seq, at.hash, one.cases, one.digest, one.content),
            )
    db.execute("update learned_part set seq = ?, hash = ? where seq < ?", (at.seq, at.hash, at.seq))
    return True


def forget_all(db: sqlite3.Connection) -> None:
    """Take away everything that was learned; the ledger teaches it again."""
    make_again(db)
    for name in LEARNED:
        db.execute(f"delete from {name}")


def make_again(db: sqlite3.Connection) -> None:
    """Make the tables where they are lost."""
    from store.file.migrations import run

    run(db, "0002_learned")
    run(db, "0004_help")
    run(db, "0005_need")


def _ready(db: sqlite3.Connection, at: Position) -> bool:
    if not is_here(db, at):
        return False
    make_again(db)
    return True


def _raise_turn(db: sqlite3.Connection, at: Position) -> None:
    db.execute(
        "insert into learned_turn values (1, 1, ?, ?) on conflict (one) do update set "
        "turn = turn + 1, hash = case when excluded.seq >= seq then excluded.hash else hash end, "
        "seq = max(seq, excluded.seq)",
        (at.seq, at.hash),
    )


def look_again(db: sqlite3.Connection) -> None:
    """Say inside an open transaction that something was written here: screens look again."""
    db.execute("update learned_turn set turn = turn + 1")


def _rows(db: sqlite3.Connection, query: str, values: Sequence[str]) -> list[sqlite3.Row]:
    try:
        return db.execute(query, list(values)).fetchall()
    except sqlite3.OperationalError as error:
        if "no such table" not in str(error):
            raise
        return []


def _forecast(row: sqlite3.Row) -> Forecast | None:
    try:
        content: dict[str, Any] = json.loads(row[5])
        finish, phases = content["finish"], content["phases"].items()
        return Forecast(
            row[0], row[1], row[2], from_text(row[3]), row[4], _spread(content["left"]),
            None if finish is None else _spread(finish),
            {phase: PhaseLeft(one[0], _spread(one[1:])) for phase, one in phases},
            _spread(content["stay"]) if content.get("stay") else None,
        )  # fmt: skip
    except (ValueError, LookupError, TypeError, AttributeError):
        return None


def _spread(numbers: Sequence[float]) -> Spread:
    mean, *quantiles = map(float, numbers)
    if len(quantiles) != 19:
        raise ValueError(numbers)
    return Spread(mean, tuple(quantiles))


def _content(one: Forecast) -> str:
    return json.dumps(
        {
            "left": _numbers(one.left),
            "finish": None if one.finish is None else _numbers(one.finish),
            "phases": {
                phase: [round(each.labour_h, DIGITS), *_numbers(each.left)]
                for phase, each in one.phases.items()
            },
            **({} if one.stay is None else {"stay": _numbers(one.stay)}),
        },
        allow_nan=False, separators=(",", ":"),
    )  # fmt: skip


def _numbers(spread: Spread) -> list[float]:
    return [round(one, DIGITS) for one in (spread.mean, *spread.quantiles)]
