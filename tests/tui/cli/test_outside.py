"""From what was found to the customer's word, and from the machine shop back, by commands alone."""

from __future__ import annotations

from pathlib import Path

from rich.cells import cell_len

from tests.store.made_calls import AWAY
from tests.tui.cli.made import BOOK, Line


def head(line: Line, *more: str) -> str:
    """A job whose head is to go to a machine shop."""
    book = Path(str(line.path) + ".toml")
    book.write_text(BOOK.read_text("utf-8") + AWAY, "utf-8")
    line.acts("OWN", "workbook", "load", str(book))
    return str(
        line.acts("FOR", "take", "--operation", "MS", "--family", "B4-M-F", "--vehicle", "truck",
                  *more)["job"]
    )  # fmt: skip


def whole(line: Line) -> None:
    assert line.does("verify")["ok"]


def test_extra_work_from_the_finding_to_the_last_line(line: Line) -> None:
    job = head(line, "--basis", "ceiling", "--ceiling", "1")
    for text, more in (("stud", ("--hours", "1")), ("clips", ("--money", "45"))):
        line.acts("T1", "finding", f"{job}.1", "--kind", "surprise", "--text", text, *more)
    line.acts("T1", "call", job, "--means", "telephone", "--text", "nobody", "--again",
              "2027-01-04T10:00")  # fmt: skip
    line.acts("FOR", "call", job, "--means", "text message", "--text", "asked to ring")
    card = line.does("job", job)
    assert [one["text"] for one in card["calls"]] == ["nobody", "asked to ring"]
    assert card["may_go_on"] == ["2"]
    assert [(one["hours"], one["money"]) for one in card["supplements"]] == [(1, 90), (0, 45)]
    text = line.run("job", job).out
    assert "tried twice" in text
    assert "meanwhile: 2 head off may go on" in text
    says = line.refused("supplement", "approve", job, "--line", "1", "--as", "FOR", "--pin-stdin")
    expected = card["money"]["expected"]["middle"]
    assert f"{expected + 90:,.2f}; its ceiling is 1.00" in says
    line.acts("FOR", "supplement", "approve", job, "--line", "1", "--ceiling",
              str(expected + 90), "--by", "Robin Invented", "--means", "telephone")  # fmt: skip
    line.acts("FOR", "supplement", "refuse", job, "--by", "customer", "--means", "telephone")
    card = line.does("job", job)
    assert [(one["state"], one["answered_by"]) for one in card["supplements"]] == [
        ("approved", "Robin Invented"), ("refused", "the customer"),
    ]  # fmt: skip
    money = card["money"]
    assert (money["ceiling"], money["extra_work"], money["over"]) == (expected + 90, 90, 0)
    line.acts("FOR", "ceiling", job, "2000", "--by", "customer", "--means", "letter")
    line.acts("FOR", "undo")
    assert line.does("job", job)["money"]["ceiling"] == expected + 90
    whole(line)


def test_what_was_agreed_ahead_takes_no_call(line: Line) -> None:
    job = head(line)
    line.acts("T1", "finding", f"{job}.1", "--kind", "surprise", "--text", "clip", "--money", "4")
    says = line.refused("supplement", "approve", job, "--ahead", "--as", "FOR", "--pin-stdin")
    assert "Nothing was agreed ahead" in says
    says = line.refused("supplement", "approve", job, "--ahead", "--means", "x", "--as", "FOR")
    assert says.startswith("2 ")
    whole(line)


def test_a_head_goes_to_the_machine_shop_and_comes_back_cracked(line: Line) -> None:
    job = head(line)
    for phase in ("1", "2"):
        line.acts("T1", "clock", "on", f"{job}.{phase}")
        line.acts("T1", "finish", f"{job}.{phase}")
    assert line.run("outwork").out == "Nothing is away.\n"
    line.acts("T1", "outwork", "send", f"{job}.3", "--what", "head to be refaced", "--firm",
              "Facing Works", "--promised", "2027-10-19", "--price", "210",
              "--chase", "2027-10-16")  # fmt: skip
    line.acts("T1", "outwork", "chase", f"{job}.3", "--said", "a day later", "--promised",
              "2027-10-20")  # fmt: skip
    away = line.does("outwork")["away"]
    assert [(one["firm"], one["said"], one["promised"][:10]) for one in away] == [
        ("Facing Works", "a day later", "2027-10-21")  # the end of that day, open round the clock
    ]
    text = line.run("outwork").out
    assert "at Facing Works" in text
    assert max(cell_len(one) for one in text.splitlines()) <= 80
    assert "is no outwork" not in line.refused("outwork", "send", f"{job}.2", "--what", "x",
                                               "--firm", "y", "--as", "T1")  # fmt: skip
    says = line.acts("T1", "outwork", "back", f"{job}.3", "--reading", "left=121", "--reading",
                     "right=120.5", "--answer", "cracked", "--price", "230")["says"]  # fmt: skip
    assert "finished" in says
    card = line.does("job", job)
    assert "M4" in [one["code"] for one in card["phases"]]
    assert card["outwork"][0]["price"] == 230
    assert card["money"]["used"]["outwork"] == 230
    assert line.does("outwork")["away"] == []
    assert "refaced, by Facing Works" in line.run("job", job).out
    whole(line)


def test_advice_is_shown_and_answered_by_its_line(line: Line) -> None:
    job = head(line)
    assert line.run("advice", job).out == f"Nothing was advised on {job}.\n"
    for text, more in (("hoses hard", ("--hours", "0.4")), ("mounts soft", ())):
        line.acts("T1", "finding", f"{job}.1", "--kind", "advice", "--text", text, *more)
    line.acts("FOR", "advice", job, "2", "--answer", "declined", "--risk-told", "--by", "customer")
    line.acts("FOR", "advice", job, "1", "--answer", "agreed", "--means", "telephone")
    found = line.does("advice", job)["advice"]
    assert [(one["answer"], one["risk_told"]) for one in found] == [
        ("agreed", False), ("declined", True),
    ]  # fmt: skip
    assert line.does("job", job)["supplements"][0]["state"] == "approved"
    assert "the risk was told" in line.run("advice", job).out
    assert "has no advice 3" in line.refused("advice", job, "3", "--answer", "later", "--as", "FOR")
    assert line.refused("advice", job, "--answer", "later", "--as", "FOR").startswith("2 ")
    whole(line)
