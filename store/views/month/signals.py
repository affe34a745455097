"""Signal or noise: what changed in the shop that luck hardly explains, up to a month's end.

What is about work was looked for by the learner, once a month (`learned/signals_part`): here it is
read and told. What is a row of yes and no (deliveries, promises, holds) is judged as it is read,
and likewise only up to the end of a month: a look a day would find luck more often than promised.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from store.file.learned.signals_part import kept_signals
from store.file.month.turns import Delivery, by_supplier, deliveries, held_for
from store.learn.signals.found import FALSE_A_YEAR, OWN, STRIP, Found
from store.rules.oftener import Happened, kept_and_held, suppliers
from store.sums.month.jobs import JobJudged, PhaseJudged
from store.views.month.charts import rows_chart, shop_chart, work_chart
from store.views.month.look import Look
from store.views.month.signals_said import said, whole_says
from store.views.month.told_values import Chart, Signal, Signals
from store.views.month.way import Way


def signals_of(look: Look) -> Signals:
    """Return changes of operations, phases, families, people and suppliers, with their charts.

    A month that is past is told with what is known today; what began after it is left out.
    """
    work, rows = kept_signals(look.db), _rows(look)
    told = [
        *((one, _at_work(look, one)) for one in (work.found if work else ()) if _shown(look, one)),
        *((one, rows.below(one)) for one in rows.found()),
    ]
    signals = sorted(
        ((_signal(look, one, below), one, below) for one, below in told),
        key=lambda each: (each[0].since, -each[0].chance), reverse=True,
    )  # fmt: skip
    shown = tuple(each[0] for each in signals)
    shop = shop_chart(look)
    watched = (work.watched if work else 0) + rows.watched
    return Signals(
        found=tuple(one for one in shown if one.since >= look.span.first),
        old=tuple(one for one in shown if one.since < look.span.first),
        charts=((shop,) if shop else ()) + tuple(_chart(look, *each) for each in signals),
        watched=watched, false_a_year=FALSE_A_YEAR,
        says=whole_says(len(shown), watched, looked=work is not None, running=look.span.running),
    )  # fmt: skip


def _shown(look: Look, one: Found) -> bool:
    if one.what == "person" and not look.sees(one.code):
        return False
    return one.since < look.span.until.timestamp()


def _day(look: Look, at: float) -> date:
    return datetime.fromtimestamp(at, look.calendar.zone).date()


def _signal(look: Look, one: Found, below: Sequence[Below]) -> Signal:
    since, early, late = (_day(look, at) for at in (one.since, one.early, one.late))
    name = _name(look, one)
    return Signal(
        one.what, one.code, name, since, said(one, name, early, late, since), one.before,
        one.after, one.count_before, one.count_after, _ways(one, below), one.kind, early, late,
        one.chance,
    )  # fmt: skip


def _name(look: Look, one: Found) -> str:
    if one.what == "operation":
        known = look.book.operations.get(one.code) if look.book else None
        name = known.name if known else one.code
        return f"{name} (access apart)" if one.part == OWN else name
    if one.what == "phase":
        named = {each.code: each.name for each in look.facts.phases}
        return named.get(one.code, one.code)
    if one.what == "person":
        return look.facts.people.get(one.code, one.code)
    if one.what == "family":
        return f"strip work on {one.code}" if one.part == STRIP else f"work on {one.code}"
    return {"shop": "the shop", "promise": "promises"}.get(one.what, one.code)


# -- what it is made of


@dataclass(frozen=True, slots=True)
class Below:
    """A job, delivery or promise that a signal is made of. `value`: labour / book, or days."""

    at: datetime
    says: str
    job: str | None
    value: float
    yes: bool = False


def _ways(one: Found, below: Sequence[Below]) -> tuple[Way, ...]:
    after = [each for each in below if each.at.timestamp() >= one.since]
    return tuple(Way(each.says, each.value, job=each.job, at=each.at) for each in reversed(after))


def _at_work(look: Look, one: Found) -> list[Below]:
    """Labour / book of each job's phases that it is about, by time of the last."""
    works = {each.job: each.work for each in look.facts.jobs}
    groups: dict[str, list[PhaseJudged]] = {}
    shared = _shared(look.facts.phases) if one.part == OWN else set[str]()
    for each in look.facts.phases:
        if each.code not in shared and _concerns(one, each):
            groups.setdefault(each.job, []).append(each)
    found = [
        Below(at, works.get(job, each[0].name), job, _ratio(each))
        for job, each in groups.items()
        if (at := each[-1].finished_at) is not None
    ]
    return sorted(found, key=lambda each: (each.at, each.job or ""))


