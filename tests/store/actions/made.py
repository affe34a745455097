"""A small shop for the tests of actions: people of every role, a book with every kind of gate.

The file is founded once and copied for each test.
"""

from __future__ import annotations

import hashlib
import shutil
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from pathlib import Path

import pytest

from store.actions import books, clock, jobs, people, phases, places, steps
from store.actions.acting import Done
from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.edges.events.base import Role
from store.edges.events.shop import WeekSpan
from store.file.change import By
from store.file.layout import derived_tables
from store.file.pins import Secret, scrypt
from store.file.route_now import PhaseRow, StepRow, phases_of, steps_of
from store.file.shop import Shop
from store.trouble import Refused, Trouble

BOOK = Path(__file__).with_name("book.toml").read_text("utf-8")
MONDAY = datetime(2026, 10, 12, 5, 0, tzinfo=UTC)
"""07:00 in the shop, half an hour before the shift."""
PIN = "2468"
WEEK = [1, 2, 3, 4, 5]
ROLES: dict[str, Role] = {
    "OWN": "owner",
    "FOR": "foreman",
    "T1": "technician",
    "T2": "technician",
    "APP": "technician",
}  # one line reads best as a table


@dataclass
class World:
    """A shop and its clock. Every act takes a minute unless it is told otherwise."""

    shop: Shop
    now: datetime = MONDAY
    acts: int = 0
    pins: dict[str, str | None] = field(default_factory=dict[str, "str | None"])

    def by(
        self,
        badge: str,
        *,
        minutes: float = 1,
        at: datetime | None = None,
        pin: str | None = "",
    ) -> By:
        """Who acts, a minute later; `pin` left out is the right one."""
        self.now += timedelta(minutes=minutes)
        self.acts += 1
        key = hashlib.sha256(f"{self.shop.path} {self.acts}".encode()).hexdigest()[:24]
        return By(badge, "t1", self.now, at=at, pin=PIN if pin == "" else pin, key=key)

    def at(self, hour: int, minute: int = 0, day: int = 0) -> datetime:
        """A time of the shop on its first Monday, or so many days later."""
        return datetime(2026, 10, 12, hour, minute, tzinfo=UTC) + timedelta(days=day, hours=-2)

    def to(self, hour: int, minute: int = 0, day: int = 0) -> None:
        """Let the clock go on to a time of the shop."""
        target = self.at(hour, minute, day)
        assert target >= self.now, (target, self.now)
        self.now = target

    def take(self, operation: str = "TC", lift: str | None = "1", mass: float = 2000) -> str:
        """Take a job and return its number."""
        done = jobs.take(
            self.shop, self.by("FOR"), operations=[operation], family="B4-M-F",
            vehicle=f"van {self.acts}", lift=lift, mass_kg=mass,
        )  # fmt: skip
        assert done.job
        return done.job

    def on(self, badge: str, job: str, phase: str) -> Done:
        """Clock on."""
        return clock.clock_on(self.shop, self.by(badge), job=job, phase=phase)

    def off(self, badge: str) -> Done:
        """Clock off."""
        return clock.clock_off(self.shop, self.by(badge))

    def sign(
        self,
        badge: str,
        job: str,
        code: str,
        *,
        readings: Mapping[str, float] | None = None,
        answer: str | None = None,
        as_is: str | None = None,
        at: datetime | None = None,
    ) -> Done:
        """Sign the step with that code."""
        step = self.step(job, code)
        return steps.sign(
            self.shop, self.by(badge, at=at), job=job, phase=step.phase, step=step.step,
            readings=readings, answer=answer, as_is=as_is,
        )  # fmt: skip

    def finish(self, badge: str, job: str, phase: str) -> Done:
        """Finish a phase."""
        return phases.finish(self.shop, self.by(badge), job=job, phase=phase)

    def do(self, badge: str, job: str, phase: str) -> None:
        """Clock on, finish."""
        self.on(badge, job, phase)
        self.finish(badge, job, phase)

    def step(self, job: str, code: str) -> StepRow:
        """The first step with that code; `PHASE:1` names one by its phase's code."""
        with self.shop.reading() as db:
            found = steps_of(db, job)
            codes = {one.phase: one.code for one in phases_of(db, job)}
        return next(one for one in found if code in (one.code, f"{codes[one.phase]}:{one.code}"))

    def phase(self, job: str, code: str) -> PhaseRow:
        """A phase by its code or its number."""
        with self.shop.reading() as db:
            return next(one for one in phases_of(db, job) if code in (one.code, one.phase))

    def one(self, sql: str, *values: object) -> object:
        """The one value of a query."""
        with self.shop.reading() as db:
            row = db.execute(sql, values).fetchone()
        return None if row is None else row[0]

    def all(self, sql: str, *values: object) -> list[tuple[object, ...]]:
        """The rows of a query."""
        with self.shop.reading() as db:
            return [tuple(row) for row in db.execute(sql, values)]

    def events(self) -> int:
        """How long the ledger is."""
        found = self.one("select max(seq) from ledger")
        assert isinstance(found, int)
        return found

    def tables(self) -> dict[str, list[tuple[object, ...]]]:
        """Every derived table whole."""
        return {
            name: sorted(self.all(f"select * from {name}"), key=repr) for name in derived_tables()
        }

    def refused(self, act: Callable[[], object], *words: str, kind: type[Trouble] = Refused) -> str:
        """The act is refused in one line with these words, and nothing is written."""
        before = self.events()
        with pytest.raises(kind) as caught:
            act()
        says = str(caught.value)
        assert "\n" not in says, says
        assert says.isprintable(), ascii(says)
        for word in words:
            assert word in says, says
        assert self.events() == before, "something was written"
        return says


