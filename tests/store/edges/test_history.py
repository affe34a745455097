"""history.csv: what a row and a job must be, and that only whole truth is taken."""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from store.edges.tables import cells as csv_cells
from store.edges.tables.history import NAMES, Read, read_history
from store.learn.records import CLASSES, Record
from store.trouble import Refused
from tests.store.made_past import finished

UTC = ZoneInfo("UTC")
ROW = {
    "job": "2417", "template": "CL", "variant": "B4-M-F", "phase": "GB-off", "seq": "1",
    "technician": "B12", "started_at": "2026-10-14T08:00:00+02:00",
    "closed_at": "2026-10-14T10:40:00+02:00", "book_hours": "2.4", "actual_hours": "2.61",
}  # fmt: skip
Write = Callable[..., Path]


@pytest.fixture
def table(tmp_path: Path) -> Write:
    """Writes rows that differ from a good one by what is given."""

    def write(*changes: Mapping[str, str]) -> Path:
        path = tmp_path / "history.csv"
        columns = dict.fromkeys([*ROW, *(key for each in changes for key in each)])
        with path.open("w", newline="", encoding="utf-8") as file:
            writer = csv.DictWriter(file, list(columns), restval="")
            writer.writeheader()
            writer.writerows({**ROW, **each} for each in changes)
        return path

    return write


def said(found: Read[Record]) -> list[str]:
    """The faults as they are printed."""
    return [str(one) for one in found.faults]


def test_the_ten_columns_are_enough(table: Write) -> None:
    found = read_history(table({}))
    assert said(found) == []
    assert found.rows == [
        Record("2417", "CL", "B4-M-F", "GB-off", 1, "B12", 1791957600.0, 1791967200.0, 2.4, 2.61)
    ]


def test_further_columns_say_more_and_unknown_ones_nothing(table: Write) -> None:
    more = {
        "grade": "3", "class": "strip", "people": "2", "lumped_with": "2", "cut_off": "1",
        "serves": "CL+CH", "surprise_hours": "0.5", "weather": "rain",
    }  # fmt: skip
    found = read_history(table(more, {"seq": "2", "cut_off": "0"}))
    assert said(found) == []
    first, second = found.rows
    assert (first.grade, first.phase_class, first.people, first.lumped_with) == (3, "strip", 2, 2)
    assert (first.cut_off, first.serves, first.surprise_h) == (True, ("CL", "CH"), 0.5)
    assert (second.grade, second.phase_class, second.people, second.lumped_with) == (None,) * 4
    assert (second.cut_off, second.serves, second.surprise_h) == (False, (), None)


@pytest.mark.parametrize(
    "change, words",
    [
        ({"job": ""}, "job is empty"),
        ({"technician": " "}, "technician is empty"),
        ({"seq": "0"}, "seq '0' is not the order of a phase"),
        ({"seq": "1.5"}, "seq '1.5' is not the order of a phase"),
        ({"actual_hours": "-2"}, "actual_hours '-2' is no length of work"),
        ({"book_hours": "0"}, "book_hours '0' is no length of work"),
        ({"actual_hours": "NaN"}, "actual_hours 'NaN' is no number"),
        ({"started_at": "2026-10-14T08:00:00"}, "has no offset from UTC"),
        ({"closed_at": "soon"}, "closed_at 'soon' is no date and time"),
        ({"closed_at": "2026-10-14T07:00:00+02:00"}, "closed_at lies before started_at"),
        ({"grade": "5"}, "grade '5' is not a grade"),
        ({"class": "rust"}, "class 'rust' is none of strip, work, refit"),
        ({"people": "0"}, "people '0' is not a number of people"),
        ({"cut_off": "x"}, "cut_off 'x' is not 1 or 0"),
        ({"lumped_with": "2"}, "lumped_with names the row itself"),
        ({"lumped_with": "9"}, "lumped_with names seq 9, which job 2417 does not have"),
        ({"template": "CH"}, "template is CH, but CL in line 2"),
        ({"variant": "D4-A-4"}, "variant is D4-A-4, but B4-M-F in line 2"),
        ({"seq": "1"}, "job 2417 has seq 1 in line 2 already"),
    ],
)
def test_a_bad_row_is_named_with_line_and_reason(
    table: Write, change: dict[str, str], words: str
) -> None:
    found = read_history(table({}, {"seq": "2", **change}, {"seq": "3"}))
    assert len(found.faults) == 1
    assert said(found)[0].startswith("line 3: ")
    assert words in said(found)[0]
    assert [one.seq for one in found.rows] == [1, 3]
    assert found.lines == [2, 4]


def test_all_faults_come_in_the_order_of_the_lines(table: Write) -> None:
    changes = ({"lumped_with": "7"}, {"seq": "x", "book_hours": "y"}, {"seq": "4", "grade": "0"})
    found = read_history(table(*changes))
    assert [fault.line for fault in found.faults] == [2, 3, 3, 4]
    assert found.rows == []


