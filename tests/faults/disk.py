"""A disk at the moment at which its power goes: what was synced is there, of the rest anything.

A disk writes in sectors and in whatever order it likes; it owes nothing but what it was asked to
keep by fsync(2) and answered. So of every write after the last sync of its file, some sectors are
there and some are not, and one may be garbage. Names (of files made, renamed, deleted) outlive the
cut up to the last fsync of their folder; those after it up to some point, in the order in which
they were given, as file systems with a journal have it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from tests.faults.recorded import Op

SECTOR = 512
HALVES = ("-shm",)
"""Endings of files that hold memory which processes share: nobody syncs them."""


@dataclass(slots=True)
class _File:
    synced: bytearray = field(default_factory=bytearray)
    since: list[Op] = field(default_factory=list[Op])


class Disk:
    """A folder's files as they were before, and what was done to them since."""

    def __init__(self, folder: Path, before: Mapping[str, bytes]) -> None:
        """Begin with what was there before, by name; all of that is kept."""
        self._folder = folder
        names = {str(folder / name): -n for n, name in enumerate(before, 1)}
        self._files = {
            names[str(folder / name)]: _File(bytearray(data)) for name, data in before.items()
        }
        self._synced = names
        self._since: list[tuple[str, str, int]] = []

    def _mine(self, name: str) -> bool:
        return Path(name).parent == self._folder and not name.endswith(HALVES)

    def take(self, op: Op) -> None:
        """Let something happen to it."""
        if op.kind == "sync names":
            if Path(op.name) == self._folder:
                self._synced, self._since = self.names(len(self._since)), []
        elif op.kind != "said" and self._mine(op.name):
            self._take(op)

    def _take(self, op: Op) -> None:
        if op.kind == "make":
            self._open(op)
        elif op.kind in ("write", "cut"):
            self._files[op.file].since.append(op)
        elif op.kind == "sync":
            file = self._files[op.file]
            for one in file.since:
                _apply(file.synced, one)
            file.since = []
        elif op.kind in ("link", "rename"):
            number = self.names(len(self._since))[op.name]
            self._since.append((op.other, op.name if op.kind == "rename" else "", number))
        elif op.kind == "unlink":
            self._since.append(("", op.name, 0))

    def _open(self, op: Op) -> None:
        """A file that was there before gets its number, or a new one is made."""
        before = self.names(len(self._since)).get(op.name, 0)
        if not before:
            self._files[op.file] = _File()
            self._since.append((op.name, "", op.file))
            return
        self._files[op.file] = self._files.pop(before)
        self._synced = {
            name: op.file if number == before else number for name, number in self._synced.items()
        }
        self._since = [
            (name, gone, op.file if number == before else number)
            for name, gone, number in self._since
        ]

    def names(self, count: int) -> dict[str, int]:
        """Which file each name means, with so many changes since the last sync of the folder."""
        found = dict(self._synced)
        for name, gone, number in self._since[:count]:
            found.pop(gone, None)
            if name:
                found[name] = number
        return found

    @property
    def open(self) -> int:
        """How much was done that nobody was promised to be kept."""
        return len(self._since) + sum(len(one.since) for one in self._files.values())

    def left(self, dice: Random, kept: float) -> dict[str, bytes]:
        """What is found afterwards, by name.

        Args:
            kept: the share of what was not synced that the disk wrote all the same.
        """
        names = self.names(sum(dice.random() < kept for _ in self._since))
        contents = {number: self._content(one, dice, kept) for number, one in self._files.items()}
        return {Path(name).name: contents[number] for name, number in names.items()}

    @staticmethod
    def _content(file: _File, dice: Random, kept: float) -> bytes:
        found = bytearray(file.synced)
        for op in file.since:
            if op.kind == "cut":
                if dice.random() < kept:
                    _apply(found, op)
                continue
            way = dice.random()
            for start in range(0, len(op.data), SECTOR):
                if way < 0.5:  # all or none of it
                    there = way < kept / 2
                else:
                    there = dice.random() < kept
                if there:
                    data = op.data[start : start + SECTOR]
                    if way > 0.97:
                        data = dice.randbytes(len(data))
                    _apply(found, Op("write", op.name, at=op.at + start, data=data))
        return bytes(found)


def _apply(content: bytearray, op: Op) -> None:
    if op.kind == "cut":
        del content[op.at :]
        content.extend(bytes(op.at - len(content)))
        return
    content.extend(bytes(max(0, op.at - len(content))))
    content[op.at : op.at + len(op.data)] = op.data


def cut_at(disk: Disk, done: Sequence[Op]) -> list[str]:
    """Let all that happen to a disk; return what was said meanwhile."""
    for op in done:
        disk.take(op)
    return [op.name for op in done if op.kind == "said"]
