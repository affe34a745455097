"""What was found, noted, told and promised on a job, and the kits of its route."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, cast

from store.edges.instants import from_text
from store.file.privates import said_by
from store.views.nameless import answered_words
from store.views.values import (
    FindingKind,
    FindingLine,
    KitLine,
    KitState,
    NoteKind,
    NoteLine,
    PersonNow,
    PhaseLine,
    PromiseLine,
    Signature,
    Worker,
)

TELLING = (
    "phase-finished", "phase-noted", "phase-skipped", "phase-reopened", "placed",
    "signature-taken-back", "route-changed",
)  # fmt: skip
"""Kinds of entry that say why: a note, a void signature, another route."""
CHANGES = ("added", "dropped", "restored", "rated")
"""What an answer that was not assumed does to a route."""


@dataclass(frozen=True, slots=True)
class Told:
    """One such entry."""

    seq: int
    at: str
    who: str
    kind: str
    fields: dict[str, Any]
    undone: bool


def entries_of(db: sqlite3.Connection, job: str) -> tuple[Told, ...]:
    """Return the entries of a job that say why, oldest first."""
    marks = ", ".join("?" * len(TELLING))
    return tuple(
        Told(row["seq"], row["happened_at"], row["who"], row["kind"],
             json.loads(row["payload"]), bool(row["undone"]))
        for row in db.execute(
            "select ledger.seq, ledger.happened_at, coalesce(name, ledger.badge) as who, "
            "ledger.kind, ledger.payload, undone from entry "
            "cross join ledger on ledger.seq between entry.seq and entry.last "
            "left join person on person.badge = ledger.badge "
            f"where entry.job = ? and ledger.kind in ({marks}) order by ledger.seq",
            [job, *TELLING],
        )
    )  # fmt: skip


# -- why signatures count no more


def with_reasons(phases: Sequence[PhaseLine], told: Sequence[Told]) -> tuple[PhaseLine, ...]:
    """Return the phases with the reason beside each void signature."""
    why = _reasons(told)
    return tuple(
        replace(phase, steps=tuple(
            replace(step, signed=tuple(
                _with_reason(one, why.get((phase.number, step.step), {})) for one in step.signed
            ))
            if any(one.void for one in step.signed) else step
            for step in phase.steps
        ))
        for phase in phases
    )  # fmt: skip


def _with_reason(signature: Signature, why: dict[datetime, str]) -> Signature:
    if not signature.void or signature.void_at is None:
        return signature
    return replace(signature, void_why=why.get(signature.void_at))


def _reasons(told: Sequence[Told]) -> dict[tuple[str, str], dict[datetime, str]]:
    """Reasons by phase and step, and by the instant at which they took effect."""
    found: dict[tuple[str, str], dict[datetime, str]] = {}
    for one in told:
        if one.kind == "signature-taken-back":
            refs = [one.fields]
        else:
            refs = one.fields.get("voids", [])
        for ref in refs:
            at = found.setdefault((ref["phase"], ref["step"]), {})
            at[from_text(one.at)] = _reason(one)
    return found


def _reason(one: Told) -> str:
    if one.kind == "placed":
        return "raised anew"
    if one.kind == "signature-taken-back":
        return "taken back"
    why = one.fields.get("why")
    return f"{one.fields['phase']} opened again" + (f": {why}" if why else "")


# -- findings


def findings(db: sqlite3.Connection, job: str, told: Sequence[Told]) -> tuple[FindingLine, ...]:
    """Return what was discovered and what was assumed wrongly, in the order of time."""
    found = [
        _finding(db, row)
        for row in db.execute(
            "select finding.kind, finding.phase, finding.text, finding.hours, finding.at, name, "
            "line, state, answered_at, answered_by, supplement.means, withdrawn, "
            "advice.answer as told, advice.at as told_at, "
            "(select coalesce(min(until), '') from hold where hold.job = finding.job and "
            "hold.phase = finding.phase and hold.reason = 'approval' and hold.since = finding.at) "
            "as released from finding join person on person.person = finding.by "
            "left join supplement on supplement.job = finding.job "
            "and supplement.finding = finding.seq "
            "left join advice on advice.finding = finding.seq "
            "where finding.job = ? order by finding.seq",
            [job],
        )
    ]
    signed = dict(db.execute("select seq, phase from signature where job = ?", [job]).fetchall())
    return tuple(sorted([*found, *_assumed(told, signed)], key=lambda one: one.at))


def _finding(db: sqlite3.Connection, row: sqlite3.Row) -> FindingLine:
    became, at = _became(db, row)
    return FindingLine(
        cast("FindingKind", row["kind"]), row["phase"], row["text"], row["hours"],
        from_text(row["at"]), row["name"], row["line"], became, from_text(at) if at else None,
    )  # fmt: skip


def _became(db: sqlite3.Connection, row: sqlite3.Row) -> tuple[str, str | None]:
    if row["withdrawn"]:
        return "taken back", None
    if row["state"] in ("approved", "refused"):
        how = answered_words(row["state"], said_by(db, row["answered_by"]), row["means"])
        return how, row["answered_at"]
    if row["state"] == "asked":
        return "waits for the customer's word", None
    if row["kind"] == "advice":
        return row["told"] or "told as advice", row["told_at"]
    if row["kind"] == "surprise":
        return "no extra work asked", None
    return ("went on", row["released"]) if row["released"] else ("planned work is over", None)


def _assumed(told: Sequence[Told], signed: Mapping[int, str]) -> list[FindingLine]:
    """Answers to decisions that changed the route: the build was not the one assumed.

    Args:
        signed: phases of the signatures, by number.
    """
    return [
        FindingLine(
            "wrong assumption", signed.get(one.fields["because"], ""), one.fields["cause"], None,
            from_text(one.at), one.who, None, _route_words(one.fields), None,
        )
        for one in told
        if one.kind == "route-changed" and one.fields.get("because") and not one.undone
        and one.fields["cause"] != "taken back" and any(one.fields.get(name) for name in CHANGES)
    ]  # fmt: skip


def _route_words(fields: dict[str, Any]) -> str:
    """`in: 3b sleeve; out: 4 seal`."""
    parts = [
        f"{word} {', '.join(one['phase'] for one in fields[name])}"
        for name, word in (("added", "in:"), ("dropped", "out:"), ("rated", "other hours:"))
        if fields.get(name)
    ]
    back = [f"back: {', '.join(fields['restored'])}"] if fields.get("restored") else []
    return "; ".join([*parts, *back])


# -- notes


def notes(
    db: sqlite3.Connection, job: str, phases: Sequence[PhaseLine], told: Sequence[Told]
) -> tuple[NoteLine, ...]:
    """Return what was noted of the job and of its phases, oldest first."""
    of_job = [
        NoteLine(from_text(row["at"]), row["name"], "note", None, row["text"])
        for row in db.execute(
            "select at, name, text from note join person on person.person = note.by "
            "where job = ? and not withdrawn",
            [job],
        )
    ]
    of_phases = [line for phase in phases if phase.note for line in _of_phase(phase, told)]
    return tuple(sorted([*of_job, *of_phases], key=lambda one: one.at))


def _of_phase(phase: PhaseLine, told: Sequence[Told]) -> list[NoteLine]:
    """The newest entry that says what stands beside a phase; what a changed route left out is
    among the findings."""
    kind: NoteKind = "left out" if phase.state == "skipped" else "took longer"
    return [
        NoteLine(from_text(one.at), one.who, kind, phase.number, one.fields["note"])
        for one in told
        if one.fields.get("phase") == phase.number and one.fields.get("note") == phase.note
    ][-1:]


# -- kits, promises, people


def kits(db: sqlite3.Connection, job: str) -> tuple[KitLine, ...]:
    """Return the kits of a route in the order in which they are needed."""
    phases: dict[str, list[sqlite3.Row]] = {}
    for row in db.execute(
        "select phase, state, kit.value as code from phase, json_each(phase.kits) as kit "
        "where job = ? order by position",
        [job],
    ):
        phases.setdefault(row["code"], []).append(row)
    known = {row["code"]: row for row in db.execute("select code, name, owned from kit")}
    return tuple(
        KitLine(
            code, known[code]["name"] if code in known else code,
            bool(known[code]["owned"]) if code in known else False,
            _kit_state([row["state"] for row in rows]),
            tuple(row["phase"] for row in rows if row["state"] != "skipped"),
        )
        for code, rows in phases.items()
    )  # fmt: skip


def _kit_state(states: Sequence[str]) -> KitState:
    if all(one == "skipped" for one in states):
        return "not needed"
    if "under way" in states:
        return "in use"
    return "to come" if "to come" in states else "done with"


def promises(db: sqlite3.Connection, job: str) -> tuple[PromiseLine, ...]:
    """Return everything that the customer was told, oldest first."""
    return tuple(
        PromiseLine(
            from_text(row["at"]), row["who"],
            from_text(row["promise"]) if row["promise"] else None, row["chance"],
        )
        for row in db.execute(
            "select promised.at, promise, chance, coalesce(name, ledger.badge) as who "
            "from promised join ledger using (seq) "
            "left join person on person.badge = ledger.badge where job = ? order by promised.seq",
            [job],
        )
    )  # fmt: skip


def workers(db: sqlite3.Connection, job: str, people: dict[str, PersonNow]) -> tuple[Worker, ...]:
    """Return everybody who clocked on a job, by badge."""
    return tuple(
        Worker(
            row["badge"], row["name"],
            people[row["person"]].initials if row["person"] in people else row["name"][:2].upper(),
        )
        for row in db.execute(
            "select person, badge, name from person where person in "
            "(select person from clock where job = ?) order by badge",
            [job],
        )
    )  # fmt: skip
