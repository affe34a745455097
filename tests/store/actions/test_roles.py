"""Who may do what: the table, gone through cell by cell by really doing it."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import get_args

import pytest

from store.actions import clock, jobs, people
from store.actions.trouble import MayNot, NoPin, PinNeeded, PinWaits, WrongPin
from store.actions.undo import taking_back as undo
from store.file.change import By
from store.file.pins import FIRST_WAIT_S, FREE_TRIES
from store.rules.roles import TABLE, Act
from tests.store.actions.made import PIN, World
from tests.store.actions.role_acts import ACTS
from tests.store.actions.role_shops import with_strangers

WRONG = "1357"
EVERYBODY = ("T1", "APP", "FOR", "OWN")
OWN_PIN = "set own pin"
"""A first PIN is set with the badge alone, a new one with the old one: see its own tests."""


def test_every_act_of_the_table_is_tried_here() -> None:
    assert set(get_args(Act)) == set(TABLE) == {*ACTS, OWN_PIN}


def _by(world: World, badge: str, pin: str | None) -> By:
    return world.by(badge, pin=pin)


def _no_pin(world: World, badge: str) -> None:
    """The person never set one; written where the file keeps it, since no act takes one away."""
    with world.shop.beside() as db:
        db.execute(
            "delete from pin_private where person = (select person from person where badge = ?)",
            [badge],
        )
    world.shop.proven.clear()


@pytest.mark.parametrize("name", sorted(ACTS))
@pytest.mark.parametrize("badge", EVERYBODY)
def test_the_table_is_what_the_actions_do(world: World, name: Act, badge: str) -> None:
    before, doing = ACTS[name]
    world.to(9)
    job = world.take(lift=None if name == "move job" else "1")
    before(world, job, badge)
    may = TABLE[name]
    role = {"OWN": "owner", "FOR": "foreman"}.get(badge, "technician")
    world.shop.proven.clear()
    if role not in may.roles or (badge == "APP" and not may.apprentice):
        world.refused(lambda: doing(world, job, _by(world, badge, PIN)), kind=MayNot)
        world.refused(lambda: doing(world, job, _by(world, badge, None)), kind=MayNot)
        world.refused(lambda: doing(world, job, _by(world, badge, WRONG)), kind=MayNot)
        return
    if may.pin:
        world.refused(lambda: doing(world, job, _by(world, badge, None)), kind=PinNeeded)
        world.refused(lambda: doing(world, job, _by(world, badge, WRONG)), kind=WrongPin)
        kept = world.all("select * from pin_private")
        _no_pin(world, badge)
        world.refused(lambda: doing(world, job, _by(world, badge, PIN)), kind=NoPin)
        with world.shop.beside() as db:
            db.execute("delete from pin_private")
            db.executemany("insert into pin_private values (?, ?, ?, ?, ?, ?)", kept)
    length = world.events()
    doing(world, job, _by(world, badge, PIN if may.pin else None))
    assert world.events() > length


STRANGERS = {"GON": "not on the roll", "ZZ": "Nobody here", "": "Nobody here", " ": "Nobody here"}
"""Badges that do nothing at all: of somebody who left, of nobody."""


@pytest.mark.parametrize("name", sorted(ACTS))
def test_whoever_is_nobody_here_does_none_of_it(world: World, name: Act) -> None:
    before, doing = ACTS[name]
    world.to(9)
    job = world.take(lift=None if name == "move job" else "1")
    before(world, job, "T2")
    with_strangers(world)
    for badge, says in STRANGERS.items():
        for pin in (PIN, None):
            world.refused(lambda: doing(world, job, _by(world, badge, pin)), says)  # noqa: B023


def test_a_first_pin_takes_the_badge_and_a_new_one_the_old_one(world: World) -> None:
    people.add_person(world.shop, world.by("OWN"), badge="NEW", name="New", role="technician")
    people.set_pin(world.shop, world.by("NEW", pin=None), badge="NEW", pin="1111")
    world.refused(
        lambda: people.set_pin(world.shop, world.by("NEW", pin=None), badge="NEW", pin="2222"),
        kind=PinNeeded,
    )
    world.refused(
        lambda: people.set_pin(world.shop, world.by("NEW", pin="9999"), badge="NEW", pin="2222"),
        kind=WrongPin,
    )
    people.set_pin(world.shop, world.by("NEW", pin="1111"), badge="NEW", pin="2222")
    world.refused(
        lambda: people.set_pin(world.shop, world.by("NEW", pin="1111"), badge="NEW", pin="3333"),
        kind=WrongPin,
    )


def _promise(world: World, pin: str, job: str) -> Callable[[], object]:
    return lambda: jobs.promise(
        world.shop, world.by("FOR", minutes=0, pin=pin), job=job, at=world.at(9, 0, 5)
    )


def test_wrong_tries_are_counted_and_then_one_waits_longer_and_longer(world: World) -> None:
    job = world.take()
    world.shop.proven.clear()
    for _ in range(FREE_TRIES):
        world.refused(_promise(world, WRONG, job), kind=WrongPin)
    world.refused(_promise(world, PIN, job), f"Wait {FIRST_WAIT_S} seconds", kind=PinWaits)
    world.now += timedelta(seconds=FIRST_WAIT_S)
    world.refused(_promise(world, WRONG, job), kind=WrongPin)
    world.refused(_promise(world, PIN, job), f"Wait {2 * FIRST_WAIT_S} seconds", kind=PinWaits)
    world.now += timedelta(seconds=2 * FIRST_WAIT_S)
    _promise(world, PIN, job)()
    assert world.one("select count(*) from pin_tries") == 0


def test_tries_of_another_process_count_too(world: World) -> None:
    job = world.take()
    script = (
        "import sys; from datetime import datetime; from pathlib import Path\n"
        "from store.actions import jobs; from store.actions.trouble import WrongPin\n"
        "from store.file.change import By; from store.file.shop import Shop\n"
        "now = datetime.fromisoformat(sys.argv[2])\n"
        "try: jobs.promise(Shop(Path(sys.argv[1])), By('FOR', 't2', now, pin='1357'),"
        " job=sys.argv[3], at=now)\n"
        "except WrongPin: sys.exit(7)\n"
    )
    root = Path(__file__).parents[3]
    for _ in range(FREE_TRIES):
        done = subprocess.run(
            [sys.executable, "-c", script, str(world.shop.path), world.now.isoformat(), job],
            cwd=root, check=False,
        )  # fmt: skip
        assert done.returncode == 7
    world.shop.proven.clear()
    world.refused(_promise(world, PIN, job), kind=PinWaits)


def test_whoever_left_or_has_not_come_yet_does_nothing(world: World) -> None:
    job = world.take()
    people.change_person(world.shop, world.by("OWN"), badge="T1", until_day=date(2026, 10, 12))
    world.on("T1", job, "1")
    world.to(8, 0, 1)
    world.refused(lambda: world.on("T1", job, "1"), "not on the roll")
    world.refused(lambda: world.off("T1"), "not on the roll")
    people.add_person(
        world.shop, world.by("OWN"), badge="NEW", name="New", role="technician",
        from_day=date(2026, 11, 1),
    )  # fmt: skip
    world.refused(lambda: world.on("NEW", job, "1"), "not on the roll")


def test_a_badge_is_read_as_it_is_scanned(world: World) -> None:
    job = world.take()
    clock.clock_on(world.shop, replace(world.by("T1"), badge=" t1\r\n"), job=job, phase="1")
    undo.undo(world.shop, replace(world.by("T1"), badge="t1"))
    world.refused(lambda: world.on("", job, "1"), "Nobody here")
    world.refused(lambda: world.on("T9\n9", job, "1"), "Nobody here")


def test_the_last_owner_stays_and_no_apprentice_leads(world: World) -> None:
    world.refused(
        lambda: people.change_person(world.shop, world.by("OWN"), badge="OWN", role="foreman"),
        "at least one owner",
    )
    world.refused(
        lambda: people.change_person(
            world.shop, world.by("OWN"), badge="OWN", until_day=date(2026, 12, 1)
        ),
        "at least one owner",
    )
    world.refused(
        lambda: people.change_person(
            world.shop, world.by("OWN"), badge="OWN", experience="apprentice 1"
        ),
        "apprentice is no owner",
    )
