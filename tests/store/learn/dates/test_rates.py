"""How often jobs are held: rates by class, factors of operation, phase and job."""

from __future__ import annotations

from numpy.testing import assert_allclose

from store.learn.dates.pooled import Pooled
from store.learn.dates.priors import BEFORE_PHASE, INSIDE_H, MIX
from store.learn.dates.rates import Counts, HoldRates
from store.learn.dates.route import Step
from store.learn.dates.seen import Begun, HoldBegan, Worked

GOOD, BAD = Step(2, "labour", "GOOD", "A", "work"), Step(2, "labour", "BAD", "B", "work")
STRIP = Step(1, "labour", "BAD", "S", "strip")


def played(holds: HoldRates, step: Step, begun: int, hours: float, before: int) -> None:
    """So many phases begun, labour, holds before."""
    for _ in range(begun):
        holds.learn(Begun(step))
    holds.learn(Worked(step, 0.0, hours))
    for _ in range(before):
        holds.learn(HoldBegan("before", step, step, "parts"))


def test_without_a_past_the_prior_holds() -> None:
    rates = Pooled(HoldRates()).rates("work")
    assert_allclose((rates.before, rates.inside), (BEFORE_PHASE, INSIDE_H))
    assert Pooled(HoldRates()).operation("GOOD").mean == 1.0


def test_a_rate_stands_half_way_after_as_many_phases_as_the_prior_is_worth() -> None:
    holds = HoldRates()
    played(holds, GOOD, 15, 0.0, 6)
    assert_allclose(Pooled(holds).rates("work").before, (BEFORE_PHASE + 6 / 15) / 2)
    assert_allclose(Pooled(holds).rates("strip").before, BEFORE_PHASE)


def test_an_operation_is_held_against_what_its_classes_expect() -> None:
    holds = HoldRates()
    played(holds, GOOD, 100, 0.0, 0)
    played(holds, BAD, 100, 0.0, 20)
    pooled = Pooled(holds)
    expected = 100 * pooled.rates("work").before
    assert_allclose(pooled.operation("BAD").mean, (6 + 20) / (6 + expected))
    assert_allclose(pooled.operation("GOOD").mean, 6 / (6 + expected))


def test_a_phase_is_held_against_its_class_and_its_operation() -> None:
    holds = HoldRates()
    played(holds, BAD, 50, 0.0, 20)
    played(holds, STRIP, 50, 0.0, 1)
    pooled = Pooled(holds)
    above = pooled.operation("BAD").mean
    expected = 50 * pooled.rates("work").before * above
    assert_allclose(pooled.phase(BAD).mean, (5 + 20) / (5 + expected))
    assert pooled.phase(STRIP).mean < pooled.phase(BAD).mean


def test_a_job_held_thrice_will_be_held_again() -> None:
    pooled = Pooled(HoldRates())
    own = [(GOOD, Counts(begun=3, labour_h=5.0, before=3))]
    expected = 3 * BEFORE_PHASE + 5 * (INSIDE_H + pooled.rates("work").later)
    assert_allclose(pooled.job(own).mean, 7 / (4 + expected))
    assert pooled.job([(GOOD, Counts(begun=3, labour_h=5.0))]).mean < 1


def test_reasons_of_another_class_count_half() -> None:
    holds = HoldRates()
    for _ in range(6):
        holds.learn(HoldBegan("before", STRIP, STRIP, "tool"))
    mix = holds.mix("work")
    assert_allclose(sum(mix.values()), 1.0)
    assert_allclose(mix["tool"], (6 * MIX["tool"] + 3) / 9)
    assert_allclose(holds.mix("strip")["tool"], (6 * MIX["tool"] + 6) / 12)


def test_a_reason_nobody_foresaw_is_in_the_mix_once_it_was_seen() -> None:
    holds = HoldRates()
    holds.learn(HoldBegan("before", GOOD, GOOD, "weather"))
    assert_allclose(holds.mix("work")["weather"], 1 / 7)


def test_a_hold_on_a_later_phase_counts_for_the_phase_under_way() -> None:
    holds = HoldRates()
    holds.learn(HoldBegan("later", STRIP, GOOD, "parts", rank=3))
    assert holds.of_phase(STRIP)[1].later == 1
    assert holds.mix("work")["parts"] > MIX["parts"]
    assert_allclose(holds.ahead_shares(), (2 / 5, 1 / 5, 2 / 5))
