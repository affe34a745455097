"""A job as a value, put together from one look's rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

from store.edges.instants import from_text
from store.file.route_now import PhaseRow, StepRow, stands
from store.rules.blocking import Gate, PhaseAt, blocking_phase, blocking_step
from store.sums.book_range import total
from store.sums.clock_labour import counts_to
from store.views.forecast import (
    Left,
    left_of,
    left_together,
    outlook,
    promise_chance,
    scaled_book,
    span_of,
)
from store.views.given import given
from store.views.likely import AT_RISK, Likely, span
from store.views.loading import HoldRow, JobHead, Loaded
from store.views.past import labour_by_phase, stretches
from store.views.tools.hired import goes_back_today
from store.views.tools.kit_hold import for_kits
from store.views.values import (
    Flag,
    Job,
    JobState,
    PhaseKind,
    PhaseLabel,
    PhaseNow,
    PhaseState,
    Span,
    Stands,
)


@dataclass(frozen=True, slots=True)
class Parts:
    """One job's rows and what follows from them.

    Attributes:
        labour: hours of lead and helpers by phase.
        clocked: badges with a clock on a phase now, by phase.
    """

    loaded: Loaded
    head: JobHead
    phases: list[PhaseRow]
    gates: list[Gate]
    steps: list[StepRow]
    labour: dict[str, float]
    clocked: dict[str, list[str]]
    running_holds: list[HoldRow]
    likely: Likely | None = None

    @property
    def at(self) -> list[PhaseAt]:
        """Phases as far as blocking asks."""
        return [one.at() for one in self.phases]

    def hold_on(self, phase: str) -> HoldRow | None:
        """What holds a phase: the whole job, or the phase itself."""
        for one in self.running_holds:
            if one.phase is None or one.phase == phase:
                return one
        return None

    def state(self, phase: PhaseRow) -> PhaseState:
        """The phase's state as people say it."""
        if phase.state in ("to come", "under way") and self.hold_on(phase.phase):
            return "held"
        return cast("PhaseState", phase.state)

    def blocked_by(self, phase: PhaseRow) -> Gate | None:
        """The open gate because of which a phase cannot go on."""
        if phase.state in ("finished", "skipped"):
            return None
        return blocking_phase(self.gates, self.at, phase.phase)

    def can_go_on(self, phase: PhaseRow) -> bool:
        """Whether somebody may clock on it now."""
        return (
            phase.kind == "labour"
            and phase.state in ("to come", "under way")
            and self.hold_on(phase.phase) is None
            and phase.phase not in self.loaded.lacking.get(self.head.job, ())
            and self.blocked_by(phase) is None
        )


def parts_of(loaded: Loaded, head: JobHead) -> Parts:
    """Return one job's share of a look."""
    job = head.job
    steps = loaded.gates[job]
    clocked: dict[str, list[str]] = {}
    for one in loaded.clocks[job]:
        if one.until is None and one.person in loaded.people:
            clocked.setdefault(one.phase, []).append(loaded.people[one.person].badge)
    labour = labour_by_phase(loaded.calendar, loaded.clocks[job], loaded.now)
    known = loaded.forecasts.get(job)
    return Parts(
        loaded, head, loaded.phases[job], [one.gate() for one in steps], steps, labour, clocked,
        [*(one for one in loaded.holds[job] if one.until is None), *for_kits(loaded, head)],
        None if known is None else Likely(known, loaded.calendar, loaded.now, labour),
    )  # fmt: skip


def lefts(parts: Parts) -> list[Left]:
    """Return what is left, phase by phase, standing and outwork included."""
    promised = {one.phase: one.promised for one in parts.loaded.away[parts.head.job]}
    return [
        Left(one, left_of(one, parts.labour.get(one.phase, 0.0)), promised.get(one.phase))
        for one in parts.phases
        if one.state in ("to come", "under way")
    ]


def remaining(parts: Parts, phase: PhaseRow) -> Span:
    """Return the labour still to go in a phase: as forecast, else by the work book's range."""
    live = phase.state in ("to come", "under way") and phase.kind == "labour"
    known = parts.likely.phase_left(phase.phase) if parts.likely is not None and live else None
    if known is not None:
        return span(known, parts.loaded.cautious)
    return span_of(left_of(phase, parts.labour.get(phase.phase, 0.0)), parts.loaded.cautious)


def remaining_together(parts: Parts, left: Sequence[Left]) -> Span:
    """Return the labour still to go in all phases that are left."""
    labour = [one.phase.phase for one in left if one.phase.kind == "labour"]
    if labour and parts.likely is not None and parts.likely.knows(labour):
        return span(parts.likely.left(), parts.loaded.cautious)
    return span_of(left_together(left), parts.loaded.cautious)


def present(parts: Parts) -> PhaseRow | None:
    """Return the phase with a clock, else the one under way, else the next; None when none is left.

    Of several under way the first that can go on.
    """
    going = [one for one in parts.phases if one.state in ("to come", "under way")]
    clocked = [one for one in going if parts.clocked.get(one.phase)]
    under_way = [one for one in going if one.state == "under way"]
    able = [one for one in under_way if parts.can_go_on(one)]
    for choice in (clocked, able, under_way, going):
        if choice:
            return choice[0]
    return None


