"""The JSON document of `floor`, and of a job wherever one stands."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.values import Finish, Floor, Hold, Job, KitDue, Lane, PhaseNow, Span
from tui.cli.answer import Document, hours
from tui.cli.json_ready import signs


def document(floor: Floor) -> Document:
    """The floor as its document."""
    zone = floor.calendar.zone
    return {
        "shop": floor.shop,
        "at": for_zone(floor.at, zone),
        "lanes": [_lane(one, zone) for one in floor.lanes],
        "waiting": [job(one, zone) for one in floor.waiting],
        "elsewhere": [job(one, zone) for one in floor.elsewhere],
        "tools_due": [_kit(one, zone) for one in floor.tools_due],
    }


def job(job: Job, zone: ZoneInfo) -> Document:
    """A job as its part of the document."""
    return {
        "number": job.number,
        "vehicle": job.vehicle,
        "family": job.family,
        "operations": list(job.operations),
        "state": job.state,
        "phase": None if job.phase is None else _phase(job.phase),
        "labour_hours": hours(job.labour_h),
        "estimate_hours": span(job.estimate),
        "remaining_hours": span(job.remaining),
        "finish": None if job.finish is None else _finish(job.finish, zone),
        "promise": instant(job.promise, zone),
        "promise_chance": job.promise_chance,
        "held": job.held,
        "flags": list(job.flags),
        "work": job.work,
        "small": job.small,
        "place": job.place,
        "stands": job.stands,
        "hold": None if job.hold is None else hold(job.hold, zone),
        **signs(job, zone),
        "assigned": [
            {"badge": one.badge, "phase": one.phase, "next": one.now} for one in job.assigned
        ],
    }


def span(span: Span) -> Document:
    """Middle and cautious hours."""
    return {"middle": hours(span.middle), "cautious": hours(span.cautious)}


def instant(at: datetime | None, zone: ZoneInfo) -> str | None:
    """An instant in the shop's zone."""
    return None if at is None else for_zone(at, zone)


def hold(hold: Hold, zone: ZoneInfo) -> Document:
    """What holds a job or phase up."""
    return {
        "phase": hold.phase,
        "reason": hold.reason,
        "since": instant(hold.since, zone),
        "until": instant(hold.until, zone),
        "next_move": hold.next_move,
        "text": hold.text,
    }


def _lane(lane: Lane, zone: ZoneInfo) -> Document:
    return {
        "lift": lane.lift,
        "kind": lane.kind,
        "in_service": lane.in_service,
        "job": None if lane.job is None else job(lane.job, zone),
        "rated_kg": lane.rated_kg,
        "out_reason": lane.out_reason,
        "warnings": list(lane.warnings),
    }


def _phase(phase: PhaseNow) -> Document:
    return {
        "number": phase.number,
        "name": phase.name,
        "labour_hours": hours(phase.labour_h),
        "estimate_hours": span(phase.estimate),
        "remaining_hours": span(phase.remaining),
        "people": list(phase.people),
        "kind": phase.kind,
    }


def _finish(finish: Finish, zone: ZoneInfo) -> Document:
    return {"middle": for_zone(finish.middle, zone), "cautious": for_zone(finish.cautious, zone)}


def _kit(kit: KitDue, zone: ZoneInfo) -> Document:
    return {
        "kit": kit.kit,
        "due": for_zone(kit.due, zone),
        "overdue": kit.overdue,
        "job": kit.job,
        "name": kit.name,
        "supplier": kit.supplier,
    }
