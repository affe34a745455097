"""What changed, as a part of what is learned: one look a month, the same cases the same."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime

from store.file.learned.cases import Cases
from store.file.learned.kept import Position
from store.file.learned.signals_part import learn
from store.learn.records import People, Record

MARCH = datetime(2026, 3, 20, tzinfo=UTC).timestamp()
DAY_S = 86_400.0


def record(job: int, days: float) -> Record:
    at = MARCH + days * DAY_S
    return Record(str(job), "CL", "D4-M-R", "GB-on", 1, "B12", at - 3_600, at, 1.0, 1.1)


def cases(*records: Record) -> Cases:
    as_of = max(one.closed for one in records)
    return Cases(Position(1, "h"), as_of, frozenset(), records, People(), (), (), ())


PAST = tuple(record(n, -60.0 + n) for n in range(30))
"""Until February 17."""


def test_what_is_of_the_month_that_runs_waits_for_its_end() -> None:
    before = cases(*PAST, record(90, 0))
    first = learn(before, None)
    assert first.content is not None
    assert first.cases == 30
    again = learn(cases(*before.records, record(91, 1)), first)
    assert (again.content, again.digest) == (None, first.digest)


def test_the_next_month_is_looked_at() -> None:
    first = learn(cases(*PAST, record(90, 0)), None)
    april = learn(cases(*PAST, record(90, 0), record(91, 15)), first)
    assert april.content is not None
    assert april.cases == 31
    assert json.loads(april.content)["until"] == datetime(2026, 4, 1, tzinfo=UTC).timestamp()


def test_a_past_that_is_corrected_is_looked_at_again() -> None:
    first = learn(cases(*PAST, record(90, 0)), None)
    corrected = replace(PAST[3], actual_h=2.0)
    assert learn(cases(corrected, *PAST[:3], *PAST[4:], record(90, 0)), first).content is not None
