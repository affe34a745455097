"""The work book says from now on what was learned: a new version, by one act, for several phases.

What is written comes from what was learned, never from whoever asks; comments of the book stay.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from store.actions.acting import Acting, Done, acting
from store.actions.books import BookChanged, record_book
from store.edges.workbook.hours import Hours, set_hours
from store.edges.workbook.model import load
from store.file.books import NoBook, book_of
from store.file.change import By
from store.file.learned.book_told import took
from store.file.shop import Shop
from store.rules.book import WorkBook
from store.rules.book_changes import changes, hours_words
from store.rules.family_hours import learned_for, pattern_of
from store.rules.should_say import FEW, Say, Took, enough, proposed, said
from store.trouble import Refused

MOST_SAID = 1900
"""Letters of a cause: an entry holds no longer text."""


class Adopted(NamedTuple):
    """What the book should say from what was learned.

    Attributes:
        operation: its code, or that of the access of an access phase.
        phase: its code. `family` None: for every family that has no hours of its own.
    """

    operation: str
    phase: str
    family: str | None = None


def adopt(
    shop: Shop, by: By, *, lines: Sequence[Adopted] | None = None, upon: int | None = None
) -> Done:
    """Let the book say what was learned, as its next version; jobs that are taken keep theirs.

    Args:
        lines: which phases; None: all that differ surely.
        upon: the version that was looked at, where one was.

    Raises:
        BookChanged: another version than `upon` holds.
        Refused: no such phase, nothing or too little was learned of it, or the book says so.
    """
    with acting(shop, by, "load work book") as doing:
        if lines is not None and not lines:
            raise Refused("Name a phase that the book should take over, like CL CL3.")
        row = doing.db.execute(
            "select version, source from book order by version desc limit 1"
        ).fetchone()
        if row is None:
            raise NoBook
        version, source = row
        if upon is not None and upon != version:
            raise BookChanged(upon, version)
        book, known = book_of(doing.db, version), took(doing.db)
        chosen = _every(book, known) if lines is None else [
            _one(book, known, line) for line in dict.fromkeys(lines)
        ]  # fmt: skip
        return _loaded(doing, version, source, book, chosen)


def _loaded(
    doing: Acting, version: int, source: str, book: WorkBook, chosen: Sequence[Say]
) -> Done:
    text = source
    for say in chosen:
        text = set_hours(text, say.phase, Hours(*_three(say)), say.family, _learned(book, say))
    after = load(text, routes_tried=True)  # hours change no route, and those of this text were laid
    told = [f"{one.what} {one.before or 'as all'}, now {one.after}" for one in changes(book, after)]
    cause = f"what was learned: {'; '.join(told)}"
    record_book(doing, version + 1, text, after, cause=cause[:MOST_SAID])
    return doing.done(f"Work book {version + 1} says what was learned. {_told(book, chosen)}")


def _learned(book: WorkBook, say: Say) -> float:
    """How much of the hours is learned: the learner goes on in those from before."""
    phase = book.phases[say.phase]
    before = phase.learned if say.family is None else learned_for(phase, say.family)
    return round(before * say.should.middle / say.book.middle, 6)


def _three(say: Say) -> tuple[float, float, float]:
    return say.should.low, say.should.middle, say.should.high


def _told(book: WorkBook, chosen: Sequence[Say]) -> str:
    if len(chosen) > 1:
        return f"{len(chosen)} phases: {', '.join(_place(say) for say in chosen)}."
    (say,) = chosen
    return (
        f"{say.phase} {book.phases[say.phase].name}{_on(say.family)}: {say.book.middle:g} h, now "
        f"{hours_words(say.should)}, from {say.finished} times."
    )


def _place(say: Say) -> str:
    return f"{say.phase}{_on(say.family)}"


def _on(family: str | None) -> str:
    return f" on {family}" if family else ""


def _every(book: WorkBook, known: Sequence[Took]) -> list[Say]:
    chosen = [say for say in proposed(book, known) if say.good]
    if not chosen:
        raise Refused(
            "Nothing that was learned differs surely from the work book: there is nothing to adopt."
        )
    return chosen


def _one(book: WorkBook, known: Sequence[Took], line: Adopted) -> Say:
    code, family = line.phase, None if line.family is None else pattern_of(line.family)
    phase = book.phases.get(code)
    if phase is None:
        raise Refused(f"The work book has no phase {code}. See them: hoistbook workbook show.")
    _refuse_elsewhere(book, line.operation, code, phase.access)
    say = said(phase, known, family)
    where = f"{code} {phase.name}{_on(family)}"
    if say is None:
        raise Refused(f"Nothing was learned of {where} yet{_instead(known, code, family)}.")
    if not enough(say.finished):
        times = f"{say.finished} time{'' if say.finished == 1 else 's'}"
        raise Refused(f"{where} was finished {times}: too few, the book is changed from {FEW} on.")
    if say.should.middle == say.book.middle:
        raise Refused(
            f"The book says {say.book.middle:g} h for {where}, and so does what was learned."
        )
    return say


def _refuse_elsewhere(book: WorkBook, operation: str, code: str, access: str | None) -> None:
    """The phase has to be one of the operation's, or a side of the access."""
    if operation == access:
        return
    known = book.operations.get(operation)
    if known is None:
        raise Refused(
            f"The work book has no operation {operation}. See them: hoistbook workbook show."
        )
    route = list(dict.fromkeys(use.phase for use in known.route))
    if code not in route:
        raise Refused(f"{code} is no phase of {operation}. It has these: {', '.join(route)}.")


def _instead(known: Iterable[Took], code: str, family: str | None) -> str:
    """Of which families something is known, where one was asked for."""
    families = [one.family for one in known if one.phase == code and one.family]
    if family is None or not families:
        return ""
    return f"; of these families something is: {', '.join(sorted(families))}"
