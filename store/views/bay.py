"""The bay: what am I on, what is next, what is dangerous about it, what blocks me."""

from __future__ import annotations

import sqlite3
from datetime import datetime
from typing import cast

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.shop import Shop
from store.rules.undoing import CAN_BE_TAKEN_BACK
from store.sums.clock_labour import counts_to
from store.sums.working_time import Calendar
from store.trouble import Refused
from store.views.job import card_of
from store.views.jobs import Parts, parts_of, present, remaining
from store.views.loading import JobHead, Loaded, live_jobs, load
from store.views.people_now import people_now, stops_of
from store.views.said import newest_said
from store.views.values import (
    Bay,
    Choice,
    ClockNow,
    JobCard,
    LabourPart,
    PersonNow,
    PhaseLine,
    Span,
)

CLOCK = "seq, person, job, phase, reason, part, since, until, away_from, breaks_worked"
MOST_CHOICES = 9


def bay(shop: Shop, badge: str, now: datetime, lift: str | None = None) -> Bay:
    """Return a person's bay.

    Args:
        lift: code of the lift at which the terminal stands; its job comes first.

    Raises:
        Refused: nobody here has that badge, or no such lift.
    """
    with shop.reading() as db:
        people = people_now(db, now)
        ident, person = _person(people, badge)
        calendar = calendar_of(db)
        loaded = load(db, live_jobs(db), now, people)
        parts = {head.job: parts_of(loaded, head) for head in loaded.heads}
        clock = _clock_row(db, ident, running=True)
        last = None if clock is not None else _clock_row(db, ident, running=False)
        choices = _choices(parts, lift, last)
        job, phase = _shown(parts, clock, last, choices)
        card = card_of(db, job, now, people) if job else None
        return Bay(
            person=person, lift=lift, lift_says=_lift_says(db, lift), at=now,
            zone=str(calendar.zone),
            clock=_clock(db, calendar, loaded, parts, clock) if clock is not None else None,
            away_from=_away_from(db, clock), last=_last(db, calendar, loaded, parts, last),
            card=card, phase=phase, blocks=_blocks(card, phase), choices=choices,
            said=newest_said(db, calendar.zone, badge=person.badge),
            can_undo=_can_undo(db, ident),
        )  # fmt: skip


def _person(people: dict[str, PersonNow], badge: str) -> tuple[str, PersonNow]:
    for ident, one in people.items():
        if one.badge == badge.upper():
            return ident, one
    raise Refused(f"Nobody here has the badge {badge}. Scan it again, or ask the owner.")


def _clock_row(db: sqlite3.Connection, person: str, *, running: bool) -> sqlite3.Row | None:
    row: sqlite3.Row | None = db.execute(
        f"select {CLOCK} from clock where person = ? and until is {'' if running else 'not '}null "
        "and (? or job is not null) order by since desc, seq desc limit 1",
        [person, running],
    ).fetchone()
    return row


def _lift_says(db: sqlite3.Connection, lift: str | None) -> str:
    if lift is None:
        return ""
    row = db.execute(
        "select lift_kind, rated_kg from place where code = ? and kind = 'lift'", [lift]
    ).fetchone()
    if row is None:
        raise Refused(f"There is no lift {lift}. See them with `hoistbook floor`.")
    return f"{row['lift_kind']} {row['rated_kg'] / 1000:.1f} t"


def _choices(
    parts: dict[str, Parts], lift: str | None, last: sqlite3.Row | None
) -> tuple[Choice, ...]:
    """Phases one could clock on: this lift's job first, then where one was last, then the rest."""
    found: list[tuple[tuple[int, int, int], Choice]] = []
    for order, (job, one) in enumerate(parts.items()):
        head = one.head
        near = 0 if lift is not None and head.place == lift else 1
        mine = 0 if last is not None and last["job"] == job else 1
        on_lift = 0 if head.place_kind == "lift" else 1
        able = [each for each in one.phases if one.can_go_on(each)]
        under_way = [each for each in able if each.state == "under way"]
        for phase in (under_way + [each for each in able if each.state == "to come"][:1])[:2]:
            choice = Choice(
                job, phase.phase, phase.name, head.vehicle, _where(head), one.state(phase),
                one.labour.get(phase.phase, 0.0), phase.middle_h, None,
            )  # fmt: skip
            found.append(((near + mine + on_lift, on_lift, order), choice))
    found.sort(key=lambda pair: pair[0])
    return tuple(choice for _, choice in found[:MOST_CHOICES])


