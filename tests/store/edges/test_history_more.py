"""people.csv, spans.csv and open.csv."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from store.edges.tables import cells as csv_cells
from store.edges.tables.history_more import people_of, read_open, read_people, read_spans
from store.learn.dates.spans import Span
from store.learn.records import People

BERLIN = ZoneInfo("Europe/Berlin")


def at(month: int, day: int, hour: int = 0) -> float:
    """POSIX seconds of an instant in 2026."""
    return datetime(2026, month, day, hour, tzinfo=UTC).timestamp()


def write(folder: Path, text: str) -> Path:
    """A table with that text."""
    path = folder / "t.csv"
    path.write_text(text, "utf-8")
    return path


def test_people_are_employed_for_whole_days(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "badge,from,until,experience\n"
        "B12,2026-03-01,2026-03-31,skilled\nB12,2026-01-05T00:00Z,2026-01-31T12:00Z,\nB14,2026-07-01,,\n",
    )
    found = read_people(path, zone=BERLIN)
    assert found.faults == []
    assert people_of(found.rows) == People(
        {
            "B12": ((at(1, 5), at(1, 31, 12)), (at(2, 28, 23), at(3, 31, 22))),
            "B14": ((at(6, 30, 22), None),),
        },
        {"B12": "skilled"},
    )


def test_people_are_written_as_they_are_read(tmp_path: Path) -> None:
    people = People({"B12": ((at(2, 28, 23), at(3, 31, 22)),), "B14": ((at(6, 30, 22), None),)})
    lines = [csv_cells.PEOPLE, *csv_cells.of_people(people, BERLIN)]
    path = write(tmp_path, "".join(f"{','.join(one)}\n" for one in lines))
    assert lines[1] == ["B12", "2026-03-01", "2026-03-31", ""]
    assert people_of(read_people(path, zone=BERLIN).rows) == people


def test_spans_say_what_went_on(tmp_path: Path) -> None:
    spans = [
        Span("7", 1, "labour", "", "B12", at(5, 4, 6), at(5, 4, 9)),
        Span("7", 2, "held", "parts", "", at(5, 4, 9), at(5, 6, 8), at(5, 5, 10)),
        Span("7", 3, "outwork", "Grinder & son", "", at(5, 6, 8), None),
    ]
    lines = [csv_cells.SPANS, *(csv_cells.of_span(one, BERLIN) for one in spans)]
    found = read_spans(write(tmp_path, "".join(f"{','.join(one)}\n" for one in lines)))
    assert found.faults == []
    assert found.rows == spans


def test_open_time_is_written_as_it_is_read(tmp_path: Path) -> None:
    line = csv_cells.of_open((at(5, 4, 6), at(5, 4, 10)), BERLIN)
    assert line == ["2026-05-04T08:00:00+02:00", "2026-05-04T12:00:00+02:00"]
    found = read_open(write(tmp_path, f"opened_at,closed_at\n{','.join(line)}\n"))
    assert (found.rows, found.faults) == ([(at(5, 4, 6), at(5, 4, 10))], [])


@pytest.mark.parametrize(
    "row, words",
    [
        ("7,1,labour,,B12,2026-05-04T08:00Z,2026-05-04T07:00Z,", "ended_at lies before started_at"),
        ("7,1,waiting,,,2026-05-04T08:00Z,,", "kind 'waiting' is none of labour, held"),
        ("7,0,held,,,2026-05-04T08:00Z,,", "seq '0' is not the order"),
        ("7,1,held,,,,,", "started_at is empty"),
        ("7,1,labour,,,2026-05-04T08:00Z,,", "badge is empty"),
    ],
)
def test_a_bad_span_is_named(tmp_path: Path, row: str, words: str) -> None:
    found = read_spans(write(tmp_path, f"{','.join(csv_cells.SPANS)}\n{row}\n"))
    assert found.rows == []
    assert next(str(one) for one in found.faults).startswith(f"line 2: {words}")
