"""`workbook set`, `copy` and the others: one thing is otherwise, and said in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.file.verify import verify
from tests.tui.cli.made import FOUNDING, Line, run


@pytest.fixture(name="starter")
def starter_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Line:
    """A shop that began with two operations."""
    monkeypatch.delenv("HOISTBOOK_SHOP", raising=False)
    line = Line(tmp_path / "new.shop")
    done = line.run(*FOUNDING, "--starter", "cl, RS")
    assert (done.status, done.err) == (0, ""), done
    assert "workbook set PHASE" in done.out
    return line


def operations(line: Line) -> list[str]:
    """Codes of what the shop sells."""
    return [one["code"] for one in line.does("workbook", "show")["operations"]]


def test_a_shop_begins_with_the_operations_that_were_named(starter: Line) -> None:
    assert operations(starter) == ["CL", "RS"]
    assert starter.does("workbook", "show")["name"] == "Work book of Marsh Lane"
    assert starter.does("estimate", "--operation", "CL", "--family", "B4-M-F")["route"]
    assert verify(starter.path).ok


@pytest.mark.parametrize(
    "codes, says", [("XX", "XX is not offered"), ("CP,CL", "small book of its own")]
)
def test_a_starter_that_is_none_leaves_no_file(tmp_path: Path, codes: str, says: str) -> None:
    path = tmp_path / "none.shop"
    ran = run("--shop", str(path), *FOUNDING, "--starter", codes, stdin="2468\n")
    assert ran.status == 1
    assert says in ran.err
    assert ran.err.count("\n") == 1
    assert not path.exists()


def test_every_offered_operation_can_be_printed_and_checked(tmp_path: Path) -> None:
    assert 'code = "CP"' in run("workbook", "starter").out
    path = tmp_path / "two.toml"
    path.write_text(run("workbook", "starter", "--operations", "TC,AO").out, "utf-8")
    ran = run("workbook", "check", str(path))
    assert (ran.status, ran.err) == (0, "")


def test_hours_of_a_family_are_set_shown_and_estimated_with(starter: Line) -> None:
    done = starter.acts("OWN", "workbook", "set", "CL3", "--hours", "1,2,3", "--family", "B4-*-F")
    assert done["changes"] == [{
        "what": "CL3 Clutch and release parts for B4-*-F", "before": "", "after": "2 h (1 to 3)",
    }]  # fmt: skip
    (phase,) = [one for one in starter.does("workbook", "show")["phases"] if one["code"] == "CL3"]
    assert phase["hours_for"] == [
        {"family": "B4-*-F", "low_hours": 1.0, "book_hours": 2.0, "high_hours": 3.0}
    ]
    assert "on B4-*-F" in starter.run("workbook", "show").out
    for family, book in (("B4-M-F", 2.0), ("S6-M-R", 0.9)):
        route = starter.does("estimate", "--operation", "CL", "--family", family)["route"]
        assert [one["book_hours"] for one in route if one["code"] == "CL3"] == [book]
    for words, says in (
        (("CL3", "--hours", "1", "--family", "B4"), "is no family"),
        (("CL.dowel", "--hours", "1", "--family", "B4-*-F"), "is no phase"),
    ):
        ran = starter.run("workbook", "set", *words, "--as", "OWN")
        assert ran.status != 0
        assert says in ran.err
    assert verify(starter.path).ok


def test_hours_odds_parts_and_names(starter: Line) -> None:
    done = starter.acts("OWN", "workbook", "set", "CL3", "--hours", "0.7,1.1,1.6")
    assert done["changes"] == [{
        "what": "CL3 Clutch and release parts", "before": "0.9 h (0.6 to 1.4)",
        "after": "1.1 h (0.7 to 1.6)",
    }]  # fmt: skip
    assert done["says"].startswith("Work book 2 loaded")
    done = starter.acts("OWN", "workbook", "set", "CL.dowel", "--odds", "1:5")
    assert done["changes"][0]["after"] == "1 in 5"
    done = starter.acts("OWN", "workbook", "set", "CL.dowel", "--hours", "2")
    assert done["changes"][0]["after"] == "2 h"
    done = starter.acts("OWN", "workbook", "set", "CL1.fit.fail", "--odds", "0.25")
    assert {one["after"] for one in done["changes"]} >= {"1 in 4"}
    starter.acts("OWN", "workbook", "part", "CL", "gaiter", "--phase", "CL3")
    starter.acts("OWN", "workbook", "rename", "CL", "clutch, all")
    starter.acts("OWN", "workbook", "copy", "CL", "VAN")
    assert operations(starter) == ["CL", "RS", "VAN"]
    starter.acts("OWN", "workbook", "drop", "VAN")
    starter.acts("OWN", "workbook", "new", "BR", "brakes", "--phases", "off 1, on 1.5, ZF")
    assert operations(starter) == ["CL", "RS", "BR"]
    assert verify(starter.path).ok


def test_the_file_goes_out_and_in_as_it_is(starter: Line, tmp_path: Path) -> None:
    path = tmp_path / "out.toml"
    starter.does("workbook", "export", str(path))
    text = path.read_text("utf-8")
    assert text.rstrip("\n") == starter.run("workbook", "show", "--toml").out.rstrip("\n")
    assert "# The work book of the invented workshop." in text
    assert "same as work book 1" in starter.refused(
        "workbook", "load", str(path), "--as", "OWN", "--pin-stdin"
    )


def test_a_dry_run_says_it_and_writes_nothing(starter: Line) -> None:
    before = starter.events()
    ran = starter.run("workbook", "drop", "RS", "--dry-run", "--as", "OWN")
    assert (ran.status, ran.err) == (0, "")
    assert "nothing was written" in ran.out
    assert "operation RS   gone: rear main seal" in ran.out
    assert starter.events() == before


@pytest.mark.parametrize(
    "words, says",
    [
        (("set", "CL3"), "takes --hours or --odds"),
        (("set", "CL3", "--hours", "1", "--odds", "1:2"), "takes --hours or --odds"),
        (("set", "CL9", "--hours", "1"), "no phase CL9"),
        (("set", "CL3", "--hours", "0.9"), "nothing would change"),
        (("set", "CL3", "--hours", "3,2,1"), "Hours rise"),
        (("set", "CL.none", "--odds", "1:2"), "no surprise"),
        (("copy", "CL", "RS"), "taken already"),
        (("copy", "XX", "YY"), "no operation XX"),
        (("rename", "XX", "y"), "no operation XX"),
        (("part", "CL", "x", "--phase", "RS2"), "no phase of CL"),
        (("new", "BR", "brakes", "--phases", "off"), "no phase off"),
        (("new", "BR", "brakes", "--phases", "off 0"), "no phase with hours"),
        (("export", "nowhere/at/all.toml"), "nowhere"),
    ],
)
def test_what_cannot_be_is_one_line_and_nothing_is_written(
    starter: Line, words: tuple[str, ...], says: str
) -> None:
    more = () if words[0] == "export" else ("--as", "OWN", "--pin-stdin")
    assert says in starter.refused("workbook", *words, *more)


def test_a_shop_without_a_book_says_so_and_writes_a_first_operation(tmp_path: Path) -> None:
    line = Line(tmp_path / "bare.shop")
    assert line.run(*FOUNDING).status == 0
    assert "no work book yet" in line.refused("workbook", "copy", "CL", "VAN", "--as", "OWN")
    line.acts("OWN", "workbook", "new", "BR", "brakes", "--phases", "off 1, on 1.5")
    assert operations(line) == ["BR"]
    assert verify(line.path).ok
