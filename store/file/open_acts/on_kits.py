"""Acts about hired kits: received, sent back before the cut-off, kept longer, asked for in time."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, timedelta

from store.edges.instants import from_text, to_text
from store.file.facts import day_bounds
from store.file.kits.lacking import KEPT
from store.file.kits.now import Use, uses_of
from store.file.kits.terms import Offer, offers_now, terms_of
from store.file.kits.wanted import Wanted, kits_wanted
from store.file.learned.kept_needs import KitNeed, kept_needs
from store.file.open_acts.going import IN_WORK, Gathered
from store.file.open_acts.made import act
from store.learn.dates.spans import SHOP_DAY_H
from store.rules.acts import Act, ActKind
from store.sums.hires.charge import charge
from store.sums.hires.days import ShopDays
from store.sums.hires.terms import House
from store.sums.working_time import NeverOpens

HIRES = (
    "select hire, hire.kit, kit.name, supplier, job, asked_at, expected, due, received_at, terms "
    "from hire join kit on kit.code = hire.kit where sent_at is null order by due, hire"
)
WORTH = 1.0
"""Money that sending a kit back today saves, below which nobody is moved by it."""
Stretches = Mapping[str, tuple[Wanted, ...]]


def acts_on_kits(every: Gathered) -> Iterator[Act]:
    """Yield what is to be received, sent back, kept longer and asked for: carriers do not wait."""
    rows = every.db.execute(HIRES).fetchall()
    wanted = kits_wanted(every.db)
    yield from _hires(every, rows, wanted)
    yield from _asks(every, rows, wanted)


def _hires(every: Gathered, rows: Sequence[sqlite3.Row], wanted: Stretches) -> Iterator[Act]:
    evening = day_bounds(every.calendar.day_of(every.now), every.calendar.zone)[1]
    soon = to_text(max(every.calendar.after(every.now, SHOP_DAY_H), evening))
    uses = uses_of(every.db, {row["kit"] for row in rows})
    for row in rows:
        if row["received_at"] is None:
            if row["expected"] is not None and row["expected"] <= soon:
                yield _coming(every, row, _is_wanted(row, wanted), _picked(rows, row))
        elif row["due"] is not None and row["due"] <= soon:
            use = next((one for one in uses if _uses(one, row)), None)
            says = f"{row['name']} goes back to {row['supplier']}"
            picked = _picked(rows, row)
            yield (
                _kit(every, row, "kit back", says, picked)
                if use is None
                else _kept(every, row, use, picked)
            )
        elif row["due"] is not None and not _is_wanted(row, wanted) and _saves(every, row):
            says = f"nobody needs {row['name']} any more: back to {row['supplier']}"
            yield _kit(every, row, "kit back", says, _picked(rows, row))


def _uses(use: Use, row: sqlite3.Row) -> bool:
    return use.kit == row["kit"] and row["job"] in (None, use.job)


def _is_wanted(row: sqlite3.Row, wanted: Stretches) -> bool:
    each = wanted.values() if row["job"] is None else (wanted.get(row["job"], ()),)
    return any(one.kit == row["kit"] for stretches in each for one in stretches)


def _saves(every: Gathered, row: sqlite3.Row) -> bool:
    """Whether it costs less to send it back today than on its day; so it is where nobody knows."""
    terms = terms_of(row["terms"])
    if terms is None:
        return True
    came, days = from_text(row["received_at"]), ShopDays(every.calendar)
    try:
        now = days.handed(every.now, terms.house.cut_off)
        then = days.handed(from_text(row["due"]), terms.house.cut_off)
    except NeverOpens:
        return True
    costs = [charge(terms, came, day, days).hire for day in (now, max(now, then))]
    return costs[1] - costs[0] >= WORTH


def _picked(rows: Sequence[sqlite3.Row], row: sqlite3.Row) -> tuple[str, ...]:
    """The option that tells one hire of a kit from another."""
    if row["job"]:
        return ("--job", row["job"])
    return ("--job", "any") if sum(one["kit"] == row["kit"] for one in rows) > 1 else ()


def _coming(every: Gathered, row: sqlite3.Row, wanted: bool, picked: tuple[str, ...]) -> Act:
    """It is received on the day it comes; what nobody needs may still be called off."""
    says = f"{row['name']} comes from {row['supplier']}"
    if wanted:
        return _kit(every, row, "kit here", says, picked)
    called_off = f"nobody needs it: hoistbook hire cancel {' '.join((row['kit'], *picked))}"
    return _kit(every, row, "kit here", f"{says}; {called_off}", picked)


def _kept(every: Gathered, row: sqlite3.Row, use: Use, picked: tuple[str, ...]) -> Act:
    """It cannot go back yet: the supplier is told another day."""
    return act(
        every, "kit keep", "hire kit", row["job"],
        f"{row['name']} is due at {row['supplier']} and in use on {use.job}.{use.phase}: keep it",
        since=from_text(row["received_at"]), by=_at(row["due"]), line=row["kit"],
        command=("hire", "extend", row["kit"], "--due", "-DATE", *picked),
    )  # fmt: skip


def _kit(
    every: Gathered, row: sqlite3.Row, kind: ActKind, says: str, picked: tuple[str, ...]
) -> Act:
    here = kind == "kit here"
    command = ("hire", "receive" if here else "return", row["kit"])
    if here and row["due"] is None:
        picked = (*picked, "--due", "-DATE")
    if not here:
        picked = (*picked, "--pieces", "-N")
    return act(
        every, kind, "receive kit", row["job"], says, since=_at(row["received_at"]),
        by=_at(row["expected"] if here else row["due"]), line=row["kit"],
        command=(*command, *picked),
    )  # fmt: skip


def _at(text: str | None) -> datetime | None:
    return None if text is None else from_text(text)


# -- to be asked for


def _asks(every: Gathered, rows: Sequence[sqlite3.Row], wanted: Stretches) -> Iterator[Act]:
    """Kits to be asked for by tomorrow: the first stretch of each job that has none."""
    if not every.db.execute(f"select {KEPT}").fetchone()[0]:
        return
    lent = every.db.execute("select code, name from kit where not owned")
    names = {row["code"]: row["name"] for row in lent}
    taken = {(row["kit"], row["job"]) for row in rows}
    needs, offers = kept_needs(every.db), offers_now(every.db)
    for job, stretches in wanted.items():
        for kit in dict.fromkeys(one.kit for one in stretches):
            own = [one for one in stretches if one.kit == kit]
            begun = any(one.begun_at is not None for one in own)
            if kit not in names or begun or taken & {(kit, job), (kit, None)}:
                continue
            start = _start(every, job, own[0], needs.get(job, {}).get(kit))
            by = None if start is None else _ask_by(every, start, offers.get(kit, ()))
            if by is not None:
                other = next((row["job"] for row in rows if row["kit"] == kit), None)
                yield _ask(every, (kit, names[kit]), own[0], by, offers.get(kit, ()), other)


def _start(every: Gathered, job: str, first: Wanted, known: KitNeed | None) -> datetime | None:
    """When a job is likely to need it: by its forecast, else now where it came in."""
    drawn = [one for one in known.stretches if one.phases == first.phases] if known else []
    if known is not None and drawn:
        starts = sorted(drawn[0].starts)
        return every.calendar.after(known.made_at, starts[len(starts) // 2])
    going = every.jobs.get(job)
    return every.now if going is not None and going.state in IN_WORK else None


def _ask_by(every: Gathered, start: datetime, offers: Sequence[Offer]) -> datetime | None:
    """The end of the last day on which it can be asked for; None where that is further off."""
    calendar, days = every.calendar, ShopDays(every.calendar)
    lead = min((one.terms.house.lead_days for one in offers), default=House().lead_days)
    try:
        today = days.on_or_after(calendar.day_of(every.now))
        last = _before(days, calendar.day_of(start), lead, today)
        return None if last > days.after(today, 1) else calendar.shifts_of(last)[-1][1]
    except NeverOpens:
        return None


def _before(days: ShopDays, day: date, lead: int, first: date) -> date:
    """The working day that is so many before a day, `first` at the earliest: a shop that began
    today had none before."""
    while day > first and (lead > 0 or not days.works(day)):
        day -= timedelta(days=1)
        lead -= days.works(day)
    return max(day, first)


def _ask(
    every: Gathered, kit: tuple[str, str], first: Wanted, by: datetime, offers: Sequence[Offer],
    other: str | None,
) -> Act:  # fmt: skip
    """It is to be asked for, unless it shares the one that another job has."""
    code, name = kit
    share = f"; or it shares that of {other}: hoistbook hire advise {code}" if other else ""
    supplier = () if len(offers) == 1 else ("--supplier", "-SUPPLIER")
    return act(
        every, "kit ask", "hire kit", first.job, f"{name} is needed and not asked for{share}",
        since=None, by=by, phase=first.frees[0], line=code,
        command=("hire", "ask", code, *supplier, "--job", first.job),
    )  # fmt: skip
