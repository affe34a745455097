"""Dates of a history: what a job teaches of which nobody knows the days."""

from __future__ import annotations

import numpy as np

from store.learn.arrays import Floats
from store.learn.dates.replay import Moment, Row, replay
from store.learn.dates.spans import Span
from store.learn.records import Record
from tests.store.made_past import HOUR, START, finished

OPEN = [(START + day * 24 * HOUR, START + (day * 24 + 9) * HOUR) for day in range(-400, 400)]


def drawn(moment: Moment) -> Floats:
    """Labour of every phase left: from one to three hours."""
    return np.tile(np.linspace(1.0, 3.0, 200)[:, None], (1, len(moment.left)))


def rows(records: list[Record], spans: list[Span], job: str) -> list[Row]:
    """What is said of one job."""
    return [one for one in replay(records, spans, OPEN, drawn) if one.job == job]


def clocks(record: Record, hours: float) -> Span:
    """The one clock of a phase."""
    end = record.started + hours * HOUR
    return Span(record.job, record.seq, "labour", "", "B12", record.started, end)


def test_a_job_without_clocks_widens_nobodys_range() -> None:
    seen, asked = finished("30", 1), finished("40", 1)
    spans = [clocks(seen, 2.5), clocks(asked, 2.5)]
    bare = [finished(str(n), 1, closed=START + (n * 168 + 240) * HOUR) for n in range(1, 9)]
    assert rows([*bare, seen, asked], spans, "40") == rows([seen, asked], spans, "40")
    assert len(rows([*bare, seen, asked], spans, "1")) == 2


def test_a_job_with_clocks_that_missed_its_range_widens_those_to_come() -> None:
    asked = finished("40", 1)
    late = [finished(str(n), 1, closed=START + (n * 168 + 240) * HOUR) for n in range(1, 9)]
    without = rows([*late, asked], [clocks(asked, 2.5)], "40")[0].quantiles
    spans = [clocks(one, 0.01) for one in late]
    with_them = rows([*late, asked], [*spans, clocks(asked, 2.5)], "40")[0].quantiles
    assert with_them[17] / with_them[1] > without[17] / without[1]
