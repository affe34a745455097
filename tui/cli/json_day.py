"""The JSON document of `day`."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.values import Day, DayClock, Hole
from tui.cli.answer import Document, hours


def document(day: Day) -> Document:
    """The day sheet as its document."""
    zone = ZoneInfo(day.zone)
    return {
        "badge": day.badge,
        "name": day.name,
        "date": day.day.isoformat(),
        "attended_hours": hours(day.attended_h),
        "confirmed": day.confirmed,
        "clocks": [_clock(one, zone) for one in day.clocks],
        "gaps": [_hole(one, zone) for one in day.gaps],
        "overlaps": [_hole(one, zone) for one in day.overlaps],
        "overruns": [
            {
                "job": one.job,
                "phase": one.phase,
                "labour_hours": hours(one.labour_h),
                "cautious_hours": hours(one.cautious_h),
            }
            for one in day.overruns
        ],
    }


def _clock(clock: DayClock, zone: ZoneInfo) -> Document:
    return {
        "seq": clock.seq,
        "job": clock.job,
        "phase": clock.phase,
        "name": clock.name,
        "reason": clock.reason,
        "part": clock.part,
        "from": for_zone(clock.since, zone),
        "until": for_zone(clock.until, zone) if clock.until else None,
        "labour_hours": hours(clock.labour_h),
        "confirmed": clock.confirmed,
        "left_running": clock.left_running,
    }


def _hole(hole: Hole, zone: ZoneInfo) -> Document:
    return {
        "from": for_zone(hole.since, zone),
        "until": for_zone(hole.until, zone),
        "proposal": hole.proposal,
    }
