"""Parts, hires, tools and readiness by command line, until the vehicle is on its lift."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from tests.tui.cli.made import Line

TODAY = datetime.now(UTC).date()


def working_day(days: int) -> str:
    """The first day on which a carrier comes, so many days from today or later."""
    later = TODAY + timedelta(days=days)
    return (later + timedelta(days=max(0, 7 - later.weekday()) * (later.weekday() > 4))).isoformat()


TWO_DAYS = working_day(2)
FIVE_DAYS = next(day for day in map(working_day, (5, 6)) if day > TWO_DAYS)


def waiting(line: Line) -> str:
    """A job that waits."""
    ran = line.run(
        "take", "--operation", "TC", "--family", "B4-M-F", "--vehicle", "van", "--as", "FOR",
        "--pin-stdin",
    )  # fmt: skip
    assert ran.status == 0, ran
    return ran.out.strip()


def lacks(line: Line, job: str) -> list[str]:
    (found,) = line.does("ready", job)["jobs"]
    assert found["ready"] == (not found["lacks"])
    floor = line.does("floor")
    assert next(one for one in floor["waiting"] if one["number"] == job)["lacks"] == found["lacks"]
    return [one["words"] for one in found["lacking"]]


def test_a_job_gets_ready_and_comes_in_by_commands_alone(line: Line) -> None:
    line.acts("OWN", "people", "qualify", "T1", "--for", "refrigerant", "--until", "2099-01-01")
    job = waiting(line)
    assert lacks(line, job) == ["parts 2 of 2, not ordered", "kit: chain link tool"]
    refused = line.refused("move", job, "--lift", "1", "--as", "T1")
    assert "is not ready: parts 2 of 2, not ordered; kit: chain link tool" in refused
    assert "takes the foreman's word" in refused
    done = line.acts("T1", "parts", "add", job, "stud", "oil, 6 l", "--phase", "2")
    assert done["says"] == f"{job}.2 needs: 3 stud, 4 oil, 6 l."
    line.acts("T1", "parts", "ordered", job, "1", "2", "3", "--expected", TWO_DAYS,
              "--supplier", "Factor", "--price", "12.50")  # fmt: skip
    line.acts("T1", "parts", "drop", job, "4")
    line.acts("T1", "parts", "wrong", job, "3", "--note", "M8")
    line.acts("T1", "parts", "returned", job, "3")
    line.acts("T1", "parts", "ordered", job, "3")
    assert lacks(line, job)[0] == "parts 3 of 3, no date"
    line.acts("T1", "parts", "here", job, "1", "2", "3")
    line.acts("FOR", "hire", "ask", "link", "--supplier", "Loan", "--job", job,
              "--expected", TWO_DAYS)  # fmt: skip
    assert lacks(line, job) == []
    tools = line.does("tools")
    assert set(tools) >= {"kits", "clashes", "advice"}
    link = next(one for one in tools["kits"] if one["kit"] == "link")
    assert (link["state"], link["hire"]["due"], link["owned"]) == ("asked for", None, False)
    assert link["needed_by"][0]["job"] == job
    line.acts("T1", "hire", "receive", "link", "--due", FIVE_DAYS)
    (due,) = line.does("floor")["tools_due"]
    assert (due["kit"], due["job"], due["overdue"]) == ("link", job, False)
    line.acts("FOR", "hire", "extend", "link", "--due", TWO_DAYS)
    line.acts("T1", "move", job, "--lift", "1")
    card = line.does("job", job)
    assert (card["ready"], card["unready"], card["lacks"]) == (None, [], [])
    line.acts("T1", "parts", "fitted", job, "1", "--batch", "L 4711")
    line.acts("T1", "hire", "return", "link", "--incomplete", "one pin", "--pieces", "3")
    assert line.does("floor")["tools_due"] == []
    assert line.does("verify")["ok"] is True


def test_a_foreman_brings_in_what_is_not_ready_and_the_record_says_so(line: Line) -> None:
    job = waiting(line)
    line.acts("FOR", "move", job, "--lift", "1")
    card = line.does("job", job)
    assert card["unready"][0] == "parts 2 of 2, not ordered"
    said = [row for row in line.run("ledger", "--job", job).out.splitlines() if "to lift" in row]
    assert "not ready: parts 2 of 2, not ordered" in said[0]
    assert "it came in without parts 2 of 2" in line.run("job", job).out
    assert line.does("verify")["ok"] is True


def test_what_cannot_be_is_one_line(line: Line) -> None:
    job = waiting(line)
    assert "no part line 9" in line.refused("parts", "here", job, "9", "--as", "T1")
    assert "no whole number" in line.refused("parts", "here", job, "one", "--as", "T1")
    assert "parts fitted lacks LINE" in line.refused("parts", "fitted", job, "--as", "T1")
    assert "never here" in line.refused("parts", "fitted", job, "1", "--as", "T1")
    assert "There is no job 77" in line.refused("parts", "77")
    assert "There is no job 77" in line.refused("ready", "77")
    past = ("parts", "ordered", job, "1", "--expected", "2020-01-01", "--as", "T1")
    assert "in the past" in line.refused(*past)
    ask = ("hire", "ask", "link", "--supplier", "Loan", "--as", "FOR", "--pin-stdin")
    assert "takes the foreman" in line.refused(*ask[:-3], "--as", "T1")
    assert "There is no kit saw" in line.refused("hire", "ask", "saw", *ask[3:])
    assert "no hire of link" in line.refused("hire", "return", "link", "--as", "T1")
    line.acts("FOR", *ask[:-3], "--due", FIVE_DAYS)
    assert "is hired for the shop already" in line.refused(*ask)
    assert "has not come yet" in line.refused("hire", "return", "link", "--as", "T1")
    line.acts("FOR", "hire", "cancel", "link")


def test_texts_are_80_columns(line: Line) -> None:
    job = waiting(line)
    line.acts("T1", "parts", "add", job, "a very long part " * 12)
    line.acts("FOR", "hire", "ask", "link", "--supplier", "Loan " * 20, "--job", job)
    for words in (("parts", job), ("ready",), ("ready", job), ("tools",), ("job", job)):
        ran = line.run(*words)
        assert ran.status == 0
        assert max(map(len, ran.out.splitlines())) <= 80, words
