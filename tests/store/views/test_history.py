"""What goes out as history, and what is told of one that would come in."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from store.actions import history
from store.views.history import OperationSeen, PersonSeen, by_job, clashes, is_believable, past
from store.views.history import preview as preview_of
from tests.store.actions.made import World, make
from tests.store.made_past import START, finished


@pytest.fixture
def world(tmp_path: Path) -> Iterator[World]:
    """A small shop."""
    made = make(tmp_path)
    yield made
    made.shop.close()


def test_phases_go_out_by_the_first_start_of_their_job() -> None:
    late = finished("1", 1, started=START + 9e6, closed=START + 9e6)
    rows = [late, finished("3", 2), finished("3", 1), finished("2", 1)]
    assert [(one.job, one.seq) for one in by_job(rows)] == [("2", 1), ("3", 1), ("3", 2), ("1", 1)]


def test_the_past_is_told_with_the_open_time_it_needs(world: World) -> None:
    assert past(world.shop).open == ()
    records = [finished("88", 1), finished("88", 2)]
    history.import_history(world.shop, world.by("FOR"), records=records, source="o.csv")
    found = past(world.shop)
    assert list(found.records) == records
    assert found.zone.key == "Europe/Amsterdam"
    assert found.open[0][0] >= records[0].started
    assert found.open[-1][1] > records[-1].closed + 390 * 86_400


def test_what_a_history_would_teach_is_said(world: World) -> None:
    records = [
        finished("88", 1, technician="T1", phase="GB-off", template="TC", actual_h=2.2),
        finished("88", 2, technician="T1", phase="GB-off", template="TC", actual_h=3.0),
        finished("88", 3, technician="ines", phase="XX", template="TC", actual_h=2.4),
        finished("89", 1, technician="T1", phase="YY", template="TC+ZZ", actual_h=31.0),
        finished("90", 1, variant="D4", phase="YY", template="ZZ", actual_h=0.2, technician="T2"),
    ]
    seen = preview_of(world.shop, records, world.now)
    assert (seen.phases, seen.jobs, seen.ahead, seen.book) == (5, 3, 0, True)
    assert seen.since.timestamp() == records[0].started
    assert seen.until.timestamp() == records[-1].closed
    assert seen.operations[0] == OperationSeen("TC", 1, 3, 2.2 + 3.0 + 2.4, 1.2, known=True)
    assert [(one.operation, one.known) for one in seen.operations[1:]] == [
        ("TC+ZZ", False), ("ZZ", False),
    ]  # fmt: skip
    assert seen.families == (("B4-M-F", 2), ("D4", 1))
    assert seen.people == (
        PersonSeen("T1", 3, known=True), PersonSeen("T2", 1, known=True),
        PersonSeen("ines", 1, known=False),
    )  # fmt: skip
    assert seen.unknown == (("YY", 2), ("XX", 1))
    assert seen.doubtful == (3, 4)
    early = preview_of(world.shop, records, datetime(2024, 1, 1, tzinfo=UTC))
    assert early.ahead == 5


@pytest.mark.parametrize(
    "hours, believed", [(16.0, True), (16.1, False), (0.25, True), (0.24, False)]
)
def test_an_eighth_and_eight_times_the_book_are_believed(hours: float, believed: bool) -> None:
    assert is_believable(finished(book_h=2.0, actual_h=hours)) is believed


def test_rows_that_are_here_are_named_by_their_place(world: World) -> None:
    history.import_history(world.shop, world.by("FOR"), records=[finished("88", 1)], source="o")
    found = clashes(world.shop, [finished("87"), finished("88", 2), finished("88", 1)])
    assert found == [(2, "job 88 seq 1 was imported before: leave it out.")]
