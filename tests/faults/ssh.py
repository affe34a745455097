"""Rows of the table: a technician's line over SSH that falls, a key that tries something else."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache, partial
from pathlib import Path

from store.file.shop import Shop
from tests.end_to_end.test_day_on_a_line import EVERY_DAY, morning_zone
from tests.faults.row import Outcome, Row, Tries
from tests.faults.ssh_drops import Drops
from tests.faults.ssh_host import host, lacks, printed_line
from tests.faults.ssh_line import Line
from tests.faults.ssh_tries import FEW as FEW_TRIES
from tests.faults.ssh_tries import TRIES
from tests.tui.shops import Pen, worked_on
from tui.cli.ssh import program
from tui.now import machine_now

ROOT = Path(__file__).parents[2]
FEW = 10
"""Tries from which on the learner runs, too, as it does in a shop."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way in which a line falls.

    Attributes:
        without: what the screens are started without where the protection is taken out.
        alive_s: of sshd's `ClientAliveInterval`: nothing else ends such a line.
    """

    cut: Callable[[Line], bool]
    without: str = ""
    alive_s: int = 0


@cache
def begun_at() -> datetime:
    """One instant for all rows of a process, so that the shop is made once and copied."""
    return machine_now()


def shop_of(tries: Tries) -> closing[Shop]:
    """A shop in which it is morning now, and Ines's clock runs."""
    now = begun_at()
    pen = Pen(now - timedelta(minutes=40))
    return closing(worked_on(tries.folder / "shop.shop", pen, morning_zone(now), EVERY_DAY))


def drop(way: Way, tries: Tries) -> Outcome:
    """Drop lines in one way."""
    with shop_of(tries) as shop:
        alive_s = way.alive_s if tries.protected else 0
        with host(tries.folder, shop.path, learner=tries.times > FEW, alive_s=alive_s) as served:
            if way.without and not tries.protected:
                served.allow(bare_line(shop.path, way.without))
            return Drops(served, tries, shop, way.cut, at_once=way.alive_s > 0).run()


def try_more(tries: Tries) -> Outcome:
    """Let the key try what is not its bay, one thing after another."""
    tried, beside, got, notes = 0, 0, 0, list[str]()
    with shop_of(tries) as shop, host(tries.folder, shop.path) as served:
        if not tries.protected:
            served.allow("")
        for nth in range(tries.times):
            attempt = TRIES[nth % len(TRIES)]
            found = attempt(served)
            tried, beside = tried + found.made, beside + (not found.made)
            if found.got:
                got += 1
                notes.append(f"{attempt.__name__}: {found.got}")
    return Outcome(tried, beside, got, tried - got, tuple(notes))


def bare_line(shop: Path, without: str) -> str:
    """The printed line, with screens that lack something."""
    worker = ["env", f"PYTHONPATH={ROOT}", sys.executable, "-m", "tests.faults.ssh_bay", without]
    line, own = printed_line(shop), shlex.join(program())
    assert line.count(own) == 1
    return line.replace(own, shlex.join(worker))


ROWS: tuple[Row, ...] = (
    Row(
        "SSH line: client killed",
        "SIGKILL to the ssh client at a random moment of a session, up to 0.2 s after a key",
        "it died of our signal; an act had been acknowledged, or its keys typed",
        "the commit comes after the word on the screen: what was acknowledged is not in the ledger",
        partial(drop, Way(Line.kill_client, "late")), quick=1, long=60, bare=1, lacks=lacks,
    ),
    Row(
        "SSH line: connection reset",
        "a loopback proxy sends both ends a TCP reset (SO_LINGER 0)",
        "sshd logged the reset and the client ended with 255; an act was at stake",
        "a hang-up is not heard: the screens stay behind without a line",
        partial(drop, Way(Line.reset, "deaf")), quick=1, long=60, bare=1, lacks=lacks,
    ),
    Row(
        "SSH line: server's child killed",
        "SIGKILL to what sshd forked for the line",
        "it was there, and the client ended with 255; an act was at stake",
        "the clock ends with the screens: the next sign-in shows none",
        partial(drop, Way(Line.kill_served, "clock")), quick=1, long=60, bare=1, lacks=lacks,
    ),
    Row(
        "SSH line: cable pulled",
        "the proxy carries nothing more and tells nobody; the next sign-in comes at once",
        "a key typed after that was swallowed; an act was at stake",
        "ClientAliveInterval: the screens stay behind a dead line",
        partial(drop, Way(Line.pull_cable, alive_s=1)), quick=1, long=20, bare=0, lacks=lacks,
    ),
    Row(
        "SSH key: anything but its bay",
        "commands, sftp, scp, forwards, another badge by environment, control keys, more sessions",
        "the client or the screens said the refusal; the bait (file, port, mark) was looked at",
        "the printed line before the key: a command runs",
        try_more, quick=FEW_TRIES, long=3 * len(TRIES), bare=1, lacks=lacks,
    ),
)  # fmt: skip
