"""Tables are written whole or not at all."""

from __future__ import annotations

import resource
import stat
from collections.abc import Sequence
from pathlib import Path

import pytest

from store.file.csv_out import NotWritable, csv_files, harmless

HEADER = ("who", "hours")


def write(path: Path, *rows: Sequence[str]) -> int:
    """One table."""
    with csv_files((path, HEADER)) as (file,):
        return file.rows(rows)


def test_fields_are_quoted_as_rfc_4180_says(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    assert write(path, ("A, the \"first\"", "1"), ("Ö\nB", "2")) == 2  # fmt: skip
    assert path.read_bytes() == (
        'who,hours\r\n"A, the ""first""",1\r\n"Ö\nB",2\r\n'.encode()
    )  # fmt: skip


def test_a_table_is_its_owners_until_they_open_it_to_others(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    for mode in (0o600, 0o644, 0o640):
        if path.exists():
            path.chmod(mode)
        write(path, ("A", "1"))
        assert stat.S_IMODE(path.stat().st_mode) == mode


def test_what_was_there_stays_until_all_is_written(tmp_path: Path) -> None:
    path, other = tmp_path / "t.csv", tmp_path / "o.csv"
    path.write_text("before", "utf-8")

    def fail_half_way() -> None:
        with csv_files((path, HEADER), (other, HEADER)) as (file, _):
            file.row(("A", "1"))
            raise KeyError

    with pytest.raises(KeyError):
        fail_half_way()
    assert path.read_text("utf-8") == "before"
    assert list(tmp_path.iterdir()) == [path]
    write(path, ("A", "1"))
    assert path.read_text("utf-8") == "who,hours\nA,1\n"


def test_a_full_disk_leaves_what_was_there(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    path.write_text("before", "utf-8")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, hard))
    try:
        with pytest.raises(NotWritable, match="Nothing was written"):
            write(path, *[("x" * 100, "1")] * 1000)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert path.read_text("utf-8") == "before"
    assert list(tmp_path.iterdir()) == [path]


def test_what_is_no_table_is_not_replaced(tmp_path: Path) -> None:
    database = tmp_path / "my.shop"
    database.write_bytes(b"SQLite format 3\0rest")
    for path, why in (
        (tmp_path, "is no file"),
        (tmp_path / "none" / "t.csv", "no such folder"),
        (database, "is a database"),
        (Path("/dev/null"), "is no file"),
    ):
        with pytest.raises(NotWritable, match=why):
            write(path, ("A", "1"))
    assert database.read_bytes() == b"SQLite format 3\0rest"


def test_two_tables_are_two_files(tmp_path: Path) -> None:
    same = tmp_path / "x" / ".." / "t.csv"
    with (
        pytest.raises(NotWritable, match="cannot be one file"),
        csv_files((tmp_path / "t.csv", HEADER), (same, HEADER)),
    ):
        pass


@pytest.mark.parametrize(
    "cell", ["12.5", "-1.5", "+3", "-2e-05", "a=b", "", "2026-10-12", "Ün 'x'"]
)
def test_a_cell_that_is_no_formula_is_written_as_it_is(cell: str) -> None:
    assert harmless(cell) == cell


@pytest.mark.parametrize(
    "cell", ["=1+1", "@SUM(A1)", "+cmd|'/c x'!A0", "-2+3", "-1.5.x", "=\x1b[2J"]
)
def test_a_cell_that_a_spreadsheet_would_run_is_text(cell: str) -> None:
    found = harmless(cell)
    assert found.startswith("'")
    assert "\x1b" not in found
