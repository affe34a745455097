"""What a shop holds at one moment, as somebody who picks an act at random looks for it."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass
from datetime import datetime
from random import Random

from store.file.route_now import PhaseRow, StepRow, phases_of, steps_of
from store.rules.book import Step

ENDED = "('closed', 'declined', 'turned-away')"


@dataclass(frozen=True, slots=True)
class Held:
    """One look at a shop, by somebody with dice.

    Attributes:
        db: the look; only read, and not kept beyond it.
        dice: picks.
        now: the machine's instant.
        badge: who acts.
    """

    db: sqlite3.Connection
    dice: Random
    now: datetime
    badge: str

    def one(self, sql: str, *values: object) -> str | None:
        """Some value of a query of one column, as text; None where it has no row."""
        rows = self.db.execute(sql, values).fetchall()
        return str(self.dice.choice(rows)[0]) if rows else None

    def row(self, sql: str, *values: object) -> sqlite3.Row | None:
        """Some row of a query; None where it has none."""
        rows = self.db.execute(sql, values).fetchall()
        return self.dice.choice(rows) if rows else None

    def job(self, where: str = "true", *values: object) -> str | None:
        """Some job that has not ended."""
        return self.one(f"select job from job where state not in {ENDED} and {where}", *values)

    def any_job(self) -> str:
        """Some job, ended or not; now and then one that was never taken."""
        if self.dice.random() < 0.03:
            return "9" * 5
        return self.job() or self.one("select job from job") or "1"

    def phase(self, *states: str) -> tuple[str, PhaseRow] | None:
        """Some phase of some job in one of those states; in any where none is said."""
        job = self.job("small = 0 or true")
        if job is None:
            return None
        rows = [one for one in phases_of(self.db, job) if not states or one.state in states]
        return (job, self.dice.choice(rows)) if rows else None

    def next_phase(self) -> tuple[str, PhaseRow] | None:
        """The first phase of some job that is neither finished nor skipped."""
        job = self.job("state not in ('enquiry', 'booked')") or self.job()
        if job is None:
            return None
        left = [one for one in phases_of(self.db, job) if one.state in ("to come", "under way")]
        return (job, left[0]) if left else None

    def open_step(self) -> tuple[str, StepRow] | None:
        """The first open step of a phase that is worked on, now and then another one."""
        at = self.row("select job, phase from clock where until is null and job is not null")
        if at is None or self.dice.random() < 0.1:
            found = self.next_phase()
            at_job = None if found is None else (found[0], found[1].phase)
        else:
            at_job = (at["job"], at["phase"])
        if at_job is None:
            return None
        steps = [one for one in steps_of(self.db, at_job[0]) if one.phase == at_job[1]]
        left = [one for one in steps if one.state != "done"] or steps
        if not left:
            return None
        return at_job[0], left[0] if self.dice.random() < 0.8 else self.dice.choice(left)

    def readings(self, step: Step) -> dict[str, float]:
        """Something for every reading of a step, mostly within its limits."""
        found: dict[str, float] = {}
        for one in step.readings:
            low = one.low if one.low is not None else (one.high or 50.0) - 1
            high = one.high if one.high is not None else low + 1
            value = self.dice.uniform(low, high)
            if self.dice.random() < 0.1:
                value += 2 * (high - low) + 1
            for name in one.positions or (one.code,):
                found[name] = round(value, 3)
        return found

    def clock(self) -> int | None:
        """Some clock of whoever acts, or now and then of anybody."""
        own = "" if self.dice.random() < 0.2 else "where badge = ?"
        found = self.one(
            f"select seq from clock join person using (person) {own} order by seq desc limit 8",
            *([self.badge] if own else []),
        )
        return None if found is None else int(found)

    def lift(self) -> str:
        """Some lift."""
        return self.one("select code from place where kind = 'lift'") or "1"

    def place(self) -> str:
        """Some place that is no lift."""
        return self.one("select code from place where kind != 'lift'") or "Y"

    def person(self) -> str:
        """Somebody's badge."""
        return self.one("select badge from person") or self.badge

    def operation(self) -> str:
        """Some operation of the work book that holds."""
        row = self.db.execute(
            "select content from book order by version desc limit 1"
        ).fetchone()  # fmt: skip
        if row is None:
            return "TC"
        codes = [str(one["code"]) for one in json.loads(row[0])["operations"]]
        return self.dice.choice(codes)

    def kit(self) -> str:
        """Some kit of the work book."""
        return self.one("select code from kit") or "link"

    def hire(self, where: str) -> str | None:
        """Some hire."""
        return self.one(f"select hire from hire where {where}")

    def text(self) -> str:
        """Words, mostly harmless; now and then none at all or with signs that are none."""
        return self.dice.choices(
            ("stud breaks", "Dichtung naß, Öl überall", "面が荒れている", "a" * 300, "", "\x1b[2J"),
            (60, 20, 14, 3, 2, 1),
        )[0]
