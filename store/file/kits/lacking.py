"""Which kits lack for phases to come: what stops them, as actions and views both read it."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from store.edges.instants import from_text
from store.file.kits.now import uses_of
from store.file.route_now import PhaseRow
from store.rules.kit_at_hand import Hired, KitFacts, KitNeed, kit_for, stops

KEPT = "exists (select 1 from supplier) or exists (select 1 from hire)"
"""Whether a shop keeps its hires here: nobody is stopped by what he has not begun to keep."""
WHAT = (
    "select asked.value as kit, coalesce(kit.name, asked.value) as name, "
    "coalesce(kit.owned, 0) as owned, (select valid_until from kit_date "
    "where kit_date.kit = asked.value order by seq desc limit 1) as dated, "
    f"({KEPT}) as kept, hire.hire, hire.supplier, hire.job, hire.expected, hire.received_at, "
    "hire.complete, hire.wrong, hire.missing, hire.valid_until from json_each(?) as asked "
    "left join kit on kit.code = asked.value left join hire on hire.kit = asked.value and {} "
    "order by asked.key, hire.asked_at, hire.hire"
)
NOW = "hire.sent_at is null"
THEN = "(hire.sent_at is null or hire.sent_at > ?2)"


class Known(NamedTuple):
    """What is known of kits. `kept`: the shop keeps its hires here."""

    kept: bool
    kits: Mapping[str, KitFacts]

    @property
    def dated(self) -> bool:
        """Whether the day matters."""
        return any(
            one.valid_until is not None or any(hire.valid_until is not None for hire in one.hires)
            for one in self.kits.values()
        )

    def stopping(self, job: str, kits: Collection[str], day: date) -> tuple[KitNeed, ...]:
        """Return the kits for which a phase of a job may not be begun on a day."""
        needs = (kit_for(job, self.kits[one], day) for one in kits if one in self.kits)
        return tuple(one for one in needs if stops(one, kept=self.kept))


OVER = "out of date"
NOTHING = Known(False, {})
Today = Callable[[], date]
"""The shop's local day, worked out only where a date is known: it takes the calendar."""


def known_of(
    db: sqlite3.Connection,
    kits: Collection[str],
    *,
    at: str | None = None,
    always: bool = False,
    served: tuple[str, Today] | None = None,
) -> Known:
    """Return what is known of kits: one query, and where other jobs matter those of their uses.

    Args:
        served: a job, and the day: who uses a kit that it has a good hire of its own of is not
            asked.
        always: of a shop too that keeps no hires here, and that nothing stops therefore.
        at: as it was at an instant that is past, as far as it was written down: which jobs had a
            kit in use then is not asked. None: now.
    """
    if not kits:
        return NOTHING
    sql, values = WHAT.format(NOW if at is None else THEN), [json.dumps(sorted(kits))]
    rows = db.execute(sql, values if at is None else [*values, at]).fetchall()
    if not always and not rows[0]["kept"] and all(row["dated"] is None for row in rows):
        return NOTHING
    hires: dict[str, list[Hired]] = defaultdict(list)
    for row in rows:
        if row["hire"] is not None:
            hires[row["kit"]].append(_hired(row, at))
    users: dict[str, list[str]] = defaultdict(list)
    if at is None and (always or rows[0]["kept"]):
        for use in uses_of(db, [one for one in kits if not _is_served(hires[one], served)]):
            users[use.kit].append(use.job)
    facts = {
        row["kit"]: KitFacts(
            row["kit"], row["name"], bool(row["owned"]), _day(row["dated"]),
            tuple(hires[row["kit"]]), tuple(users[row["kit"]]),
        )
        for row in rows
    }  # fmt: skip
    return Known(bool(rows[0]["kept"]), facts)


def _is_served(hires: Sequence[Hired], served: tuple[str, Today] | None) -> bool:
    if served is None:
        return False
    job, today = served
    own = [one for one in hires if one.job == job]
    return any(one.good(date.min if one.valid_until is None else today()) for one in own)


def _hired(row: sqlite3.Row, at: str | None) -> Hired:
    here = row["received_at"]
    return Hired(
        row["supplier"], row["job"], from_text(row["expected"]) if row["expected"] else None,
        here is not None and (at is None or here <= at), row["complete"] != 0, bool(row["wrong"]),
        tuple(json.loads(row["missing"])), _day(row["valid_until"]),
    )  # fmt: skip


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)


LETS = "select job, phase, kits from kit_let where job in (select value from json_each(?))"


def lets_of(db: sqlite3.Connection, jobs: Collection[str]) -> dict[tuple[str, str], set[str]]:
    """Return the kits without which a phase may be begun, by a foreman's word."""
    found: dict[tuple[str, str], set[str]] = defaultdict(set)
    for row in db.execute(LETS, [json.dumps(list(jobs))]):
        found[row["job"], row["phase"]].update(json.loads(row["kits"]))
    return found


Lacking = Mapping[str, Mapping[str, tuple[KitNeed, ...]]]
"""By job and number of the phase."""


def lacking_kits(
    db: sqlite3.Connection, routes: Mapping[str, Sequence[PhaseRow]], day: date
) -> Lacking:
    """Return the phases to come of jobs that may not be begun now, with the kits that lack.

    Args:
        routes: phases by job; a number of queries that does not grow with them.
        day: the shop's local day.
    """
    wanted = {
        (job, one.phase): _codes(one)
        for job, phases in routes.items()
        for one in phases
        if one.state == "to come" and one.kits != "[]"
    }
    known = known_of(db, {code for codes in wanted.values() for code in codes})
    if not known.kits:
        return {}
    lets = lets_of(db, routes)
    found: dict[str, dict[str, tuple[KitNeed, ...]]] = defaultdict(dict)
    for (job, phase), codes in wanted.items():
        asked = [code for code in codes if code not in lets.get((job, phase), ())]
        lacks = known.stopping(job, asked, day)
        if lacks:
            found[job][phase] = lacks
    return found


def _codes(phase: PhaseRow) -> list[str]:
    found: list[str] = json.loads(phase.kits)
    return found


def lacking_for(
    db: sqlite3.Connection, job: str, phase: PhaseRow, today: Today, *, at: str | None = None
) -> tuple[KitNeed, ...]:
    """Return the kits for which one phase may not be begun, the foreman's word aside.

    Args:
        at: an instant that is past, for an entry made afterwards.
    """
    codes = _codes(phase) if phase.kits != "[]" else []
    known = known_of(db, codes, at=at, served=(job, today))
    return known.stopping(job, codes, today() if known.dated else date.min)


def dated_kits(
    db: sqlite3.Connection, job: str, phases: Sequence[PhaseRow], day: date
) -> dict[str, tuple[KitNeed, ...]]:
    """Return the kits of phases that are left which must not be used, by number of the phase."""
    live = [one for one in phases if one.state in ("to come", "under way") and one.kits != "[]"]
    known = known_of(db, {code for one in live for code in _codes(one)})
    found = {one.phase: known.stopping(job, _codes(one), day) for one in live}
    over = {phase: tuple(one for one in every if one.at == OVER) for phase, every in found.items()}
    return {phase: every for phase, every in over.items() if every}


def dated_out(
    db: sqlite3.Connection, job: str, phase: PhaseRow, today: Today
) -> tuple[KitNeed, ...]:
    """Return the kits of a phase that must not be used: their date ran out, and no other is."""
    return tuple(one for one in lacking_for(db, job, phase, today) if one.at == OVER)
