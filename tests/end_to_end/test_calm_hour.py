"""The demo shop gets a calm hour by what its own list names, each act as printed; then it says so.

What no line can do, a foreman does: work that takes longer is told as found, and whose promise will
not hold is told another day.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from demo.making import OPENS_AT
from demo.people import FOREMAN, PIN
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.file.shop import Shop
from store.file.verify import verify
from store.rules.acts import Act
from store.views.floor import floor
from store.views.helps import helps
from store.views.likely import AT_RISK
from store.views.needs import needs
from store.views.values import Floor, Job
from tests.store.made_acts import FILLS, typed_in
from tests.tui.driver import terminal
from tui.parts.where import FLOOR

SAYS = {**FILLS, "-INSTANT": "2026-10-19T09:00", "-WHO": "B12"}
MOST_ACTS, MOST_ROUNDS = 30, 4
CALM = "Nothing needs anybody."


@dataclass
class Morning:
    """The demo shop, and its clock: every act takes a minute."""

    path: Path
    pins: dict[str, str]
    now: datetime = OPENS_AT
    acts: int = 0

    def does(self, *words: str) -> str:
        """Type a command."""
        said = typed_in(self.path, self.now, words, self.pins, SAYS)
        self.now += timedelta(minutes=1)
        return said

    def open(self) -> list[Act]:
        """What the list names."""
        with closing(Shop(self.path)) as shop:
            return [one.act for one in needs(shop, self.now).needs]

    def does_all(self) -> int:
        """Do the first line by its printed command until there is none; return how many."""
        before = self.acts
        while listed := self.open():
            assert self.does(*listed[0].command)
            assert listed[0].name not in {one.name for one in self.open()}, listed[0]
            self.acts += 1
            assert self.acts <= MOST_ACTS, listed
        return self.acts - before

    def learns(self) -> Floor:
        """Have everything reckoned; return the floor."""
        with closing(Shop(self.path)) as shop:
            Turns(shop, ShopLearner(), lambda: self.now).keep_up()
            return floor(shop, self.now)


def jobs_of(of: Floor) -> list[Job]:
    """Every job in the house."""
    return [*(one.job for one in of.lanes if one.job), *of.waiting, *of.elsewhere]


def beyond_the_list(of: Floor) -> Iterator[Sequence[str]]:
    """Commands for what a floor tells that is nobody's line: overruns, promises that will break."""
    jobs = {one.number: one for one in jobs_of(of)}
    for want in of.wants:
        assert want.word == "OVER", want
        job = jobs[want.job or ""]
        assert job.phase is not None
        yield (
            "finding", f"{job.number}.{job.phase.number}", "--kind", "surprise", "--text",
            "bolts seized", "--hours", "8", "--as", job.people[0].badge,
        )  # fmt: skip
    for job in jobs.values():
        if job.promise_chance is not None and job.promise_chance < AT_RISK:
            yield ("promise", job.number, "--chance", "0.9", "--as", FOREMAN.badge)


@pytest.fixture(name="morning")
def morning_fixture(demo_shop: Shop) -> Morning:
    """The demo's own hour, when it wants a good deal of everybody."""
    with demo_shop.reading() as db:
        pins = {row[0]: PIN for row in db.execute("select badge from person")}
    demo_shop.close()
    return Morning(demo_shop.path, pins)


async def test_a_calm_hour_of_the_demo_is_silent_and_says_so(morning: Morning) -> None:
    assert len({one.kind for one in morning.open()}) >= 8
    for _ in range(MOST_ROUNDS):
        done, seen = morning.does_all(), morning.learns()
        told = [morning.does(*words) for words in beyond_the_list(seen)]
        if not done and not told:
            break
    else:
        pytest.fail("it never became calm")
    assert morning.does("needs") == CALM
    assert json.loads(morning.does("needs", "--json"))["needs"] == []
    assert json.loads(morning.does("helps", "--json"))["helps"] == []
    assert f"\n{CALM}  Next: lift " in morning.does("helps")
    assert " wants somebody" not in morning.does("floor")
    with closing(Shop(morning.path)) as shop:
        assert helps(shop, morning.now).lines == ()
        async with terminal(shop, morning.now, first=FLOOR, badge=FOREMAN.badge) as at:
            assert at.lines[1].strip().startswith(CALM)
            assert f"{CALM}  Next: lift " in await at.keys("F8")
    assert verify(morning.path).ok
