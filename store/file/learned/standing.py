"""Where each job stands: told from its own clocks and holds, as the learner of dates asks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from store.file.learned.branches import ROOM, Branch, as_it_stands
from store.file.past_work import open_spans
from store.learn.dates.events import Event, What, events
from store.learn.dates.learned import Learned
from store.learn.dates.plan import home
from store.learn.dates.route import Step, StepKind
from store.learn.dates.shop import Floor, Job
from store.learn.dates.spans import OpenHours
from store.learn.dates.stay import Stay

if TYPE_CHECKING:
    from store.file.learned.dates_part import Dates
    from store.file.learned.hand import Hand
    from store.file.learned.moment import Moment
    from store.learn.dates.ahead import Ahead

REACH = timedelta(days=800)
"""Open hours are laid out so far ahead: no job takes longer."""


class Standing:
    """All jobs at one moment.

    Attributes:
        hours: the shop's open hours, counted from where the learned ones are.
        learned: what was learned, and how scarce people are just now.
        now: POSIX seconds.
    """

    def __init__(self, moment: Moment, dates: Dates) -> None:
        """Tell every job's stay.

        Raises:
            ValueError: the shop has no open hours.
        """
        self.now = moment.now.timestamp()
        self.hours = _hours(moment, dates.since)
        self._cells = dates.learned.holds.cells
        self._events = self._told(moment)
        floor = Floor(self.hours, Learned(), {})
        for name in {one.job for one in moment.spans}:
            hand = moment.hands.get(name)
            route = (
                _bare(self._events[name])
                if hand is None
                else self._route(as_it_stands(hand), hand.template)
            )
            floor.jobs[name] = Job(Stay(name, route, self.hours))
        for event in sorted(one for each in self._events.values() for one in each):
            floor.take(event)
        self.learned = replace(dates.learned, lately=floor.learned.lately)

    def ahead(self, hand: Hand, branch: Branch) -> Ahead | None:
        """Return a job from now on, if it goes that way; None where nothing is left of it."""
        job = Job(Stay(hand.job, self._route(branch, hand.template), self.hours))
        floor = Floor(self.hours, Learned(), {}, {hand.job: job})
        for event in self._events[hand.job]:
            floor.take(event)
        done = {one.seq for one in branch.pieces if one.done}
        job.stay.finished |= done
        if not job.stay.remaining:
            return None
        return job.ahead(None, self.hours.upto(self.now))

    def untouched(self, name: str, branch: Branch, template: str) -> Ahead:
        """Return a job of which nothing has begun, from its first clock on."""
        stay = Stay(name, self._route(branch, template), self.hours)
        return Job(stay).ahead(stay.route[0].seq, self.hours.upto(self.now))

    def _told(self, moment: Moment) -> dict[str, list[Event]]:
        records = [
            replace(one, seq=one.seq * ROOM) for hand in moment.hands.values() for one in hand.own
        ]
        spans = [replace(one, seq=one.seq * ROOM) for one in moment.spans]
        found: dict[str, list[Event]] = defaultdict(list)
        for event in events(records, spans, self.hours):
            found[event.job].append(event)
        for name in [one for one in found if one not in moment.hands]:
            found[name] += _all_finished(found[name])
        return found

    def _route(self, branch: Branch, template: str) -> list[Step]:
        steps: list[Step] = []
        for one in branch.pieces:
            planned = one.planned
            if one.kind == "labour":
                operation = home(template, planned.phase, planned.serves, self._cells)
                steps.append(
                    Step(
                        one.seq, "labour", operation, planned.phase, planned.phase_class,
                        planned.book_h,
                    )
                )  # fmt: skip
            else:
                steps.append(_without_labour(one.seq, one.kind, planned.book_h, steps))
        return steps


def _without_labour(seq: int, kind: str, book_h: float, before: Sequence[Step]) -> Step:
    """It teaches under the phase of labour before it, as in a history that does not name it."""
    last = next((one for one in reversed(before) if one.kind == "labour"), None)
    what: StepKind = "standing" if kind == "standing" else "outwork"
    if last is None:
        return Step(seq, what, "", kind, book_h=book_h)
    wall_h = book_h if what == "standing" else 0.0
    return Step(seq, what, last.operation, f"{kind} after {last.phase}", book_h=wall_h)


def _bare(happened: Iterable[Event]) -> list[Step]:
    """The route of a job that is over, as far as its clocks say: only that somebody was on it."""
    return [Step(seq, "labour", "", str(seq)) for seq in sorted({one.seq for one in happened})]


def _all_finished(happened: Sequence[Event]) -> Iterator[Event]:
    """A closed job waits for nobody."""
    last: dict[int, float] = {}
    for one in happened:
        last[one.seq] = max(one.at, last.get(one.seq, one.at))
    for seq, at in last.items():
        yield Event(at, What.FINISHED, happened[0].job, seq, labour_h=1.0)


def _hours(moment: Moment, since: float) -> OpenHours:
    """Open hours from where the learned ones are counted; else from the first clock of now."""
    first = since or min([one.started for one in moment.spans], default=moment.now.timestamp())
    start = min(datetime.fromtimestamp(first, UTC), moment.now)
    return OpenHours(
        open_spans(moment.calendar, start.timestamp(), (moment.now + REACH).timestamp())
    )
