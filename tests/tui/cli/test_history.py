"""`history import` and `history export`: a table in, what it teaches, and out again."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from store.edges.tables import cells as csv_cells
from store.learn.records import Record
from tests.store.made_past import finished
from tests.tui.cli.made import Line, new_line

ZONE = ZoneInfo("Europe/Amsterdam")
GOOD = (
    finished("88", 1, phase="GB-off", template="TC", technician="T1", grade=3, lumped_with=2),
    finished("88", 2, phase="B1", template="TC", technician="T1", people=2, phase_class="work"),
    finished("89", 1, technician="Ines", cut_off=True, serves=("CL", "CH"), surprise_h=0.5),
)


def table(folder: Path, *records: Record, name: str = "old.csv") -> Path:
    """A history."""
    path = folder / name
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(
            [csv_cells.HISTORY, *(csv_cells.of_record(one, ZONE) for one in records)]
        )
    return path


def spoil(path: Path, old: str, new: str) -> None:
    """Change a table."""
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


def test_out_in_and_out_again_gives_the_same_bytes(line: Line, tmp_path: Path) -> None:
    done = line.acts("FOR", "history", "import", str(table(tmp_path, *GOOD)))
    assert done["says"] == "3 finished phases of 2 jobs imported from old.csv."
    assert (len(done["recorded"]), done["job"], done["left_out"]) == (1, None, [])
    out = tmp_path / "out.csv"
    says = line.does("history", "export", str(out))["says"]
    assert says == f"3 finished phases of 2 jobs written: {out}."
    (tmp_path / "other").mkdir()
    other, again = new_line(tmp_path / "other"), tmp_path / "again.csv"
    other.acts("OWN", "history", "import", str(out))
    other.does("history", "export", str(again))
    assert again.read_bytes() == out.read_bytes() == table(tmp_path, *GOOD).read_bytes()


def test_a_dry_run_says_what_would_be_learned_and_writes_nothing(
    line: Line, tmp_path: Path
) -> None:
    doubted = finished("90", 1, actual_h=40.0)
    path = table(tmp_path, *GOOD, doubted)
    before = line.events()
    ran = line.run("history", "import", str(path), "--dry-run")
    assert (ran.status, ran.err) == (0, "")
    for words in (
        "old.csv: 4 finished phases of 3 jobs, 2025-11-11 to 2025-11-25.",
        "nothing was written",
        "TC                            1       2       5.0   25 % over the book",
        "CL                            2       2      42.5   10.6 times the book, not in the",
        "Families: B4-M-F (3 jobs).",
        "Ines (1, no",
        "Not in the work book: CL1 (2).",
        "line 5: job 90, CL1: 40 h, the book says 2 h",
    ):
        assert words in ran.out, ran.out
    assert max(map(len, ran.out.splitlines())) <= 100
    found = line.does("history", "import", str(path), "--dry-run")
    assert (found["dry_run"], found["phases"], found["jobs"]) == (True, 4, 3)
    assert found["from"] == csv_cells.instant(GOOD[0].started, ZONE)
    assert found["doubtful"] == [
        {"line": 5, "job": "90", "seq": 1, "phase": "CL1", "book_hours": 2.0, "actual_hours": 40.0}
    ]
    assert found["unknown_phases"] == [{"phase": "CL1", "rows": 2}]
    assert line.events() == before


def test_every_fault_is_a_line_and_nothing_is_taken(line: Line, tmp_path: Path) -> None:
    path = table(tmp_path, *GOOD)
    spoil(path, ",T1,", ",,")
    spoil(path, "CL+CH,0.5", "CL+CH,-0.5")
    before = line.events()
    for more in ((), ("--dry-run",)):
        ran = line.run("history", "import", str(path), "--as", "FOR", "--pin-stdin", *more)
        assert (ran.status, ran.out) == (1, "")
        assert ran.err.splitlines() == [
            "old.csv, line 2: technician is empty: fill it in.",
            "old.csv, line 4: surprise_hours '-0.5' is no length of work: write hours of 0 or "
            "more, like 2.5.",
        ]
    assert line.events() == before


def test_bad_rows_are_left_out_and_listed_where_that_is_asked(line: Line, tmp_path: Path) -> None:
    path = table(tmp_path, *GOOD)
    spoil(path, ",T1,", ",,")
    ran = line.run(
        "history", "import", str(path), "--skip-bad", "--as", "FOR", "--pin-stdin"
    )  # fmt: skip
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.splitlines() == [
        "2 finished phases of 2 jobs imported from old.csv.",
        "left out: old.csv, line 2: technician is empty: fill it in.",
    ]


def test_what_was_imported_is_a_fault_the_second_time(line: Line, tmp_path: Path) -> None:
    path = table(tmp_path, *GOOD)
    line.acts("FOR", "history", "import", str(path))
    ran = line.run("history", "import", str(path), "--as", "FOR", "--pin-stdin")
    assert ran.status == 1
    assert ran.err.splitlines()[0] == (
        "old.csv, line 2: job 88 seq 1 was imported before: leave it out."
    )
    more = table(tmp_path, *GOOD, finished("91", 1), name="more.csv")
    done = line.acts("FOR", "history", "import", str(more), "--skip-bad")
    assert (done["says"], len(done["left_out"])) == (
        "1 finished phase of 1 job imported from more.csv.", 3,
    )  # fmt: skip
    line.acts("FOR", "undo")
    assert line.does("history", "export", str(tmp_path / "o.csv"))["says"].startswith("3 finished")


def test_a_job_of_the_shop_is_not_imported_over(line: Line, tmp_path: Path) -> None:
    job = line.take()
    path = table(tmp_path, finished(job))
    told = line.refused("history", "import", str(path), "--as", "FOR", "--pin-stdin")
    assert f"1 old.csv, line 2: job {job} is a job of this shop" in told


def test_a_spreadsheet_with_headings_of_its_own(line: Line, tmp_path: Path) -> None:
    path = tmp_path / "sheet.csv"
    path.write_text(
        "Order;template;variant;phase;seq;Who did it;started_at;closed_at;book_hours;Took\n"
        "7;CL;van;off;1;Ines;2024-10-14 08:00;2024-10-14 10:40;2,4;2,61\n",
        "utf-8-sig",
    )
    names = ("--map", "Order=job", "--map", "Who did it=technician", "--map", "Took=actual_hours")
    assert "lacks job, technician, actual_hours" in line.refused("history", "import", str(path))
    told = line.refused("history", "import", str(path), *names, "--dry-run", "--zone", "Europe/X")
    assert told.startswith("2 hoistbook: --zone: there is no zone 'Europe/X'")
    without = line.run("history", "import", str(path), *names, "--dry-run")
    assert without.err.count("say the zone of them all with --zone") == 2
    line.acts("FOR", "history", "import", str(path), *names, "--zone", "Europe/Amsterdam")
    out = tmp_path / "out.csv"
    line.does("history", "export", str(out))
    assert "7,CL,van,off,1,Ines,2024-10-14T08:00:00+02:00,2024-10-14T10:40:00+02:00,2.4,2.61" in (
        out.read_text("utf-8")
    )


@pytest.mark.parametrize(
    "pair, says",
    [
        ("Who", "--map is written THEIRS=OURS"),
        ("Who=", "--map is written THEIRS=OURS"),
        ("Who=mechanic", "ours is one of job, template"),
    ],
)
def test_a_map_that_is_none_is_wrong_usage(
    line: Line, tmp_path: Path, pair: str, says: str
) -> None:
    told = line.refused("history", "import", str(tmp_path / "x.csv"), "--map", pair)
    assert told.startswith("2 ")
    assert says in told


def test_an_export_has_all_that_belongs_to_it(line: Line, tmp_path: Path) -> None:
    line.acts("FOR", "history", "import", str(table(tmp_path, *GOOD)))
    names = {one: str(tmp_path / f"{one}.csv") for one in ("people", "spans", "open")}
    options = [word for one, path in names.items() for word in (f"--{one}", path)]
    line.does("history", "export", str(tmp_path / "h.csv"), *options)
    heads = {one: Path(path).read_text("utf-8").splitlines()[0] for one, path in names.items()}
    assert heads == {
        "people": "badge,from,until,experience",
        "spans": "job,seq,kind,reason,badge,started_at,ended_at,expected_end",
        "open": "opened_at,closed_at",
    }
    with Path(names["people"]).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["badge"] for row in rows] == ["APP", "FOR", "OWN", "T1", "T2"]
    assert rows[0]["experience"] == "apprentice 1"


def test_the_shop_file_is_no_table(line: Line, tmp_path: Path) -> None:
    path = str(line.path)
    assert "is the shop file" in line.refused("history", "import", path, "--dry-run")
    assert "is the shop file" in line.refused("history", "export", path)
    told = line.refused("history", "export", str(tmp_path / "h.csv"), "--people", path)
    assert "is the shop file" in told
    assert not (tmp_path / "h.csv").exists()


def test_a_table_without_rows_or_without_a_file_is_said(line: Line, tmp_path: Path) -> None:
    empty = table(tmp_path)
    for more in (("--as", "FOR", "--pin-stdin"), ("--dry-run",)):
        assert "holds no finished phase" in line.refused("history", "import", str(empty), *more)
    assert "No such file" in line.refused("history", "import", str(tmp_path / "none.csv"))
    assert "no such folder" in line.refused("history", "export", str(tmp_path / "no" / "h.csv"))


def test_a_batch_imports_too(line: Line, tmp_path: Path) -> None:
    path = table(tmp_path, *GOOD)
    batch = tmp_path / "batch.txt"
    batch.write_text(f"history import {path} --as T1\nhistory import {path}\n", "utf-8")
    pins = tmp_path / "pins"
    pins.write_text("FOR 2468\nT1 2468\n", "utf-8")
    pins.chmod(0o600)
    ran = line.run("batch", str(batch), "--as", "FOR", "--pins", str(pins), "--go-on", "--json")
    refused, done = [json.loads(one) for one in ran.out.splitlines()]
    assert refused["line"] == 1
    assert "foreman or owner" in refused["refused"]
    assert done["says"].startswith("3 finished phases")
