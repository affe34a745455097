"""Pictures of a month in cells: one mark a job, bars, values between their limits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rich.cells import cell_len

from tui.colours import Ink, Role
from tui.month.sheet import BOLD, DIM, LABEL, LEFT, TEXT, Page
from tui.papers.pictures import Bars, Kind, Run, Strip
from tui.papers.pictures_text import RIGHT, run_lines, strip_lines
from tui.parts.canvas import Canvas
from tui.signs import Signs
from tui.words import cut

BEHIND = Ink("behind")
INKS: Mapping[Kind, Role] = {
    "text": "text", "past": "past", "running": "running", "ahead": "ahead", "behind": "behind",
    "blocked": "blocked", "dim": "next",
}  # fmt: skip


def strip(page: Page, found: Strip, most: int, stop: str) -> None:
    """One mark a job between half and double; more than `most` on one another end in a plus.

    What came within a quarter lies on a ground of its own.
    """
    room = page.width - LEFT - 1
    *rows, scale = strip_lines(found, room, page.signs)
    near = _near(room, page.signs)
    for line in _lowered(rows, most, page.signs.of("done"), page.signs.of("over")):
        row = page.row(stop)
        _marks(row, line, near, room - RIGHT, page.signs)
        row.ground(LEFT + near[0], 0, near[1] - near[0] + 1, 1, "panel")
    page.row(stop).put(LEFT, 0, scale, DIM)


def _near(room: int, signs: Signs) -> tuple[int, int]:
    """The cells of the two edges between which a job came within a quarter."""
    bare = next(strip_lines(Strip((), ""), room, signs))
    at = [x for x, letter in enumerate(bare) if letter == signs.night]
    return at[0], at[-1]


def _lowered(rows: Sequence[str], most: int, mark: str, more: str) -> list[str]:
    """The lowest rows; a plus in the first of them where marks stood above."""
    if len(rows) <= most:
        return list(rows)
    above = {x for row in rows[:-most] for x, letter in enumerate(row) if letter == mark}
    cells = list(rows[-most].ljust(max(above, default=0) + 1))
    for x in above:
        cells[x] = more
    return ["".join(cells), *rows[-most + 1 :]]


def _marks(row: Canvas, line: str, near: tuple[int, int], room: int, signs: Signs) -> None:
    for x, letter in enumerate(line[:room]):
        if letter != " ":
            is_far = not near[0] <= x <= near[1]
            is_job = letter in (signs.of("done"), signs.of("over"))
            row.put(LEFT + x, 0, letter, (BEHIND if is_far else TEXT) if is_job else DIM)
    row.put(LEFT + room, 0, line[room:], BEHIND)


def bars(page: Page, found: Bars, title: str = "", stops: Sequence[str] = ()) -> None:
    """Bars with name, figure and note; the title stands beside the first."""
    names = max((cell_len(one.name) for one in found.bars), default=0)
    figures = max((cell_len(one.told) for one in found.bars), default=0)
    notes = max((cell_len(one.note) for one in found.bars), default=0)
    start = LEFT + (LABEL if title else 0)
    room = max(4, page.width - start - names - figures - notes - 6)
    most = max((sum(one.value for one in bar.pieces) for bar in found.bars), default=0.0)
    for n, bar in enumerate(found.bars):
        row = page.row(stops[n] if n < len(stops) else "")
        if title and n == 0:
            row.put(LEFT, 0, title, BOLD)
        row.put(start, 0, cut(bar.name, names, page.signs.more), DIM)
        row.right(start + names + 2 + figures, 0, bar.told, TEXT)
        x, end, first = start + names + 3 + figures, 0.0, 0
        for piece in bar.pieces:
            end += max(0.0, piece.value)
            last = round(room * end / most) if most > 0 else 0
            row.fill(x + first, 0, last - first, Ink(INKS[piece.kind]), _glyph(piece.kind, page))
            first = max(first, last)
        row.put(x + room + 2, 0, bar.note, DIM)


def _glyph(kind: Kind, page: Page) -> str:
    """Bars that mean something else are drawn otherwise too: without colour nothing is lost."""
    signs = page.signs
    return {"blocked": signs.held, "behind": signs.beyond, "past": signs.worked,
            "dim": signs.full, "running": signs.running}.get(kind, signs.full)  # fmt: skip


def legend(page: Page, found: Bars) -> None:
    """What the pieces of bars are."""
    pieces: dict[str, Kind] = {one.name: one.kind for bar in found.bars for one in bar.pieces}
    row, x = page.row(), LEFT
    for name, kind in pieces.items():
        x = row.put(x, 0, _glyph(kind, page) * 2, Ink(INKS[kind])) + 1
        x = row.put(x, 0, name, DIM) + 3


def run(page: Page, found: Run, stop: str = "") -> None:
    """Values in their order between limits; what lies outside them is loud, a change is dated."""
    signs = page.signs
    inks = {
        signs.of("act"): Ink("behind", bold=True), signs.of("done"): TEXT,
        signs.night: BEHIND, signs.quiet: Ink("line"), signs.rule: Ink("next"),
    }  # fmt: skip
    changed = any(one.since is not None for one in found.stretches)
    for n, line in enumerate(run_lines(found, page.width - LEFT - 1, signs)):
        row = page.row(stop)
        words = DIM if not (changed and n == 0) else BEHIND
        for x, letter in _letters(line):
            row.put(LEFT + x, 0, letter, inks.get(letter, words) if len(letter) == 1 else words)


def _letters(line: str) -> list[tuple[int, str]]:
    """Signs one by one, words as they are, each with its cell."""
    found: list[tuple[int, str]] = []
    x = 0
    for part in line.split(" "):
        is_word = any(letter.isalnum() for letter in part)
        if is_word:
            found.append((x, part))
        else:
            found += [(x + n, letter) for n, letter in enumerate(part)]
        x += cell_len(part) + 1
    return found
