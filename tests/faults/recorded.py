"""All that a child gave to the disk, in order, and where it asked for it to be kept."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from tests.faults.traced import Stop, bytes_at, text_at

UNKNOWN = {"writev", "pwritev", "sendfile", "fallocate", "copy_file_range", "truncate",
           "sync_file_range"}  # fmt: skip
"""Calls that write in a way that is not followed here: none of ours is to use them."""
AT = {"openat": 1, "mkdirat": 1, "unlinkat": 1, "open": 0, "creat": 0, "mkdir": 0, "rmdir": 0,
      "unlink": 0, "rename": 0, "link": 0, "renameat": 1, "renameat2": 1, "linkat": 1}  # fmt: skip
"""Which argument is the name."""
SECOND = {"rename": 1, "link": 1, "renameat": 3, "renameat2": 3, "linkat": 3}


@dataclass(frozen=True, slots=True)
class Op:
    """One thing that was done to the disk.

    Attributes:
        kind: `make`, `write`, `cut` (to a length), `sync`, `sync names`, `link`, `rename`,
            `unlink`; or `said`: no thing of the disk, but what the child said then.
        name: of the file by which it was opened; of a folder; the words that were said.
        other: the second name of a link or rename.
        at: where it was written, or the length.
        data: what was written.
        file: which of the files that had this name.
    """

    kind: str
    name: str
    other: str = ""
    at: int = 0
    data: bytes = b""
    file: int = 0


class Recorder:
    """Follows one child.

    Attributes:
        done: what it did so far.
    """

    def __init__(self, pid: int, pipe: int) -> None:
        self._pid, self._pipe = pid, pipe
        self.done: list[Op] = []
        self._files: dict[int, tuple[str, int]] = {}
        self._place: dict[int, int] = {}
        self._names: dict[str, int] = {}
        self._count = 0
        self._wanted: list[str] = []
        self._data = b""

    def take(self, stop: Stop) -> None:
        """Take note of a stop."""
        if stop.entering:
            self._look(stop)
        elif stop.result >= 0:
            self._take(stop)

    def _look(self, stop: Stop) -> None:
        """What is in memory before the call."""
        if stop.name in AT:
            numbers = [AT[stop.name], *([SECOND[stop.name]] if stop.name in SECOND else [])]
            self._wanted = [
                str(Path(f"/proc/{self._pid}/cwd").readlink() / text_at(self._pid, stop.args[n]))
                for n in numbers
            ]
        if stop.name in ("write", "pwrite64"):
            self._data = bytes_at(self._pid, stop.args[1], stop.args[2])

    def _take(self, stop: Stop) -> None:
        name, args, result = stop.name, stop.args, stop.result
        if name in ("open", "openat", "creat"):
            self._opened(self._wanted[0], result)
        elif name == "close":
            self._files.pop(args[0], None)
        elif name == "write" and args[0] == self._pipe:
            self.done.append(Op("said", self._data.decode().strip()))
        elif name in ("write", "pwrite64", "ftruncate", "fsync", "fdatasync") or name in UNKNOWN:
            self._changed(name, args, result)
        elif name in ("link", "linkat"):
            self._names[self._wanted[1]] = self._number(self._wanted[0])
            self.done.append(Op("link", self._wanted[0], self._wanted[1]))
        elif name in ("rename", "renameat", "renameat2"):
            self._names[self._wanted[1]] = self._number(self._wanted[0])
            self._names.pop(self._wanted[0])
            self.done.append(Op("rename", self._wanted[0], self._wanted[1]))
        elif name in ("unlink", "unlinkat"):
            self._names.pop(self._wanted[0], None)
            self.done.append(Op("unlink", self._wanted[0]))

    def _number(self, name: str) -> int:
        """Which file has that name; one that was there before gets a number now."""
        if name not in self._names:
            self._count += 1
            self._names[name] = self._count
        return self._names[name]

    def _opened(self, name: str, number: int) -> None:
        """A name that is unknown here was there before, or is made now: the disk will know."""
        known = name in self._names
        file = self._number(name)
        self._files[number], self._place[number] = (name, file), 0
        if not known:
            self.done.append(Op("make", name, file=file))

    def _changed(self, call: str, args: tuple[int, ...], result: int) -> None:
        if args[0] not in self._files:
            return
        name, file = self._files[args[0]]
        if call in ("fsync", "fdatasync"):
            folder = Path(f"/proc/{self._pid}/fd/{args[0]}").is_dir()
            self.done.append(Op("sync names" if folder else "sync", name, file=file))
        elif call == "ftruncate":
            self.done.append(Op("cut", name, at=args[1], file=file))
        elif call in ("write", "pwrite64"):
            at = args[3] if call == "pwrite64" else self._place[args[0]]
            self._place[args[0]] = at + result
            self.done.append(Op("write", name, at=at, data=self._data[:result], file=file))
        else:
            raise ValueError(f"a call that changes files and is not recorded: {call}")
