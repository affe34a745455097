"""A folder of tables: all or none, and no file of somebody else's is lost."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from store.file.csv_folder import csv_folder
from store.file.csv_out import NotWritable

TABLES = {"a.csv": ("month", "x"), "b.csv": ("month", "y", "z")}


def written(folder: Path, mark: str = "2026-09", value: str = "1") -> None:
    with csv_folder(folder, TABLES, mark) as files:
        files["a.csv"].row([mark, value])


def broken_off(folder: Path) -> None:
    """Something goes wrong after the first row."""
    with csv_folder(folder, TABLES, "2026-09") as files:
        files["a.csv"].row(["2026-09", "3"])
        raise ZeroDivisionError


def rows(path: Path) -> list[list[str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return [*csv.reader(file)]


def test_tables_come_with_their_headers_into_a_folder_that_is_made(tmp_path: Path) -> None:
    written(tmp_path / "new")
    assert rows(tmp_path / "new" / "a.csv") == [["month", "x"], ["2026-09", "1"]]
    assert rows(tmp_path / "new" / "b.csv") == [["month", "y", "z"]]


def test_lines_end_as_rfc_4180_says(tmp_path: Path) -> None:
    written(tmp_path / "new", value='two, "words"\nand a line')
    text = (tmp_path / "new" / "a.csv").read_bytes()
    assert text == b'month,x\r\n2026-09,"two, ""words""\nand a line"\r\n'


def test_tables_of_the_same_month_give_way_and_other_files_stay(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine", "utf-8")
    written(tmp_path)
    written(tmp_path, value="2")
    assert rows(tmp_path / "a.csv")[1] == ["2026-09", "2"]
    assert (tmp_path / "notes.txt").read_text("utf-8") == "mine"


@pytest.mark.parametrize(
    "theirs",
    [b"month,x\r\n2026-08,7\r\n", b"name,amount\r\nme,5\r\n", b"", b"\xff\xfe\x00",
     b"month,x,y\r\n"],
    ids=["another month", "another table", "empty", "no text", "more columns"],
)  # fmt: skip
def test_a_file_that_is_no_such_table_is_not_written_over(tmp_path: Path, theirs: bytes) -> None:
    (tmp_path / "b.csv").write_bytes(b"month,y,z\r\n")
    (tmp_path / "a.csv").write_bytes(theirs)
    with pytest.raises(NotWritable, match=r"a\.csv: that is there already"):
        written(tmp_path)
    assert (tmp_path / "a.csv").read_bytes() == theirs
    assert sorted(one.name for one in tmp_path.iterdir()) == ["a.csv", "b.csv"]


def test_a_table_without_rows_gives_way(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_bytes(b"month,x\r\n")
    written(tmp_path)
    assert len(rows(tmp_path / "a.csv")) == 2


def test_where_it_goes_wrong_half_way_nothing_is_left(tmp_path: Path) -> None:
    folder = tmp_path / "new"
    with pytest.raises(ZeroDivisionError):
        broken_off(folder)
    assert not folder.exists()


def test_what_was_there_stays_where_it_goes_wrong_half_way(tmp_path: Path) -> None:
    written(tmp_path)
    with pytest.raises(ZeroDivisionError):
        broken_off(tmp_path)
    assert rows(tmp_path / "a.csv")[1] == ["2026-09", "1"]
    assert sorted(one.name for one in tmp_path.iterdir()) == ["a.csv", "b.csv"]


def test_a_file_is_no_folder_and_a_folder_needs_one_to_be_in(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", "utf-8")
    with pytest.raises(NotWritable, match="that is a file, and a folder is wanted"):
        written(tmp_path / "file")
    with pytest.raises(NotWritable, match="there is no folder to make it in"):
        written(tmp_path / "none" / "new")
    (tmp_path / "a.csv").mkdir()
    with pytest.raises(NotWritable, match="no file that could be replaced"):
        written(tmp_path)
    assert (tmp_path / "file").read_text("utf-8") == "x"
