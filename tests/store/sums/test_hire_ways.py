"""Ways to go on with a hire, and one long hire against two short ones: beside brute force."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, datetime, time

import pytest

from store.sums.hires.terms import House, Rates, Terms
from store.sums.hires.ways import Option, going_on, long_or_short
from store.sums.hires.window import Asked
from tests.store.sums import hire_by_hand as by_hand
from tests.store.sums.hire_by_hand import DAY, SHOP, Draw, Draws, day_of, need, number_of

KIT = Terms(Rates(day=31, week=None, minimum_days=3, carriage=15), House(time(15, 30), lead_days=2))
LIFT = 150.0
HERE = datetime(2026, 10, 12, 8, tzinfo=UTC)
NOW = by_hand.instant(DAY + 600)
ASKED = Asked(SHOP, KIT, (1.0,), LIFT)


def drawn(seed: int, after_h: float, needs_h: float, many: int = 60) -> Draws:
    """Starts about so many open hours from now on."""
    dice = random.Random(seed)
    found: list[Draw] = []
    for _ in range(many):
        start = by_hand.later(DAY + 600, int(60 * after_h * dice.lognormvariate(0, 0.3)))
        found.append(
            Draw(start, by_hand.later(start, int(60 * needs_h * dice.lognormvariate(0, 0.4))))
        )
    return found


def options(draws: Draws, other: Draws | None = None, *, begun: bool = False,
            captive: bool = False, asked: Asked = ASKED) -> dict[str, Option]:  # fmt: skip
    own = need(draws, begun=begun, captive=captive)
    after = None if other is None else need(other, "2433")
    found = going_on(asked, [own], HERE, NOW, due=day_of(2), other=after)
    assert list(found) == sorted(found, key=lambda one: one.cost.total)
    return {one.way: one for one in found}


def here_until(*jobs: Draws) -> tuple[float, int]:
    """The least money of a kit that is here, and the day: days from Monday on, and the fee."""
    totals = {
        back: by_hand.spent(KIT, _clamped(jobs), 0, back, 0, here=True).total + 30
        for back in range(1, 40)
        if by_hand.carrier(back)
    }
    back = min(totals, key=lambda day: (round(totals[day], 6), day))
    return totals[back], back


def _clamped(jobs: tuple[Draws, ...]) -> list[Draws]:
    """Nothing goes back before now: a need that ends today at the earliest stands for it."""
    return [*jobs, [Draw(DAY + 600, DAY + 600)] * len(jobs[0])]


def own_hire(draws: Draws, first: int) -> tuple[float, set[int]]:
    """The least money of a hire of its own."""
    least, pairs = by_hand.best(KIT, [draws], first, LIFT, (1.0,), 25)
    return least + 30, {delivery for delivery, _ in pairs}


def test_a_job_soon_keeps_its_kit_and_one_far_ahead_sends_it_back_and_hires_again() -> None:
    soon, far = options(drawn(1, 5, 10)), options(drawn(1, 60, 10))
    for draws, found in ((drawn(1, 5, 10), soon), (drawn(1, 60, 10), far)):
        total, back = here_until(draws)
        assert found["extend"].cost.total == pytest.approx(total)
        assert number_of(found["extend"].back) == back
        again, deliveries = own_hire(draws, 3)
        gone = 3 * 31 + 30  # three days are paid at least, both carriages
        assert found["return and hire again"].cost.total == pytest.approx(gone + again)
        assert found["return and hire again"].back == day_of(1)
        day = found["return and hire again"].again
        assert day is not None
        assert number_of(day) in deliveries
    assert next(iter(soon)) == "extend"
    assert next(iter(far)) == "return and hire again"


def test_a_lift_waits_where_a_kit_in_use_goes_back() -> None:
    """It could come again two working days later: one shop day and most of another are lost."""
    found = options([Draw(600, DAY + 900)] * 5, begun=True)["return and hire again"]
    lost = by_hand.open_minutes(DAY + 600, 3 * DAY + 480) / 60 / by_hand.HOURS_A_DAY
    assert found.again == day_of(3)
    assert found.cost.waiting == pytest.approx(lost * LIFT)


def test_a_captive_kit_is_never_proposed_for_anything_else() -> None:
    draws, other = drawn(2, 1, 30), drawn(3, 2, 5)
    loose = options(draws, other, begun=True)
    fixed = options(draws, other, begun=True, captive=True)
    assert set(loose) == {"extend", "return and hire again", "wait", "use first"}
    assert set(fixed) == {"extend", "wait"}
    assert set(options(draws, other, captive=True)) == set(loose)  # not fixed yet


def test_another_job_uses_it_first_or_next_and_what_each_costs() -> None:
    draws, other = drawn(4, 12, 10), drawn(5, 6, 8)
    found = options(draws, other)
    for way, waiting, before in (("use first", draws, other), ("wait", other, draws)):
        shifts = [
            0 if first is None or later is None or first.start >= later.end
            else by_hand.open_minutes(later.start, first.end)
            for first, later in zip(before, waiting, strict=True)
        ]  # fmt: skip
        moved = [
            one and Draw(by_hand.later(one.start, shift), by_hand.later(one.end, shift))
            for one, shift in zip(waiting, shifts, strict=True)
        ]
        total, back = here_until(before, moved)
        waits = sum(shifts) / len(shifts) / 60
        assert found[way].shift_h == pytest.approx(waits, abs=1e-9)
        assert found[way].cost.total == pytest.approx(total + waits / 7 * LIFT)
        assert number_of(found[way].back) == back
    alone, _ = own_hire(other, 3)
    assert found["extend"].cost.total == pytest.approx(here_until(draws)[0] + alone)


def test_a_kit_whose_job_has_done_with_it_goes_back_or_to_the_other_job() -> None:
    other = drawn(6, 3, 8)
    over = need([Draw(480, 600)] * 60, begun=True, captive=True)
    found = {one.way: one for one in going_on(ASKED, [over], HERE, NOW, other=need(other, "2433"))}
    assert set(found) == {"extend", "use first"}
    assert found["extend"].back == day_of(1)
    total, back = here_until(other)
    assert found["use first"].cost.total == pytest.approx(total)
    assert number_of(found["use first"].back) == back


def test_a_kit_that_nobody_needs_is_only_sent_back() -> None:
    (only,) = going_on(ASKED, [], HERE, NOW, due=day_of(4))
    assert (only.way, only.back, only.cost.total) == ("extend", day_of(1), 3 * 31 + 30)


@pytest.mark.parametrize(("between_h", "short_wins"), [(4, False), (140, True)])
def test_two_short_hires_pay_where_much_lies_between(between_h: float, short_wins: bool) -> None:
    """Locking set, needed twice: hire, carriage and least days against idle days between."""
    first = drawn(7, 20, 6)
    dice = random.Random(8)
    second: list[Draw] = []
    for one in first:
        assert one is not None
        start = by_hand.later(one.end, int(60 * between_h * dice.uniform(0.8, 1.2)))
        second.append(Draw(start, by_hand.later(start, 240)))
    found = long_or_short(ASKED, need(first), need(second), day_of(3))
    whole = [Draw(one.start, two.end) for one, two in zip(first, second, strict=True) if one]
    best_long, _ = by_hand.best(KIT, [whole], 3, LIFT, (1.0,), 45)
    assert found.long.best.cost.total == pytest.approx(best_long + 30)
    early, late_one = found.short
    assert early.best.cost.total == pytest.approx(own_hire(first, 3)[0])
    delivery = number_of(early.best.delivery) * DAY + by_hand.OPENS
    late = [by_hand.open_minutes(each.start, delivery) for each in first if each]
    moved = [
        Draw(by_hand.later(each.start, wait), by_hand.later(each.end, wait))
        for each, wait in zip(second, late, strict=True)
    ]
    best_two, _ = by_hand.best(KIT, [moved], 3, LIFT, (1.0,), 45)
    assert late_one.best.cost.total == pytest.approx(best_two + 30)
    assert found.short_total == pytest.approx(early.best.cost.total + late_one.best.cost.total)
    assert (found.saved > 0) is short_wins


def test_a_monthly_rate_makes_the_long_hire_win_again() -> None:
    """One term is other, and so is the advice."""
    first = drawn(7, 20, 6)
    second = [
        Draw(start := by_hand.later(one.end, 60 * 140), by_hand.later(start, 240))
        for one in first
        if one
    ]
    cheap = replace(KIT, rates=replace(KIT.rates, month=120.0))
    pair = need(first), need(second)
    assert long_or_short(ASKED, *pair, day_of(3)).saved > 0
    assert long_or_short(replace(ASKED, terms=cheap), *pair, day_of(3)).saved < 0


def test_one_hire_for_two_jobs_lets_the_second_wait_for_the_first() -> None:
    """They want it at one time: what one hire saves is less what the second lift waits."""
    first, second = drawn(9, 14, 12), drawn(10, 16, 12)
    found = long_or_short(ASKED, need(first), need(second, "2433"), day_of(3))
    pairs = [(one, two) for one, two in zip(first, second, strict=True) if one and two]
    shifts = [
        0 if one.start >= two.end else by_hand.open_minutes(two.start, one.end)
        for one, two in pairs
    ]
    moved = [
        Draw(by_hand.later(two.start, shift), by_hand.later(two.end, shift))
        for (_, two), shift in zip(pairs, shifts, strict=True)
    ]
    waiting = sum(shifts) / len(shifts) / 60 / by_hand.HOURS_A_DAY * LIFT
    least, _ = by_hand.best(KIT, [first, moved], 3, LIFT, (1.0,), 25)
    assert waiting > 100
    assert found.long.best.cost.total == pytest.approx(least + 30 + waiting)
    assert found.long.best in found.long.by_back
    apart = own_hire(first, 3)[0] + own_hire(second, 3)[0]
    assert found.short_total == pytest.approx(apart)
