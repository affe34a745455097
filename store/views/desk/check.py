"""How far the qualifying checks of jobs are, and what comes next at the desk."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from store.file.check_phases import check_phases
from store.file.route_now import PHASE, PhaseRow
from store.sums.working_time import Calendar
from store.views.desk.told import labour_of, marks
from store.views.desk.values import CheckNow, CheckState, QuoteNow


@dataclass(frozen=True, slots=True)
class Checks:
    """What is known of the checks of some jobs."""

    phases: Mapping[str, list[PhaseRow]]
    people: Mapping[tuple[str, str], list[str]]
    labour: Mapping[tuple[str, str], float]
    prices: Mapping[str, float] = field(default_factory=dict[str, float])

    def of(self, db: sqlite3.Connection, row: sqlite3.Row) -> CheckNow:
        """Return the check of a job's row, with `job`, `operations`, `arrived_at` and its result.

        What was agreed without the desk has no check of its own: it is done on the way.
        """
        job = row["job"]
        if row["arrived_at"] is None:
            return CheckNow()
        found = check_phases(db, json.loads(row["operations"]), self.phases.get(job, []))
        left = [one for one in found if one.state != "finished"]
        clocked = [one for one in found if self.people.get((job, one.phase))]
        shown = (clocked or left)[:1]
        return CheckNow(
            state=_state(found),
            phase=f"{shown[0].phase} {shown[0].name}" if shown else None,
            people=tuple(who for one in found for who in self.people.get((job, one.phase), ())),
            result=row["check_result"], text=row["check_text"],
            labour_h=sum(self.labour.get((job, one.phase), 0.0) for one in found),
            price=self.prices.get(job),
        )  # fmt: skip


def _state(found: Sequence[PhaseRow]) -> CheckState:
    if not found:
        return "none"
    if all(one.state == "finished" for one in found):
        return "finished"
    return "to come" if all(one.state == "to come" for one in found) else "under way"


def checks_of(
    db: sqlite3.Connection, calendar: Calendar, jobs: Sequence[str], now: datetime
) -> Checks:
    """Return the checks of jobs, in a fixed number of queries."""
    phases: dict[str, list[PhaseRow]] = defaultdict(list)
    for row in db.execute(
        f"select job, {PHASE} from phase where job in ({marks(jobs)}) order by job, position",
        list(jobs),
    ):
        phases[row[0]].append(PhaseRow(*row[1:]))
    people: dict[tuple[str, str], list[str]] = defaultdict(list)
    for row in db.execute(
        "select job, phase, name from clock join person using (person) "
        f"where job in ({marks(jobs)}) and until is null order by clock.seq",
        list(jobs),
    ):
        people[row["job"], row["phase"]].append(row["name"])
    prices = {
        row["job"]: row["money"]
        for row in db.execute(
            f"select job, money from estimate where job in ({marks(jobs)}) and "
            "more ->> '$.check' and money is not null order by seq",
            list(jobs),
        )
    }
    return Checks(phases, people, labour_of(db, calendar, jobs, now), prices)


@dataclass(frozen=True, slots=True)
class Stage:
    """Where a job stands at the desk, as far as its next step asks."""

    state: str
    chosen: bool
    arrives: date | None
    here: bool
    check: CheckNow
    quote: QuoteNow | None
    today: date


def next_step(at: Stage) -> tuple[str, bool]:
    """Say what comes next, and whether it is overdue."""
    if not at.here and at.arrives is not None and at.arrives < at.today:
        return f"was to come {_day(at.arrives)}: ring the customer", True
    if at.state == "waiting":
        return _waiting(at)
    if at.check.result == "fail":
        return "failed its check: other work, or give it back", False
    if not at.chosen:
        return "choose the work and the family", False
    if at.here:
        return _here(at)
    if at.arrives is not None:
        return ("comes today" if at.arrives == at.today else f"comes {_day(at.arrives)}"), False
    return ("book a day" if at.quote else "tell a rough range, book a day"), False


def _waiting(at: Stage) -> tuple[str, bool]:
    if at.check.state in ("to come", "under way"):
        return _check_words(at.check), False
    if at.check.state == "finished" and at.check.result is None:
        return "say what the check came to", False
    if not at.here and at.arrives is not None:
        return ("comes today" if at.arrives == at.today else f"comes {_day(at.arrives)}"), False
    return "bring in", False


def _here(at: Stage) -> tuple[str, bool]:
    if at.check.result is None and at.check.state in ("to come", "under way"):
        return _check_words(at.check), False
    if at.check.result is None and at.check.state == "finished":
        return "say what the check came to", False
    given = at.quote is not None and not at.quote.rough and at.quote.state in ("open", "thinking")
    if not given or at.quote is None:
        return "quote", False
    if at.quote.until is not None and at.quote.until < at.today:
        return f"the quote held until {_day(at.quote.until)}: ask again", True
    return "the customer's word", False


def _check_words(check: CheckNow) -> str:
    who = f" ({', '.join(check.people)})" if check.people else ""
    return f"check: {check.phase}{who}"


def _day(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"
