"""Two jobs and one kit, against a look at every minute of every draw."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.sums.hires.clash import Ends, WayOut, overlap, ways_out
from tests.store.sums import hire_by_hand as by_hand
from tests.store.sums.hire_by_hand import DAY, SHOP, Draw, Draws, instant, need

LIFT = 150.0
pairs = st.lists(
    st.tuples(*[st.none() | st.tuples(st.integers(0, 900), st.integers(1, 700))] * 2),
    min_size=1, max_size=10,
)  # fmt: skip


def drawn(one: tuple[int, int] | None) -> Draw | None:
    """Open minutes from Monday's opening to the start, and from there to the end."""
    if one is None:
        return None
    start = by_hand.later(by_hand.OPENS, one[0])
    return Draw(start, by_hand.later(start, one[1]))


def both(rows: list[tuple[tuple[int, int] | None, ...]]) -> tuple[Draws, Draws]:
    return [drawn(first) for first, _ in rows], [drawn(second) for _, second in rows]


def shared(first: Draw | None, second: Draw | None) -> int:
    """Open minutes in which both want it, looked at one by one."""
    if first is None or second is None:
        return 0
    since, until = min(first.start, second.start), max(first.end, second.end)
    return sum(
        by_hand.is_open(at) and first.start <= at < first.end and second.start <= at < second.end
        for at in range(since, until)
    )


def put_off(waiting: Draw | None, before: Draw | None) -> int:
    """Open minutes until the other has done with the kit, unless it starts after this is over."""
    if waiting is None or before is None or before.start >= waiting.end:
        return 0
    return by_hand.open_minutes(waiting.start, before.end)


@settings(max_examples=40, deadline=None)
@given(pairs)
def test_the_overlap_is_that_of_every_minute(
    rows: list[tuple[tuple[int, int] | None, ...]],
) -> None:
    first, second = both(rows)
    minutes = [shared(*each) for each in zip(first, second, strict=True)]
    found = overlap(SHOP, need(first), need(second, "2433"))
    assert found.chance == pytest.approx(sum(each > 0 for each in minutes) / len(minutes))
    assert found.hours == pytest.approx(sum(minutes) / 60 / len(minutes), abs=1e-9)
    assert found == overlap(SHOP, need(second, "2433"), need(first))
    assert (found.since is None) == (found.chance == 0)


@settings(max_examples=40, deadline=None)
@given(pairs, st.integers(0, 2000), st.integers(0, 2000))
def test_ways_out_shift_finishes_as_by_hand(
    rows: list[tuple[tuple[int, int] | None, ...]], after: int, promised: int
) -> None:
    draws = both(rows)
    last = [[by_hand.later(one.end if one else 480, after + 1) for one in each] for each in draws]
    promise = by_hand.later(480, promised + after + 1)
    ends = [Ends([instant(at).timestamp() for at in each], instant(promise).timestamp())
            for each in last]  # fmt: skip
    found = ways_out(
        SHOP, (need(draws[0]), need(draws[1], "2433")), (ends[0], ends[1]), lift_day=LIFT,
        second_kit=77.0,
    )  # fmt: skip
    by_name = {way.out: way for way in found}
    for name, who in (("wait", 1), ("swap order", 0)):
        shifts = [put_off(*each) for each in zip(draws[who], draws[1 - who], strict=True)]
        late = [by_hand.later(at, shift) for at, shift in zip(last[who], shifts, strict=True)]
        way = by_name[name]  # type: ignore[index]  # names of ways are literals
        assert way.shift_h == pytest.approx(sum(shifts) / 60 / len(shifts), abs=1e-9)
        assert way.cost == pytest.approx(way.shift_h / by_hand.HOURS_A_DAY * LIFT, abs=1e-6)
        assert way.kept[who] == pytest.approx(sum(at <= promise for at in late) / len(late))
        assert way.kept[1 - who] == pytest.approx(
            sum(at <= promise for at in last[1 - who]) / len(late)
        )
    second = by_name["second kit"]
    assert (second.cost, second.shift_h, second.waits) == (77.0, 0.0, None)
    assert list(found) == sorted(found, key=lambda way: way.cost)


def morning_and_noon(many: int = 200) -> tuple[Draws, Draws]:
    """One until about 13:25 on Wednesday, one from 13:00 on."""
    dice = random.Random(1)
    first = [
        Draw(2 * DAY + 480, 2 * DAY + 780 + dice.choice([-120, -61, 0, 25, 50, 120]))
        for _ in range(many)
    ]
    return first, [Draw(2 * DAY + 780, 2 * DAY + 900) for _ in range(many)]


def ways(first: Draws, second: Draws, *, begun: bool = False) -> dict[str, WayOut]:
    needs = need(first, begun=begun, captive=begun), need(second, "2433")
    ends = Ends([2e9] * len(first)), Ends([2e9] * len(first), 2.1e9)
    found = ways_out(SHOP, needs, ends, lift_day=LIFT)
    return {way.out: way for way in found}


def test_a_kit_in_use_is_not_taken_away_and_none_is_hired_where_nobody_hires_it_out() -> None:
    first, second = morning_and_noon()
    assert set(ways(first, second)) == {"wait", "swap order"}
    found = ways(first, second, begun=True)
    assert set(found) == {"wait"}
    assert found["wait"].waits == "2433"
    assert found["wait"].kept == (None, 1.0)


def test_two_jobs_share_a_kit_on_one_day_where_their_hours_do_not_meet() -> None:
    morning = [Draw(2 * DAY + 480, 2 * DAY + 720)] * 8
    after_noon = [Draw(2 * DAY + 780, 2 * DAY + 960)] * 8
    assert overlap(SHOP, need(morning), need(after_noon, "2433")).chance == 0
    found = ways(morning, after_noon)
    assert {(way.cost, way.shift_h) for way in found.values()} == {(0, 0)}
    assert found["wait"].free_at == instant(2 * DAY + 720).timestamp()
    assert found["swap order"].free_at == instant(2 * DAY + 960).timestamp()


def test_one_minute_over_noon_and_the_other_job_waits_a_minute_or_the_first_all_day() -> None:
    morning = [Draw(2 * DAY + 480, 2 * DAY + 781)] * 8
    after_noon = [Draw(2 * DAY + 780, 2 * DAY + 960)] * 8
    found = ways(morning, after_noon)
    assert found["wait"].shift_h == pytest.approx(1 / 60)
    assert found["swap order"].shift_h == 7  # from 8 to 16 less the pause
    assert found["swap order"].cost == pytest.approx(LIFT)


def test_when_is_the_middle_of_the_draws_that_clash() -> None:
    found = overlap(SHOP, *(need(each, str(n)) for n, each in enumerate(morning_and_noon())))
    assert found.since == instant(2 * DAY + 780).timestamp()
    assert found.until in {instant(2 * DAY + 780 + late).timestamp() for late in (25, 50, 120)}


def test_a_job_on_no_lift_waits_for_nothing_paid() -> None:
    first, second = (need(each, str(n)) for n, each in enumerate(morning_and_noon()))
    ends = Ends([2e9] * 200), Ends([2e9] * 200)
    bench = replace(second, on_lift=False)
    found = ways_out(SHOP, (first, bench), ends, lift_day=LIFT)
    assert (found[0].out, found[0].cost) == ("wait", 0)
    assert found[0].shift_h > 0


def test_other_draws_are_refused() -> None:
    first, second = morning_and_noon()
    with pytest.raises(ValueError, match="finishes"):
        ways_out(
            SHOP, (need(first), need(second, "2433")), (Ends([1.0]), Ends([1.0])), lift_day=LIFT
        )
