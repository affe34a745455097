"""`assign` and `next`: a foreman's lists by commands alone, from giving work to starting it."""

from __future__ import annotations

from typing import Any

import pytest

from store.file.verify import verify
from tests.tui.cli.made import Line


def nexts(line: Line, badge: str) -> list[str]:
    """A person's list."""
    (person,) = line.does("next", badge)["people"]
    return [
        one["job"] if one["phase"] is None else f"{one['job']}.{one['phase']}"
        for one in person["next"]
    ]


def give(line: Line, *argv: str) -> Any:
    """By the foreman."""
    return line.acts("FOR", "assign", *argv)


def test_a_foremans_lists_by_commands_alone(line: Line) -> None:
    one = line.take()
    two = str(
        line.acts("FOR", "take", "--operation", "WP", "--family", "B4-M-F", "--vehicle", "estate",
                  "--lift", "2", "--mass", "1500")["job"]
    )  # fmt: skip
    done = give(line, f"{one}.1", "T1")
    assert set(done) == {"recorded", "job", "says"}
    assert done["job"] == one
    assert done["says"] == f"{one}.1 reception is on Ines's list, next."
    give(line, two, "T1")
    give(line, f"{one}.2", "T1", "--front")
    assert nexts(line, "T1") == [f"{one}.2", f"{one}.1", two]
    line.acts("FOR", "assign", "--order", "T1", f"{one}.1", two)
    assert nexts(line, "t1") == [f"{one}.1", two, f"{one}.2"]
    assert "instead of Ines" in give(line, f"{one}.2", "T2")["says"]
    give(line, f"{one}.2", "T1", "--too")
    give(line, f"{one}.2", "T2", "--off")
    assert (nexts(line, "T1"), nexts(line, "T2")) == ([f"{one}.1", two, f"{one}.2"], [])
    give(line, f"{one}.2", "--nobody")
    line.acts("FOR", "undo")
    assert nexts(line, "T1") == [f"{one}.1", two, f"{one}.2"]
    card = line.does("job", one)
    assert card["assigned"] == [
        {"badge": "T1", "phase": "1", "next": True}, {"badge": "T1", "phase": "2", "next": False},
    ]  # fmt: skip
    lanes = line.does("floor")["lanes"]
    assert [lane["job"]["assigned"][0]["badge"] for lane in lanes] == ["T1", "T1"]
    assert "0.0 of 0.5 h T1 next" in line.run("floor").out
    line.acts("T1", "clock", "on", f"{one}.1")
    line.acts("T1", "finish", f"{one}.1")
    assert nexts(line, "T1") == [two, f"{one}.2"]
    assert verify(line.path).ok


def test_the_text_says_what_each_has_next_and_what_is_nobodys(line: Line) -> None:
    one = line.take()
    text = line.run("next").out
    assert "Ines (T1)  no clock" in text
    assert "nothing next. Give work: hoistbook assign JOB.PHASE T1" in text
    assert "nobody's, could go on now" in text
    assert f"{one}.1" in text
    give(line, one, "T2", "--all-the-same")
    text = line.run("next", "T2").out
    assert f" 1  {one}     timing chain  panel van  lift 1" in text
    assert "now, phase 1; likely " in text
    assert "nobody's" not in text
    assert "nothing that could go on is nobody's" in line.run("next").out
    assert all(len(row) <= 80 for row in line.run("next").out.splitlines())
    give(line, f"{one}.3", "T1")
    assert "waits: after 2 gearbox off" in line.run("next", "T1").out


def test_the_document_of_everybody(line: Line) -> None:
    one = line.take()
    line.acts("T2", "clock", "on", f"{one}.1")
    give(line, f"{one}.2", "T1")
    found = line.does("next")
    assert set(found) == {"at", "people", "nobodys"}
    assert {one["badge"] for one in found["people"]} == {"T1", "T2", "APP", "FOR", "OWN"}
    tomas = next(one for one in found["people"] if one["badge"] == "T2")
    assert (tomas["clock"], tomas["away"], tomas["next"]) == (f"{one}.1", None, [])
    (work,) = next(one for one in found["people"] if one["badge"] == "T1")["next"]
    assert (work["name"], work["place"], work["begins"]) == ("gearbox off", "lift 1", "2")
    assert work["left_hours"] == pytest.approx(2.4)
    assert work["given_by"] == "Ruth"
    assert set(work["likely"]) == {"from", "until"}


@pytest.mark.parametrize(
    "argv, words",
    [
        (("1001.1",), "assign lacks BADGE"),
        (("1001.1", "T1", "T2"), "one badge, not 'T2' too"),
        (("1001.1", "T1", "--nobody"), "a badge or --nobody"),
        (("1001.1", "--off"), "--off lacks the badge"),
        (("--order", "T1", "1001", "--front"), "--order or --front"),
        (("--order", "T1", "x.1"), "'x.1' is no job or phase"),
        (("--order", "T1"), "lacks JOB[.PHASE]"),
        (("1001.1", "T9"), "Nobody here has the badge T9"),
        (("1009.1", "T1"), "There is no job 1009"),
        (("1001.2", "APP"), "Lev is an apprentice and cannot be alone on 1001.2"),
        (("1001.5", "T1"), "qualified for refrigerant"),
        (("1001", "T1"), "To do it all the same: --all-the-same."),
        (("1001.1", "--nobody"), "on nobody's list"),
    ],
    ids=str,
)
def test_each_is_refused_in_one_line_and_nothing_is_half_done(
    line: Line, argv: tuple[str, ...], words: str
) -> None:
    line.take()
    says = line.refused("assign", *argv, "--as", "FOR", "--pin-stdin")
    assert words in says, says


def test_a_technician_takes_work_on_with_the_badge_alone(line: Line) -> None:
    one = line.take()
    line.does("assign", f"{one}.1", "T1", "--as", "T1")
    says = line.refused("assign", f"{one}.1", "T2", "--as", "T2")
    assert "may not do this: it takes the foreman or owner" in says
    line.refused("next", "X9")
