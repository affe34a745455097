"""What can be wrong with a shop file, in words for whoever stands before it."""

from __future__ import annotations

from pathlib import Path

from store.trouble import Trouble


class NoShop(Trouble):
    """There is no file at that place."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"There is no shop file {path}. "
            "Make one with `hoistbook init`, or look round with `hoistbook demo`."
        )


class MovedAside(NoShop):
    """A restore was cut short after it had moved the file aside that was to give way."""

    def __init__(self, path: Path, aside: Path) -> None:
        self.path, self.aside = path, aside
        Trouble.__init__(
            self,
            f"There is no shop file {path}; the one before is {aside}, whole. If a restore was cut "
            f"short, do it again: hoistbook --shop {path} restore FILE. Or give it its name back.",
        )


class ShopExists(Trouble):
    """There is a file already, and it is kept."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(f"{path} is there already and was left as it is. Choose another --shop.")


class NotAShop(Trouble):
    """The file is something else."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"{path} is not a shop file and was left as it is. Choose another with --shop FILE."
        )


class Unreadable(Trouble):
    """The file cannot be opened, or its folder cannot be written."""

    def __init__(self, path: Path, why: str, remedy: str) -> None:
        self.path = path
        super().__init__(f"{path}: {why}. {remedy}")


class NewerShop(Trouble):
    """The file was written by a later version of this program."""

    def __init__(self, path: Path, found: int, known: int) -> None:
        self.path, self.found, self.known = path, found, known
        super().__init__(
            f"{path} was written by a newer hoistbook (layout {found}, this one knows {known}). "
            "Nothing was changed: update hoistbook on this machine."
        )


class OldSqlite(Trouble):
    """The SQLite that this Python brings along lacks what we need."""

    def __init__(self, found: str, needed: tuple[int, int]) -> None:
        self.found, self.needed = found, needed
        super().__init__(
            f"This Python comes with SQLite {found}; hoistbook needs {needed[0]}.{needed[1]} or "
            "later. Run it with a newer Python."
        )


class Busy(Trouble):
    """Another terminal kept the file."""

    def __init__(self) -> None:
        super().__init__(
            "Another terminal is writing just now; nothing was written here. Try again; if it "
            "stays so, leave the other terminals one after the other."
        )


class NotWritten(Trouble):
    """The disk refused."""

    def __init__(self, why: str, remedy: str) -> None:
        super().__init__(f"Not written: {why}. {remedy}")


class InDoubt(Trouble):
    """The disk failed in such a way that nobody can tell what it kept."""

    def __init__(self) -> None:
        super().__init__(
            "The disk failed while this was written, and whether it was kept cannot be told now. "
            "Look at the last entries (hoistbook ledger) before you do it again."
        )


class AlreadyRecorded(Trouble):
    """The same act was tried before and is in the ledger: nothing is done twice."""

    def __init__(self, key: str, seq: int) -> None:
        self.key, self.seq = key, seq
        super().__init__(f"That was recorded already, as entry {seq}. Nothing was written twice.")


class Damaged(Trouble):
    """The file is not what its ledger says."""

    def __init__(self, path: Path, why: str) -> None:
        self.path, self.why = path, why
        super().__init__(f"{path} is damaged: {why}. Restore a backup: hoistbook restore FILE.")


class AlreadyThere(Trouble):
    """A file stands where one was to be written, and it is kept."""

    def __init__(self, path: Path, remedy: str) -> None:
        self.path = path
        super().__init__(f"{path} is there already and was left as it is. {remedy}")


class NoBackup(Trouble):
    """What was given to restore from is not there, or is something else."""

    def __init__(self, path: Path, why: str) -> None:
        self.path = path
        super().__init__(f"{path} {why}. Give a file that `hoistbook backup` made.")


class NotProven(Trouble):
    """A copy does not agree with its own ledger, so it was not put in place."""

    def __init__(self, path: Path, says: str, remedy: str) -> None:
        self.path, self.says = path, says
        super().__init__(f"{path} does not agree with its ledger: {says} {remedy}")


class Gone(NoShop):
    """The shop file was deleted or renamed under a running terminal."""

    def __init__(self, path: Path, safe: str) -> None:
        self.path = path
        Trouble.__init__(self, f"{path} is gone{safe}. This terminal then goes on by itself.")


class Overwritten(Trouble):
    """Somebody wrote over the open shop file: a copy laid over it, or its end cut off."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"{path} was written over by another program and lacks entries now. Nothing more is "
            "written to it. Put the newest backup in its place, and this terminal goes on: "
            f"hoistbook --shop {path} restore FILE --replace"
        )


def put_in_its_place(path: Path, has: int, had: int, kept: Path | None) -> str:
    """Say that another file stands at the path, and where the one before is."""
    ends = f"it ends with entry {has}" if has else "it cannot be read"
    says = f"Another file was put at {path}: {ends}, here it was {had}."
    if kept is None:
        return f"{says} Do again what is missing, or restore the newest backup."
    return (
        f"{says} The one before is saved; this takes it back: "
        f"hoistbook --shop {path} restore {kept} --replace"
    )
