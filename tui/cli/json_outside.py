"""JSON of what a job says of customers and other firms: calls, outwork, advice, money."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.outside_values import AdviceLine, CallLine, JobMoney, OutworkLine
from tui.cli import json_floor
from tui.cli.answer import Document, hours, money


def call(line: CallLine, zone: ZoneInfo) -> Document:
    """One attempt to reach the customer."""
    return {
        "at": for_zone(line.at, zone),
        "by": line.who,
        "means": line.means,
        "reached": line.reached,
        "text": line.text,
        "again": json_floor.instant(line.again, zone),
    }


def outwork(line: OutworkLine, zone: ZoneInfo) -> Document:
    """Work at another firm."""
    return {
        "job": line.job,
        "vehicle": line.vehicle,
        "phase": line.phase,
        "name": line.name,
        "what": line.what,
        "firm": line.firm,
        "sent_at": for_zone(line.sent_at, zone),
        "promised": json_floor.instant(line.promised, zone),
        "chase": line.chase.isoformat() if line.chase else None,
        "said": line.said,
        "price": money(line.price),
        "back_at": json_floor.instant(line.back_at, zone),
        "report": line.report,
        "readings": dict(line.readings),
        "away": line.away,
    }


def advice(line: AdviceLine, zone: ZoneInfo) -> Document:
    """Work that was advised."""
    return {
        "line": line.line,
        "phase": line.phase,
        "text": line.text,
        "hours": None if line.hours is None else hours(line.hours),
        "at": for_zone(line.at, zone),
        "advised_by": line.who,
        "answer": line.answer,
        "answered_at": json_floor.instant(line.answered_at, zone),
        "risk_told": line.risk_told,
        "by": line.by,
        "means": line.means,
    }


def of_money(found: JobMoney | None) -> Document | None:
    """What was agreed about money, and how far it is."""
    if found is None:
        return None
    used, expected = found.used, found.expected
    return {
        "basis": found.basis,
        "agreed": money(found.agreed),
        "extra_work": money(found.extras),
        "price": money(found.price),
        "ceiling": money(found.ceiling),
        "used": {
            "labour": money(used.labour), "outwork": money(used.outwork),
            "parts": money(used.parts), "extra": money(used.extra), "total": money(used.total),
        },
        "expected": None if expected is None else {
            "middle": money(expected[0]), "cautious": money(expected[1]),
        },
        "over": money(found.over),
        "free_hand": money(found.free_hand),
        "free_left": money(found.free_left),
    }  # fmt: skip
