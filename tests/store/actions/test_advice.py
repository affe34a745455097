"""The customer's word on advice: declined, later, agreed; whether the risk was told."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from store.actions import advice, jobs, settings
from store.actions import holding as found
from store.file.privates import ERASED, THE_CUSTOMER
from store.file.verify import verify
from store.views.job import job_card
from tests.store.actions.made import World
from tests.store.made_calls import load_away, take_away


@pytest.fixture
def job(world: World) -> Iterator[str]:
    """With advice found in its first phase."""
    world.to(8)
    load_away(world)
    taken = take_away(world, basis="ceiling", ceiling=900)
    advise(world, taken, "hoses hard", 0.5)
    yield taken
    assert verify(world.shop.path).ok


def advise(w: World, job: str, text: str, hours: float | None) -> int:
    return found.find(
        w.shop, w.by("T2"), job=job, phase="1", kind="advice", text=text, hours=hours
    ).recorded[0]


def say(w: World, job: str, answer: advice.Answer, finding: int = 0, **more: object) -> str:
    which = finding or w.one("select min(seq) from finding")
    return advice.answer_advice(
        w.shop, w.by("FOR"), job=job, finding=which, answer=answer, **more  # type: ignore[arg-type]
    ).says  # fmt: skip


def test_declined_says_whether_the_risk_was_told(world: World, job: str) -> None:
    assert "the risk was not told" in say(world, job, "declined")
    assert "the risk was told" in say(world, job, "declined", risk_told=True)
    assert world.all("select answer, risk_told, by from advice") == [("declined", 1, THE_CUSTOMER)]


def test_agreed_becomes_approved_extra_work(world: World, job: str) -> None:
    before = world.phase(job, "1").middle_h
    say(world, job, "agreed", told_by="customer", means="Telephone")
    assert world.all("select text, hours, money, state, means from supplement") == [
        ("hoses hard", 0.5, 45.0, "approved", "telephone")
    ]
    assert world.phase(job, "1").middle_h == before + 0.5
    assert world.one("select count(*) from hold where until is null") == 0
    world.refused(lambda: say(world, job, "declined"), "agreed already")


def test_agreed_takes_hours_a_phase_that_goes_on_and_money_that_is_there(
    world: World, job: str
) -> None:
    other = advise(world, job, "mounts soft", None)
    world.refused(lambda: say(world, job, "agreed", other), "how many hours", "--hours")
    world.do("T2", job, "1")
    world.refused(lambda: say(world, job, "agreed", other, hours=1), "finished", "--phase")
    world.refused(lambda: say(world, job, "agreed", other, hours=90, phase="2"), "its ceiling is")
    say(world, job, "agreed", other, hours=0.2, phase="2")
    assert world.one("select phase from supplement") == "2"


def test_what_is_no_advice_of_the_job_is_refused(world: World, job: str) -> None:
    world.refused(lambda: say(world, job, "later", 3), "no such advice")
    world.refused(lambda: say(world, job, "later", hours=2), "belong to advice that was agreed")
    world.refused(lambda: say(world, job, "later", means="  "), "by what means")


def test_later_may_be_said_when_the_job_is_closed(world: World) -> None:
    world.to(8)
    job = jobs.take_small(world.shop, world.by("T2"), text="Bulb", vehicle="van").job or ""
    finding = advise(world, job, "tyres old", None)
    world.do("T2", job, "1")
    jobs.close(world.shop, world.by("FOR"), job=job)
    say(world, job, "later", finding)
    world.refused(lambda: say(world, job, "agreed", finding, hours=1), "closed")


def test_a_word_after_an_erasure_belongs_to_somebody_new(world: World) -> None:
    world.to(8)
    job = jobs.take_small(world.shop, world.by("T2"), text="Bulb", vehicle="van").job or ""
    finding = advise(world, job, "tyres old", None)
    world.do("T2", job, "1")
    say(world, job, "later", finding, told_by="Robin Invented")
    jobs.close(world.shop, world.by("FOR"), job=job)
    before = world.one("select customer from job where job = ?", job)
    settings.erase_customer(world.shop, world.by("FOR"), customer=str(before))
    assert job_card(world.shop, job, world.now).advice[0].by == ERASED
    say(world, job, "declined", finding, told_by="Sam Invented")
    assert world.one("select customer from job where job = ?", job) != before
    assert job_card(world.shop, job, world.now).advice[0].by == "Sam Invented"
    assert verify(world.shop.path).ok
