"""A shop's past as its files hold it: records, spans, open spans, people."""

from __future__ import annotations

import random
from collections import defaultdict
from dataclasses import dataclass

from store.learn.dates.spans import Span
from store.learn.records import People, Record
from tests.bench.floors.log import Kept, Log, Stay
from tests.bench.floors.open_time import HOUR, OpenTime
from tests.bench.floors.run import run
from tests.bench.floors.shop import Faults, Shop

REACH_H = 4000
"""Open hours laid out behind the last job, for forecasts that reach far."""


@dataclass(frozen=True, slots=True)
class Past:
    """What the learner is given. Open spans in POSIX seconds."""

    shop: Shop
    log: Log
    records: list[Record]
    spans: list[Span]
    open_spans: list[tuple[float, float]]
    people: People

    def numbers(self) -> list[int]:
        """Numbers of the jobs in the files."""
        return sorted({int(one.job) for one in self.records})


def past(shop: Shop, seed: int, jobs: int) -> Past:
    """The first so many jobs of a shop; the same seed gives the same past."""
    return written(shop, seed, jobs, run(shop, seed, jobs))


def written(shop: Shop, seed: int, jobs: int, log: Log) -> Past:
    """What of a log stands in the files, faults and all."""
    rng = random.Random(f"faults {seed}")
    records: list[Record] = []
    spans: list[Span] = []
    for number in range(1, jobs + 1):
        records += _records(shop, log.stays[number])
        spans += _clocks(shop, log.stays[number]) + _kept(shop, log.stays[number], rng)
    reach = max(one.closed for one in records)
    return Past(shop, log, records, spans, _open(shop.time, reach), _people(shop))


def _records(shop: Shop, stay: Stay) -> list[Record]:
    hours: dict[int, dict[int, int]] = defaultdict(lambda: defaultdict(int))
    begun: dict[int, int] = {}
    for idx, who, since, until in stay.clocks:
        hours[idx][who] += until - since
        begun.setdefault(idx, since)
        begun[idx] = min(since, begun[idx])
    job, time = stay.job, shop.time
    return [
        Record(
            job=str(job.number), template=job.operation.code, variant=job.family,
            phase=job.steps[idx].code, seq=idx + 1,
            technician=shop.workers[max(by, key=lambda who: (by[who], -who))].badge,
            started=float(time.beginning(begun[idx])),
            closed=float(time.ending(stay.finished[idx])),
            book_h=job.steps[idx].book_h, actual_h=sum(by.values()) / HOUR, grade=job.grade,
            phase_class=job.steps[idx].phase_class, people=len(by),
        )
        for idx, by in sorted(hours.items())
    ]  # fmt: skip


def _clocks(shop: Shop, stay: Stay) -> list[Span]:
    time, job = shop.time, str(stay.job.number)
    return [
        Span(
            job, idx + 1, "labour", "", shop.workers[who].badge,
            float(time.beginning(since)), float(time.ending(until)),
        )
        for idx, who, since, until in stay.clocks
    ]  # fmt: skip


def _kept(shop: Shop, stay: Stay, rng: random.Random) -> list[Span]:
    last = stay.finished[len(stay.job.steps) - 1]
    found: list[Span] = []
    for one in stay.kept.values():
        end = _as_written(one, shop.faults, rng)
        if end is not None:
            found.append(_kept_span(shop.time, str(stay.job.number), one, min(end, last)))
    return found


def _as_written(one: Kept, faults: Faults, rng: random.Random) -> int | None:
    """The end of a hold as somebody typed it; None: nobody typed the hold at all."""
    if one.kind != "held":
        return one.end
    if rng.random() < faults.not_entered:
        return None
    late = rng.random() < faults.released_late
    return one.end + int(late * rng.expovariate(1 / (faults.late_h * HOUR)))


def _kept_span(time: OpenTime, job: str, one: Kept, end: int) -> Span:
    return Span(
        job, one.idx + 1, one.kind, one.reason, "",
        float(time.beginning(one.begun)), float(time.ending(end)),
        None if one.said is None else float(time.beginning(one.said)),
    )  # fmt: skip


def _open(time: OpenTime, last: float) -> list[tuple[float, float]]:
    reach = time.reading(int(last)) + REACH_H * HOUR
    return [
        (float(start), float(end))
        for start, end, before in zip(time.starts, time.ends, time.before, strict=False)
        if before <= reach
    ]


def _people(shop: Shop) -> People:
    def at(day: int) -> float | None:
        return float(shop.time.beginning(shop.time.days[day])) if day < 10**5 else None

    return People(
        employed={one.badge: ((at(one.since) or 0.0, at(one.until)),) for one in shop.workers}
    )