def test_whoever_was_lumped_with_a_bad_row_is_left_out_too(table: Write) -> None:
    chain = ({"lumped_with": "2"}, {"seq": "2", "lumped_with": "3"}, {"seq": "3", "grade": "9"})
    found = read_history(table(*chain, {"seq": "4"}))
    assert [one.seq for one in found.rows] == [4]
    assert [fault.line for fault in found.faults] == [2, 3, 4]


def test_a_bad_row_does_not_decide_what_its_job_is(table: Write) -> None:
    found = read_history(table({"template": "CH", "grade": "9"}, {"seq": "2"}))
    assert [fault.line for fault in found.faults] == [2]


def test_rows_may_come_in_any_order(table: Write) -> None:
    rows = [{"seq": str(n), "lumped_with": "2" if n == 1 else ""} for n in (1, 2, 3)]
    one, other = read_history(table(*rows)), read_history(table(*reversed(rows)))
    assert said(one) == said(other) == []
    assert one.rows == other.rows[::-1]


def test_a_spreadsheet_of_other_headings_and_commas(tmp_path: Path) -> None:
    path = tmp_path / "sheet.csv"
    path.write_text(
        "\ufeffOrder;Work;Car;Step;No;Mechanic;From;To;Book;Took\n"
        "A 7;clutch;van;Gearbox off;1;Ines;2026-10-14 08:00;2026-10-14 10:40;2,4;2,61\n",
        "utf-8",
    )
    headings = ["Order", "Work", "Car", "Step", "No", "Mechanic", "From", "To", "Book", "Took"]
    renamed = dict(zip(headings, NAMES[:10], strict=True))
    found = read_history(path, renamed=renamed, zone=ZoneInfo("Europe/Berlin"))
    assert said(found) == []
    assert found.rows == [
        Record("A 7", "clutch", "van", "Gearbox off", 1, "Ines", 1791957600.0, 1791967200.0,
               2.4, 2.61)
    ]  # fmt: skip


def test_columns_that_lack_are_said_once(tmp_path: Path) -> None:
    path = tmp_path / "short.csv"
    path.write_text(f"{','.join(NAMES[:8])}\n", "utf-8")
    with pytest.raises(Refused, match=r"short.csv, line 1: lacks book_hours, actual_hours"):
        read_history(path)


names = st.text(alphabet="aÄ 1-+;,\"'", min_size=1, max_size=6).map(str.strip).filter(bool)
lengths = st.floats(1e-6, 1e6, allow_nan=False)
instants = st.integers(0, 4_000_000_000_000_000).map(lambda micro: micro / 1e6)


@st.composite
def records(draw: st.DrawFn) -> list[Record]:
    """Jobs as they may be exported."""
    found: list[Record] = []
    for job in draw(st.lists(names, max_size=4, unique=True)):
        template, variant = draw(names), draw(names)
        seqs = sorted(draw(st.sets(st.integers(1, 99), min_size=1, max_size=4)))
        for seq in seqs:
            start, end = sorted(draw(st.tuples(instants, instants)))
            others = [one for one in seqs if one != seq]
            found.append(
                Record(
                    job, template, variant, draw(names), seq, draw(names), start, end,
                    draw(lengths), draw(lengths), draw(st.sampled_from([None, 1, 4])),
                    draw(st.sampled_from([None, *CLASSES])), draw(st.sampled_from([None, 1, 3])),
                    draw(st.sampled_from([None, *others])), draw(st.booleans()),
                    draw(st.sampled_from([(), ("CL",), ("CL", "CH")])),
                    draw(st.sampled_from([None, 0.0, 0.5])),
                )
            )  # fmt: skip
    return found


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(found=records(), zone=st.sampled_from(["UTC", "Europe/Berlin", "Australia/Lord_Howe"]))
def test_what_is_written_is_read_back_to_the_last_bit(
    tmp_path: Path, found: list[Record], zone: str
) -> None:
    path = tmp_path / "h.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(csv_cells.HISTORY)
        writer.writerows(csv_cells.of_record(one, ZoneInfo(zone)) for one in found)
    read = read_history(path)
    assert said(read) == []
    assert read.rows == found


cells = st.one_of(
    st.sampled_from(["", "1", "2", "-1", "nan", "CL", "strip", "2026-10-14T08:00Z", "é\x00"]),
    st.text(max_size=8),
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=st.lists(st.lists(cells, min_size=15, max_size=19), max_size=6))
def test_garbage_gives_lines_and_never_a_traceback(tmp_path: Path, rows: list[list[str]]) -> None:
    path = tmp_path / "g.csv"
    with path.open("w", newline="", encoding="utf-8", errors="surrogatepass") as file:
        writer = csv.writer(file)
        writer.writerow(csv_cells.HISTORY)
        writer.writerows(rows)
    found = read_history(path)
    for fault in found.faults:
        assert fault.line >= 2
        assert "\n" not in str(fault)
    for one in found.rows:
        assert one.actual_h > 0
        assert one.started <= one.closed


def test_the_made_past_is_one_that_can_be_read(tmp_path: Path) -> None:
    path = tmp_path / "m.csv"
    made = [finished("7", 1), finished("7", 2), finished("8", 1)]
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(
            [csv_cells.HISTORY, *(csv_cells.of_record(one, UTC) for one in made)]
        )
    assert read_history(path).rows == made
