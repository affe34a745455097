"""What the work book should say: what was learned beside it, and what adopts it.

Beside the book that holds now, whichever month is read: what was learned is as of now, too.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from store.file.books import NoBook, book_on
from store.file.learned.book_told import took
from store.rules.book import Phase, WorkBook
from store.rules.family_hours import hours_for
from store.rules.should_say import FEW, Say, enough, proposed
from store.sums.month.jobs import PhaseJudged
from store.views.month.look import Look
from store.views.month.told_values import ShouldSay

YEAR = timedelta(days=365)
LEAST = 2
"""What was finished once is said of nothing."""


def should_say_of(look: Look) -> tuple[ShouldSay, ...]:
    """Return phases whose book hours are worth changing: the sure ones first, what costs most
    first; then those of which too little is known, the same."""
    try:
        _, book = book_on(look.db, look.calendar.day_of(look.now))
    except NoBook:
        return ()
    done = [one for one in look.facts.phases if _in_year(look, one)]
    found = [
        _row(book, say, [*_times(book.phases[say.phase], say, done)])
        for say in proposed(book, took(look.db))
        if say.finished >= LEAST
    ]
    return tuple(sorted(found, key=lambda one: (not one.sure, -abs(one.year_h), one.phase)))


def _in_year(look: Look, one: PhaseJudged) -> bool:
    """Finished in the year up to the month's end, and whole."""
    at = one.finished_at
    return at is not None and look.span.until - YEAR <= at < look.span.until and not one.cut_off


def _times(phase: Phase, say: Say, done: Sequence[PhaseJudged]) -> Iterator[PhaseJudged]:
    """The times it was done in the year where this change would have held."""
    for one in done:
        if one.code != say.phase or one.small:
            continue
        if say.family is None:
            # the others have hours of their own, in the book or beside this change
            if one.family not in say.others and hours_for(phase, one.family) == phase.hours:
                yield one
        elif one.family == say.family:
            yield one


def _row(book: WorkBook, say: Say, times: Sequence[PhaseJudged]) -> ShouldSay:
    """One row.

    Hours in a year = (should say - book) x how often it was done in the last twelve months. 2.5 h
    in the book, 4.4 h learned, done 9 times: (4.4 - 2.5) x 9 = 17.1 h lost in a year.
    """
    phase = book.phases[say.phase]
    operation = phase.access or say.operation
    command = ["workbook", "adopt", operation, say.phase]
    command += ["--family", say.family] if say.family else []
    return ShouldSay(
        operation=operation, phase=say.phase, name=phase.name, family=say.family,
        book_h=say.book.middle, should_h=say.should.middle, low_h=say.should.low,
        high_h=say.should.high, finished=say.finished, sure=say.good,
        year_h=(say.should.middle - say.book.middle) * len(times), says=_says(phase, say),
        command=tuple(command) if say.good else None,
        jobs=tuple(dict.fromkeys(one.job for one in times)),
    )  # fmt: skip


def _says(phase: Phase, say: Say) -> str:
    where = f"{phase.name} on {say.family}" if say.family else phase.name
    if say.others:
        where += f" (but {', '.join(say.others)})"
    times = f"{say.finished} time{'' if say.finished == 1 else 's'}"
    figures = f"{say.should.middle:g} h, the book says {say.book.middle:g} h"
    if not enough(say.finished):
        return f"{where} seems to take {figures}: seen {times}, too few (from {FEW} on)."
    if say.sure == "sure":
        return f"{where} takes {figures}: sure, from {times}."
    word = "likely, not sure" if say.sure == "likely" else "may be chance"
    return f"{where} seems to take {figures}: {word}, from {times}."
