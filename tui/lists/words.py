"""What is said of a person and of a line of their list."""

from __future__ import annotations

from store.views.assigned_values import Assigned, Work, WorkList
from tui.words import counted, day_time, elapsed


def doing_words(view: Assigned, person: WorkList) -> str:
    """`on 2417.4 for 1:12, 2 on the list`; away comes first."""
    parts = [away_words(view, person)] if person.absence else []
    parts.append(clock_words(view, person))
    many = len(person.works)
    parts.append(f"{counted(many, 'line')} on the list" if many else "nothing next")
    return ", ".join(parts)


def clock_words(view: Assigned, person: WorkList) -> str:
    """`on 2417.4 for 1:12`, `tidying for 0:10`, `no clock`."""
    if person.clock is None:
        return "no clock"
    if person.left_running:
        return f"left running on {person.clock}"
    on = "on " if person.clock[:1].isdigit() else ""
    ran = f" for {elapsed(person.since, view.at)}" if person.since else ""
    return f"{on}{person.clock}{ran}"


def away_words(view: Assigned, person: WorkList) -> str:
    """`away till Wed 16:00 (school)`, or from when; "" where nobody is away."""
    absence, zone = person.absence, view.calendar.zone
    if absence is None:
        return ""
    here_still = absence.since > view.at
    when = day_time(absence.since if here_still else absence.until, zone, view.at)
    return f"away {'from' if here_still else 'till'} {when} ({absence.why})"


def turn_words(work: Work) -> str:
    """`now`, of a whole job with which phase; else what it waits for."""
    if work.begins is None:
        return work.waits_for
    return f"now, phase {work.begins}" if work.phase is None else "now"


def is_late(work: Work) -> bool:
    """It is likely to be done only after its job was promised."""
    return work.promise is not None and work.likely is not None and work.likely[1] > work.promise
