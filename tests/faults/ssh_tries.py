"""What a technician's key could try besides its bay, one after another."""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from contextlib import closing

from store.file.shop import Shop
from store.views.ledger import ledger
from tests.faults.ssh_forwards import forward_in, forward_out, forward_stdio
from tests.faults.ssh_host import Host
from tests.faults.ssh_left import all_pids, of_session, read
from tests.faults.ssh_line import calling
from tests.faults.ssh_tried import ENDS_S, Tried, bait_of, run

SENTENCE = "The screens need a terminal."
REFUSED = 1
PIN = "8642097531"
OWN_BAY, OTHERS = "Ines", ("Ruth", "Olga", "Tomas")


# -- commands and files


def command(host: Host) -> Tried:
    """`ssh HOST COMMAND`, without a terminal."""
    bait = bait_of(host)
    ran = run(host, host.there, f"touch {bait}; echo let in")
    got = "a command ran" if bait.exists() or "let in" in ran.stdout else ""
    return Tried(SENTENCE in ran.stderr or bool(got), got)


def command_on_terminal(host: Host) -> Tried:
    """`ssh -tt HOST COMMAND`, with another badge and another shop in the environment."""
    bait = bait_of(host)
    with calling(
        host, "-o", "SendEnv=HOISTBOOK_* LC_*", words=(f"touch {bait}; echo let in",)
    ) as line:
        line.at.until(lambda: OWN_BAY in line.at.flat or "let in" in line.at.flat, "an answer")
        mine = OWN_BAY in line.at.flat and not any(one in line.at.flat for one in OTHERS)
    return Tried(True, "" if mine and not bait.exists() else "a command ran")


def subsystem(host: Host) -> Tried:
    """`ssh -s HOST sftp`: the subsystem asked for by name."""
    ran = run(host, "-s", host.there, "sftp")
    refused = ran.returncode == REFUSED and not ran.stdout  # sshd drops what a subsystem complains
    return Tried(refused or ran.returncode == 0, "" if refused else "a subsystem answered")


def sftp(host: Host) -> Tried:
    """Files by sftp, both ways."""
    bait, batch = bait_of(host), host.folder / "batch"
    batch.write_text(f"put {host.folder}/settings {bait}\nget /etc/passwd {bait}\n", "utf-8")
    ran = run(host, "-b", str(batch), host.there, program="sftp")
    return Tried(ran.returncode != 0 or bait.exists(), "a file moved" if bait.exists() else "")


def scp(host: Host) -> Tried:
    """A file by scp, by either protocol."""
    bait = bait_of(host)
    ran = [run(host, *how, f"{host.there}:/etc/passwd", str(bait), program="scp")
           for how in ((), ("-O",))]  # fmt: skip
    made = any(one.returncode != 0 for one in ran) or bait.exists()
    return Tried(made, "a file moved" if bait.exists() else "")


# -- what a session carries


def carried(host: Host) -> Tried:
    """Agent, X11 and a PIN: none is in the environment, the arguments, the log or on the glass."""
    with calling(host, "-A", "-X", "-o", "ForwardX11=yes") as line:
        line.at.until(lambda: OWN_BAY in line.at.flat or "$" in line.at.flat, "an answer")
        line.at.keys("F9", "sets your PIN", "Enter")
        line.at.wait("new PIN") if OWN_BAY in line.at.flat else None
        line.at.keys(PIN)
        line.at.idle(0.3)
        found = of_session(line.wire.connection)
        told = b"\0".join(read(one.pid, "environ") for one in found)
        words = b"\0".join(read(pid, "cmdline") + read(pid, "environ") for pid in all_pids())
        glass = line.at.everything
    secret = PIN.encode()
    with closing(Shop(host.shop)) as shop:
        kept = "".join(str(one.payload) for one in ledger(shop))
    leaks = [
        name for name, holds in (
            ("an agent", b"SSH_AUTH_SOCK=" in told), ("a display", b"\0DISPLAY=" in told),
            ("the PIN on the glass", secret in glass), ("the PIN among processes", secret in words),
            ("the PIN in the log", PIN in host.log), ("the PIN in the ledger", PIN in kept),
        ) if holds
    ]  # fmt: skip
    return Tried(bool(found), ", ".join(leaks))


def control_keys(host: Host) -> Tried:
    """Stop, quit, suspend, palette, screenshot: first before the screens stand, then on them."""
    bait = bait_of(host)
    with calling(host) as line:
        line.at.keys("\x1a\x13\x11")
        line.at.wait(OWN_BAY)
        line.at.keys(*"\x1a\x1c\x10\x13\x0f\x18")
        line.at.keys("F1")
        line.at.wait("keys: bay")
        begun = {one.pid for one in of_session(line.wire.connection)}
        stopped = [pid for pid in begun if b"\nState:\tT" in read(pid, "status")]
        line.at.keys("\x03")
        status = line.at.ended()
    got = "a process was stopped" if stopped else f"left with {status}" if status else ""
    return Tried(len(begun) == 1, got or ("a file appeared" if bait.exists() else ""))


def second_session(host: Host) -> Tried:
    """A command beside the screens, over the connection that stands already."""
    bait, control = bait_of(host), host.folder / "control"
    with calling(host, "-M", "-S", str(control)) as line:
        line.at.wait(OWN_BAY)
        ran = subprocess.run(
            ["ssh", "-F", "none", "-S", str(control), host.there, f"touch {bait}"],
            capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL, timeout=ENDS_S,
        )  # fmt: skip
    return Tried(SENTENCE in ran.stderr or bait.exists(),
                 "a command ran" if bait.exists() else "")  # fmt: skip


TRIES: tuple[Callable[[Host], Tried], ...] = (
    command, carried, forward_out, forward_stdio, forward_in, sftp,
    scp, subsystem, command_on_terminal, control_keys, second_session,
)  # fmt: skip
"""The first few are those of the suite."""
FEW = 6
