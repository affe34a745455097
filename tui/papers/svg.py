"""Pictures of a paper as SVG of our own: across in per cent, so that letters keep their size on a
telephone; upwards in pixels. Colours are classes of the page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from html import escape
from itertools import pairwise
from math import log2

from tui.papers.pictures import DOUBLE, HALF, NEAR, Bar, Bars, Mark, Run, Stretch, Strip
from tui.papers.said import on_day
from tui.words import plain

EDGE = 2.0
"""Per cent kept free at either end."""
SIDE = 2.0
"""Per cent of a strip that a mark takes: nearer ones stand on one another."""
MARK, TALL = 11, 15
"""Pixels of a row of marks; of a line of letters."""
BAR = 14
"""Pixels of a bar."""
PLOT = 170
"""Pixels of a chart of individual values, without its letters."""
NAMED = 90
"""Letters below a chart at most: so many labels have room on a desk, half of them on a phone."""


def strip_svg(strip: Strip) -> Iterator[str]:
    """One mark a job, each a link to its row; those that fall together stand on one another."""
    placed = _stacked(strip.marks)
    rows = max((row for _, _, row in placed), default=0) + 1
    floor = TALL + 6 + max(3, rows) * MARK
    yield _open(strip.says, floor + TALL + 4)
    low, high = (across(one) for one in NEAR)
    yield _box("near", low, TALL, high - low, floor - TALL)
    for x in (low, high):
        yield _line("dash", x, TALL, x, floor)
    yield _line("middle", across(1.0), TALL, across(1.0), floor)
    yield _text(low, 11, "a quarter less", "dim", "middle")
    yield _text(high, 11, "a quarter more", "dim", "middle")
    for mark, x, row in placed:
        yield _mark(mark, x, floor - MARK / 2 - row * MARK)
    for x, name, end in ((EDGE, "half", "start"), (50.0, "as told", "middle"),
                         (100 - EDGE, "double", "end")):  # fmt: skip
        yield _text(x, floor + TALL - 1, name, "dim", end)
    yield "</svg>"


def across(ratio: float) -> float:
    """Where a ratio stands, per cent: twice as much is as far from the middle as half.

    50 + 48 log2 ratio, from `EDGE` at half to 100 - `EDGE` at double; what lies beyond is there.
    """
    return 50 + (50 - EDGE) * log2(min(DOUBLE, max(HALF, ratio)))


def _stacked(marks: Sequence[Mark]) -> list[tuple[Mark, float, int]]:
    """Each mark, where it stands across, and on how many others."""
    taken: dict[int, int] = {}
    found: list[tuple[Mark, float, int]] = []
    for mark in sorted(marks, key=lambda one: one.ratio):
        place = round(across(mark.ratio) / SIDE)
        found.append((mark, place * SIDE, taken.get(place, 0)))
        taken[place] = taken.get(place, 0) + 1
    return found


def _mark(mark: Mark, x: float, y: float) -> str:
    """A near one is round, one to look at a square on its corner: told without colour too."""
    kind = "k-text" if mark.near else "k-behind"
    shape = (
        f'<circle class="{kind}" cx="{x:.1f}%" cy="{y:.1f}" r="4.2"/>' if mark.near
        else f'<svg x="{x:.1f}%" y="{y:.1f}" overflow="visible"><path class="{kind}" '
             'd="M0-5.5L5.5 0L0 5.5L-5.5 0Z"/></svg>'
    )  # fmt: skip
    told = f"<title>{_plain(mark.says)}</title>"
    return f'<a href="#{mark.link}">{told}{shape}</a>' if mark.link else f"<g>{told}{shape}</g>"


# -- bars


def bars_svg(bars: Bars) -> Iterator[str]:
    """Bars below one another, each under its name and figure."""
    most = max((sum(one.value for one in bar.pieces) for bar in bars.bars), default=0.0)
    step = TALL + BAR + 12
    yield _open(bars.says, max(1, step * len(bars.bars)))
    for n, bar in enumerate(bars.bars):
        yield from _bar(bar, n * step, most)
    yield "</svg>"
    if bars.legend:
        yield f'<p class="legend">{"".join(_legend(bars))}</p>'


def _bar(bar: Bar, y: int, most: float) -> Iterator[str]:
    name = f'<tspan>{_plain(bar.name)}</tspan> <tspan class="told">{_plain(bar.told)}</tspan>'
    words = f'<text x="0" y="{y + 12}">{name}</text>'
    yield f'<a href="#{bar.link}">{words}</a>' if bar.link else words
    if bar.note:
        yield _text(100, y + 12, bar.note, "dim", "end")
    yield _box("trough", 0, y + TALL + 3, 100, BAR)
    x = 0.0
    for piece in bar.pieces:
        width = 100 * max(0.0, piece.value) / most if most > 0 else 0.0
        title = f"<title>{_plain(f'{bar.name}: {piece.name}')}</title>"
        yield f"<g>{title}{_box(f'k-{piece.kind}', x, y + TALL + 3, width, BAR)}</g>"
        x += width


def _legend(bars: Bars) -> Iterator[str]:
    seen: dict[str, str] = {}
    for bar in bars.bars:
        for piece in bar.pieces:
            seen.setdefault(piece.name, piece.kind)
    for name, kind in seen.items():
        yield f'<span><i class="k-{kind}"></i>{_plain(name)}</span> '


# -- individual values


def run_svg(run: Run) -> Iterator[str]:
    """Points in their order with their middles and limits; a change is a dated line."""
    low, high = _ends(run)
    count = max(1, len(run.points))

    def x(place: float) -> float:
        return EDGE + (100 - 2 * EDGE) * (place + 0.5) / count

    def y(value: float) -> float:
        return TALL + 8 + PLOT * (high - value) / (high - low)

    yield _open(run.says, TALL + PLOT + 40)
    ends = [(x(one.first - 0.5), x(one.last + 0.5)) for one in run.stretches]
    for one, (left, right) in zip(run.stretches, ends, strict=True):
        yield _box("near", left, y(one.high), right - left, y(one.low) - y(one.high))
    if run.target is not None:
        yield _line("target", 0, y(run.target[0]), 100, y(run.target[0]))
    for one, across_ in zip(run.stretches, ends, strict=True):
        yield from _stretch(one, across_, (y(one.low), y(one.middle), y(one.high)))
    for n, (point, after) in enumerate(pairwise(run.points)):
        yield _line("joined", x(n), y(point.value), x(n + 1), y(after.value))
    for n, point in enumerate(run.points):
        kind = "k-behind" if point.loud else "k-text"
        shape = (
            f'<svg x="{x(n):.2f}%" y="{y(point.value):.1f}" overflow="visible">'
            f'<path class="{kind}" d="M0-6L6 0L0 6L-6 0Z"/></svg>' if point.loud
            else f'<circle class="{kind}" cx="{x(n):.2f}%" cy="{y(point.value):.1f}" r="4"/>'
        )  # fmt: skip
        yield f"<g><title>{_plain(point.says)}</title>{shape}</g>"
    for one, (left, _), says in zip(run.stretches, ends, run.middle_says, strict=True):
        yield _text(left + 0.5, y(one.middle) - 5, says, "told", "start")
    if run.target is not None:
        yield _text(100, y(run.target[0]) - 4, run.target[1], "dim", "end")
    for value, says in run.scale:
        yield _text(100 - EDGE - 0.5, y(value) - 4, says, "dim", "end")
    yield from _labels(run, x)
    yield "</svg>"


def _ends(run: Run) -> tuple[float, float]:
    """The lowest and the highest value shown."""
    every = [one.value for one in run.points]
    every += [value for one in run.stretches for value in (one.low, one.high)]
    if run.target is not None:
        every.append(run.target[0])
    low, high = min(every, default=0.0), max(every, default=1.0)
    return (low, high) if high > low else (low - 0.5, high + 0.5)


def _stretch(one: Stretch, x: tuple[float, float], y: tuple[float, float, float]) -> Iterator[str]:
    low, middle, high = y
    for level, kind in ((low, "limit"), (high, "limit"), (middle, "middle")):
        yield _line(kind, x[0], level, x[1], level)
    if one.since is not None:
        yield _line("change", x[0], TALL, x[0], TALL + PLOT + 14)
        end = "start" if x[0] < 50 else "end"
        yield _text(x[0], 11, on_day(one.since), "told", end)


def _labels(run: Run, x: Callable[[float], float]) -> Iterator[str]:
    """Every label that has room, counted from the newest; every other one of them is `fine`."""
    widest = max((len(one.label) for one in run.points), default=1) + 2
    every = -(-len(run.points) * widest // NAMED)
    last = len(run.points) - 1
    for n, point in enumerate(run.points):
        if (last - n) % max(1, every) == 0:
            kind = "dim fine" if (last - n) // max(1, every) % 2 else "dim"
            at, end = (100.0, "end") if n == last and last else (x(n), "middle")
            yield _text(at, TALL + PLOT + 30, point.label, kind, end)


# -- pieces


def _open(says: str, height: float) -> str:
    return (
        f'<svg class="picture" role="group" aria-label="{_plain(says)}" width="100%" '
        f'height="{height:.0f}">'
    )


def _line(kind: str, x: float, y: float, x2: float, y2: float) -> str:
    return f'<line class="{kind}" x1="{x:.2f}%" y1="{y:.1f}" x2="{x2:.2f}%" y2="{y2:.1f}"/>'


def _box(kind: str, x: float, y: float, width: float, height: float) -> str:
    return (
        f'<rect class="{kind}" x="{x:.2f}%" y="{y:.1f}" width="{max(0.0, width):.2f}%" '
        f'height="{max(0.0, height):.1f}"/>'
    )


def _text(x: float, y: float, text: str, kind: str, end: str) -> str:
    return (
        f'<text class="{kind}" x="{x:.2f}%" y="{y:.1f}" text-anchor="{end}">{_plain(text)}</text>'
    )


def _plain(text: str) -> str:
    return escape(plain(text))
