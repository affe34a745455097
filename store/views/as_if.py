"""Try it: the floor as if an act were done now. Nothing is written, and no array is needed."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime

from store.edges.instants import from_text, to_text
from store.file.learned.help_values import Help, Helped
from store.file.learned.kept import Spread
from store.file.learned.kept_help import kept_help
from store.file.open_acts.gathered import gathered
from store.file.shop import Shop
from store.rules.acts import Act
from store.trouble import Refused
from store.views.floor import floor_of
from store.views.helps import help_lines
from store.views.loading import ClockRow, HoldRow, JobHead, Loaded, live_jobs, load
from store.views.needs import needs_of
from store.views.needs_values import HelpLine, Tried
from store.views.people_now import people_now
from store.views.values import Floor

NEW = 0
"""Number of a clock that no entry began."""


def tried(shop: Shop, now: datetime, act: str) -> Tried:
    """Return the floor as it is and as if one of the acts that help were done now.

    Args:
        act: its name, as in `HelpLine.need.act.name`.

    Raises:
        Refused: it is not open any more, or what it would change was not reckoned yet.
    """
    with shop.reading() as db:
        known, here = kept_help(db, whole=True), gathered(db, now)
        lines = help_lines(here, needs_of(db, here, known), known, every=True)
        line = next((one for one in lines if one.need.act.name == act), None)
        if known is None or line is None:
            raise Refused("That is done already, or not open any more. Look again at what helps.")
        helped = next(one for one in known.helped if one.act == act)
        if not helped.after:
            raise Refused("What that would change is not reckoned. Try one further up the list.")
        return Tried(line, _before(db, now, known, helped), _after(db, now, line, known, helped))


def _before(db: sqlite3.Connection, now: datetime, known: Help, helped: Helped) -> Floor:
    """As it is, by the same forecasts that the act was reckoned from."""
    loaded = load(db, live_jobs(db), now, people_now(db, now))
    _finish(loaded, known, {job: known.before[job] for job in helped.after if job in known.before})
    return floor_of(db, loaded)


def _after(
    db: sqlite3.Connection, now: datetime, line: HelpLine, known: Help, helped: Helped
) -> Floor:
    loaded = load(db, live_jobs(db), now, people_now(db, now))
    _finish(loaded, known, helped.after)
    _do(loaded, line.need.act)
    return floor_of(db, loaded)


def _finish(loaded: Loaded, known: Help, finishes: Mapping[str, Spread]) -> None:
    """Finishes as they were reckoned; they are moved to now as any forecast is."""
    for job, spread in finishes.items():
        forecast = loaded.forecasts.get(job)
        if forecast is not None:
            loaded.forecasts[job] = replace(forecast, finish=spread, made_at=known.made_at)


def _do(loaded: Loaded, act: Act) -> None:
    """What is seen of the act besides: no hold, a name, a clock, another place."""
    job = act.job or ""
    ends = set(act.ends)
    loaded.holds[job] = [
        replace(one, until=to_text(loaded.now)) if _is_of(one, ends) else one
        for one in loaded.holds[job]
    ]
    if act.kind == "answer":
        loaded.asked[job] = []
    if act.kind in ("sign", "let stand"):
        loaded.gates[job] = [
            one._replace(state="done") if (one.phase, one.step) == (act.phase, act.step) else one
            for one in loaded.gates[job]
        ]
    if act.kind == "person":
        _clock(loaded, act, job)
    if act.kind == "line":
        _come_in_before(loaded, job, act.line or "")
    if act.kind in ("bring in", "clear"):
        loaded.heads = [_placed(one, act) if one.job == job else one for one in loaded.heads]


def _is_of(hold: HoldRow, ends: set[tuple[str, float]]) -> bool:
    return hold.until is None and (hold.reason, from_text(hold.since).timestamp()) in ends


def _clock(loaded: Loaded, act: Act, job: str) -> None:
    for person, one in loaded.people.items():
        if one.badge == act.badge:
            loaded.people[person] = replace(
                one, job=job, phase=act.phase, reason=None, since=loaded.now
            )
            loaded.clocks[job].append(
                ClockRow(
                    NEW, person, job, act.phase or "", "lead", to_text(loaded.now), None, False
                )
            )
    loaded.phases[job] = [
        one._replace(state="under way", begun_at=one.begun_at or to_text(loaded.now))
        if one.phase == act.phase
        else one
        for one in loaded.phases[job]
    ]


def _come_in_before(loaded: Loaded, job: str, other: str) -> None:
    """Jobs stand in the order of the line."""
    moved = next((one for one in loaded.heads if one.job == job), None)
    rest = [one for one in loaded.heads if one.job != job]
    place = next((n for n, one in enumerate(rest) if one.job == other), None)
    if moved is not None and place is not None:
        loaded.heads = [*rest[:place], moved, *rest[place:]]


def _placed(head: JobHead, act: Act) -> JobHead:
    if act.kind == "bring in":
        return replace(head, place=act.lift, place_kind="lift", state="on-lift", in_at=head.in_at)
    return replace(head, place=act.place, place_kind="yard", state="off-lift")
