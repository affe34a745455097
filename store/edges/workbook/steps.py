"""What can be wrong in the steps, hold points and decisions of a work book's form."""

from __future__ import annotations

import math

from store.edges.toml_lines import Path
from store.edges.workbook.fault import Fault, Found, nearest, odds_fault, twice, unknown
from store.edges.workbook.form import BookForm, ReadingForm, StepForm
from store.edges.workbook.names import Names, PlacedStep, placed_steps, placed_whens
from store.rules.book import DEEDS, EVERYTHING, NEXT_PHASE

_LIMITS = ("low", "high", "spread", "difference_low", "difference_high", "high_is")


def step_faults(form: BookForm, names: Names) -> Found:
    """Faults of every step, each where it is written."""
    decisive = {code for when, _ in placed_whens(form) for code in when.option}
    for placed in placed_steps(form):
        yield from _whole(placed, names)
        if placed.changed:
            yield from _references(placed, names)
            yield from _kind(placed.step, placed.path)
            yield from _decision(placed.step, placed.path, names, decisive)
            for i, reading in enumerate(placed.step.reading):
                yield from _reading(reading, (*placed.path, "reading", i))
            codes = [(r.code, placed.path) for r in placed.step.reading]
            yield from twice(codes, "reading")
    yield from _idle_shared(form)
    yield from _anchors(form)


def _whole(placed: PlacedStep, names: Names) -> Found:
    use = placed.written.use
    if use is not None and use not in names.shared:
        yield from unknown(use, names.shared, (*placed.path, "use"), "shared step")
        return
    for word in ("code", "text"):
        if not getattr(placed.step, word):
            yield Fault(placed.path, f"`{word}` is missing here: add it.")
    if placed.phase is not None and placed.written.insert:
        yield Fault((*placed.path, "insert"), "only a [[shared_step]] is inserted: take it out.")


def _references(placed: PlacedStep, names: Names) -> Found:
    step, path = placed.step, placed.path
    for word in ("opens", "closes"):
        for i, code in enumerate(getattr(step, word)):
            yield from unknown(code, names.conditions, (*path, word, i), "condition")
    possible = {*names.phases, *DEEDS, EVERYTHING, NEXT_PHASE}
    for i, code in enumerate(step.blocks):
        yield from unknown(code, possible, (*path, "blocks", i), "phase or deed")


def _kind(step: StepForm, path: Path) -> Found:
    if step.signs not in (1, 2):
        yield Fault((*path, "signs"), f"{step.signs} signatures cannot be asked for: write 1 or 2.")
    if step.kind == "hold point" and not step.blocks:
        yield Fault(
            path,
            f"hold point {step.code!r} blocks nothing: write `blocks` with a phase or a deed "
            f'("{NEXT_PHASE}" is the next phase).',
        )
    if step.kind != "hold point":
        for word in ("blocks", "reading", "void_on_lift", "insert"):
            if getattr(step, word):
                yield Fault(
                    (*path, word),
                    f'only a hold point has `{word}`: write kind = "hold point", or take it out.',
                )
    if step.kind != "decision" and step.answer:
        yield Fault(
            (*path, "answer"),
            'only a decision has answers: write kind = "decision", or take them out.',
        )


def _decision(step: StepForm, path: Path, names: Names, decisive: set[str]) -> Found:
    if step.kind != "decision":
        return
    if len(step.answer) < 2:
        yield Fault(path, f"decision {step.code!r} needs two answers or more: add [[...answer]].")
        return
    yield from twice([(answer.code, path) for answer in step.answer], "answer")
    for i, answer in enumerate(step.answer):
        yield from odds_fault(answer.odds, (*path, "answer", i, "odds"))
    total = sum(answer.odds for answer in step.answer)
    if all(0 <= answer.odds <= 1 for answer in step.answer) and not math.isclose(
        total, 1.0, abs_tol=1e-6
    ):
        yield Fault(path, f"the odds of the answers add to {total:.3g}: make them add to 1.")
    for i, answer in enumerate(step.answer):
        for code, value in answer.sets.items():
            yield from _sets(code, value, (*path, "answer", i, "sets", code), names)
    if not any(_matters(step, i, decisive) for i in range(len(step.answer))):
        yield Fault(
            path,
            f"decision {step.code!r} changes nothing: let an answer set an option that the book "
            "asks about, end the work (`ends`) or advise something.",
        )


def _sets(code: str, value: str, path: Path, names: Names) -> Found:
    yield from unknown(code, names.options, path, "option")
    if code in names.options:
        yield from unknown(value, names.options[code], path, f"value of {code!r}")


def _matters(step: StepForm, number: int, decisive: set[str]) -> bool:
    answer = step.answer[number]
    return answer.ends or bool(answer.advise) or bool(decisive & answer.sets.keys())


def _reading(reading: ReadingForm, path: Path) -> Found:
    yield from twice([(name, (*path, "positions")) for name in reading.positions], "position")
    for low, high in (("low", "high"), ("difference_low", "difference_high")):
        least, most = getattr(reading, low), getattr(reading, high)
        if least is not None and most is not None and least > most:
            yield Fault((*path, low), f"`{low}` {least:g} is above `{high}` {most:g}: swap them.")
    written = [word for word in _LIMITS if getattr(reading, word) is not None]
    if not written and not reading.typed:
        yield Fault(
            path,
            f"reading {reading.code!r} has no limit: write low, high or spread, "
            "or typed = true when the limit is typed for each job.",
        )
    for word in written:
        number = getattr(reading, word)
        if isinstance(number, float) and not math.isfinite(number):
            yield Fault((*path, word), f"`{word}` is not finite: write a number.")
    compares = [word for word in written if word.startswith(("spread", "difference"))]
    if compares and len(reading.positions) < 2:
        yield Fault(
            (*path, compares[0]), f"`{compares[0]}` compares `positions`: name two or more."
        )


def _idle_shared(form: BookForm) -> Found:
    used = {placed.written.use for placed in placed_steps(form)}
    for i, step in enumerate(form.shared_step):
        if step.insert is None and step.code not in used:
            yield Fault(
                ("shared_step", i),
                f"shared step {step.code!r} is used nowhere: write `use` in a phase, or `insert`.",
            )


def _anchors(form: BookForm) -> Found:
    """`after` of an extra names a step that the phase itself has."""
    own: dict[str, list[str]] = {}
    for placed in placed_steps(form):
        if placed.phase is not None and placed.operation is None and placed.step.code:
            own.setdefault(placed.phase, []).append(placed.step.code)
    for o, operation in enumerate(form.operation):
        for i, extra in enumerate(operation.extra):
            known = own.get(extra.phase, [])
            if extra.after is not None and extra.after not in known:
                yield Fault(
                    ("operation", o, "extra", i, "after"),
                    f"{extra.phase!r} has no step {extra.after!r}: {nearest(extra.after, known)}",
                )
