"""A route that changes under way: the work book laid anew, compared with what there is.

What was done stays done. Phases not begun fall away or join, a phase under way that falls away is
cut off; numbers are never used again.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field

from store.actions.acting import Acting
from store.actions.clock import stop_all
from store.actions.jobs_now import job_row, record_estimate
from store.edges.events import (
    AddedSteps,
    Dropped,
    Figures,
    Rated,
    RouteChanged,
    RoutePhase,
    RouteStep,
)
from store.file.books import book_of
from store.file.route_now import PhaseRow, StepRow, phases_of, steps_of
from store.rules import routes
from store.rules.book import Answer, Step
from store.rules.estimating import of_phase
from store.rules.route_end import still_needed


def take_answer(
    doing: Acting, job: str, answer: Answer, *, because: int, question: str
) -> str | None:
    """Change the route as the answer to a decision says.

    Returns:
        What changed, in words; None where nothing did.
    """
    row = job_row(doing.db, job)
    if row.version is None or (not answer.sets and not answer.ends):
        return None
    options: dict[str, str] = {**json.loads(row.options), **answer.sets}
    return lay_anew(
        doing, job, options, cause=f"{question} {answer.text}", because=because, ends=answer.ends
    )


def lay_anew(
    doing: Acting, job: str, options: dict[str, str], *, cause: str, because: int, ends: bool
) -> str | None:
    """Lay a job's route by the work book with these options, and record what is other than it was.

    Args:
        ends: the planned work ends here.

    Returns:
        What changed, in words; None where nothing did.
    """
    row = job_row(doing.db, job)
    assert row.version is not None
    new = routes.lay(
        book_of(doing.db, row.version),
        operations=json.loads(row.operations),
        family=row.family,
        options=options,
        grade=row.grade,
    )
    phases = phases_of(doing.db, job)
    change = (
        _ended(doing, job, phases, new, cause)
        if ends
        else _compare(phases, steps_of(doing.db, job), new, cause)
    )
    _stop_clocks(doing, job, change)
    doing.record(change.event(job, row.version, options, cause, because))
    if change.nothing():
        return None
    record_estimate(doing, job, cause)
    return change.words()


@dataclass(slots=True)
class _Change:
    """What the comparison found."""

    added: list[RoutePhase] = field(default_factory=list[RoutePhase])
    dropped: list[Dropped] = field(default_factory=list[Dropped])
    restored: list[str] = field(default_factory=list[str])
    rated: list[Rated] = field(default_factory=list[Rated])
    steps: list[AddedSteps] = field(default_factory=list[AddedSteps])
    steps_removed: list[tuple[str, str]] = field(default_factory=list[tuple[str, str]])
    names: dict[str, str] = field(default_factory=dict[str, str])

    def nothing(self) -> bool:
        """No phase, hour or step is other than it was."""
        return not (
            self.added or self.dropped or self.restored or self.rated or self.steps
            or self.steps_removed
        )  # fmt: skip

    def event(
        self, job: str, version: int, options: dict[str, str], cause: str, because: int
    ) -> RouteChanged:
        """As it goes into the ledger."""
        return RouteChanged(
            job=job, cause=cause, because=because, options=options, version=version,
            added=self.added, dropped=self.dropped, restored=self.restored, rated=self.rated,
            steps=self.steps, steps_removed=self.steps_removed,
        )  # fmt: skip

    def words(self) -> str:
        """Say what falls away and what joins."""
        parts: list[str] = []
        gone = [f"{one.phase} {self.names[one.phase]}" for one in self.dropped]
        if gone:
            parts.append(f"falls away: {', '.join(gone)}")
        new = [f"{one.phase} {one.name}" for one in self.added]
        new += [f"{one} {self.names[one]}" for one in self.restored]
        if new:
            parts.append(f"new: {', '.join(new)}")
        return f"The route changed; {'; '.join(parts)}." if parts else "Hours or steps changed."


def _stop_clocks(doing: Acting, job: str, change: _Change) -> None:
    for gone in change.dropped:
        if gone.cut_off:
            stop_all(doing, job, gone.phase)


def _compare(
    phases: list[PhaseRow], steps: list[StepRow], new: Sequence[routes.RoutePhase], cause: str
) -> _Change:
    change = _Change(names={one.phase: one.name for one in phases})
    live = {one.code: one for one in phases if one.state != "skipped"}
    gone = {one.code: one for one in phases if one.state == "skipped" and one.begun_at is None}
    wanted = {one.phase.code for one in new}
    for one in phases:
        if one.state in ("to come", "under way") and one.code not in wanted:
            change.dropped.append(
                Dropped(phase=one.phase, note=cause, cut_off=one.state == "under way")
            )
    numbering = _Numbering(phases)
    for index, laid in enumerate(new):
        code = laid.phase.code
        if code in live:
            _keep(change, live[code], steps, laid)
        elif code in gone:
            change.restored.append(gone[code].phase)
        else:
            following = [each.phase.code for each in new[index + 1 :]]
            change.added.append(numbering.phase(laid, following))
    return change


def _keep(change: _Change, row: PhaseRow, steps: list[StepRow], laid: routes.RoutePhase) -> None:
    if row.state == "finished":
        return
    book = (laid.book.low, laid.book.middle, laid.book.high)
    kits = [need.kit for need in laid.kits]
    if any(abs(a - b) > 1e-6 for a, b in zip(book, row.book(), strict=True)) or kits != json.loads(
        row.kits
    ):
        extra = row.middle_h - row.book_h
        change.rated.append(
            Rated(phase=row.phase, book=book, estimate=figures_of(book, extra), kits=kits)
        )
    there = [one for one in steps if one.phase == row.phase]
    _compare_steps(change, row.phase, there, laid.steps)


def figures_of(book: tuple[float, float, float], extra: float = 0.0) -> Figures:
    """Return a phase's estimate from the book, raised by extra hours."""
    figures = of_phase(book)
    return Figures(
        middle=figures.middle + extra, cautious=figures.cautious + extra, mean=figures.mean + extra
    )


