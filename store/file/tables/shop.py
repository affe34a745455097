"""The shop itself: its name, settings, calendar and rates."""

from __future__ import annotations

import json
import sqlite3

from store.edges.events.shop import (
    CalendarSet,
    HolidayCleared,
    HolidaySet,
    RateSet,
    SettingChanged,
    ShopFounded,
)
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies


@applies(ShopFounded)
def founded(db: sqlite3.Connection, row: Row, event: ShopFounded) -> None:
    demo = canonical(event.demo.model_dump()) if event.demo else None
    db.execute(
        "insert into shop values (1, ?, ?, ?, ?, ?)",
        (event.shop, event.name, event.zone, event.currency, demo),
    )


@applies(SettingChanged)
def setting(db: sqlite3.Connection, row: Row, event: SettingChanged) -> None:
    db.execute(
        "insert into setting values (?, ?) on conflict (name) do update set value = excluded.value",
        (event.name, json.dumps(event.value, sort_keys=True, ensure_ascii=False)),
    )


@applies(CalendarSet)
def calendar(db: sqlite3.Connection, row: Row, event: CalendarSet) -> None:
    plan = canonical(event.model_dump(include={"shifts", "breaks"}))
    db.execute(
        "insert into calendar values (?, ?) "
        "on conflict (from_day) do update set plan = excluded.plan",
        (event.from_day, plan),
    )


@applies(HolidaySet)
def holiday(db: sqlite3.Connection, row: Row, event: HolidaySet) -> None:
    db.execute(
        "insert into holiday values (?, ?) on conflict (day) do update set name = excluded.name",
        (event.day, event.name),
    )


@applies(HolidayCleared)
def holiday_cleared(db: sqlite3.Connection, row: Row, event: HolidayCleared) -> None:
    db.execute("delete from holiday where day = ?", (event.day,))


@applies(RateSet)
def rate(db: sqlite3.Connection, row: Row, event: RateSet) -> None:
    db.execute(
        "insert into rate values (?, ?) "
        "on conflict (from_day) do update set per_hour = excluded.per_hour",
        (event.from_day, event.per_hour),
    )
