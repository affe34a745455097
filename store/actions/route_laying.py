"""A route beside the one that a job has: what joins, falls away, or takes other hours."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from store.actions.acting import Acting
from store.edges.events.route import (
    AddedSteps,
    Dropped,
    Figures,
    Rated,
    RouteChanged,
    RoutePhase,
    RouteStep,
)
from store.file.route_now import PhaseRow, StepRow, gone_steps, steps_of
from store.rules import routes
from store.rules.book import Step
from store.rules.estimating import CAUTIOUS, of_phase


@dataclass(slots=True)
class Change:
    """What the comparison found.

    Attributes:
        estimates: hours of phases that join, by code, where they are other than the book's.
        grows: nothing is agreed yet: what comes after all that is there takes whole numbers.
    """

    cautious: float
    estimates: Mapping[str, Figures] = field(default_factory=dict[str, Figures])
    grows: bool = False
    added: list[RoutePhase] = field(default_factory=list[RoutePhase])
    dropped: list[Dropped] = field(default_factory=list[Dropped])
    restored: list[str] = field(default_factory=list[str])
    removed: list[str] = field(default_factory=list[str])
    rated: list[Rated] = field(default_factory=list[Rated])
    steps: list[AddedSteps] = field(default_factory=list[AddedSteps])
    steps_removed: list[tuple[str, str]] = field(default_factory=list[tuple[str, str]])
    steps_gone: list[tuple[str, str]] = field(default_factory=list[tuple[str, str]])
    steps_restored: list[tuple[str, str]] = field(default_factory=list[tuple[str, str]])
    names: dict[str, str] = field(default_factory=dict[str, str])

    def nothing(self) -> bool:
        """No phase, hour or step is other than it was."""
        return not (
            self.added or self.dropped or self.restored or self.removed or self.rated
            or self.steps or self.steps_removed or self.steps_gone or self.steps_restored
        )  # fmt: skip

    def event(
        self,
        job: str,
        version: int,
        options: dict[str, str],
        cause: str,
        because: int | None = None,
    ) -> RouteChanged:
        """As it goes into the ledger."""
        return RouteChanged(
            job=job, cause=cause, because=because, options=options, version=version,
            added=self.added, dropped=self.dropped, restored=self.restored,
            removed=self.removed, rated=self.rated,
            steps=self.steps, steps_removed=self.steps_removed, steps_gone=self.steps_gone,
            steps_restored=self.steps_restored,
        )  # fmt: skip

    def words(self) -> str:
        """Say what falls away and what joins."""
        parts: list[str] = []
        lost = [*(one.phase for one in self.dropped), *self.removed]
        gone = [f"{one} {self.names[one]}" for one in lost]
        if gone:
            parts.append(f"falls away: {', '.join(gone)}")
        new = [f"{one.phase} {one.name}" for one in self.added]
        new += [f"{one} {self.names[one]}" for one in self.restored]
        if new:
            parts.append(f"new: {', '.join(new)}")
        return f"The route changed; {'; '.join(parts)}." if parts else "Hours or steps changed."


@dataclass(frozen=True, slots=True)
class RouteNow:
    """A job's route as it stands.

    Attributes:
        steps: those that apply, by phase.
        gone: numbers of steps that apply no more, by phase and code.
        by_hand: numbers of phases that somebody left out.
    """

    phases: list[PhaseRow]
    steps: dict[str, list[StepRow]]
    gone: dict[tuple[str, str], str]
    by_hand: set[str]


def route_now_of(doing: Acting, job: str, phases: list[PhaseRow]) -> RouteNow:
    """Return a job's route with its steps, of an open act."""
    steps: dict[str, list[StepRow]] = {}
    for one in steps_of(doing.db, job):
        steps.setdefault(one.phase, []).append(one)
    return RouteNow(phases, steps, gone_steps(doing.db, job), _by_hand(doing, job))


def _by_hand(doing: Acting, job: str) -> set[str]:
    """Phases that a person left out: no answer of the work book brings them back."""
    return {
        row[0]
        for row in doing.db.execute(
            "select payload ->> '$.phase' from entry cross join ledger on ledger.seq "
            "between entry.seq and entry.last where entry.job = ? and not undone "
            "and kind = 'phase-skipped'",
            [job],
        )
    }


def compare(change: Change, now: RouteNow, new: Sequence[routes.RoutePhase], cause: str) -> None:
    """Write into a change what makes the new route of the one that there is."""
    live = {one.code: one for one in now.phases if one.state != "skipped"}
    gone = {one.code: one for one in now.phases if one.state == "skipped"}
    wanted = {one.phase.code for one in new}
    for one in now.phases:
        if one.state in ("to come", "under way") and one.code not in wanted:
            change.dropped.append(
                Dropped(phase=one.phase, note=cause, cut_off=one.state == "under way")
            )
    numbering = Numbering(now.phases, change)
    for index, laid in enumerate(new):
        code = laid.phase.code
        if code in live:
            _keep(change, live[code], now, laid)
        elif code in gone:
            if gone[code].phase not in now.by_hand:
                change.restored.append(gone[code].phase)
                _keep(change, gone[code], now, laid)
        else:
            following = [each.phase.code for each in new[index + 1 :]]
            change.added.append(numbering.phase(laid, following))


