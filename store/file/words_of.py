"""An event in words, for the job card, the bay and the ledger."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING, Any, cast

from store.file.ledger import Row
from store.file.privates import said_by
from store.sums.zones import zone_named

if TYPE_CHECKING:
    from store.edges.events import desk as events_desk
    from store.edges.events import end as events_end
    from store.edges.events import next as events_next
    from store.edges.events import parts as events_parts
    from store.edges.events.holds import AnswerNoted, Found, Held, SupplementAnswered
    from store.edges.events.jobs import Placed, Promised
    from store.edges.events.labour import ClockCorrected
    from store.edges.events.past import HistoryImported
    from store.edges.events.phases import StepSigned
    from store.edges.events.route import RouteChanged


class Written:
    """A payload as it was written, by attribute; what was left out is None.

    It was checked when it was recorded: looking at a screen does not wait for the models.
    """

    def __init__(self, fields: dict[str, Any]) -> None:
        self._fields = fields

    def __getattr__(self, name: str) -> Any:
        """Return a field; a part of its own reads the same way."""
        value: Any = self._fields.get(name)
        if name != "readings" and isinstance(value, dict):
            return Written(cast("dict[str, Any]", value))
        return value


def in_words(db: sqlite3.Connection, row: Row) -> str:
    """Say what happened, without who and when."""
    say = WORDS.get(row.kind)
    if say is None:
        return row.kind.replace("-", " ")
    event = Written(json.loads(row.payload))
    return (_whose(db, row.badge, event.person) if row.kind in OF_A_CLOCK else "") + say(db, event)


def _whose(db: sqlite3.Connection, badge: str, person: str) -> str:
    """`Tomas ` where somebody else wrote it down, else nothing."""
    found = db.execute("select name, badge from person where person = ?", [person]).fetchone()
    return "" if found["badge"] == badge else f"{found['name']} "


def _clock_at(db: sqlite3.Connection, seq: int) -> str:
    row = db.execute("select job, phase, reason from clock where seq = ?", [seq]).fetchone()
    if row is None:
        return f"clock {seq}"
    return str(row["reason"]) if row["job"] is None else f"{row['job']}.{row['phase']}"


def _place(db: sqlite3.Connection, place: str | None) -> str:
    if place is None:
        return "no place"
    row = db.execute("select kind, code from place where place = ?", [place]).fetchone()
    return f"{row['kind']} {row['code']}"


def _placed(db: sqlite3.Connection, event: Placed) -> str:
    unready = f", not ready: {'; '.join(event.unready)}" if event.unready else ""
    return f"{event.job} to {_place(db, event.place)}{unready}"


def _person(db: sqlite3.Connection, person: str) -> str:
    return str(db.execute("select name from person where person = ?", [person]).fetchone()[0])


def _hold_at(db: sqlite3.Connection, seq: int) -> str:
    row = db.execute("select job, phase, reason from hold where seq = ?", [seq]).fetchone()
    if row is None:
        return "a hold"
    where = row["job"] if row["phase"] is None else f"{row['job']}.{row['phase']}"
    return f"{where} ({row['reason']})"


def _where(event: Any) -> str:
    return event.job if event.phase is None else f"{event.job}.{event.phase}"


def _signed(db: sqlite3.Connection, event: StepSigned) -> str:
    given = ", ".join(
        f"{value:g}" if name == "value" else f"{name} {value:g}"
        for name, value in (event.readings or {}).items()
    )
    says = f"signed {event.job}.{event.phase}.{event.step}"
    says += f", {event.answer}" if event.answer else ""
    says += f", {given}" if given else ""
    return says + (f": {'; '.join(event.faults)}" if event.faults else "")


def _held(db: sqlite3.Connection, event: Held) -> str:
    return f"held {_where(event)}: {event.reason}" + (f", {event.text}" if event.text else "")


def _found(db: sqlite3.Connection, event: Found) -> str:
    hours = f", {event.hours:.1f} h" if event.hours else ""
    return f"{event.finding} on {event.job}.{event.phase}: {event.text}{hours}"


def _answered(db: sqlite3.Connection, event: SupplementAnswered) -> str:
    lines = ", ".join(str(one) for one in event.lines)
    by = f" by {said_by(db, event.by)}" if event.by else ""
    return f"extra work of {event.job}, line {lines}: {event.answer}{by}"


def _answer_noted(db: sqlite3.Connection, event: AnswerNoted) -> str:
    lines = ", ".join(str(one) for one in event.lines)
    how = ", ".join(filter(None, (said_by(db, event.by), event.means))) or "nobody's name"
    return f"word on extra work of {event.job}, line {lines}, came from: {how}"


def _route(db: sqlite3.Connection, event: RouteChanged) -> str:
    if event.cause == "taken":
        return f"route of {event.job} laid: {len(event.added or [])} phases"
    return f"route of {event.job} changed: {event.cause}"


def _because(why: str | None) -> str:
    return f": {why}" if why else ""


def _promised(db: sqlite3.Connection, event: Promised) -> str:
    """The time that was told, as the shop's clock has it."""
    if event.promise is None:
        return f"{event.job}: promise taken back"
    zone = zone_named(db.execute("select zone from shop").fetchone()[0])
    at = datetime.fromisoformat(event.promise).astimezone(zone)
    return f"{event.job} promised for {at:%a} {at.day} {at:%b} {at:%H:%M}"


