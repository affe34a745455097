"""Rows: a machine whose time zone data is gone, torn or old."""

from __future__ import annotations

import shutil
import struct
import sys
import zoneinfo
from collections.abc import Generator
from contextlib import contextmanager, nullcontext
from datetime import UTC, datetime, timedelta
from pathlib import Path
from unittest.mock import patch
from zoneinfo import ZoneInfo

from store.edges.instants import to_text
from store.file import change as change_module
from store.file import facts, words_of
from store.sums import working_time
from store.sums.zones import UNREADABLE
from store.views import about as about_module
from store.views.job import job_card
from tests.faults.before import Before, run
from tests.faults.clocks import ines, stop
from tests.faults.row import Outcome, Row, Tries
from tui import words


@contextmanager
def zone_data(folder: Path) -> Generator[None]:
    """Let this process find time zone data in a folder only, without the one it brings along."""
    before = zoneinfo.TZPATH
    brought = {name for name in sys.modules if name.partition(".")[0] == "tzdata"} | {"tzdata"}
    with patch.dict(sys.modules, dict.fromkeys(brought)):
        try:
            zoneinfo.reset_tzpath(to=[str(folder)])
            yield
        finally:
            zoneinfo.reset_tzpath(to=before)
    forget()


def forget() -> None:
    """Know no zone any more, as a process that has just begun."""
    ZoneInfo.clear_cache()
    words.zone_of.cache_clear()
    facts._calendar.cache_clear()  # pyright: ignore[reportPrivateUsage]


def _old(zone: Path) -> None:
    """Time zone data from before summer time (RFC 8536: version 1, one type, no transition)."""
    zone.parent.mkdir(parents=True)
    head = b"TZif" + bytes(16) + struct.pack(">6l", 0, 0, 0, 0, 1, 4)
    zone.write_bytes(head + struct.pack(">lbb", 3600, 0, 0) + b"OLD\0")


async def gone(here: Before) -> bool:
    await here.take("job-0")
    folder = here.path.with_name("zones")
    folder.mkdir()
    if here.dice.random() < 0.5:
        _old(folder / "Europe" / "Amsterdam")
        torn = (folder / "Europe" / "Amsterdam").read_bytes()[:30]
        (folder / "Europe" / "Amsterdam").write_bytes(torn)
    with zone_data(folder):
        if not await here.take("job-s"):
            here.wrong.append(f"a terminal that knows the zone did not go on: {here.at.said}")
        forget()
        here.commanded("knows no time zone", "Nothing was changed")
        here.commanded("knows no time zone", argv=("floor",))
        missing = _finds_none()
    shutil.rmtree(folder)
    if not await here.take("job-t"):
        here.wrong.append(f"the terminal did not go on: {here.at.said}")
    return missing


def _finds_none() -> bool:
    try:
        ZoneInfo("Europe/Amsterdam")
    except UNREADABLE:
        return True
    return False


async def older(here: Before) -> bool:
    folder = here.path.with_name("zones")
    _old(folder / "Europe" / "Amsterdam")
    asked = datetime(2026, 10, 14, 6, tzinfo=UTC)
    right = asked.astimezone(ZoneInfo("Europe/Amsterdam")).utcoffset()
    with zone_data(folder):
        forget()
        wrong = asked.astimezone(ZoneInfo("Europe/Amsterdam")).utcoffset()
        if not await here.take("job-u"):
            here.wrong.append(f"not taken: {here.at.said}")
        stop(here, ines(here.pen.now + timedelta(minutes=50)), timedelta(minutes=50))
    labour = job_card(here.shop, "1001", here.pen.now + timedelta(hours=1)).job.labour_h
    if abs(labour - 50 / 60) > 1 / 3600:
        here.wrong.append(f"{labour} h of labour")
    return wrong != right


@contextmanager
def unworded() -> Generator[None]:
    """Taken out: the words for a zone that is not known."""
    with (
        patch.object(about_module, "zone_named", ZoneInfo),
        patch.object(working_time, "zone_named", ZoneInfo),
        patch.object(words_of, "zone_named", ZoneInfo), patch.object(words, "zone_named", ZoneInfo),
    ):  # fmt: skip
        yield


def data_gone(tries: Tries) -> Outcome:
    with nullcontext() if tries.protected else unworded():
        return run(tries, gone)


def data_older(tries: Tries) -> Outcome:
    def by_the_wall(instant: datetime) -> str:
        return to_text(instant + (instant.astimezone(ZoneInfo("Europe/Amsterdam")).utcoffset()
                                  or timedelta()) - timedelta(hours=2))  # fmt: skip

    taken = patch.object(change_module, "to_text", by_the_wall)
    with nullcontext() if tries.protected else taken:
        return run(tries, older)


ROWS: tuple[Row, ...] = (
    Row(
        "time zone data gone or torn",
        "the machine's time zone data is an empty folder or a torn file, and none is brought along",
        "zoneinfo finds no such zone, and a command asks for it",
        "the words for it: a command ends with a traceback",
        data_gone, 1, 40, 1,
    ),
    Row(
        "time zone data too old",
        "the shop's zone is read from data that knows no summer time",
        "the offset by zoneinfo is another one than with the right data",
        "instants in UTC: stamped by the wall, labour is an hour off when the data is put right",
        data_older, 1, 40, 1,
    ),
)  # fmt: skip
