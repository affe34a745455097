"""A batch: one process, one transaction a line, and an answer for each as it is done."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.tui.cli.made import PINS, Line, Ran, pins_file
from tui.cli.where import terminal_name


@pytest.fixture(name="pins")
def pins_fixture(tmp_path: Path) -> str:
    return str(pins_file(tmp_path))


def batch(line: Line, text: str, *more: str) -> Ran:
    """Run lines from standard input."""
    return line.run("batch", "-", *more, stdin=text)


def test_each_line_is_answered_and_quoted_as_for_a_shell(line: Line, pins: str) -> None:
    text = (
        "\ufeff# a day\n\n   \n"
        "small --text 'bulb changed' --vehicle \"old saloon\" --as T1\n"
        "  clock on 1001.1 --as T1   \n"
        "\t# indented\n"
        'finding 1001.1 --kind advice --text "tyres # worn" --as T1\n'
        "clock off --as T1"
    )
    ran = batch(line, text, "--pins", pins)
    assert (ran.status, ran.err) == (0, "")
    assert [one.split()[0] for one in ran.out.splitlines()] == ["1001", "Ines", "1001.1", "Ines"]
    assert "tyres # worn" in ran.out
    card = line.does("job", "1001")
    assert (card["vehicle"], card["work"]) == ("old saloon", "bulb changed")


def test_it_stops_at_the_first_refusal_and_says_its_line(line: Line) -> None:
    ran = batch(line, "# first\nlift look 2 --as T1\n\nlift look 2 --as T1\nlift look 3 --as T1\n")
    assert ran.status == 1
    assert ran.out.count("\n") == 1
    assert ran.err == "line 4: Lift 2 was looked over today.\n"


def test_go_on_lists_what_was_refused_and_continues(line: Line) -> None:
    text = "lift look 1 --as T1\nlift lok 2\nlift look 2 --as T1\nlift look '9 --as T1\n"
    ran = batch(line, text, "--go-on")
    assert ran.status == 1
    assert ran.out == "Lift 2 was looked over.\n"
    assert [one.split(":")[0] for one in ran.err.splitlines()] == ["line 1", "line 2", "line 4"]


def test_with_json_each_line_is_one_document(line: Line) -> None:
    text = "lift look 1 --as T1\n#\nlift look 2 --as T1\nfloor\njob 9\nverify\n"
    ran = batch(line, text, "--go-on", "--json")
    assert (ran.status, ran.err) == (1, "")
    found = [json.loads(one) for one in ran.out.splitlines()]
    assert found[0] == {"line": 1, "refused": "Lift 1 was looked over today."}
    assert set(found[1]) == {"recorded", "job", "says"}
    assert set(found[2]) >= {"lanes"}
    assert (found[3]["line"], set(found[3])) == (5, {"line", "refused"})
    assert found[4]["ok"] is True


def test_the_batchs_badge_holds_where_a_line_has_none(line: Line, pins: str) -> None:
    text = "small --text a --vehicle b\nclock on 1001.1\nclock on 1001.1 --as T2\nday --json\n"
    ran = batch(line, text, "--as", "T1", "--pins", pins)
    assert (ran.status, ran.err) == (0, "")
    assert "Tomas clocked on" in ran.out
    assert json.loads(ran.out.splitlines()[-1])["badge"] == "T1"
    assert "lacks --as BADGE" in batch(line, "undo\n").err


def test_pins_come_from_the_file_for_whoever_acts(line: Line, pins: str) -> None:
    text = "small --text a --vehicle b --as T1\npromise 1001 2100-01-01T10:00 --as FOR\n"
    assert batch(line, text, "--pins", pins).status == 0
    ran = batch(line, "promise 1001 2101-01-01T10:00 --as FOR\n")
    assert (ran.status, ran.out) == (1, "")
    assert ran.err.startswith("line 1: This takes Ruth's PIN")


def test_the_pin_of_the_batchs_badge_may_be_piped_in(line: Line, tmp_path: Path) -> None:
    file = tmp_path / "lines"
    file.write_text("lift inspect 1 --date 2026-01-01 --months 12 --source s --by V\n")
    ran = line.run("batch", str(file), "--as", "FOR", "--pin-stdin")
    assert (ran.status, ran.err) == (0, "")


@pytest.mark.parametrize("mode", [0o644, 0o640, 0o604])
def test_a_file_of_pins_that_others_can_read_is_refused(
    line: Line, tmp_path: Path, mode: int
) -> None:
    path = pins_file(tmp_path, mode=mode)
    said = line.refused("batch", "-", "--pins", str(path), stdin="lift look 2 --as T1\n")
    assert "chmod 600" in said


@pytest.mark.parametrize("text", ["T1\n", "T1 2468 x\n"])
def test_a_bad_line_in_the_file_of_pins_is_named(line: Line, tmp_path: Path, text: str) -> None:
    path = pins_file(tmp_path, PINS + text)
    assert "line 6" in line.refused("batch", "-", "--pins", str(path), stdin="")


@pytest.mark.parametrize(
    "words", ["open", "--ascii", "demo --no-open", "init", "restore x", "batch x", "--help",
              "floor --help", "floor --shop x", "undo --as T1 --pin-stdin", "--version"]
)  # fmt: skip
def test_what_has_no_place_in_a_batch(line: Line, words: str) -> None:
    before = line.events()
    ran = batch(line, f"{words}\n")
    assert (ran.status, ran.out) == (1, "")
    assert "batch" in ran.err
    assert line.events() == before


@pytest.mark.parametrize("path", ["/nonexistent", "/", "a\0b"])
def test_a_file_that_cannot_be_read(line: Line, path: str) -> None:
    assert line.refused("batch", path).startswith("1 ")


def test_bytes_that_are_no_text_are_refused_at_their_line(line: Line, tmp_path: Path) -> None:
    file = tmp_path / "lines"
    file.write_bytes(b"lift look 2 --as T1\nlift look 2 --note \xff --as T1\n")
    ran = line.run("batch", str(file))
    assert ran.status == 1
    assert "line 2: --note holds bytes that are no text" in ran.err


def test_each_line_is_an_act_of_its_own(line: Line) -> None:
    ran = batch(line, "small --text a --vehicle b\nclock on 1001.1\nclock off\n", "--as", "T1")
    assert ran.status == 0
    lines = [json.loads(one) for one in line.run("ledger", "--json").out.splitlines()]
    stamps = [one["recorded_at"] for one in lines if one["kind"].startswith("clocked")]
    assert len(set(stamps)) == 2
    assert lines[-1]["terminal"] == terminal_name({})


def test_setting_pins_in_a_batch_takes_them_from_the_file(line: Line, tmp_path: Path) -> None:
    pins = pins_file(tmp_path, f"{PINS}N1 1357\n")
    text = "people add N1 --name New --role technician\npeople pin N1\npeople pin N2\n"
    ran = batch(line, text, "--as", "OWN", "--pins", str(pins))
    assert ran.err == "line 3: The file of --pins has no PIN for N2. Write it there first.\n"
    people = line.does("people")["people"]
    assert next(one for one in people if one["badge"] == "N1")["has_pin"]
