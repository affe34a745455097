"""Surprises and answers of a month beside the book's odds; silence where there are few."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator, Sequence

from store.file.month.odds import DonePhase, done_phases
from store.rules.book import Phase, Step, WorkBook
from store.sums.ranged import Share, enough, of_count
from store.views.learned_odds import in_book, in_so_many
from store.views.month.look import Look
from store.views.month.spent_values import OddsSeen
from store.views.month.way import Way


def odds_of(look: Look) -> tuple[OddsSeen, ...]:
    """Return surprises and decisions by phase beside the book's odds: of phases finished in the
    month, and of all up to its end. Those that could not come in the month are left out."""
    if look.book is None:
        return ()
    phases: dict[str, list[DonePhase]] = defaultdict(list)
    for one in done_phases(look.db, look.span.until):
        phases[one.code].append(one)
    found = [*_surprises(look, look.book, phases), *_decisions(look, look.book, phases)]
    return tuple(sorted(found, key=lambda one: (one.phase, one.kind, one.text)))


def _surprises(
    look: Look, book: WorkBook, phases: dict[str, list[DonePhase]]
) -> Iterator[OddsSeen]:
    """Of those that may come in every job of their operations."""
    for (code, surprise), where in in_book(book).items():
        could = [
            one
            for one in phases.get(code, ())
            if not where.keys().isdisjoint(json.loads(one.operations))
        ]
        came = [(one, seq) for one in could for text, seq in one.surprises if text == surprise]
        told = next(iter(where.values()))
        name = book.phases[code].name if code in book.phases else code
        yield from _seen(look, "surprise", (code, name, told.text, None), told.odds, could, came)


def _decisions(
    look: Look, book: WorkBook, phases: dict[str, list[DonePhase]]
) -> Iterator[OddsSeen]:
    for phase, step in _questions(book).values():
        yield from _answers(look, phase, step, phases.get(phase.code, ()))


def _questions(book: WorkBook) -> dict[tuple[str, str], tuple[Phase, Step]]:
    """The decisions of phases, and those that operations add to phases they share."""
    asked = [(phase, step) for phase in book.phases.values() for step in phase.steps]
    asked += [
        (book.phases[extra.phase], extra.step)
        for operation in book.operations.values()
        for extra in operation.extras
        if extra.phase in book.phases
    ]
    return {(phase.code, step.code): (phase, step) for phase, step in reversed(asked)
            if step.kind == "decision"}  # fmt: skip


def _answers(look: Look, phase: Phase, step: Step, done: Sequence[DonePhase]) -> Iterator[OddsSeen]:
    given = [
        (one, answer, seq)
        for one in done
        for asked, answer, seq in one.answers
        if asked == step.code
    ]
    prior = sum(one.odds for one in step.answers) or 1.0
    for answer in step.answers:
        came = [(one, seq) for one, said, seq in given if said == answer.code]
        about = (phase.code, phase.name, step.text, answer.text)
        could = [one for one, _, _ in given]
        yield from _seen(look, "decision", about, answer.odds / prior, could, came)


def _seen(
    look: Look,
    kind: str,
    about: tuple[str, str, str, str | None],
    book: float,
    could: Sequence[DonePhase],
    came: Sequence[tuple[DonePhase, int]],
) -> Iterator[OddsSeen]:
    """One line, where the month has a phase in which it could come."""
    in_month = sum(look.span.holds(one.finished_at) for one in could)
    if not in_month:
        return
    entries: dict[tuple[str, str], list[int]] = defaultdict(list)
    for one, seq in came:
        entries[one.job, one.phase].append(seq)
    ways = tuple(
        Way(
            about[3] or about[2], 1.0, one.job, one.phase, at=one.finished_at,
            events=tuple(entries[one.job, one.phase]),
        )
        for one in could
        if (one.job, one.phase) in entries and look.span.holds(one.finished_at)
    )  # fmt: skip
    ever = of_count(len(entries), len(could))
    phase, name, text, answer = about
    yield OddsSeen(
        kind, phase, name, text, answer, of_count(len(ways), in_month), ever, book,
        _says(ever, book), ways,
    )  # fmt: skip


def _says(ever: Share | None, book: float) -> str:
    """Only where there are enough is anything said of the book's odds."""
    assert ever is not None
    seen = f"{ever.held} of {ever.count} so far, the book says {in_so_many(book)}"
    if not enough(ever.count):
        return f"{seen}: too few to tell."
    if ever.low <= book <= ever.high:
        return f"{seen}: as it says."
    return f"{seen}: {'more' if ever.share > book else 'less'} often than it says."