def _compare_steps(change: _Change, phase: str, there: list[StepRow], new: Sequence[Step]) -> None:
    wanted = {one.code for one in new}
    known = {one.code: one.position for one in there}
    change.steps_removed += [
        (phase, one.step) for one in there if one.code not in wanted and one.state == "open"
    ]
    number = max((int(one.step) for one in there), default=0)
    added: list[RouteStep] = []
    before = 0.0
    for one in new:
        if one.code in known:
            before = known[one.code]
            continue
        number += 1
        later = min((each.position for each in there if each.position > before), default=before + 2)
        before = (before + later) / 2
        added.append(route_step(one, str(number), before))
    if added:
        change.steps.append(AddedSteps(phase=phase, steps=added))


def _ended(
    doing: Acting, job: str, phases: list[PhaseRow], new: Sequence[routes.RoutePhase], cause: str
) -> _Change:
    """The planned work ends: only what gives the vehicle back closed and filled is still done."""
    change = _Change(names={one.phase: one.name for one in phases})
    begun = {one.code for one in phases if one.state in ("under way", "finished")}
    tags = [row[0] for row in doing.db.execute("select code from condition where job = ?", [job])]
    stays = still_needed(new, begun, tags)
    change.dropped += [
        Dropped(phase=one.phase, note=cause)
        for one in phases
        if one.state == "to come" and one.code not in stays
    ]
    return change


def route_step(step: Step, number: str, position: float) -> RouteStep:
    """Return a step as it goes into the ledger."""
    return RouteStep(
        step=number, position=position, code=step.code, step_kind=step.kind, signs=step.signs,
        void_on_lift=step.void_on_lift, blocks=list(step.blocks),
    )  # fmt: skip


def route_phase(laid: routes.RoutePhase, number: str, position: float) -> RoutePhase:
    """Return a phase as it goes into the ledger, its steps numbered from 1."""
    phase = laid.phase
    book = (laid.book.low, laid.book.middle, laid.book.high)
    return RoutePhase(
        phase=number, position=position, code=phase.code, name=phase.name, phase_kind=phase.kind,
        phase_class=phase.phase_class, after=phase.after, book=book, estimate=figures_of(book),
        serves=list(laid.serves), kits=[need.kit for need in laid.kits],
        steps=[route_step(one, str(n), float(n)) for n, one in enumerate(laid.steps, 1)],
    )  # fmt: skip


class _Numbering:
    """Numbers and positions for phases that join: the number they follow, and a letter."""

    def __init__(self, phases: list[PhaseRow]) -> None:
        self._order = [(one.position, one.phase, one.code) for one in phases]

    def phase(self, laid: routes.RoutePhase, following: Sequence[str]) -> RoutePhase:
        """Put a phase before the first of those that follow it and are there already."""
        self._order.sort()
        nexts = [place for place, one in enumerate(self._order) if one[2] in following]
        at = min(nexts, default=len(self._order))
        position = self._between(at)
        base = self._order[at - 1][1].rstrip("abcdefghijklmnopqrstuvwxyz") if at else "1"
        number = self._free(base)
        self._order.append((position, number, laid.phase.code))
        return route_phase(laid, number, position)

    def _between(self, at: int) -> float:
        before = self._order[at - 1][0] if at else 0.0
        after = self._order[at][0] if at < len(self._order) else before + 2.0
        return (before + after) / 2

    def _free(self, base: str) -> str:
        taken = {one[1] for one in self._order}
        letters = "bcdefghijklmnopqrstuvwxyz"
        names = [base + one for one in letters]
        names += [base + one + other for one in letters for other in letters]
        return next(name for name in names if name not in taken)
