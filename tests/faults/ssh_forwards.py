"""Ports: what a key could open from the host, to it, or through it."""

from __future__ import annotations

import socket
from contextlib import suppress

from tests.faults.ssh_host import Host, free_port
from tests.faults.ssh_left import until
from tests.faults.ssh_line import calling
from tests.faults.ssh_tried import Tried, run


def forward_out(host: Host) -> Tried:
    """`-L`: a connection from the host to a port that only the host sees."""
    with socket.create_server(("127.0.0.1", 0)) as inside:
        inside.setblocking(False)
        port, inner = free_port(), inside.getsockname()[1]
        with calling(host, "-N", "-L", f"127.0.0.1:{port}:127.0.0.1:{inner}") as line:
            _knock(port)
            came: list[bool] = []

            def known() -> bool:
                came.append(_somebody_came(inside))
                return came[-1] or "prohibited" in line.at.flat

            line.at.until(known, "a refusal, or somebody inside")
    return Tried(True, "a port was reached" if any(came) else "")


def forward_stdio(host: Host) -> Tried:
    """`-W`: the same without a port of one's own."""
    with socket.create_server(("127.0.0.1", 0)) as inside:
        inside.setblocking(False)
        ran = run(host, "-W", f"127.0.0.1:{inside.getsockname()[1]}", host.there)
        got = _somebody_came(inside)
    return Tried("prohibited" in ran.stderr or got, "a port was reached" if got else "")


def _knock(port: int) -> None:
    """Call a port that the client listens on, as soon as it does."""

    def called() -> bool:
        with suppress(OSError), socket.create_connection(("127.0.0.1", port), 1.0) as here:
            here.sendall(b"x")
            return True
        return False

    until(called, "the client listening")


def _somebody_came(inside: socket.socket) -> bool:
    with suppress(OSError):
        inside.accept()[0].close()
        return True
    return False


def forward_in(host: Host) -> Tried:
    """`-R`: a port of the host that leads back to the client."""
    ran = run(host, "-o", "ExitOnForwardFailure=yes", "-N", "-f", "-R",
               "127.0.0.1:0:127.0.0.1:9", host.there)  # fmt: skip
    refused = "forwarding failed" in ran.stderr
    return Tried(True, "" if refused and ran.returncode != 0 else "a port of the host was opened")
