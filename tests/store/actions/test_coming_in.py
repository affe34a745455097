"""A job comes in ready, or on the foreman's word, and then what lacked stands in the record."""

from __future__ import annotations

import json

import pytest

from store.actions import jobs, parts, places
from store.actions.acting import Done
from store.actions.hires import asked as hires
from store.actions.trouble import MayNot, PinNeeded
from store.actions.undo import taking_back as undo
from store.file.verify import verify
from store.file.words_of import in_words
from store.views.job import job_card
from tests.store.actions.made import World

LACKS = ["parts 2 of 2, not ordered", "kit: chain link tool"]


def come_in(world: World, job: str, badge: str, lift: str = "1", pin: str | None = "") -> Done:
    return places.move(world.shop, world.by(badge, pin=pin), job=job, place=lift, lift=True)


def get_ready(world: World, job: str) -> None:
    parts.move_parts(world.shop, world.by("T1"), job=job, lines=[1, 2], state="here")
    hires.ask(world.shop, world.by("FOR"), kit="link", supplier="Loan", job=job,
              expected=world.at(12, day=1))  # fmt: skip


def unready(world: World, job: str) -> object:
    found = world.one("select unready from job where job = ?", job)
    return None if found is None else json.loads(str(found))


def test_a_technician_brings_in_what_is_ready(world: World) -> None:
    world.to(8)
    job = world.take(lift=None)
    get_ready(world, job)
    assert come_in(world, job, "T1", pin=None).says.startswith(f"{job} is on lift 1.")
    assert unready(world, job) is None


@pytest.mark.parametrize("badge", ["T1", "T2"])
def test_what_is_not_ready_takes_the_foremans_word(world: World, badge: str) -> None:
    world.to(8)
    job = world.take(lift=None)
    world.refused(
        lambda: come_in(world, job, badge), "is not ready", *LACKS, "takes the foreman's word",
        kind=MayNot,
    )  # fmt: skip


@pytest.mark.parametrize("badge", ["FOR", "OWN"])
def test_a_foreman_or_owner_brings_it_in_with_their_pin_and_it_is_recorded(
    world: World, badge: str
) -> None:
    world.to(8)
    job = world.take(lift=None)
    world.shop.proven.clear()
    world.refused(lambda: come_in(world, job, badge, pin=None), kind=PinNeeded)
    says = come_in(world, job, badge).says
    assert f"It was not ready: {'; '.join(LACKS)}." in says
    assert unready(world, job) == LACKS
    with world.shop.reading() as db:
        from store.file.ledger import rows

        line = [in_words(db, row) for row in rows(db) if row.kind == "placed"][-1]
    assert line == f"{job} to lift 1, not ready: {'; '.join(LACKS)}"
    assert list(job_card(world.shop, job, world.now).unready) == LACKS
    undo.undo(world.shop, world.by(badge))
    assert unready(world, job) is None
    assert verify(world.shop.path).ok


def test_a_job_that_is_taken_onto_a_lift_at_once_is_recorded_the_same_way(world: World) -> None:
    world.to(8)
    job = world.take(lift="1")
    assert unready(world, job) == LACKS


def test_a_hold_is_something_that_lacks(world: World) -> None:
    from store.actions import holding

    world.to(8)
    job = world.take(lift=None)
    get_ready(world, job)
    holding.hold(world.shop, world.by("T1"), job=job, phase=None, reason="approval")
    world.refused(lambda: come_in(world, job, "T1"), "held: approval", kind=MayNot)


def test_small_jobs_and_what_was_on_a_lift_before_lack_nothing(world: World) -> None:
    world.to(8)
    small = jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="car").job or ""
    come_in(world, small, "T1", "2", pin=None)
    job = world.take(lift="1")
    places.move(world.shop, world.by("T1"), job=job, place="Y", lift=False)
    come_in(world, job, "T1", pin=None)
    assert unready(world, job) == LACKS, "as it was when it first came in"


def test_a_lift_that_is_too_weak_is_refused_before_anybody_gives_a_word(world: World) -> None:
    world.to(8)
    job = world.take(lift=None, mass=3500)
    world.refused(lambda: come_in(world, job, "T1", "3"), "3,500 kg", "3,000 kg")
