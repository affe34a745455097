"""Random acts through the actions, each foretold by the small model, with what it leads to."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Callable
from copy import deepcopy
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from pathlib import Path

import pytest
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from store.actions import books, clock, holding, jobs, people, phases, places, steps
from store.actions.acting import Done
from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.actions.undo import taking_back as undo
from store.edges.events.shop import WeekSpan
from store.file.change import By
from store.file.pins import make_secret
from store.file.shop import AlreadyRecorded, Shop
from store.file.verify import verify
from store.trouble import Trouble
from store.views.floor import floor
from store.views.job import job_card
from tests.store.actions.model import AWAY, LEADS, LIFTS, PEOPLE, YARD, Model

PIN = "2468"
START = datetime(2026, 10, 12, 6, 0, tzinfo=UTC)
BOOK = """
name = "Three phases"
[families.engine]
B4 = "petrol"
[families.gearbox]
M = "manual"
[families.axles]
F = "front"
[[phase]]
code = "S"
name = "strip"
hours = 1.0
place = "ground"
step = [{ text = "Odometer read" }]
[[phase]]
code = "L"
name = "lock"
hours = 1.0
place = "ground"
[[phase.step]]
code = "HP"
kind = "hold point"
text = "Locked"
signs = 2
blocks = [">"]
[[phase]]
code = "R"
name = "refit"
hours = 1.0
place = "ground"
[[operation]]
code = "OP"
name = "three phases"
route = ["S", "L", "R"]
"""

Do = Callable[[Shop, By], Done]
badges = st.sampled_from(sorted(PEOPLE))
mostly_leads = st.sampled_from(("FOR", "OWN", "FOR", "OWN", "T1", "APP"))
pins = st.sampled_from((True, True, True, False))
FEW = 4
"""Jobs that go on at once: the fewer, the further each comes."""
picks = st.integers(0, 11)
phase_numbers = st.sampled_from(("1", "2", "3", "3", "2", "9"))
reasons = st.sampled_from(("parts", "tool", "other"))
lifts = st.sampled_from(sorted(LIFTS))
masses = st.sampled_from((2000, 3500))


@lru_cache(maxsize=1)
def _template() -> Path:
    """The shop, open round the clock, so that every minute is labour."""
    path = Path(tempfile.mkdtemp(prefix="hoistbook-test-")) / "model.shop"
    always = [WeekSpan(days=[1, 2, 3, 4, 5, 6, 7], start="00:00", end="00:00")]
    plan = ShopPlan(
        "Model", "Europe/Amsterdam", "EUR", always, [],
        [LiftPlan(code, "two-post", kg) for code, kg in LIFTS.items()], "OWN", "Olga", PIN,
        rate_per_hour=90, from_day=date(2020, 1, 1),
    )  # fmt: skip
    secret = make_secret(PIN, bytes(16))
    acts = iter(range(100))

    def by(badge: str) -> By:
        n = next(acts)
        return By(badge, "t1", START - timedelta(minutes=100 - n), pin=PIN, key=f"f{n:023d}")

    shop = found_shop(path, by("OWN"), plan, secret=secret)
    books.load_workbook(shop, by("OWN"), source=BOOK)
    for badge, role in PEOPLE.items():
        if badge != "OWN":
            people.add_person(
                shop, by("OWN"), badge=badge, name=badge, role=role,  # type: ignore[arg-type]
                experience="apprentice 2" if badge == "APP" else "skilled",
            )  # fmt: skip
            people.set_pin(shop, by(badge), badge=badge, pin=PIN, secret=secret)
    places.add_place(shop, by("OWN"), code=YARD, kind="yard")
    shop.close()
    return path


class ShopMachine(RuleBasedStateMachine):
    """People at work. `acts` counts what was done or refused, over all machines."""

    acts = 0
    taken = 0
    protected = True

    @initialize()
    def open_shop(self) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="hoistbook-model-"))
        path = self.folder / "model.shop"
        shutil.copyfile(_template(), path)
        self.shop, self.model = Shop(path), Model()
        self.minute, self.keys, self.entries = 0, 0, 0
        self.entries = self._count()
        self.last: tuple[str, Model] | None = None
        self.touched = ""

    # -- how every act is tried

    @property
    def now(self) -> datetime:
        return START + timedelta(minutes=self.minute)

    def _count(self) -> int:
        with self.shop.reading() as db:
            return int(db.execute("select count(*) from ledger").fetchone()[0])

    def act(
        self, badge: str, do: Do, ok: bool, effect: Callable[[Done], object], *,
        pin: bool = True, back: bool = False,
    ) -> None:  # fmt: skip
        """Do it; it must be taken or refused as foretold, and a second try must do nothing.

        Args:
            back: its author can take it back as long as it is the newest.
        """
        type(self).acts += 1
        self.keys += 1
        before = deepcopy(self.model)
        by = By(badge, "t1", self.now, pin=PIN if pin else None, key=f"{self.keys:024x}")
        try:
            done = do(self.shop, by)
        except Trouble as trouble:
            says = str(trouble)
            assert not ok, f"refused, though the model takes it: {says}"
            assert says.isprintable(), ascii(says)
            assert self._count() == self.entries, says
            return
        assert ok, f"taken, though the model refuses it: {done.says}"
        type(self).taken += 1
        assert done.recorded == tuple(
            range(self.entries + 1, self.entries + 1 + len(done.recorded))
        )
        self.entries += len(done.recorded)
        assert self._count() == self.entries
        with pytest.raises(AlreadyRecorded):
            do(self.shop, by)
        effect(done)
        self.touched = done.job or self.touched
        self.last = (badge, before) if back else None

    def going_on(self) -> int:
        """Jobs that are not closed."""
        return sum(not one.closed for one in self.model.jobs.values())

    def job(self, pick: int, may: Callable[[str], bool] = lambda job: False) -> str:
        """One of the jobs, mostly one of which it may be done; now and then one that is none."""
        numbers = sorted(self.model.jobs)
        if pick % 4:
            numbers = [one for one in numbers if may(one)] or numbers
        return numbers[pick % len(numbers)] if numbers and pick < 11 else "4711"

    def work(self, pick: int, phase: str, may: Callable[[str, str], bool]) -> tuple[str, str]:
        """A job and a phase, mostly such of which it may be done."""
        found = [
            (job, number)
            for job, one in sorted(self.model.jobs.items())
            for number in one.phases
            if may(job, number)
        ]
        return found[pick % len(found)] if found and pick % 4 else (self.job(pick), phase)

    # -- what people do

    @rule(minutes=st.integers(1, 9))
    def time_goes_on(self, minutes: int) -> None:
        """Never past midnight: a clock that ran past the end of a shift is another matter."""
        self.minute += minutes

    @precondition(lambda self: self.going_on() < FEW)
    @rule(badge=mostly_leads, mass=masses, lift=st.none() | lifts, pin=pins)
    def take(self, badge: str, mass: int, lift: str | None, pin: bool) -> None:
        fits = lift is None or (self.model.on_lift(lift) is None and mass <= LIFTS[lift])
        self.act(
            badge,
            lambda shop, by: jobs.take(
                shop, by, operations=["OP"], family="B4-M-F", vehicle=f"van {by.key}", lift=lift,
                mass_kg=mass,
            ),
            badge in LEADS and pin and fits,
            lambda done: self.model.take(str(done.job), mass, lift, small=False), pin=pin,
        )  # fmt: skip

    @precondition(lambda self: self.going_on() < FEW)
    @rule(badge=badges)
    def take_small(self, badge: str) -> None:
        self.act(
            badge,
            lambda shop, by: jobs.take_small(shop, by, text="a lamp", vehicle=f"car {by.key}"),
            True, lambda done: self.model.take(str(done.job), 0, None, small=True),
        )  # fmt: skip

    @rule(badge=badges, pick=picks, phase=phase_numbers)
    def clock_on(self, badge: str, pick: int, phase: str) -> None:
        model = self.model
        job, phase = self.work(pick, phase, model.workable)
        self.act(
            badge, lambda shop, by: clock.clock_on(shop, by, job=job, phase=phase),
            model.running(badge) is None and model.workable(job, phase),
            lambda _: model.on(badge, (job, phase), self.minute), back=True,
        )  # fmt: skip

    @rule(badge=badges, pick=picks, phase=phase_numbers)
    def clock_over(self, badge: str, pick: int, phase: str) -> None:
        job, phase = self.work(pick, phase, self.model.workable)
        self.act(
            badge, lambda shop, by: clock.clock_over(shop, by, job=job, phase=phase),
            self.model.may_over(badge, job, phase),
            lambda _: self.model.on(badge, (job, phase), self.minute), back=True,
        )  # fmt: skip

    @rule(badge=badges)
    def clock_off(self, badge: str) -> None:
        self.act(
            badge, clock.clock_off, self.model.running(badge) is not None,
            lambda _: self.model.off(badge, self.minute), back=True,
        )  # fmt: skip

    @rule(badge=badges)
    def called_away(self, badge: str) -> None:
        now = self.model.running(badge)
        where = None if now is None else now.where
        self.act(
            badge, clock.clock_away, where not in (None, AWAY),
            lambda _: self.model.on(badge, AWAY, self.minute, where),
        )  # fmt: skip

    @rule(badge=badges)
    def come_back(self, badge: str) -> None:
        def back(_: Done) -> None:
            now = self.model.running(badge)
            assert now is not None
            assert now.back_to is not None
            self.model.on(badge, now.back_to, self.minute)

        self.act(badge, clock.clock_back, self.model.may_back(badge), back)

    @rule(badge=badges, reason=st.sampled_from(("tidying", "helping", "dreaming")))
    def indirect(self, badge: str, reason: str) -> None:
        now = self.model.running(badge)
        ok = reason != "dreaming" and (now is None or now.where != reason)
        self.act(
            badge, lambda shop, by: clock.clock_indirect(shop, by, reason=reason), ok,
            lambda _: self.model.on(badge, reason, self.minute),
        )  # fmt: skip

    @rule(badge=badges, pick=picks)
    def sign_step(self, badge: str, pick: int) -> None:
        model = self.model
        job = self.job(pick, lambda one: model.workable(one, "1"))

        def signed(_: Done) -> None:
            model.begin(job, "1")
            model.jobs[job].phases["1"].step = True

        free = model.workable(job, "1") and not model.jobs[job].small
        self.act(
            badge, lambda shop, by: steps.sign(shop, by, job=job, phase="1", step="1"),
            free and not model.jobs[job].phases["1"].step, signed, back=True,
        )  # fmt: skip

    @rule(badge=badges, pick=picks, pin=pins)
    def sign_hold_point(self, badge: str, pick: int, pin: bool) -> None:
        model = self.model
        job = self.job(pick, lambda one: model.may_sign_point(badge, one, pin=True))

        def signed(_: Done) -> None:
            model.begin(job, "2")
            names = model.jobs[job].phases["2"].names
            assert names is not None
            names.append(badge)

        self.act(
            badge, lambda shop, by: steps.sign(shop, by, job=job, phase="2", step="1"),
            model.may_sign_point(badge, job, pin=pin), signed, pin=pin, back=True,
        )  # fmt: skip

    @rule(badge=badges, pick=picks, phase=phase_numbers)
    def finish(self, badge: str, pick: int, phase: str) -> None:
        job, phase = self.work(pick, phase, self.model.may_finish)
        self.act(
            badge, lambda shop, by: phases.finish(shop, by, job=job, phase=phase),
            self.model.may_finish(job, phase),
            lambda _: self.model.finish(job, phase, self.minute), back=True,
        )  # fmt: skip

    @rule(badge=mostly_leads, pick=picks, phase=phase_numbers, pin=pins)
    def skip(self, badge: str, pick: int, phase: str, pin: bool) -> None:
        job, phase = self.work(pick, phase, self.model.may_skip)
        self.act(
            badge, lambda shop, by: phases.skip(shop, by, job=job, phase=phase, reason="done"),
            badge in LEADS and pin and self.model.may_skip(job, phase),
            lambda _: self.model.skip(job, phase), pin=pin, back=True,
        )  # fmt: skip

    @rule(badge=badges, pick=picks, phase=phase_numbers)
    def reopen(self, badge: str, pick: int, phase: str) -> None:
        model = self.model
        job, phase = self.work(pick, phase, model.may_reopen)
        ok = model.may_reopen(job, phase) and badge != "APP"
        self.act(
            badge, lambda shop, by: phases.reopen(shop, by, job=job, phase=phase), ok,
            lambda _: model.reopen(job, phase, self.minute),
        )  # fmt: skip

    @rule(badge=badges, pick=picks, phase=st.none() | phase_numbers, reason=reasons)
    def hold(self, badge: str, pick: int, phase: str | None, reason: str) -> None:
        job, model = self.job(pick), self.model

        def held(_: Done) -> None:
            model.stop(job, phase, self.minute)
            model.jobs[job].holds.add((phase, reason))

        self.act(
            badge,
            lambda shop, by: holding.hold(shop, by, job=job, phase=phase, reason=reason),  # type: ignore[arg-type]
            model.may_hold(job, phase, reason), held, back=True,
        )  # fmt: skip

    @rule(badge=badges, pick=picks, phase=st.none() | phase_numbers, pin=pins)
    def release(self, badge: str, pick: int, phase: str | None, pin: bool) -> None:
        model = self.model
        job = self.job(pick, lambda one: model.may_release(one, phase, lead=True))

        def released(_: Done) -> None:
            model.jobs[job].holds = {one for one in model.jobs[job].holds if one[0] != phase}

        self.act(
            badge, lambda shop, by: holding.release(shop, by, job=job, phase=phase),
            model.may_release(job, phase, lead=badge in LEADS and pin), released, pin=pin,
            back=True,
        )  # fmt: skip

    @rule(badge=badges, pick=picks, phase=phase_numbers)
    def find(self, badge: str, pick: int, phase: str) -> None:
        job, model = self.job(pick), self.model
        known = model.live(job) and phase in model.jobs[job].phases
        self.act(
            badge,
            lambda shop, by: holding.find(
                shop, by, job=job, phase=phase, kind="surprise", text="stud broken", hours=1
            ),
            known and not model.jobs[job].phases[phase].over,
            lambda _: model.find(job, phase, self.minute), back=True,
        )  # fmt: skip

    @rule(badge=mostly_leads, pick=picks, approve=st.booleans(), pin=pins)
    def answer(self, badge: str, pick: int, approve: bool, pin: bool) -> None:
        model = self.model
        job = self.job(pick, lambda one: bool(model.jobs[one].asked))
        self.act(
            badge,
            lambda shop, by: holding.answer_supplement(shop, by, job=job, approve=approve),
            badge in LEADS and pin and model.live(job) and bool(model.jobs[job].asked),
            lambda _: model.answer(job), pin=pin,
        )  # fmt: skip

    @rule(badge=badges, pick=picks, place=st.sampled_from((*sorted(LIFTS), YARD)))
    def move(self, badge: str, pick: int, place: str) -> None:
        job, model = self.job(pick), self.model

        def moved(_: Done) -> None:
            model.jobs[job].place = place
            model.jobs[job].waits = model.jobs[job].waits and place == YARD

        self.act(
            badge,
            lambda shop, by: places.move(shop, by, job=job, place=place, lift=place in LIFTS),
            badge != "APP" and model.may_move(job, place, lead=badge in LEADS), moved, back=True,
        )  # fmt: skip

    @rule(badge=mostly_leads, pick=picks, hours=st.integers(-5, 400), pin=pins)
    def promise(self, badge: str, pick: int, hours: int, pin: bool) -> None:
        job, at = self.job(pick), self.now + timedelta(hours=hours)
        self.act(
            badge, lambda shop, by: jobs.promise(shop, by, job=job, at=at),
            badge in LEADS and pin and self.model.live(job) and hours > 0, lambda _: None,
            pin=pin, back=True,
        )  # fmt: skip

    @rule(badge=mostly_leads, pick=picks, pin=pins)
    def close(self, badge: str, pick: int, pin: bool) -> None:
        model = self.model
        job = self.job(pick, model.may_close)
        may = badge in LEADS and pin
        if model.live(job) and model.jobs[job].small:
            may = badge != "APP"
        self.act(
            badge, lambda shop, by: jobs.close(shop, by, job=job), may and model.may_close(job),
            lambda _: model.close(job), pin=pin,
        )  # fmt: skip

    @rule()
    def undo_the_newest(self) -> None:
        """Whoever acted last takes it back: all is as it was before."""
        if self.last is None:
            return
        (badge, before), minute = self.last, self.minute

        def as_it_was(_: Done) -> None:
            assert minute == self.minute
            self.model = before

        self.act(badge, undo.undo, True, as_it_was)

    # -- what must be so after each

    @invariant()
    def the_tables_are_the_model(self) -> None:
        if not hasattr(self, "shop"):
            return
        model = self.model
        with self.shop.reading() as db:
            assert _clocks_in(db) == {
                badge: found.where for badge in PEOPLE if (found := model.running(badge))
            }
            assert _phases_in(db) == {
                (job, number): each.state
                for job, one in model.jobs.items() for number, each in one.phases.items()
            }  # fmt: skip
            assert _holds_in(db) == sorted(
                (job, phase or "", reason)
                for job, one in model.jobs.items() for phase, reason in one.holds
            )  # fmt: skip
            assert _places_in(db) == {
                job: one.place for job, one in model.jobs.items() if one.place is not None
            }

    @invariant()
    def the_card_and_the_floor_are_the_model(self) -> None:
        if not getattr(self, "touched", ""):
            return
        model, job = self.model, self.touched
        card = job_card(self.shop, job, self.now)
        for one in card.phases:
            minutes = model.labour(job, one.number, self.minute)
            assert abs(one.labour_h - minutes / 60) < 1e-6, (job, one.number, one.labour_h, minutes)
        lanes = floor(self.shop, self.now).lanes
        assert {lane.lift: lane.job.number if lane.job else None for lane in lanes} == {
            code: model.on_lift(code) for code in LIFTS
        }
        self.touched = ""

    def teardown(self) -> None:
        if hasattr(self, "shop"):
            self.shop.close()
            found = verify(self.shop.path)
            shutil.rmtree(self.folder, ignore_errors=True)
            assert found.ok, found


def _clocks_in(db: sqlite3.Connection) -> dict[str, object]:
    found: dict[str, object] = {}
    for row in db.execute(
        "select badge, job, phase, reason from clock join person using (person) where until is null"
    ):
        assert row["badge"] not in found, "two clocks of one person"
        found[row["badge"]] = (row["job"], row["phase"]) if row["job"] else row["reason"]
    return found


def _phases_in(db: sqlite3.Connection) -> dict[tuple[str, str], str]:
    return {(row[0], row[1]): row[2] for row in db.execute("select job, phase, state from phase")}


def _holds_in(db: sqlite3.Connection) -> list[tuple[str, str, str]]:
    return sorted(
        (row[0], row[1] or "", row[2])
        for row in db.execute("select job, phase, reason from hold where until is null")
    )


def _places_in(db: sqlite3.Connection) -> dict[str, str]:
    return {
        row[0]: row[1]
        for row in db.execute("select job, code from job_place join place using (place)")
    }


__all__ = ["ShopMachine"]
