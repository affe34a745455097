"""The bay: what am I on, what is next, what is dangerous about it, what blocks me."""

from __future__ import annotations

import sqlite3
from datetime import datetime
from typing import cast

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.route_now import PhaseRow
from store.file.shop import Shop
from store.rules.undoing import CAN_BE_TAKEN_BACK
from store.sums.clock_labour import counts_to
from store.sums.working_time import Calendar
from store.trouble import Refused
from store.views.given import OwnPhase, own_phases, place_words, ready
from store.views.job import card_of
from store.views.jobs import Parts, parts_of, present, remaining
from store.views.loading import Loaded, live_jobs, load
from store.views.people_now import people_now, stops_of
from store.views.said import newest_said
from store.views.tools.hired import due_words, goes_back_today
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
        own = own_phases(parts, loaded, ident)
        choices = _choices(parts, lift, last, own)
        job, phase = _shown(parts, clock, last, (choices, own))
        card = card_of(db, job, now, people) if job else None
        return Bay(
            person=person, lift=lift, lift_says=_lift_says(db, lift), at=now,
            zone=str(calendar.zone),
            clock=_clock(db, calendar, loaded, parts, clock) if clock is not None else None,
            away_from=_away_from(db, clock), last=_last(db, calendar, loaded, parts, last),
            card=card, phase=phase,
            blocks=(*_blocks(card, phase), *_kits_due(job, loaded)), choices=choices,
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
    parts: dict[str, Parts], lift: str | None, last: sqlite3.Row | None, own: list[OwnPhase]
) -> tuple[Choice, ...]:
    """Phases one could clock on: one's own list, this lift's job, where one was last, the rest."""
    mine = {(one.line.job, one.phase.phase): one for one in own}
    found: list[tuple[tuple[int, int, int], Choice]] = []
    for order, (job, one) in enumerate(parts.items()):
        near = 0 if lift is not None and one.head.place == lift else 1
        again = 0 if last is not None and last["job"] == job else 1
        on_lift = 0 if one.head.place_kind == "lift" else 1
        for phase in [each for each in ready(one) if (job, each.phase) not in mine][:2]:
            found.append(((near + again + on_lift, on_lift, order), _choice(one, phase)))
    found.sort(key=lambda pair: pair[0])
    first = [_choice(parts[job], each.phase, yours=True) for (job, _), each in mine.items()]
    return tuple([*first, *(choice for _, choice in found)][:MOST_CHOICES])


def _choice(parts: Parts, phase: PhaseRow, *, yours: bool = False) -> Choice:
    head = parts.head
    return Choice(
        head.job, phase.phase, phase.name, head.vehicle, place_words(head), parts.state(phase),
        parts.labour.get(phase.phase, 0.0), phase.middle_h, None, yours,
    )  # fmt: skip


def _shown(
    parts: dict[str, Parts],
    clock: sqlite3.Row | None,
    last: sqlite3.Row | None,
    could: tuple[tuple[Choice, ...], list[OwnPhase]],
) -> tuple[str | None, str | None]:
    """The phase of the clock, else what key 1 would start: the list's first, or what was left."""
    choices, own = could
    if clock is not None and clock["job"] is not None:
        return clock["job"], clock["phase"]
    if own and not _left_open(parts, last, own):
        return own[0].line.job, own[0].phase.phase
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


def _left_open(parts: dict[str, Parts], last: sqlite3.Row | None, own: list[OwnPhase]) -> bool:
    """Whether somebody stopped in the middle of a phase that goes before their list.

    It does where it is not on the list itself, and nothing was put first on that since.
    """
    if last is None or last["job"] not in parts:
        return False
    if (last["job"], last["phase"]) in [(one.line.job, one.phase.phase) for one in own]:
        return False
    there = parts[last["job"]]
    same = next((one for one in there.phases if one.phase == last["phase"]), None)
    open_still = same is not None and same.state == "under way" and there.can_go_on(same)
    return open_still and own[0].line.since < last["until"]


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
    """What stops this phase; before that the kit for which another one was passed over."""
    if card is None or phase is None:
        return ()
    numbers = [one.number for one in card.phases]
    place = numbers.index(phase) if phase in numbers else len(numbers)
    found = [
        f"{card.job.number}.{one.number} {_held_words(one)}"
        for one in card.phases[:place]
        if one.hold is not None and one.hold.reason == "tool"
    ]
    for line in card.phases[place : place + 1]:
        if line.hold is not None:
            found.append(_held_words(line))
        if line.blocked_by is not None:
            found.append(line.blocked_by)
    return tuple(found)


def _kits_due(job: str | None, loaded: Loaded) -> tuple[str, ...]:
    """Hired kits of the job that go back today, or should have gone."""
    if job is None:
        return ()
    rows = [one for one in loaded.phases[job] if one.state in ("to come", "under way")]
    return tuple(
        due_words(one, loaded.now, loaded.calendar)
        for one in loaded.hires
        if goes_back_today(one, loaded.now, loaded.calendar)
        and (one.job == job or (one.job is None and any(f'"{one.kit}"' in r.kits for r in rows)))
    )


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
