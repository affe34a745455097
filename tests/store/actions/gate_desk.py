"""Acts of the desk on a job with a hold point that is not signed: none gets work past it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Protocol

from store.actions.desk import acts as desk
from tests.store.actions.made import World


class Scene(Protocol):
    """A job with a gate in some state; `shut` is the phase behind it."""

    @property
    def world(self) -> World: ...
    @property
    def job(self) -> str: ...
    @property
    def shut(self) -> str: ...


ACTS: dict[str, Callable[[Scene], object]] = {
    "desk.opening.enquire": lambda s: desk.enquire(
        s.world.shop, s.world.by("T1"), vehicle="another van"
    ),
    "desk.work.choose_work": lambda s: desk.choose_work(
        s.world.shop, s.world.by("T1"), job=s.job, operations=["WP"]
    ),
    "desk.vehicle.identify": lambda s: desk.identify(
        s.world.shop, s.world.by("T1"), job=s.job, plate="AB-12", mass_kg=900
    ),
    "desk.booking.book": lambda s: desk.book(
        s.world.shop, s.world.by("T1"), job=s.job, day=date(2026, 10, 14)
    ),
    "desk.arrival.arrive": lambda s: desk.arrive(
        s.world.shop, s.world.by("T1"), job=s.job, odometer=5, grade=1, place="Y"
    ),
    "desk.check.judge_check": lambda s: desk.judge_check(
        s.world.shop, s.world.by("FOR"), job=s.job, result="pass"
    ),
    "desk.quote.quote": lambda s: desk.quote(s.world.shop, s.world.by("FOR"), job=s.job),
    "desk.agree.agree_job": lambda s: desk.agree(
        s.world.shop, s.world.by("FOR"), job=s.job, basis="time", said_by="the customer",
        means="letter",
    ),
    "desk.word.decline": lambda s: desk.decline(
        s.world.shop, s.world.by("FOR"), job=s.job, why="too dear"
    ),
    "desk.word.turn_away": lambda s: desk.turn_away(
        s.world.shop, s.world.by("FOR"), job=s.job, why="no time"
    ),
    "comebacks.come_back": lambda s: desk.come_back(
        s.world.shop, s.world.by("FOR"), job=s.job, of=s.job, cause="leaks"
    ),
    "customers.know_customer": lambda s: desk.know_customer(
        s.world.shop, s.world.by("FOR"), job=s.job, name="Kim Invented"
    ),
    "customers.erase_customer": lambda s: desk.erase_customer(
        s.world.shop, s.world.by("FOR"), customer="c-00000001"
    ),
}  # fmt: skip
"""By module and name."""
