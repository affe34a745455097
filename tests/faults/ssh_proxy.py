"""A wire between the client and sshd that can be cut: a loopback proxy of one connection."""

from __future__ import annotations

import select
import socket
import struct
from contextlib import suppress
from threading import Event, Thread

AT_ONCE = struct.pack("ii", 1, 0)
"""SO_LINGER with no time to linger: closing sends RST; see socket(7), tcp(7)."""


class Wire:
    """Takes one connection and carries it to a port of this machine.

    Attributes:
        port: where the client calls.
        connection: `SSH_CONNECTION` as sshd will put it, "" before anybody called.
        swallowed: something was sent after it fell silent, and did not arrive.
    """

    def __init__(self, to: int) -> None:
        self._to = to
        self._door = socket.create_server(("127.0.0.1", 0))
        self.port = int(self._door.getsockname()[1])
        self.connection = ""
        self._ends: tuple[socket.socket, ...] = ()
        self.swallowed, self._dead, self._done = Event(), Event(), Event()
        self._thread = Thread(target=self._carry, daemon=True)
        self._thread.start()

    def _carry(self) -> None:
        with suppress(OSError):  # cut, or closed by either side
            near = self._door.accept()[0]
            far = socket.create_connection(("127.0.0.1", self._to))
            self._ends = (near, far)
            self.connection = f"127.0.0.1 {far.getsockname()[1]} 127.0.0.1 {self._to}"
            for one in self._ends:
                one.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            while not self._done.is_set() and self._pass_on(near, far):
                pass
        self.close()

    def _pass_on(self, near: socket.socket, far: socket.socket) -> bool:
        for one in select.select([near, far], [], [])[0]:
            if self._dead.is_set():
                self.swallowed.set()
                self._done.wait()
            found = one.recv(65536)
            if not found:
                return False
            (far if one is near else near).sendall(found)
        return True

    def fall_silent(self) -> None:
        """Carry nothing any more and tell nobody, as a cable that is pulled."""
        self._dead.set()

    def reset(self) -> None:
        """Cut it: both sides are sent a reset (RFC 9293, 3.10.7)."""
        for one in self._ends:  # both before either: whoever carries hangs up both ends
            with suppress(OSError):
                one.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, AT_ONCE)
        for one in self._ends:
            with suppress(OSError):
                one.shutdown(socket.SHUT_RD)  # wakes the thread that carries
        self.close()

    def close(self) -> None:
        """Hang up at both ends."""
        self._done.set()
        with suppress(OSError):
            self._door.shutdown(socket.SHUT_RDWR)  # wakes who waits for a call
        for one in (*self._ends, self._door):
            with suppress(OSError):
                one.close()
