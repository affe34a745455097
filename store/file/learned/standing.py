"""Where each job stands: told from its own clocks and holds, as the learner of dates asks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from copy import copy
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from store.file.learned.branches import ROOM, Branch, as_it_stands
from store.file.past_work import open_spans
from store.learn.dates.drawn_holds import LONGEST_HOLD_H
from store.learn.dates.events import Event, What, events
from store.learn.dates.forecast import LEVELS
from store.learn.dates.learned import Learned
from store.learn.dates.normal import rest_of
from store.learn.dates.plan import home
from store.learn.dates.route import Running, Step, StepKind
from store.learn.dates.shop import Floor, Job
from store.learn.dates.spans import OpenHours, Span
from store.learn.dates.stay import Stay
from store.learn.records import Record

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
        self._firms = {
            (one.job, one.seq * ROOM): one.reason for one in moment.spans if one.kind == "outwork"
        }
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
        route = [self._at_firm(hand.job, one) for one in self._route(branch, hand.template)]
        job = Job(Stay(hand.job, route, self.hours))
        floor = Floor(self.hours, Learned(), {}, {hand.job: job})
        for event in self._events[hand.job]:
            floor.take(event)
        done = {one.seq for one in branch.pieces if one.done}
        job.stay.finished |= done
        if not job.stay.remaining:
            return None
        return _with_name_owed(hand, job.ahead(None, self.hours.upto(self.now)))

    def untouched(self, name: str, branch: Branch, template: str) -> Ahead:
        """Return a job of which nothing has begun but its check, from its first clock on."""
        left = replace(branch, pieces=tuple(one for one in branch.pieces if not one.done))
        stay = Stay(name, self._route(left, template), self.hours)
        return Job(stay).ahead(stay.route[0].seq, self.hours.upto(self.now))

    def held(self, hand: Hand) -> tuple[float, ...] | None:
        """Return quantiles of the open hours for which a job that waits cannot come in.

        What holds only a phase further on is in its stay; of several holds the latest counts.
        """
        ahead = self.ahead(hand, as_it_stands(hand)) if hand.waits else None
        if ahead is None:
            return None
        first, reading = ahead.steps[0].seq, self.hours.upto(self.now)
        found: tuple[float, ...] | None = None
        for one in ahead.running:
            if one.kind == "held" and one.seq <= first:
                usual = self.learned.length_law(one.reason, reading)
                law = self.learned.running_law(one, usual, self.hours, reading)
                rest = rest_of(law.m, law.wide, reading - self.hours.upto(one.began), 1 - LEVELS)
                hours = np.minimum(rest, LONGEST_HOLD_H).tolist()
                found = tuple(map(max, found, hours)) if found else tuple(hours)
        return found

    def otherwise(self, moment: Moment, jobs: Collection[str]) -> Standing:
        """The same where other things happened to some jobs until now.

        How scarce people are stays: whatever happens in an instant, nobody has waited longer.
        """
        found = copy(self)
        told = _by_job(
            [one for name in jobs for one in moment.hands[name].own],
            [one for one in moment.spans if one.job in jobs],
            self.hours,
        )
        found._events = {**self._events, **{name: told.get(name, []) for name in jobs}}
        return found

    def _told(self, moment: Moment) -> dict[str, list[Event]]:
        records = [
            one
            for hand in moment.hands.values()
            for one in hand.own
            if one.closed > hand.checked_until
        ]
        found = _by_job(records, moment.spans, self.hours)
        for name in [one for one in found if one not in moment.hands]:
            found[name] += _all_finished(found[name])
        return found

    def _at_firm(self, job: str, step: Step) -> Step:
        """A step of the route with the firm that its work went to."""
        firm = self._firms.get((job, step.seq), "")
        return replace(step, firm=firm) if firm else step

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


def _with_name_owed(hand: Hand, ahead: Ahead) -> Ahead:
    """Nobody is on it and its next phase waits for another person's name: as held for a person."""
    first = ahead.steps[0]
    since = next((one.owed_since for one in hand.phases if one.seq * ROOM == first.seq), None)
    if since is None or ahead.in_hands or any(one.seq == first.seq for one in ahead.running):
        return ahead
    return replace(ahead, running=(*ahead.running, Running(first.seq, "held", "person", since)))


def _by_job(
    records: Iterable[Record], spans: Iterable[Span], hours: OpenHours
) -> dict[str, list[Event]]:
    """What happened to each job, in order of time; numbers of phases as branches have them."""
    rows = [replace(one, seq=one.seq * ROOM) for one in records]
    pieces = [replace(one, seq=one.seq * ROOM) for one in spans]
    found: dict[str, list[Event]] = defaultdict(list)
    for event in events(rows, pieces, hours):
        found[event.job].append(event)
    return found


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
