"""What is to be done about kits, by command: in words, as a document, and done as it is printed."""

from __future__ import annotations

import pytest

from tests.tui.cli.made import Line

TERMS = ("--day", "24", "--week", "90", "--carriage", "12", "--minimum", "1")
ADVICE = {"kit", "do", "until", "expected_cost", "instead_of", "why"}
KIT = {"kit", "name", "owned", "state", "needed_by", "hire"}
HIRE = {"supplier", "from", "due", "overdue", "per_day", "late_per_day"}


@pytest.fixture(name="job")
def job_fixture(line: Line) -> str:
    line.acts("FOR", "supplier", "Loan", "--lead", "1", "--late", "1.5")
    line.acts("FOR", "hire", "terms", "link", "--supplier", "Loan", *TERMS)
    return line.take()


def test_advice_is_done_by_the_command_that_it_prints(line: Line, job: str) -> None:
    tools = line.does("tools")
    (advice,) = tools["advice"]
    assert set(advice) >= ADVICE
    assert (advice["kit"], advice["do"], advice["job"]) == ("link", "ask", job)
    assert advice["expected_cost"] <= advice["instead_of"]
    link = next(one for one in tools["kits"] if one["kit"] == "link")
    assert set(link) >= KIT
    assert set(link["needed_by"][0]) >= {"job", "phase", "from", "until"}
    assert set(link["needed_by"][0]["until"]) == {"middle", "cautious"}
    line.acts("FOR", *advice["ways"][0]["command"])
    hire = next(one for one in line.does("tools")["kits"] if one["kit"] == "link")["hire"]
    assert set(hire) >= HIRE
    assert hire["due"] == advice["until"]
    assert (hire["per_day"], hire["late_per_day"], hire["overdue"]) == (24, 36, False)
    assert line.does("verify")["ok"] is True


def test_the_days_behind_advice_are_a_table_that_adds_up(line: Line, job: str) -> None:
    del job
    found = line.does("hire", "advise", "link")
    assert found["kit"]["kit"] == "link"
    (advice,) = found["advice"]
    for row in advice["days"]:
        parts = row["hire"] + row["carriage"] + row["late"] + row["waiting"]
        assert row["total"] == pytest.approx(parts, abs=0.03)
    best = min(row["total"] for row in advice["days"])
    assert advice["expected_cost"] == pytest.approx(best, abs=0.01)
    text = line.run("hire", "advise", "link").out
    assert "back by" in text
    assert text.count("\n> ") == 1


def test_all_advice_stands_in_one_list_of_80_columns(line: Line, job: str) -> None:
    for words in (("tools",), ("hire", "advise"), ("hire", "advise", "link")):
        ran = line.run(*words)
        assert ran.status == 0
        assert max(map(len, ran.out.splitlines())) <= 80, words
    assert f"ask: chain link tool for {job}" in line.run("hire", "advise").out
    assert "ASK" in line.run("tools").out
    assert set(line.does("hire", "advise")) == {"clashes", "advice", "buy", "made_at"}


def test_what_cannot_be_advised_is_one_line(line: Line, job: str) -> None:
    del job
    assert "There is no kit saw. The work book has: link, locks." in line.refused(
        "hire", "advise", "saw"
    )
    assert "--at lies before the last entry" in line.refused("tools", "--at", "2020-01-01T10:00")
    assert "locking set: nothing to advise" in line.run("hire", "advise", "locks").out
