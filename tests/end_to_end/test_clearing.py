"""A held lift is cleared, the job that waits comes in: by commands, and by keys at 80x24."""

from __future__ import annotations

import os
from pathlib import Path

from store.file.shop import Shop
from store.file.verify import verify
from store.views.ledger import ledger
from tests.end_to_end.foremans_shop import NOW, made
from tests.end_to_end.pty_terminal import ROOT, program
from tests.end_to_end.shell import Shell
from tests.store.made_acts import idle_shop
from tests.tui.shops import PIN

STILL = {
    "HOISTBOOK_TEST_NOW": NOW.isoformat(),
    "PYTHONPATH": os.pathsep.join((str(Path(__file__).parent / "still"), str(ROOT))),
}


def test_by_commands(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    world.shop.close()
    shell = Shell(world.shop.path)
    assert shell.run("learned", "--keep-up").returncode == 0
    (found,) = shell.does("clear")["clearings"]
    assert (found["lift"], found["verdict"], found["comes"]) == ("2", "pays", ["1003"])
    assert "it drives: leaving costs nothing" in shell.run("clear", "2").stdout
    refused = shell.refused("clear", "2", "--place", "ST", "--as", "FOR", "--pin-stdin",
                            stdin=f"{PIN}\n")  # fmt: skip
    assert "too weak for a vehicle" in refused
    shell.does("clear", "2", "--as", "FOR", pin=True)
    shell.does("move", found["comes"][0], "--lift", "2", "--as", "FOR", pin=True)
    assert shell.does("clear")["clearings"] == []
    refused = shell.refused("clear", "2", "--as", "FOR", "--pin-stdin", stdin=f"{PIN}\n")
    assert "can go on there" in refused
    assert shell.does("verify")["ok"]


def test_by_keys(tmp_path: Path) -> None:
    made(tmp_path / "clear.shop").close()
    path = tmp_path / "clear.shop"
    with program(path, "open", "--view", "floor", "--as", "F01", size=(80, 24), **STILL) as ruth:
        ruth.wait("Marsh Lane Works")
        ruth.keys("1", "Enter")
        ruth.wait("clear the lift")
        ruth.keys("Esc")
        ruth.wait("wants somebody")
        ruth.keys("m")
        ruth.wait("1001", "move to", "leaving costs nothing", "yard")
        shown = ruth.flat
        key = shown[shown.index(" yard") - 1]
        assert key.isdigit(), shown
        ruth.keys(key)
        ruth.wait("1001 is at yard now.")
    shop = Shop(path)
    last = list(ledger(shop))[-1]
    shop.close()
    assert (last.kind, last.payload["job"]) == ("placed", "1001")
    assert verify(path).ok
