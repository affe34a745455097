"""The bad night: each thing that goes wrong has its sentence, and
nothing that was confirmed is lost.

Two terminals on lines of their own live through it; who is there knows no more than the screen
says.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Generator
from contextlib import ExitStack, suppress
from functools import partial
from pathlib import Path

import pytest

from tests.end_to_end.night import TONIGHT, Night
from tests.end_to_end.pty_terminal import ROOT, PtyTerminal
from tests.end_to_end.shell import founded
from tests.faults.disk_mounts import LACKS_MOUNT, tmpfs
from tests.faults.tonight import REPLAYED
from tests.store.file.edits import tampering


@pytest.fixture(name="night")
def night_fixture(tmp_path: Path) -> Generator[Night]:
    """A shop on a small disk of its own, where one can be mounted."""
    folder = tmp_path / "disk"
    folder.mkdir()
    with ExitStack() as stack:
        if not LACKS_MOUNT:
            stack.enter_context(tmpfs(folder, "12m"))
        ahead = tmp_path / "ahead"
        ahead.write_text("0", "ascii")
        yield Night(founded(folder), ahead)


def test_the_bad_night(night: Night) -> None:
    with night.terminals() as (floor, bay):
        night.takes(floor, "first-lamp")
        night.takes(bay, "second-lamp")
        if not LACKS_MOUNT:
            the_disk_is_full(night, bay)
        the_file_is_copied_over(night, floor, bay)
        the_clock_jumps(night, floor, bay)
        two_terminals_are_older(night, floor, bay)
    night.holds_all()
    edited = somebody_edits_a_row(night)
    the_host_reboots_during_an_upgrade(night)
    night.holds_all()
    found = night.command("verify")
    assert found.returncode == 1, found
    assert f"entry {edited}" in found.stderr, found


def the_disk_is_full(night: Night, bay: PtyTerminal) -> None:
    filler = night.shell.shop.with_name("filler")
    with filler.open("wb", buffering=0) as file, suppress(OSError):
        while file.write(bytes(4096)):
            pass
    assert os.statvfs(night.shell.shop).f_bavail == 0
    turn = 0
    while "disk is full" not in bay.flat:  # the log may have room left from before
        night.begins(bay, f"full-{turn}")
        bay.wait("it waits")
        bay.keys("Enter")
        bay.until(partial(_answered, night, bay, f"full-{turn}"), "an answer")
        turn = len([one for one in night.kept if one.startswith("full-")])
    bay.wait("Make room, then do it again", "nothing was lost")
    ran = night.command("small", "--text", "x", "--vehicle", "y", "--as", "F1")
    assert "the disk is full" in ran.stderr, ran
    filler.unlink()
    night.sends_again(bay, f"full-{turn}")


def _answered(night: Night, bay: PtyTerminal, text: str) -> bool:
    return "disk is full" in bay.flat or night.confirmed(bay, text)


def the_file_is_copied_over(night: Night, floor: PtyTerminal, bay: PtyTerminal) -> None:
    shop = night.shell.shop
    evening, newest = shop.with_name("evening.shop"), shop.with_name("newest.shop")
    night.does("backup", str(evening))
    night.takes(floor, "after-the-evening")
    night.does("backup", str(newest))
    subprocess.run(["cp", str(evening), str(shop)], check=True)
    for at in (floor, bay):
        at.wait("was written over by another program", "Nothing more is written to it")
    night.does("restore", str(newest), "--replace")
    for at in (floor, bay):
        at.wait("The shop file can be read again")
    night.takes(bay, "after-the-restore")
    night.holds_all()


def the_clock_jumps(night: Night, floor: PtyTerminal, bay: PtyTerminal) -> None:
    night.ahead.write_text("-7200", "ascii")
    for at in (floor, bay):
        at.wait("clock was set 2:00 h back", "look at the day sheet")
    night.takes(bay, "in-the-wrong-time")
    bay.wait("behind the newest entry")
    night.ahead.write_text("0", "ascii")
    for at in (floor, bay):
        at.wait("goes as it did before it was set")
    night.takes(floor, "in-the-right-time")
    night.holds_all()


def two_terminals_are_older(night: Night, floor: PtyTerminal, bay: PtyTerminal) -> None:
    night.newer = 1
    assert "entries" in night.does("verify"), "a newer program brings the file up to date"
    for at in (floor, bay):
        at.wait("was written by a newer hoistbook", "update hoistbook")
    night.begins(floor, "not-by-the-older")
    floor.wait("was written by a newer hoistbook", "Nothing was changed")
    night.holds_all()


def somebody_edits_a_row(night: Night) -> int:
    with tampering(night.shell.shop) as db:
        seq = db.execute("select max(seq) from ledger where kind = 'job-opened'").fetchone()[0]
        worse = """replace(payload, '"grade":2', '"grade":3')"""
        db.execute(f"update ledger set payload = {worse} where seq = ?", [seq])
        assert db.execute("select changes()").fetchone()[0] == 1
    return int(seq)


def the_host_reboots_during_an_upgrade(night: Night) -> None:
    night.newer = 2
    with subprocess.Popen(
        [sys.executable, "-m", TONIGHT, "--shop", str(night.shell.shop), "floor"],
        env={**night.shell.environ, **night.environ(NIGHT_STOPS="1")}, cwd=ROOT, text=True,
        stdout=subprocess.PIPE,
    ) as halfway:  # fmt: skip
        assert halfway.stdout is not None
        assert halfway.stdout.readline().strip() == REPLAYED
        halfway.send_signal(signal.SIGKILL)
    with night.terminals() as (floor, _):
        night.takes(floor, "after-the-reboot")
