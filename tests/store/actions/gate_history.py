"""What the ledger says of the times at which gates were open, told without the rules under test."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass, field
from datetime import datetime
from typing import cast

from store.edges.instants import from_text, to_text
from store.file.facts import calendar_of
from store.sums.clock_labour import counts_to


@dataclass
class Gate:
    """A hold point or decision: where it stands, and the times at which it was signed."""

    phase: str
    step: str
    state: str
    blocks: list[str]
    kind: str
    done: list[tuple[str, str | None]] = field(default_factory=list["tuple[str, str | None]"])

    def signed(self, at: str) -> None:
        """The way is open from now on."""
        if not self.done or self.done[-1][1] is not None:
            self.done.append((at, None))

    def opened(self, at: str) -> None:
        """The way is shut."""
        if self.done and self.done[-1][1] is None:
            self.done[-1] = (self.done[-1][0], at)

    def covers(self, since: str, until: str | None) -> bool:
        """Whether all of that lies in one stretch in which it was signed."""
        return any(
            a <= since and (b is None or (until is not None and until <= b)) for a, b in self.done
        )


def gates(db: sqlite3.Connection, job: str) -> dict[tuple[str, str], Gate]:
    """The gates of a job as the ledger tells them."""
    found: dict[tuple[str, str], Gate] = {}
    for row in db.execute(
        "select phase, step, state, blocks, kind from step where job = ? and kind != 'step'", [job]
    ):
        found[row[0], row[1]] = Gate(row[0], row[1], row[2], json.loads(row[3]), row[4])
    for row in db.execute(
        "select kind, happened_at, payload from ledger where payload ->> '$.job' = ? order by seq",
        [job],
    ):
        _feed(found, row[0], row[1], json.loads(row[2]))
    return found


def _feed(found: dict[tuple[str, str], Gate], kind: str, at: str, event: dict[str, object]) -> None:
    key = (str(event.get("phase")), str(event.get("step")))
    if kind in ("step-signed", "reading-let-stand") and key in found:
        if event["state"] == "done":
            found[key].signed(at)
    elif kind == "signature-taken-back" and key in found:
        found[key].opened(at)
    elif kind in ("phase-reopened", "placed"):
        voids = cast("list[dict[str, str]]", event.get("voids", []))
        for ref in voids:
            gate = found.get((ref["phase"], ref["step"]))
            if gate:
                gate.opened(at)


def behind(db: sqlite3.Connection, job: str, gate: Gate) -> list[str]:
    """The phases that a gate stands before."""
    rows = db.execute(
        "select phase, code, state from phase where job = ? order by position", [job]
    ).fetchall()
    numbers = [row[0] for row in rows]
    own = numbers.index(gate.phase)
    if rows[own][2] == "skipped":
        return []
    later = [n for n in range(own + 1, len(rows)) if rows[n][2] != "skipped"]
    if not later:
        return []
    named = [one for one in gate.blocks if one not in ("first-start", "lower", "move", "hand-over")]
    if gate.blocks and not named:
        return []
    start = later[0]
    if not set(named) & {"*", ">"}:
        start = min((n for n in range(own + 1, len(rows)) if rows[n][1] in named), default=later[0])
    return numbers[start:]


def forgotten_from(db: sqlite3.Connection, since: str, now: datetime) -> str | None:
    """Up to when a clock that was left running counts; None where it simply runs."""
    end, left = counts_to(calendar_of(db), from_text(since), now)
    return to_text(end) if left else None


def trespasses(db: sqlite3.Connection, job: str, now: datetime) -> list[str]:
    """Everything that was done behind a gate while it was open."""
    found: list[str] = []
    states = {
        row[0]: (row[1], row[2], row[3])
        for row in db.execute(
            "select phase, state, begun_at, finished_at from phase where job = ?", [job]
        )
    }
    clocks = [
        (row[0], row[1], row[2], row[3] or forgotten_from(db, row[2], now))
        for row in db.execute("select seq, phase, since, until from clock where job = ?", [job])
    ]
    signatures = db.execute(
        "select seq, phase, at from signature where job = ? and not void", [job]
    ).fetchall()
    for gate in gates(db, job).values():
        wrong = gate.state != "done" and gate.done and gate.done[-1][1] is None
        assert not wrong, f"{gate} stands open in the table, signed in the ledger"
        shut = set(behind(db, job, gate))
        found += [
            f"clock {row[0]} on {row[1]} {row[2]} to {row[3]} behind {gate}"
            for row in clocks
            if row[1] in shut and not gate.covers(row[2], row[3])
        ]
        found += [
            f"signature {row[0]} in {row[1]} at {row[2]} behind {gate}"
            for row in signatures
            if row[1] in shut and not gate.covers(row[2], row[2])
        ]
        found += [
            f"{phase} finished at {states[phase][2]} behind {gate}"
            for phase in shut
            if states[phase][0] == "finished"
            and not gate.covers(states[phase][2], states[phase][2])
        ]
        found += _own_phase(gate, states, signatures, db, job)
    found += _two_names(db, job)
    return found


def _own_phase(
    gate: Gate,
    states: dict[str, tuple[str, str, str]],
    signatures: list[sqlite3.Row],
    db: sqlite3.Connection,
    job: str,
) -> list[str]:
    """The phase of an open gate is not finished (but HL's, which dies on another lift)."""
    state = states[gate.phase][0]
    raised = db.execute(
        "select void_on_lift from step where job = ? and phase = ? and step = ?",
        [job, gate.phase, gate.step],
    ).fetchone()[0]
    if state == "finished" and gate.state != "done" and not raised:
        return [f"{gate.phase} is finished with {gate}"]
    return []


def _two_names(db: sqlite3.Connection, job: str) -> list[str]:
    """Two signatures by one person, or by apprentices alone, are none."""
    found: list[str] = []
    for row in db.execute(
        "select phase, step, signs, code from step where job = ? and kind = 'hold point' "
        "and state = 'done'",
        [job],
    ).fetchall():
        names = db.execute(
            "select badge, experience, as_is from signature join person using (person) where "
            "job = ? and phase = ? and step = ? and not void and (in_limits or as_is is not null)",
            [job, row[0], row[1]],
        ).fetchall()
        people = {one[0] for one in names}
        if len(people) < row[2]:
            found.append(f"{row[3]} bears {sorted(people)} where {row[2]} sign")
        if not any(not one[1].startswith("apprentice") or one[2] for one in names):
            found.append(f"{row[3]} bears apprentices only")
    return found
