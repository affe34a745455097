"""A technician's line: the real client on a terminal of its own, through a wire that can be cut."""

from __future__ import annotations

import os
import signal
from collections.abc import Generator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

import pexpect  # type: ignore[import-untyped]  # it has no types of its own

from tests.end_to_end.pty_terminal import PATIENCE_S, PtyTerminal
from tests.faults.ssh_host import SSHD, Host
from tests.faults.ssh_left import Process, alive, forked_by, of_session, read, until
from tests.faults.ssh_proxy import Wire

CLIENT_FAILED = 255
"""Exit status of ssh(1) where the connection and not the command failed."""


@dataclass(slots=True)
class Line:
    """One call of a bay terminal.

    Attributes:
        at: what is on the glass, and the keys.
        before: processes of the session that were there when the line was cut.
    """

    host: Host
    wire: Wire
    at: PtyTerminal
    before: list[Process] = field(default_factory=list[Process])

    def _look_round(self) -> None:
        self.before = self.served() + of_session(self.wire.connection)

    def served(self) -> list[Process]:
        """What sshd forked and is still there."""
        return forked_by(self.host.process.pid)

    def kill_client(self) -> bool:
        """SIGKILL to the client; whether it died by it."""
        self._look_round()
        self.at.signal(signal.SIGKILL)
        return self._hear_out() == -signal.SIGKILL

    def reset(self) -> bool:
        """A TCP reset to both ends; whether the client noticed it, and sshd too."""
        self._look_round()
        told = self.host.log.count("reset by peer")
        self.wire.reset()
        ended = self._hear_out() == CLIENT_FAILED
        with suppress(AssertionError):
            until(lambda: self.host.log.count("reset by peer") > told, "sshd's word of it", 5.0)
        return ended and self.host.log.count("reset by peer") > told

    def pull_cable(self) -> bool:
        """Nothing comes through any more; whether a key that was typed then was swallowed.

        Who has not signed in yet is sshd's to wait for (LoginGraceTime): no bay is held up.
        """
        until(lambda: of_session(self.wire.connection), "a session")
        self._look_round()
        self.wire.fall_silent()
        self.at.keys("down")
        swallowed = self.wire.swallowed.wait(PATIENCE_S)
        self.at.signal(signal.SIGKILL)  # somebody gives up; sshd knows nothing of it
        self._hear_out()
        return swallowed

    def kill_served(self) -> bool:
        """SIGKILL to what sshd forked for the line; whether the client lost it."""
        self._look_round()
        own = [one for one in self.served() if _is_sshd(one)]
        for one in own:
            with suppress(OSError):
                os.kill(one.pid, signal.SIGKILL)
        if not own:  # it had not come so far
            self.at.signal(signal.SIGKILL)
        return self._hear_out() == CLIENT_FAILED

    def _hear_out(self) -> int:
        """Take what the client still had on its way to the glass, and its end."""
        try:
            return self.at.ended()
        except OSError:  # the terminal went with it
            return self.at.ended()


def _is_sshd(one: Process) -> bool:
    """Whether it is sshd, and not what it began. Its file is known, whatever it calls itself."""
    with suppress(OSError):
        return Path(f"/proc/{one.pid}/exe").readlink().name == SSHD.name
    return read(one.pid, "comm").strip() == SSHD.name.encode() and alive(one.pid) is not None


@contextmanager
def calling(host: Host, *more: str, words: tuple[str, ...] = ()) -> Generator[Line]:
    """Call the host as the bay terminal does, `ssh -tt`; whatever is left of it is killed.

    Args:
        more: options of the client.
        words: a command that it asks for.
    """
    wire = Wire(host.port)
    argv = host.client("-tt", *more, host.there, *words, port=wire.port)
    child: pexpect.spawn[bytes] = pexpect.spawn(
        argv[0], argv[1:], env={"PATH": os.environ["PATH"], "TERM": "xterm", "LANG": "C.UTF-8"},
        dimensions=(24, 80), timeout=PATIENCE_S,
    )  # fmt: skip
    child.delaybeforesend = None
    try:
        yield Line(host, wire, PtyTerminal(child, (80, 24)))
    finally:
        with suppress(OSError):
            child.close(force=True)
        wire.close()