def _where(head: JobHead) -> str | None:
    """`lift 2`, `yard Y`; None where it is nowhere in the house."""
    if head.place is None or head.place_kind in (None, head.place):
        return head.place
    return f"{head.place_kind} {head.place}"


def _shown(
    parts: dict[str, Parts],
    clock: sqlite3.Row | None,
    last: sqlite3.Row | None,
    choices: tuple[Choice, ...],
) -> tuple[str | None, str | None]:
    if clock is not None and clock["job"] is not None:
        return clock["job"], clock["phase"]
    if last is not None and last["job"] in parts:
        there = parts[last["job"]]
        same = next((one for one in there.phases if one.phase == last["phase"]), None)
        if same is not None and same.state == "under way":
            return last["job"], last["phase"]
        now = present(there)
        if now is not None and there.can_go_on(now):
            return last["job"], now.phase
    if choices:
        return choices[0].job, choices[0].phase
    return None, None


def _clock(
    db: sqlite3.Connection,
    calendar: Calendar,
    loaded: Loaded,
    parts: dict[str, Parts],
    row: sqlite3.Row,
) -> ClockNow:
    since = from_text(row["since"])
    until = from_text(row["until"]) if row["until"] else None
    end, left = counts_to(calendar, since, loaded.now) if until is None else (until, False)
    stops = stops_of(calendar, since, end, bool(row["breaks_worked"])) if left else ()
    part = cast("LabourPart", row["part"])
    run_h = max(0.0, ((until or loaded.now) - since).total_seconds() / 3600)
    there = parts.get(row["job"]) if row["job"] is not None else None
    phase = (
        next((one for one in there.phases if one.phase == row["phase"]), None) if there else None
    )
    if there is None or phase is None:
        return ClockNow(
            row["seq"], row["job"], row["phase"], row["reason"] or "", "", "", row["reason"], part,
            since, run_h, 0.0, None, None, left, end if left else None, stops=stops,
        )  # fmt: skip
    labour = there.labour.get(phase.phase, 0.0)
    others = [
        loaded.people[one.person].name
        for one in loaded.clocks[row["job"]]
        if one.until is None and one.phase == phase.phase and one.person != row["person"]
        and one.person in loaded.people
    ]  # fmt: skip
    return ClockNow(
        row["seq"], row["job"], row["phase"], phase.name, there.head.vehicle, there.head.work,
        None, part, since, run_h, labour, Span(phase.middle_h, phase.cautious_h),
        remaining(there, phase), left, end if left else None, tuple(others), stops,
    )  # fmt: skip


def _last(
    db: sqlite3.Connection,
    calendar: Calendar,
    loaded: Loaded,
    parts: dict[str, Parts],
    row: sqlite3.Row | None,
) -> ClockNow | None:
    if row is None or row["job"] not in parts:
        return None
    return _clock(db, calendar, loaded, parts, row)


def _away_from(db: sqlite3.Connection, clock: sqlite3.Row | None) -> str | None:
    if clock is None or clock["away_from"] is None:
        return None
    row = db.execute(
        "select job, phase, reason from clock where seq = ?", [clock["away_from"]]
    ).fetchone()
    if row is None:
        return None
    return row["reason"] if row["job"] is None else f"{row['job']}.{row['phase']}"


def _blocks(card: JobCard | None, phase: str | None) -> tuple[str, ...]:
    """What stops this phase, or the one after it."""
    if card is None or phase is None:
        return ()
    lines = [one for one in card.phases if one.number == phase]
    found: list[str] = []
    for line in lines:
        if line.hold is not None:
            found.append(_held_words(line))
        if line.blocked_by is not None:
            found.append(line.blocked_by)
    return tuple(found)


def _held_words(line: PhaseLine) -> str:
    assert line.hold is not None
    word = {"approval": "the customer's word", "reading": "a reading outside its limits"}
    text = f": {line.hold.text}" if line.hold.text else ""
    return f"held for {word.get(line.hold.reason, line.hold.reason)}{text}"


def _can_undo(db: sqlite3.Connection, person: str) -> bool:
    """Whether the person's last entry is of kinds that can be taken back."""
    kinds = db.execute(
        "select kind from ledger join (select seq as first, last from entry where person = ? "
        "order by seq desc limit 1) on ledger.seq between first and last",
        [person],
    ).fetchall()
    return bool(kinds) and all(row["kind"] in CAN_BE_TAKEN_BACK for row in kinds)
