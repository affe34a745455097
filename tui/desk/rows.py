"""The desk as it is painted, out of what the view tells: groups, loud words, what to do today."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import NamedTuple

from store.views.desk.values import Desk, DeskRow
from tui.colours import Role
from tui.desk.reading import day_words
from tui.desk.state import Group, Row, Shown
from tui.desk.words import quote_words
from tui.signs import State
from tui.words import counted, day_time, hours, listed, local, time

DECLINED, GONE = "declined", 4
"""So many of those that came to nothing are shown; the others are found by name."""
GROUPS = {
    "called": ("enquiry",), "to come": ("booked",), "here": ("arrived",), "quoted": ("quoted",),
    "agreed": ("waiting",), DECLINED: ("declined", "turned-away"),
}  # fmt: skip
"""Names of the groups in the order of a job's way, and the states of their jobs."""
SIGNS: Mapping[str, State] = {
    "enquiry": "answer", "booked": "waiting", "arrived": "to come", "quoted": "answer",
    "waiting": "waiting", "declined": "out", "turned-away": "out",
}  # fmt: skip
URGENT = ("SIGN", "ANSWER", "DUE")
"""Loud words, what cannot wait first: a vehicle that stands here, a word that is owed, a date."""
READY: State = "done"


class Beside(NamedTuple):
    """What is known beside the desk itself, by job.

    Attributes:
        lacks: before it can come in, in words; () for one that is ready.
        again: when somebody meant to ring the customer again.
        places: what places are called, by their codes: `lift 3`.
    """

    lacks: Mapping[str, Sequence[str]]
    again: Mapping[str, datetime]
    places: Mapping[str, str] = {}


def shown(desk: Desk, shop: str, beside: Beside) -> Shown:
    """The desk as it is painted."""
    today = local(desk.at, desk.calendar.zone).date()
    every = [*desk.rows, *desk.gone]
    groups = tuple(
        _group(name, [one for one in every if one.state in states], desk, beside)
        for name, states in GROUPS.items()
    )
    rows = [row for group in groups for row in group.rows if row.loud]
    wants = sorted(rows, key=lambda row: URGENT.index(row.loud))
    return Shown(
        shop, desk.at, str(desk.calendar.zone), groups, tuple(row.job for row in wants),
        counts(desk, beside), _next(desk.rows, today),
    )  # fmt: skip


def _group(name: str, every: Sequence[DeskRow], desk: Desk, beside: Beside) -> Group:
    """The lines of a group; of what came to nothing the newest few."""
    most = GONE if name == DECLINED else len(every)
    return Group(
        name, tuple(_row(one, desk, beside) for one in every[:most]), max(0, len(every) - most)
    )


def counts(desk: Desk, beside: Beside) -> tuple[tuple[str, str], ...]:
    """What is to be done today, in words and in fewer; nothing of what there is none of."""
    rows, today = desk.rows, local(desk.at, desk.calendar.zone).date()
    ring = sum(_is_to_ring(one, desk, beside) for one in rows)
    come = sum(one.state == "booked" and one.arrives == today for one in rows)
    judge = sum(_is_to_judge(one) for one in rows)
    quoted = sum(_waits_for_word(one) for one in rows)
    lack = sum(one.state == "waiting" and bool(beside.lacks.get(one.number)) for one in rows)
    said = [
        (ring, counted(ring, "call to return", "calls to return"), f"{ring} to ring"),
        (come, counted(come, "arrives today", "arrive today"), f"{come} today"),
        (judge, counted(judge, "check to judge", "checks to judge"), f"{judge} to judge"),
        (quoted, counted(quoted, "quote unanswered", "quotes unanswered"), f"{quoted} quoted"),
        (lack, counted(lack, "lacks something", "lack something"), f"{lack} lacking"),
    ]
    return tuple((long, brief) for many, long, brief in said if many)


def _next(rows: Sequence[DeskRow], today: date) -> str:
    """The first that is to come, in a sentence; "" where nothing is."""
    booked = [one for one in rows if one.arrives is not None and one.state == "booked"]
    if not booked:
        return ""
    first = min(booked, key=lambda one: one.arrives or today)
    assert first.arrives is not None
    return f"Next: {first.number} {first.vehicle} comes {day_words(first.arrives, today)}."


def _is_to_judge(one: DeskRow) -> bool:
    done = one.check.state == "finished" and one.check.result is None
    return one.state in ("arrived", "quoted") and done


def _waits_for_word(one: DeskRow) -> bool:
    """A quote was given and nobody answered it."""
    quote = one.quote
    if quote is None or quote.rough or quote.state not in ("open", "thinking"):
        return False
    return one.state in ("booked", "arrived", "quoted")


