"""A method sees, at each forecast, only the phases that were closed before."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol

from store.learn.records import Record
from tests.bench.hours.rows import Row, Slot, slots


class Method(Protocol):
    """Something that learns from one finished phase after another, and forecasts."""

    def learn(self, record: Record) -> None: ...

    def forecast(self, slot: Slot) -> Row: ...


def replay(records: Iterable[Record], method: Method) -> Iterator[Row]:
    """The method's rows, in the order of `slots`."""
    known = list(records)
    asked = list(slots(known))
    waiting = sorted(known, key=lambda one: (one.closed, one.job, one.seq), reverse=True)
    rows: dict[int, Row] = {}
    for n in sorted(range(len(asked)), key=lambda n: asked[n].as_of):
        while waiting and waiting[-1].closed < asked[n].as_of:
            method.learn(waiting.pop())
        rows[n] = method.forecast(asked[n])
    return (rows[n] for n in range(len(asked)))
