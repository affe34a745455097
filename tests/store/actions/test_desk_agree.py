"""Quotes, and the customer's word on them."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date

import pytest

from store.actions.agreeing import worked_out
from store.actions.desk import acts as desk
from store.file.verify import verify
from tests.store.actions.made import World
from tests.store.made_desk import FAMILY, KIM, agreed, arrived, enquiry, passed, with_checks


@pytest.fixture(autouse=True)
def _checked(world: World) -> None:
    with_checks(world)


def quote(world: World, job: str, **said: object) -> Callable[[], object]:
    return lambda: desk.quote(world.shop, world.by("FOR"), job=job, **said)  # type: ignore[arg-type]  # what was typed


def agree(world: World, job: str, **said: object) -> Callable[[], object]:
    full = {"basis": "time", "said_by": "the customer", "means": "telephone", **said}
    return lambda: desk.agree(world.shop, world.by("FOR"), job=job, **full)  # type: ignore[arg-type]  # what was typed


def ways(world: World, job: str, number: int = 1) -> list[dict[str, object]]:
    found = world.one("select ways from quote where job = ? and quote = ?", job, number)
    assert isinstance(found, str)
    return list(json.loads(found)["ways"])


# -- the quote


def test_both_prices_of_a_fork_stand_side_by_side(world: World) -> None:
    job = enquiry(world, "SE")
    quote(world, job)()
    told = [(one["text"], one["hours"]["middle"], one["labour"]) for one in ways(world, job)]  # type: ignore[index]  # a document
    assert told == [("seal", 4.1, 369.0), ("How is the seat? worn", 5.1, 459.0)]


def test_what_is_known_forks_no_more(world: World) -> None:
    job = enquiry(world, "SE")
    desk.choose_work(
        world.shop, world.by("T1"), job=job, operations=["SE"], options={"seat": "worn"}
    )
    quote(world, job)()
    assert [one["hours"]["middle"] for one in ways(world, job)] == [5.1]  # type: ignore[index]  # a document


def test_ways_may_be_said(world: World) -> None:
    job = enquiry(world, "SE")
    said = [desk.Way(["SE"], parts=80.0), desk.Way(["PU", "SE"], text="with the pump", kits=12.5)]
    quote(world, job, ways=said)()
    first, second = ways(world, job)
    assert (first["text"], first["parts"]) == ("seal", 80.0)
    assert (second["text"], second["operations"]) == ("with the pump", ["SE", "PU"])
    world.refused(quote(world, job, ways=[desk.Way(["XX"])]), "XX")


def test_a_range_told_by_voice_is_kept_and_changes_no_state(world: World) -> None:
    job = enquiry(world, "SE")
    quote(world, job, rough=True, means="telephone")()
    assert world.one("select state from job where job = ?", job) == "enquiry"
    quote(world, job, basis="time")()
    assert world.all("select quote, rough, state from quote where job = ?", job) == [
        (1, 1, "followed"), (2, 0, "open"),
    ]  # fmt: skip
    assert world.one("select state from job where job = ?", job) == "quoted"


def test_terms_that_cannot_be_are_refused(world: World) -> None:
    job = enquiry(world, "SE")
    world.refused(quote(world, job, basis="ceiling"), "says the ceiling")
    world.refused(quote(world, job, basis="time", ceiling=5.0), "--basis ceiling")
    world.refused(quote(world, job, promise=world.at(6)), "past")
    world.refused(quote(world, job, until=date(2026, 10, 1)), "past")


def test_unchosen_work_has_no_price(world: World) -> None:
    job = enquiry(world)
    world.refused(quote(world, job), "about")
    desk.choose_work(world.shop, world.by("T1"), job=job, operations=["SE"])
    world.refused(quote(world, job), "family")


# -- the word


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"said_by": ""}, "who agreed"),
        ({"said_by": "  "}, "who agreed"),
        ({"means": ""}, "how the word came"),
        ({"basis": "ceiling"}, "says the ceiling"),
        ({"quote": 7}, "no quote 7; it has 1"),
        ({"operations": ["XX"]}, "XX"),
    ],
)
def test_a_word_by_nobody_or_of_nothing_is_refused(
    world: World, said: dict[str, object], words: str
) -> None:
    job = arrived(world)
    quote(world, job)()
    world.refused(agree(world, job, **said), words)


def test_work_that_is_not_chosen_is_not_agreed(world: World) -> None:
    job = enquiry(world)
    world.refused(agree(world, job), "about")


def test_the_whole_word_is_kept(world: World) -> None:
    job = arrived(world)
    passed(world, job)
    quote(world, job, basis="ceiling", ceiling=500.0)()
    ahead = [desk.AnsweredAhead(about="seat worn", answer="sleeve it", money=90)]
    agree(
        world, job, basis="ceiling", ceiling=480.0, ahead=ahead, free_hand=100.0,
        promise=world.at(16, day=4), chance=0.8,
    )()  # fmt: skip
    assert world.all(
        "select state, basis, ceiling, free_hand, promise_chance from job where job = ?", job
    ) == [("waiting", "ceiling", 480.0, 100.0, 0.8)]
    told = world.all(
        "select estimate.by, means, quote, more from estimate join job on agreed_seq = seq "
        "where job.job = ?",
        job,
    )
    more = '{"ahead":[{"about":"seat worn","answer":"sleeve it","money":90.0}]}'
    assert told == [("the customer", "telephone", 1, more)]
    assert world.one("select state from quote where job = ?", job) == "agreed"


def test_somebody_else_s_name_stands_beside_the_ledger(world: World) -> None:
    job = arrived(world)
    agree(world, job, said_by="Aunt Sample")()
    word = world.one("select estimate.by from estimate join job on agreed_seq = seq")
    assert world.all("select word, text from private_word") == [(word, "Aunt Sample")]
    assert not world.all("select 1 from ledger where payload like '%Sample%'")


def test_the_customer_s_own_name_is_the_customer(world: World) -> None:
    job = arrived(world, customer=KIM)
    agree(world, job, said_by=KIM[0])()
    assert world.one("select estimate.by from estimate join job on agreed_seq = seq") == (
        "the customer"
    )


def test_a_part_may_be_agreed(world: World) -> None:
    job = arrived(world, "SE", "PU")
    quote(world, job)()
    agree(world, job, operations=["SE"])()
    assert world.all("select operations, work from job where job = ?", job) == [('["SE"]', "seal")]
    more = world.one("select more from estimate join job on agreed_seq = seq")
    assert json.loads(str(more))["left_out"] == ["pump"]
    codes = world.all("select code, state from phase where job = ? order by position", job)
    assert ("PQ", "skipped") in codes
    assert "P1" not in {one[0] for one in codes}
    assert verify(world.shop.path).ok


def test_more_may_be_agreed_than_was_quoted(world: World) -> None:
    job = arrived(world)
    quote(world, job)()
    agree(world, job, operations=["SE", "PU"])()
    codes = [one[0] for one in world.all("select code from phase order by position")]
    assert codes == ["R0", "SQ", "PQ", "S1", "S3", "P1", "Z0"]
    numbers = [str(one[0]) for one in world.all("select phase from phase order by position")]
    assert numbers[:2] == ["1", "2"]
    assert len(set(numbers)) == 7


def test_a_word_before_the_vehicle_is_here_lays_the_whole_route(world: World) -> None:
    job = enquiry(world, "SE")
    agree(world, job)()
    numbers = [one[0] for one in world.all("select phase from phase order by position")]
    assert numbers == ["1", "2", "3", "4", "5"]
    desk.arrive(world.shop, world.by("T1"), job=job)
    assert world.one("select state from job where job = ?", job) == "waiting"


def test_the_hours_that_were_shown_are_the_ones_that_are_frozen(world: World) -> None:
    job = arrived(world)
    told = worked_out(world.shop, world.now, operations=["SE"], family=FAMILY, options={}, grade=2)
    assert told is not None
    agree(world, job, told=told)()
    total = world.one(
        "select content ->> '$.total.mean' from estimate join job on agreed_seq = seq"
    )
    assert total == pytest.approx(told.hours.total.mean, abs=1e-4)


def test_it_is_agreed_once(world: World) -> None:
    job = arrived(world)
    agreed(world, job)
    world.refused(agree(world, job), "agreed already")
    world.refused(quote(world, job), "agreed already")