def phase_now(parts: Parts, phase: PhaseRow) -> PhaseNow:
    """Return a phase with its hours so far and to go."""
    labour = parts.labour.get(phase.phase, 0.0)
    return PhaseNow(
        phase.phase, phase.name, cast("PhaseKind", phase.kind), labour,
        Span(phase.middle_h, phase.cautious_h), remaining(parts, phase),
        tuple(parts.clocked.get(phase.phase, ())),
    )  # fmt: skip


def holds_all(parts: Parts) -> HoldRow | None:
    """Return the hold because of which nothing of the job can go on; None where something can."""
    whole = next((one for one in parts.running_holds if one.phase is None), None)
    if whole is not None:
        return whole
    if not parts.running_holds or any(parts.clocked.values()):
        return None
    if any(parts.can_go_on(one) for one in parts.phases):
        return None
    return parts.running_holds[0]


def job_value(parts: Parts) -> Job:
    """Return the job as screens get it."""
    head, loaded, now = parts.head, parts.loaded, present(parts)
    left = lefts(parts)
    all_held = holds_all(parts)
    view = outlook(
        loaded.calendar, loaded.now, left, all_held, loaded.cautious,
        parts.likely.open_hours() if parts.likely is not None else None,
    )  # fmt: skip
    promised = from_text(head.promise) if head.promise else None
    chance = promise_chance(loaded.calendar, loaded.now, view, promised)
    own = parts.hold_on(now.phase) if now else None
    shown = all_held or own
    return Job(
        number=head.job, vehicle=head.vehicle, family=head.family, operations=head.operations,
        work=head.work, state=cast("JobState", head.state), small=head.small, place=head.place,
        phase=phase_now(parts, now) if now else None,
        labour_h=sum(parts.labour.values()),
        estimate=_estimate(parts), remaining=remaining_together(parts, left),
        finish=view.finish, promise=promised, promise_chance=chance,
        held=all_held.reason if all_held else None,
        hold=shown.value() if shown else None, flags=flags(parts, now, all_held, chance),
        people=tuple(one for one in loaded.people.values() if one.job == head.job),
        in_since=from_text(head.in_at) if head.in_at else None,
        stands=_stands(parts), labels=_labels(parts),
        past=stretches(loaded.calendar, parts.phases, loaded.clocks[head.job],
                       loaded.holds[head.job], loaded.now),
        ahead=view.ahead, finish_quantiles=view.quantiles, mass_kg=head.mass_kg,
        asked=tuple(loaded.asked[head.job]), assigned=given(parts, now, loaded.people),
    )  # fmt: skip


def _stands(parts: Parts) -> Stands:
    return cast("Stands", stands(parts.phases))


def _estimate(parts: Parts) -> Span:
    """The whole job's hours as agreed and changed since: finished phases at their estimate too."""
    if parts.head.agreed is not None:
        return Span(*parts.head.agreed)
    ranges = [
        scaled_book(one) for one in parts.phases if one.kind == "labour" and one.state != "skipped"
    ]
    return span_of(left_together_of(ranges), parts.loaded.cautious)


def left_together_of(ranges: Sequence[tuple[float, float, float]]) -> tuple[float, float, float]:
    """Return low, middle and high of a sum of ranges."""
    known = [one for one in ranges if one[1] > 0]
    return total(known) if known else (0.0, 0.0, 0.0)


def _labels(parts: Parts) -> tuple[PhaseLabel, ...]:
    return tuple(
        PhaseLabel(
            one.phase, one.name, parts.state(one), parts.labour.get(one.phase, 0.0), one.middle_h
        )
        for one in parts.phases
        if one.state != "skipped"
    )


def flags(
    parts: Parts, now: PhaseRow | None, all_held: HoldRow | None, chance: float | None
) -> tuple[Flag, ...]:
    """Return what the job's line calls out."""
    loaded, job = parts.loaded, parts.head.job
    found: list[Flag] = []
    if chance is not None and chance < AT_RISK:
        found.append("promise-at-risk")
    if all_held is not None:
        found.append("held")
    if wanted_signatures(parts):
        found.append("signature-wanted")
    if now is not None and now.kind == "labour" and _is_over(parts, now):
        found.append("over-estimate")
    if any(
        one.until is None and counts_to(loaded.calendar, from_text(one.since), loaded.now)[1]
        for one in loaded.clocks[job]
    ):
        found.append("left-running")
    if loaded.asked[job]:
        found.append("supplement-asked")
    if any(one.state == "out" for one in parts.steps):
        found.append("reading-out")
    if any(
        one.job == job and goes_back_today(one, loaded.now, loaded.calendar) for one in loaded.hires
    ):
        found.append("kit-due")
    if loaded.conditions[job]:
        found.append("condition-open")
    return tuple(found)


def _is_over(parts: Parts, phase: PhaseRow) -> bool:
    return parts.labour.get(phase.phase, 0.0) > phase.cautious_h


def wanted_signatures(parts: Parts) -> list[StepRow]:
    """Return hold points that wait for somebody else's name: the second, or the foreman's.

    A first signature is the technician's own next move and wants nobody.
    """
    states = {one.phase: one.state for one in parts.phases}
    found: list[StepRow] = []
    for one in parts.steps:
        if one.kind != "hold point" or states.get(one.phase) != "under way":
            continue
        if one.state == "half" or _wants_another(parts, one):
            found.append(one)
    return found


def _wants_another(parts: Parts, step: StepRow) -> bool:
    return (
        step.state == "open"
        and (step.spec.by == "foreman" or step.spec.not_by_fitter)
        and blocking_step(parts.gates, step.phase, step.position) is None
    )
