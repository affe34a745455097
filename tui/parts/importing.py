"""Old jobs taken in from a table at the screen: looked through first, written when it is whole."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import TYPE_CHECKING, Any

from store.rules.roles import why_not
from store.trouble import Refused
from tui import deeds
from tui.parts.on_disk import ask_file
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.words import counted, listed, zone_of

if TYPE_CHECKING:
    from datetime import datetime
    from zoneinfo import ZoneInfo

    from store.file.shop import Shop
    from store.learn.records import Record
    from store.views.history import Preview

MOST = 3
"""Faults that are named at once; the command names them all."""


async def take_history(screen: Painted[Any]) -> None:
    """Take finished phases in from a CSV file on this machine.

    Raises:
        Back: left with Esc.
        Trouble: it cannot be read, or has faults; nothing was written.
    """
    await somebody(screen)
    who = screen.session.who
    says = why_not("import history", who.role, "") if who is not None else None
    if who is not None and says is not None:
        raise Refused(f"{who.name} {says}")
    session = screen.session
    path = await ask_file(
        screen, "old jobs from a table", lambda path: _no_shop(path, session.shop.path),
        facts=("CSV with job, template, variant, phase, seq, technician, started_at, closed_at, "
               "book_hours, actual_hours; from a spreadsheet too.",),
    )  # fmt: skip
    records, seen = await asyncio.to_thread(
        _looked, session.shop, path, zone_of(screen.zone), session.now()
    )
    await screen.talk.sure(
        f"Take {counted(seen.phases, 'finished phase')} of {counted(seen.jobs, 'job')} in?",
        "take them in", "leave them", facts=_facts(seen),
    )  # fmt: skip
    await screen.act(deeds.import_history(records, path.name))


def _no_shop(path: Path, shop: Path) -> Path:
    if path.exists() and shop.exists() and path.samefile(shop):
        raise Refused("That is the shop file. Type where the table is.")
    return path


def _looked(
    shop: Shop, path: Path, zone: ZoneInfo, now: datetime
) -> tuple[tuple[Record, ...], Preview]:
    """What the table holds, and what it would teach."""
    from store.edges.tables.history import read_history
    from store.views.history import clashes, preview

    found = read_history(path, zone=zone)
    faults = [str(one) for one in found.faults]
    faults += [f"line {found.lines[at]}: {why}" for at, why in clashes(shop, found.rows)]
    if faults:
        more = f" And {len(faults) - MOST} more." if len(faults) > MOST else ""
        raise Refused(f"{path.name}: {' '.join(faults[:MOST])}{more} Nothing was written.")
    if not found.rows:
        raise Refused(f"{path.name} holds no finished phase: nothing would be taken in.")
    return tuple(found.rows), preview(shop, found.rows, now)


def _facts(seen: Preview) -> list[str]:
    facts: list[str] = []
    for one in seen.operations[:MOST]:
        unknown = "" if one.known else ", not in the work book"
        facts.append(f"{one.operation}: {counted(one.jobs, 'job')}, {one.hours:.1f} h{unknown}")
    codes = [code for code, _ in seen.unknown[:5]]
    if codes:
        facts.append(f"Not in the work book: {listed(codes)}.")
    if seen.doubtful:
        facts.append(f"{len(seen.doubtful)} far from the book: taken with doubt.")
    return facts
