"""Pictures of a paper in letters: one line each, none wider than it may be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import log2

from rich.cells import cell_len, set_cell_size

from tui.papers.pictures import DOUBLE, HALF, NEAR, Bars, Run, Strip
from tui.papers.said import on_day
from tui.signs import Signs
from tui.words import cut

RIGHT = 12
"""Cells beside a strip for how many are to be looked at."""
NAMES, FIGURES = 22, 12
"""Cells of a bar's name and of its figure at most."""
LEAST = 10
"""A bar has so many cells at least; else no note stands beside it."""
HIGH = 9
"""Lines of a chart of individual values."""


def strip_lines(strip: Strip, width: int, signs: Signs) -> Iterator[str]:
    """Marks between half and double; those that fall together stand on one another."""
    room = width - RIGHT
    at = [_place(one.ratio, room) for one in strip.marks]
    rows = max((at.count(x) for x in at), default=0)
    look_at = sum(not one.near for one in strip.marks)
    told = ("", "") if not look_at else (f"{look_at} to", "look at")
    rows = max(2, rows)
    for row in range(rows - 1, -1, -1):
        cells = [" "] * room
        for x in (_place(one, room) for one in NEAR):
            cells[x] = signs.night
        if row == rows - 1:
            cells[_place(1.0, room)] = signs.now
        for x in {one for one in at if at.count(one) > row}:
            cells[x] = signs.of("done")
        yield f"{''.join(cells)} {told[1 - row] if row < 2 else ''}".rstrip()
    yield _scale(room)


def _place(ratio: float, room: int) -> int:
    """The cell of a ratio: twice as much is as far from the middle as half."""
    share = (1 + log2(min(DOUBLE, max(HALF, ratio)))) / 2
    return min(room - 1, int(share * room))


