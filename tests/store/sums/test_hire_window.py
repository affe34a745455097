"""Hire windows against brute force: every pair of days, day by day and minute by minute."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, time, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from store.sums.hires.needs import need_of
from store.sums.hires.terms import House, Rates, Terms
from store.sums.hires.window import Asked, Window, best_window, by_return_day
from tests.store.sums import hire_by_hand as by_hand
from tests.store.sums.hire_by_hand import DAY, SHOP, Draw, Draws, day_of, need, number_of

KIT = Terms(Rates(day=31, week=120, month=350, minimum_days=3, carriage=15), House(time(15, 30)))
ARRIVALS = (0.85, 0.1, 0.05)
LIFT = 150.0
DAYS = 16
few = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def drawn(
    seed: int, *, after_h: float = 20, needs_h: float = 14, many: int = 48, sometimes: float = 0
) -> Draws:
    """Starts about so many open hours from Monday morning on, and so long; sometimes never."""
    dice = random.Random(seed)

    def one() -> Draw | None:
        after = dice.lognormvariate(0, 0.4) * after_h * 60
        long = dice.lognormvariate(0, 0.5) * needs_h * 60
        start = by_hand.later(by_hand.OPENS, int(after))
        return None if dice.random() < sometimes else Draw(start, by_hand.later(start, int(long)))

    return [one() for _ in range(many)]


def asked(terms: Terms = KIT, lift_day: float = LIFT) -> Asked:
    return Asked(SHOP, terms, ARRIVALS, lift_day)


def placed(found: Window) -> tuple[int, int]:
    return number_of(found.best.delivery), number_of(found.best.back)


def compared(
    found: Window, terms: Terms, jobs: Sequence[Draws], lift_day: float, first: int
) -> None:
    """Every row costs what it costs by hand, part by part, and no pair of days costs less."""
    for row in {*found.by_back, *found.by_delivery}:
        pair = number_of(row.delivery), number_of(row.back)
        true = by_hand.mixed(terms, jobs, *pair, lift_day, ARRIVALS)
        assert row.cost.hire == pytest.approx(true.hire, abs=1e-6)
        assert row.cost.late == pytest.approx(true.late, abs=1e-6)
        assert row.cost.waiting == pytest.approx(true.waiting, abs=1e-6)
        assert row.cost.carriage == 2 * terms.rates.carriage
        assert row.needed == pytest.approx(true.needed, abs=1e-9)
    least, pairs = by_hand.best(terms, jobs, first, lift_day, ARRIVALS, DAYS)
    assert found.best.cost.total - found.best.cost.carriage == pytest.approx(least, abs=1e-6)
    assert placed(found) in pairs


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_window_is_the_cheapest_pair_of_all_and_its_rows_cost_what_they_cost_by_hand(
    seed: int,
) -> None:
    draws = drawn(seed)
    compared(best_window(asked(), [need(draws)], day_of(1)), KIT, [draws], LIFT, 1)


CHANGES = {
    "late 8": replace(KIT, house=replace(KIT.house, late=8.0)),
    "no fee": replace(KIT, house=replace(KIT.house, late=0.0)),
    "no week": replace(KIT, rates=replace(KIT.rates, week=None, month=None)),
    "half": replace(KIT, house=replace(KIT.house, weekend="half")),
    "arrival": replace(KIT, house=replace(KIT.house, counts="arrival", back_days=2)),
    "ten days": replace(KIT, rates=replace(KIT.rates, minimum_days=10)),
    "early": replace(KIT, house=replace(KIT.house, cut_off=time(9))),
}


@pytest.mark.parametrize("change", CHANGES)
def test_one_term_is_other_and_the_window_is_where_brute_force_puts_it(change: str) -> None:
    draws, terms = drawn(4, after_h=10, needs_h=20), CHANGES[change]
    compared(best_window(asked(terms), [need(draws)], day_of(1)), terms, [draws], LIFT, 1)


def test_the_best_return_day_moves_with_the_fee_the_weeks_rate_and_the_pace_of_the_phase() -> None:
    """So that the test above compares different days, and not the same one seven times."""
    draws = [need(drawn(4, after_h=10, needs_h=20))]
    days = {name: best_window(asked(terms), draws, day_of(1)) for name, terms in CHANGES.items()}
    as_it_is = best_window(asked(), draws, day_of(1))
    slower = best_window(asked(), [need(drawn(4, after_h=10, needs_h=40))], day_of(1))
    assert days["no fee"].best.back < as_it_is.best.back < days["late 8"].best.back
    assert as_it_is.best.back < days["ten days"].best.back
    assert as_it_is.best.back < slower.best.back
    assert len({placed(each) for each in days.values()}) >= 4


def test_the_best_delivery_day_moves_with_what_a_waiting_lift_costs() -> None:
    draws = drawn(5, after_h=28, needs_h=7)
    terms = replace(KIT, rates=Rates(day=60, carriage=20))
    dear, cheap = (
        best_window(asked(terms, lift), [need(draws)], day_of(1)) for lift in (400.0, 5.0)
    )
    assert dear.best.delivery < cheap.best.delivery
    for found, lift in ((dear, 400.0), (cheap, 5.0)):
        least, pairs = by_hand.best(terms, [draws], 1, lift, ARRIVALS, DAYS)
        assert placed(found) in pairs
        assert found.best.cost.total == pytest.approx(least + 40, abs=1e-6)


def test_one_hire_for_two_jobs_goes_back_after_the_last_and_both_wait() -> None:
    both = [drawn(6, after_h=8), drawn(7, after_h=25, sometimes=0.3)]
    needs = [need(both[0], "2417"), need(both[1], "2433")]
    compared(best_window(asked(), needs, day_of(1)), KIT, both, LIFT, 1)


def test_two_stretches_of_one_job_wait_once() -> None:
    first = [Draw(by_hand.later(480, 300 + n), by_hand.later(480, 700 + n)) for n in range(40)]
    second = [Draw(by_hand.later(one.end, 60), by_hand.later(one.end, 400)) for one in first]
    whole = [Draw(one.start, other.end) for one, other in zip(first, second, strict=True)]
    apart = best_window(asked(), [need(first), need(second)], day_of(1))
    assert apart == best_window(asked(), [need(whole)], day_of(1))


def test_a_job_on_no_lift_costs_no_waiting() -> None:
    draws = drawn(8)
    found = best_window(asked(), [need(draws, on_lift=False)], day_of(1))
    assert {row.cost.waiting for row in found.by_delivery} == {0.0}
    compared(found, KIT, [draws], 0.0, 1)


def test_a_kit_that_may_not_be_needed_goes_back_on_the_day_agreed() -> None:
    draws = drawn(9, sometimes=0.6)
    compared(best_window(asked(), [need(draws)], day_of(1)), KIT, [draws], LIFT, 1)


HERE = datetime(2026, 10, 12, 8, tzinfo=UTC)


@pytest.mark.parametrize("day", [2, 4])
def test_return_days_of_a_kit_that_is_here_cost_what_they_cost_by_hand(day: int) -> None:
    draws = drawn(10, after_h=1, needs_h=24)
    now = by_hand.instant(day * DAY + 600)
    found = by_return_day(asked(), [need(draws)], HERE, now, due=day_of(4))
    ahead = [
        None if one is None or one.end <= day * DAY + 600 else one for one in draws
    ]  # those that are over need it no more
    for row in found.by_back:
        back = number_of(row.back)
        rows = [_here(KIT, one, back, day) for one in ahead]
        assert row.cost.hire == pytest.approx(sum(hire for hire, _ in rows) / len(rows))
        assert row.cost.late == pytest.approx(sum(late for _, late in rows) / len(rows))
        assert row.cost.waiting == 0
        assert row.delivery == day_of(0)
    assert found.best == min(found.by_back, key=lambda row: (row.cost.total, row.back))
    assert found.by_back[0].back == day_of(day)


def _here(terms: Terms, draw: Draw | None, back: int, today: int) -> tuple[float, float]:
    handed = today if draw is None else max(today, by_hand.handed_on(terms, draw.end))
    paid = by_hand.price(terms, by_hand.days_paid(terms, 0, max(back, handed)))
    return paid, max(0, handed - back) * terms.house.late * terms.rates.day


def test_a_kit_that_nobody_needs_goes_back_today_and_after_the_cut_off_tomorrow() -> None:
    morning, evening = by_hand.instant(2 * DAY + 600), by_hand.instant(2 * DAY + 15 * 60 + 31)
    now = by_return_day(asked(), [], HERE, morning)
    assert (now.best.back, now.best.cost.hire, now.best.needed) == (day_of(2), 93, 0)
    assert by_return_day(asked(), [], HERE, evening).best.back == day_of(3)
    assert now.day_less is None
    assert now.day_more == 120 - 93  # the fourth day: a week's rate is less than four days


def test_days_begun_after_the_day_agreed_are_owed_whatever_is_done() -> None:
    draws = drawn(11, after_h=1, needs_h=30)
    now = by_hand.instant(3 * DAY + 600)
    in_time = by_return_day(asked(), [need(draws)], HERE, now, due=day_of(3))
    overdue = by_return_day(asked(), [need(draws)], HERE, now, due=day_of(1))
    owed = [
        late.cost.late - good.cost.late
        for late, good in zip(overdue.by_back, in_time.by_back, strict=True)
    ]
    assert owed == pytest.approx([2 * 1.5 * 31] * len(owed))


def test_a_kit_that_is_asked_for_a_day_has_that_delivery_day_alone() -> None:
    draws = drawn(12)
    now = by_hand.instant(480)
    found = by_return_day(asked(), [need(draws)], by_hand.instant(2 * DAY + 480), now)
    for row in found.by_back:
        true = by_hand.mixed(KIT, [draws], 2, number_of(row.back), LIFT, ARRIVALS)
        assert row.cost.total == pytest.approx(true.total + 30, abs=1e-6)
    assert {row.delivery for row in found.by_back} == {day_of(2)}


def test_a_free_week_end_is_seen_where_the_kit_came_on_friday_after_noon() -> None:
    terms = Terms(Rates(day=31), House(time(15, 30), weekend="free"))
    friday, now = by_hand.instant(4 * DAY + 14 * 60), by_hand.instant(4 * DAY + 15 * 60)
    monday = [need([Draw(4 * DAY + 900, 7 * DAY + 600)] * 4)]
    found = by_return_day(asked(terms), monday, friday, now)
    assert (found.best.back, found.best.cost.hire) == (day_of(7), 62)
    assert found.by_back[2].cost.hire == 155


@pytest.mark.parametrize(("hour", "days"), [(12, 2), (11, 4)])
def test_a_kit_that_came_at_noon_came_after_noon(hour: int, days: int) -> None:
    terms = Terms(Rates(day=31), House(time(15, 30), weekend="free"))
    friday, now = by_hand.instant(4 * DAY + hour * 60), by_hand.instant(4 * DAY + 15 * 60)
    monday = [need([Draw(4 * DAY + 900, 7 * DAY + 600)] * 4)]
    assert by_return_day(asked(terms), monday, friday, now).best.cost.hire == 31 * days


def test_from_a_supplier_that_is_often_late_it_is_asked_for_sooner() -> None:
    draws = [Draw(7 * DAY + 480, 8 * DAY + 900)] * 6
    punctual, late = (1.0,), (0.3, 0.3, 0.4)
    found = {
        arrivals: best_window(Asked(SHOP, KIT, arrivals, 250.0), [need(draws)], day_of(1))
        for arrivals in (punctual, late)
    }
    assert found[late].best.delivery < found[punctual].best.delivery == day_of(7)
    for arrivals, window in found.items():
        least, pairs = by_hand.best(KIT, [draws], 1, 250.0, arrivals, DAYS)
        assert window.best.cost.total == pytest.approx(least + 30)
        assert placed(window) in pairs


starts = st.tuples(st.integers(0, 3500), st.integers(1, 3000))
some_draws = st.lists(st.none() | starts, min_size=1, max_size=8).filter(any)
terms_of = st.builds(
    Terms,
    st.builds(
        Rates, day=st.integers(0, 90), week=st.none() | st.integers(0, 400),
        minimum_days=st.integers(1, 8), carriage=st.integers(0, 40),
    ),
    st.builds(
        House, cut_off=st.sampled_from([time(9), time(15, 30), time(16)]),
        counts=st.sampled_from(["hand-over", "arrival"]),
        weekend=st.sampled_from(["counted", "half"]),
        late=st.sampled_from([0, 1, 1.5, 4]), back_days=st.integers(0, 2),
    ),
)  # fmt: skip


def placed_at(one: tuple[int, int] | None) -> Draw | None:
    """Open minutes from Monday's opening to the start, and from there to the end."""
    if one is None:
        return None
    start = by_hand.later(by_hand.OPENS, one[0])
    return Draw(start, by_hand.later(start, one[1]))


