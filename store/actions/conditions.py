"""Open conditions: what an act really opens and ends, so that it can be taken back exactly."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable

from store.actions.acting import Acting
from store.file.route_now import PhaseRow, book_phase
from store.rules.book import Deed


def hanging(doing: Acting, job: str) -> set[str]:
    """Return the codes of the open conditions that a vehicle carries."""
    return {row[0] for row in doing.db.execute("select code from condition where job = ?", [job])}


def to_open(doing: Acting, job: str, codes: Collection[str]) -> list[str]:
    """Return those that do not hang yet."""
    there = hanging(doing, job) if codes else set[str]()
    return [one for one in dict.fromkeys(codes) if one not in there]


def to_close(doing: Acting, job: str, codes: Collection[str]) -> list[str]:
    """Return those that hang."""
    there = hanging(doing, job) if codes else set[str]()
    return [one for one in dict.fromkeys(codes) if one in there]


def opened_by(doing: Acting, job: str, phase: PhaseRow) -> list[str]:
    """Return the open conditions that begin with a phase."""
    return to_open(doing, job, book_phase(doing.db, phase.version, phase.code).opens)


def forbidding(doing: Acting, job: str, deed: Deed) -> list[tuple[str, str]]:
    """Return code and text of the open conditions that forbid an act."""
    found = doing.db.execute(
        "select code, text, forbids from condition join job using (job) "
        "join book_condition using (version, code) where job = ? order by condition.seq",
        [job],
    )
    return [(row["code"], row["text"]) for row in found if deed in json.loads(row["forbids"])]


def closed_once(
    doing: Acting, job: str, phases: Iterable[str], signatures: Iterable[int]
) -> list[str]:
    """Return what the finishes of some phases, and some signatures, once ended.

    Only what was really open then comes back when they are void.
    """
    wanted, numbers = set(phases), set(signatures)
    found: dict[str, None] = {}
    for row in doing.db.execute(
        "select ledger.seq, kind, payload from entry cross join ledger on ledger.seq between "
        "entry.seq and entry.last where entry.job = ? and kind in "
        "('phase-finished', 'step-signed', 'reading-let-stand') order by ledger.seq",
        [job],
    ):
        event = json.loads(row["payload"])
        by = event.get("signature", row["seq"]) if row["kind"] != "phase-finished" else None
        if by in numbers or (by is None and event["phase"] in wanted):
            found.update(dict.fromkeys(event.get("closes", [])))
    return list(found)
