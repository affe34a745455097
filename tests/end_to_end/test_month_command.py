"""The owner's month of the invented shop by the real program: page, tables, document."""

from __future__ import annotations

import csv
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from store.file.shop import Shop
from tests.end_to_end.shell import Shell
from tests.tui.papers.test_html import parsed

MONTH = "2026-09"


@pytest.fixture(name="shell")
def shell_fixture(demo_shop: Shop) -> Shell:
    return Shell(demo_shop.path)


def private(shop: Path) -> set[str]:
    """Names and telephone numbers of customers."""
    with closing(sqlite3.connect(shop)) as db:
        rows = db.execute("select name, telephone from customer_private").fetchall()
    return {one for row in rows for one in row if len(one) > 3}


def badges(shop: Path, role: str) -> list[str]:
    with closing(sqlite3.connect(shop)) as db:
        return [row[0] for row in db.execute("select badge from person where role = ?", [role])]


def test_one_month_four_ways_and_nothing_written(shell: Shell, tmp_path: Path) -> None:
    before = shell.does("verify")["events"]
    told = shell.does("month", MONTH)
    page, folder = tmp_path / "page.html", tmp_path / "tables"
    assert shell.run("month", MONTH, "--html", str(page)).returncode == 0
    assert shell.run("month", MONTH, "--csv", str(folder)).returncode == 0
    text = shell.run("month").stdout

    assert text.startswith(f"September 2026  {told['jobs']} jobs closed")
    with (folder / "jobs.csv").open(encoding="utf-8", newline="") as file:
        jobs = [*csv.DictReader(file)]
    assert [one["job"] for one in jobs] == [one["job"] for one in told["closed"]]
    took = sum(float(one["labour_hours"]) for one in jobs)
    agreed = sum(float(one["estimate_hours"]) for one in jobs)
    assert told["bias_percent"] == pytest.approx(100 * (took / agreed - 1), abs=1e-3)
    tree = parsed(page.read_text("utf-8"))
    ids = {one.get("id") for one in tree.iter()}
    assert {f"job-{one['job']}" for one in jobs} <= ids

    every = page.read_text("utf-8") + "".join(
        one.read_text("utf-8") for one in folder.iterdir()
    )  # fmt: skip
    names = private(shell.shop)
    assert names
    assert not [one for one in names if one in every]
    verdict = shell.does("verify")
    assert (verdict["ok"], verdict["events"]) == (True, before)


def test_a_technician_gets_their_own_figures_and_the_shops(shell: Shell, tmp_path: Path) -> None:
    me, *others = badges(shell.shop, "technician")
    page, folder = tmp_path / "page.html", tmp_path / "tables"
    for words in (("--html", str(page)), ("--csv", str(folder))):
        assert shell.run("month", MONTH, "--as", me, *words).returncode == 0
    told = "".join(one.read_text("utf-8") for one in (page, *folder.iterdir()))
    assert me in told
    assert others
    assert not [one for one in others if f">{one}<" in told or f",{one}," in told]
    said = shell.run("month", MONTH, "--as", me, "--of", others[0])
    assert (said.returncode, said.stderr.count("\n")) == (1, 1)