@few
@given(some_draws, terms_of, st.sampled_from([0.0, 40.0, 150.0]))
def test_whatever_the_draws_and_the_terms_brute_force_agrees(
    some: list[tuple[int, int] | None], terms: Terms, lift_day: float
) -> None:
    draws = [placed_at(one) for one in some]
    found = best_window(asked(terms, lift_day), [need(draws)], day_of(1))
    for row in {*found.by_back, *found.by_delivery}:
        pair = number_of(row.delivery), number_of(row.back)
        true = by_hand.mixed(terms, [draws], *pair, lift_day, ARRIVALS)
        assert row.cost.total == pytest.approx(true.total + 2 * terms.rates.carriage, abs=1e-6)
        assert row.needed == pytest.approx(true.needed, abs=1e-9)
    least, _ = by_hand.best(terms, [draws], 1, lift_day, ARRIVALS, 12)
    assert found.best.cost.total <= least + 2 * terms.rates.carriage + 1e-6


@few
@given(some_draws, terms_of)
def test_waiting_falls_with_an_earlier_delivery_and_lateness_with_a_later_return(
    some: list[tuple[int, int] | None], terms: Terms
) -> None:
    draws = [placed_at(one) for one in some]
    found = best_window(asked(terms), [need(draws)], day_of(1))
    waiting = [row.cost.waiting for row in found.by_delivery]
    late = [row.cost.late for row in found.by_back]
    needed = [row.needed for row in found.by_back]
    assert waiting == sorted(waiting)
    assert late == sorted(late, reverse=True)
    assert needed == sorted(needed, reverse=True)
    assert needed[-1] == pytest.approx(0)
    assert all(row.cost.total >= found.best.cost.total - 1e-6 for row in found.by_back)


def test_needs_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="no draws"):
        need([])
    with pytest.raises(ValueError, match="before it starts"):
        need([Draw(500, 499)])
    with pytest.raises(ValueError, match="drawn alike"):
        best_window(asked(), [need([Draw(1, 2)]), need([Draw(1, 2)] * 2)], day_of(1))
    with pytest.raises(ValueError, match="nobody needs"):
        best_window(asked(), [need([None])], day_of(1))


def test_a_pair_of_equal_instants_is_no_need() -> None:
    now = datetime(2026, 10, 14, 8, tzinfo=UTC)
    found = need_of("2417", [(now, now), (now, now + timedelta(hours=2))])
    assert (found.start[0], found.end[1]) == (float("inf"), (now + timedelta(hours=2)).timestamp())
