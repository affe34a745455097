"""What the book should say: everywhere or by family, from enough, and each hour counted once."""

from __future__ import annotations

import math

import pytest

from store.rules.book import Hours, HoursFor, Phase, WorkBook
from store.rules.should_say import Say, Sure, Took, pooled, proposed, said, tenths

HERE, OTHER, THIRD = "S6-M-R", "B4-M-F", "V8-A-4"


def took(
    family: str | None, middle: float, times: int, *, sure: Sure = "sure", operation: str = "CL"
) -> Took:
    return Took(operation, "P", family, Hours(middle / 2, middle, middle * 2), times, sure)


def book(*own: tuple[str, float], hours: float = 2.0) -> WorkBook:
    phase = Phase(
        "P", "work", Hours(hours / 2, hours, hours * 2),
        hours_for=tuple(HoursFor(family, Hours(h / 2, h, h * 2)) for family, h in own),
    )  # fmt: skip
    return WorkBook("b", {}, (), (), (), {"P": phase}, {})


def short(says: tuple[Say, ...]) -> list[tuple[str | None, float, bool]]:
    return [(say.family, say.should.middle, say.good) for say in says]


def test_families_that_are_alike_share_one_figure() -> None:
    known = [took(None, 3.0, 40), took(HERE, 3.1, 20), took(OTHER, 2.9, 20)]
    assert short(proposed(book(), known)) == [(None, 3.0, True)]


def test_one_family_apart_has_its_own_and_the_others_keep_theirs() -> None:
    known = [took(None, 2.6, 40), took(HERE, 4.0, 12), took(OTHER, 2.0, 28, sure="open")]
    assert short(proposed(book(), known)) == [(HERE, 4.0, True)]


def test_where_the_rest_moves_too_it_is_the_mean_of_the_others_alone() -> None:
    known = [took(None, 3.4, 60), took(HERE, 5.0, 20), took(OTHER, 2.8, 30), took(THIRD, 3.1, 10)]
    (rest, own) = proposed(book(), known)
    mean = math.exp((30 * math.log(2.8) + 10 * math.log(3.1)) / 40)  # 2.87
    assert (rest.family, rest.should.middle, rest.finished) == (None, round(mean, 1), 40)
    assert rest.others == (HERE,)
    assert (own.family, own.should.middle) == (HERE, 5.0)


def test_a_family_that_has_hours_of_its_own_is_compared_with_them() -> None:
    known = [took(None, 2.6, 40), took(HERE, 4.0, 12), took(OTHER, 2.0, 28)]
    assert proposed(book((HERE, 4.0)), known) == ()
    assert short(proposed(book(("S6-*-*", 3.0)), known)) == [(HERE, 4.0, True)]


def test_a_family_that_was_right_is_named_where_the_rest_is_moved_away_from_it() -> None:
    known = [took(None, 3.0, 60), took(HERE, 2.0, 12, sure="sure"), took(OTHER, 3.3, 48)]
    assert [(say.family, say.should.middle) for say in proposed(book(), known)] == [
        (None, 3.3), (HERE, 2.0),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "one",
    [took(None, 3.0, 7), took(None, 3.0, 90, sure="likely"), took(None, 3.0, 90, sure="open")],
)
def test_from_few_or_unsure_it_is_told_and_not_adopted(one: Took) -> None:
    assert short(proposed(book(), [one])) == [(None, 3.0, False)]


def test_a_tenth_or_a_twentieth_is_no_difference() -> None:
    assert proposed(book(), [took(None, 2.04, 90)]) == ()
    assert proposed(book(hours=7.0), [took(None, 7.2, 90)]) == ()
    assert len(proposed(book(hours=7.0), [took(None, 7.4, 90)])) == 1


def test_a_phase_that_operations_share_is_one_by_how_often_it_was_done_in_each() -> None:
    known = [took(None, 2.0, 30), took(None, 4.0, 10, operation="TC", sure="open")]
    (one,) = pooled(known)
    # 2^(3/4) x 4^(1/4) = 2.378
    assert one.hours.middle == pytest.approx(2.378, abs=1e-3)
    assert (one.operation, one.finished, one.sure) == ("CL", 40, "sure")


def test_what_is_said_of_one_phase_is_what_is_proposed_of_it() -> None:
    known = [took(None, 3.4, 60), took(HERE, 5.0, 20), took(OTHER, 2.8, 40)]
    phase = book().phases["P"]
    for say in proposed(book(), known):
        assert said(phase, known, say.family) == say
    assert said(phase, known, "H4-A-F") is None
    assert said(phase, [], None) is None


def test_hours_are_said_in_tenths_and_never_none() -> None:
    assert tenths(Hours(0.01, 0.26, 1.049)) == Hours(0.1, 0.3, 1.0)
