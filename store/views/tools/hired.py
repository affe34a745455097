"""Hired kits that were not sent back yet, and which of them go back today."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Mapping
from datetime import date, datetime

from store.edges.instants import from_text
from store.file.kits.now import OUT
from store.file.kits.terms import terms_of
from store.sums.working_time import Calendar
from store.views.parts_values import HireOut
from store.views.values import KitDue, Want


def hires_out(db: sqlite3.Connection) -> tuple[HireOut, ...]:
    """Return every hire that was not sent back, the first to go back first."""
    rows = db.execute(
        "select hire, hire.kit, coalesce(name, hire.kit) as name, supplier, job, asked_at, "
        "expected, due, received_at, complete, note, terms, missing, wrong, valid_until, serial "
        "from hire left join kit on kit.code = hire.kit "
        f"where {OUT} order by due is null, due, asked_at, hire"
    )
    return tuple(
        HireOut(
            row["hire"], row["kit"], row["name"], row["supplier"], row["job"],
            from_text(row["asked_at"]), _at(row["expected"]), _at(row["due"]),
            _at(row["received_at"]), row["complete"] != 0, row["note"], terms_of(row["terms"]),
            tuple(json.loads(row["missing"])), bool(row["wrong"]),
            date.fromisoformat(row["valid_until"]) if row["valid_until"] else None, row["serial"],
        )
        for row in rows
    )  # fmt: skip


def _at(text: str | None) -> datetime | None:
    return from_text(text) if text else None


def kits_due(hires: Iterable[HireOut], now: datetime) -> tuple[KitDue, ...]:
    """Return the hires whose day of return is known, the first to go back first."""
    return tuple(
        KitDue(one.kit, one.due, one.received_at is not None and one.due < now, one.job, one.name,
               one.supplier)
        for one in hires
        if one.due is not None
    )  # fmt: skip


def goes_back_today(hire: HireOut, now: datetime, calendar: Calendar) -> bool:
    """Whether a kit that is here is to be handed to the carrier today, or was before."""
    if hire.received_at is None or hire.due is None:
        return False
    return calendar.day_of(hire.due) <= calendar.day_of(now)


def wants_of(
    hires: Iterable[HireOut], now: datetime, calendar: Calendar, lift_of: Mapping[str, str],
    needed: Mapping[str, datetime],
) -> list[Want]:  # fmt: skip
    """Return what the kits that go back today want.

    Args:
        needed: by hire, until when its kit is likely to be needed.
    """
    return [
        Want(
            "DUE", lift_of.get(one.job or ""), one.job,
            due_words(one, now, calendar, needed.get(one.hire)), one.due,
        )
        for one in hires
        if goes_back_today(one, now, calendar)
    ]  # fmt: skip


def due_words(
    hire: HireOut, now: datetime, calendar: Calendar, needed: datetime | None = None
) -> str:
    """Say by when a kit goes back, and until when it is needed; or since when it is late."""
    assert hire.due is not None
    due = hire.due.astimezone(calendar.zone)
    if hire.due < now:
        day = f"{due:%a} {due.day} {due:%b}"
        return f"kit {hire.name} was due at {hire.supplier} {day}{_a_day(hire)}"
    till = f"; needed till {_till(needed, now, calendar)}" if needed is not None else ""
    return f"kit {hire.name} goes back to {hire.supplier} today, {due:%H:%M}{till}"


def _a_day(hire: HireOut) -> str:
    """What each day costs that it stays too long."""
    if hire.terms is None:
        return ""
    rates, late = hire.terms.rates, hire.terms.house.late
    return f": each day {rates.day:g} and {late * rates.day:g} late"


def _till(at: datetime, now: datetime, calendar: Calendar) -> str:
    local = at.astimezone(calendar.zone)
    return f"{local:%H:%M}" if calendar.day_of(at) == calendar.day_of(now) else f"{local:%a %H:%M}"
