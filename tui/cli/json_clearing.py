"""What clearing a lift takes, as a document."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.clearing_values import Clearing
from tui.cli.answer import Document
from tui.parts.clearing import clearing_lines


def clearing(one: Clearing, zone: ZoneInfo) -> Document:
    """One lift."""
    cost, worth = one.cost, one.worth
    return {
        "lift": one.lift, "job": one.job, "vehicle": one.vehicle, "waits": one.waits,
        "since": _at(one.since, zone), "until": _at(one.until, zone),
        "rest_hours": round(one.rest_h, 3), "stands": one.stands, "can_leave": cost is not None,
        "closes": one.closes, "why": one.why,
        "cost": None if cost is None else {
            "low_hours": cost.low_h, "high_hours": cost.high_h, "people": cost.people,
        },
        "yards": list(one.yards), "unit_at": one.unit_at, "unit_places": list(one.unit_places),
        "comes": list(one.comes),
        "other": None if one.other is None else {"job": one.other[0], "lift": one.other[1]},
        "wins": None if worth is None else {
            "lift_hours": round(worth.won_h, 3), "low_hours": round(worth.low_h, 3),
            "high_hours": round(worth.high_h, 3), "labour_hours": round(worth.labour_h, 3),
            "break_even_hours": round(worth.break_even_h, 3), "longer": round(worth.longer, 4),
            "value_hours": round(worth.value_h, 3),
        },
        "verdict": one.verdict, "says": clearing_lines(one),
    }  # fmt: skip


def _at(instant: datetime | None, zone: ZoneInfo) -> str | None:
    return None if instant is None else for_zone(instant, zone)
