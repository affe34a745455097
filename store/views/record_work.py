"""What was done on a job, which way it went, and who signed what: for its record."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence

from store.edges.instants import from_text
from store.views.record_values import Became, Point, PointSigned, Value, WayTaken, WorkDone
from store.views.values import Asked, FindingLine, PhaseLine, PhaseState, Signature, StepLine

TIGHTENING = ("torque", "tighten", "n m")
"""In the text of a plain step: it is recorded like a point that had to be signed."""
OF_THE_LIFT = "the lift's rated capacity"


BECAME: Mapping[PhaseState, Became] = {"finished": "done", "skipped": "left out"}


def work_done(
    db: sqlite3.Connection, job: str, phases: Sequence[PhaseLine], *, hours: bool
) -> tuple[WorkDone, ...]:
    """Return the phases of a route, done or left out."""
    names = dict(db.execute("select badge, name from person").fetchall())
    ended = dict(db.execute("select phase, finished_at from phase where job = ?", [job]).fetchall())
    return tuple(
        WorkDone(
            one.number, one.name, BECAME.get(one.state, "not done yet"),
            from_text(ended[one.number]) if ended[one.number] else None,
            tuple(names.get(badge, badge) for badge in one.people), one.note,
            one.labour_h if hours else None,
        )
        for one in phases
    )  # fmt: skip


def ways_taken(phases: Sequence[PhaseLine], found: Sequence[FindingLine]) -> tuple[WayTaken, ...]:
    """Return what decided the route: decisions answered, what was found, what was left out."""
    ways = [
        WayTaken(one.at, one.name, step.text, _answer(step, one.answer))
        for phase in phases
        for step in phase.steps
        if step.kind == "decision"
        for one in step.signed
        if not one.void and one.answer is not None
    ]
    ways += [
        WayTaken(one.at, one.who, one.text, one.became)
        for one in found
        if one.kind in ("surprise", "route ends", "wrong assumption") and one.became != "taken back"
    ]
    return tuple(sorted(ways, key=lambda one: one.at))


def _answer(step: StepLine, code: str | None) -> str:
    return next((text for each, text in step.answers if each == code), code or "")


def points(
    db: sqlite3.Connection, job: str, phases: Sequence[PhaseLine], version: int | None
) -> tuple[Point, ...]:
    """Return what had to be signed, and steps that tighten something, in the order of the work."""
    sources = _sources(db, job)
    book = f"the shop's work book, version {version}" if version is not None else "the shop"
    return tuple(
        Point(
            f"{phase.number}.{step.step}", phase.name, step.text, step.kind, step.state == "done",
            tuple(
                _signed(one, step.asks, (sources.get((phase.number, step.step), {}), book))
                for one in step.signed
            ),
        )
        for phase in phases
        if phase.state != "skipped" or any(step.signed for step in phase.steps)
        for step in phase.steps
        if _is_told(step)
    )  # fmt: skip


def _is_told(step: StepLine) -> bool:
    if step.kind == "step":
        return bool(step.signed) and any(word in step.text.casefold() for word in TIGHTENING)
    return step.kind == "hold point"


def _sources(db: sqlite3.Connection, job: str) -> dict[tuple[str, str], dict[str, str]]:
    """Where limits come from that were typed for this job, by phase, step and reading."""
    found: dict[tuple[str, str], dict[str, str]] = {}
    for row in db.execute(
        "select phase, step, reading, source from step_limit where job = ?", [job]
    ):
        found.setdefault((row["phase"], row["step"]), {})[row["reading"]] = row["source"]
    return found


def _signed(
    one: Signature, asks: Sequence[Asked], sources: tuple[Mapping[str, str], str]
) -> PointSigned:
    return PointSigned(
        one.name, one.at, tuple(_value(name, value, asks, sources) for name, value in one.readings),
        one.answer, one.in_limits, one.as_is, one.void, one.void_why,
    )  # fmt: skip


def _value(
    name: str, value: float, asks: Sequence[Asked], sources: tuple[Mapping[str, str], str]
) -> Value:
    named = [one for one in asks if name in (one.name, f"{one.code}.{one.position}", one.code)]
    asked = named[0] if named else (asks[0] if name == "value" and asks else None)
    if asked is None:
        return Value(name, value, "", "", sources[1])
    where = f"{asked.text} {asked.position}".strip()
    source = sources[0].get(asked.code) or (
        OF_THE_LIFT if OF_THE_LIFT in asked.limits else sources[1]
    )
    return Value(where, value, asked.unit, asked.limits, source)
