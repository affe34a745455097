"""Whether a vehicle may go on a lift.

Intervals: LOLER 1998 (SI 1998/2307) reg. 9(3)(a), whose wording was read; ANSI/ALI ALOIM, of which
a summary of the 2000 edition was read.
"""

from __future__ import annotations

from datetime import date

import pytest

from store.rules.lift_fit import INTERVALS, Fit, Inspection, lift_fit

TODAY = date(2026, 10, 14)
YEARLY = "ANSI/ALI ALOIM"
INSPECTED = Inspection(date(2026, 3, 2), 12, YEARLY)
LOOK_OVER = "Lift L2 has not been looked over today: do it before you raise the vehicle."


def fit(
    *,
    rated_kg: float = 4000,
    in_service: bool = True,
    inspection: Inspection | None = INSPECTED,
    overdue_refuses: bool = False,
    looked_over: date | None = TODAY,
    mass_kg: float | None = 1850,
) -> Fit:
    return lift_fit(
        lift="L2",
        rated_kg=rated_kg,
        in_service=in_service,
        inspection=inspection,
        overdue_refuses=overdue_refuses,
        looked_over=looked_over,
        mass_kg=mass_kg,
        today=TODAY,
    )


def test_nothing_speaks_against_it() -> None:
    assert fit() == Fit(None, ())


def test_the_rated_capacity_is_still_carried() -> None:
    assert fit(mass_kg=4000).refused is None


@pytest.mark.parametrize(("mass_kg", "said"), [(4001, "4,001 kg"), (4000.4, "4,000.4 kg")])
def test_a_vehicle_too_heavy_is_refused_with_both_figures(mass_kg: float, said: str) -> None:
    assert fit(mass_kg=mass_kg).refused == (
        f"The vehicle has {said} and lift L2 is rated for 4,000 kg: take a lift that carries it."
    )


def test_a_mass_that_is_not_known_is_a_warning() -> None:
    said = "The mass of the vehicle is not known and lift L2 is rated for 4,000 kg: enter the mass."
    assert fit(mass_kg=None) == Fit(None, (said,))


def test_a_lift_out_of_service_is_refused_whatever_else() -> None:
    found = fit(in_service=False, mass_kg=9000)
    assert found.refused == (
        "Lift L2 is out of service: take another one, or return it to service first."
    )


@pytest.mark.parametrize("looked_over", [None, date(2026, 10, 13)])
def test_a_lift_not_looked_over_today_is_a_warning(looked_over: date | None) -> None:
    assert fit(looked_over=looked_over) == Fit(None, (LOOK_OVER,))


@pytest.mark.parametrize(
    ("last", "warned"),
    [
        (date(2025, 10, 13), "was due 13 Oct 2026, lift L2 (ANSI/ALI ALOIM): have it inspected"),
        (date(2025, 10, 14), "is due 14 Oct 2026, lift L2 (ANSI/ALI ALOIM): book the inspector"),
        (date(2025, 10, 28), "is due 28 Oct 2026"),
        (date(2025, 10, 29), None),
    ],
)
def test_an_inspection_overdue_or_due_within_a_fortnight(last: date, warned: str | None) -> None:
    found = fit(inspection=Inspection(last, 12, YEARLY))
    assert found.refused is None
    assert len(found.warnings) == (0 if warned is None else 1)
    assert warned is None or warned in found.warnings[0]


def test_by_the_owners_rule_an_overdue_lift_is_refused() -> None:
    overdue = Inspection(date(2025, 10, 13), 12, YEARLY)
    found = fit(inspection=overdue, overdue_refuses=True)
    assert found.refused is not None
    assert "was due 13 Oct 2026" in found.refused
    assert found.warnings == ()
    due_today = Inspection(date(2025, 10, 14), 12, YEARLY)
    assert fit(inspection=due_today, overdue_refuses=True).refused is None


def test_no_inspection_on_record_counts_as_overdue() -> None:
    said = "Lift L2 has no inspection on record: enter its date, interval and source."
    assert fit(inspection=None) == Fit(None, (said,))
    assert fit(inspection=None, overdue_refuses=True) == Fit(said, ())


def test_being_too_heavy_is_said_before_being_overdue_which_is_still_warned_of() -> None:
    found = fit(inspection=None, overdue_refuses=True, mass_kg=5000)
    assert found.refused is not None
    assert "5,000 kg" in found.refused
    assert len(found.warnings) == 1


@pytest.mark.parametrize(
    ("last", "months", "due"),
    [
        (date(2026, 3, 2), 12, date(2027, 3, 2)),
        (date(2026, 3, 2), 6, date(2026, 9, 2)),
        (date(2025, 8, 31), 6, date(2026, 2, 28)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2026, 12, 31), 6, date(2027, 6, 30)),
        (date(2026, 6, 15), 6, date(2026, 12, 15)),
    ],
)
def test_the_next_inspection_falls_on_the_same_day_of_the_month(
    last: date, months: int, due: date
) -> None:
    assert Inspection(last, months, YEARLY).due == due


def test_the_proposed_intervals_name_their_source() -> None:
    assert {interval.months for interval in INTERVALS} == {6, 12}
    assert all("LOLER" in one.source or "ALOIM" in one.source for one in INTERVALS)


def test_masses_of_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        fit(mass_kg=0)
    with pytest.raises(ValueError, match="above 0"):
        fit(rated_kg=float("nan"))


def test_every_sentence_is_one_line() -> None:
    old = Inspection(date(2020, 1, 1), 12, YEARLY)
    found = fit(inspection=old, looked_over=None, mass_kg=None)
    assert len(found.warnings) == 3
    assert not any("\n" in said for said in found.warnings)
