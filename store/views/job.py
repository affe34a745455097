"""The job card: all that is known of one job."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import NamedTuple, cast

from store.edges.instants import from_text
from store.file.kits.lacking import dated_kits
from store.file.privates import said_by
from store.file.route_now import PhaseRow, StepRow, book_phase, steps_of
from store.file.shop import Shop
from store.rules.blocking import Gate, blocking_step, who_signs
from store.rules.book import Reading
from store.rules.kit_at_hand import KitNeed
from store.rules.readings import Limits, known_limits, limits_text, names_of
from store.trouble import Refused
from store.views import outside
from store.views.clearing_values import Clearing
from store.views.desk.job_desk import job_desk
from store.views.desk.told import agreement_of
from store.views.desk.values import JobDesk
from store.views.getting_ready import kit_lines, part_lines
from store.views.in_time import with_chances
from store.views.job_told import (
    entries_of,
    findings,
    kits,
    notes,
    promises,
    with_reasons,
    workers,
)
from store.views.jobs import Parts, job_value, parts_of, remaining
from store.views.loading import load
from store.views.nameless import nameless
from store.views.past import labour_by_phase
from store.views.people_now import people_now
from store.views.ready import unready_of, with_ready
from store.views.said import job_ledger
from store.views.tools.kit_hold import with_dates
from store.views.values import (
    Asked,
    EstimateChange,
    Job,
    JobCard,
    PersonNow,
    PhaseKind,
    PhaseLine,
    Signature,
    Span,
    StepKind,
    StepLine,
    StepState,
    SupplementLine,
    SupplementState,
)


def job_card(shop: Shop, job: str, now: datetime, *, names: bool = True) -> JobCard:
    """Return one job with its phases, steps, signatures, extra work and history.

    Args:
        names: with the names of people outside the shop: whoever reads may see them.

    Raises:
        Refused: no job has that number.
    """
    with shop.reading() as db:
        people = people_now(db, now)
        card = card_of(db, job, now, people)
        told = entries_of(db, job)
        phases = with_reasons(card.phases, told)
        whole = replace(
            card, phases=phases, ledger=job_ledger(db, job), findings=findings(db, job, told),
            notes=notes(db, job, phases, told), kits=kits(db, job), promises=promises(db, job),
            workers=workers(db, job, people), desk=job_desk(db, card.calendar, job, now),
            calls=outside.calls(db, job), outwork=outside.outwork(db, [job]),
            advice=outside.advice(db, job), money=outside.money(db, job, now),
            job=with_ready(db, card.job, now), parts=part_lines(db, job),
            tools=with_chances(db, card.calendar, now, job, kit_lines(db, job)),
            unready=unready_of(db, job), clearing=_clearing(db, card.job, now),
        )  # fmt: skip
        return whole if names else nameless(whole)


def _clearing(db: sqlite3.Connection, job: Job, now: datetime) -> Clearing | None:
    """What clearing its lift takes; nobody asks while somebody is on it, or it is on none."""
    if job.state != "on-lift" or job.people:
        return None
    from store.views.clearing import clearing_of  # what most cards do not ask for

    return clearing_of(db, job.number, now)


def card_of(
    db: sqlite3.Connection, job: str, now: datetime, people: dict[str, PersonNow]
) -> JobCard:
    """Return what is to be done on one job, out of an open look: its card without what was told.

    Of the desk it has the customer's word, with the answers that were given ahead.

    Raises:
        Refused: no job has that number.
    """
    loaded = load(db, [job], now, people)
    if not loaded.heads:
        raise Refused(f"There is no job {job}. See the numbers with `hoistbook floor`.")
    parts = parts_of(loaded, loaded.heads[0])
    head = parts.head
    return JobCard(
        job=job_value(parts), at=now, calendar=loaded.calendar, zone=str(loaded.calendar.zone),
        grade=head.grade, price_basis=head.basis, book_version=head.version,
        options=tuple(sorted(json.loads(head.options).items())),
        phases=_phases(db, parts), supplements=_supplements(db, job),
        open_conditions=tuple(loaded.conditions[job]),
        estimate_changes=_changes(db, job),
        holds=tuple(one.value() for one in parts.running_holds),
        desk=JobDesk(agreement=agreement_of(db, job)),
    )  # fmt: skip


Signed = dict[tuple[str, str], list[Signature]]


class _Work(NamedTuple):
    """Hours of learners, badges and kits, by phase."""

    learner_h: dict[str, float]
    people: dict[str, tuple[str, ...]]
    dated: dict[str, tuple[KitNeed, ...]]
    """Kits that must not be used."""


@dataclass(frozen=True, slots=True)
class _Allowed:
    """Limits as they hold for one job, typed for it or set by the lift under it."""

    typed: dict[tuple[str, str], dict[str, Limits]]
    rated_kg: float | None

    def known(self, step: StepRow, reading: Reading) -> Reading:
        return known_limits(reading, self.typed.get((step.phase, step.step), {}), self.rated_kg)


def _phases(db: sqlite3.Connection, parts: Parts) -> tuple[PhaseLine, ...]:
    steps: dict[str, list[StepRow]] = defaultdict(list)
    for step in steps_of(db, parts.head.job):
        steps[step.phase].append(step)
    signed = _signatures(db, parts.head.job)
    allowed = _Allowed(_typed_limits(db, parts.head.job), _rated_kg(db, parts.head.job))
    learner = labour_by_phase(
        parts.loaded.calendar, parts.loaded.clocks[parts.head.job], parts.loaded.now, learner=True
    )
    dated = dated_kits(
        db, parts.head.job, parts.phases, parts.loaded.calendar.day_of(parts.loaded.now)
    )
    work = _Work(learner, _people(db, parts), dated)
    return tuple(
        _phase(db, parts, one, steps[one.phase], (signed, allowed), work) for one in parts.phases
    )


def _phase(
    db: sqlite3.Connection,
    parts: Parts,
    row: PhaseRow,
    steps: list[StepRow],
    proofs: tuple[Signed, _Allowed],
    work: _Work,
) -> PhaseLine:
    labour = parts.labour.get(row.phase, 0.0)
    hold, gate = parts.hold_on(row.phase), parts.blocked_by(row)
    live = row.state in ("to come", "under way")
    return PhaseLine(
        number=row.phase, code=row.code, name=row.name, kind=cast("PhaseKind", row.kind),
        state=parts.state(row), book_h=row.book_h, estimate=Span(row.middle_h, row.cautious_h),
        labour_h=labour, learner_h=work.learner_h.get(row.phase, 0.0),
        remaining=remaining(parts, row),
        people=work.people.get(row.phase, ()), held_h=_held_h(parts, row.phase),
        hold=hold.value() if hold and live else None,
        blocked_by=gate_words(gate) if gate else None,
        cautions=book_phase(db, row.version, row.code).cautions, note=row.note,
        steps=tuple(
            with_dates(_step(one, steps, gate, *proofs), work.dated.get(row.phase, ()))
            for one in steps
        ),
    )  # fmt: skip


def _people(db: sqlite3.Connection, parts: Parts) -> dict[str, tuple[str, ...]]:
    """Badges by phase, of whoever has left the shop too."""
    badges = dict(db.execute("select person, badge from person").fetchall())
    found: dict[str, dict[str, None]] = defaultdict(dict)
    for one in parts.loaded.clocks[parts.head.job]:
        found[one.phase][badges[one.person]] = None
    return {phase: tuple(who) for phase, who in found.items()}


def _held_h(parts: Parts, phase: str) -> float:
    """Open hours for which a phase was held."""
    found = 0.0
    for one in parts.loaded.holds[parts.head.job]:
        if one.phase == phase:
            since = from_text(one.since)
            until = from_text(one.until) if one.until else parts.loaded.now
            found += parts.loaded.calendar.working_h(since, max(since, until))
    return found


def gate_words(gate: Gate) -> str:
    """Name what must be signed or answered first, and by whom."""
    if gate.spec.kind == "decision":
        return f"answer {gate.at} first: {gate.spec.text}"
    what = "second name on" if gate.state == "half" else "sign"
    return f"{what} {gate.at} first: {gate.spec.text} ({who_signs(gate.spec)})"


def _step(
    row: StepRow, steps: list[StepRow], gate: Gate | None, signed: Signed, allowed: _Allowed
) -> StepLine:
    spec = row.spec
    readings = [allowed.known(row, one) for one in spec.readings]
    before = blocking_step(
        [one.gate() for one in steps if one.kind != "step"], row.phase, row.position
    )
    waits = gate or before
    return StepLine(
        step=row.step, text=spec.text, detail=spec.detail, caution=spec.caution,
        kind=cast("StepKind", row.kind), state=cast("StepState", row.state), signs=row.signs,
        waits_for=gate_words(waits) if waits and row.state != "done" else None,
        limits=tuple(f"{one.text} {limits_text(one)}" for one in readings),
        positions=tuple(names_of(spec.readings)),
        answers=tuple((one.code, one.text) for one in spec.answers),
        signed=tuple(signed.get((row.phase, row.step), ())),
        who=who_signs(spec) if row.kind == "hold point" else "", asks=_asks(readings),
    )  # fmt: skip


def _asks(readings: Sequence[Reading]) -> tuple[Asked, ...]:
    places = [(one, place) for one in readings for place in one.positions or ("",)]
    return tuple(
        Asked(name, one.code, one.text, place, one.unit, limits_text(one), one.typed)
        for name, (one, place) in zip(names_of(readings), places, strict=True)
    )


def _typed_limits(db: sqlite3.Connection, job: str) -> dict[tuple[str, str], dict[str, Limits]]:
    found: dict[tuple[str, str], dict[str, Limits]] = defaultdict(dict)
    for row in db.execute(
        "select phase, step, reading, low, high from step_limit where job = ?", [job]
    ):
        found[row["phase"], row["step"]][row["reading"]] = (row["low"], row["high"])
    return found


def _rated_kg(db: sqlite3.Connection, job: str) -> float | None:
    row = db.execute(
        "select rated_kg from job_place join place using (place) "
        "where job = ? and part = 'body' and kind = 'lift'",
        [job],
    ).fetchone()
    return None if row is None else row["rated_kg"]


def _signatures(db: sqlite3.Connection, job: str) -> Signed:
    found: Signed = defaultdict(list)
    for row in db.execute(
        "select phase, step, badge, name, at, readings, answer, void, in_limits, as_is, void_at "
        "from signature join person using (person) where job = ? order by seq",
        [job],
    ):
        found[row["phase"], row["step"]].append(
            Signature(
                row["badge"], row["name"], from_text(row["at"]),
                tuple(json.loads(row["readings"]).items()), row["answer"], bool(row["void"]),
                bool(row["in_limits"]), row["as_is"],
                from_text(row["void_at"]) if row["void_at"] else None,
            )
        )  # fmt: skip
    return found


def _supplements(db: sqlite3.Connection, job: str) -> tuple[SupplementLine, ...]:
    return tuple(
        SupplementLine(
            row["line"], row["text"], row["hours"], row["money"],
            cast("SupplementState", row["state"]), row["phase"], from_text(row["asked_at"]),
            row["name"], from_text(row["answered_at"]) if row["answered_at"] else None,
            said_by(db, row["answered_by"]), row["means"],
        )
        for row in db.execute(
            "select line, text, hours, money, state, phase, asked_at, name, answered_at, "
            "answered_by, means from supplement join person on person.person = asked_by "
            "where job = ? order by line",
            [job],
        )
    )  # fmt: skip


def _changes(db: sqlite3.Connection, job: str) -> tuple[EstimateChange, ...]:
    return tuple(
        EstimateChange(from_text(row["at"]), row["middle_h"], row["cautious_h"], row["cause"])
        for row in db.execute(
            "select at, middle_h, cautious_h, cause from estimate_change "
            "where job = ? order by seq",
            [job],
        )
    )
