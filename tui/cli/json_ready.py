"""JSON of what a job lacks, and of its parts and kits."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.parts_values import KitOnCard, PartOnCard
from store.views.ready import Lack
from store.views.values import Job
from tui.cli.answer import Document, money


def signs(job: Job, zone: ZoneInfo) -> Document:
    """The keys that say whether a job can come in; `ready` is null where it has."""
    lacks = job.ready.lacks if job.ready is not None else ()
    return {
        "ready": None if job.ready is None else job.ready.ready,
        "lacks": list(job.lacks),
        "lacking": [lack(one, zone) for one in lacks],
    }


def lack(one: Lack, zone: ZoneInfo) -> Document:
    """One thing that lacks."""
    expected = None if one.expected is None else for_zone(one.expected, zone)
    return {"kind": one.kind, "words": one.words, "expected": expected}


def part(one: PartOnCard, zone: ZoneInfo) -> Document:
    """One part line."""
    return {
        "line": one.line,
        "text": one.text,
        "phase": one.phase,
        "renewed": one.renewed,
        "state": one.state,
        "lacks": one.lacks,
        "expected": None if one.expected is None else for_zone(one.expected, zone),
        "supplier": one.supplier,
        "batch": one.batch,
        "note": one.note,
        "price": money(one.price),
        "since": None if one.moved_at is None else for_zone(one.moved_at, zone),
    }


def tool(one: KitOnCard, zone: ZoneInfo) -> Document:
    """One kit of a job."""
    return {
        "kit": one.code,
        "name": one.name,
        "owned": one.owned,
        "at": one.at,
        "job": one.job,
        "phases": list(one.phases),
        "due": None if one.hire is None or one.hire.due is None else for_zone(one.hire.due, zone),
        "expected": (
            None
            if one.hire is None or one.hire.expected is None
            else for_zone(one.hire.expected, zone)
        ),
        "supplier": None if one.hire is None else one.hire.supplier,
    }