def _corrected(db: sqlite3.Connection, event: ClockCorrected) -> str:
    where = event.reason if event.job is None else f"{event.job}.{event.phase}"
    return f"clock {event.clock} of {_person(db, event.person)} put right: {where}"


def _imported(db: sqlite3.Connection, event: HistoryImported) -> str:
    if event.part > 1:
        return f"history from {event.source}, part {event.part} of {event.parts}"
    return f"history from {event.source}: {event.phases} finished phases"


def _quoted(db: sqlite3.Connection, event: events_desk.QuoteGiven) -> str:
    kind = "rough range" if event.rough else f"quote {event.quote}"
    ways = cast("list[dict[str, Any]]", event.ways)
    hours = " or ".join(f"{one['hours']['middle']:.1f} h" for one in ways)
    return f"{kind} for {event.job}: {hours}"


def _called(db: sqlite3.Connection, event: events_desk.CallTried) -> str:
    got = "reached" if event.reached else "not reached"
    return f"customer of {event.job} {got} by {event.means}" + _because(event.text)


def _parts_moved(db: sqlite3.Connection, event: events_parts.PartsMoved) -> str:
    lines = ", ".join(str(one) for one in event.lines)
    return f"parts of {event.job}, line {lines}: {event.state}" + _because(event.note)


def _kit(db: sqlite3.Connection, hire: str) -> str:
    row = db.execute("select kit from hire where hire = ?", [hire]).fetchone()
    return "a kit" if row is None else f"kit {row['kit']}"


def _advised(db: sqlite3.Connection, event: events_end.AdviceAnswered) -> str:
    told = ", the risk was told" if event.risk_told else ""
    return f"advice on {event.job}: {event.answer}{told}"


def _assigned(db: sqlite3.Connection, event: events_next.Assigned) -> str:
    where = event.job if event.phase is None else f"{event.job}.{event.phase}"
    if event.person is None:
        return f"{where} is on nobody's list"
    name = _person(db, event.person)
    if event.position is None:
        return f"{where} taken from {name}"
    return f"{where} moved in {name}'s list" if event.moved else f"{where} given to {name}"


def _ordered(db: sqlite3.Connection, event: events_next.LineOrdered) -> str:
    return f"{event.job} comes in " + (f"before {event.before}" if event.before else "last")


