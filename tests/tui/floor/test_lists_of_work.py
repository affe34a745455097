"""What the floor shows of lists of work: whose a lift's next phase is, and who has nothing next."""

from __future__ import annotations

from dataclasses import replace

import pytest

from store.views.assigned_values import Given
from store.views.values import Floor
from tests.tui.made import on, phase
from tests.tui.made_floor import calm_floor, floor
from tui.floor.lists import idle_words
from tui.floor.paint import floor_canvas
from tui.floor.state import FloorState
from tui.lane.state import job_says
from tui.signs import UNICODE

STATE = FloorState(who="Ruth, foreman")


def nobody_on_it(of: Floor, *given: Given) -> Floor:
    """The same with nobody clocked on the job of lift 1, which may be on somebody's list."""
    first = of.lanes[0]
    assert first.job
    job = replace(
        first.job, people=(), phase=phase("4 gearbox in", 2.6, 3.8, ()), assigned=given,
        ahead=first.job.ahead[:1],
    )  # fmt: skip
    return replace(of, lanes=(replace(first, job=job), *of.lanes[1:]))


def text(of: Floor, size: tuple[int, int]) -> str:
    """The whole floor."""
    return "\n".join(floor_canvas(of, size, UNICODE, STATE).text())


INES = Given("B12", "Ines", "IN", "4", True)
TOMAS = Given("B13", "Tomas", "TO", None, True)
LATER = Given("B14", "Per", "PE", "6", False)


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 50)])
def test_a_lift_that_nobody_is_on_says_whose_it_is_next(size: tuple[int, int]) -> None:
    assert "nobody on it" in text(nobody_on_it(calm_floor()), size)
    shown = text(nobody_on_it(calm_floor(), INES, TOMAS, LATER), size)
    assert "IN+TO next" in shown
    assert "nobody on it" not in shown
    assert "nobody on it" in text(nobody_on_it(calm_floor(), LATER), size), "that is not next"


def test_whoever_is_on_it_is_shown_and_not_whose_it_is() -> None:
    van = calm_floor().lanes[0].job
    assert van
    given = replace(van, assigned=(TOMAS,))
    assert job_says(given, floor().calendar, on("Wed 10:40")) == job_says(
        van, floor().calendar, on("Wed 10:40")
    )


def test_who_has_nothing_next_is_said_at_the_end_of_the_row() -> None:
    of = calm_floor()
    assert idle_words(of) == ""
    kept = replace(of, idle=("PE", "MI"))
    assert idle_words(kept) == "nothing next: PE+MI"
    row = next(line for line in text(kept, (120, 40)).split("\n") if "nothing next" in line)
    assert row.rstrip().endswith("nothing next: PE+MI")
    assert "Ines 2417.4" in row
