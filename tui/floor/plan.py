"""Where things stand on the floor for a size: how many rows a lift has, and which lifts are on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from store.views.values import Floor, Lane, Want
from tui.floor.state import FloorState

Mode = Literal["small", "text", "lines", "room", "tall"]
LEAST_WIDTH, LEAST_HEIGHT = 60, 20
GUTTER = {"room": 30, "tall": 38}
WALL_GUTTER = {"room": 36, "tall": 48}
"""On a wall, where words are read from five metres."""
TEXT_WIDTH = 55
"""Cells of the two text lines of a lift; the rest of the width is its lane."""
LINES_BOTTOM = 6
"""Rows that two-line floors keep for lists, the last line and the keys."""
LEAST_TOLD, LEAST_CALM = 8, 11
"""Rows beside lifts and ends from which the top sentence has two: an act with what it moves
takes them from the lists."""
MOST_WANTS = 7
PAGE_S, LOUD_PAGE_S = 12.0, 24.0
"""How long a page stays on a wall, and one with a loud lane."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Rows of everything, counted from the top; a height of 0 leaves the thing out."""

    mode: Mode
    width: int
    height: int
    sentence: int
    """Rows of the top sentence, under the header."""
    lanes_top: int
    lane_rows: int
    shown: tuple[Lane, ...]
    first: int
    """Place of the first lift shown among all."""
    pages: int
    page: int
    lists_top: int
    lists_rows: int
    """Rows under the rule of the lists."""
    who_rows: int
    wall: bool = False

    @property
    def thick(self) -> int:
        """Cells that a band is thick."""
        if self.wall:
            return 2 if self.lane_rows >= 5 else 1
        return 2 if self.mode == "tall" and self.lane_rows >= 4 else 1

    @property
    def gutter(self) -> int:
        """Cells left of the lanes."""
        return gutter_width(self.mode, self.wall)

    @property
    def scale(self) -> int:
        """Of a lift's number in figures; 0 where it is a letter like any other."""
        if self.wall and self.mode in GUTTER:
            return 2 if self.mode == "tall" and self.lane_rows >= 6 else 1
        return 1 if self.mode == "tall" and self.lane_rows >= 4 else 0


def gutter_width(mode: Mode, wall: bool) -> int:
    """Cells left of the lanes; 0 where lanes have no gutter."""
    if mode == "lines":
        return TEXT_WIDTH
    return (WALL_GUTTER if wall else GUTTER).get(mode, 0)


def lane_width(size: tuple[int, int]) -> int:
    """Cells of a lane; 0 where none is drawn."""
    gutter = gutter_width(mode_of(*size), wall=False)
    return size[0] - gutter if gutter else 0


def stays_s(shown: Sequence[Lane], wants: Sequence[Want] = ()) -> float:
    """Seconds that a page of lifts stays on a wall: twice as long where one is loud."""
    loud = {want.lift for want in wants}
    return LOUD_PAGE_S if any(lane.lift in loud for lane in shown) else PAGE_S


def mode_of(width: int, height: int) -> Mode:
    """How much can be drawn in this size."""
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        return "small"
    if width >= 180:
        return "tall"
    return "room" if width >= 112 else "lines" if width >= 80 else "text"


def plan(floor: Floor, size: tuple[int, int], state: FloorState) -> Plan:
    """The plan for a size (width, height).

    Short of height a lift loses first its empty rows, then its figures, then lifts turn pages.
    """
    width, height = size
    mode = mode_of(width, height)
    who = 2 if mode in ("room", "tall") and not state.wall else 0
    ends = 0 if state.wall else 2
    if mode in ("room", "tall"):
        top, sentence = 5, 2
    else:
        told = state.trying is not None or (floor.helps is not None and bool(floor.helps.lines))
        least = LEAST_TOLD if told else LEAST_CALM
        sentence = 2 if height >= least + 2 * len(floor.lanes) + ends else 1
        top = 1 + sentence + (1 if mode == "lines" else 0)
    free = (height - top, who + ends)
    rows, room = _wall_rows(floor, mode, free[0]) if state.wall else _rows(floor, mode, free)
    each = max(1, min(len(floor.lanes), room // rows))
    pages = max(1, -(-len(floor.lanes) // each))
    page = min(max(0, state.page), pages - 1)
    shown = floor.lanes[page * each : (page + 1) * each]
    lists_top = top + rows * min(each, max(1, len(floor.lanes)))
    lists_rows = max(0, height - lists_top - 1 - who - ends)
    return Plan(
        mode, width, height, sentence, top, rows, shown, page * each, pages, page,
        lists_top, lists_rows, who, state.wall,
    )  # fmt: skip


def _rows(floor: Floor, mode: Mode, free: tuple[int, int]) -> tuple[int, int]:
    """Rows a lift, and rows that lifts may take in all."""
    height, fixed = free
    lifts = max(1, len(floor.lanes))
    if mode not in ("room", "tall"):
        return 2, height - min(LINES_BOTTOM, fixed + 4)
    wanted = 1 + min(MOST_WANTS, max(len(floor.wants), len(floor.waiting) + 2, 3)) + fixed
    least = 1 + 3 + fixed
    # lists give way before figures do, empty rows before lists
    sizes = ((6, wanted), (5, wanted), (4, least)) if mode == "tall" else ((5, wanted), (4, wanted))
    for rows, bottom in (*sizes, (3, least), (2, least)):
        if lifts * rows <= height - bottom:
            return rows, height - bottom
    return 3, height - least


def _wall_rows(floor: Floor, mode: Mode, height: int) -> tuple[int, int]:
    """The same on a wall: large rows first, then a shorter list, and pages before small rows."""
    bottom = 1 + min(MOST_WANTS, max(len(floor.wants), 1))
    if mode not in GUTTER:
        return 2, height - bottom
    lifts, least = max(1, len(floor.lanes)), min(bottom, 4)
    large = (8, 7, 6, 5) if mode == "tall" else (6, 5)
    for rows, under in (*((rows, bottom) for rows in large), (5, least), (4, least)):
        if lifts * rows <= height - under:
            return rows, height - under
    return (6 if mode == "tall" else 5), height - least


def page_of(floor: Floor, size: tuple[int, int], state: FloorState, lift: str) -> int:
    """The page that a lift is on, so that a cursor can turn it."""
    here = plan(floor, size, state)
    each = max(1, len(plan(floor, size, FloorState(page=0, wall=state.wall)).shown))
    place = next((n for n, lane in enumerate(floor.lanes) if lane.lift == lift), here.first)
    return place // each
