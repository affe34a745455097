"""Hours, times and names inside the sentences that actions say."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from store.edges.instants import from_text
from store.file.route_now import PhaseRow
from store.rules.blocking import Gate, who_signs
from store.sums.working_time import Calendar

if TYPE_CHECKING:
    from store.actions.acting import Acting


def hours_words(hours: float) -> str:
    """Return `1.4 h`."""
    return f"{hours:.1f} h"


def money_words(money: float) -> str:
    """Return `1,250.00`."""
    return f"{money:,.2f}"


def extra_words(hours: float, money: float | None) -> str:
    """Return `1.4 h extra`, or `120.00 extra` where it is no labour."""
    return f"{hours_words(hours) if hours or money is None else money_words(money)} extra"


def clock_time(at: datetime, calendar: Calendar) -> str:
    """Return `Wed 14 Oct 10:40` in the shop's zone."""
    return f"{at.astimezone(calendar.zone):%a %d %b %H:%M}"


def day_time(doing: Acting, at: str) -> str:
    """Return `2026-10-14 10:40` in the shop's zone."""
    return f"{from_text(at).astimezone(doing.calendar.zone):%Y-%m-%d %H:%M}"


def named(job: str, phase: PhaseRow) -> str:
    """Return `2417.4 gearbox in`."""
    return f"{job}.{phase.phase} {phase.name}"


def gate_words(job: str, gate: Gate) -> str:
    """Name a hold point or decision, who may sign it and what is asked."""
    if gate.spec.kind == "decision":
        answers = ", ".join(one.code for one in gate.spec.answers)
        return f"the decision {job}.{gate.at} ({gate.spec.text}): answer it with one of {answers}"
    asked = ", ".join(one.text for one in gate.spec.readings)
    measured = f", measured: {asked}" if asked else ""
    second = "the second signature on " if gate.state == "half" else ""
    return (
        f"{second}the hold point {job}.{gate.at} ({gate.spec.text}), "
        f"to be signed by {who_signs(gate.spec)}{measured}"
    )
