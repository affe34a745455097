"""What a lift says of itself beside its lane: one loud word, or one quiet sign, and a detail."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from store.sums.working_time import Calendar
from store.views.values import Ahead, Job, Lane, Want
from tui.colours import Role
from tui.signs import LOUD, STATES, State
from tui.words import day_time, hours, joined, tenth

QUIET_WORDS = ("DUE",)
"""Wants that speak of a kit and not of the lift's own state."""


REASONS = {"approval": "customer", "tool": "tool or kit", "place": "lift or place"}
"""What a hold's reason is called where its own word would not be understood."""


def reason(held: str) -> str:
    """Why a job is held, in a word or three."""
    return REASONS.get(held, held)


@dataclass(frozen=True, slots=True)
class Says:
    """A lift's state. `loud` is "" for a quiet one; `people` are joined initials."""

    state: State
    role: Role
    loud: str
    text: str
    detail: str
    people: str = ""


def lane_says(lane: Lane, wants: Iterable[Want], calendar: Calendar, at: datetime) -> Says:
    """The first want of this lift aloud, else its quiet state."""
    mine = (w for w in wants if w.lift == lane.lift and w.word not in QUIET_WORDS)
    want = next(mine, None)
    if want is not None:
        loud = LOUD[want.word]
        detail, people = _loud_detail(lane, want, calendar, at)
        return Says(loud.state, loud.role, want.word, "", detail, people)
    if not lane.in_service:
        return _quiet("out", STATES["out"].word, "")
    if lane.job is None:
        return _quiet("free", STATES["free"].word, "")
    return job_says(lane.job, calendar, at)


def _quiet(state: State, text: str, detail: str, people: str = "") -> Says:
    return Says(state, STATES[state].role, "", text, detail, people)


def job_says(job: Job, calendar: Calendar, at: datetime) -> Says:
    """The quiet state of a job: running, held, standing, with another firm, waiting or done."""
    people = joined([person.initials for person in job.people])
    if job.held:
        return _quiet("held", f"held: {reason(job.held)}", _held_for(job, calendar, at))
    if people:
        return _quiet("running", job.phase.name if job.phase else "", labour(job), people)
    first = job.ahead[0] if job.ahead else None
    if first is not None and first.kind in ("standing", "outwork"):
        return _away(job, first, calendar, at)
    if job.phase is None:
        return _quiet("done", "nothing left", "")
    given = joined([one.initials for one in job.assigned if one.now])
    return _quiet("waiting", job.phase.name, f"{given} next" if given else "nobody on it")


def _away(job: Job, first: Ahead, calendar: Calendar, at: datetime) -> Says:
    back = day_time(first.until, calendar.zone, at)
    if first.kind == "outwork":
        return _quiet("outwork", "outwork", f"back {back}")
    return _quiet("standing", job.phase.name if job.phase else "standing", f"till {back}")


def labour(job: Job) -> str:
    """Labour against estimate of the phase under way: `2.6/3.8`."""
    if job.phase is None:
        return ""
    return f"{tenth(job.phase.labour_h)}/{tenth(job.phase.estimate.middle)}"


def _held_for(job: Job, calendar: Calendar, at: datetime) -> str:
    if job.hold is None or job.hold.since > at:
        return ""
    return hours(calendar.working_h(job.hold.since, at))


def _loud_detail(lane: Lane, want: Want, calendar: Calendar, at: datetime) -> tuple[str, str]:
    """What stands right of the loud word, and people."""
    job = lane.job
    if job is None or want.word == "OUT":
        return lane.out_reason or want.says, ""
    people = joined([person.initials for person in job.people])
    if want.word == "OVER":
        return labour(job), people
    if want.word in ("ANSWER", "HELD"):
        why = reason(job.hold.reason if job.hold else job.held or "approval")
        waited = _held_for(job, calendar, at)
        return f"{why}, {waited}" if waited else why, ""
    phase = job.phase.name if job.phase else want.says
    since = _ago(want.since, at)
    return f"{since}, {phase}" if since and want.word == "SIGN" else phase, people


def _ago(since: datetime | None, at: datetime) -> str:
    """`15 min`, from an hour and a half on `1.5 h`; "" when it is not known."""
    if since is None or since > at:
        return ""
    minutes = int((at - since).total_seconds() // 60)
    return f"{minutes} min" if minutes < 90 else hours(minutes / 60)
