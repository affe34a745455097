"""`costs`, `prices`, `workbook adopt` on the command line: typed, shown, refused in one line."""

from __future__ import annotations

import pytest

from store.file.shop import Shop
from store.file.verify import verify
from tests.store.actions.made import World
from tests.store.made_told import told_of
from tests.tui.cli.made import Line

NOW = "this month"


def this_month(line: Line) -> str:
    return str(line.does("prices")["month"])


def test_costs_are_typed_shown_and_taken_back(line: Line) -> None:
    month = this_month(line)
    done = line.acts("OWN", "costs", month, "--wages", "9000", "--overheads", "4000.5")
    assert done["says"] == f"{month} cost 9,000.00 in wages and 4,000.50 in overheads."
    (shown,) = line.does("costs")["costs"]
    assert (shown["month"], shown["wages"], shown["overheads"]) == (month, 9000, 4000.5)
    assert shown["running"]
    assert shown["per_hour"] is None
    text = line.run("costs").out
    assert "9,000.00" in text
    assert "runs" in text
    line.acts("OWN", "undo")
    assert line.does("costs")["costs"] == []
    assert verify(line.path).ok


@pytest.mark.parametrize(
    "argv, says",
    [
        (("costs", "2026-13", "--wages", "1", "--overheads", "1", "--as", "OWN"), "is no month"),
        (("costs", "2199-01", "--wages", "1", "--overheads", "1", "--as", "OWN"), "not begun"),
        (("costs", "2020-01", "--wages", "5", "--overheads", "5", "--as", "OWN"), "begin in"),
        (("costs", NOW, "--wages", "0", "--overheads", "1", "--as", "OWN"), "more than 0"),
        (("costs", NOW, "--wages", "5", "--overheads", "-1", "--as", "OWN"), "0 or more"),
        (("costs", "--wages", "5", "--as", "OWN"), "together"),
        (("costs", "--wages", "5", "--overheads", "5", "--as", "OWN"), "lacks YYYY-MM"),
        (("costs", "2020-01", "--wages", "5", "--overheads", "5", "--as", "FOR"), "owner"),
        (("prices", "--rate", "0"), "more than 0"),
        (("prices", "--rate", "-5"), "more than 0"),
        (("prices", "--as", "T1"), "are the owner's"),
        (("prices", "1999-01"), "nothing is known"),
        (("workbook", "adopt", "--as", "OWN"), "one of them"),
        (("workbook", "adopt", "TC", "B1", "--all", "--as", "OWN"), "one of them"),
        (("workbook", "adopt", "TC", "--as", "OWN"), "stands alone"),
        (("workbook", "adopt", "TC", "B1", "TC", "B3", "--family", "B4-M-F", "--as", "OWN"),
         "goes with one"),
        (("workbook", "adopt", "TC", "B1", "--as", "OWN"), "Nothing was learned"),
        (("workbook", "adopt", "--all", "--as", "OWN"), "nothing to adopt"),
        (("workbook", "adopt", "TC", "B1", "--as", "T1"), "foreman or owner"),
        (("workbook", "adopt", "TC", "B1"), "lacks --as"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_one_line(line: Line, argv: tuple[str, ...], says: str) -> None:
    more = ("--pin-stdin",) if "--as" in argv and argv[0] != "prices" else ()
    words = [this_month(line) if one == NOW else one for one in argv]
    assert says in line.refused(*words, *more)


def _nothing_new(shop: Shop, clock: object) -> None:
    """What was told stays: nothing else is taken in."""


def test_the_book_adopts_by_command_and_gives_it_back(
    line: Line, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = Shop(line.path)
    told_of(World(shop), ("TC", "B1", None, 0.6, 1.2, 9), ("TC", "GB-off", None, 2.4, 3.0, 9),
            ("TC", "B1", "B4-M-F", 0.6, 1.2, 9))  # fmt: skip
    shop.close()
    monkeypatch.setattr("tui.learner.take_in", _nothing_new)
    done = line.acts("OWN", "workbook", "adopt", "TC", "B1", "TC", "GB-off")
    assert "2 phases: B1, GB-off" in done["says"]
    hours = {one["code"]: one["book_hours"] for one in line.does("workbook", "show")["phases"]}
    assert (hours["B1"], hours["GB-off"]) == (1.2, 3.0)
    assert "and so does" in line.refused(
        "workbook", "adopt", "TC", "B1", "--family", "B4-M-F", "--as", "OWN", "--pin-stdin"
    )
    ledger = line.run("ledger", "--as", "OWN").out
    assert "what was learned" in ledger
    line.acts("OWN", "undo")
    hours = {one["code"]: one["book_hours"] for one in line.does("workbook", "show")["phases"]}
    assert (hours["B1"], hours["GB-off"]) == (0.6, 2.4)
    assert verify(line.path).ok


def test_where_nothing_was_closed_prices_say_so(line: Line) -> None:
    found = line.does("prices")
    assert (found["quotes"], found["earned"]) == ([], [])
    assert "No job with an estimate was closed" in found["says"]
    assert "No job with an estimate" in line.run("prices").out
