"""Nobody gets past an open hold point: random people do random things, and the ledger is asked."""

from __future__ import annotations

import random
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, suppress
from datetime import datetime, timedelta
from itertools import islice
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,  # pyright: ignore[reportUnknownVariableType]  # untyped there
)

from store.actions import clock, day_sheet, holding, phases, places, steps
from store.actions.undo import taking_back as undo
from store.edges.instants import from_text
from store.file.verify import verify
from store.trouble import Trouble
from tests.store.actions.gate_history import trespasses
from tests.store.actions.made import World, make

badges = st.sampled_from(["T1", "T2", "FOR", "APP", "OWN"])
workers = st.sampled_from(["T1", "T2", "APP"])
backs = st.sampled_from([None, None, None, None, 3, 20, 90])
"""Minutes by which an entry is dated back; None is now."""
readings = st.sampled_from(["good", "good", "good", "bad", "none"])
near = st.integers(0, 3)
"""Which phase: near the front of the work, so that routes are walked to their end."""


class Shop(RuleBasedStateMachine):
    """One job from its first phase on; every refusal is fine, every other error is a fault."""

    proven: dict[str, str] = {}  # noqa: RUF012  # shared on purpose: a PIN takes 50 ms to prove

    @initialize(done=st.integers(0, 60))
    def begin(self, done: int) -> None:
        """A job on lift 1 at eight, worked on for a while."""
        self.folder = tempfile.mkdtemp(prefix="hoistbook-test-")
        self.world: World = make(Path(self.folder))
        self.world.shop.proven = self.proven
        self.stack = ExitStack()
        self.stack.enter_context(self.world.shop.bulk())
        self.world.to(8)
        self.job = self.world.take()
        steps.type_limits(
            self.world.shop, self.world.by("FOR"), job=self.job, phase="8", step="1",
            reading="nm", low=80, high=120, source="data",
        )  # fmt: skip
        self.go_on(done)

    def teardown(self) -> None:
        if hasattr(self, "stack"):
            self.stack.close()
            self.world.shop.close()
            shutil.rmtree(self.folder)

    def _at(self, back: int | None) -> datetime | None:
        return None if back is None else self.world.now - timedelta(minutes=back)

    def _phase(self, ahead: int) -> str:
        """The phase so many after the first that is not over."""
        rows = self.world.all(
            "select phase, state from phase where job = ? order by position", self.job
        )
        front = next(
            (n for n, row in enumerate(rows) if row[1] in ("to come", "under way")), len(rows) - 1
        )
        return str(rows[max(0, min(len(rows) - 1, front + ahead - 1))][0])

    def _values(self, code: str, kind: str) -> dict[str, float]:
        good = {
            "HL": {"gross": 2000.0}, "LK": {"a": 0.1, "b": 0.12}, "GR": {"grams": 300.0},
            "TQ": {"nm": 100.0}, "HF": {"litres": 0.0}, "HX": {"open": 0.0},
        }.get(code, {})  # fmt: skip
        bad = dict.fromkeys(good, -10.0)
        return {"good": good, "bad": bad, "none": {}}[kind]

    @rule(badge=workers, ahead=near, back=backs)
    def clock_on(self, badge: str, ahead: int, back: int | None) -> None:
        with suppress(Trouble):
            clock.clock_on(
                self.world.shop, self.world.by(badge, at=self._at(back)), job=self.job,
                phase=self._phase(ahead),
            )  # fmt: skip

    @rule(badge=workers, ahead=near, back=backs)
    def clock_over(self, badge: str, ahead: int, back: int | None) -> None:
        with suppress(Trouble):
            clock.clock_over(
                self.world.shop, self.world.by(badge, at=self._at(back)), job=self.job,
                phase=self._phase(ahead),
            )  # fmt: skip

    @rule(badge=workers, back=backs)
    def clock_off(self, badge: str, back: int | None) -> None:
        with suppress(Trouble):
            clock.clock_off(self.world.shop, self.world.by(badge, at=self._at(back)))

    @rule(badge=workers, away=st.booleans())
    def away_and_back(self, badge: str, away: bool) -> None:
        with suppress(Trouble):
            act = clock.clock_away if away else clock.clock_back
            act(self.world.shop, self.world.by(badge))

    @rule(badge=badges, ahead=near, back=backs)
    def finish(self, badge: str, ahead: int, back: int | None) -> None:
        with suppress(Trouble):
            phases.finish(
                self.world.shop, self.world.by(badge, at=self._at(back)), job=self.job,
                phase=self._phase(ahead),
            )  # fmt: skip

    @rule(
        badge=badges,
        ahead=near,
        back=backs,
        kind=readings,
        as_is=st.sampled_from([None, None, "ok"]),
        answer=st.sampled_from(["A", "A", "B", "end"]),
        which=st.integers(0, 3),
    )
    def sign(
        self, badge: str, ahead: int, back: int | None, kind: str, as_is: str | None, answer: str,
        which: int,
    ) -> None:  # fmt: skip
        phase = self._phase(ahead)
        rows = self.world.all(
            "select step, code, kind from step where job = ? and phase = ? and (state != 'done' "
            "or ? = 3) order by position", self.job, phase, which,
        )  # fmt: skip
        if not rows:
            return
        number, code, step_kind = rows[which % len(rows)]
        with suppress(Trouble):
            steps.sign(
                self.world.shop, self.world.by(badge, at=self._at(back)), job=self.job,
                phase=phase, step=str(number), readings=self._values(str(code), kind),
                answer=answer if step_kind == "decision" else None, as_is=as_is,
            )  # fmt: skip

    @rule(badge=badges, lifted=st.just(True))
    def sign_raised(self, badge: str, lifted: bool) -> None:
        with suppress(Trouble):
            self.world.sign(badge, self.job, "HL", readings=self._values("HL", "good"))

    @rule(ahead=near, seldom=st.sampled_from([True, False, False]))
    def skip(self, ahead: int, seldom: bool) -> None:
        if not seldom:
            return
        with suppress(Trouble):
            phases.skip(
                self.world.shop, self.world.by("FOR"), job=self.job, phase=self._phase(ahead),
                reason="not needed",
            )  # fmt: skip

    @rule(badge=badges, phase=st.integers(1, 10), back=backs)
    def reopen(self, badge: str, phase: int, back: int | None) -> None:
        with suppress(Trouble):
            phases.reopen(
                self.world.shop, self.world.by(badge, at=self._at(back)), job=self.job,
                phase=str(phase),
            )  # fmt: skip

    @rule(badge=badges, place=st.sampled_from(["1", "2", "Y", "3"]), back=backs)
    def move(self, badge: str, place: str, back: int | None) -> None:
        with suppress(Trouble):
            places.move(
                self.world.shop, self.world.by(badge, at=self._at(back)), job=self.job,
                place=place, lift=place != "Y",
            )  # fmt: skip

    @rule(badge=badges)
    def undo(self, badge: str) -> None:
        with suppress(Trouble):
            undo.undo(self.world.shop, self.world.by(badge))

    @rule(badge=badges, ahead=near, back=backs, seldom=st.sampled_from([True, False, False]))
    def hold(self, badge: str, ahead: int, back: int | None, seldom: bool) -> None:
        if not seldom:
            return
        with suppress(Trouble):
            holding.hold(
                self.world.shop, self.world.by(badge, at=self._at(back)), job=self.job,
                phase=self._phase(ahead), reason="parts",
            )  # fmt: skip

    @rule(badge=badges, ahead=near)
    def release(self, badge: str, ahead: int) -> None:
        with suppress(Trouble):
            holding.release(
                self.world.shop, self.world.by(badge), job=self.job, phase=self._phase(ahead)
            )

    @rule(badge=workers, ahead=near, seldom=st.sampled_from([True, False, False, False]))
    def find(self, badge: str, ahead: int, seldom: bool) -> None:
        if not seldom:
            return
        with suppress(Trouble):
            holding.find(
                self.world.shop, self.world.by(badge), job=self.job, phase=self._phase(ahead),
                kind="surprise", text="stud broken", hours=1,
            )  # fmt: skip

    @rule(approve=st.booleans())
    def answer(self, approve: bool) -> None:
        with suppress(Trouble):
            holding.answer_supplement(
                self.world.shop, self.world.by("FOR"), job=self.job, approve=approve
            )

    @rule(
        badge=badges, other=workers, ahead=near, back=st.integers(1, 200), length=st.integers(1, 90)
    )
    def enter(self, badge: str, other: str, ahead: int, back: int, length: int) -> None:
        since = self.world.now - timedelta(minutes=back)
        with suppress(Trouble):
            day_sheet.enter_clock(
                self.world.shop, self.world.by(badge),
                where=day_sheet.Where(self.job, self._phase(ahead)), since=since,
                until=since + timedelta(minutes=length), badge=other,
            )  # fmt: skip

    @rule(
        badge=badges,
        pick=st.integers(0, 4),
        ahead=st.integers(-3, 3),
        begin=st.integers(-60, 60),
        end=st.integers(-60, 60),
        what=st.sampled_from(["times", "where", "split", "remove"]),
    )
    def correct(self, badge: str, pick: int, ahead: int, begin: int, end: int, what: str) -> None:
        clocks = self.world.all(
            "select seq, since, until from clock where job = ? order by seq desc", self.job
        )
        if not clocks:
            return
        seq, since, until = clocks[pick % len(clocks)]
        assert isinstance(seq, int)
        where = day_sheet.Where(self.job, self._phase(ahead))
        start = from_text(str(since)) + timedelta(minutes=begin)
        stop = None if until is None else from_text(str(until)) + timedelta(minutes=end)
        by = self.world.by(badge)
        with suppress(Trouble):
            if what == "times":
                day_sheet.correct_clock(self.world.shop, by, clock=seq, since=start, until=stop)
            elif what == "where":
                day_sheet.correct_clock(self.world.shop, by, clock=seq, where=where)
            elif what == "split":
                day_sheet.split_clock(self.world.shop, by, clock=seq, at=start, where=where)
            else:
                day_sheet.remove_clock(self.world.shop, by, clock=seq)

    @rule(times=st.integers(1, 12))
    def go_on(self, times: int) -> None:
        """Do what is to be done next, as it should be, so that the far end is reached too."""
        with suppress(Trouble):
            holding.answer_supplement(
                self.world.shop, self.world.by("FOR"), job=self.job, approve=True
            )
        for _ in range(times):
            phase = self._phase(1)
            with suppress(Trouble):
                holding.release(self.world.shop, self.world.by("FOR"), job=self.job, phase=phase)
            rows = self.world.all(
                "select code, kind, state, signs from step where job = ? and phase = ? and "
                "state != 'done' order by position", self.job, phase,
            )  # fmt: skip
            with suppress(Trouble):
                if rows:
                    self._sign_next(*rows[0])
                    continue
            with suppress(Trouble):
                phases.finish(self.world.shop, self.world.by("T2"), job=self.job, phase=phase)
                continue
            with suppress(Trouble):
                clock.clock_over(self.world.shop, self.world.by("T2"), job=self.job, phase=phase)

    def _sign_next(self, code: object, kind: object, state: object, signs: object) -> None:
        by = {"GR": "T2", "SEEN": "FOR", "HX": "OWN", "TQ": "OWN"}.get(str(code))
        by = by or ("T1" if state == "half" else "T2")
        answer = "A" if kind == "decision" else None
        step = next(
            row[0]
            for row in self.world.all(
                "select step from step where job = ? and phase = ? and code = ?",
                self.job, self._phase(1), code,
            )
        )  # fmt: skip
        steps.sign(
            self.world.shop, self.world.by(by), job=self.job, phase=self._phase(1),
            step=str(step), readings=self._values(str(code), "good"), answer=answer,
        )  # fmt: skip

    def everything_is_as_the_ledger_says(self) -> None:
        """The tables are what the ledger replayed gives."""
        self.stack.close()
        found = verify(self.world.shop.path)
        assert found.ok, found.says

    @rule(minutes=st.sampled_from([5, 30, 120, 600]))
    def time_passes(self, minutes: int) -> None:
        self.world.now += timedelta(minutes=minutes)

    @invariant()
    def nobody_got_past(self) -> None:
        if hasattr(self, "world"):
            with self.world.shop.reading() as db:
                found = trespasses(db, self.job, self.world.now)
            assert not found, found


