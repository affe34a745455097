"""What a work book's form calls things, and where each of them is written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from store.edges.toml_lines import Path
from store.edges.workbook.build import sides, whole_step
from store.edges.workbook.form import BookForm, SideForm, StepForm, WhenForm


@dataclass(frozen=True, slots=True)
class PlacedPhase:
    """A phase with its final code and the place where it is written."""

    code: str
    form: SideForm
    path: Path


@dataclass(frozen=True, slots=True)
class PlacedStep:
    """A step as it counts there; `written` is what stands at that place.

    `phase` is None for a shared step, `operation` is set for an extra.
    """

    step: StepForm
    written: StepForm
    path: Path
    phase: str | None
    operation: str | None = None

    @property
    def changed(self) -> bool:
        """Whether more than the name of a shared step is written here."""
        return self.written.use is None or bool(
            self.written.model_fields_set - {"use", "phase", "after"}
        )


def placed_phases(form: BookForm) -> Iterator[PlacedPhase]:
    """All phases, those of accesses first, as the book orders them."""
    for i, access in enumerate(form.access):
        for code, side, written in sides(access):
            path: Path = ("access", i, side) if side else ("access", i)
            yield PlacedPhase(code, written, path)
    for i, phase in enumerate(form.phase):
        yield PlacedPhase(phase.code, phase, ("phase", i))


def placed_steps(form: BookForm) -> Iterator[PlacedStep]:
    """All steps: shared ones, those of phases, and extras of operations."""
    shared = {step.code: step for step in reversed(form.shared_step) if step.code}
    for i, step in enumerate(form.shared_step):
        yield PlacedStep(step, step, ("shared_step", i), None)
    for phase in placed_phases(form):
        for i, step in enumerate(phase.form.step):
            whole = whole_step(step, shared, i + 1)
            yield PlacedStep(whole, step, (*phase.path, "step", i), phase.code)
    for o, operation in enumerate(form.operation):
        for i, extra in enumerate(operation.extra):
            path: Path = ("operation", o, "extra", i)
            whole = whole_step(extra, shared)
            yield PlacedStep(whole, extra, path, extra.phase, operation.code)


def placed_whens(form: BookForm) -> Iterator[tuple[WhenForm, Path]]:
    """Every condition on the vehicle that is written anywhere."""
    for placed in placed_steps(form):
        yield placed.written.when, (*placed.path, "when")
    for phase in placed_phases(form):
        for i, kit in enumerate(phase.form.kit):
            yield kit.when, (*phase.path, "kit", i, "when")
    for o, operation in enumerate(form.operation):
        whens = {
            "route": [use.when for use in operation.route],
            "surprise": [surprise.when for surprise in operation.surprise],
            "neighbour": [neighbour.when for neighbour in operation.neighbour],
            "part": [part.when for part in operation.part],
            "follow_up": [each.when for each in operation.follow_up],
        }
        for name, conditions in whens.items():
            for i, condition in enumerate(conditions):
                yield condition, ("operation", o, name, i, "when")


@dataclass(frozen=True, slots=True)
class Names:
    """Every code that something else in the book may name."""

    phases: frozenset[str]
    operations: frozenset[str]
    conditions: frozenset[str]
    kits: frozenset[str]
    shared: frozenset[str]
    options: dict[str, tuple[str, ...]]


def names_of(form: BookForm) -> Names:
    """The codes as they are written, twice or not."""
    return Names(
        phases=frozenset(phase.code for phase in placed_phases(form)),
        operations=frozenset(each.code for each in form.operation),
        conditions=frozenset(each.code for each in form.condition),
        kits=frozenset(each.code for each in form.kit),
        shared=frozenset(each.code for each in form.shared_step if each.code),
        options={o.code: tuple(o.values) for each in form.operation for o in each.option},
    )