def quick_secret(pin: str) -> Secret:
    """What is kept of a PIN, derived in no time: tests type it thousands of times."""
    salt = bytes(16)
    return Secret(2, 1, 1, salt.hex(), scrypt(pin, salt, n=2, r=1, p=1))


@lru_cache(maxsize=1)
def _template() -> Path:
    path = Path(tempfile.mkdtemp(prefix="hoistbook-test-")) / "made.shop"
    plan = ShopPlan(
        "Made", "Europe/Amsterdam", "EUR",
        [WeekSpan(days=WEEK, start="07:30", end="16:30")],
        [WeekSpan(days=WEEK, start="12:00", end="12:45")],
        [LiftPlan("1", "two-post", 4000), LiftPlan("2", "two-post", 4000), LiftPlan("3", "scissor", 3000)],  # noqa: E501  # a table
        "OWN", "Olga", PIN, rate_per_hour=90, from_day=date(2020, 1, 1),
    )  # fmt: skip
    before = MONDAY - timedelta(days=3)
    first = By("OWN", "t1", before, pin=PIN, key="0" * 24)
    secret = quick_secret(PIN)
    shop = found_shop(path, first, plan, secret=secret)
    world = World(shop, before)
    books.load_workbook(shop, world.by("OWN"), source=BOOK)
    for badge, role in list(ROLES.items())[1:]:
        people.add_person(
            shop, world.by("OWN"), badge=badge, name=badge.title(), role=role,
            experience="apprentice 2" if badge == "APP" else "skilled",
        )  # fmt: skip
        people.set_pin(shop, world.by(badge), badge=badge, pin=PIN, secret=secret)
    people.qualify(shop, world.by("OWN"), badge="T2", what="refrigerant", until=date(2027, 1, 1))
    here: tuple[tuple[str, places.PlaceKind], ...]
    here = (("Y", "yard"), ("BE", "bench"), ("ST", "stand"))
    for code, kind in here:
        places.add_place(shop, world.by("OWN"), code=code, kind=kind)
    for lift in ("1", "2", "3"):
        places.inspect_lift(
            shop, world.by("FOR"), code=lift, day=date(2026, 6, 1), months=12, source="made up",
            inspector="somebody",
        )  # fmt: skip
    shop.close()
    return path


def make(folder: Path) -> World:
    """A fresh copy of the shop."""
    path = folder / "made.shop"
    shutil.copy(_template(), path)
    return World(Shop(path))
