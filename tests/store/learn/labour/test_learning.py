"""What finished phases teach: rules by example, on a shop whose truth is plain."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest

from store.learn.labour.ahead import Hours, phase_hours, total_hours
from store.learn.labour.kept import NotKept, pack, unpack
from store.learn.labour.labour import Labour, learned
from store.learn.labour.told import told
from store.learn.records import AtHand, People, Planned, Record

from .shop import PHASES, SmallShop, last_moment

NOBODY = People()


def taught(records: list[Record], people: People = NOBODY) -> Labour:
    return learned(records, people, last_moment(records))


def asked(
    labour: Labour, *, family: str = "B4-M-F", technician: str | None = "B12",
    grade: int | None = None, elapsed: float = 0.0, own: tuple[Record, ...] = (),
) -> tuple[list[Hours], Hours]:  # fmt: skip
    """The three phases and their total, of a new job."""
    job = AtHand("new", "CL", family, labour.learner.columns.at + 3600, grade, own)
    phases = [
        Planned(phase, seq, book, of_class, (), technician, elapsed if seq == 1 else 0.0)
        for seq, (phase, book, of_class) in enumerate(PHASES, 1)
        if not any(one.seq == seq for one in own)
    ]
    ready = labour.ready(job, phases)
    return phase_hours(ready), total_hours(ready)


def middle(hours: Hours) -> float:
    return hours.quantiles[9]


def width(hours: Hours) -> float:
    return math.log(hours.quantiles[17] / hours.quantiles[1])


def test_with_no_history_it_says_about_the_book_with_wide_ranges() -> None:
    phases, total = asked(learned([], NOBODY, 0.0))
    for hours, (_, book, _) in zip(phases, PHASES, strict=True):
        assert middle(hours) == pytest.approx(book, rel=0.15)
        assert hours.quantiles[17] / hours.quantiles[1] > 2.5
    assert 7.5 <= middle(total) < 1.25 * 7.5  # long tails add up: above the sum of the middles


def test_each_finished_phase_makes_it_sharper() -> None:
    widths = [width(asked(taught(SmallShop().records(jobs)))[1]) for jobs in (2, 10, 60)]
    assert widths[0] > widths[1] > widths[2]


def test_a_phase_that_always_takes_longer_is_learned() -> None:
    def slow_off(phase: str, *_: str) -> float:
        return 1.4 if phase == "off" else 1.0

    phases, _ = asked(taught(SmallShop(slow_off).records(80)))
    ratios = [middle(hours) / book for hours, (_, book, _) in zip(phases, PHASES, strict=True)]
    assert ratios[0] == pytest.approx(1.4, rel=0.1)
    assert ratios[1] == pytest.approx(1.0, rel=0.1)


def test_a_family_and_a_technician_count_each_for_themselves() -> None:
    def ratio(phase: str, family: str, technician: str, job: str) -> float:
        del phase, job
        return (1.3 if family == "D4-M-R" else 1.0) * (0.8 if technician == "B17" else 1.0)

    labour = taught(SmallShop(ratio).records(120))
    base = middle(asked(labour)[1])
    assert middle(asked(labour, family="D4-M-R")[1]) / base == pytest.approx(1.3, rel=0.08)
    assert middle(asked(labour, technician="B17")[1]) / base == pytest.approx(0.8, rel=0.08)


def test_a_new_family_borrows_from_those_that_share_its_parts() -> None:
    def ratio(phase: str, family: str, technician: str, job: str) -> float:
        del phase, technician, job
        return 1.3 if family.startswith("D4") else 0.9

    shop = SmallShop(ratio, families=("D4-M-R", "D4-A-R", "D4-M-F", "B4-M-R", "B4-A-F", "B4-M-F"))
    labour = taught(shop.records(150))
    assert middle(asked(labour, family="D4-A-F")[1]) > 1.1 * middle(
        asked(labour, family="B4-A-R")[1]
    )


def test_whoever_nobody_is_assigned_may_do_it() -> None:
    def ratio(phase: str, family: str, technician: str, job: str) -> float:
        del phase, family, job
        return 0.7 if technician == "B17" else 1.0

    labour = taught(SmallShop(ratio).records(120))
    quick, slow = asked(labour, technician="B17")[1], asked(labour)[1]
    either = asked(labour, technician=None)[1]
    assert middle(quick) < middle(either) < middle(slow)
    assert width(either) > width(slow)


def test_an_apprentice_is_slow_before_anything_was_seen_of_them() -> None:
    labour = taught(SmallShop().records(40), People(experience={"B21": "apprentice 1"}))
    known = asked(labour)[1]
    assert 1.5 < middle(asked(labour, technician="B21")[1]) / middle(known) < 2.4


def test_rust_is_expected_from_the_grade_and_loads_the_strip() -> None:
    labour = taught(SmallShop().records(60))
    usual, rusty = asked(labour, grade=2)[0], asked(labour, grade=3)[0]
    ratio = [middle(b) / middle(a) for a, b in zip(usual, rusty, strict=True)]
    assert ratio[0] > 1.25 > ratio[2] > 1.0


def test_a_slow_strip_says_that_the_rest_will_be_slow_too() -> None:
    labour = taught(SmallShop(condition=0.3).records(80))
    own = Record("new", "CL", "B4-M-F", "off", 1, "B12", 0, 1, 2.0, 3.6, phase_class="strip")
    usual = middle(asked(labour)[0][1])
    assert middle(asked(labour, own=(own,))[0][0]) > 1.1 * usual


def test_one_freak_phase_does_not_make_the_vehicle_rusty() -> None:
    labour = taught(SmallShop(condition=0.3).records(80))
    slow = Record("new", "CL", "B4-M-F", "off", 1, "B12", 0, 1, 2.0, 3.6, phase_class="strip")
    freak = replace(slow, actual_h=40.0)
    after_slow = middle(asked(labour, own=(slow,))[0][0])
    assert middle(asked(labour, own=(freak,))[0][0]) < after_slow


def test_a_running_phase_lasts_longer_than_it_has_lasted_and_tells_of_the_others() -> None:
    labour = taught(SmallShop(condition=0.3).records(80))
    usual, late = asked(labour)[0], asked(labour, elapsed=4.0)[0]
    assert late[0].quantiles[0] > 4.0
    assert late[0].quantiles == tuple(sorted(late[0].quantiles))
    total = asked(labour, elapsed=4.0)[1]
    assert middle(total) - middle(late[0]) > sum(middle(one) for one in usual[1:])


def test_a_phase_far_over_its_time_still_has_a_forecast() -> None:
    phases, total = asked(taught(SmallShop().records(80)), elapsed=400.0)
    assert 400 < phases[0].quantiles[0] <= phases[0].quantiles[18] < 4_000
    assert math.isfinite(total.mean)
    assert total.quantiles[0] > 400


@pytest.mark.parametrize("ratio", [60.0, 0.01])
def test_a_fault_of_the_clock_hardly_moves_the_middle(ratio: float) -> None:
    clean = SmallShop().records(60)
    at = next(i for i, one in enumerate(clean) if one.job == "J40" and one.seq == 2)
    spoilt = [*clean]
    spoilt[at] = replace(clean[at], actual_h=clean[at].book_h * ratio)
    before, after = (middle(asked(taught(one))[0][1]) for one in (clean, spoilt))
    assert after == pytest.approx(before, rel=0.02)


def test_a_forgotten_clock_is_named_for_the_foreman() -> None:
    records = SmallShop(marks={(40, 2): {"actual_h": 18.0}}).records(60)
    labour = taught(records)
    (doubted,) = told(labour, last_moment(records)).doubted
    assert (doubted.job, doubted.phase, doubted.doubt) == ("J40", "mend", "forgotten")
    assert doubted.high < 6 < doubted.hours


def test_two_phases_clocked_as_one_teach_their_sum_and_are_named() -> None:
    records = SmallShop(marks={(40, 1): {"actual_h": 0.1}, (40, 2): {"actual_h": 5.0}}).records(60)
    labour = taught(records)
    doubted = told(labour, last_moment(records)).doubted
    assert [(one.phase, one.doubt, one.neighbour) for one in doubted] == [
        ("off", "lumped", "mend"), ("mend", "lumped", "off"),
    ]  # fmt: skip
    clean = middle(asked(taught(SmallShop().records(60)))[0][0])
    assert middle(asked(labour)[0][0]) == pytest.approx(clean, rel=0.03)


def test_a_marked_lump_teaches_its_sum_whichever_of_the_two_is_marked() -> None:
    first = SmallShop(marks={(40, 1): {"actual_h": 0.1, "lumped_with": 2},
                             (40, 2): {"actual_h": 5.0}}).records(60)  # fmt: skip
    second = SmallShop(marks={(40, 1): {"actual_h": 0.1},
                              (40, 2): {"actual_h": 5.0, "lumped_with": 1},
                              }).records(60)  # fmt: skip
    one, other = (asked(taught(records))[1] for records in (first, second))
    assert one.quantiles == pytest.approx(other.quantiles, rel=1e-3)


def test_a_phase_cut_off_teaches_at_least_so_much() -> None:
    cut = {(n, 2): {"actual_h": 0.5, "cut_off": True} for n in range(10, 40)}
    kept = middle(asked(taught(SmallShop(marks=cut).records(60)))[0][1])
    wrong = {key: {"actual_h": 0.5} for key in cut}
    taken = middle(asked(taught(SmallShop(marks=wrong).records(60)))[0][1])
    assert kept == pytest.approx(3.0, rel=0.15)
    assert taken < 0.7 * kept


def test_a_recorded_surprise_does_not_make_the_phase_longer() -> None:
    marks = {
        (n, 2): {"actual_h": 4.5, "surprise_h": 1.5} if n % 3 == 0 else {"surprise_h": 0.0}
        for n in range(60)
    }
    labour = taught(SmallShop(marks=marks).records(60))
    phases, _ = asked(labour)
    number = labour.learner.past.keys[(3, "CL", "mend")]
    assert labour.learner.spreads.surprise[number] == pytest.approx(1 / 3, abs=0.1)
    assert middle(phases[1]) < 3.6


def test_the_order_of_rows_is_irrelevant() -> None:
    records = SmallShop().records(40)
    shuffled = [*records]
    random.Random(1).shuffle(shuffled)
    assert asked(taught(records))[1] == asked(taught(shuffled))[1]


def test_what_is_kept_and_read_back_says_the_same() -> None:
    records = SmallShop().records(60)
    labour = taught(records)
    read = unpack(pack(labour, {"J59"}))
    for technician in ("B12", None):
        one, other = (asked(each, technician=technician)[1] for each in (labour, read))
        assert one.quantiles == pytest.approx(other.quantiles, rel=1e-5)


@pytest.mark.parametrize(
    "content", [b"", b"no such thing", pack(learned([], NOBODY, 0.0), ())[:-40]]
)
def test_bytes_that_are_not_ours_are_refused(content: bytes) -> None:
    with pytest.raises(NotKept):
        unpack(content)


def test_shared_access_teaches_across_operations() -> None:
    def slow_off(phase: str, *_: str) -> float:
        return 1.5 if phase == "off" else 1.0

    clutch = SmallShop(slow_off).records(80)
    few = [replace(one, job=f"T{one.job}", template="TC") for one in SmallShop(seed=9).records(1)]
    labour = taught([*clutch, *few])
    job = AtHand("new", "TC", "B4-M-F", labour.learner.columns.at)
    hours = phase_hours(labour.ready(job, [Planned("off", 1, 2.0, "strip", (), "B12")]))[0]
    assert middle(hours) > 2.25


def test_operations_joined_are_made_of_phases_known_from_each() -> None:
    def slow_off(phase: str, *_: str) -> float:
        return 1.5 if phase == "off" else 1.0

    labour = taught(SmallShop(slow_off).records(80))
    job = AtHand("new", "CL+RS", "B4-M-F", labour.learner.columns.at)
    hours = phase_hours(labour.ready(job, [Planned("off", 1, 2.0, "strip", (), "B12")]))[0]
    assert middle(hours) == pytest.approx(3.0, rel=0.12)


def test_a_book_that_was_rewritten_does_not_make_the_shop_forget() -> None:
    records = SmallShop().records(80)
    half = [
        replace(one, book_h=2 * one.book_h) if int(one.job[1:]) >= 40 else one for one in records
    ]
    labour = taught(half)
    job = AtHand("new", "CL", "B4-M-F", labour.learner.columns.at)
    hours = phase_hours(labour.ready(job, [Planned("mend", 2, 6.0, "work", (), "B12")]))[0]
    assert middle(hours) == pytest.approx(3.0, rel=0.1)
    for one in told(labour, last_moment(half)).phases:
        if one.phase == "mend":
            assert one.book_h == 6.0
            assert one.middle == pytest.approx(3.0, rel=0.1)


def test_book_hours_that_are_told_are_those_of_jobs_with_one_operation() -> None:
    """Beside another operation a phase has fewer: what is told there would look too short."""
    records = SmallShop().records(40)
    last = f"J{max(int(one.job[1:]) for one in records)}"
    beside = [
        replace(one, template="CL+TC", serves=("CL",), book_h=one.book_h / 2,
                actual_h=one.actual_h / 2)
        if one.job == last else one
        for one in records
    ]  # fmt: skip
    found = {one.phase: one for one in told(taught(beside), last_moment(beside)).phases
             if one.family is None and one.operation == "CL"}  # fmt: skip
    for phase, book, _ in PHASES:
        assert found[phase].book_h == book
        assert found[phase].middle == pytest.approx(book, rel=0.15)


def test_told_in_plain_facts() -> None:
    def ratio(phase: str, family: str, technician: str, job: str) -> float:
        del family, job
        return (1.4 if phase == "off" else 1.0) * (0.75 if technician == "B17" else 1.0)

    records = SmallShop(ratio).records(120)
    found = told(taught(records), last_moment(records))
    off = next(one for one in found.phases if one.phase == "off" and one.family is None)
    assert off.sure == "sure"
    assert off.finished == 120
    assert off.low < off.middle < off.high
    assert off.ratio == pytest.approx(1.4 * 0.87, rel=0.12)
    people = {one.badge: one for one in found.people}
    assert people["B17"].ratio / people["B12"].ratio == pytest.approx(0.75, rel=0.06)
    assert people["B17"].high < 1 < people["B12"].low


@pytest.mark.parametrize("ratio", [1e-5, 1e4])
def test_hours_that_no_kind_explains_teach_next_to_nothing(ratio: float) -> None:
    clean = SmallShop().records(60)
    spoilt = [
        replace(one, actual_h=one.book_h * ratio) if one.job == "J40" else one for one in clean
    ]
    before, after = (middle(asked(taught(one))[1]) for one in (clean, spoilt))
    assert after == pytest.approx(before, rel=0.03)
