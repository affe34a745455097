"""What is to be done about each kit, verb by verb, in a made shop."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from store.actions.hires import asked as hires
from store.actions.hires import kit_dates
from store.file.facts import calendar_of
from store.views.bay import bay
from store.views.estimate import estimate
from store.views.floor import floor
from store.views.job import job_card
from store.views.needs import needs
from store.views.tools.kit_needs import kit_needs
from store.views.tools.page import tools
from tests.store.actions.made import BOOK, World, make
from tests.store.views.test_ready import using_the_link
from tests.store.views.tools_shop import CAPTIVE, OWNED, TERMS, Loans, at, slower

LONG = slower("[6.0, 14.0, 34.0]")
QUICK = slower("[0.2, 0.3, 0.5]")
MANY = 12
"""Kits more, all of which one phase needs."""


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> World:
    world = make(tmp_path)
    world.to(8)
    return world


@pytest.fixture(name="loans")
def loans_fixture(world: World) -> Loans:
    return Loans(world)


def test_a_kit_that_nobody_needs_goes_back_today_and_the_idle_days_are_told(loans: Loans) -> None:
    loans.hire(None, loans.world.at(15, 30, day=3))
    kit = loans.kit()
    assert (kit.verb, kit.says) == ("SEND BACK", "nobody needs it: 3 idle days, 66 lost")
    assert loans.advice().best.command == ("hire", "return", "link")
    assert loans.advice().instead_of == pytest.approx(90 + 2 * 12)


def test_a_kit_that_nobody_needs_stays_where_sooner_saves_nothing(world: World) -> None:
    loans = Loans(world, at(TERMS, rates={"minimum_days": 6}))
    loans.hire(None, world.at(15, 30, day=3))
    kit = loans.kit()
    assert kit.verb is None
    assert "sooner than Thu 15:30 saves nothing" in kit.says


def test_a_kit_that_another_build_spares_is_to_be_sent_back(world: World) -> None:
    loans = Loans(world)
    job = world.take()
    loans.hire(job, world.at(15, 30, day=3))
    assert loans.kit().needed_by
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.sign("T2", job, "GB-off:1")
    world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.12})
    world.sign("T1", job, "LK")
    world.finish("T2", job, "2")
    world.on("T2", job, "3")
    world.sign("T2", job, "BU", answer="B")
    kit = loans.kit()
    assert kit.needed_by == ()
    assert (kit.verb, kit.says) == ("SEND BACK", "nobody needs it: 3 idle days, 66 lost")
    (act,) = [one.act for one in needs(world.shop, world.now).needs if one.act.kind == "kit back"]
    assert "nobody needs chain link tool any more" in act.says


def test_a_job_that_could_use_an_idle_kit_is_named(loans: Loans) -> None:
    other = loans.job()
    done = loans.world.take("WP", None)
    loans.hire(done, loans.world.at(15, 30, day=3))
    assert f"swap with {other}?" in next(
        one.best.says for one in loans.kit().advised if one.job == done
    )


def test_a_kit_due_today_goes_back_before_the_cut_off(world: World) -> None:
    loans = Loans(world, at(TERMS, late=0.2))
    loans.book(QUICK)
    loans.hire(world.take(lift="1"), world.at(15, 30))
    kit = loans.kit()
    assert kit.verb == "SEND BACK"
    assert kit.says.startswith("today 15:30; done by 1")
    assert kit.by == world.at(15, 30)
    assert kit.chance is not None
    assert 0.5 < kit.chance <= 1


def test_a_kit_that_is_needed_longer_is_extended(loans: Loans) -> None:
    loans.book(LONG)
    job = loans.job()
    loans.hire(job, loans.world.at(15, 30, day=1))
    kit, advice = loans.kit(), loans.advice()
    assert (kit.verb, advice.best.do) == ("EXTEND", "extend")
    assert "beat late fee (36 a day, " in kit.says
    assert advice.best.command is not None
    assert advice.best.command[:4] == ("hire", "extend", "link", "--due")
    assert advice.best.cost is not None
    assert advice.instead_of is not None
    assert advice.best.cost < advice.instead_of


def test_what_is_advised_can_be_done_as_it_is_printed(loans: Loans) -> None:
    loans.book(LONG)
    job = loans.job()
    advice = loans.advice()
    assert advice.best.do == "ask"
    loans.ask(job, expected=advice.best.since, due=advice.best.until)
    kit = loans.kit()
    assert kit.verb is None
    assert kit.hires[0].terms == TERMS
    assert kit.hires[0].due == advice.best.until


def test_an_overdue_kit_says_what_each_day_costs(loans: Loans) -> None:
    loans.book(LONG)
    job = loans.job()
    loans.hire(job, loans.world.at(15, 30, day=1))
    loans.world.to(9, day=2)
    kit = loans.kit()
    assert kit.verb == "OVERDUE"
    assert kit.says.startswith("was due Tue 13 Oct: agree ")
    assert kit.says.endswith("; each day 24 and 36 late")


def test_what_comes_today_is_to_be_received_and_what_is_late_asked_after(loans: Loans) -> None:
    job = loans.job()
    loans.ask(job, expected=loans.world.at(10, day=1))
    assert loans.kit().verb is None
    assert loans.kit().says.startswith("comes Tue 10:00 from Loan")
    loans.world.to(8, day=1)
    kit = loans.kit()
    assert (kit.verb, kit.says) == ("RECEIVE", "expected today 10:00 from Loan")
    loans.world.to(8, day=2)
    kit = loans.kit()
    assert (kit.verb, kit.says) == ("RECEIVE", "was expected Tue 13 Oct: ask Loan where it is")


def test_what_was_asked_for_and_nobody_needs_is_called_off(loans: Loans) -> None:
    loans.ask(None, due=loans.world.at(15, 30, day=3))
    kit = loans.kit()
    assert (kit.verb, kit.says) == ("CALL OFF", "nobody needs it any more")
    assert loans.advice().best.command == ("hire", "cancel", "link")


@pytest.mark.parametrize(
    ("lacks", "says"),
    [
        ({"complete": False, "note": "one pin"}, "lacks one pin: ring Loan"),
        ({"wrong": True}, "the wrong variant came: ring Loan"),
    ],
)
def test_what_came_not_as_it_should_is_called_out(
    loans: Loans, lacks: dict[str, object], says: str
) -> None:
    loans.book(LONG)
    job = loans.job()
    loans.ask(job, due=loans.world.at(15, 30, day=4))
    loans.receive("link", job, **lacks)
    kit = loans.kit()
    assert (kit.verb, kit.says) == ("NOT WHOLE", says)
    assert kit.state == "on hand, not complete"
    hires.mend(loans.world.shop, loans.world.by("T1"), kit="link")
    assert loans.kit().verb != "NOT WHOLE"


def test_what_is_needed_and_not_hired_is_asked_for_with_its_money(loans: Loans) -> None:
    loans.book(QUICK)
    job = loans.job()
    kit = loans.kit()
    assert (kit.verb, loans.advice().job) == ("ASK", job)
    assert "from Tue 07:30: 24 and carriage 24" in kit.says
    assert kit.terms == TERMS


def test_without_terms_days_and_chances_are_told_and_no_money(world: World) -> None:
    world.take(lift=None)
    kit = next(one for one in tools(world.shop, world.now).kits if one.code == "link")
    assert kit.verb == "ASK"
    assert "no supplier's terms are known" in kit.says
    assert kit.advice is not None
    assert (kit.advice.best.cost, kit.advice.instead_of) == (None, None)
    assert {row.total for row in kit.advice.days} == {None}
    shares = [row.needed for row in kit.advice.days]
    assert shares == sorted(shares, reverse=True)


def test_an_open_hire_keeps_the_terms_it_was_asked_for_under(loans: Loans) -> None:
    loans.hire(loans.job(), loans.world.at(15, 30, day=1))
    loans.offer(at(TERMS, rates={"day": 50.0, "week": 200.0}))
    kit = loans.kit()
    assert kit.terms == TERMS
    loans.world.now = loans.world.at(8, 30)
    before = loans.advice().days
    loans.offer(at(TERMS, rates={"day": 60.0, "week": 240.0}, late=9.0))
    loans.world.now = loans.world.at(8, 30)
    assert loans.advice().days == before


def test_two_jobs_that_want_the_only_kit_clash_and_the_ways_out_cost(world: World) -> None:
    loans = Loans(world)
    loans.book(OWNED)
    jobs = (world.take(lift="1"), world.take(lift="2"))
    kit = loans.kit()
    assert kit.verb == "CLASH"
    (clash,) = loans.look().clashes
    assert set(clash.jobs) == set(jobs)
    assert clash.chance > 0.2
    assert clash.since < clash.until
    assert {one.do for one in clash.ways} == {"wait", "swap order", "second kit"}
    costs = [one.cost for one in clash.ways if one.cost is not None]
    assert costs == sorted(costs)


def test_a_clash_is_as_likely_as_draws_lie_over_each_other(world: World) -> None:
    loans = Loans(world)
    loans.book(OWNED.replace("hours = [1.1, 1.6, 2.6]", "hours = [0.6, 0.8, 1.2]"))
    first = world.take(lift="1")
    world.do("T1", first, "1")
    world.take(lift="2")
    with world.shop.reading() as db:
        one, two = kit_needs(db, calendar_of(db), world.now)["link"]
    over = [max(a[0], b[0]) < min(a[1], b[1]) for a, b in zip(one.draws, two.draws, strict=True)]
    (clash,) = loans.look().clashes
    assert clash.chance == pytest.approx(sum(over) / len(over), abs=1e-9)
    assert 0 < clash.chance < 1


def test_two_jobs_with_a_hire_each_do_not_clash(world: World) -> None:
    loans = Loans(world)
    for lift in ("1", "2"):
        loans.hire(world.take(lift=lift), world.at(15, 30, day=3))
    assert loans.look().clashes == ()


def test_a_kit_whose_date_ran_out_is_called_out_where_it_is_needed(world: World) -> None:
    loans = Loans(world)
    loans.book(OWNED)
    kit_dates.know_date(
        world.shop, world.by("OWN"), kit="link", until=date(2026, 10, 5), source="bench"
    )
    quiet = loans.kit()
    assert quiet.verb is None
    assert "inspect it before it is used" in quiet.says
    job = world.take(lift="1")
    kit = loans.kit()
    assert (kit.verb, kit.valid_until) == ("OUT OF DATE", date(2026, 10, 5))
    assert f"{job} needs it" in kit.says


def test_whoever_works_with_a_kit_that_goes_back_today_sees_it_in_the_bay(world: World) -> None:
    loans = Loans(world)
    job = world.take()
    loans.hire(job, world.at(15, 30))
    using_the_link(world, job)
    says = "kit chain link tool goes back to Loan today, 15:30"
    assert says in bay(world.shop, "T2", world.now).blocks
    world.to(9, day=1)
    late = "kit chain link tool was due at Loan Mon 12 Oct: each day 24 and 36 late"
    assert late in bay(world.shop, "T2", world.now).blocks
    assert late in [one.says for one in floor(world.shop, world.now).wants]


def test_the_job_card_says_how_sure_it_is_that_a_kit_goes_back_in_time(world: World) -> None:
    loans = Loans(world)
    loans.book(LONG)
    job = loans.job()
    loans.hire(job, world.at(15, 30, day=1))
    (kit,) = job_card(world.shop, job, world.now).tools
    found = next(one for one in loans.advice().days if one.day == date(2026, 10, 13))
    assert kit.in_time == pytest.approx(1 - found.needed)


def test_a_captive_kit_is_only_ever_extended(world: World) -> None:
    loans = Loans(world)
    world.to(8, 10)
    loans.book(CAPTIVE)
    loans.hire(None, world.at(15, 30))
    job = using_the_link(world)
    world.finish("T2", job, "4")
    loans.job()
    kit = loans.kit()
    assert kit.state == f"fixed on {job}.4"
    needed = kit.needed_by[0]
    assert (needed.job, needed.captive, needed.begun) == (job, True, True)
    advice = kit.advised[0]
    assert {one.do for one in advice.ways} <= {"extend", "send back", "keep"}


def test_two_looks_at_an_unchanged_shop_are_equal(loans: Loans) -> None:
    loans.hire(loans.job(), loans.world.at(15, 30, day=1))
    loans.job()
    assert loans.look() == loans.look()


def test_more_kits_take_as_many_questions(tmp_path: Path) -> None:
    names = [f"k{n}" for n in range(MANY)]
    kits = "".join(f'[[kit]]\ncode = "{one}"\nname = "{one}"\nowned = false\n' for one in names)
    need = "".join(f'[[phase.kit]]\nkit = "{one}"\n' for one in ("link", *names))
    more = BOOK.replace('[[kit]]\ncode = "locks"', f'{kits}[[kit]]\ncode = "locks"')
    more = more.replace('[[phase.kit]]\nkit = "link"\n', need)
    asked: list[int] = []
    for name, book, codes in (("few", LONG, ["link"]), ("many", more, ["link", *names])):
        (tmp_path / name).mkdir()
        loans = Loans(make(tmp_path / name))
        loans.book(book)
        for one in codes[1:]:
            loans.offer(TERMS, one)
        loans.world.take(lift="1")
        assert len([one for one in loans.look().kits if one.verb]) == len(codes)
        asked.append(_questions(loans))
    assert asked[0] == asked[1]


def _questions(loans: Loans) -> int:
    asked: list[str] = []
    with loans.world.shop.reading() as db:
        db.set_trace_callback(asked.append)
    try:
        loans.look()
    finally:
        with loans.world.shop.reading() as db:
            db.set_trace_callback(None)
    return sum(one.lstrip().lower().startswith("select") for one in asked)


def test_an_estimate_says_what_its_kits_cost_and_which_job_has_one_then(world: World) -> None:
    loans = Loans(world)
    loans.book(OWNED)
    other = world.take(lift="1")
    found = estimate(world.shop, world.now, operations=["TC"], family="B4-M-F")
    (kit,) = found.kits
    assert (kit.owned, kit.days, kit.cost) == (True, 0, 0.0)
    assert kit.says.startswith(f"taken by {other} then, till ")
    (clash,) = found.clashes
    assert other in clash.jobs
    assert {one.do for one in clash.ways} >= {"wait", "second kit"}


def test_an_estimate_prices_a_hire_at_the_suppliers_terms(world: World) -> None:
    before = estimate(world.shop, world.now, operations=["TC"], family="B4-M-F")
    assert [(one.cost, one.clashes) for one in before.kits] == [(None, ())]
    assert before.kits_money == 0
    loans = Loans(world)
    found = estimate(world.shop, world.now, operations=["TC"], family="B4-M-F")
    (kit,) = found.kits
    assert kit.supplier == "Loan"
    assert kit.cost is not None
    assert kit.cost >= 24 + 2 * 12
    loans.offer(at(TERMS, rates={"day": 48.0, "week": 180.0, "carriage": 12.0}))
    dearer = estimate(world.shop, world.now, operations=["TC"], family="B4-M-F").kits[0]
    assert dearer.cost is not None
    assert dearer.cost > kit.cost
