"""Who else on this machine could reach a shop file: it holds telephone numbers, hours and PINs."""

from __future__ import annotations

import shlex
import stat
from pathlib import Path

from store.file.whole import COMPANIONS, companion


def open_to_others(path: Path) -> str | None:
    """Say what anybody on this machine could do with a shop file, and what closes it.

    What a group may do was somebody's decision: several users may share a shop.

    Returns:
        One line; None where no folder lets anybody in, or file and folder are closed to them.
    """
    if not all(_others(one) & stat.S_IXOTH for one in path.absolute().parents):
        return None
    folder = path.absolute().parent
    files = [path, *(companion(path, ending) for ending in COMPANIONS)]
    found = [one for one in files if _others(one) & (stat.S_IROTH | stat.S_IWOTH)]
    if found:
        named = shlex.join(map(str, found))
        return f"Anybody on this machine can read {path}. Close it: chmod o= {named}"
    if _may_be_swapped(folder):
        return (
            f"Anybody on this machine can put another file in the place of {path}. "
            f"Close its folder: chmod o= {shlex.quote(str(folder))}"
        )
    return None


def _others(path: Path) -> int:
    """The permissions of whoever is neither owner nor in the group; 0 of what is not there."""
    try:
        return path.stat().st_mode & stat.S_IRWXO
    except OSError:
        return 0


def _may_be_swapped(folder: Path) -> bool:
    mode = folder.stat().st_mode
    return bool(mode & stat.S_IWOTH) and not mode & stat.S_ISVTX
