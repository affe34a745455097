"""What floor, bay and acts read does not grow with the years: no query walks a table that does.

SQLite plans without statistics here, so a small shop's plans are those of one of ten years. A walk
along an index of what goes on alone (`ONLY_LIVE`) is none: it holds a handful of rows.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from store.actions import clock, holding, jobs, notes, phases
from store.actions.undo import taking_back as undo
from store.file import opening
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.file.memory import Connection
from store.views.bay import bay
from store.views.clearing import clearing
from store.views.desk.page import desk
from store.views.door import door
from store.views.floor import floor
from store.views.helps import helps
from store.views.job import job_card
from store.views.ledger import ledger
from store.views.needs import needs
from store.views.tools.kits_stop import stopped_phases
from tests.store.actions.made import World
from tests.store.made import busy_shop

STAYS_SMALL = frozenset({
    "shop", "setting", "calendar", "holiday", "rate", "month_cost", "person", "person_since",
    "qualification", "attendance", "place", "book", "book_phase", "book_step", "book_condition",
    "job_place", "condition", "kit", "kit_price", "kit_date", "supplier", "offer", "pin_private",
    "pin_tries", "demo_clock", "learned_part", "learned_forecast", "learned_turn", "learned_help",
    "learned_need",
})  # fmt: skip
"""Tables that have a row for each person, place, version, kit, or job that goes on."""
ONLY_LIVE = frozenset({
    "job_live", "clock_one_running", "hold_running", "hire_open", "follow_up_open", "step_half",
    "outwork_away", "assignment_once", "assignment_job",
})  # fmt: skip
WAIVED = {
    "order by seq desc limit 1": "stops at the newest row",
    "max(seq)": "stops at the newest row",
    "order by gone_seq desc limit ?": "stops after the newest sixty",
    "exists (select 1 from hire)": "stops at the first row",
    " in () ": "is never true, and nothing is read",
}
ALIAS = re.compile(r"(?:\b(?:from|join)|,)\s+\"?(\w+)\"?(?:\s+as)?(?:\s+(?!join\b|where\b|using\b"
                   r"|on\b|left\b|cross\b|order\b|group\b|limit\b|set\b)(\w+))?")  # fmt: skip
WALK = re.compile(r"SCAN (\w+)(?: USING (?:COVERING )?INDEX (\w+))?$|SEARCH (\w+)$"
                  r"|SEARCH (\w+) USING AUTOMATIC.*")  # fmt: skip
Said = dict[str, Sequence[Any] | dict[str, Any]]
SAID: Said = {}


class Heard(Connection):
    """A connection that remembers every statement."""

    def execute(self, sql: str, parameters: Any = (), /) -> sqlite3.Cursor:
        """As before."""
        SAID.setdefault(sql, parameters)
        return super().execute(sql, parameters)


@pytest.fixture
def heard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[tuple[World, Said]]:
    world = busy_shop(tmp_path)
    path = world.shop.path
    world.shop.close()
    monkeypatch.setattr(opening, "Connection", Heard)
    SAID.clear()
    with closing(type(world.shop)(path)) as shop:
        world.shop = shop
        yield world, SAID


def walks(path: Path, said: Said) -> list[str]:
    """Every walk along a table that grows, with its statement."""
    with closing(sqlite3.connect(path)) as db:
        tables = {row[0] for row in db.execute("select name from sqlite_master")} - STAYS_SMALL
        return [
            f"{step}\n    {' '.join(sql.split())}"
            for sql, parameters in said.items()
            if sql.lstrip().startswith(("select", "with", "update", "delete", "insert"))
            and not any(one in sql for one in WAIVED)
            for step in walked(db, sql, parameters, tables)
        ]


def walked(db: sqlite3.Connection, sql: str, parameters: Any, tables: set[str]) -> Iterator[str]:
    """Steps of one plan that walk along one of these tables."""
    names = {table: table for table in tables}
    names |= {alias or table: table for table, alias in ALIAS.findall(sql) if table in tables}
    for *_, step in db.execute(f"explain query plan {sql}", parameters):
        found = WALK.fullmatch(step)
        if found is None or found[2] in ONLY_LIVE:
            continue
        if next(one for one in (found[1], found[3], found[4]) if one) in names:
            yield step


def test_looks_of_floor_bay_and_desk_walk_along_nothing_that_grows(
    heard: tuple[World, Said],
) -> None:
    world, said = heard
    job = next(lane.job.number for lane in floor(world.shop, world.now).lanes if lane.job)
    looks: tuple[Callable[[], object], ...] = (
        lambda: bay(world.shop, "T2", world.now), lambda: door(world.shop, world.now),
        lambda: job_card(world.shop, job, world.now), lambda: needs(world.shop, world.now),
        lambda: helps(world.shop, world.now), lambda: clearing(world.shop, world.now),
        lambda: desk(world.shop, world.now, names=True),
        lambda: stopped_phases(world.shop, world.now),
        lambda: list(ledger(world.shop, job=job)),
    )  # fmt: skip
    for look in looks:
        look()
    assert len(said) > 60
    assert walks(world.shop.path, said) == []


def test_acts_walk_along_nothing_that_grows(heard: tuple[World, Said]) -> None:
    world, said = heard
    shop = world.shop
    job = jobs.take_small(shop, world.by("FOR"), text="bulb", vehicle="red van", hours=0.2).job
    assert job is not None
    clock.clock_over(shop, world.by("FOR"), job=job, phase="1")
    clock.clock_off(shop, world.by("FOR"))
    undo.undo(shop, world.by("FOR"))
    notes.note(shop, world.by("FOR"), job=job, text="the left one")
    holding.hold(shop, world.by("FOR"), job=job, phase=None, reason="parts")
    holding.release(shop, world.by("FOR"), job=job, phase=None)
    phases.finish(shop, world.by("FOR"), job=job, phase="1")
    jobs.close(shop, world.by("FOR"), job=job)
    assert len(said) > 40
    assert walks(shop.path, said) == []


@pytest.mark.parametrize("sql", [
    "select job from job where family = 'D4'", "select 1 from stay as s where s.since > ''",
    "select max(at) from signature", "select * from phase order by finished_at",
    "select a.job from step as a join step as b on a.code = b.code and a.job > b.phase",
])  # fmt: skip
def test_a_walk_is_seen(heard: tuple[World, Said], sql: str) -> None:
    world, _ = heard
    assert walks(world.shop.path, {sql: ()})


def test_an_act_s_events_are_found_from_the_act(heard: tuple[World, Said]) -> None:
    """From all events of their kinds one would go through years of them, act by act."""
    world, said = heard
    job = next(lane.job.number for lane in floor(world.shop, world.now).lanes if lane.job)
    job_card(world.shop, job, world.now)
    Turns(world.shop, ShopLearner(), lambda: world.now).keep_up()
    joined = [(sql, values) for sql, values in said.items() if "entry.seq and entry.last" in sql]
    assert len(joined) > 3
    with closing(sqlite3.connect(world.shop.path)) as db:
        for sql, values in joined:
            first = db.execute(f"explain query plan {sql}", values).fetchone()[3]
            assert first.startswith("SEARCH entry "), sql
