"""A month's accuracy in words: what is said, what is left open, and what no word stands for."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.accuracy import Accuracy, Case, accuracy
from store.sums.month.span import month_span
from store.sums.ranged import of_count
from store.views.month import said as month_said
from store.views.month.told_values import Signal

ZONE = ZoneInfo("Europe/Amsterdam")
SEPTEMBER = month_span("2026-09", datetime(2026, 12, 1, tzinfo=UTC), ZONE)
UNEXPLAINED = (
    "bias", "median", "mean", "sigma", "deviation", "variance", "quantile", "percentile",
    "confidence", "interval", "significan", "outlier", "MMRE", "PRED", "correlat",
)  # fmt: skip
"""Words of statistics that no line of the page uses."""


def jobs(count: int, ratio: float, cautious: float = 13.0, spread: float = 0.05) -> Accuracy:
    """So many jobs of 10 hours as told, that took about `ratio` times as long."""
    off = [ratio * (1 + spread * (n % 3 - 1)) for n in range(count)]
    return accuracy([Case(10 * one, 10, cautious) for one in off])


TOLD = tuple(float(n) for n in range(1, 20))
"""A range from 2 to 18 hours."""


def ranged(held: int, count: int) -> Accuracy:
    """So many jobs, of which some lay in their range."""
    return accuracy([Case(10, 10, 13, TOLD)] * held + [Case(20, 10, 13, TOLD)] * (count - held))


def changed(before: float, after: float, since: date = date(2026, 5, 4)) -> Signal:
    return Signal("shop", "", "the shop", since, "", before, after, 20, 30)


def opening(now: Accuracy, before: Accuracy | None = None, change: Signal | None = None) -> str:
    earlier = None if before is None else ("2026-08", before)
    return month_said.opening(SEPTEMBER, now, earlier, change)


@pytest.mark.parametrize(
    ("bias", "says"),
    [(0.04, "ran 4 % short"), (-0.06, "were 6 % too high"), (0.004, "came out as told"),
     (-0.0049, "came out as told"), (0.005, "ran 1 % short"), (1.5, "ran 150 % short")],
)  # fmt: skip
def test_how_estimates_ran(bias: float, says: str) -> None:
    assert month_said.ran(bias) == says


def test_the_first_line_says_how_they_ran_and_how_the_month_before() -> None:
    says = opening(jobs(15, 1.04), jobs(15, 1.06), changed(1.12, 1.04))
    assert says == "Estimates ran 4 % short; in August it was 6 %. Truer since May."


def test_a_month_of_another_year_is_named_with_it() -> None:
    says = month_said.opening(SEPTEMBER, jobs(15, 1.04), ("2025-12", jobs(15, 0.9)), None)
    assert says.startswith("Estimates ran 4 % short; in December 2025 they were 10 % too high.")
    since = opening(jobs(15, 1.04), None, changed(1.04, 1.2, date(2025, 11, 3)))
    assert since.endswith("Further off since November 2025.")


def test_the_same_figure_is_not_said_twice() -> None:
    assert "; in August they did too." in opening(jobs(15, 1.04), jobs(15, 1.04))
    assert "; in August they were too." in opening(jobs(15, 0.9), jobs(15, 0.9))


def test_a_difference_is_called_more_than_luck_only_where_it_is() -> None:
    far, near = opening(jobs(15, 1.3), jobs(15, 1.0)), opening(jobs(15, 1.04), jobs(15, 1.03))
    assert far.endswith("That is more than luck explains.")
    assert near.endswith("The difference may be luck.")


def test_three_jobs_are_no_verdict_however_far_they_are_off() -> None:
    assert opening(jobs(3, 2.0), jobs(15, 1.0)).endswith("3 jobs: too few to say more.")
    assert opening(jobs(15, 2.0), jobs(3, 1.0)).endswith("no month yet to compare it with.")
    assert month_said.line_says(jobs(3, 2.0)) == "ran 100 % short; 3 jobs, too few to say"
    assert month_said.line_says(jobs(1, 2.0), "phase").endswith("1 phase, too few to say")
    assert "low" not in month_said.near(jobs(3, 2.0), 0.8)
    assert "ypically" not in month_said.typically(jobs(3, 2.0))


def test_the_cautious_figure_stands_beside_its_aim() -> None:
    """The example of the owner's page: 8 of 14; aim 11."""
    held = [Case(10, 10, 13)] * 8 + [Case(14, 10, 13)] * 6
    says = month_said.near(accuracy(held), 0.8)
    assert says.startswith(
        "8 of 14 came within a quarter. The cautious figure held 8 times; aim 11"
    )


