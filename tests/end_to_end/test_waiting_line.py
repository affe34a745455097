"""Which waiting job comes in first: by commands, and by keys at 80x24."""

from __future__ import annotations

import os
from pathlib import Path

from store.file.shop import Shop
from store.file.verify import verify
from store.views.ledger import ledger
from tests.end_to_end.pty_terminal import ROOT, program
from tests.end_to_end.shell import Shell
from tests.store.made_acts import line_shop
from tests.tui.shops import PIN

STILL = {"PYTHONPATH": os.pathsep.join((str(Path(__file__).parent / "still"), str(ROOT)))}


def test_by_commands(tmp_path: Path) -> None:
    world = line_shop(tmp_path)
    world.shop.close()
    shell = Shell(world.shop.path)
    assert [one["number"] for one in shell.does("line")["line"]] == ["1004", "1005"]
    assert "1  1004" in shell.run("line").stdout
    shell.does("line", "1005", "--before", "1004", "--as", "FOR", pin=True)
    again = shell.refused("line", "1005", "--before", "1004", "--as", "FOR", "--pin-stdin",
                          stdin=f"{PIN}\n")  # fmt: skip
    assert "comes in before 1004 already" in again
    assert [one["number"] for one in shell.does("line")["line"]] == ["1005", "1004"]
    assert [one["number"] for one in shell.does("floor")["waiting"]] == ["1005", "1004"]
    assert shell.does("verify")["ok"]


def test_by_keys(tmp_path: Path) -> None:
    world = line_shop(tmp_path)
    path, now = world.shop.path, world.now
    world.shop.close()
    env = {**STILL, "HOISTBOOK_TEST_NOW": now.isoformat()}
    with program(path, "open", "--view", "floor", "--as", "FOR", size=(80, 24), **env) as foreman:
        foreman.wait("wants somebody")
        foreman.keys("i")
        foreman.wait("which job comes in earlier or later")
        foreman.keys("2")
        foreman.wait("1005 van", "before 1004")
        foreman.keys("1")
        foreman.wait("PIN")
        foreman.keys(PIN, "Enter")
        foreman.wait("1005 comes in before 1004.")
    shop = Shop(path)
    last = list(ledger(shop))[-1]
    shop.close()
    assert (last.kind, last.payload["job"]) == ("line-ordered", "1005")
    assert verify(path).ok
