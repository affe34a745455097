"""A foreman gives work on one line, the technician's bay on another shows it and starts it.

By keys alone at 80x24, at an hour that stands still for every process.
"""

from __future__ import annotations

import os
import re
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from store.file.shop import Shop
from store.file.verify import verify
from store.views.ledger import ledger
from tests.end_to_end.foremans_shop import NOW, made
from tests.end_to_end.pty_terminal import ROOT, PtyTerminal, program
from tests.tui.shops import PIN

STILL = {
    "HOISTBOOK_TEST_NOW": NOW.isoformat(),
    "PYTHONPATH": os.pathsep.join((str(Path(__file__).parent / "still"), str(ROOT))),
}


def opened(path: Path, *arguments: str) -> AbstractContextManager[PtyTerminal]:
    """The program on a line of its own."""
    return program(path, "open", *arguments, size=(80, 24), **STILL)


def choice(at: PtyTerminal, words: str) -> str:
    """The key that stands before an answer."""
    at.wait("who does it?")
    at.until(lambda: bool(re.search(rf" \d {re.escape(words)} ", at.flat)), words)
    return str(re.findall(rf" (\d) {re.escape(words)} ", at.flat)[-1])


def kinds(path: Path) -> list[str]:
    """What was written since the shop was made."""
    shop = Shop(path)
    try:
        return [one.kind for one in ledger(shop) if one.badge in ("F01", "F02", "B12")][-6:]
    finally:
        shop.close()


@pytest.fixture(name="path")
def path_fixture(tmp_path: Path) -> Path:
    shop = made(tmp_path / "who.shop")
    shop.close()
    return shop.path


def test_work_is_given_on_the_floor_and_started_at_the_bay(path: Path) -> None:
    with (
        opened(path, "--view", "floor", "--as", "F01") as ruth,
        opened(path, "--view", "floor", "--as", "F02") as mara,
        opened(path, "--lift", "1", "--as", "B12") as bay,
    ):
        bay.wait("NO CLOCK")
        ruth.wait("Marsh Lane Works")
        ruth.keys("2", "g")
        ruth.wait("1004 tipper: which work is given?", "1004.1 reception")
        ruth.keys("Enter")
        ines = choice(ruth, "Ines")
        mara.wait("Marsh Lane Works")
        mara.keys("2", "g")
        mara.wait("1004 tipper: which work is given?")
        mara.keys("Enter")
        per = choice(mara, "Per")
        ruth.keys(ines)
        ruth.wait("This takes Ruth's PIN.")
        ruth.keys(*PIN, "Enter")
        ruth.wait("1004.1 reception is on Ines's list, next. u undoes it.")
        bay.wait("1 starts, yours next", "1004.1 reception")
        mara.keys(per, *PIN, "Enter")
        mara.wait("1004.1 reception is on Ines's list, given by Ruth", "Look again.")
        bay.keys("1")
        bay.wait("CLOCK RUNS", "1004.1 reception")
        ruth.keys("g", "0")
        ruth.wait("who does it?")
        ruth.keys("Esc")
        ruth.keys("1", "g", "2")
        ruth.wait("1001.2", "who does it?")
        ruth.keys(ines)
        bay.wait("over: 1001.2 next")
    assert kinds(path)[-3:] == ["assigned", "clocked-on", "assigned"]
    assert verify(path).ok


def test_a_list_is_put_in_order_with_arrows_and_by_one_key(path: Path) -> None:
    with opened(path, "--view", "floor", "--as", "F01") as ruth:
        ruth.wait("Marsh Lane Works")
        ruth.keys("k")
        ruth.wait("who does what next", "nobody's, could go on now")
        ruth.keys("Enter")
        ruth.wait("Ines: which work that is nobody's?")
        ruth.keys("1")
        ruth.wait("This takes Ruth's PIN.")
        ruth.keys(*PIN, "Enter")
        ruth.wait("on Ines's list, next.")
        ruth.keys("a", "1")
        ruth.wait("on Ines's list, after")
        ruth.keys("down", "left")
        ruth.wait("Ines's list: ")
        ruth.keys("u")
        ruth.wait("Taken back: ")
        ruth.keys("Esc")
        ruth.wait("wants somebody")
    assert kinds(path)[-2:] == ["assigned-taken-back", "assigned-taken-back"]
    assert verify(path).ok
