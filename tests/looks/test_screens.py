"""The painted screens at three sizes in both sign sets, compared with what was kept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.looks.golden import SCREENS, compare
from tests.tui.follow.made import SOME as FOLLOW_UPS
from tests.tui.made_card import bay, card, no_clock
from tests.tui.made_desk import calm_desk, desk, empty_desk
from tests.tui.made_floor import calm_floor, floor, full_house, unlearned
from tests.tui.made_intake import FORM, found, here, state
from tests.tui.made_lists import VIEW as LISTS
from tests.tui.made_needs import HELPS, LINES, NEEDS, WHY
from tests.tui.made_outside import outside_card
from tests.tui.made_pages import book_list, book_none, book_opened, grid, refused_grid
from tests.tui.made_parts import waiting_card
from tests.tui.made_told import told_card
from tests.tui.made_trying import after, before
from tests.tui.month.made import told as month_told
from tests.tui.tools.made import ALL as EVERY_KIT
from tests.tui.tools.made import SOME as KITS
from tui.bay.paint import bay_canvas
from tui.bay.state import BayState
from tui.book.paint import book_canvas
from tui.desk.paint import desk_canvas
from tui.desk.state import DeskState
from tui.floor.paint import floor_canvas
from tui.floor.state import FloorState, Trying
from tui.floor.trying import trying_keys
from tui.follow.paint import follow_canvas
from tui.follow.state import FollowState
from tui.intake.fields import begun
from tui.intake.paint import intake_canvas
from tui.intake.state import Before, Form
from tui.intake.what_if import what_if_canvas
from tui.job.paint import job_canvas
from tui.job.state import JobState
from tui.lists.paint import lists_canvas
from tui.month.paint import month_canvas
from tui.month.state import MonthState
from tui.needs.paint import needs_canvas
from tui.needs.why_paint import why_canvas
from tui.paper.paint import paper_canvas
from tui.parts.canvas import Canvas
from tui.ready.paint import Standing, parts_canvas
from tui.setup.paint import SetupState, setup_canvas
from tui.setup.questions import questions
from tui.signs import ASCII, UNICODE, Signs
from tui.tools.paint import tools_canvas
from tui.tools.state import ToolsState

FLOOR = FloorState(who="Ruth, foreman", cursor="3")
DESK = DeskState("2439", "Ruth, foreman")
FOLLOW = FollowState("2417.1", "Ruth, foreman")
MONTH = MonthState("jobs", who="Olga, owner")
TOOLS = ToolsState("LS", who="Ruth, foreman")
BEFORE = Before("2391 clutch and flywheel, closed 3 Mar; 2210 oil leak; 84,200 km", fresh=True)
WALL = FloorState(wall=True)
TRYING = replace(
    FLOOR, cursor="2", trying=Trying(LINES[0], before(), HELPS), keys=trying_keys(len(LINES))
)
FIRST_RUN = SetupState("~/.local/share/hoistbook/shop.shop")
ASKED = SetupState(
    FIRST_RUN.path, 3,
    {"name": "Marsh Lane Works", "zone": "Europe/Amsterdam", "currency": "EUR", "pin": "2468"},
)  # fmt: skip
BELOW = 22
"""Rows under which a card is no longer its head and its phases."""
Painter = Callable[[tuple[int, int], Signs], Canvas]
PAINTERS: dict[str, Painter] = {
    "floor": lambda size, signs: floor_canvas(floor(), size, signs, FLOOR),
    "floor-calm": lambda size, signs: floor_canvas(calm_floor(), size, signs, FLOOR),
    "floor-wall": lambda size, signs: floor_canvas(floor(), size, signs, WALL),
    "floor-24": lambda size, signs: floor_canvas(full_house(), size, signs, replace(FLOOR, page=1)),
    "floor-new": lambda size, signs: floor_canvas(unlearned(floor()), size, signs, FLOOR),
    "floor-helps": lambda size, signs: floor_canvas(
        replace(floor(), helps=HELPS), size, signs, FLOOR
    ),
    "floor-trying": lambda size, signs: floor_canvas(after(), size, signs, TRYING),
    "needs": lambda size, signs: needs_canvas((NEEDS, HELPS), 1, size, signs, ""),
    "why": lambda size, signs: why_canvas(WHY, 0, size, signs, ""),
    "job": lambda size, signs: job_canvas(card(), size, signs, JobState()),
    "job-told": lambda size, signs: job_canvas(told_card(), size, signs, JobState()),
    "job-told-below": lambda size, signs: job_canvas(
        told_card(), size, signs, JobState(scroll=BELOW)
    ),
    "job-outside": lambda size, signs: job_canvas(outside_card(), size, signs, JobState()),
    "job-outside-below": lambda size, signs: job_canvas(
        outside_card(), size, signs, JobState(scroll=BELOW)
    ),
    "job-waiting": lambda size, signs: job_canvas(waiting_card(), size, signs, JobState()),
    "job-waiting-below": lambda size, signs: job_canvas(
        waiting_card(), size, signs, JobState(scroll=BELOW)
    ),
    "parts": lambda size, signs: parts_canvas(
        waiting_card(), Standing(1, frozenset({2, 4})), size, signs, ""
    ),
    "paper": lambda size, signs: paper_canvas(grid(), size, signs, ""),
    "paper-refused": lambda size, signs: paper_canvas(
        refused_grid(), size, signs, "! 2420.2 bearings waits for hold point 2.4."
    ),
    "book": lambda size, signs: book_canvas(book_list(), size, signs, ""),
    "book-opened": lambda size, signs: book_canvas(book_opened(), size, signs, ""),
    "book-none": lambda size, signs: book_canvas(book_none(), size, signs, ""),
    "bay": lambda size, signs: bay_canvas(bay(), size, signs, BayState()),
    "intake": lambda size, signs: intake_canvas(here(), size, signs, state()),
    "intake-new": lambda size, signs: intake_canvas(
        here(),
        size,
        signs,
        state(form=Form(), found=None, stage="", typing=begun(here(), Form(), "vehicle")),
    ),
    "intake-typing": lambda size, signs: intake_canvas(
        here(),
        size,
        signs,
        state(typing=begun(here(), FORM, "family", "b4")),
    ),
    "intake-known": lambda size, signs: intake_canvas(
        here(), size, signs, state(job="2438", before=BEFORE)
    ),
    "intake-what-if": lambda size, signs: what_if_canvas(here(), found(), 0, size, signs),
    "bay-no-clock": lambda size, signs: bay_canvas(no_clock(), size, signs, BayState()),
    "desk": lambda size, signs: desk_canvas(desk(), size, signs, DESK),
    "desk-calm": lambda size, signs: desk_canvas(calm_desk(), size, signs, DESK),
    "desk-empty": lambda size, signs: desk_canvas(empty_desk(), size, signs, DeskState()),
    "follow-ups": lambda size, signs: follow_canvas(FOLLOW_UPS, size, signs, FOLLOW),
    "tools": lambda size, signs: tools_canvas(KITS, size, signs, TOOLS),
    "tools-clash": lambda size, signs: tools_canvas(
        EVERY_KIT, size, signs, replace(TOOLS, cursor="CC")
    ),
    "month": lambda size, signs: month_canvas(month_told(), size, signs, MONTH),
    "lists": lambda size, signs: lists_canvas(LISTS, 1, size, signs, ""),
    "first-run": lambda size, signs: setup_canvas(FIRST_RUN, questions(), size, signs),
    "first-run-asked": lambda size, signs: setup_canvas(ASKED, questions(), size, signs),
}
SIZES = [(80, 24), (120, 40), (200, 50)]
SETS = [UNICODE, ASCII]


def name_of(screen: str, size: tuple[int, int], signs: Signs) -> str:
    return f"{screen}-{size[0]}x{size[1]}{'-ascii' if signs.ascii else ''}"


@pytest.mark.parametrize("signs", SETS, ids=["unicode", "ascii"])
@pytest.mark.parametrize("size", SIZES, ids=str)
@pytest.mark.parametrize("screen", PAINTERS)
def test_a_screen_looks_as_it_was_kept(screen: str, size: tuple[int, int], signs: Signs) -> None:
    compare(name_of(screen, size, signs), PAINTERS[screen](size, signs).text())


def test_no_screen_is_kept_that_nobody_paints() -> None:
    painted = {name_of(s, size, signs) for s in PAINTERS for size in SIZES for signs in SETS}
    assert {kept.stem for kept in SCREENS.glob("*.txt")} == painted
