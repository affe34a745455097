"""Special tools: where each kit is, who needs it when, what is hired, and what is to be done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime

from store.file.facts import calendar_of
from store.file.kits.now import Use
from store.file.shop import Shop
from store.views.parts_values import HireOut
from store.views.tools.advice import advised
from store.views.tools.buy import hire_or_buy
from store.views.tools.draws import Drawn, curve, drawn
from store.views.tools.kit_needs import kit_needs
from store.views.tools.money import Reckoning, reckoning
from store.views.tools.read import KitRow, Known, read
from store.views.tools.values import KitNow, KitWanted, Tools
from store.views.tools.verbs import ORDER, About, said_of

__all__ = ["KitNow", "KitWanted", "Tools", "kits_now", "tools"]


def tools(shop: Shop, now: datetime) -> Tools:
    """Return every kit with where it is, who needs it, and what is to be done about it.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        calendar = calendar_of(db)
        known = read(db, now, calendar)
        found = kit_needs(db, calendar, now)
        share = reckoning(db, known)
        needs = drawn(db, found, share.cautious)
        own = hire_or_buy(db, known, share.days)
    kits = sorted((_kit(share, row, needs.get(row.code, ())) for row in known.kits), key=_rank)
    made = [one.made_at for each in found.values() for one in each if one.made_at is not None]
    return Tools(
        now, calendar, tuple(kits),
        tuple(sorted((one for kit in kits for one in kit.clashes), key=lambda one: one.since)),
        tuple(one for kit in kits for one in kit.advised), own, min(made, default=None),
    )  # fmt: skip


def kits_now(shop: Shop, now: datetime) -> tuple[KitNow, ...]:
    """Return every kit with where it is, without who needs it when, in the order of their codes.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        known = read(db, now, calendar_of(db))
    return tuple(_bare(known, row) for row in known.kits)


def _rank(kit: KitNow) -> tuple[int, str, str]:
    """Loud ones first, the first to be done first among equals, then by code."""
    by = kit.by.isoformat() if kit.by is not None and kit.verb is not None else ""
    return ORDER[kit.verb], by, kit.code


def _kit(share: Reckoning, row: KitRow, needs: Sequence[Drawn]) -> KitNow:
    known = share.known
    hires = known.hires_of(row.code)
    found = advised(share, row, hires, needs)
    needed = tuple(one.told for one in needs)
    said = said_of(About(known, row, hires, needed, found.advice, found.clashes))
    return replace(
        _bare(known, row), needed_by=needed,
        needed=curve([one.need for one in needs], known.calendar, known.now),
        verb=said.verb, says=said.says, chance=said.chance, by=said.by, hire=said.hire,
        advice=said.advice, advised=found.advice, clashes=found.clashes,
    )  # fmt: skip


def _bare(known: Known, row: KitRow) -> KitNow:
    """Where a kit is, and whose terms hold."""
    hires, offer = known.hires_of(row.code), known.offer(row.code)
    terms = next((one.terms for one in hires if one.terms is not None), None)
    return KitNow(
        code=row.code, name=row.name, owned=row.owned,
        state=_state(row, [one for one in known.uses if one.kit == row.code], hires),
        hires=tuple(hires), size=row.size, contains=row.contains,
        had=known.had.get(row.code, ()),
        valid_until=known.dates.get(row.code) if row.owned else _valid(hires),
        terms=terms or (offer.terms if offer is not None else None),
        supplier=hires[0].supplier if hires else offer.supplier if offer is not None else None,
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


def _valid(hires: Sequence[HireOut]) -> date | None:
    return min((one.valid_until for one in hires if one.valid_until is not None), default=None)
