"""The customer's word: tried for, line by line, within a ceiling or what was agreed ahead."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import pytest

from store.actions import calls, ceilings, holding, jobs
from store.actions.trouble import NoSuch
from store.actions.undo import taking_back as undo
from store.edges.events.desk import CustomerOfJob
from store.edges.events.jobs import CustomerKnown
from store.edges.events.route import EstimateAgreed
from store.edges.instants import to_text
from store.file.job_money import AHEAD, reckoned, terms_of
from store.file.ledger import rows
from store.file.privates import THE_CUSTOMER, said_by
from store.file.verify import verify
from store.views.floor import floor
from store.views.job import job_card
from tests.store.actions.made import World
from tests.store.made_calls import load_away, take_away

RATE = 90.0


@pytest.fixture
def shop(world: World) -> Iterator[World]:
    """With the book of the work of another firm."""
    world.to(8)
    load_away(world)
    yield world
    found = verify(world.shop.path)
    assert found.ok, found.says


def within(w: World, ceiling: float) -> str:
    return take_away(w, basis="ceiling", ceiling=ceiling)


def found(w: World, job: str, phase: str = "1", hours: float | None = 1.0, **more: object) -> None:
    holding.find(
        w.shop, w.by("T2"), job=job, phase=phase, kind="surprise", text=f"stud in {phase}",
        hours=hours, **more,  # type: ignore[arg-type]
    )  # fmt: skip


def answer(w: World, job: str, *, approve: bool = True, **given: object) -> None:
    holding.answer_supplement(w.shop, w.by("FOR"), job=job, approve=approve, **given)  # type: ignore[arg-type]


def expected(w: World, job: str) -> float:
    with w.shop.reading() as db:
        both = reckoned(db, job, w.now).expected
    assert both is not None
    return both[0]


def states(w: World, job: str) -> list[object]:
    return [
        one[0] for one in w.all("select state from supplement where job = ? order by line", job)
    ]


# -- calls


def test_a_call_is_written_down_with_what_came_of_it(shop: World) -> None:
    job = within(shop, 2000)
    calls.note_call(
        shop.shop, shop.by("T2"), job=job, means=" Telephone ", reached=False, text="nobody",
        again=shop.at(14),
    )  # fmt: skip
    row = shop.all("select means, reached, text, again from call")
    assert row == [("telephone", 0, "nobody", to_text(shop.at(14)))]


def test_a_closed_job_is_called_about_too(shop: World) -> None:
    done = jobs.take_small(shop.shop, shop.by("T2"), text="Bulb", vehicle="blue estate")
    job = done.job or ""
    shop.do("T2", job, "1")
    jobs.close(shop.shop, shop.by("FOR"), job=job)
    calls.note_call(shop.shop, shop.by("FOR"), job=job, means="letter", reached=True)
    undo.undo(shop.shop, shop.by("FOR"))
    assert shop.one("select withdrawn from call") == 1


def test_no_call_without_means_or_for_a_time_that_has_been(shop: World) -> None:
    job = within(shop, 2000)

    def call(*words: str, means: str = "letter", **more: object) -> None:
        shop.refused(
            lambda: calls.note_call(
                shop.shop, shop.by("FOR"), job=job, means=means, reached=True, **more  # type: ignore[arg-type]
            ),
            *words,
        )  # fmt: skip

    call("Say by what means", means="  ")
    call("has been", again=shop.at(7))
    call("far ahead", again=shop.at(7, day=500))
    shop.refused(
        lambda: calls.note_call(shop.shop, shop.by("FOR"), job="1", means="x", reached=True),
        kind=NoSuch,
    )


# -- line by line


def test_lines_are_answered_one_by_one_and_who_said_it_stays_outside(shop: World) -> None:
    job = within(shop, 2000)
    found(shop, job)
    found(shop, job, "2")
    answer(shop, job, lines=[2], told_by="Robin Invented", means="telephone")
    assert states(shop, job) == ["asked", "approved"]
    by = shop.one("select answered_by from supplement where line = 2")
    assert str(by).startswith("w-")
    with shop.shop.reading() as db:
        assert said_by(db, str(by)) == "Robin Invented"
    assert not shop.one("select count(*) from ledger where payload like '%Robin%'")
    holding.note_answer(shop.shop, shop.by("FOR"), job=job, told_by="customer", means="letter")
    assert shop.one("select answered_by from supplement where line = 2") == THE_CUSTOMER
    assert shop.one("select reason from hold where phase = '1' and until is null") == "approval"


def test_extra_work_may_be_money_alone(shop: World) -> None:
    job = within(shop, 2000)
    before = shop.phase(job, "1").middle_h
    found(shop, job, hours=None, money=45)
    assert shop.all("select hours, money from supplement") == [(0.0, 45.0)]
    answer(shop, job)
    assert shop.phase(job, "1").middle_h == before
    shop.refused(
        lambda: holding.find(
            shop.shop, shop.by("T2"), job=job, phase="1", kind="advice", text="x", money=3
        ),
        "Only a surprise",
    )


# -- the ceiling


def test_what_passes_the_ceiling_is_refused_with_both_figures(shop: World) -> None:
    job = within(shop, 1)
    room = expected(shop, job)
    ceilings.set_ceiling(
        shop.shop, shop.by("FOR"), job=job, ceiling=room + RATE - 1, told_by="customer",
        means="telephone",
    )  # fmt: skip
    found(shop, job)
    shop.refused(
        lambda: answer(shop, job), f"{room + RATE:,.2f}", f"{room + RATE - 1:,.2f}", "--ceiling"
    )
    assert states(shop, job) == ["asked"]
    answer(shop, job, ceiling=room + RATE, told_by="Robin Invented", means="telephone")
    assert states(shop, job) == ["approved"]
    assert shop.one("select ceiling from job where job = ?", job) == room + RATE


def test_a_new_ceiling_is_somebodys_word_and_high_enough(shop: World) -> None:
    job = within(shop, 100)
    found(shop, job)
    shop.refused(lambda: answer(shop, job, ceiling=9000), "somebody's word")
    shop.refused(
        lambda: answer(shop, job, ceiling=150, told_by="customer", means="x"), "its ceiling is 150"
    )
    shop.refused(lambda: answer(shop, job, approve=False, ceiling=9000), "moves no ceiling")
    answer(shop, job, approve=False)

    def given(*words: str, **more: object) -> None:
        ask = {"job": job, "ceiling": 200, "told_by": "customer", "means": "letter", **more}
        shop.refused(lambda: ceilings.set_ceiling(shop.shop, shop.by("FOR"), **ask), *words)  # type: ignore[arg-type]

    given("is 100.00 already", ceiling=100)
    given("whose word", told_by=" ")
    given("no estimate with a ceiling", job=take_away(shop))


def test_the_job_without_a_ceiling_knows_none(shop: World) -> None:
    job = take_away(shop)
    found(shop, job, hours=900.0)
    shop.refused(lambda: answer(shop, job, ceiling=9000, told_by="c", means="x"), "leave the")
    answer(shop, job)


def test_a_fixed_price_grows_by_what_is_approved(shop: World) -> None:
    job = take_away(shop)
    found(shop, job, hours=None, money=45)
    found(shop, job, "2")
    answer(shop, job)
    with shop.shop.reading() as db:
        assert terms_of(db, job).extras == 45 + RATE


# -- agreed ahead


def test_within_the_free_hand_nobody_is_called(shop: World) -> None:
    job = take_away(shop)
    _free_hand(shop, job, 100)
    found(shop, job, money=60)
    answer(shop, job, means=AHEAD)
    assert shop.all("select state, answered_by, means from supplement") == [
        ("approved", THE_CUSTOMER, AHEAD)
    ]
    found(shop, job, "2", money=41)
    shop.refused(lambda: answer(shop, job, means=AHEAD), "41.00", "100.00", "40.00 is left")
    answer(shop, job, approve=False)


def test_nothing_is_agreed_ahead_that_was_not(shop: World) -> None:
    job = take_away(shop)
    found(shop, job)
    shop.refused(lambda: answer(shop, job, means=AHEAD), "Nothing was agreed ahead")
    shop.refused(lambda: answer(shop, job, means=AHEAD, approve=False), "not agreed ahead")
    answer(shop, job, told_by="customer")
    shop.refused(
        lambda: holding.note_answer(shop.shop, shop.by("FOR"), job=job, means=AHEAD),
        "not afterwards",
    )


def _free_hand(w: World, job: str, money: float) -> None:
    """Agreed again with a free hand, as the desk does it."""
    with w.shop.reading() as db:
        agreed = next(
            row for row in rows(db) if row.kind == "estimate-agreed" and job in row.payload
        )
    with w.shop.changing(w.by("FOR")) as change:
        change.record(
            EstimateAgreed.model_validate({**agreed.event().model_dump(), "free_hand": money})
        )


# -- what was used


def test_used_so_far_and_expected(shop: World) -> None:
    job = within(shop, 2000)
    shop.on("T2", job, "1")
    shop.now += timedelta(minutes=29)
    shop.off("T2")
    with shop.shop.reading() as db:
        got = reckoned(db, job, shop.now)
    assert got.used.labour == pytest.approx(0.5 * RATE, abs=1e-6)
    card = job_card(shop.shop, job, shop.now)
    assert got.left_h == (card.job.remaining.middle, card.job.remaining.cautious)


def test_whose_word_it_was_is_not_what_an_entry_says(shop: World) -> None:
    job = within(shop, 2000)
    found(shop, job)
    answer(shop, job, told_by="Robin Invented", means="telephone")
    last = floor(shop.shop, shop.now).last
    assert last is not None
    assert "extra work" in last
    undo.undo(shop.shop, shop.by("FOR"))
    assert "extra work" in str(floor(shop.shop, shop.now).last)
    assert states(shop, job) == ["asked"]


def test_a_customer_alone_is_no_entry_to_take_back(shop: World) -> None:
    job = within(shop, 2000)
    with shop.shop.changing(shop.by("FOR")) as change:
        change.record(CustomerKnown(customer="c-00000001"))
        change.record(CustomerOfJob(job=job, customer="c-00000001"))
    shop.refused(lambda: undo.undo(shop.shop, shop.by("FOR")), "stays on record")


def test_the_floor_says_when_the_customer_was_last_tried_for(shop: World) -> None:
    job = within(shop, 2000)
    calls.note_call(shop.shop, shop.by("FOR"), job=job, means="letter", reached=True)
    found(shop, job)

    def wanted() -> list[str]:
        return [one.says for one in floor(shop.shop, shop.now).wants if one.word == "ANSWER"]

    assert wanted() == [f"{job} customer's word: stud in 1, +1.0 h"]
    calls.note_call(
        shop.shop, shop.by("FOR", at=shop.at(8, 5)), job=job, means="telephone", reached=False
    )
    assert wanted() == [f"{job} customer's word (tried Mon 08:05): stud in 1, +1.0 h"]
    answer(shop, job, approve=False)
    found(shop, job, hours=None, money=1250)
    assert wanted() == [f"{job} customer's word: stud in 1, +1,250.00"]
