"""Where tool kits are and who uses them, as actions and views both read it."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

LIVE = "state not in ('closed', 'declined', 'turned-away')"
OUT = "sent_at is null"
"""A hire that was not sent back yet."""


@dataclass(frozen=True, slots=True)
class Use:
    """A phase that has a kit in use: it is under way, or the kit is fixed on the open unit.

    Attributes:
        captive: it is fixed there until another phase has ended.
    """

    kit: str
    job: str
    phase: str
    captive: bool


@dataclass(frozen=True, slots=True)
class _Phase:
    job: str
    phase: str
    code: str
    version: int | None
    state: str
    kit: str


def uses_of(db: sqlite3.Connection, kits: Collection[str]) -> list[Use]:
    """Return which jobs have these kits in use now."""
    if not kits:
        return []
    marks = ", ".join("?" * len(kits))
    rows = db.execute(
        "select phase.job, phase.phase, code, phase.version, phase.state, kit.value from job "
        "cross join phase using (job), json_each(phase.kits) as kit "
        f"where job.{LIVE} and phase.state in ('under way', 'finished') "
        f"and kit.value in ({marks}) order by phase.job, position",
        list(kits),
    )
    begun = [_Phase(*row) for row in rows]
    found = [Use(one.kit, one.job, one.phase, False) for one in begun if one.state == "under way"]
    return [*found, *_captive(db, [one for one in begun if one.state == "finished"])]


def _captive(db: sqlite3.Connection, done: Sequence[_Phase]) -> list[Use]:
    """Kits that a finished phase has fixed on a unit that is still open."""
    fixed = fixed_until(db, {one.version for one in done if one.version is not None})
    found: list[Use] = []
    for one in done:
        until = fixed.get((one.version, one.code, one.kit))
        if until is not None and _still_to_do(db, one.job, until):
            found.append(Use(one.kit, one.job, one.phase, True))
    return found


Fixed = Mapping[tuple[int | None, str, str], str]
"""By version of the book, phase and kit: the phase until whose end the kit stays fixed."""


def fixed_until(db: sqlite3.Connection, versions: Collection[int]) -> Fixed:
    """Return what these versions of the book say of captive kits.

    Read from their text: to build the whole book takes far longer than a look at the floor.
    """
    found: dict[tuple[int | None, str, str], str] = {}
    for version in versions:
        row = db.execute(
            "select shop, version, loaded_at, length(content) from book, shop where version = ?",
            [version],
        ).fetchone()
        key = tuple(row)
        if key not in _KNOWN:
            _KNOWN[key] = _read_fixed(db, version)
        found.update(_KNOWN[key])
    return found


_KNOWN: dict[tuple[object, ...], Fixed] = {}
"""By shop and version, and what tells it from one that a restored file has under that number."""


def _read_fixed(db: sqlite3.Connection, version: int) -> Fixed:
    rows = db.execute(
        "select phase.value ->> 'code', kit.value ->> 'kit', kit.value ->> 'captive_to' from book, "
        "json_each(content, '$.phases') as phase, json_each(phase.value, '$.kits') as kit "
        "where version = ? and kit.value ->> 'captive_to' is not null",
        [version],
    )
    return {(version, row[0], row[1]): row[2] for row in rows}


def _still_to_do(db: sqlite3.Connection, job: str, code: str) -> bool:
    row = db.execute(
        "select 1 from phase where job = ? and code = ? and state in ('to come', 'under way')",
        [job, code],
    ).fetchone()
    return row is not None


NEEDLESS = (
    "select hire.hire, hire.kit, hire.job, coalesce(kit.name, hire.kit) as name, supplier, "
    "received_at from hire left join kit on kit.code = hire.kit "
    f"where {OUT} and (?1 is null or hire.job = ?1) and exists (select 1 from phase, "
    "json_each(phase.kits) as wanted where phase.job = hire.job and wanted.value = hire.kit) "
    "and not exists (select 1 from phase, json_each(phase.kits) as wanted where "
    "phase.job = hire.job and wanted.value = hire.kit and state in ('to come', 'under way')) "
    "order by asked_at, hire"
)


def needless(db: sqlite3.Connection, job: str | None = None) -> list[sqlite3.Row]:
    """Return the hires of jobs that needed them and do not any more: done, or dropped by an answer.

    Args:
        job: None: of all.
    """
    rows = db.execute(NEEDLESS, [job]).fetchall()
    fixed = {(use.kit, use.job) for use in uses_of(db, {row["kit"] for row in rows})}
    return [row for row in rows if (row["kit"], row["job"]) not in fixed]


def still_out(db: sqlite3.Connection, job: str) -> list[str]:
    """Return the kits hired for a job that were not sent back, in words."""
    rows = db.execute(
        "select kit.name, hire.kit, supplier, received_at from hire "
        f"join kit on kit.code = hire.kit where job = ? and {OUT} order by asked_at, hire",
        [job],
    )
    return [f"kit {row['kit']} ({row['name']}) {_where(row)}" for row in rows]


def _where(row: sqlite3.Row) -> str:
    if row["received_at"]:
        return f"is still here: send it back to {row['supplier']}"
    return f"is asked for at {row['supplier']}: receive it or cancel it"
