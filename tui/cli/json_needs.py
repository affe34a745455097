"""Who must do what, what helps most and what waits for what, as documents."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.needs_values import ChanceMoved, HelpLine, Helps, Link, Need, Needs, Tried, Why
from tui.cli import json_floor
from tui.cli.answer import Document


def needs(found: Needs) -> Document:
    """The contract's `needs`."""
    zone = found.calendar.zone
    return {
        "at": for_zone(found.at, zone),
        "needs": [need(one, zone) for one in found.needs],
        "helped_at": _at(found.helped_at, zone),
    }


def need(one: Need, zone: ZoneInfo) -> Document:
    """One line of it."""
    act = one.act
    return {
        "what": act.kind, "job": act.job, "who": act.who, "by": _at(act.by, zone),
        "since": _at(act.since, zone),
        "lift_days": None if one.lift_days is None else round(one.lift_days, 3),
        "says": act.says, "word": one.word, "phase": act.phase, "step": act.step,
        "lift": act.lift, "badge": act.badge, "minutes": act.minutes,
        "gain": None if one.gain is None else round(one.gain, 4), "due": one.due,
        "act": act.name, "command": one.command, "other": one.other, "fill": list(one.fill),
    }  # fmt: skip


def helps(found: Helps) -> Document:
    """What helps most."""
    zone = found.calendar.zone
    comes = found.comes
    return {
        "at": for_zone(found.at, zone),
        "seq": found.seq,
        "made_at": _at(found.made_at, zone),
        "age_hours": round(found.age_h, 3),
        "entries_since": found.behind,
        "helps": [line(one, zone) for one in found.lines],
        "next": None
        if comes is None
        else {"lift": comes.lift, "job": comes.job, "free": _at(comes.middle, zone)},
    }


def line(one: HelpLine, zone: ZoneInfo) -> Document:
    """One act that helps."""
    return {
        "place": one.place,
        "gain": round(one.gain, 4),
        "lift_hours": round(one.lift_h, 3),
        "promises": [_moved(each) for each in one.frees],
        "lifts": [
            {"lift": each.lift, "job": each.job, "before": for_zone(each.before, zone),
             "after": for_zone(each.after, zone)}
            for each in one.outs
        ],
        "if_refused": None
        if one.refused_gain is None
        else {
            "gain": round(one.refused_gain, 4),
            "promises": [_moved(each) for each in one.refused],
        },
        "need": need(one.need, zone),
    }  # fmt: skip


def _moved(one: ChanceMoved) -> Document:
    return {"job": one.job, "before": one.before, "after": one.after}


def tried(found: Tried) -> Document:
    """The floor before and after; nothing is written."""
    return {
        "trying": line(found.line, found.after.calendar.zone),
        "written": False,
        "before": json_floor.document(found.before),
        "after": json_floor.document(found.after),
    }


def why(found: Why) -> Document:
    """What waits for what."""
    zone = found.calendar.zone
    return {
        "at": for_zone(found.at, zone),
        "chains": [
            {
                "job": one.job, "vehicle": one.vehicle, "promise": _at(one.promise, zone),
                "promise_chance": one.promise_chance,
                "links": [_link(each, zone) for each in one.links],
            }
            for one in found.chains
        ],
        "helps": [line(one, zone) for one in found.helps],
    }  # fmt: skip


def _link(one: Link, zone: ZoneInfo) -> Document:
    return {
        "depth": one.depth, "says": one.says, "job": one.job, "lift": one.lift, "kit": one.kit,
        "until": _at(one.until, zone), "gain": one.gain, "lift_hours": one.lift_h,
        "need": None if one.need is None else need(one.need, zone),
    }  # fmt: skip


def _at(instant: datetime | None, zone: ZoneInfo) -> str | None:
    return None if instant is None else for_zone(instant, zone)
