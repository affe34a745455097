"""The lines of the work book: its operations, or one of them with all that can be changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from store.rules.book import Neighbour, Operation, Phase, Step, Surprise, WorkBook
from store.rules.book_changes import odds_words
from store.views.book_seen import BookSeen, OperationSeen

Kind = Literal["operation", "phase", "family", "coming", "answer", "part", "title"]


@dataclass(frozen=True, slots=True)
class BookLine:
    """One line.

    Attributes:
        what: as a change names it: `CL`, `CL3`, `CL.dowel`, `CL1.fit.fail`; "" for a title.
        figures: cells at the right end, from the left: hours, odds, jobs.
        family: of hours for a family, which.
    """

    kind: Kind
    what: str
    text: str
    figures: tuple[str, ...] = ()
    indent: int = 0
    family: str | None = None


@dataclass(frozen=True, slots=True)
class BookState:
    """Where one is: the operation that is open, None in the list of all; and the line."""

    view: BookSeen
    opened: str | None = None
    here: int = 0


def lines_of(state: BookState) -> list[BookLine]:
    """The lines that are shown."""
    view = state.view
    if view.book is None:
        return []
    if state.opened is None or state.opened not in view.book.operations:
        return [_operation(one) for one in view.operations]
    return list(_opened(view, view.book, view.book.operations[state.opened]))


def _operation(one: OperationSeen) -> BookLine:
    book = "" if one.book_h is None else f"{one.book_h:.1f}"
    learned = "" if one.learned_h is None else f"{one.learned_h:.1f}"
    return BookLine("operation", one.code, f"{one.code:<5} {one.name}",
                    (book, learned, str(one.finished) if one.finished else "none"))  # fmt: skip


def _opened(view: BookSeen, book: WorkBook, one: Operation) -> Iterator[BookLine]:
    for code in dict.fromkeys(use.phase for use in one.route):
        phase = book.phases[code]
        yield _phase(view, phase)
        yield from _families(phase)
        steps = [*phase.steps, *(extra.step for extra in one.extras if extra.phase == code)]
        for step in steps:
            own = any(step is extra.step for extra in one.extras)
            yield from _decision(one.code if own else code, step)
    yield from _titled("surprises: how often, and the hours they take", _coming(one, one.surprises))
    yield from _titled("while it is open: how often taken along, and hours",
                       _coming(one, one.neighbours))  # fmt: skip
    parts = [BookLine("part", one.code, f"{part.text}, for {part.phase}", (), 1)
             for part in one.parts]  # fmt: skip
    yield from _titled("always renewed", parts)


def _phase(view: BookSeen, phase: Phase) -> BookLine:
    hours, learned = phase.hours, view.learned.get(phase.code)
    kind = "" if phase.kind == "labour" else f"  ({phase.kind})"
    return BookLine(
        "phase", phase.code, f"{phase.code:<7} {phase.name}{kind}",
        (f"{hours.low:.1f}", f"{hours.middle:.1f}", f"{hours.high:.1f}",
         "" if learned is None else f"{learned:.1f}"),
    )  # fmt: skip


def _families(phase: Phase) -> Iterator[BookLine]:
    """Hours of the phase on some families, in the columns of its own."""
    for one in phase.hours_for:
        low, middle, high = one.hours.low, one.hours.middle, one.hours.high
        figures = (f"{low:.1f}", f"{middle:.1f}", f"{high:.1f}", "")
        yield BookLine("family", phase.code, f"on {one.family}", figures, 1, one.family)


def _decision(holder: str, step: Step) -> Iterator[BookLine]:
    for answer in step.answers:
        yield BookLine("answer", f"{holder}.{step.code}.{answer.code}",
                       f"{step.text}  {answer.text}", (odds_words(answer.odds),), 1)  # fmt: skip


def _coming(one: Operation, found: tuple[Surprise, ...] | tuple[Neighbour, ...]) -> list[BookLine]:
    return [
        BookLine("coming", f"{one.code}.{each.code}", f"{each.text}, {each.phase}",
                 (odds_words(each.odds), f"{each.hours:.1f}"), 1)
        for each in found
    ]  # fmt: skip


def _titled(title: str, found: list[BookLine]) -> Iterator[BookLine]:
    if found:
        yield BookLine("title", "", title)
        yield from found
