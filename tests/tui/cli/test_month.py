"""`month`: the document's keys, tables that read back as the page's figures, text of 80 columns,
and what is refused."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len

from store.file.backup import backup
from store.file.csv_out import harmless
from store.file.shop import Shop
from store.views.month.page import Month, month
from tests.store.actions.made import World
from tests.tui.cli.made import Line
from tests.tui.papers.made_month import MENDS, full, month_shop
from tui.cli import csv_month, json_month, text_month
from tui.signs import ASCII

SEEN_AT = "2026-11-02T09:00"
NOW = datetime(2026, 11, 2, 8, 0, tzinfo=UTC)
KEYS = {
    "month", "jobs", "bias_percent", "typical_miss_percent", "within_25_percent",
    "cautious_held_percent", "hours", "ratios", "held_hours", "money", "by_operation", "signals",
    "book_should_say",
}  # fmt: skip
WITHIN = {
    "hours": {"attended", "on_jobs", "indirect", "estimated"},
    "ratios": {"utilisation", "efficiency", "productivity"},
    "money": {"labour_worked", "labour_estimated", "hire", "hire_idle", "late_fees", "currency"},
}
OF_EACH = {
    "by_operation": {"operation", "jobs", "bias_percent", "hours_lost"},
    "signals": {"what", "since", "says"},
    "book_should_say": {"operation", "phase", "family", "book_hours", "should", "finished", "says"},
}
"""As they were promised to whoever scripts against them: more may come, none may go."""


@pytest.fixture(name="world", scope="module")
def world_fixture(tmp_path_factory: pytest.TempPathFactory) -> Iterator[World]:
    made = month_shop(Path(tmp_path_factory.mktemp("month")))
    yield made
    made.shop.close()


@pytest.fixture(name="at")
def at_fixture(world: World, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Line:
    """A command line at a copy of the shop."""
    for name in ("HOISTBOOK_SHOP", "HOISTBOOK_BADGE", "HOISTBOOK_ASCII"):
        monkeypatch.delenv(name, raising=False)
    copy = tmp_path / "copy.shop"
    backup(world.shop, copy)
    return Line(copy)


def asked(at: Line, **more: Any) -> Month:
    shop = Shop(at.path)
    try:
        return month(shop, "2026-10", NOW, **more)
    finally:
        shop.close()


def read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return [*csv.DictReader(file)]


# -- JSON


def test_the_document_has_every_key_that_was_promised(at: Line) -> None:
    told = at.does("month", "2026-10", "--at", SEEN_AT)
    assert set(told) >= KEYS
    assert list(told)[: len(KEYS)] == [one for one in told if one in KEYS]
    for key, inside in WITHIN.items():
        assert set(told[key]) >= inside, key
    assert told["by_operation"]
    for key, of_each in OF_EACH.items():
        assert all(set(one) >= of_each for one in told[key]), key


def test_a_full_month_has_them_in_every_line(world: World) -> None:
    told = json_month.document(full(world))
    for key, of_each in OF_EACH.items():
        lines: Any = told[key]
        assert lines, key
        assert all(set(one) >= of_each for one in lines), key


def test_its_figures_are_those_of_the_jobs(at: Line) -> None:
    told, found = at.does("month", "2026-10", "--at", SEEN_AT), asked(at)
    took = [one.labour_h for one in found.jobs]
    agreed = [one.estimate_h or 0.0 for one in found.jobs]
    misses = sorted(abs(a - b) / a for a, b in zip(took, agreed, strict=True))
    assert told["jobs"] == len(MENDS)
    assert told["bias_percent"] == pytest.approx(100 * (sum(took) / sum(agreed) - 1), abs=1e-3)
    assert told["typical_miss_percent"] == pytest.approx(50 * (misses[4] + misses[5]), abs=1e-3)
    assert told["within_25_percent"] == pytest.approx(
        100 * sum(one <= 0.25 + 1e-9 for one in misses) / len(misses)
    )
    ranges = [one.quantiles for one in found.jobs if one.quantiles is not None]
    assert len(ranges) == told["scored_jobs"] == told["judged"]["inside"]["of"] == len(MENDS)
    held = [q[1] <= a <= q[17] for a, q in zip(took, ranges, strict=True)]
    assert told["inside_range_percent"] == pytest.approx(100 * sum(held) / len(held), abs=1e-3)
    assert 0 < told["pinball_hours"] < told["crps_hours"] < told["interval_score_hours"]
    assert told["hours"]["on_jobs"] == pytest.approx(sum(took), abs=1e-4)
    assert told["ratios"]["utilisation"] == pytest.approx(
        told["hours"]["on_jobs"] / told["hours"]["attended"], abs=1e-4
    )
    assert told["held_hours"] == pytest.approx(
        {reason: one.value for reason, one in found.held.reasons}, abs=1e-4
    )
    assert told["held_hours"]["parts"] > 0


def test_nothing_to_divide_by_is_null(at: Line) -> None:
    told = at.does("month", "2026-11", "--at", SEEN_AT)
    assert told["jobs"] == 0
    assert [told[key] for key in sorted(KEYS) if key.endswith("_percent")] == [None] * 4
    assert (told["inside_range_percent"], told["crps_hours"], told["scored_jobs"]) == (
        None,
        None,
        0,
    )
    assert told["ratios"]["efficiency"] is None
    assert told["by_operation"] == []
    assert told["running"] is True


def test_what_a_figure_is_made_of_adds_up_to_it(at: Line) -> None:
    told = at.does("month", "2026-10", "--at", SEEN_AT)
    for key in ("attended", "on_jobs", "estimated"):
        ways = told["made_of"][key]
        assert sum(one["value"] for one in ways) == pytest.approx(told["hours"][key], abs=1e-3)
    events = at.run("ledger", "--json").out.splitlines()
    clock = told["made_of"]["on_jobs"][0]["ways"][0]["ways"][0]
    assert f'"seq": {clock["events"][0]}, ' in events[clock["events"][0] - 1]


# -- tables


def test_the_tables_read_back_as_the_page_has_them(at: Line, tmp_path: Path) -> None:
    folder = tmp_path / "tables"
    ran = at.run("month", "2026-10", "--at", SEEN_AT, "--csv", str(folder))
    assert (ran.status, ran.err) == (0, "")
    assert sorted(one.name for one in folder.iterdir()) == sorted(csv_month.TABLES)
    found = asked(at)
    judged = read(folder / "accuracy.csv")[0]
    inside, scores = found.accuracy.inside, found.accuracy.scores
    assert inside is not None
    assert scores is not None
    assert [float(judged[key]) for key in ("inside", "inside_low", "inside_high")] == [
        inside.share, inside.low, inside.high,
    ]  # fmt: skip
    assert float(judged["pinball_hours"]) == scores.pinball_h
    assert float(judged["crps_hours"]) == scores.crps_h
    jobs = read(folder / "jobs.csv")
    assert [one["job"] for one in jobs] == [one.job for one in found.jobs]
    assert [float(one["labour_hours"]) for one in jobs] == [one.labour_h for one in found.jobs]
    assert [float(one["estimate_hours"]) for one in jobs] == [one.estimate_h for one in found.jobs]
    assert [datetime.fromisoformat(one["closed_at"]) for one in jobs] == [
        one.closed_at for one in found.jobs
    ]
    figures = {one["figure"]: one["value"] for one in read(folder / "figures.csv")}
    assert float(figures["on_jobs"]) == found.hours.on_jobs.value
    assert float(figures["held:parts"]) == dict(found.held.reasons)["parts"].value
    clocks = {one["seq"]: float(one["hours"]) for one in read(folder / "clocks.csv")}
    assert clocks == {
        str(one.seq): one.hours for job in found.jobs for phase in job.phases
        for one in phase.clocks
    }  # fmt: skip


def test_every_line_of_every_table_reads_back(world: World, tmp_path: Path) -> None:
    found = full(world)
    lines = csv_month.write_tables(found, tmp_path / "tables")
    seen = 0
    for name in csv_month.TABLES:
        with (tmp_path / "tables" / name).open(encoding="utf-8", newline="") as file:
            head, *rest = csv.reader(file)
        assert tuple(head) == csv_month.header(name), name
        assert rest == [[harmless(one) for one in cells] for cells in csv_month.cells(found, name)]
        assert all(len(one) == len(head) and one[0] == "2026-10" for one in rest), name
        seen += len(rest)
    assert seen == lines
    signals = read(tmp_path / "tables" / "signals.csv")
    assert [one["name"] for one in signals] == [
        harmless(one.name) for one in (*found.signals.found, *found.signals.old)
    ]  # fmt: skip


def test_the_tables_lead_from_a_figure_down_to_its_entries(world: World, tmp_path: Path) -> None:
    csv_month.write_tables(full(world), tmp_path / "tables")
    lines = [one for one in read(tmp_path / "tables" / "made_of.csv") if one["figure"] == "on_jobs"]
    below = {one["line"]: one for one in lines}
    leaves = [one for one in lines if one["line"] not in {each["below"] for each in lines}]
    assert all(one["events"] for one in leaves)
    for one in lines:
        parts = [float(each["value"]) for each in lines if each["below"] == one["line"]]
        assert not parts or float(one["value"]) == pytest.approx(sum(parts))
        assert not one["below"] or one["below"] in below


def test_instants_have_the_offset_of_the_shop(world: World, tmp_path: Path) -> None:
    csv_month.write_tables(full(world), tmp_path / "tables")
    told = [one["closed_at"] for one in read(tmp_path / "tables" / "jobs.csv")]
    assert all(re.fullmatch(r"2026-10-\d\dT\d\d:\d\d:\d\d(\.\d+)?\+02:00", one) for one in told)


# -- text


def test_the_text_says_first_what_matters_in_80_columns(at: Line) -> None:
    ran = at.run("month", "2026-10", "--at", SEEN_AT)
    assert (ran.status, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[0].startswith("October 2026  10 jobs closed, ")
    assert " ".join(lines[2:4]).startswith(asked(at).said[0])
    assert max(map(cell_len, lines)) <= 80
    assert sum(line.count("▪") for line in lines) == len(MENDS)


@pytest.mark.parametrize("ascii_only", [False, True])
def test_no_text_makes_a_line_too_wide(world: World, ascii_only: bool) -> None:
    more = (ASCII,) if ascii_only else ()
    lines = [*text_month.lines(full(world), *more)]
    assert max(map(cell_len, lines)) <= 80
    assert "\x1b" not in "".join(lines)
    if ascii_only:
        assert not re.search(r"[▪█╎┃]", "".join(lines))


def test_without_a_month_it_is_the_last_whole_one(at: Line) -> None:
    assert at.does("month", "--at", SEEN_AT)["month"] == "2026-10"
    assert at.does("month", "--at", "2026-10-25T09:00")["month"] == "2026-10", "there is no other"


def test_of_somebody_judges_what_they_led(at: Line) -> None:
    assert at.does("month", "2026-10", "--at", SEEN_AT, "--of", "T1")["jobs"] == len(MENDS)
    assert at.does("month", "2026-10", "--at", SEEN_AT, "--of", "T2")["jobs"] == 0


# -- the page


def test_the_page_is_written_and_written_again(at: Line, tmp_path: Path) -> None:
    target = tmp_path / "month.html"
    for _ in range(2):
        ran = at.run("month", "2026-10", "--at", SEEN_AT, "--html", str(target))
        assert (ran.status, ran.err) == (0, "")
        assert ran.out == f"Month 2026-10, 10 jobs closed: {target}\n"
    assert target.read_text("utf-8").startswith("<!DOCTYPE html>")


# -- refused


def test_what_is_no_month_of_the_shop_is_refused(at: Line) -> None:
    def refused(*words: str) -> str:
        return at.refused("month", *words, "--at", SEEN_AT)

    assert refused("2026-13") == "1 '2026-13' is no month. Say it as year and month, 2026-11."
    assert refused("october").startswith("1 'october' is no month.")
    assert refused("2026-12").startswith("1 2026-12 has not begun yet.")
    assert refused("2026-09") == (
        "1 The shop's entries begin in 2026-10: nothing is known of 2026-09."
    )


def test_people_are_refused_figures_that_are_not_theirs(at: Line) -> None:
    said = at.refused("month", "2026-10", "--at", SEEN_AT, "--as", "T1", "--of", "T2")
    assert said.startswith("1 T1 may see the figures of the shop and their own.")
    assert at.refused("month", "--as", "NOBODY").startswith("1 ")
    told = at.does("month", "2026-10", "--at", SEEN_AT, "--as", "T2")
    assert (told["reader"], told["by_lead"]) == ("technician", [])
    assert not [one for one in told["people"] if one["badge"] != "T2"]
    assert '"T1"' not in str(told).replace("'", '"')


def test_files_of_others_are_not_written_over(at: Line, tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("mine", "utf-8")
    month_of = ("month", "2026-10", "--at", SEEN_AT)
    assert "is no page" in at.refused(*month_of, "--html", str(notes))
    assert "that is a file" in at.refused(*month_of, "--csv", str(notes))
    assert notes.read_text("utf-8") == "mine"
    assert "shop file" in at.refused(*month_of, "--html", str(at.path))
    assert "no such folder" in at.refused(*month_of, "--html", str(tmp_path / "no" / "a.html"))
    folder = tmp_path / "tables"
    assert at.run(*month_of, "--csv", str(folder)).status == 0
    said = at.refused("month", "2026-11", "--at", SEEN_AT, "--csv", str(folder))
    assert "no such table of this month" in said
    assert read(folder / "jobs.csv")[0]["month"] == "2026-10"


def test_a_page_and_tables_are_two_commands(at: Line) -> None:
    said = at.refused("month", "--html", "a.html", "--csv", "folder")
    assert said.startswith("2 hoistbook: month takes --html or --csv, not both")
