"""Tables that a command reads: their options, and what comes of their faults."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar
from zoneinfo import ZoneInfo

from store.trouble import Refused
from tui.cli.typed import Typed
from tui.cli.usage import Option, WrongUsage

if TYPE_CHECKING:
    from store.edges.tables.history import Read

T = TypeVar("T")

SKIP = Option("skip-bad", "", "leaves bad rows out and lists them; else nothing is done")
MAP = Option(
    "map", "THEIRS=OURS", "a column that has another heading in the file, like Mechanic=technician",
    many=True,
)  # fmt: skip
ZONE = Option("zone", "ZONE", "of instants without offset, like Europe/Berlin")


class Tables:
    """Reads tables and gathers what is wrong with them.

    Attributes:
        faults: one line each, with the name of its file.
    """

    def __init__(self, typed: Typed) -> None:
        self.faults: list[str] = []
        self.skips = typed.has("skip-bad")
        self.zone = zone_of(typed)
        self._whole = True

    def read(self, path: Path, reader: Callable[[Path], Read[T]]) -> Read[T] | None:
        """Read one; None where it is no such table at all."""
        try:
            found = reader(path)
        except Refused as refused:
            self.faults.append(str(refused))
            self._whole = False
            return None
        self.faults += [f"{path.name}, {fault}" for fault in found.faults]
        return found

    @property
    def refused(self) -> bool:
        """Whether nothing may be done: a table cannot be read, or has faults that were not to be
        skipped."""
        return not self._whole or bool(self.faults and not self.skips)


def zone_of(typed: Typed) -> ZoneInfo | None:
    """The zone that was typed.

    Raises:
        WrongUsage: there is none of that name.
    """
    name = typed.maybe(ZONE.name)
    if name is None:
        return None
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        raise WrongUsage(
            f"--zone: there is no zone {name!r}. Write it as Continent/City, like Europe/Berlin."
        ) from None


def renamed(typed: Typed, ours: Sequence[str]) -> dict[str, str]:
    """Names of our columns by the file's headings, as they were typed.

    Raises:
        WrongUsage: it is no such pair, or names a column that the format does not have.
    """
    found: dict[str, str] = {}
    for one in typed.all(MAP.name):
        theirs, sign, name = (part.strip() for part in one.rpartition("="))
        if not (theirs and sign and name):
            raise WrongUsage("--map is written THEIRS=OURS, like --map Mechanic=technician.")
        if name not in ours:
            raise WrongUsage(f"--map {one}: ours is one of {', '.join(ours)}, not {name!r}.")
        if name in found.values() or theirs in found:
            raise WrongUsage(f"--map {one}: {name} or {theirs} is there twice: give it once.")
        found[theirs] = name
    return found


def left_out(faults: Sequence[str]) -> list[str]:
    """What a command says of the rows it left out."""
    return [f"left out: {fault}" for fault in faults]
