"""The JSON documents of `desk`, `quotes` and `vehicle`."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.desk.values import (
    Agreement,
    CheckNow,
    Comeback,
    Desk,
    DeskRow,
    JobDesk,
    Outcome,
    Outcomes,
    QuoteNow,
    WayNow,
)
from store.views.vehicle_values import VehicleHistory, Visit
from tui.cli.answer import Document, hours


def desk(found: Desk) -> Document:
    """The desk as its document."""
    zone = found.calendar.zone
    return {
        "at": for_zone(found.at, zone),
        "currency": found.currency,
        "rows": [row(one, zone) for one in found.rows],
        "gone": [row(one, zone) for one in found.gone],
    }


def row(one: DeskRow, zone: ZoneInfo) -> Document:
    """One job at the desk."""
    return {
        "number": one.number,
        "state": one.state,
        "since": for_zone(one.since, zone),
        "next": one.next,
        "late": one.late,
        "vehicle": one.vehicle,
        "plate": one.plate,
        "vin": one.vin,
        "work": one.work,
        "complaint": one.complaint,
        "operations": list(one.operations),
        "family": one.family,
        "options": dict(one.options),
        "grade": one.grade,
        "small": one.small,
        "arrives": _day(one.arrives),
        "arrived_at": _maybe(one.arrived_at, zone),
        "place": one.place,
        "check": check(one.check),
        "quote": None if one.quote is None else quote(one.quote, zone),
        "promise": _maybe(one.promise, zone),
        "customer": one.customer,
        "telephone": one.telephone,
        "comeback_of": one.comeback_of,
        "why": one.why,
    }


def check(one: CheckNow) -> Document:
    """The qualifying check."""
    return {
        "state": one.state,
        "phase": one.phase,
        "people": list(one.people),
        "result": one.result,
        "text": one.text,
        "labour_hours": hours(one.labour_h),
        "price": one.price,
    }


def quote(one: QuoteNow, zone: ZoneInfo) -> Document:
    """A quote with its ways, the planned one first."""
    return {
        "quote": one.number,
        "at": for_zone(one.at, zone),
        "who": one.who,
        "rough": one.rough,
        "state": one.state,
        "ways": [_way(each) for each in one.ways],
        "basis": one.basis,
        "ceiling": one.ceiling,
        "promise": _maybe(one.promise, zone),
        "means": one.means,
        "until": _day(one.until),
        "extras": list(one.extras),
        "answered_at": _maybe(one.answered_at, zone),
        "answered_by": one.answered_by,
        "why": one.why,
    }


def _way(one: WayNow) -> Document:
    return {
        "text": one.text,
        "operations": list(one.operations),
        "options": dict(one.options),
        "hours": {"middle": hours(one.middle_h), "cautious": hours(one.cautious_h)},
        "money": {
            "labour": one.labour, "kits": one.kits, "parts": one.parts, "outwork": one.outwork,
            "total": one.money,
        },
    }  # fmt: skip


def of_job(one: JobDesk, zone: ZoneInfo) -> Document:
    """What the desk knows of a job, without its customer's name."""
    return {
        "arrives": _day(one.arrives),
        "arrived_at": _maybe(one.arrived_at, zone),
        "complaint": one.complaint,
        "lamps": one.lamps,
        "photographs": one.photographs,
        "odometer": _distance(one.odometer),
        "vin": one.vin,
        "plate": one.plate,
        "engine": one.engine,
        "gearbox": one.gearbox,
        "check": check(one.check),
        "quotes": [quote(each, zone) for each in one.quotes],
        "agreement": None if one.agreement is None else _agreement(one.agreement, zone),
        "comeback_of": None if one.comeback_of is None else comeback(one.comeback_of, zone),
        "comebacks": [comeback(each, zone) for each in one.comebacks],
        "comebacks_hours": hours(one.comebacks_h),
    }


def _agreement(one: Agreement, zone: ZoneInfo) -> Document:
    return {
        "at": for_zone(one.at, zone),
        "basis": one.basis,
        "ceiling": one.ceiling,
        "money": one.money,
        "by": one.by,
        "means": one.means,
        "quote": one.quote,
        "left_out": list(one.left_out),
        "ahead": [
            {"about": each.about, "answer": each.answer, "money": each.money} for each in one.ahead
        ],
        "free_hand": one.free_hand,
    }


def comeback(one: Comeback, zone: ZoneInfo) -> Document:
    """A job that comes back from an old one."""
    return {
        "job": one.job,
        "of": one.of,
        "phase": one.phase,
        "cause": one.cause,
        "fault": one.fault,
        "pays": one.pays,
        "at": for_zone(one.at, zone),
        "labour_hours": hours(one.labour_h),
    }


def outcomes(found: Outcomes, zone: ZoneInfo) -> Document:
    """Quotes and what became of them."""
    return {
        "since": found.since.isoformat(),
        "quoted": found.quoted,
        "agreed": found.agreed,
        "declined": found.declined,
        "open": found.open,
        "closed": found.closed,
        "hours": {
            "quoted": hours(found.quoted_h),
            "agreed": hours(found.agreed_h),
            "worked": hours(found.worked_h),
        },
        "jobs": [_outcome(one, zone) for one in found.rows],
    }


def _outcome(one: Outcome, zone: ZoneInfo) -> Document:
    return {
        "job": one.job,
        "work": one.work,
        "at": for_zone(one.at, zone),
        "became": one.became,
        "rough_hours": one.rough_h,
        "quoted_hours": one.quoted_h,
        "quoted_money": one.quoted_money,
        "agreed_hours": one.agreed_h,
        "agreed_money": one.agreed_money,
        "worked_hours": None if one.worked_h is None else hours(one.worked_h),
        "why": one.why,
    }


def vehicle(found: VehicleHistory, zone: ZoneInfo) -> Document:
    """A vehicle over its visits."""
    return {
        "vehicle": found.vehicle,
        "label": found.label,
        "family": found.family,
        "vin": found.vin,
        "plate": found.plate,
        "engine": found.engine,
        "gearbox": found.gearbox,
        "mass_kg": found.mass_kg,
        "odometers": [
            {"at": for_zone(at, zone), "value": value, "unit": unit}
            for at, value, unit in found.odometers
        ],
        "visits": [_visit(one, zone) for one in found.visits],
        "comebacks": [comeback(one, zone) for one in found.comebacks],
        "advice": [
            {"job": one.job, "text": one.text, "hours": one.hours, "at": for_zone(one.at, zone),
             "answer": one.answer}
            for one in found.advice
        ],
    }  # fmt: skip


def _visit(one: Visit, zone: ZoneInfo) -> Document:
    return {
        "number": one.number,
        "work": one.work,
        "complaint": one.complaint,
        "state": one.state,
        "opened_at": for_zone(one.opened_at, zone),
        "closed_at": _maybe(one.closed_at, zone),
        "odometer": _distance(one.odometer),
        "labour_hours": hours(one.labour_h),
        "done": list(one.done),
        "measured": [
            {"text": each.text, "readings": dict(each.readings), "in_limits": each.in_limits}
            for each in one.measured
        ],
        "comeback_of": one.comeback_of,
    }


def _distance(found: tuple[float, str] | None) -> Document | None:
    return None if found is None else {"value": found[0], "unit": found[1]}


def _maybe(at: datetime | None, zone: ZoneInfo) -> str | None:
    return None if at is None else for_zone(at, zone)


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
