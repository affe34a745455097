"""The JSON document of `tools`, and of what is advised about hires."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.sums.hires.terms import Terms
from store.views.parts_values import HireOut
from store.views.tools.values import (
    Advice,
    Clash,
    DayCost,
    HireOrBuy,
    KitNow,
    KitWanted,
    Tools,
    Way,
)
from tui.cli.answer import Document, money


def tools(found: Tools) -> Document:
    """The kits, clashes between jobs, and what is advised."""
    zone = found.calendar.zone
    return {
        "kits": [kit(one, found) for one in found.kits],
        "clashes": [clash(one, zone) for one in found.clashes],
        "advice": [advice(one, zone) for one in found.advice],
        "buy": [_buy(one) for one in found.buy],
        "made_at": _instant(found.made_at, zone),
    }


def advised(found: Tools, only: KitNow | None) -> Document:
    """What is advised alone, of one kit or of all."""
    whole = tools(found)
    if only is None:
        return {name: whole[name] for name in ("clashes", "advice", "buy", "made_at")}
    zone = found.calendar.zone
    return {
        "kit": kit(only, found),
        "clashes": [clash(one, zone) for one in found.clashes if one.kit == only.code],
        "advice": [advice(one, zone) for one in found.advice if one.kit == only.code],
        "buy": [_buy(one) for one in found.buy if one.kit == only.code],
        "made_at": _instant(found.made_at, zone),
    }


def kit(one: KitNow, found: Tools) -> Document:
    """One kit."""
    zone = found.calendar.zone
    return {
        "kit": one.code,
        "name": one.name,
        "owned": one.owned,
        "state": one.state,
        "needed_by": [_wanted(each, zone) for each in one.needed_by],
        "hire": _hire(one.hires[0], found) if one.hires else None,
        "hires": [_hire(each, found) for each in one.hires],
        "verb": one.verb,
        "says": one.says,
        "chance": _chance(one.chance),
        "by": _instant(one.by, zone),
        "size": one.size,
        "contains": list(one.contains),
        "valid_until": None if one.valid_until is None else one.valid_until.isoformat(),
        "supplier": one.supplier,
        "per_day": money(one.terms.rates.day) if one.terms is not None else None,
    }


def _wanted(one: KitWanted, zone: ZoneInfo) -> Document:
    return {
        "job": one.job,
        "phase": one.phase,
        "phases": list(one.phases),
        "from": for_zone(one.since, zone),
        "until": {
            "middle": for_zone(one.middle, zone),
            "cautious": for_zone(one.cautious, zone),
        },
        "begun": one.begun,
        "captive": one.captive,
    }


def _hire(one: HireOut, found: Tools) -> Document:
    zone = found.calendar.zone
    return {
        "hire": one.hire,
        "supplier": one.supplier,
        "job": one.job,
        "state": "on hand" if one.here else "asked for",
        "complete": one.complete if one.here else None,
        "missing": list(one.missing),
        "wrong": one.wrong,
        "from": _instant(one.received_at or one.expected, zone),
        "due": _instant(one.due, zone),
        "overdue": one.here and one.due is not None and one.due < found.at,
        **_per_day(one.terms),
    }


def _per_day(terms: Terms | None) -> Document:
    if terms is None:
        return {"per_day": None, "late_per_day": None}
    rates, late = terms.rates, terms.house.late
    return {"per_day": money(rates.day), "late_per_day": money(late * rates.day)}


def clash(one: Clash, zone: ZoneInfo) -> Document:
    """One clash, with its ways out."""
    return {
        "kit": one.kit,
        "jobs": list(one.jobs),
        "from": for_zone(one.since, zone),
        "until": for_zone(one.until, zone),
        "chance": _chance(one.chance),
        "ways": [_way(each, zone) for each in one.ways],
    }


def advice(one: Advice, zone: ZoneInfo) -> Document:
    """One piece of advice, with the days behind it."""
    return {
        "kit": one.kit,
        "do": one.best.do,
        "says": one.best.says,
        "until": _instant(one.best.until, zone),
        "expected_cost": money(one.best.cost),
        "instead_of": money(one.instead_of),
        "why": one.why,
        "job": one.job,
        "hire": one.hire,
        "supplier": one.supplier,
        "by": _instant(one.by, zone),
        "not_needed_after": _chance(one.chance),
        "ways": [_way(each, zone) for each in one.ways],
        "days": [_day(each, zone) for each in one.days],
    }


def _way(one: Way, zone: ZoneInfo) -> Document:
    return {
        "do": one.do,
        "says": one.says,
        "from": _instant(one.since, zone),
        "until": _instant(one.until, zone),
        "expected_cost": money(one.cost),
        "kept": {job: _chance(chance) for job, chance in one.kept},
        "command": None if one.command is None else list(one.command),
    }


def _day(one: DayCost, zone: ZoneInfo) -> Document:
    return {
        "day": one.day.isoformat(),
        "from": _instant(one.since, zone),
        "back_by": for_zone(one.back_by, zone),
        "still_needed": _chance(one.needed),
        "hire": money(one.hire),
        "carriage": money(one.carriage),
        "late": money(one.late),
        "waiting": money(one.waiting),
        "total": money(one.total),
    }


def _buy(one: HireOrBuy) -> Document:
    low, middle, high = one.ahead
    return {
        "kit": one.kit,
        "hires": one.jobs,
        "days": round(one.days, 1),
        "spent": money(one.spent),
        "next_year": {"low": low, "middle": middle, "high": high},
        "buy": money(one.buy),
        "break_even": None if one.break_even is None else round(one.break_even, 1),
        "chance_buying_is_cheaper": _chance(one.chance),
        "says": one.says,
    }


def _chance(chance: float | None) -> float | None:
    return None if chance is None else round(chance, 4)


def _instant(at: datetime | None, zone: ZoneInfo) -> str | None:
    return None if at is None else for_zone(at, zone)
