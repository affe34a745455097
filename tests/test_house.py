"""The house rules that no linter knows."""

from __future__ import annotations

import re
import subprocess
import sys
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parent.parent
ALLOWED = {"README.md", "DEVELOPERS.md", "pyproject.toml", "tui", "store", "tests", "demo"}
HEAVY = {"numpy", "scipy", "pandas", "sqlite_utils", "pydantic", "pendulum"}
SQL = re.compile(r"\b(select .+ from|insert into|update \w+ set|delete from)\b", re.IGNORECASE)
ASKS_THE_TIME = re.compile(r"\bdatetime\.now\(|\bdate\.today\(|\btime\.time\(|pendulum\.now\(")


def code(*folders: str) -> list[Path]:
    """Return the modules of some folders."""
    return [one for folder in folders for one in sorted((TOP / folder).rglob("*.py"))]


def test_the_top_level_holds_what_was_agreed_and_nothing_else() -> None:
    tracked = subprocess.run(
        ["git", "ls-files"], cwd=TOP, capture_output=True, text=True, check=False
    ).stdout.split()
    if not tracked:
        pytest.skip("no git checkout: nothing to compare")
    top = {name.split("/")[0] for name in tracked}
    assert {name for name in top if not name.startswith(".")} <= ALLOWED


def test_nobody_else_installs_our_import_names() -> None:
    owners = packages_distributions()
    strangers = {n: set(owners.get(n, ())) - {"hoistbook"} for n in ("tui", "store", "demo")}
    assert not any(strangers.values()), strangers


def test_only_one_module_asks_the_machine_for_the_time() -> None:
    asking = {
        str(one.relative_to(TOP))
        for one in code("store", "tui", "demo")
        if ASKS_THE_TIME.search(one.read_text("utf-8"))
    }
    assert asking == {"tui/now.py"}


def test_screens_and_demo_hold_no_sql() -> None:
    holding = [
        str(one.relative_to(TOP))
        for one in code("tui", "demo")
        if SQL.search(one.read_text("utf-8"))
    ]
    assert holding == []


def modules_after(statement: str) -> set[str]:
    """Return the top-level modules that a fresh interpreter holds after a statement."""
    done = subprocess.run(
        [sys.executable, "-c", f"{statement}\nimport sys\nprint(' '.join(sys.modules))"],
        cwd=TOP, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return {name.split(".")[0] for name in done.stdout.split()}


@pytest.mark.parametrize("screen", ["tui.bay.screen", "tui.floor.screen", "tui.job.screen"])
def test_a_screen_paints_first_without_what_it_needs_later(screen: str) -> None:
    loaded = modules_after(f"import {screen}")
    assert "textual" in loaded
    assert loaded & HEAVY == set()


def test_the_readers_need_neither_checker_nor_arrays() -> None:
    loaded = modules_after("import store.views.floor, store.views.bay, store.views.job")
    assert "sqlite3" in loaded
    assert loaded & HEAVY == set()


def test_the_command_line_loads_no_screen() -> None:
    assert "textual" not in modules_after("import tui.__main__")


def test_ci_calls_exactly_the_test_command_of_the_readme() -> None:
    readme = (TOP / "README.md").read_text("utf-8")
    command = next(
        line.strip() for line in readme.splitlines() if line.strip().endswith("-m tests")
    )
    assert command in (TOP / ".ci" / "run").read_text("utf-8").splitlines()
    assert command in (TOP / "DEVELOPERS.md").read_text("utf-8")