def _is_to_ring(one: DeskRow, desk: Desk, beside: Beside) -> bool:
    again = beside.again.get(one.number)
    return again is not None and again <= desk.at


def _row(one: DeskRow, desk: Desk, beside: Beside) -> Row:
    loud, lacks = _loud(one, desk, beside), beside.lacks.get(one.number)
    ready = one.state == "waiting" and not lacks
    state = READY if ready else SIGNS[one.state]
    role: Role = "ahead" if ready else "waiting" if one.state == "waiting" else "text"
    if one.state in ("declined", "turned-away"):
        role = "dim"
    about = one.complaint if one.complaint and one.state == "enquiry" else one.work
    says = _says(one, desk, beside)
    return Row(
        one.number, one.vehicle, about, state, says, loud, role, _told(one, desk, beside),
        _plate(one),
    )  # fmt: skip


def _loud(one: DeskRow, desk: Desk, beside: Beside) -> str:
    """The word of what somebody must do now; "" where it can wait."""
    if _is_to_judge(one):
        return "SIGN"
    if one.late:
        return "ANSWER" if one.state == "quoted" else "DUE"
    return "DUE" if _is_to_ring(one, desk, beside) else ""


def _plate(one: DeskRow) -> str:
    return one.plate if one.plate and one.plate not in one.vehicle else ""


def _says(one: DeskRow, desk: Desk, beside: Beside) -> str:
    """What it waits for, in the fewest words."""
    again = beside.again.get(one.number)
    lacks = beside.lacks.get(one.number, ())
    if _is_to_judge(one):
        return "judge the check"
    if one.late:
        return one.next
    if again is not None and one.state != "waiting":
        return f"ring again {_when(again, desk)}"
    today = local(desk.at, desk.calendar.zone).date()
    match one.state:
        case "booked" if one.arrives is not None:
            return f"comes {day_words(one.arrives, today)}"
        case "waiting":
            return f"lacks {'; '.join(lacks)}" if lacks else "ready to come in"
        case "declined" | "turned-away":
            gone = "declined" if one.state == "declined" else "turned away"
            return f"{gone}: {one.why}" if one.why else gone
        case "arrived" if one.check.people:
            return f"in check: {listed(one.check.people)}"
        case "arrived" | "quoted" if one.quote is not None and _waits_for_word(one):
            if one.state == "arrived" and one.check.result is None and one.check.state != "none":
                return one.next
            return f"no answer since {_when(one.quote.at, desk)}"
        case _:
            return one.next


def _when(at: datetime, desk: Desk) -> str:
    """`08:47` of today, `Mon 08:47` of another day."""
    zone = desk.calendar.zone
    same = local(at, zone).date() == local(desk.at, zone).date()
    return time(at, zone) if same else day_time(at, zone, desk.at)


def _told(one: DeskRow, desk: Desk, beside: Beside) -> tuple[str, ...]:
    """More of one line: whose it is and what they said; what was quoted, judged or agreed."""
    zone = str(desk.calendar.zone)
    who = ", ".join(filter(None, (one.customer, one.telephone)))
    said = f"says: {one.complaint}" if one.complaint else ""
    first = "; ".join(filter(None, (_plate(one), who, said, one.family)))
    told = [first] if first else []
    lacks = beside.lacks.get(one.number, ())
    told += [f"lacks {'; '.join(lacks)}"] if lacks and one.state == "waiting" else []
    if one.check.result is not None:
        told.append("check: " + ", ".join(filter(None, (one.check.result, one.check.text))))
    if one.quote is not None and one.quote.state in ("open", "thinking", "declined"):
        told.append("; ".join(quote_words(one.quote, desk.at, zone)))
    took = f"check took {hours(one.check.labour_h)}" if one.check.labour_h > 0 else ""
    back = f"comes back from {one.comeback_of}" if one.comeback_of else ""
    told.append("; ".join(filter(None, (_since(one, desk, beside), took, back))))
    return tuple(told)


def _since(one: DeskRow, desk: Desk, beside: Beside) -> str:
    """`called Tue 14:10`, `here since Wed 08:10, at yard`."""
    when = day_time(one.since, desk.calendar.zone, desk.at)
    words = {"enquiry": "called", "booked": "booked", "arrived": "here since",
             "quoted": "quoted", "waiting": "waits since"}  # fmt: skip
    at = f", at {beside.places.get(one.place, one.place)}" if one.place else ""
    return f"{words.get(one.state, one.state.replace('-', ' '))} {when}{at}"