OF_A_CLOCK = ("clocked-on", "clocked-off", "clocked-indirect")
"""What these say is somebody's, and mostly of who wrote it down."""
WORDS: dict[str, Callable[[sqlite3.Connection, Any], str]] = {
    "shop-founded": lambda db, e: f"shop {e.name} founded",
    "setting-changed": lambda db, e: f"{e.name} set to {e.value}",
    "calendar-set": lambda db, e: f"calendar from {e.from_day}",
    "holiday-set": lambda db, e: f"closed on {e.day}: {e.name}",
    "holiday-cleared": lambda db, e: f"open on {e.day}",
    "rate-set": lambda db, e: f"an hour costs {e.per_hour:.2f} from {e.from_day}",
    "person-added": lambda db, e: f"{e.name} added, badge {e.badge}, {e.role}",
    "person-changed": lambda db, e: f"{e.name} changed, badge {e.badge}, {e.role}",
    "pin-set": lambda db, e: f"PIN of {_person(db, e.person)} set",
    "qualified": lambda db, e: f"{_person(db, e.person)} qualified for {e.what} until {e.until}",
    "absence-set": lambda db, e: f"{_person(db, e.person)} away: {e.why}",
    "attendance-corrected": lambda db, e: f"{_person(db, e.person)} here {e.hours:g} h on {e.day}",
    "day-confirmed": lambda db, e: f"{_person(db, e.person)}'s {e.day} confirmed",
    "place-added": lambda db, e: f"{e.place_kind} {e.code} added",
    "lift-inspected": lambda db, e: f"{_place(db, e.place)} inspected by {e.by}",
    "lift-looked-over": lambda db, e: f"{_place(db, e.place)} looked over",
    "lift-withdrawn": lambda db, e: f"{_place(db, e.place)} out of service: {e.reason}",
    "lift-returned": lambda db, e: f"{_place(db, e.place)} in service again",
    "book-loaded": lambda db, e: f"work book {e.version} loaded{f': {e.cause}' if e.cause else ''}",
    "kit-known": lambda db, e: f"kit {e.code}: {e.name}",
    "vehicle-known": lambda db, e: f"vehicle {e.label}",
    "odometer-read": lambda db, e: f"odometer {e.value:g} {e.unit}",
    "customer-known": lambda db, e: "a customer",
    "customer-erased": lambda db, e: "a customer's name and telephone erased",
    "job-opened": lambda db, e: (
        f"{e.job} {'asked' if e.state in ('enquiry', 'arrived') else 'taken'}: {e.work}"
    ),
    "grade-set": lambda db, e: f"{e.job}: grade {e.grade}",
    "route-changed": _route,
    "estimate-agreed": lambda db, e: (
        f"{'check' if e.check else 'estimate'} of {e.job} agreed, {e.total.quantiles[9]:.1f} h"
    ),
    "estimate-changed": lambda db, e: f"estimate of {e.job}: {e.middle:.1f} h ({e.cause})",
    "promised": _promised,
    "placed": _placed,
    "state-changed": lambda db, e: f"{e.job} is {e.state.replace('-', ' ')}",
    "job-noted": lambda db, e: f"note on {e.job}: {e.text}",
    "job-note-taken-back": lambda db, e: f"note on {e.job} taken back",
    "job-closed": lambda db, e: f"{e.job} closed",
    "not-teaching": lambda db, e: f"{_where(e)} does not teach: {e.why}",
    "history-imported": _imported,
    "history-taken-back": lambda db, e: f"history of entry {e.imported} taken out",
    "clocked-on": lambda db, e: f"clocked on {e.job}.{e.phase}",
    "clocked-indirect": lambda db, e: f"clocked on {e.reason}, no job",
    "clocked-off": lambda db, e: f"clocked off {_clock_at(db, e.clock)}",
    "clock-entered": lambda db, e: f"clock entered: {e.reason or f'{e.job}.{e.phase}'}",
    "clock-corrected": _corrected,
    "clock-removed": lambda db, e: f"clock {e.clock} taken out",
    "step-signed": _signed,
    "reading-let-stand": lambda db, e: f"{e.job}.{e.phase}.{e.step} let stand: {e.reason}",
    "signature-taken-back": lambda db, e: f"signature on {e.job}.{e.phase}.{e.step} taken back",
    "limits-typed": lambda db, e: f"limits of {e.job}.{e.phase}.{e.step} from {e.source}",
    "phase-begun": lambda db, e: f"{e.job}.{e.phase} begun",
    "phase-finished": lambda db, e: f"finished {e.job}.{e.phase}" + _because(e.note),
    "phase-noted": lambda db, e: f"{e.job}.{e.phase} took longer: {e.note}",
    "phase-skipped": lambda db, e: f"left out {e.job}.{e.phase}: {e.note}",
    "phase-taken-back": lambda db, e: f"{e.job}.{e.phase} back to {e.state}",
    "phase-reopened": lambda db, e: f"{e.job}.{e.phase} opened again" + _because(e.why),
    "held": _held,
    "hold-changed": lambda db, e: f"hold on {_hold_at(db, e.hold)} changed",
    "released": lambda db, e: f"released {_hold_at(db, e.hold)}",
    "hold-taken-back": lambda db, e: "hold taken back",
    "release-taken-back": lambda db, e: f"held again: {_hold_at(db, e.hold)}",
    "found": _found,
    "finding-taken-back": lambda db, e: "finding taken back",
    "supplement-answered": _answered,
    "answer-noted": _answer_noted,
    "answer-taken-back": lambda db, e: f"extra work of {e.job}: the answer taken back",
    "month-costs": lambda db, e: (
        f"{e.month} cost {e.wages:,.2f} in wages and {e.overheads:,.2f} in overheads"
    ),
    "month-costs-taken-back": lambda db, e: "costs of a month taken back",
    "undone": lambda db, e: f"took back: {e.says}",
    "assigned": _assigned,
    "line-ordered": _ordered,
    "line-order-taken-back": lambda db, e: f"{e.job} comes in as before",
    "assigned-taken-back": lambda db, e: f"who does {e.job}: as it was before",
    "customer-of-job": lambda db, e: f"whose vehicle {e.job} is about",
    "work-chosen": lambda db, e: f"{e.job} is about: {e.work}",
    "arrival-booked": lambda db, e: f"{e.job} is to come on {e.day}",
    "arrived": lambda db, e: f"{e.job} is here",
    "check-judged": lambda db, e: (
        f"qualifying check of {e.job}: {e.result or 'not judged'}" + _because(e.text)
    ),
    "quote-given": _quoted,
    "quote-answered": lambda db, e: f"quote {e.quote} of {e.job}: {e.answer}" + _because(e.why),
    "comeback-linked": lambda db, e: f"{e.job} comes back from {e.of}: {e.cause}",
    "call-tried": _called,
    "ceiling-set": lambda db, e: f"ceiling of {e.job} is {e.ceiling:,.2f} now",
    "desk-taken-back": lambda db, e: f"an entry about {e.job} taken back",
    "parts-listed": lambda db, e: f"parts of {e.job} listed: {len(e.lines)}",
    "parts-moved": _parts_moved,
    "parts-taken-back": lambda db, e: f"an entry of {e.job}'s parts taken back",
    "hire-asked": lambda db, e: f"kit {e.kit} asked for at {e.supplier}",
    "hire-received": lambda db, e: f"{_kit(db, e.hire)} is here" + _because(e.note),
    "hire-extended": lambda db, e: f"{_kit(db, e.hire)} goes back another day",
    "hire-sent-back": lambda db, e: f"{_kit(db, e.hire)} sent back" + _because(e.note),
    "hire-taken-back": lambda db, e: (
        f"kit {e.kit} is not hired" if e.was is None else f"an entry of kit {e.kit} taken back"
    ),
    "hire-mended": lambda db, e: f"{_kit(db, e.hire)} is whole" + _because(e.note),
    "hire-given": lambda db, e: f"{_kit(db, e.hire)} is for {e.to or 'any job'} now",
    "hire-arrived-back": lambda db, e: (
        f"{_kit(db, e.hire)} is at the supplier's again" + _because(e.note)
    ),
    "deposit-returned": lambda db, e: (
        f"deposit of {_kit(db, e.hire)} came back: {e.amount:,.2f}" + _because(e.note)
    ),
    "hire-invoiced": lambda db, e: (
        f"hire of {_kit(db, e.hire)} came to {e.amount:,.2f}" + _because(e.note)
    ),
    "supplier-known": lambda db, e: f"how {e.supplier} counts the days of a hire",
    "offer-known": lambda db, e: (
        f"kit {e.kit} is not hired out by {e.supplier} any more"
        if e.day is None
        else f"kit {e.kit} at {e.supplier}: {e.day:,.2f} a day"
    ),
    "kit-priced": lambda db, e: (
        f"kit {e.kit} to buy: " + ("nobody knows" if e.buy is None else f"{e.buy:,.2f}")
    ),
    "kit-inspected": lambda db, e: f"kit {e.kit} may be used until {e.valid_until}: {e.source}",
    "terms-taken-back": lambda db, e: f"entry {e.entry} about a kit taken back",
    "kit-let": lambda db, e: (
        f"{e.job}.{e.phase} may begin without {', '.join(e.kits)}" + _because(e.why)
    ),
    "kit-let-taken-back": lambda db, e: f"{e.job}: the word about a kit taken back",
    "outwork-sent": lambda db, e: f"{e.job}.{e.phase} to {e.firm}: {e.what}",
    "outwork-chased": lambda db, e: f"asked after {e.job}.{e.phase}" + _because(e.said),
    "outwork-back": lambda db, e: f"outwork of {e.job}.{e.phase} is back" + _because(e.report),
    "advice-answered": _advised,
    "handed-over": lambda db, e: f"{e.job} handed over",
    "follow-ups-set": lambda db, e: (
        f"to follow {e.job}: " + "; ".join(one["what"] for one in e.lines)
    ),
    "follow-up-moved": lambda db, e: f"follow-up {e.line} of {e.job} moved" + _because(e.why),
    "follow-up-taken-back": lambda db, e: (
        f"follow-up {e.line} of {e.job} is {'not to be done' if e.never_set else 'open again'}"
    ),
    "follow-up-done": lambda db, e: (
        f"follow-up {e.line} of {e.job} {'dropped' if e.dropped else 'done'}: {e.outcome}"
    ),
}
"""What each kind of event says."""
