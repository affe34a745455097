"""What README.md says is what the program does."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from store.actions.clock import INDIRECT
from store.actions.holding import REASONS
from store.edges.tables import cells as csv_cells
from store.edges.tables import history, history_more
from tui.cli import csv_month
from tui.cli.commands import every
from tui.cli.parse import parse

README = (Path(__file__).resolve().parent.parent / "README.md").read_text("utf-8")
LINES = [line.strip() for line in README.splitlines() if line.startswith("    hoistbook ")]
NAMED = re.findall(r"`hoistbook ([a-z]+(?: [a-z]+)?)", README)
PICTURES = re.findall(r"!\[[^\]]*\]\(([^)]+)\)", README)


def arguments(line: str) -> list[str]:
    """Return a shell line's words, without the program, notes and redirection."""
    words = shlex.split(line, comments=True)[1:]
    return words[: words.index(">")] if ">" in words else words


@pytest.mark.parametrize("line", LINES)
def test_every_command_line_can_be_typed_as_it_is_printed(line: str) -> None:
    assert parse(arguments(line)).command is not None


@pytest.mark.parametrize("name", sorted(set(NAMED)))
def test_every_command_that_is_named_exists(name: str) -> None:
    known = {one.name for one in every()}
    assert name in known or name.split(maxsplit=1)[0] in known


TABLES = {
    "history": (history.columns(None)(False), csv_cells.HISTORY),
    "people": (history_more.people_columns(None), csv_cells.PEOPLE),
    "spans": (history_more.spans_columns(None), csv_cells.SPANS),
    "open": (history_more.open_columns(None), csv_cells.OPEN),
}


@pytest.mark.parametrize("name", TABLES)
def test_tables_have_the_columns_that_are_named(name: str) -> None:
    read, written = TABLES[name]
    line = re.search(rf"^\| {name} \| (.*) \|$", README, re.MULTILINE)
    assert line is not None
    needed, _, further = line[1].partition("·")
    assert re.findall(r"`(\w+)`", needed) == [one.name for one in read if one.needed]
    assert re.findall(r"`(\w+)`", further) == [one.name for one in read if not one.needed]
    assert {one.name for one in read} == set(written)


def test_the_tables_of_a_month_have_the_columns_that_are_named() -> None:
    said = re.findall(r"^\* `(\w+\.csv)`: (.*)$", README, re.MULTILINE)
    assert {name: tuple(line.split(",")) for name, line in said} == {
        name: csv_month.header(name) for name in csv_month.TABLES
    }


def test_the_pictures_are_there() -> None:
    assert len(PICTURES) == 3
    for picture in PICTURES:
        head = (Path(__file__).resolve().parent.parent / picture).read_bytes()[:8]
        assert head == b"\x89PNG\r\n\x1a\n"


def test_reasons_are_few_enough_for_one_key() -> None:
    assert len(INDIRECT) <= 9
    assert len(REASONS) <= 9
