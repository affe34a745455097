"""Hindsight of the shop's own past as text: in words first, then in figures."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from store.views.hindsight import PROMISE, Hindsight
from tui import words
from tui.cli.figures_hindsight import HALF, RANGE, figures, in_ten, percent
from tui.cli.sentences import items, wrapped

if TYPE_CHECKING:
    from store.learn.judged import DatesJudged, HoursJudged, Share

OPEN = 0.05
"""An interval as wide as this is said: so few cases leave something open."""
TOO_OPEN = 0.3
"""One as wide as this says nothing for a figure, only against it."""
FAR = 2.0
"""From here on a distance is said in times, not in per cent."""
NOTHING = (
    "Nothing to look back on yet: it takes one closed job whose clocks are confirmed, and says "
    "more from some twenty on. Old jobs come in with: hoistbook history import FILE.csv"
)
READ = (
    "'But for luck between 77 and 85 %': the share would settle there, 19 times in 20, if things "
    "went on like this; few jobs leave much open.",
    "Middle, low and high figure: enough for 5, for 1 and for 9 in 10.",
    "Typical miss: half of them missed by less, as a share of the hours that came.",
    "Nearer: counted over all figures that were said, from quick to slow, not the middle one "
    "alone; below 0 they lay further away.",
    "Book and shop are asked about the phases that were done, whatever route was planned at first.",
)
Section = tuple[str, list[str]]


def lines(found: Hindsight) -> Iterator[str]:
    """All of it, at most 80 columns."""
    yield from wrapped(_what(found))
    for title, sentences in _sections(found):
        yield ""
        yield f"{title}:"
        yield from items(sentences)
    yield ""
    yield from figures(found)
    yield ""
    yield "How to read this:"
    yield from items(READ)


def says(found: Hindsight) -> list[str]:
    """What it comes to, a sentence each."""
    told = [f"{title}: {one}" for title, sentences in _sections(found) for one in sentences]
    return [_what(found), *told]


def _what(found: Hindsight) -> str:
    says = (
        f"{words.counted(found.jobs, 'job')} from {_day(found, found.since)} to "
        f"{_day(found, found.until)}, {found.phases:,} phases, asked again as on their own days: "
        "nothing that came later is known."
    )
    if found.first:
        first = "job only teaches" if found.first == 1 else f"{found.first} jobs only teach"
        says += (
            f" The first {first}; the other {found.every.jobs} are counted, and once more the "
            f"last half of all, {found.last_half.jobs}."
        )
    return says


def _sections(found: Hindsight) -> list[Section]:
    """Titles and sentences."""
    hours, dates = found.every.hours, found.every.dates
    begun = (
        f"Said once more as each phase began, who does it being known: "
        f"{_nearer(hours.begun.nearer, 'the book')}."
    )
    told = [
        ("Hours of a whole job, said before the first clock",
         _hours(found, hours.jobs, "jobs")),
        ("Hours of a single phase, said before the first clock",
         [*_hours(found, hours.phases, "phases"), begun]),
    ]  # fmt: skip
    if dates is None:
        return [*told, ("Dates", ["None: of these jobs no clocks are known, only their hours."])]
    return [
        *told,
        ("Date of the finish, said before the first clock", _dates(dates.agreed)),
        ("Date of the finish, said at every start of a phase", _dates(dates.begun)),
    ]


def _hours(found: Hindsight, judged: HoursJudged, unit: str) -> list[str]:
    cautious = _held(judged.cautious, found.cautious, "were")
    return [
        f"The book's hours were enough for {percent(judged.book.share)} of the {unit}.",
        "Half of the middle figures learned here should be enough: "
        f"{_held(judged.middle, HALF, 'were')}.",
        f"{in_ten(found.cautious)} of the cautious figures should be: {cautious}.",
        f"Typical miss: {percent(judged.book_miss)} of the hours by the book, "
        f"{percent(judged.miss)} by what was learned.",
        f"All that was said together: {_nearer(judged.nearer, 'the book')}.",
    ]


def _dates(judged: DatesJudged) -> list[str]:
    promise = _held(judged.promise, PROMISE, "would have been")
    return [
        f"Plain labour hours through the shop's calendar would have kept "
        f"{percent(judged.plain.share)} of the promises: they leave nothing for holds and waiting.",
        f"{in_ten(PROMISE)} promises by what was learned should be kept: {promise}.",
        f"{in_ten(RANGE)} should come between the low and the high figure: "
        f"{_held(judged.within, RANGE, 'did')}.",
        f"All that was said together: {_nearer(judged.nearer, 'plain labour hours')}.",
    ]


def _held(share: Share, should: float, did: str) -> str:
    """`81 % were (but for luck between 77 and 85 %), as it should be`"""
    found = f"{percent(share.share)} {did}"
    if share.high - share.low >= OPEN:
        found += f" (but for luck between {round(100 * share.low)} and {percent(share.high)})"
    return f"{found}, {_verdict(share, should)}"


def _verdict(share: Share, should: float) -> str:
    if share.low <= should <= share.high:
        wide = share.high - share.low >= TOO_OPEN
        return "too few jobs to tell" if wide else "as it should be"
    return "which is too few" if share.share < should else "which is more than it takes"


def _nearer(nearer: float | None, than: str) -> str:
    if nearer is None:
        return f"no nearer than {than}, right every time"
    if 1 - nearer >= FAR:
        return f"{1 - nearer:.1f} times as far from what came as {than}"
    if nearer < 0:
        return f"{percent(-nearer)} further from what came than {than}"
    return f"{percent(nearer)} nearer to what came than {than}"


def _day(found: Hindsight, at: datetime) -> str:
    """With its year: a past goes back far."""
    day = words.local(at, found.zone)
    return f"{day.day} {words.MONTHS[day.month - 1]} {day.year}"
