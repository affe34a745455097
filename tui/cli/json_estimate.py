"""The JSON document of `estimate`."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.rules.estimating import Figures
from store.views.estimate import Estimate, EstimateLine, ForkLine, KitLine, Way
from store.views.what_if import Ends
from tui.cli.answer import Document, hours, money
from tui.cli.json_tools import clash


def document(found: Estimate, zone: ZoneInfo) -> Document:
    """The estimate as its document."""
    return {
        "route": [_line(one) for one in found.route],
        "total_hours": {
            **_figures(found.total),
            **{f"q{5 * n:02d}": hours(one) for n, one in enumerate(found.total.quantiles, 1)},
        },
        "shared_access_saves_hours": hours(found.saves_h),
        "kits": [_kit(one, zone) for one in found.kits],
        "money": {
            "labour": money(found.labour_money),
            "kits": money(found.kits_money),
            "total": (
                None if found.labour_money is None else money(found.labour_money + found.kits_money)
            ),
            "currency": found.currency,
        },
        "promise": _ends(found.promise, zone),
        "by": None if found.by is None else _by(found.by, zone),
        "finish_open_hours": (
            {f"q{5 * n:02d}": hours(one) for n, one in enumerate(found.finish_h, 1)} or None
        ),
        "forks": [_fork(one, zone) for one in found.forks],
        "unknown": [_fork(one, zone) for one in found.unknown],
        "extras": [
            {
                "operation": one.operation,
                "text": one.text,
                "odds": None if one.odds is None else round(one.odds, 4),
                "adds_hours": hours(one.adds_h),
                "alone_hours": hours(one.alone_h),
            }
            for one in found.extras
        ],
        "says": found.says,
        "options": dict(found.options),
        "book_version": found.version,
    }


def _line(line: EstimateLine) -> Document:
    return {
        "phase": line.phase,
        "code": line.code,
        "name": line.name,
        "kind": line.kind,
        "on_lift": line.on_lift,
        "serves": list(line.serves),
        "book_hours": hours(line.book_h),
        "estimate_hours": {
            **_figures(line.figures),
            "q10": hours(line.figures.quantiles[1]),
            "q90": hours(line.figures.quantiles[17]),
        },
        "from": line.source,
        "finished_before": line.finished_before,
        "finished_on_family": line.on_family,
    }


def _kit(one: KitLine, zone: ZoneInfo) -> Document:
    return {
        "kit": one.kit,
        "phases": list(one.phases),
        "owned": one.owned,
        "days": one.days,
        "cost": money(one.cost),
        "from": None if one.since is None else for_zone(one.since, zone),
        "until": None if one.until is None else for_zone(one.until, zone),
        "supplier": one.supplier,
        "taken": one.says or None,
        "clashes": [clash(each, zone) for each in one.clashes],
    }


def _by(by: tuple[datetime, float | None], zone: ZoneInfo) -> Document:
    return {"finish": for_zone(by[0], zone), "chance": by[1]}


def _fork(line: ForkLine, zone: ZoneInfo) -> Document:
    return {
        "phase": line.phase,
        "option": line.option,
        "text": line.text,
        "ways": [_way(one, zone) for one in line.ways],
    }


def _way(way: Way, zone: ZoneInfo) -> Document:
    return {
        "answer": way.code,
        "text": way.text,
        "odds": None if way.odds is None else round(way.odds, 4),
        "total_hours": _figures(way.total),
        "more": list(way.more),
        "less": list(way.less),
        "kits": list(way.kits),
        "sets": dict(way.sets),
        "ends": way.ends,
        "planned": way.planned,
        "promise": _ends(way.finish, zone),
    }


def _ends(ends: Ends, zone: ZoneInfo) -> list[Document]:
    return [{"chance": chance, "finish": for_zone(finish, zone)} for chance, finish in ends]


def _figures(figures: Figures) -> Document:
    return {
        "middle": hours(figures.middle),
        "cautious": hours(figures.cautious),
        "mean": hours(figures.mean),
    }
