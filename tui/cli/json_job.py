"""The JSON document of `job`."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.values import (
    EstimateChange,
    FindingLine,
    JobCard,
    KitLine,
    NoteLine,
    PhaseLine,
    PromiseLine,
    Signature,
    StepLine,
    SupplementLine,
)
from tui.cli import json_desk, json_floor, json_outside
from tui.cli.answer import Document, hours, money
from tui.cli.json_clearing import clearing
from tui.cli.json_ready import part, tool
from tui.job.outside_words import free_phases


def document(card: JobCard) -> Document:
    """The job card as its document."""
    zone = card.calendar.zone
    return {
        **json_floor.job(card.job, zone),
        "phases": [_phase(one, zone) for one in card.phases],
        "supplements": [_supplement(one, zone) for one in card.supplements],
        "open_conditions": list(card.open_conditions),
        "estimate_changes": [_change(one, zone) for one in card.estimate_changes],
        "at": for_zone(card.at, zone),
        "grade": card.grade,
        "price_basis": card.price_basis,
        "book_version": card.book_version,
        "options": dict(card.options),
        "holds": [json_floor.hold(one, zone) for one in card.holds],
        "findings": [_finding(one, zone) for one in card.findings],
        "notes": [_note(one, zone) for one in card.notes],
        "kits": [_kit(one) for one in card.kits],
        "promises": [_promise(one, zone) for one in card.promises],
        "names": {one.badge: one.name for one in card.workers},
        "parts": [part(one, zone) for one in card.parts],
        "tools": [tool(one, zone) for one in card.tools],
        "unready": list(card.unready),
        "desk": json_desk.of_job(card.desk, zone),
        "calls": [json_outside.call(one, zone) for one in card.calls],
        "outwork": [json_outside.outwork(one, zone) for one in card.outwork],
        "advice": [json_outside.advice(one, zone) for one in card.advice],
        "money": json_outside.of_money(card.money),
        "clearing": None if card.clearing is None else clearing(card.clearing, zone),
        "may_go_on": [one.number for one in free_phases(card)],
    }


def _phase(phase: PhaseLine, zone: ZoneInfo) -> Document:
    return {
        "number": phase.number,
        "code": phase.code,
        "name": phase.name,
        "kind": phase.kind,
        "state": phase.state,
        "book_hours": hours(phase.book_h),
        "estimate_hours": json_floor.span(phase.estimate),
        "labour_hours": hours(phase.labour_h),
        "remaining_hours": json_floor.span(phase.remaining),
        "people": list(phase.people),
        "steps": [_step(one, zone) for one in phase.steps],
        "learner_hours": hours(phase.learner_h),
        "held_hours": hours(phase.held_h),
        "hold": None if phase.hold is None else json_floor.hold(phase.hold, zone),
        "blocked_by": phase.blocked_by,
        "cautions": list(phase.cautions),
        "note": phase.note,
    }


def _step(step: StepLine, zone: ZoneInfo) -> Document:
    return {
        "step": step.step,
        "text": step.text,
        "kind": step.kind,
        "signed": [_signature(one, zone) for one in step.signed],
        "state": step.state,
        "signs": step.signs,
        "waits_for": step.waits_for,
        "caution": step.caution,
        "limits": list(step.limits),
        "positions": list(step.positions),
        "answers": dict(step.answers),
    }


def _signature(signature: Signature, zone: ZoneInfo) -> Document:
    return {
        "badge": signature.badge,
        "at": for_zone(signature.at, zone),
        "readings": dict(signature.readings),
        "answer": signature.answer,
        "void": signature.void,
        "in_limits": signature.in_limits,
        "as_is": signature.as_is,
        "void_at": json_floor.instant(signature.void_at, zone),
        "void_why": signature.void_why,
    }


def _supplement(line: SupplementLine, zone: ZoneInfo) -> Document:
    return {
        "line": line.line,
        "text": line.text,
        "hours": hours(line.hours),
        "money": money(line.money),
        "state": line.state,
        "phase": line.phase,
        "asked_at": for_zone(line.asked_at, zone),
        "asked_by": line.asked_by,
        "answered_at": json_floor.instant(line.answered_at, zone),
        "answered_by": line.answered_by,
        "means": line.means,
    }


def _finding(line: FindingLine, zone: ZoneInfo) -> Document:
    return {
        "kind": line.kind,
        "phase": line.phase or None,
        "text": line.text,
        "hours": None if line.hours is None else hours(line.hours),
        "at": for_zone(line.at, zone),
        "by": line.who,
        "line": line.line,
        "became": line.became,
        "became_at": json_floor.instant(line.became_at, zone),
    }


def _note(line: NoteLine, zone: ZoneInfo) -> Document:
    return {
        "at": for_zone(line.at, zone),
        "by": line.who,
        "kind": line.kind,
        "phase": line.phase,
        "text": line.text,
    }


def _kit(line: KitLine) -> Document:
    return {
        "kit": line.code,
        "name": line.name,
        "owned": line.owned,
        "state": line.state,
        "phases": list(line.phases),
    }


def _promise(line: PromiseLine, zone: ZoneInfo) -> Document:
    return {
        "at": for_zone(line.at, zone),
        "by": line.who,
        "promise": json_floor.instant(line.promise, zone),
        "chance": line.chance,
    }


def _change(change: EstimateChange, zone: ZoneInfo) -> Document:
    return {
        "at": for_zone(change.at, zone),
        "middle": hours(change.middle),
        "cautious": hours(change.cautious),
        "cause": change.cause,
    }
