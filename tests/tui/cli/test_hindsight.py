"""`hindsight`: tables in, forecasts out, and no shop file anywhere."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from store.edges.tables import cells as csv_cells
from store.learn import hindsight
from store.learn.dates.spans import Span
from store.learn.hindsight import Scored
from store.learn.records import People, Record
from tests.store.made_past import HOUR, START, finished
from tests.tui.cli.made import Ran, run

UTC = ZoneInfo("UTC")
QUANTILES = tuple(1.0 + 0.1 * n for n in range(19))


class Dated:
    """A forecast of a finish."""

    job, seq, moment, as_of = "88", 0, "booked", START
    open_hours, mean, naive = 12.0, 11.0, 9.5
    quantiles = QUANTILES


class Replays:
    """Stand-ins for the learner, and what they were given."""

    def __init__(self) -> None:
        self.given: list[Any] = []

    def hours(
        self, records: Sequence[Record], people: People | None = None, progress: Any = None
    ) -> Iterator[Scored]:
        """One forecast for each phase."""
        self.given += [list(records), people, progress]
        for one in records:
            yield Scored(
                one.job, one.template, one.variant, one.phase, one.seq, "booked", one.started,
                one.book_h, one.actual_h, 2.0, QUANTILES,
            )  # fmt: skip

    def both(
        self,
        records: Sequence[Record],
        spans: Sequence[Span],
        open_spans: Sequence[tuple[float, float]],
        people: People | None,
        progress: Any = None,
    ) -> tuple[list[Scored], list[Dated]]:
        """The same, and one date."""
        hours = list(self.hours(records, people, progress))
        self.given += [list(spans), list(open_spans)]
        return hours, [Dated()]


@pytest.fixture
def replays(monkeypatch: pytest.MonkeyPatch) -> Replays:
    """Replays that cost nothing."""
    made = Replays()
    monkeypatch.setattr(hindsight, "hours", made.hours)
    monkeypatch.setattr(hindsight, "both", made.both)
    return made


@pytest.fixture
def write(tmp_path: Path) -> Callable[..., str]:
    """Writes a table."""

    def table(name: str, header: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
        path = tmp_path / name
        with path.open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows([header, *rows])
        return str(path)

    return table


@pytest.fixture
def past(write: Callable[..., str]) -> str:
    """A history of two jobs."""
    rows = [csv_cells.of_record(finished(*one), UTC) for one in (("88", 1), ("88", 2), ("89", 1))]
    return write("past.csv", csv_cells.HISTORY, rows)


def went(ran: Ran) -> str:
    """What a command printed that went through."""
    assert (ran.status, ran.err) == (0, ""), ran
    return ran.out


def test_hours_are_forecast_without_a_shop(
    past: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOISTBOOK_SHOP", str(tmp_path / "none.shop"))
    out = tmp_path / "scored.csv"
    says = went(run("hindsight", past, "--out", str(out)))
    assert says == f"3 finished phases of 2 jobs replayed: 11 forecasts in {out}.\n"
    with out.open(encoding="utf-8", newline="") as file:
        header, *rows = csv.reader(file)
    assert header == list(csv_cells.SCORED)
    places = [(row[0], row[3], row[4], row[5]) for row in rows]
    assert places == [
        ("88", "CL1", "1", "booked"), ("88", "CL2", "2", "booked"), ("88", "*", "0", "booked"),
        ("88", "CL1", "1", "started"), ("88", "*", "1", "started"),
        ("88", "CL2", "2", "started"), ("88", "*", "2", "started"),
        ("89", "CL1", "1", "booked"), ("89", "*", "0", "booked"),
        ("89", "CL1", "1", "started"), ("89", "*", "1", "started"),
    ]  # fmt: skip
    for row in rows:
        quantiles = [float(one) for one in row[10:]]
        assert quantiles == sorted(quantiles)
        assert quantiles[0] > 0


def test_dates_go_with_three_tables(
    past: str, write: Callable[..., str], tmp_path: Path, replays: Replays
) -> None:
    span = Span("88", 1, "labour", "", "B12", START, START + HOUR)
    spans = write("spans.csv", csv_cells.SPANS, [csv_cells.of_span(span, UTC)])
    opened = write("open.csv", csv_cells.OPEN, [csv_cells.of_open((START, START + 8 * HOUR), UTC)])
    people = write("people.csv", csv_cells.PEOPLE, [["B12", "2024-01-01", "", "skilled"]])
    out, dates = str(tmp_path / "scored.csv"), tmp_path / "dates.csv"
    given = ("--people", people, "--spans", spans, "--open", opened, "--dates", str(dates))
    ran = run("hindsight", past, "--out", out, *given, "--json")
    assert went(ran)
    assert ran.json == {"phases": 3, "jobs": 2, "forecasts": 3, "dates": 1, "left_out": []}
    records, known, progress, went_on, is_open = replays.given
    assert [one.job for one in records] == ["88", "88", "89"]
    assert known.experience == {"B12": "skilled"}
    assert progress is None
    assert (went_on, is_open) == ([span], [(START, START + 8 * HOUR)])
    header, row = dates.read_text("utf-8").splitlines()
    assert header == ",".join(csv_cells.DATES)
    assert row.startswith("88,0,booked,2024-03-04T07:00:00+00:00,12.000000,11.000000,1.000000,")
    assert row.endswith(",2.800000,9.500000")


def test_all_faults_of_all_tables_are_named_and_nothing_is_written(
    write: Callable[..., str], tmp_path: Path, replays: Replays
) -> None:
    cells = csv_cells.of_record(finished(), UTC)
    past = write("past.csv", csv_cells.HISTORY, [cells, cells])
    people = write("people.csv", csv_cells.PEOPLE, [["B12", "soon", "", ""]])
    spans = write("spans.csv", ["job"], [])
    opened = write("open.csv", csv_cells.OPEN, [["2024-03-04T07:00Z", ""]])
    out = tmp_path / "scored.csv"
    given = ("--people", people, "--spans", spans, "--open", opened)
    ran = run("hindsight", past, "--out", str(out), *given, "--dates", str(tmp_path / "d.csv"))
    assert (ran.status, ran.out) == (1, "")
    assert [line.split(":")[0] for line in ran.err.splitlines()] == [
        "past.csv, line 3", "people.csv, line 2", "spans.csv, line 1", "open.csv, line 2",
    ]  # fmt: skip
    assert not out.exists()
    assert replays.given == []


def test_bad_rows_are_left_out_and_listed(
    write: Callable[..., str], tmp_path: Path, replays: Replays
) -> None:
    cells = csv_cells.of_record(finished(), UTC)
    past = write("past.csv", csv_cells.HISTORY, [cells, cells])
    out = tmp_path / "scored.csv"
    says = went(run("hindsight", past, "--out", str(out), "--skip-bad")).splitlines()
    assert says == [
        f"1 finished phase of 1 job replayed: 1 forecast in {out}.",
        "left out: past.csv, line 3: job 88 has seq 1 in line 2 already: number its phases anew.",
    ]


@pytest.mark.parametrize(
    "more, says",
    [
        ((), "hindsight lacks --out SCORED.csv"),
        (("--out", "s.csv", "--spans", "x"), "lacks --open OPEN.csv, --dates DATES.csv"),
        (("--out", "s.csv", "--dates", "d.csv"), "lacks --spans SPANS.csv, --open OPEN.csv"),
        (("--out", "s.csv", "--map", "x"), "--map is written THEIRS=OURS"),
        (("--out", "s.csv", "--zone", "x"), "--zone: there is no zone 'x'"),
    ],
)
def test_half_a_command_is_wrong_usage(past: str, more: tuple[str, ...], says: str) -> None:
    ran = run("hindsight", past, *more)
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err


def test_what_is_read_is_not_written_over(past: str, tmp_path: Path, replays: Replays) -> None:
    before = Path(past).read_bytes()
    for out in (past, str(tmp_path / "." / "past.csv")):
        ran = run("hindsight", past, "--out", out)
        assert ran.status == 1
        assert "is read here and cannot be written too" in ran.err
    assert Path(past).read_bytes() == before


def test_nothing_is_left_where_a_replay_fails(
    past: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stops(*_: Any) -> Iterator[Scored]:
        yield from Replays().hours([finished()])
        raise KeyboardInterrupt

    monkeypatch.setattr(hindsight, "hours", stops)
    out = tmp_path / "scored.csv"
    out.write_text("before", "utf-8")
    assert run("hindsight", past, "--out", str(out)).status == 130
    assert out.read_text("utf-8") == "before"
    assert sorted(one.name for one in tmp_path.iterdir()) == ["past.csv", "scored.csv"]


def test_a_shop_that_never_opens_is_said(
    past: str, write: Callable[..., str], tmp_path: Path, replays: Replays
) -> None:
    spans = write("spans.csv", csv_cells.SPANS, [])
    opened = write("open.csv", csv_cells.OPEN, [["2024-03-04T07:00Z", "2024-03-04T07:00Z"]])
    out = ("--out", str(tmp_path / "s.csv"), "--dates", str(tmp_path / "d.csv"))
    ran = run("hindsight", past, *out, "--spans", spans, "--open", opened)
    assert ran.status == 1
    assert "holds no open hour" in ran.err


def test_an_empty_history_is_said(
    write: Callable[..., str], tmp_path: Path, replays: Replays
) -> None:
    ran = run("hindsight", write("p.csv", csv_cells.HISTORY, []), "--out", str(tmp_path / "s.csv"))
    assert ran.status == 1
    assert "holds no finished phase" in ran.err


def test_dates_are_replayed_by_the_learner_itself(
    past: str, write: Callable[..., str], tmp_path: Path
) -> None:
    spans = write("spans.csv", csv_cells.SPANS, [])
    opened = write("open.csv", csv_cells.OPEN, [csv_cells.of_open((START, START + 9e6), UTC)])
    dates = tmp_path / "d.csv"
    given = ("--spans", spans, "--open", opened, "--dates", str(dates))
    went(run("hindsight", past, "--out", str(tmp_path / "s.csv"), *given))
    with dates.open(encoding="utf-8", newline="") as file:
        header, *rows = csv.reader(file)
    assert header == list(csv_cells.DATES)
    assert [(row[0], row[1], row[2]) for row in rows] == [
        ("88", "0", "booked"), ("88", "1", "started"), ("88", "2", "started"),
        ("89", "0", "booked"), ("89", "1", "started"),
    ]  # fmt: skip
