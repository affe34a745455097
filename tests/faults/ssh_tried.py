"""One try of a technician's key besides its bay, and what came of it.

Each makes its own bait (a file, a listening socket, a marked word) and says whether it got at it.
"""

from __future__ import annotations

import os
import subprocess
from dataclasses import dataclass
from pathlib import Path

from tests.faults.ssh_host import Host

ENDS_S = 60.0
"""A client that does not end by then never will."""


@dataclass(frozen=True, slots=True)
class Tried:
    """What came of a try.

    Attributes:
        made: it was really tried, by its own witness.
        got: what it reached and must not; "" is nothing.
    """

    made: bool
    got: str = ""


def run(host: Host, *words: str, program: str = "ssh") -> subprocess.CompletedProcess[str]:
    """Run a client to its end, without a terminal, in an environment that names others."""
    return subprocess.run(
        host.client(*words, program=program), capture_output=True, text=True, check=False,
        stdin=subprocess.DEVNULL, timeout=ENDS_S, errors="replace",
        env={"PATH": os.environ["PATH"], "HOISTBOOK_BADGE": "F01", "LC_ALL": "C.UTF-8",
             "HOISTBOOK_SHOP": str(host.folder / "bait.shop")},
    )  # fmt: skip


def bait_of(host: Host) -> Path:
    """A file that is not there, for a try to make."""
    bait = host.folder / "bait"
    bait.unlink(missing_ok=True)
    return bait
