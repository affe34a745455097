"""The band of a lane: what was done left of now, the chance of what comes right of it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import zip_longest
from typing import Literal, NamedTuple

from store.views.values import Job, Stretch
from tui.colours import Ink, Role
from tui.lane.axis import Axis
from tui.lane.outlook import Outlook
from tui.lane.taper import GONE, SURE, Taper, taper
from tui.parts.canvas import Canvas
from tui.signs import Signs

Kind = Literal["worked", "beyond", "held", "standing", "outwork"]


class Past(NamedTuple):
    """What fills most of a past cell."""

    kind: Kind
    phase: str | None


class Coming(NamedTuple):
    """What the middle forecast has in a cell to come."""

    kind: Literal["labour", "held", "standing", "outwork"]
    phase: str | None


@dataclass(frozen=True, slots=True)
class Band:
    """A job laid out on an axis, not painted yet: what `labels` and `figures` stand by."""

    axis: Axis
    job: Job
    outlook: Outlook | None
    past: dict[int, Past]
    coming: dict[int, Coming]
    running: frozenset[str | None]
    """Phases with a clock on."""
    taper: Taper | None
    mark: int | None
    """The promise's column: -1 or the width when it is off the lane."""


def lay_out(axis: Axis, job: Job, outlook: Outlook | None) -> Band:
    """Find what each cell of the lane holds."""
    running = frozenset(s.phase for s in job.past if s.kind == "worked" and s.going_on)
    mark = None if job.promise is None else axis.column(job.promise)
    return Band(
        axis, job, outlook, _past(axis, job.past), _coming(axis, job), running,
        taper(axis, job), mark,
    )  # fmt: skip


def _past(axis: Axis, stretches: tuple[Stretch, ...]) -> dict[int, Past]:
    shares: defaultdict[int, defaultdict[Past, float]] = defaultdict(lambda: defaultdict(float))
    for stretch in stretches:
        over = stretch.over_from if stretch.kind == "worked" else None
        first: Past = Past(stretch.kind, stretch.phase)
        pieces = [(first, stretch.since, min(over or stretch.until, stretch.until))]
        if over is not None and over < stretch.until:
            pieces.append((Past("beyond", stretch.phase), max(over, stretch.since), stretch.until))
        for what, since, until in pieces:
            for place, share in axis.between(since, until):
                if place < axis.now:
                    shares[place][what] += share
    return {place: max(of, key=lambda what: _weight(what, of)) for place, of in shares.items()}


def _weight(what: Past, shares: defaultdict[Past, float]) -> tuple[bool, float]:
    """A cell in which a clock ran shows that clock: of two, the one that filled more of it."""
    return what.kind in ("worked", "beyond"), shares[what]


def _coming(axis: Axis, job: Job) -> dict[int, Coming]:
    best: dict[int, tuple[float, Coming]] = {}
    for piece in job.ahead:
        for place, share in axis.between(piece.since, piece.until):
            if place > axis.now and share > best.get(place, (0.0,))[0]:
                best[place] = share, Coming(piece.kind, piece.phase)
    return {place: coming for place, (_, coming) in best.items()}


def paint_band(canvas: Canvas, at: tuple[int, int], band: Band, signs: Signs, thick: int) -> None:
    """Paint the band into `thick` rows (1 or 2), its first cell at `at` (x, y)."""
    _paint_past(canvas, at, band, signs, thick)
    if band.taper is not None:
        _paint_taper(canvas, at, band, signs, (thick, band.taper))


def _paint_past(canvas: Canvas, at: tuple[int, int], band: Band, signs: Signs, thick: int) -> None:
    x, y = at
    cells = [n for n in range(band.axis.now) if band.axis.columns[n].kind == "cell"]
    for n, after in zip_longest(cells, cells[1:]):
        what = band.past.get(n)
        if what is None:
            continue
        follows = band.past.get(after) if after is not None else None
        last = follows is None or follows.phase != what.phase
        letter, ink = _past_letter(band, what, signs, last and not _goes_on(band, n, cells, what))
        for row in _rows(what.kind, thick):
            canvas.dot(x + n, y + row, letter, ink)


