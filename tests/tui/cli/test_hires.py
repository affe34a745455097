"""Suppliers, hires and the foreman's word by command line, from the terms to the invoice."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from tests.tui.cli.made import Line

TODAY = datetime.now(UTC)
FIVE_DAYS = (TODAY + timedelta(days=5)).date().isoformat()
NEXT_YEAR = (TODAY + timedelta(days=365)).date().isoformat()


def supplied(line: Line) -> None:
    """A supplier and its terms for the link tool."""
    line.acts("FOR", "supplier", "Loan Tools", "--cut-off", "15:30", "--counts", "hand-over",
              "--weekend", "free", "--late", "1.5", "--lead", "0", "--back", "1",
              "--cleaning", "40")  # fmt: skip
    line.acts("FOR", "hire", "terms", "link", "--supplier", "loan tools", "--day", "24",
              "--week", "90", "--minimum", "3", "--carriage", "15", "--deposit", "200")  # fmt: skip


def to_link(line: Line) -> str:
    """A job of which everything before the phase that needs the link tool is done."""
    job = line.take()
    for command in (
        f"clock on {job}.1", f"finish {job}.1", f"clock on {job}.2",
        f"sign {job}.2.1 --reading 2000", f"sign {job}.2.2",
        f"sign {job}.2.3 --reading a=0.1 --reading b=0.12",
    ):  # fmt: skip
        line.acts("T2", *command.split())
    line.acts("T1", "sign", f"{job}.2.3")
    line.acts("T2", "finish", f"{job}.2")
    line.acts("T2", "clock", "on", f"{job}.3")
    decision = next(
        one["step"] for one in line.does("job", job)["phases"][2]["steps"]
        if one["kind"] == "decision"
    )  # fmt: skip
    line.acts("T2", "sign", f"{job}.3.{decision}", "--answer", "A")
    line.acts("T2", "finish", f"{job}.3")
    return job


def test_suppliers_are_listed_with_what_they_offer(line: Line) -> None:
    assert "No supplier is known" in line.run("supplier").out
    assert line.does("supplier") == {"suppliers": []}
    supplied(line)
    line.acts("FOR", "supplier", " LOAN  tools", "--late", "2")
    (found,) = line.does("supplier")["suppliers"]
    assert (found["supplier"], found["cut_off"], found["late"]) == ("Loan Tools", "15:30", 2)
    assert found["offers"] == [
        {"kit": "link", "day": 24, "week": 90, "month": None, "minimum_days": 3, "carriage": 15,
         "deposit": 200}
    ]  # fmt: skip
    text = line.run("supplier").out
    assert "Loan Tools: delivered 0 working days after asking" in text
    assert "  link: 24.00 a day, 90.00 a week, at least 3 days, carriage 15.00 each" in text
    line.acts("FOR", "hire", "terms", "link", "--supplier", "Loan Tools", "--gone")
    assert line.does("supplier")["suppliers"][0]["offers"] == []


def test_a_hire_goes_its_whole_way_by_commands(line: Line) -> None:
    supplied(line)
    job = line.take()
    asked = line.acts("FOR", "hire", "ask", "link", "--job", job, "--due", FIVE_DAYS)
    assert "asked for at Loan Tools" in asked["says"]
    here = line.acts("T1", "hire", "receive", "link", "--missing", "pin", "--serial", "LT 7",
                     "--valid-until", NEXT_YEAR)  # fmt: skip
    assert "not complete: pin. Tell Loan Tools now" in here["says"]
    assert "hoistbook hire mend link" in here["says"]
    line.acts("T1", "hire", "mend", "link")
    line.acts("FOR", "hire", "give", "link", "--to", "any")
    line.acts("FOR", "hire", "give", "link", "--to", job)
    line.acts("T1", "hire", "return", "link", "--pieces", "6", "--dirty", "--damage", "tip bent")
    line.acts("T1", "hire", "arrived", "link")
    kept = line.acts("FOR", "hire", "deposit", "link", "--amount", "160")
    assert "40.00 were kept" in kept["says"]
    line.acts("FOR", "hire", "invoice", "link", "--amount", "142", "--extras", "40")
    line.acts("FOR", "kit", "price", "link", "--buy", "640", "--upkeep", "25", "--years", "6")
    assert line.does("verify")["ok"] is True


def test_a_phase_begins_with_its_kit_or_the_foremans_word(line: Line) -> None:
    supplied(line)
    job = to_link(line)
    refused = line.refused("clock", "on", f"{job}.4", "--as", "T2")
    assert f"{job}.4 chain set needs chain link tool (not hired)" in refused
    assert f"hoistbook hire let {job}.4 --why TEXT" in refused
    assert "takes the foreman or owner" in line.refused(
        "clock", "on", f"{job}.4", "--why", "by hand", "--as", "T2"
    )
    line.acts("FOR", "hire", "let", f"{job}.4", "--why", "by hand, as the data says")
    line.acts("T2", "clock", "on", f"{job}.4")
    assert line.does("verify")["ok"] is True


def test_a_foreman_begins_it_himself_with_a_reason(line: Line) -> None:
    supplied(line)
    job = to_link(line)
    line.acts("FOR", "clock", "on", f"{job}.4", "--why", "by hand")
    kinds = [one["kind"] for one in map(_row, line.run("ledger", "--json").out.splitlines()[-2:])]
    assert kinds == ["kit-let", "clocked-on"]


def _row(text: str) -> dict[str, str]:
    import json

    found: dict[str, str] = json.loads(text)
    return found


def test_wrong_figures_and_words_are_one_line(line: Line) -> None:
    supplied(line)
    by = ("--as", "FOR", "--pin-stdin")
    for argv, words in (
        (("supplier", "Loan Tools", "--late", "-1"), "0 to 10"),
        (("supplier", "Loan Tools", "--cut-off", "25:00"), "no time of day"),
        (("supplier", "--late", "1"), "lacks NAME"),
        (("supplier", "loantools", "--late", "1.5"), "counts so already"),
        (("hire", "terms", "link", "--supplier", "Loan Tools", "--day", "nan"), "no number"),
        (("hire", "terms", "link", "--supplier", "Loan Tools", "--day", "0"), "more than 0"),
        (("hire", "terms", "link", "--supplier", "Loan Tools", "--week", "900"), "1 to 7 days"),
        (("hire", "terms", "link", "--supplier", "Other", "--day", "9"), "Say first how Other"),
        (("hire", "terms", "locks", "--supplier", "Loan Tools", "--gone"), "not on offer"),
        (("kit", "price", "link", "--years", "90"), "0.5 to 50"),
        (("kit", "price", "link", "--years", "9"), "--buy MONEY"),
        (("kit", "date", "link", "--until", NEXT_YEAR, "--source", "label"), "is hired"),
        (("hire", "ask", "locks", "--supplier", "Loan Tools"), "No job has a phase to come"),
        (("hire", "deposit", "link", "--amount", "1"), "Nothing of link was sent back"),
        (("hire", "let", "1001.4", "--why", "so"), "no job 1001"),
    ):
        assert words in line.refused(*argv, *by), argv