def _scale(room: int) -> str:
    """Names of places below them; those of the quarters where they have room beside the others."""
    line = [" "] * room
    for ratio, name in ((HALF, "half"), (DOUBLE, "double"), (1.0, "as told"),
                        (NEAR[0], "quarter less"), (NEAR[1], "quarter more")):  # fmt: skip
        start = min(max(0, _place(ratio, room) - len(name) // 2), room - len(name))
        start += {NEAR[0]: -2, NEAR[1]: 2}.get(ratio, 0)
        if not "".join(line[max(0, start - 1) : start + len(name) + 1]).strip():
            line[start : start + len(name)] = name
    return "".join(line).rstrip()


def bars_lines(bars: Bars, width: int, signs: Signs) -> Iterator[str]:
    """Bars with name, figure and note; pieces of one bar by different glyphs."""
    names = min(NAMES, max((cell_len(one.name) for one in bars.bars), default=0))
    figures = min(FIGURES, max((cell_len(one.told) for one in bars.bars), default=0))
    notes = max((cell_len(one.note) for one in bars.bars), default=0)
    room = width - names - figures - 3
    notes = notes if room - notes - 2 >= LEAST else 0
    room -= notes + 2 if notes else 0
    glyphs = _glyphs(bars, signs)
    most = max((sum(one.value for one in bar.pieces) for bar in bars.bars), default=0.0)
    for bar in bars.bars:
        body = _pieces([(one.value, glyphs[one.name]) for one in bar.pieces], most, room)
        head = f"{set_cell_size(cut(bar.name, names), names)} {cut(bar.told, figures):>{figures}} "
        note = f"  {bar.note}" if notes else ""
        yield f"{head}{body:<{room}}{note}".rstrip()
    if bars.legend:
        yield "  ".join(f"{glyph} {name}" for name, glyph in glyphs.items())


def _glyphs(bars: Bars, signs: Signs) -> dict[str, str]:
    """A glyph for each piece that is called alike."""
    pool = (signs.worked, signs.held, signs.won, signs.quiet, signs.night)
    names = dict.fromkeys(piece.name for bar in bars.bars for piece in bar.pieces)
    if not bars.legend:
        return dict.fromkeys(names, signs.worked)
    return {name: pool[n % len(pool)] for n, name in enumerate(names)}


def _pieces(pieces: Sequence[tuple[float, str]], most: float, room: int) -> str:
    """Cells by where each piece ends, so that the whole is right to the cell."""
    line, end = "", 0.0
    for value, glyph in pieces:
        end += max(0.0, value)
        until = round(room * end / most) if most > 0 else 0
        line += glyph * max(0, until - len(line))
    return line


# -- individual values


def run_lines(run: Run, width: int, signs: Signs) -> Iterator[str]:
    """Points in their order between limits; a change is a line upwards with its day above."""
    if not run.points:
        return
    said = [*run.middle_says, *(says for _, says in (*run.scale, *filter(None, [run.target])))]
    names = min(max(map(cell_len, said), default=0), NAMES)
    room = width - names - 1
    step = max(1, min(8, room // len(run.points)))
    shown = run.points[-(room // step) :]
    left = len(run.points) - len(shown)
    grid = [[" "] * (step * len(shown)) for _ in range(HIGH)]
    beside = _draw(run, grid, left, step, signs)
    yield from _changes(run, names, left, step)
    for y, cells in enumerate(grid):
        yield f"{set_cell_size(cut(beside.get(y, ''), names), names)} {''.join(cells)}".rstrip()
    yield _below([one.label for one in shown], names, step, width)


def _draw(run: Run, grid: list[list[str]], left: int, step: int, signs: Signs) -> dict[int, str]:
    """Draw into the grid; return what stands beside which line."""
    low, high = _ends(run)

    def row(value: float) -> int:
        return round((HIGH - 1) * (high - value) / (high - low))

    beside = {row(value): says for value, says in run.scale}
    if run.target is not None:
        beside[row(run.target[0])] = run.target[1]
        _across(grid, row(run.target[0]), 0, len(grid[0]), signs.quiet)
    for one, says in zip(run.stretches, run.middle_says, strict=True):
        ends = (max(0, one.first - left) * step, (one.last + 1 - left) * step)
        for value, glyph in ((one.low, signs.quiet), (one.high, signs.quiet),
                             (one.middle, signs.rule)):  # fmt: skip
            _across(grid, row(value), *ends, glyph)
        beside[row(one.middle)] = says
        if one.since is not None and one.first >= left:
            for line in grid:
                line[ends[0]] = signs.night
    for n, point in enumerate(run.points[left:]):
        sign = signs.of("act") if point.loud else signs.of("done")
        grid[row(point.value)][n * step + step // 2] = sign
    return beside


def _across(grid: list[list[str]], y: int, x: int, end: int, glyph: str) -> None:
    for at in range(x, min(end, len(grid[y]))):
        grid[y][at] = glyph


def _ends(run: Run) -> tuple[float, float]:
    every = [one.value for one in run.points]
    every += [value for one in run.stretches for value in (one.low, one.high)]
    every += [run.target[0]] if run.target is not None else []
    return (min(every), max(every)) if max(every) > min(every) else (every[0] - 1, every[0] + 1)


def _changes(run: Run, names: int, left: int, step: int) -> Iterator[str]:
    """The days of changes above where they fall."""
    line = ""
    for one in run.stretches:
        if one.since is not None and one.first >= left:
            line = f"{line:<{names + 1 + (one.first - left) * step}}{on_day(one.since)} "
    if line:
        yield line.rstrip()


def _below(labels: Sequence[str], names: int, step: int, width: int) -> str:
    """Every label that has room beside the newer ones, from the newest on."""
    line, free = [" "] * width, width
    for n in range(len(labels) - 1, -1, -1):
        size = cell_len(labels[n])
        start = min(names + 1 + n * step + step // 2 - size // 2, width - size)
        if names < start and start + size <= free:
            line[start : start + size] = [*labels[n], *[""] * (size - len(labels[n]))]
            free = start - 1
    return "".join(line).rstrip()
