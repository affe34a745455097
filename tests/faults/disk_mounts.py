"""Small disks of a test's own: one in memory that fills, one that can be made to die."""

from __future__ import annotations

import fcntl
import os
import shutil
import struct
import subprocess
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path

SHUTDOWN = 0x8004587D
"""EXT4_IOC_SHUTDOWN of linux/ext4.h: from now on every call fails with EIO."""
NO_FLUSH = 2
"""EXT4_GOING_FLAGS_NOLOGFLUSH: what was not synced before is lost, as at a power cut."""


def _root_and(*tools: str) -> str:
    missing = [tool for tool in tools if shutil.which(tool) is None]
    if os.geteuid() != 0:
        return "needs the rights to mount a disk"
    return f"needs {' and '.join(missing)}" if missing else ""


def _call(*words: str) -> bool:
    return subprocess.run(words, capture_output=True, check=False).returncode == 0


def mounts() -> str:
    """What a disk in memory lacks here."""
    return _root_and("mount", "umount")


def dies() -> str:
    """What a disk that dies lacks here."""
    return _root_and("mount", "umount", "mkfs.ext4", "chattr")


LACKS_MOUNT, LACKS_DISK = mounts(), dies()


@contextmanager
def tmpfs(folder: Path, size: str = "8m") -> Generator[Path]:
    """Mount a small disk in memory over a folder."""
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(folder)], check=True)
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=True)


@contextmanager
def ext4(folder: Path) -> Generator[Path]:
    """Mount a disk with a journal, made in a file."""
    image, disk = folder / "a.img", folder / "plug"
    disk.mkdir()
    with image.open("wb") as file:
        file.truncate(24 << 20)
    subprocess.run(["mkfs.ext4", "-q", "-F", str(image)], check=True)
    subprocess.run(["mount", "-o", "loop", str(image), str(disk)], check=True)
    try:
        yield disk
    finally:
        while _call("umount", "-l", str(disk)):
            pass


def dead(disk: Path) -> bool:
    """Let a disk die; whether the kernel now refuses to write on it."""
    number = os.open(disk, os.O_RDONLY)
    try:
        fcntl.ioctl(number, SHUTDOWN, struct.pack("I", NO_FLUSH))
    finally:
        os.close(number)
    try:
        (disk / "try").write_bytes(b"1")
    except OSError:
        return True
    return False


def replug(disk: Path) -> None:
    """Take the disk away and put it back: what is on it by now is all that there is."""
    image, copy = disk.parent / "a.img", disk.parent / "b.img"
    shutil.copyfile(image, copy)
    subprocess.run(["umount", "-l", str(disk)], check=True)
    subprocess.run(["mount", "-o", "loop", str(copy), str(disk)], check=True)
