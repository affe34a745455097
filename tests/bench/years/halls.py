"""Ten years of a workshop of four halls, and the month that it lives in now.

The year of a demo shop has some 30,000 entries; a million in ten years is four times that. So there
were four halls, each with people of its own, each playing one tape year by year, a quarter of a
year apart. Only the first is left now, with the last month and the live jobs of a demo shop of one
month: that same month alone is the shop to compare with. All halls put their jobs on the same
lifts, which no table forbids: so what a floor paints now is the same in both files.
"""

from __future__ import annotations

import heapq
import re
import sqlite3
from datetime import date, timedelta
from pathlib import Path

from demo.days_off import holidays
from demo.making import LAST_PAST_DAY, make_demo
from store.file.ledger import canonical
from tests.bench.years.copying import Copy, moved
from tests.bench.years.tape import Tape, read_tape
from tests.bench.years.writing import Writer, write_file

HALLS = 4
YEAR, QUARTER, BEFORE_NOW = 52, 13, 4
"""Weeks: of one tape, between halls, and between the newest copy's end and the present's."""
UNTIL = f"{LAST_PAST_DAY + timedelta(days=1)}T00:00:00.000000+00:00"
ONE_HALL = frozenset({
    "lift-inspected", "lift-looked-over", "lift-withdrawn", "lift-returned", "kit-inspected",
    "month-costs",
})  # fmt: skip
"""Said once for the whole shop: by the first hall."""
FROM_DAY = re.compile(r'"from_day":"[\d-]+"')


def make_both(folder: Path, entries: int) -> tuple[Path, Path]:
    """Make the file of one month and the one of ten years, where they are not there yet."""
    month, years = folder / "month.shop", folder / f"years-{entries}.shop"
    if not (month.exists() and years.exists()):
        folder.mkdir(parents=True, exist_ok=True)
        for path in (month, years):
            path.unlink(missing_ok=True)
        now, tapes = _tapes(folder)
        write_file(month, lambda writer, db: _fill(writer, db, now, []))
        copies = _copies(tapes, now, entries)
        write_file(years, lambda writer, db: _fill(writer, db, now, copies))
    return month, years


def _tapes(folder: Path) -> tuple[Tape, list[Tape]]:
    """The month that is now, and a year of each hall."""
    lived: list[Tape] = []
    for seed, months, until in ((1, 1, None), *((n + 1, 12, UNTIL) for n in range(HALLS))):
        path = folder / f"tape-{seed}-{months}.shop"
        if not path.exists():
            make_demo(path, seed=seed, months=months).close()
        lived.append(read_tape(path, until))
    return lived[0], lived[1:]


def _copies(tapes: list[Tape], now: Tape, entries: int) -> list[Copy]:
    """As many copies as it takes, from the newest back."""
    found: list[Copy] = []
    left = entries - _length(now)
    while left > 0:
        year, hall = divmod(len(found), HALLS)
        weeks = BEFORE_NOW + YEAR * year + QUARTER * hall
        found.append(_copy(tapes[hall], now, len(found) + 1, weeks, hall))
        left -= _length(tapes[hall], ONE_HALL if hall else frozenset())
    return found


def _length(tape: Tape, without: frozenset[str] = frozenset()) -> int:
    return sum(one.row.kind not in without for act in tape.acts for one in act)


def _copy(tape: Tape, now: Tape, order: int, weeks: int, hall: int) -> Copy:
    here = {badge: person for person, badge, *_ in now.people}
    ids = {old: now.places[code] for code, old in tape.places.items()}
    badges: dict[str, str] = {}
    for person, badge, *_ in tape.people:
        badges[badge] = badge if not hall else f"{badge}H{hall + 1}"
        ids[person] = here.get(badges[badge]) or f"{person}{hall:02x}"
    return Copy(tape, order, weeks, ids, badges)


def _fill(writer: Writer, db: sqlite3.Connection, now: Tape, copies: list[Copy]) -> None:
    """The founding, the past, the present; and what stands outside the ledger."""
    back = max((one.weeks for one in copies), default=0) + (YEAR if copies else 0)
    _found(writer, now, back)
    if copies:
        _long_founded(writer, now, copies, back)
    hall_of = {one.order: (one.order - 1) % HALLS for one in copies}
    writer.acts(heapq.merge(*(
        one.acts(ONE_HALL if hall_of[one.order] else frozenset()) for one in copies
    )))  # fmt: skip
    present = Copy(now, 0, 0, {}, {})
    writer.acts(present.acts())
    _private(db, now, [present, *copies])


def _found(writer: Writer, now: Tape, back: int) -> None:
    day = moved(now.founding[0].recorded_at, back)[:10] if back else None
    for row in now.founding:
        at = moved(row.recorded_at, back) if back else row.recorded_at
        payload = row.payload
        if day is not None and row.kind != "book-loaded":
            payload = FROM_DAY.sub(f'"from_day":"{day}"', payload)
        elif day is not None:
            payload = re.sub(r'(,"from_day":)"[\d-]+"(,"source":)', rf'\1"{day}"\2', payload)
        writer.said(f"0000{row.key}", at, row.badge, row.kind, payload)


def _long_founded(writer: Writer, now: Tape, copies: list[Copy], back: int) -> None:
    """Holidays of all the years, and people who are gone."""
    at = moved(now.founding[-1].recorded_at, back)
    began = date.fromisoformat(at[:10])
    ended = date.fromisoformat(now.founding[0].recorded_at[:10])
    said: list[tuple[str, dict[str, object]]] = [
        ("holiday-set", {"day": day.isoformat(), "name": name})
        for year in range(began.year, ended.year + 1)
        for day, name in holidays(year)
        if began < day <= ended
    ]
    here = {badge for _, badge, *_ in now.people}
    newest = {one.weeks: one for one in copies[:HALLS]}
    for weeks, copy in newest.items():
        until = (LAST_PAST_DAY - timedelta(weeks=weeks)).isoformat()
        for person, badge, name, role, experience in copy.tape.people:
            new = copy.badges[badge]
            if new not in here:
                said.append(("person-added", {
                    "person": copy.people[person], "badge": new, "name": f"{name} {new[-2:]}",
                    "role": role, "experience": experience, "from_day": began.isoformat(),
                    "until_day": until,
                }))  # fmt: skip
    for nth, (kind, payload) in enumerate(said):
        writer.said(f"00ff{nth:020x}", at, "A01", kind, canonical(payload))


def _private(db: sqlite3.Connection, now: Tape, copies: list[Copy]) -> None:
    db.executemany("insert into pin_private values (?, ?, ?, ?, ?, ?)", now.pins)
    db.execute("create temp table known (customer text primary key)")
    db.execute(
        "insert into known select payload ->> 'customer' from ledger where kind = 'customer-known'"
    )
    for one in copies:
        names = [(one.id(customer), name, phone) for customer, name, phone in one.tape.names]
        words = [(one.id(word), one.id(customer), text) for word, customer, text in one.tape.words]
        is_known = "where ?1 in (select customer from known)"
        db.executemany(f"insert into customer_private select ?1, ?2, ?3 {is_known}", names)
        db.executemany(
            f"insert into private_word select ?2, ?1, ?3 {is_known}",
            [(customer, word, text) for word, customer, text in words],
        )
    db.execute("drop table known")