def _goes_on(band: Band, place: int, cells: list[int], what: Past) -> bool:
    return place == cells[-1] and what.phase in band.running


def _rows(kind: str, thick: int) -> range:
    """Nobody works in standing and outwork: one thin line, at the foot of a thick band."""
    return range(thick - 1, thick) if kind in ("standing", "outwork") else range(thick)


def _past_letter(band: Band, what: Past, signs: Signs, last: bool) -> tuple[str, Ink]:
    if what.kind == "held":
        return signs.held, Ink("blocked")
    if what.kind in ("standing", "outwork"):
        return signs.quiet, Ink("waiting")
    runs = what.phase in band.running
    if what.kind == "beyond":
        worried = runs or (band.outlook is not None and band.outlook.bad)
        return signs.beyond, Ink("behind" if worried else "past")
    if runs:
        return signs.last if last else signs.running, Ink("running")
    return signs.last if last else signs.worked, Ink("past")


def _paint_taper(
    canvas: Canvas, at: tuple[int, int], band: Band, signs: Signs, how: tuple[int, Taper]
) -> None:
    """Right of now: waits first, then heights until nothing is left."""
    x, y = at
    thick, spread = how
    waits = True
    for n, chance in _chances(band, spread):
        coming = band.coming.get(n)
        waits = waits and coming is not None and coming.kind != "labour"
        if chance < GONE and not waits:
            continue
        if coming is not None and coming.kind != "labour" and (waits or chance >= SURE):
            held = coming.kind == "held"
            letter, ink = (signs.held, Ink("blocked")) if held else (signs.quiet, Ink("waiting"))
            for row in _rows(coming.kind, thick):
                canvas.dot(x + n, y + row, letter, ink)
            continue
        ink = Ink(_role(band, n, coming))
        runs = ink.role == "running"
        for row, letter in enumerate(_heights(chance, signs, thick, runs)):
            canvas.dot(x + n, y + row, letter, ink)


def _chances(band: Band, spread: Taper) -> list[tuple[int, float]]:
    """The chance of being unfinished in each cell right of now, taken at the cell's middle.

    Over the promise's mark it is taken at the promise itself, so that height and word agree.
    """
    axis, hours = band.axis, 0.0
    found: list[tuple[int, float]] = []
    for n in range(axis.now + 1, axis.width):
        column = axis.columns[n]
        if column.kind != "cell":
            continue
        length = axis.open_h(n)
        found.append((n, spread.unfinished(hours + length / 2)))
        hours += length
    mark, job = band.mark, band.job
    if job.promise is None or mark is None:
        return found
    breaks = 1 - job.promise_chance if job.promise_chance is not None else None
    if breaks is None:
        breaks = spread.unfinished(axis.working_h(job.promise))
    return [(n, breaks if n == mark and chance >= GONE else chance) for n, chance in found]


def _role(band: Band, place: int, coming: Coming | None) -> Role:
    outlook = band.outlook
    beyond = band.mark is not None and place > band.mark
    if beyond and outlook is not None and outlook.word and outlook.role != "ahead":
        return "blocked" if outlook.role == "blocked" else "behind"
    runs = coming is not None and coming.kind == "labour" and coming.phase in band.running
    return "running" if runs else "next"


def _heights(chance: float, signs: Signs, thick: int, runs: bool) -> list[str]:
    """Letters from the upper row down: eight heights a row."""
    if chance >= SURE:
        return [signs.running if runs and signs.ascii else signs.certain] * thick
    if signs.ascii:
        tenth = min(9, max(1, int(chance * 10 + 0.5)))
        upper = signs.taper[9 - tenth] if chance >= 0.5 else " "
        return [upper, signs.taper[9 - tenth]][2 - thick :]
    eighths = min(8 * thick, max(1, int(chance * 8 * thick + 0.5)))
    fills = [min(8, max(0, eighths - 8 * row)) for row in range(thick)]
    return [signs.taper[8 - fill] if fill else " " for fill in reversed(fills)]
