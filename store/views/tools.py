"""Special tools: where each kit is, who needs it when, what is hired, and what is to be done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime

from store.file.facts import calendar_of
from store.file.kits_now import Use
from store.file.shop import Shop
from store.views.loading import live_jobs, load
from store.views.parts_values import HireOut
from store.views.people_now import people_now
from store.views.tools_read import KitRow, Known, read
from store.views.tools_values import Advice, Clash, KitNow, KitWanted, Tools
from store.views.tools_verbs import ORDER, About, said_of
from store.views.tools_wanted import wanted

__all__ = ["KitNow", "KitWanted", "Tools", "kits_now", "tools"]


def tools(shop: Shop, now: datetime) -> Tools:
    """Return every kit with where it is, who needs it, and what is to be done about it.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        calendar = calendar_of(db)
        known = read(db, now, calendar)
        loaded = load(db, live_jobs(db), now, people_now(db, now))
        needed = wanted(db, loaded)
    kits = [_kit(known, row, needed.get(row.code, ()), (), ()) for row in known.kits]
    return Tools(now, calendar, tuple(sorted(kits, key=_rank)))


def kits_now(shop: Shop, now: datetime) -> tuple[KitNow, ...]:
    """Return every kit with where it is, without who needs it when, in the order of their codes.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        known = read(db, now, calendar_of(db))
    return tuple(_kit(known, row, (), (), ()) for row in known.kits)


def _rank(kit: KitNow) -> tuple[int, str, str]:
    """Loud ones first, the first to be done first among equals, then by code."""
    by = kit.by.isoformat() if kit.by is not None and kit.verb is not None else ""
    return ORDER[kit.verb], by, kit.code


def _kit(
    known: Known, row: KitRow, needed: Sequence[KitWanted], advice: Sequence[Advice],
    clashes: Sequence[Clash],
) -> KitNow:  # fmt: skip
    hires = known.hires_of(row.code)
    said = said_of(About(known, row, hires, needed, advice, clashes))
    offer = known.offer(row.code)
    terms = next((one.terms for one in hires if one.terms is not None), None)
    return KitNow(
        code=row.code, name=row.name, owned=row.owned,
        state=_state(row, [one for one in known.uses if one.kit == row.code], hires),
        needed_by=tuple(needed), hires=tuple(hires), size=row.size, contains=row.contains,
        had=known.had.get(row.code, ()), needed=_middle(needed),
        valid_until=known.dates.get(row.code) if row.owned else _valid(hires),
        verb=said.verb, says=said.says, chance=said.chance, by=said.by,
        terms=terms or (offer.terms if offer is not None else None),
        supplier=_supplier(hires, offer.supplier if offer is not None else None),
        hire=said.hire, advice=advice[0] if advice else None, clashes=tuple(clashes),
    )  # fmt: skip


def _state(row: KitRow, uses: Sequence[Use], hires: Sequence[HireOut]) -> str:
    if uses:
        word = "fixed on" if uses[0].captive else "in use on"
        return f"{word} {uses[0].job}.{uses[0].phase}"
    if row.owned:
        return "free"
    if not hires:
        return "not hired"
    here = [one for one in hires if one.here]
    if not here:
        return "asked for"
    return "on hand" if all(one.whole for one in here) else "on hand, not complete"


def _middle(needed: Sequence[KitWanted]) -> tuple[tuple[datetime, float], ...]:
    """Chance of need ahead where only the middle forecast is known: all or nothing."""
    found: Mapping[datetime, float] = {
        at: chance for one in needed for at, chance in ((one.since, 1.0), (one.middle, 0.0))
    }
    return tuple(sorted(found.items()))


def _valid(hires: Sequence[HireOut]) -> date | None:
    return min((one.valid_until for one in hires if one.valid_until is not None), default=None)


def _supplier(hires: Sequence[HireOut], offered: str | None) -> str | None:
    return hires[0].supplier if hires else offered
