"""The JSON document of `estimate`."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.rules.estimating import Figures
from store.views.estimate import Estimate, EstimateLine
from tui.cli.answer import Document, hours, money


def document(found: Estimate, zone: ZoneInfo) -> Document:
    """The estimate as its document."""
    return {
        "route": [_line(one) for one in found.route],
        "total_hours": {
            **_figures(found.total),
            **{f"q{5 * n:02d}": hours(one) for n, one in enumerate(found.total.quantiles, 1)},
        },
        "shared_access_saves_hours": hours(found.saves_h),
        "kits": [
            {
                "kit": one.kit,
                "phases": list(one.phases),
                "owned": one.owned,
                "days": 0,
                "cost": 0.0 if one.owned else None,
            }
            for one in found.kits
        ],
        "money": {
            "labour": money(found.labour_money),
            "kits": 0.0,
            "total": money(found.labour_money),
            "currency": found.currency,
        },
        "promise": [
            {"chance": chance, "finish": for_zone(finish, zone)} for chance, finish in found.promise
        ],
        "forks": [
            {
                "phase": one.phase,
                "text": one.text,
                "ways": [
                    {
                        "answer": way.code,
                        "text": way.text,
                        "odds": round(way.odds, 4),
                        "total_hours": _figures(way.total),
                        "more": list(way.more),
                        "less": list(way.less),
                    }
                    for way in one.ways
                ],
            }
            for one in found.forks
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
        "estimate_hours": _figures(line.figures),
        "from": line.source,
        "finished_before": line.finished_before,
    }


def _figures(figures: Figures) -> Document:
    return {
        "middle": hours(figures.middle),
        "cautious": hours(figures.cautious),
        "mean": hours(figures.mean),
    }