def _shared(phases: Iterable[PhaseJudged]) -> set[str]:
    """Codes of phases that several operations have: access."""
    users: dict[str, set[str]] = defaultdict(set)
    for one in phases:
        users[one.code].update(one.operation.split("+"))
    return {code for code, operations in users.items() if len(operations) > 1}


def _concerns(one: Found, phase: PhaseJudged) -> bool:
    if phase.small or phase.not_teaching or phase.book_h <= 0 or phase.labour_h <= 0:
        return False
    return {
        "shop": True, "operation": one.code in phase.operation.split("+"),
        "phase": phase.code == one.code, "person": phase.badge == one.code,
        "family": phase.family == one.code and one.part in ("", phase.phase_class),
    }.get(one.what, False)  # fmt: skip


def _ratio(phases: Iterable[PhaseJudged]) -> float:
    known = list(phases)
    return sum(one.labour_h for one in known) / sum(one.book_h for one in known)


# -- rows of yes and no


@dataclass(frozen=True, slots=True)
class _Rows:
    """Deliveries by supplier; jobs with a promise; jobs held, by reason."""

    came: dict[str, list[Delivery]]
    promised: tuple[JobJudged, ...]
    closed: tuple[JobJudged, ...]
    held: dict[str, set[str]]

    @property
    def watched(self) -> int:
        """How many rows."""
        return len(self.came) + len(self.held) + bool(self.promised)

    def found(self) -> list[Found]:
        """What luck hardly explains."""
        late = {name: self._happened("supplier", name) for name in self.came}
        held = {reason: self._happened("held", reason) for reason in self.held}
        return [*suppliers(late), *kept_and_held(self._happened("promise", ""), held)]

    def _happened(self, what: str, code: str) -> list[Happened]:
        return [Happened(one.at.timestamp(), one.yes) for one in self._below(what, code)]

    def below(self, one: Found) -> list[Below]:
        """What it is made of, in order of time."""
        return self._below(one.what, one.code)

    def _below(self, what: str, code: str) -> list[Below]:
        if what == "supplier":
            return [
                Below(one.at, one.kit, one.job, float(one.days), one.days > 0)
                for one in self.came[code]
            ]
        if what == "held":
            inside = self.held[code]
            return [
                Below(one.closed_at, one.work, one.job, float(one.job in inside), one.job in inside)
                for one in self.closed
            ]
        return [
            Below(ready, one.work, one.job, float(ready > at), ready > at)
            for one in self.promised
            if (ready := one.ready_at) is not None and (at := one.promised) is not None
        ]


def _rows(look: Look) -> _Rows:
    until = look.span.since if look.span.running else look.span.until
    jobs = [one for one in look.facts.jobs if one.closed_at < until]
    promised = [one for one in jobs if one.promised is not None and one.ready_at is not None]
    promised.sort(key=lambda one: (one.ready_at is not None and one.ready_at.timestamp(), one.job))
    return _Rows(
        by_supplier(deliveries(look.db, look.calendar, until)), tuple(promised),
        tuple(one for one in jobs if not one.small),
        held_for(look.db, look.calendar, until),
    )  # fmt: skip


def _chart(look: Look, signal: Signal, one: Found, below: Sequence[Below]) -> Chart:
    days = [(_day(look, each.at.timestamp()), each) for each in below]
    if one.what in ("supplier", "promise", "held"):
        return rows_chart(signal, [(day, each.value, each.yes) for day, each in days])
    return work_chart(signal, [(day, each.job or "", each.value) for day, each in days])
