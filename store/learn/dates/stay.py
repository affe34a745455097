"""One job on its lift, event by event: where it stands, and what each event teaches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from store.learn.dates.events import Event, What
from store.learn.dates.route import Running, Step
from store.learn.dates.seen import (
    AwayLasted,
    Begun,
    HoldBegan,
    HoldLasted,
    PhaseDone,
    Seen,
    Waited,
    WaitKind,
    Where,
    Worked,
)
from store.learn.dates.spans import OpenHours

NO_WAIT_H = 0.02
"""Open hours between two clocks that are no wait: a minute to change over."""


class Stay:
    """A job's route and how far it has come. Readings are open hours of the shop."""

    def __init__(self, job: str, route: Sequence[Step], hours: OpenHours) -> None:
        """Begin with nothing done.

        Args:
            route: its phases in order, those added later too; `seq` rising.
        """
        self.job = job
        self.route = tuple(route)
        self.begun: set[int] = set()
        self.finished: set[int] = set()
        self.busy_since: float | None = None
        self._hours = hours
        self._at = {step.seq: i for i, step in enumerate(self.route)}
        self._clocks: set[tuple[str, int]] = set()
        self._running: dict[tuple[int, str, str, float], Running] = {}
        self._worked_h: dict[int, float] = {}
        self._last_end: float | None = None
        self._last_seq = 0
        self._ended: list[tuple[float, int]] = []
        self._unclear = False
        self._beside: set[int] = set()

    @property
    def running(self) -> tuple[Running, ...]:
        """Holds, standing and outwork that are not over, in the order of their beginning."""
        return tuple(self._running.values())

    @property
    def in_hands(self) -> int | None:
        """The phase with a clock on it; of several the first of the route."""
        return min((seq for _, seq in self._clocks), default=None)

    @property
    def remaining(self) -> tuple[Step, ...]:
        """What is not finished."""
        return tuple(step for step in self.route if step.seq not in self.finished)

    @property
    def waiting_since(self) -> float | None:
        """Reading since which it could go on and nobody is on it; None where that is not so."""
        here = self._next_seq()
        if self._clocks or self._last_end is None or here is None or self._blocked(here):
            return None
        return self._last_thing(here)[0]

    @property
    def waiting_kind(self) -> WaitKind:
        """Which kind of wait a wait that goes on now is."""
        here = self._next_seq() or self._last_seq
        return self._kind(here, self._last_thing(here)[1])

    def take(self, event: Event) -> Iterator[Seen]:
        """Take in the next event in time; yield what it teaches."""
        if event.seq not in self._at:
            event = event._replace(seq=self._nearest(event.seq))
        reading = self._hours.upto(event.at)
        match event.what:
            case What.CLOCK_ON:
                yield from self._clock_on(event, reading)
            case What.CLOCK_OFF:
                yield from self._clock_off(event, reading)
            case What.FINISHED:
                yield from self._finished(event)
            case What.HOLD_BEGINS:
                yield from self._hold_begins(event, reading)
            case What.HOLD_ENDS:
                yield from self._hold_ends(event, reading)
            case What.AWAY_BEGINS:
                yield from self._away_begins(event, reading)
            case What.AWAY_ENDS:
                yield from self._away_ends(event, reading)

    def _nearest(self, seq: int) -> int:
        """The phase of the route that comes next where one was left out of it."""
        return next((step.seq for step in self.route if step.seq > seq), self.route[-1].seq)

    def _step(self, seq: int) -> Step:
        return self.route[self._at[seq]]

    def _next_seq(self) -> int | None:
        """The first phase that is not finished."""
        return next((step.seq for step in self.route if step.seq not in self.finished), None)

    def _blocked(self, here: int) -> bool:
        return any(
            one.kind != "held" or one.seq <= here or one.seq in self.begun
            for one in self._running.values()
        )

    def _last_thing(self, here: int) -> tuple[float, bool]:
        """Reading at which the last thing ended that kept the job, and whether it was no clock."""
        ends = [at for at, seq in self._ended if seq <= here]
        last = self._last_end or 0.0
        return (max(ends), True) if ends and max(ends) >= last else (last, False)

    def _kind(self, seq: int, after: bool) -> WaitKind:
        if after:
            return "after"
        if self._step(seq).kind != "labour":
            return "leaving"
        return "inside" if seq == self._last_seq else "between"

    def _wait_ends(self, seq: int, reading: float) -> Iterator[Seen]:
        """What was between the last thing and now, unless nobody can tell when that ended."""
        if self._last_end is None or self._blocked(seq) or self._unclear:
            return
        since, after = self._last_thing(seq)
        yield Waited(self._step(seq), self._kind(seq, after), min(since, reading), reading)

    def _clock_on(self, event: Event, reading: float) -> Iterator[Seen]:
        if not self._clocks:
            yield from self._wait_ends(event.seq, reading)
            self.busy_since = reading
            self._ended.clear()
            self._unclear = False
        self._beside |= {
            one.seq
            for one in self._running.values()
            if one.kind != "held" and one.seq < event.seq and one.began < event.at
        }
        if event.seq not in self.begun:
            if self._last_end is not None:
                yield Begun(self._step(event.seq))
            self.begun.add(event.seq)
        self._clocks.add((event.who, event.seq))

    def _clock_off(self, event: Event, reading: float) -> Iterator[Seen]:
        self._clocks.discard((event.who, event.seq))
        since = reading if self.busy_since is None else self.busy_since
        if reading > since:
            yield Worked(self._step(event.seq), since, reading)
            self._worked_h[event.seq] = self._worked_h.get(event.seq, 0.0) + reading - since
        self.busy_since = reading if self._clocks else None
        self._last_end, self._last_seq = reading, event.seq

    def _finished(self, event: Event) -> Iterator[Seen]:
        self.finished.add(event.seq)
        self.begun.add(event.seq)
        worked = self._worked_h.get(event.seq)
        if worked:
            yield PhaseDone(self._step(event.seq), worked, event.labour_h)

    def _hold_begins(self, event: Event, reading: float) -> Iterator[Seen]:
        step, here = self._step(event.seq), self._next_seq()
        now_held = event.seq in self.begun or here is None or event.seq <= here
        if now_held and not self._clocks:
            yield from self._wait_ends(event.seq, reading)
            self._rests(reading)
        where: Where = "inside" if event.seq in self.begun else "before" if now_held else "later"
        last = self.in_hands or self._last_seq
        under_way = self._step(last) if last in self._at else step
        rank = self._ahead(event.seq) if where == "later" else 0
        yield HoldBegan(where, under_way if rank else step, step, event.who, rank)
        self._running[_key(event)] = Running(
            event.seq, "held", event.who, event.at, _said(event), event.at
        )

    def _ahead(self, seq: int) -> int:
        between = [
            step
            for step in self.route
            if step.kind == "labour" and step.seq <= seq and step.seq not in self.begun
        ]
        return max(1, len(between))

    def _hold_ends(self, event: Event, reading: float) -> Iterator[Seen]:
        self._running.pop(_key(event), None)
        began = self._hours.upto(event.began)
        said = _said(event)
        said_h = None if said is None else self._hours.upto(said) - began
        yield HoldLasted(event.who, reading - began, said_h)
        self._ended.append((reading, event.seq))
        self._unclear |= event.late

    def _away_begins(self, event: Event, reading: float) -> Iterator[Seen]:
        if not self._clocks:
            yield from self._wait_ends(event.seq, reading)
            self._rests(reading)
        self.begun.add(event.seq)
        kind: Literal["standing", "outwork"] = "standing" if event.kind == "standing" else "outwork"
        self._running[_key(event)] = Running(
            event.seq, kind, event.who, event.at, _said(event), event.at
        )

    def _away_ends(self, event: Event, reading: float) -> Iterator[Seen]:
        self._running.pop(_key(event), None)
        self.finished.add(event.seq)
        step = self._step(event.seq)
        wall_h = (event.at - event.began) / 3600
        open_h = reading - self._hours.upto(event.began)
        hours = wall_h if step.kind == "standing" else open_h
        yield AwayLasted(step, hours, event.who, event.seq in self._beside)
        self._ended.append((reading, event.seq))

    def _rests(self, reading: float) -> None:
        """Something else keeps the job from now on: the next wait begins with its end."""
        self._last_end = reading if self._last_end is None else max(self._last_end, reading)
        self._ended.clear()


def _key(event: Event) -> tuple[int, str, str, float]:
    return event.seq, event.kind, event.who, event.began


def _said(event: Event) -> float | None:
    return None if event.said == float("inf") else event.said
