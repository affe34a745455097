"""Commands of the desk: what they print, what they take, and what is wrong usage."""

from __future__ import annotations

import pytest
from rich.cells import cell_len

from tests.tui.cli.made import PIN, Line

ROW = {
    "number", "state", "since", "next", "late", "vehicle", "plate", "vin", "work", "complaint",
    "operations", "family", "options", "grade", "small", "arrives", "arrived_at", "place", "check",
    "quote", "promise", "customer", "telephone", "comeback_of", "why",
}  # fmt: skip
QUOTE = {
    "quote", "at", "who", "rough", "state", "ways", "basis", "ceiling", "promise", "means", "until",
    "extras", "answered_at", "answered_by", "why",
}  # fmt: skip


@pytest.fixture(name="job")
def job_fixture(line: Line) -> str:
    """An enquiry about work that was quoted, by a customer whose name is known."""
    job = str(
        line.acts("FOR", "enquiry", "--vehicle", "grey estate", "--operation", "TC", "--family",
                  "B4-M-F", "--name", "Kim Invented", "--telephone", "0123 456")["job"]
    )  # fmt: skip
    line.acts("FOR", "quote", job, "--basis", "time", "--means", "letter", "--extra", "belts")
    return job


def test_enquiry_prints_the_number_and_nothing_else(line: Line) -> None:
    ran = line.run("enquiry", "--vehicle", "van", "--as", "APP")
    assert (ran.status, ran.out, ran.err) == (0, "1001\n", "")


def test_desk(line: Line, job: str) -> None:
    found = line.does("desk")
    assert set(found) == {"at", "currency", "rows", "gone"}
    (row,) = found["rows"]
    assert set(row) == ROW
    assert set(row["quote"]) == QUOTE
    assert (row["number"], row["state"], row["customer"]) == (job, "quoted", "Kim Invented")
    way = row["quote"]["ways"][0]
    assert set(way) == {"text", "operations", "options", "hours", "money"}
    assert way["money"]["total"] == pytest.approx(way["hours"]["middle"] * 90, abs=0.01)
    assert line.does("desk", "--as", "T1")["rows"][0]["customer"] is None
    assert line.does("desk", "--as", "FOR")["rows"][0]["telephone"] == "0123 456"


def test_desk_in_words(line: Line, job: str) -> None:
    assert line.run("desk", "--as", "T1").out.splitlines()[:2] == [
        "quoted, waits for a word", f"  {job} grey estate  timing chain",
    ]  # fmt: skip
    ran = line.run("desk")
    assert "Kim Invented, 0123 456" in ran.out
    assert all(cell_len(each) <= 80 for each in ran.out.splitlines())
    line.acts("FOR", "decline", job, "--why", "too dear")
    assert "too dear" in line.run("desk").out
    assert "hoistbook enquiry" in line.run("desk").out


def test_quotes_and_what_became_of_them(line: Line, job: str) -> None:
    assert set(line.does("quotes")) == {
        "since", "quoted", "agreed", "declined", "open", "closed", "hours", "jobs",
    }  # fmt: skip
    assert line.does("quotes", "--months", "3")["jobs"][0]["became"] == "open"
    assert line.run("quotes").out.startswith("Since ")
    assert "1 to 240" in line.refused("quotes", "--months", "0")


def test_ways_are_written_short(line: Line, job: str) -> None:
    line.acts("FOR", "quote", job, "--way", "TC:build=B", "--way", "TC+WP")
    ways = line.does("job", job)["desk"]["quotes"][-1]["ways"]
    assert [one["operations"] for one in ways] == [["TC"], ["TC", "WP"]]
    assert ways[0]["options"]["build"] == "B"


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        ("quote JOB --way :x", "--way is written"),
        ("quote JOB --way TC:build", "--way is written"),
        ("agree JOB --basis time --by a --means b --ahead stud", "--ahead is written"),
        ("agree JOB --basis time --by a --means b --ahead stud=on=much", "no number"),
        ("agree JOB --basis gift", "--basis is one of"),
        ("customer JOB --telephone 1", "--name"),
        ("customer JOB --name a --customer-stdin", "not both"),
        ("book JOB someday", "DAY"),
        ("arrive", "--vehicle"),
        ("arrive JOB --complaint x", "--complaint"),
        ("erase", "--job"),
        ("erase c-0123456789abcdef --job JOB", "--job"),
        ("qualify JOB --result maybe", "--result is one of"),
        ("comeback JOB --of x --cause y", "job"),
    ],
)
def test_wrong_usage(line: Line, job: str, argv: str, words: str) -> None:
    typed = [job if one == "JOB" else one for one in argv.split()]
    assert words in line.refused(*typed, "--as", "FOR", "--pin-stdin")


def test_a_name_may_come_from_standard_input(line: Line) -> None:
    job = line.run("enquiry", "--vehicle", "van", "--as", "T1").out.strip()
    said = ("customer", job, "--customer-stdin", "--as", "FOR", "--pin-stdin")
    assert "no name" in line.refused(*said, stdin=f"{PIN}\n")
    ran = line.run(*said, stdin=f"{PIN}\nÄnne Würz\n0999 8\n")
    assert (ran.status, ran.err) == (0, "")
    assert line.run("customer", job).out == "Änne Würz, 0999 8\n"
    assert line.does("customer", job) == {"job": job, "name": "Änne Würz", "telephone": "0999 8"}
    assert "foreman or owner" in line.refused("customer", job, "--as", "T1")


def test_a_batch_takes_no_name_from_its_own_lines(line: Line) -> None:
    job = line.run("enquiry", "--vehicle", "van", "--as", "T1").out.strip()
    ran = line.run("batch", "-", "--as", "FOR", stdin=f"customer {job} --customer-stdin\n")
    assert ran.status == 1
    assert "--name" in ran.err


def test_a_vehicle_is_shown_and_identified(line: Line, job: str) -> None:
    line.acts("T1", "vehicle", job, "--vin", "1" * 17, "--plate", "ab-12", "--engine", "E1")
    line.acts("T1", "arrive", job, "--odometer", "98000", "--unit", "km")
    found = line.does("vehicle", "AB-12")
    assert (found["vin"], found["odometers"][0]["value"]) == ("1" * 17, 98000)
    text = line.run("vehicle", job).out
    assert text.splitlines()[:2] == ["grey estate", f"  AB-12, {'1' * 17}, B4-M-F, engine E1"]
    assert "98,000 km" in text
    assert "No vehicle is called bus" in line.refused("vehicle", "bus")


def test_the_short_way_may_say_whose_vehicle_it_is(line: Line) -> None:
    taking = ("--operation", "TC", "--family", "B4-M-F", "--name", "Kim Invented")
    assert "'the customer'" in line.refused(
        "take", *taking, "--vehicle", "Kim's van", "--as", "FOR", "--pin-stdin"
    )
    job = line.acts("FOR", "take", *taking, "--vehicle", "van")["job"]
    assert line.does("customer", job)["name"] == "Kim Invented"
