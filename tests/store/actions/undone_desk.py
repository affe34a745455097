"""Acts of the desk that can be taken back, each on a job made for it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from store.actions import places
from store.actions.desk import acts as desk
from tests.store.actions.made import World
from tests.store.made_desk import agreed, arrived, check, enquiry, with_checks

Made = Callable[[World], str]
Act = Callable[[World, str], object]


def _asked(w: World) -> str:
    return enquiry(with_checks(w), "SE")


def _booked(w: World) -> str:
    job = _asked(w)
    desk.book(w.shop, w.by("T1"), job=job, day=date(2026, 10, 13))
    return job


def _quoted(w: World) -> str:
    job = arrived(with_checks(w))
    desk.quote(w.shop, w.by("FOR"), job=job)
    return job


def _judged(w: World) -> str:
    job = arrived(with_checks(w))
    check(w, job)
    desk.judge_check(w.shop, w.by("FOR"), job=job, result="fail", text="loud")
    return job


def _checked(w: World) -> str:
    job = arrived(with_checks(w))
    check(w, job)
    return job


def _judge(w: World, job: str) -> object:
    return desk.judge_check(w.shop, w.by("FOR"), job=job, result="pass")


def _book(w: World, job: str) -> object:
    return desk.book(w.shop, w.by("T1"), job=job, day=date(2026, 10, 15), deposit=20)


def _quote(w: World, job: str) -> object:
    return desk.quote(w.shop, w.by("FOR"), job=job, means="letter")


def _agreed(w: World) -> str:
    job = _checked(w)
    agreed(w, job)
    return job


DESK: dict[str, tuple[Made, str, Act]] = {
    "arrival-booked": (_asked, "T1", _book),
    "arrival-booked,anew": (_booked, "T1", _book),
    "quote-given": (_asked, "FOR", _quote),
    "quote-given,a later one": (_quoted, "FOR", _quote),
    "quote-answered": (
        _quoted, "FOR",
        lambda w, j: desk.decline(w.shop, w.by("FOR"), job=j, why="too dear", means="letter"),
    ),
    "quote-answered,turned away": (
        _quoted, "FOR", lambda w, j: desk.turn_away(w.shop, w.by("FOR"), job=j, why="no time"),
    ),
    "state-changed,turned away": (
        _asked, "FOR", lambda w, j: desk.turn_away(w.shop, w.by("FOR"), job=j, why="no time"),
    ),
    "check-judged": (_checked, "FOR", _judge),
    "check-judged,anew": (_judged, "FOR", _judge),
    "clocked-on,after its check": (
        _agreed, "T1", lambda w, j: w.on("T1", j, "3"),
    ),
    "placed,after its check": (
        _agreed, "T1", lambda w, j: places.move(w.shop, w.by("T1"), job=j, place="1", lift=True),
    ),
    "placed,for its check": (
        _quoted, "T1", lambda w, j: places.move(w.shop, w.by("T1"), job=j, place="1", lift=True),
    ),
}  # fmt: skip
"""By the first kind of event that they record, and what is special."""