SHORT_DAYS = settings(
    max_examples=25,
    stateful_step_count=40,
    deadline=None,
    derandomize=True,
    phases=[Phase.generate],  # shrinking a shop's day takes minutes and says little more
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


def test_nobody_gets_past_in_short_days_that_hypothesis_thinks_of() -> None:
    run_state_machine_as_test(Shop, settings=SHORT_DAYS)


def _draws(seed: int) -> Iterator[tuple[str, dict[str, object]]]:
    """Acts with their facts, evenly drawn: hypothesis likes short days."""
    dice = random.Random(seed)
    worker, anybody = ["T1", "T2", "APP"], ["T1", "T2", "FOR", "APP", "OWN"]
    back = [None, None, None, 3, 20, 90]
    while True:
        badge, lead = dice.choice(worker), dice.choice(anybody)
        ahead, late = dice.randrange(4), dice.choice(back)
        facts: dict[str, dict[str, object]] = {
            "clock_on": {"badge": badge, "ahead": ahead, "back": late},
            "clock_over": {"badge": badge, "ahead": ahead, "back": late},
            "clock_off": {"badge": badge, "back": late},
            "away_and_back": {"badge": badge, "away": dice.random() < 0.5},
            "finish": {"badge": lead, "ahead": ahead, "back": late},
            "sign": {
                "badge": lead, "ahead": ahead, "back": late,
                "kind": dice.choice(["good", "good", "bad", "none"]),
                "as_is": dice.choice([None, None, "ok"]),
                "answer": dice.choice(["A", "B", "end"]), "which": dice.randrange(4),
            },
            "sign_raised": {"badge": lead, "lifted": True},
            "skip": {"ahead": ahead, "seldom": dice.random() < 0.2},
            "reopen": {"badge": lead, "phase": dice.randint(1, 10), "back": late},
            "move": {"badge": lead, "place": dice.choice(["1", "2", "3", "Y"]), "back": late},
            "undo": {"badge": lead},
            "hold": {"badge": lead, "ahead": ahead, "back": late, "seldom": dice.random() < 0.3},
            "release": {"badge": lead, "ahead": ahead},
            "find": {"badge": badge, "ahead": ahead, "seldom": dice.random() < 0.3},
            "answer": {"approve": dice.random() < 0.5},
            "enter": {
                "badge": lead, "other": badge, "ahead": ahead, "back": dice.randint(1, 200),
                "length": dice.randint(1, 90),
            },
            "correct": {
                "badge": lead, "pick": dice.randrange(5), "ahead": dice.randint(-3, 3),
                "begin": dice.randint(-60, 60), "end": dice.randint(-60, 60),
                "what": dice.choice(["times", "where", "split", "remove"]),
            },
            "go_on": {"times": dice.randint(1, 12)},
            "time_passes": {"minutes": dice.choice([5, 30, 120, 600])},
        }  # fmt: skip
        name = dice.choice([*facts, "undo", "undo", "go_on", "sign"])
        yield name, facts[name]


@pytest.mark.parametrize("seed", range(6))
def test_nobody_got_past_in_a_long_day_of_random_acts(seed: int) -> None:
    machine = Shop()
    machine.begin(seed * 5)
    try:
        for name, facts in islice(_draws(seed), 200):
            getattr(machine, name)(**facts)
            machine.nobody_got_past()
        machine.everything_is_as_the_ledger_says()
    finally:
        machine.teardown()
