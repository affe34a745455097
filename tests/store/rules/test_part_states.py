"""What may become of a part."""

from __future__ import annotations

from typing import get_args

import pytest

from store.rules.part_states import MAY_BECOME, NOT_LACKING, PartState, why_not

STATES: tuple[PartState, ...] = get_args(PartState)
REFUSED: list[tuple[PartState, PartState, str]] = [
    ("wanted", "fitted", "was never here and cannot be fitted"),
    ("wanted", "returned", "was never here and cannot be returned"),
    ("ordered", "fitted", "was never here"),
    ("ordered", "returned", "was never here"),
    ("wrong", "fitted", "Send it back, or order it again"),
    ("returned", "fitted", "Order it again"),
    ("fitted", "returned", "is fitted already"),
    ("fitted", "ordered", "is fitted already"),
    ("not needed", "fitted", "is not needed"),
    ("here", "ordered", "is here and cannot be ordered. It can be fitted or not needed or"),
    ("wanted", "wrong", "is wanted and cannot be wrong"),
]


@pytest.mark.parametrize(("before", "after", "words"), REFUSED)
def test_what_cannot_follow_is_refused_with_what_to_do(
    before: PartState, after: PartState, words: str
) -> None:
    says = why_not(before, after)
    assert says is not None
    assert words in says
    assert says.endswith(".")


@pytest.mark.parametrize("before", STATES)
@pytest.mark.parametrize("after", STATES)
def test_every_other_step_is_in_the_table_or_refused(before: PartState, after: PartState) -> None:
    assert (why_not(before, after) is None) == (before == after or after in MAY_BECOME[before])


def _one_further(reached: set[PartState]) -> set[PartState]:
    return {after for one in reached for after in MAY_BECOME[one]}


def test_every_part_can_come_to_an_end_in_which_it_does_not_lack() -> None:
    for state in STATES:
        reached: set[PartState] = {state}
        while not reached >= (more := _one_further(reached)):
            reached |= more
        assert reached & NOT_LACKING, state


def test_a_wrong_part_goes_back_or_is_ordered_again() -> None:
    assert why_not("wrong", "returned") is None
    assert why_not("wrong", "ordered") is None
    assert why_not("returned", "ordered") is None
    assert "returned" not in NOT_LACKING
