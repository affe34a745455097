"""A child process that is held before and after every call that touches a disk.

By the kernel's own means (ptrace(2), /proc), so that nothing has to be installed: neither a
compiler nor another program. Numbers of system calls are the kernel's, of each machine's own table.
"""

from __future__ import annotations

import ctypes
import os
import platform
import signal
import struct
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass

TRACEME, SYSCALL, SETOPTIONS, CALL_INFO = 0, 24, 0x4200, 0x420E
GOOD = 1
"""Option: stops at system calls can be told from signals."""
STOPPED_AT_CALL = signal.SIGTRAP | 0x80
ENTRY, EXIT = 1, 2

NUMBERS = {
    "x86_64": {
        "write": 1, "open": 2, "close": 3, "pwrite64": 18, "writev": 20, "sendfile": 40,
        "fsync": 74, "fdatasync": 75, "truncate": 76, "ftruncate": 77, "rename": 82, "mkdir": 83,
        "rmdir": 84, "creat": 85, "link": 86, "unlink": 87, "openat": 257, "mkdirat": 258,
        "unlinkat": 263, "renameat": 264, "linkat": 265, "sync_file_range": 277,
        "fallocate": 285, "pwritev": 296, "renameat2": 316, "copy_file_range": 326,
    },
    "aarch64": {
        "write": 64, "close": 57, "pwrite64": 68, "writev": 66, "sendfile": 71, "fsync": 82,
        "fdatasync": 83, "truncate": 45, "ftruncate": 46, "mkdirat": 34, "unlinkat": 35,
        "linkat": 37, "renameat": 38, "openat": 56, "fallocate": 47, "pwritev": 70,
        "renameat2": 276, "copy_file_range": 285,
    },
}  # fmt: skip
"""From the kernel's tables of system calls, arch/x86/entry/syscalls/syscall_64.tbl and
include/uapi/asm-generic/unistd.h."""
CHANGING = set(NUMBERS["x86_64"]) - {"open", "openat", "creat", "close"}
"""Those that write, sync, or change what names mean."""
NAMES = {number: name for name, number in NUMBERS.get(platform.machine(), {}).items()}

_library = ctypes.CDLL(None, use_errno=True)
_library.ptrace.restype = ctypes.c_long
_library.ptrace.argtypes = [ctypes.c_long, ctypes.c_long, ctypes.c_void_p, ctypes.c_void_p]


@dataclass(frozen=True, slots=True)
class Stop:
    """A child held at a call.

    Attributes:
        entering: before it is done; else after it.
        args: numbers and addresses, of a stop before the call.
        result: what it answered, below zero an error; of a stop after the call.
    """

    name: str
    entering: bool
    args: tuple[int, ...]
    result: int = 0


def _ptrace(what: int, pid: int, address: int = 0, data: int = 0) -> int:
    found: int = _library.ptrace(what, pid, address or None, data or None)
    if found < 0:
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number))
    return found


def let_me_be_traced() -> None:
    """Stop this process until its parent follows it with `stops`.

    Raises:
        OSError: this machine does not allow it.
    """
    _ptrace(TRACEME, 0)
    os.kill(os.getpid(), signal.SIGSTOP)


def stops(pid: int) -> Iterator[Stop]:
    """Yield each stop of a child at a call that touches a disk; the child goes on at the next turn.

    Ends when the child has ended, with its wait status as the generator's value.
    """
    _, status = os.waitpid(pid, os.WUNTRACED)
    passed = 0
    args: tuple[int, ...] = ()
    if os.WIFSTOPPED(status):
        _ptrace(SETOPTIONS, pid, 0, GOOD)
    while os.WIFSTOPPED(status):
        if os.WSTOPSIG(status) == STOPPED_AT_CALL:
            passed = 0
            found = _stop(pid, args)
            if found is not None:
                args = found.args
                yield found
        else:
            at_first = os.WSTOPSIG(status) == signal.SIGSTOP
            passed = 0 if at_first else os.WSTOPSIG(status)
        with suppress(ProcessLookupError):  # killed while it was held
            _ptrace(SYSCALL, pid, 0, passed)
        _, status = os.waitpid(pid, 0)
    yield Stop("ended", False, (), status)


_LAST: dict[int, str] = {}
"""At which call a child is, between the stop before it and the one after."""


def _stop(pid: int, args: tuple[int, ...]) -> Stop | None:
    room = ctypes.create_string_buffer(88)
    _ptrace(CALL_INFO, pid, len(room), ctypes.addressof(room))
    kind = room.raw[0]
    if kind == ENTRY:
        number, *given = struct.unpack_from("=7Q", room.raw, 24)
        _LAST[pid] = NAMES.get(number, "")
        return Stop(_LAST[pid], True, tuple(given)) if _LAST[pid] else None
    name = _LAST.pop(pid, "")
    return Stop(name, False, args, struct.unpack_from("=q", room.raw, 24)[0]) if name else None


def bytes_at(pid: int, address: int, length: int) -> bytes:
    """Read a held child's memory."""
    memory = os.open(f"/proc/{pid}/mem", os.O_RDONLY)
    try:
        return os.pread(memory, length, address)
    finally:
        os.close(memory)


def text_at(pid: int, address: int) -> str:
    """Read a text that ends with a zero byte from a held child's memory."""
    found = b""
    while b"\0" not in found:
        more = bytes_at(pid, address + len(found), 256 - (address + len(found)) % 256)
        found += more
    return os.fsdecode(found.split(b"\0", 1)[0])


def lacks_tracing() -> str:
    """Say why no child can be followed here; empty where it can."""
    if not NAMES:
        return f"the table of system calls of {platform.system()} on {platform.machine()}"
    pid = os.fork()
    if pid == 0:
        try:
            let_me_be_traced()
            os.write(-1, b"")
        except OSError:
            pass
        os._exit(0)
    followed = [one.name for one in stops(pid)]
    return "" if "write" in followed else "a kernel that lets a process follow its child (ptrace)"
