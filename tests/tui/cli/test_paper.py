"""`paper`: days typed or from a table, every row or nothing; what is refused has its number."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from store.file.verify import verify
from tests.tui.cli.made import Line
from tui.now import machine_now
from tui.words import local, zone_of

ZONE = zone_of("Europe/Amsterdam")


def today() -> str:
    """The shop's day: everybody is on the roll since then."""
    return local(machine_now(), ZONE).date().isoformat()


@pytest.fixture(name="row")
def row_fixture() -> str:
    """A minute that has been, on the shop's day; the first of the day has none."""
    now = local(machine_now() - timedelta(minutes=1), ZONE)
    if now.date().isoformat() != today() or (now.hour, now.minute) < (0, 2):
        pytest.skip("no minute of this day has passed yet")
    return f"{now:%H%M}"


def test_a_day_is_entered_and_confirmed(line: Line, row: str) -> None:
    job = line.take()
    done = line.acts("T1", "paper", "T1", "--date", today(), f"{job}.1 0000 {row}", "--confirm")
    assert len(done["recorded"]) == 2
    assert "entered from paper and confirmed" in done["says"]
    (clock,) = line.does("day", "T1")["clocks"]
    assert (clock["job"], clock["phase"], clock["confirmed"]) == (job, "1", True)
    assert verify(line.path).ok


def test_every_row_that_cannot_be_is_named_and_nothing_is_written(line: Line, row: str) -> None:
    job = line.take()
    before = line.events()
    ran = line.run(
        "paper", "T1", "--date", today(), f"{job}.1 0000 {row}", f"{job}.99 0000 0001", "nap 0001",
        "t 0000", "--as", "T1",
    )  # fmt: skip
    assert ran.status == 1
    assert ran.out == ""
    lines = ran.err.splitlines()
    assert [one.split(":")[0] for one in lines] == ["row 2", "row 3", "row 4"], lines
    assert f"no phase {job}.99" in lines[0]
    assert "neither a phase" in lines[1]
    assert line.events() == before


def test_a_dry_run_writes_nothing(line: Line, row: str) -> None:
    before = line.events()
    found = line.acts("T1", "paper", "T1", "--date", today(), f"t 0000 {row}", "--dry-run")
    assert found["dry_run"]
    assert "1 row of 1 day" in found["says"]
    assert line.events() == before


def test_a_table_holds_days_of_several_people(line: Line, row: str, tmp_path: Path) -> None:
    job = line.take()
    table = tmp_path / "days.csv"
    until = f"{row[:2]}:{row[2:]}"
    table.write_text(
        "badge;date;what;from;to\n"
        f"T1;{today()};{job}.1;00:00;{until}\nt2;{today()};tidying;00:00;{until}\n", "utf-8",
    )  # fmt: skip
    done = line.acts("FOR", "paper", str(table))
    assert len(done["recorded"]) == 2
    assert "Ines's" in done["says"]
    assert "Tomas's" in done["says"]
    table.write_text(
        f"badge,date,what,from,to\nT1,{today()},tidying,00:00,{until}\nT9,{today()},tidying,0,1\n"
        "T1,2026-99-99,tidying,00:00,00:10\nT1,,tidying,00:00,00:10\n", "utf-8",
    )  # fmt: skip
    ran = line.run("paper", str(table), "--as", "FOR", "--pin-stdin")
    assert ran.status == 1
    said = ran.err.splitlines()
    assert sorted(one.split(":")[0] for one in said) == [
        "days.csv, line 2", "days.csv, line 3", "days.csv, line 4", "days.csv, line 5",
    ], said  # fmt: skip
    assert any("overlaps" in one for one in said)


@pytest.mark.parametrize(
    "words, says",
    [
        (("paper", "none.csv"), "none.csv"),
        (("paper", "T1", "t 0000 0001"), "paper takes BADGE --date DATE and rows"),
        (("paper", "T1", "--date", "2026-10-14"), "paper takes BADGE --date DATE and rows"),
        (("paper", "T9", "--date", "2026-10-14", "t 0000 0001"), "row 1: Nobody here has"),
        (("paper", "T1", "--date", "x", "t 0000 0001"), "--date"),
    ],
)
def test_what_cannot_be_is_one_line(line: Line, words: tuple[str, ...], says: str) -> None:
    assert says in line.refused(*words, "--as", "FOR")


def test_the_shop_file_and_an_empty_table_are_no_days(line: Line, tmp_path: Path) -> None:
    assert "shop file" in line.refused("paper", str(line.path), "--as", "FOR")
    empty = tmp_path / "empty.csv"
    empty.write_text("badge,date,what,from,to\n", "utf-8")
    assert "holds no row" in line.refused("paper", str(empty), "--as", "FOR")


def test_a_technician_enters_nobody_elses_day(line: Line, row: str) -> None:
    says = line.refused("paper", "T2", "--date", today(), f"t 0000 {row}", "--as", "T1")
    assert "takes the foreman or owner" in says
