"""`handover`, `followups`, `record`, `sheet`, `dates`: what they say, and what they refuse."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tui.cli.made import Line


@pytest.fixture(name="job")
def job_fixture(line: Line) -> str:
    """A small job that is done."""
    number = str(
        line.acts("T1", "small", "--text", "bulb", "--vehicle", "old saloon", "--lift", "1")["job"]
    )
    line.acts("T1", "clock", "on", f"{number}.1")
    line.acts("T1", "finish", f"{number}.1")
    return number


def test_a_small_job_goes_back_without_warranty_or_follow_ups(line: Line, job: str) -> None:
    done = line.acts("T1", "handover", job, "--odometer", "84200", "--to", "Kim")
    assert done["says"] == f"{job} is handed over and closed. Nothing follows it."
    assert line.does("followups")["follow_ups"] == []
    assert "Nothing is to follow" in line.run("followups").out
    handed = line.does("record", job)["handed"]
    assert (handed["warranty_until"], handed["to"]) == (None, "Kim")
    assert line.does("record", job, "--as", "T1")["handed"]["to"] == "somebody for the customer"


@pytest.mark.parametrize(
    "more, words",
    [
        (("--no-warranty", "--warranty-months", "3"), "--no-warranty stands without"),
        (("--kits-complete", "--kit", "x=1"), "--kits-complete stands without"),
        (("--kit", "x=y"), "no whole number"),
        (("--unit", "furlongs"), "km"),
        (("--kit", "x=1"), "has no kit x"),
        (("--odometer=-1",), "An odometer reads 0 to"),
        (("--warranty-months", "999"), "warranty"),
    ],
)
def test_what_cannot_be_is_one_line(
    line: Line, job: str, more: tuple[str, ...], words: str
) -> None:
    assert words in line.refused("handover", job, *more, "--as", "FOR", "--pin-stdin")


def test_a_text_that_names_the_customer_is_refused(line: Line, job: str) -> None:
    line.acts("FOR", "customer", job, "--name", "Kim Invented", "--telephone", "0123456")
    says = line.refused(
        "handover", job, "--old-parts", "given to Kim Invented", "--as", "FOR", "--pin-stdin"
    )
    assert "old parts names the customer" in says
    says = line.refused(
        "handover", job, "--fluid", "5 l for Kim Invented", "--as", "FOR", "--pin-stdin"
    )
    assert "fluids names the customer" in says
    says = line.refused(
        "followups", "set", job, "--what", "ring Kim Invented", "--day", "2036-01-01", "--as", "T1"
    )
    assert "what names the customer" in says


def test_follow_ups_are_listed_with_their_customer_for_those_who_may_see(
    line: Line, job: str
) -> None:
    line.acts("FOR", "customer", job, "--name", "Kim Invented", "--telephone", "0123456")
    line.acts("T1", "followups", "set", job, "--what", "bulb seen again", "--distance", "100")
    text = line.run("followups", "--as", "FOR").out
    assert "Kim Invented 0123456" in text
    assert "bulb seen again (within 100 km) (shop)" in text
    assert "from the entry of" in text
    assert "Kim" not in line.run("followups", "--as", "T1").out
    late = line.does("followups", "--at", "2036-01-01T12:00")["follow_ups"]
    assert [one["overdue"] for one in late] == [True]


@pytest.mark.parametrize("command", ["record JOB --html", "sheet JOB --html", "dates"])
def test_no_page_is_written_over_the_shop_or_into_nowhere(
    line: Line, job: str, command: str, tmp_path: Path
) -> None:
    words = command.replace("JOB", job).split()
    assert "is the shop file" in line.refused(*words, str(line.path))
    assert line.refused(*words, str(tmp_path / "no" / "folder.html")).startswith("1 ")


def test_a_sheet_of_a_small_job_says_what_it_knows(line: Line, job: str) -> None:
    text = line.run("sheet", job).out
    assert "Proposed work" in text
    assert "bulb" in text
    assert line.does("sheet", job)["ways"][0]["text"] == "bulb"
    assert "There is no job 99" in line.refused("sheet", "99")
