"""What was done on a job, which way it went, and who signed what: for its record."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Mapping, Sequence

from store.edges.instants import from_text
from store.views.record.values import Became, Point, PointSigned, Value, WayTaken, WorkDone
from store.views.values import Asked, FindingLine, PhaseLine, PhaseState, Signature, StepLine

TIGHTENING = ("torque", "tighten", "n m")
"""In the text of a plain step: it is recorded like a point that had to be signed."""
OF_THE_LIFT = "the lift's rated capacity"


Sources = tuple[Mapping[str, str], str]
"""Of limits typed for this job, by reading; and of all others."""
NUMBER = re.compile(r"\b\d+[a-z]*\b")
EXTRA = {"approved": "extra work agreed", "refused": "extra work refused"}
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
    """Return what decided the route: decisions answered, and what was found."""
    names = {one.number: f"{one.number} {one.name}" for one in phases}
    changes = {one.at: one.became for one in found if one.kind == "wrong assumption"}
    ways = [
        WayTaken(one.at, one.name, step.text, _decided(step, one, names, changes.get(one.at)))
        for phase in phases
        for step in phase.steps
        if step.kind == "decision"
        for one in step.signed
        if not one.void and one.answer is not None
    ]
    ways += [
        WayTaken(one.at, one.who, one.text, EXTRA.get(one.became.split(" by ")[0], one.became))
        for one in found
        if one.kind in ("surprise", "route ends") and one.became != "taken back"
    ]
    return tuple(sorted(ways, key=lambda one: one.at))


def _decided(step: StepLine, one: Signature, names: Mapping[str, str], changed: str | None) -> str:
    """The answer, with the phases that it brought in and took out."""
    said = _answer(step, one.answer)
    if changed is None:
        return said
    words = changed.replace("in:", "added:").replace("out:", "left out:")
    return f"{said} ({NUMBER.sub(lambda hit: names.get(hit[0], hit[0]), words)})"


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


def _signed(one: Signature, asks: Sequence[Asked], sources: Sources) -> PointSigned:
    return PointSigned(
        one.name, one.at, _values(one.readings, asks, sources),
        one.answer, one.in_limits, one.as_is, one.void, one.void_why,
    )  # fmt: skip


def _values(
    readings: Sequence[tuple[str, float]], asks: Sequence[Asked], sources: Sources
) -> tuple[Value, ...]:
    """Readings with their limits, those of one kind at several places together."""
    found: dict[str, Value] = {}
    for name, value in readings:
        asked = _asked(name, asks)
        if asked is None:
            found[name] = Value(name, (("", value),), "", "", "")
            continue
        before = found.get(asked.code)
        places = (*(before.places if before else ()), (asked.position, value))
        source = sources[0].get(asked.code) or (
            OF_THE_LIFT if OF_THE_LIFT in asked.limits else sources[1]
        )
        found[asked.code] = Value(asked.text, places, asked.unit, asked.limits, source)
    return tuple(found.values())


def _asked(name: str, asks: Sequence[Asked]) -> Asked | None:
    """What a value was given for: by its place, its code, or as the only one."""
    for one in asks:
        if name in (one.name, f"{one.code}.{one.position}", one.code):
            return one
    return asks[0] if name == "value" and asks else None