def _keep(change: Change, row: PhaseRow, now: RouteNow, laid: routes.RoutePhase) -> None:
    if row.state == "finished":
        return
    book = (laid.book.low, laid.book.middle, laid.book.high)
    kits = [need.kit for need in laid.kits]
    if any(abs(a - b) > 1e-6 for a, b in zip(book, row.book(), strict=True)) or kits != json.loads(
        row.kits
    ):
        extra = row.middle_h - row.book_h
        figures = figures_of(book, extra, change.cautious)
        change.rated.append(Rated(phase=row.phase, book=book, estimate=figures, kits=kits))
    _compare_steps(change, row.phase, now, laid.steps)


def figures_of(
    book: tuple[float, float, float], extra: float = 0.0, cautious: float = CAUTIOUS
) -> Figures:
    """Return a phase's estimate from the book, raised by extra hours."""
    figures = of_phase(book, cautious)
    return Figures(
        middle=round(figures.middle + extra, 6),
        cautious=round(figures.cautious + extra, 6),
        mean=round(figures.mean + extra, 6),
    )


def _compare_steps(change: Change, phase: str, now: RouteNow, new: Sequence[Step]) -> None:
    """A step that applies again comes back under its number; a new one takes the next."""
    wanted = {one.code for one in new}
    there = now.steps.get(phase, [])
    gone = {code: step for (where, code), step in now.gone.items() if where == phase}
    change.steps_gone += [
        (phase, one.step) for one in there if one.code not in wanted and one.state == "open"
    ]
    change.steps_restored += [(phase, step) for code, step in gone.items() if code in wanted]
    known = {one.code: one.position for one in there}
    number = max(map(int, [*(one.step for one in there), *gone.values()]), default=0)
    added: list[RouteStep] = []
    before = 0.0
    for one in new:
        if one.code in known or one.code in gone:
            before = known.get(one.code, before)
            continue
        number += 1
        later = min((each.position for each in there if each.position > before), default=before + 2)
        before = (before + later) / 2
        added.append(route_step(one, str(number), before))
    if added:
        change.steps.append(AddedSteps(phase=phase, steps=added))


def route_step(step: Step, number: str, position: float) -> RouteStep:
    """Return a step as it goes into the ledger."""
    return RouteStep(
        step=number, position=position, code=step.code, step_kind=step.kind, signs=step.signs,
        void_on_lift=step.void_on_lift, blocks=list(step.blocks),
    )  # fmt: skip


def route_phase(
    laid: routes.RoutePhase,
    number: str,
    position: float,
    cautious: float = CAUTIOUS,
    estimate: Figures | None = None,
) -> RoutePhase:
    """Return a phase as it goes into the ledger, its steps numbered from 1.

    Args:
        estimate: its hours; None is the book's.
    """
    phase = laid.phase
    book = (laid.book.low, laid.book.middle, laid.book.high)
    return RoutePhase(
        phase=number, position=position, code=phase.code, name=phase.name, phase_kind=phase.kind,
        phase_class=phase.phase_class, after=phase.after, book=book,
        estimate=estimate or figures_of(book, cautious=cautious),
        serves=list(laid.serves), kits=[need.kit for need in laid.kits],
        steps=[route_step(one, str(n), float(n)) for n, one in enumerate(laid.steps, 1)],
    )  # fmt: skip


class Numbering:
    """Numbers and positions for phases that join: the number they follow, and a letter."""

    def __init__(self, phases: list[PhaseRow], change: Change) -> None:
        self._change = change
        self._order = [(one.position, one.phase, one.code) for one in phases]

    def phase(self, laid: routes.RoutePhase, following: Sequence[str]) -> RoutePhase:
        """Put a phase before the first of those that follow it and are there already."""
        self._order.sort()
        nexts = [place for place, one in enumerate(self._order) if one[2] in following]
        at = min(nexts, default=len(self._order))
        position = self._between(at)
        number = self._number(at)
        self._order.append((position, number, laid.phase.code))
        estimate = self._change.estimates.get(laid.phase.code)
        return route_phase(laid, number, position, self._change.cautious, estimate)

    def _between(self, at: int) -> float:
        before = self._order[at - 1][0] if at else 0.0
        after = self._order[at][0] if at < len(self._order) else before + 2.0
        return (before + after) / 2

    def _number(self, at: int) -> str:
        if self._change.grows and at == len(self._order):
            return str(1 + max((int(_whole(one[1])) for one in self._order), default=0))
        return self._free(_whole(self._order[at - 1][1]) if at else "1")

    def _free(self, base: str) -> str:
        taken = {one[1] for one in self._order}
        letters = "bcdefghijklmnopqrstuvwxyz"
        names = [base + one for one in letters]
        names += [base + one + other for one in letters for other in letters]
        return next(name for name in names if name not in taken)


def _whole(number: str) -> str:
    return number.rstrip("abcdefghijklmnopqrstuvwxyz")
