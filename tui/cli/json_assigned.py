"""The JSON document of `next`."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.assigned_values import Assigned, Work, WorkList
from tui.cli.answer import Document, hours
from tui.cli.json_floor import instant


def document(view: Assigned, people: Sequence[WorkList], *, alone: bool) -> Document:
    """Lists, and what is nobody's; of one person only their list."""
    zone = view.calendar.zone
    nobodys = [] if alone else [_work(one, zone) for one in view.nobodys]
    return {
        "at": for_zone(view.at, zone),
        "people": [_list(one, zone) for one in people],
        "nobodys": nobodys,
    }


def _list(person: WorkList, zone: ZoneInfo) -> Document:
    absence = person.absence
    return {
        "badge": person.badge,
        "name": person.name,
        "clock": person.clock,
        "away": None
        if absence is None
        else {
            "from": for_zone(absence.since, zone),
            "until": for_zone(absence.until, zone),
            "why": absence.why,
        },
        "next": [_work(one, zone) for one in person.works],
    }


def _work(work: Work, zone: ZoneInfo) -> Document:
    likely = work.likely
    return {
        "job": work.job,
        "phase": work.phase,
        "name": work.name,
        "vehicle": work.vehicle,
        "place": work.place,
        "begins": work.begins,
        "waits_for": work.waits_for or None,
        "left_hours": hours(work.left_h),
        "likely": None
        if likely is None
        else {"from": for_zone(likely[0], zone), "until": for_zone(likely[1], zone)},
        "promise": instant(work.promise, zone),
        "promise_chance": work.promise_chance,
        "given_by": work.given_by,
        "since": instant(work.since, zone),
    }