@given(st.integers(0, 200), st.integers(50, 99).map(lambda of: of / 100))
def test_the_aim_is_the_nearest_count(count: int, cautious: float) -> None:
    assert abs(month_said.aim(count, cautious) - count * cautious) <= 0.5 + 1e-9


def test_a_cautious_figure_is_blamed_only_where_luck_does_not_explain_it() -> None:
    """Of 20 at 80 in 100: 16 and 13 may be luck, 9 is not; nor is 40 of 40."""

    def said(held: int, of: int) -> str:
        cases = [Case(10, 10, 13)] * held + [Case(14, 10, 13)] * (of - held)
        return month_said.near(accuracy(cases), 0.8)

    assert said(16, 20).endswith("aim 16.")
    assert said(13, 20).endswith("aim 16.")
    assert said(9, 20).endswith("so it is too low and not by luck.")
    assert said(40, 40).endswith("so it is higher than it need be.")


def test_a_typical_miss_is_explained_where_it_is_said() -> None:
    says = month_said.typically(jobs(15, 1.25, spread=0.0))
    assert says == (
        "Typically off by 20 %: half of the jobs were nearer, half further off. "
        "100 hours told took 125."
    )


@pytest.mark.parametrize(
    ("held", "of", "says"),
    [(29, 36, " off. Inside the range in 29 of 36 jobs; aim 4 of 5. 100 hours"),
     (9, 20, "in 9 of 20 jobs; aim 4 of 5, so it is too narrow and not by luck. 100 hours"),
     (40, 40, "in 40 of 40 jobs; aim 4 of 5, so it is wider than it need be. 100 hours")],
)  # fmt: skip
def test_the_range_stands_beside_its_aim_and_is_blamed_only_without_luck(
    held: int, of: int, says: str
) -> None:
    assert says in month_said.typically(ranged(held, of))


def test_too_few_ranges_are_no_word() -> None:
    """Of 20 jobs seven had a range."""
    cases = [Case(10, 10, 13, TOLD)] * 7 + [Case(10, 10, 13)] * 13
    assert "range" not in month_said.typically(accuracy(cases))
    assert "range" in month_said.typically(accuracy([Case(10, 10, 13, TOLD), *cases]))


def test_what_changed_the_hours_agreed_is_said_with_its_sign() -> None:
    assert month_said.scope(11.2, -16.9, 0.0) == (
        "Extra work agreed added 11.2 h, changed routes took out 16.9 h: jobs are judged with it, "
        "as it was agreed."
    )
    assert month_said.scope(0.0, 0.01, 0.0) == ""


@pytest.mark.parametrize(
    ("held", "end"),
    [(17, "17 should have: as they should, but for luck."), (9, "too few, and not by luck.")],
)
def test_promises_given_at_a_chance_are_held_against_it(held: int, end: str) -> None:
    says = month_said.promises_say(of_count(held, 20), of_count(held, 20), of_count(held, 20), 0.85)
    assert says.startswith(f"{held} of 20 promises were kept. Of 20 given at a chance {held} held")
    assert says.endswith(end)


def test_promises_that_held_more_often_than_was_said_are_no_praise() -> None:
    says = month_said.promises_say(of_count(40, 40), of_count(31, 40), of_count(40, 40), 0.6)
    assert "31 by what was told first" in says
    assert says.endswith("24 should have: more than was said, and not by luck.")


ratios = st.lists(
    st.builds(Case, st.floats(0.2, 60), st.floats(0.0, 60), st.floats(0.0, 90)), max_size=30
)


@given(ratios, ratios, st.floats(0.5, 2))
def test_no_line_holds_an_unexplained_word_of_statistics_or_a_doubled_stop(
    now: list[Case], before: list[Case], change: float
) -> None:
    found, earlier = accuracy(now), accuracy(before)
    lines = [
        opening(found, earlier), opening(found, earlier, changed(1.2, change)),
        month_said.near(found, 0.8), month_said.typically(found), month_said.line_says(found),
        month_said.promises_say(found.within, found.cautious, found.within, 0.7),
    ]  # fmt: skip
    for line in lines:
        assert not [word for word in UNEXPLAINED if word in line], line
        assert ".." not in line
        assert "  " not in line
        assert line.isprintable()
