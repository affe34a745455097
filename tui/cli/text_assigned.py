"""Lists of work as text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from store.views.assigned_values import Assigned, Work, WorkList
from tui import words
from tui.lists.words import away_words, clock_words, turn_words

WIDTH = 80


def lines(view: Assigned, people: Sequence[WorkList], *, alone: bool) -> Iterator[str]:
    """A line a work, at most 80 columns; of one person only their list."""
    yield words.moment(view.at, view.calendar.zone)
    for one in people:
        if one.role == "technician" or one.works or alone:
            yield from _list(view, one)
    if alone:
        return
    yield ""
    yield "nobody's, could go on now" if view.nobodys else "nothing that could go on is nobody's"
    for work in view.nobodys:
        yield from _work(view, work, "")


def _list(view: Assigned, person: WorkList) -> Iterator[str]:
    yield ""
    doing = [away_words(view, person)] if person.absence else []
    doing.append(clock_words(view, person))
    yield words.cut(f"{person.name} ({person.badge})  {'; '.join(doing)}", WIDTH)
    if not person.works:
        yield f"  nothing next. Give work: hoistbook assign JOB.PHASE {person.badge}"
    for nth, work in enumerate(person.works, 1):
        yield from _work(view, work, str(nth))


def _work(view: Assigned, work: Work, nth: str) -> Iterator[str]:
    place = f"  {work.place}" if work.place else ""
    what = words.cut(f"{work.name}  {work.vehicle}{place}", WIDTH - 24)
    left = words.hours(work.left_h)
    yield words.cut(f"  {nth:>2}  {work.where:<8} {what:<56} {left:>7}", WIDTH)
    for line in words.wrapped("; ".join(_facts(view, work)), WIDTH - 15):
        yield f"{'':15}{line}"


def _facts(view: Assigned, work: Work) -> Iterator[str]:
    zone = view.calendar.zone
    yield turn_words(work) if work.begins else f"waits: {work.waits_for}"
    if work.likely is not None:
        start, end = (words.day_time(one, zone, view.at) for one in work.likely)
        yield f"likely {start} to {end}"
    if work.promise is not None:
        yield f"promised {words.day_time(work.promise, zone, view.at)}"
