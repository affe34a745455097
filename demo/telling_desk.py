"""Plays the desk's part of the demo's last days: each line of `demo.scenes_desk`."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING, cast

from demo.hiring import hire_of
from demo.scenes_desk import AHEAD, CALLS, DESK, PLATES, Line
from store.actions import calls, parts
from store.actions.desk import acts as desk
from store.actions.hires import asked as hires
from store.actions.hires import here as hires_here
from store.rules.part_states import PartState

if TYPE_CHECKING:
    from demo.telling import Telling

Words = tuple[str, ...]


def lay_ahead(telling: Telling) -> None:
    """Let what comes before the last days happen while the past still runs."""
    _lay(telling, AHEAD)


def lay_out(telling: Telling) -> None:
    """Let the desk's part of the last days happen."""
    _lay(telling, DESK)


def _lay(telling: Telling, lines: tuple[Line, ...]) -> None:
    for line in lines:
        telling.world.at(telling.instant(line[0]), partial(_play, telling, line))


def _play(telling: Telling, line: Line, now: datetime) -> None:
    _, badge, deed, words = line
    if deed in OF_A_JOB and words[0] not in telling.numbers:
        return  # a past that ran slower than another takes fewer jobs in its last days
    DEEDS[deed](telling, badge, now, words)


def _ring(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    call = CALLS[words[0]]
    done = desk.enquire(
        telling.shop, telling.by(badge, now), vehicle=call.vehicle.label, complaint=call.complaint,
        customer=call.who, operations=call.operations, family=call.vehicle.family,
        options=dict(call.options),
    )  # fmt: skip
    assert done.job is not None
    telling.numbers[words[0]] = done.job


def _rough(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    desk.quote(
        telling.shop, telling.by(badge, now), job=telling.numbers[words[0]], rough=True,
        means="telephone",
    )  # fmt: skip


def _until(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    day = telling.month.replace(day=int(words[1]))
    desk.book(telling.shop, telling.by(badge, now), job=telling.numbers[words[0]], day=day)


def _come(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    name, odometer, lamps = words
    call = CALLS[name]
    desk.arrive(
        telling.shop, telling.by(badge, now), job=telling.numbers[name], odometer=float(odometer),
        unit="km", grade=call.grade, lamps=lamps,
        identity=desk.Identity(plate=PLATES[name], mass_kg=call.vehicle.mass_kg),
    )  # fmt: skip


def _quote(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    name, means, until = words
    desk.quote(
        telling.shop, telling.by(badge, now), job=telling.numbers[name], basis="fixed price",
        means=means, until=telling.month.replace(day=int(until)),
    )  # fmt: skip


def _decline(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    desk.decline(
        telling.shop, telling.by(badge, now), job=telling.numbers[words[0]], why=words[1],
        said_by="customer", means="telephone",
    )  # fmt: skip


def _call(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    name, means, text = words
    calls.note_call(
        telling.shop, telling.by(badge, now), job=telling.numbers[name], means=means,
        reached="thinks" in text, text=text,
    )  # fmt: skip


def _parts(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    """All of them but those that are over; of `fc` the first two only."""
    name, state, *expected = words
    job = telling.numbers[name]
    with telling.shop.reading() as db:
        lines = [
            row["line"]
            for row in parts.lines_of(db, job)
            if row["state"] in ("wanted", "ordered") and row["state"] != state
        ]
    if not lines:
        return
    parts.move_parts(
        telling.shop, telling.by(badge, now), job=job, lines=lines[:2] if name == "fc" else lines,
        state=cast("PartState", state), supplier="parts counter" if expected else None,
        expected=telling.instant(expected[0]) if expected else None,
    )  # fmt: skip


ANY = "-"
"""Hired for no job alone."""


def _hire(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    kit, supplier, name, expected, due, *why = words
    if name not in telling.numbers and name != ANY:
        return
    hires.ask(
        telling.shop, telling.by(badge, now), kit=kit, supplier=supplier,
        job=telling.numbers.get(name), expected=telling.instant(expected),
        due=telling.instant(due), why=why[0] if why else None,
    )  # fmt: skip


def _received(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    _take_in(telling, badge, now, words, wrong=False)


def _wrong(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    _take_in(telling, badge, now, words, wrong=True)


def _take_in(telling: Telling, badge: str, now: datetime, words: Words, *, wrong: bool) -> None:
    kit, name = words
    if name not in telling.numbers and name != ANY:
        return
    hire = hire_of(telling.shop, kit, telling.numbers.get(name))
    hires_here.receive(telling.shop, telling.by(badge, now), hire=hire, wrong=wrong)


OF_A_JOB = ("rough", "until", "come", "quote", "decline", "call", "parts")
DEEDS: dict[str, Callable[[Telling, str, datetime, Words], None]] = {
    "ring": _ring, "rough": _rough, "until": _until, "come": _come, "quote": _quote,
    "decline": _decline, "call": _call, "parts": _parts, "hire": _hire, "received": _received,
    "wrong": _wrong,
}  # fmt: skip
