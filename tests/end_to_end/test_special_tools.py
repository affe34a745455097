"""A kit is hired on real terminals: asked for, received with a piece lacking, kept longer, sent
back; then the same file by commands."""

from __future__ import annotations

import os
from datetime import datetime, timedelta
from pathlib import Path

from store.actions.hires import suppliers
from store.file.shop import Shop
from store.file.verify import verify
from store.views.ledger import ledger
from tests.end_to_end.pty_terminal import ROOT, PtyTerminal, program
from tests.end_to_end.shell import Shell, environment
from tests.tui.shops import PIN, Pen, worked_on

OPEN = ("open", "--view", "tools", "--as")
CLEAR = ["backspace"] * 12


def still(now: datetime) -> dict[str, str]:
    """A clock that stands, for a program of its own."""
    return {
        "HOISTBOOK_TEST_NOW": now.isoformat(),
        "PYTHONPATH": os.pathsep.join((str(Path(__file__).parent / "still"), str(ROOT))),
    }


def supplied(path: Path) -> datetime:
    """A shop with a supplier; its instant."""
    pen = Pen()
    shop = worked_on(path, pen)
    suppliers.know(shop, pen.by(), name="Levers", lead_days=1)
    suppliers.offer(shop, pen.by(), kit="link", supplier="Levers", day=24, carriage=15, deposit=200)
    shop.close()
    return pen.now


def to_link(at: PtyTerminal) -> None:
    """Stand on the kit."""
    at.wait("kits", "Marsh Lane Works", "send back")
    at.keys("f")
    at.wait("find a kit")
    at.keys("link", "Enter")
    at.wait("▸ chain link tool")


def test_by_keys(tmp_path: Path) -> None:
    path = tmp_path / "kits.shop"
    now = supplied(path)
    with program(path, *OPEN, "F01", size=(80, 24), **still(now + timedelta(minutes=5))) as ruth:
        to_link(ruth)
        ruth.keys("k")
        ruth.wait("asked for", "Levers: 24 a day", "1002")
        ruth.keys("Enter")
        ruth.wait("PIN")
        ruth.keys(PIN, "Enter")
        ruth.wait("chain link tool asked for at Levers for 1002")
        with program(
            path, *OPEN, "B12", size=(80, 24), **still(now + timedelta(days=1, hours=1))
        ) as ines:
            to_link(ines)
            ines.keys("r")
            ines.wait("3 pieces, all are there")
            ines.keys("2")
            ines.wait("LACKS")
            ines.keys("Enter")
            ines.wait("not complete: anvil")
    with program(
        path, *OPEN, "F01", size=(80, 24), **still(now + timedelta(days=1, hours=2))
    ) as ruth:
        to_link(ruth)
        ruth.wait("NOT WHOLE")
        ruth.keys("x")
        ruth.wait("is kept until")
        ruth.keys(*CLEAR, "tue", "Enter")
        ruth.wait("PIN")
        ruth.keys(PIN, "Enter")
        ruth.wait("goes back Tue 20 Oct: tell Levers")
    with program(path, *OPEN, "B12", size=(80, 24), **still(now + timedelta(days=5))) as ines:
        to_link(ines)
        ines.keys("b")
        ines.wait("pieces counted")
        ines.keys("2", "Enter", "anvil never came", "Enter")
        ines.wait("2 of 3")
        ines.keys("Enter")
        ines.wait("went back to Levers, 2 pieces counted")
    shop = Shop(path)
    written = [one.kind for one in ledger(shop) if one.kind.startswith("hire")]
    shop.close()
    assert written == ["hire-asked", "hire-received", "hire-extended", "hire-sent-back"]
    assert verify(path).ok


def test_by_commands(tmp_path: Path) -> None:
    path = tmp_path / "kits.shop"
    now = supplied(path)
    for after, badge, words in (
        (0, "F01", ("hire", "ask", "link", "--job", "1002", "--due", "2026-10-16")),
        (1, "B12", ("hire", "receive", "link", "--missing", "anvil")),
        (2, "F01", ("hire", "extend", "link", "--due", "2026-10-20")),
        (5, "B12", ("hire", "return", "link", "--pieces", "2", "--incomplete", "no anvil")),
    ):
        at = environment(**still(now + timedelta(days=after, hours=1)))
        shell = Shell(path, environ=at, fresh=True)
        shell.does(*words, "--as", badge, pin=badge == "F01")
        assert shell.does("verify")["ok"]
    at = environment(**still(now + timedelta(days=5, hours=2)))
    shell = Shell(path, environ=at, fresh=True)
    link = next(one for one in shell.does("tools")["kits"] if one["kit"] == "link")
    assert link["hire"] is None
