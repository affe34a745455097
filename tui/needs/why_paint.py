"""The page of causes: chains read downwards, and under them what would help, best first."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, tzinfo
from typing import NamedTuple

from rich.cells import cell_len

from store.views.needs_values import Chain, Link, Need, Why
from tui import keys
from tui.colours import Ink
from tui.needs.laid import LINE
from tui.needs.paint import word_piece
from tui.needs.words import (
    FREE_WAY,
    NOTHING_WAITS,
    frees_words,
    keeping,
    promised_words,
    till_words,
    where_words,
)
from tui.parts.canvas import Canvas, Piece, width_of
from tui.parts.lines import LEAST, paint_keys, paint_rule, paint_said, put_pieces, too_small
from tui.signs import Signs
from tui.words import chance, cut, moment

DIM, TEXT, BOLD, AHEAD = Ink("dim"), Ink("text"), Ink("text", bold=True), Ink("ahead")
TOP, FOOT = 3, 2
LEAST_VEHICLE = 12
"""Cells that are left to a vehicle's name."""
MOST = 9
"""So many acts have a digit each."""
READ = "each line waits for the one under it; the last can be done now"
GAIN, HOURS = 13, 0
"""Cells from the right end at which the columns of what helps end."""


class Best(NamedTuple):
    """An act, and what it is worth where that was reckoned."""

    need: Need
    gain: float | None
    lift_h: float | None


class _Row(NamedTuple):
    """One row of the chains: where it begins, its pieces, and what stands at the right end."""

    x: int
    pieces: tuple[Piece, ...]
    right: str = ""
    chain: int = -1
    """The place of the chain that begins here."""


def best_of(view: Why) -> list[Best]:
    """What was found to help, best first; then whatever else a chain ends in."""
    found = {one.need.act.name: Best(one.need, one.gain, one.lift_h) for one in view.helps}
    for chain in view.chains:
        for link in chain.links:
            if link.need is not None:
                found.setdefault(link.need.act.name, Best(link.need, link.gain, link.lift_h))
    return list(found.values())[:MOST]


def shown_best(view: Why, height: int) -> list[Best]:
    """As many of them as are painted, and have a digit: the chains keep two thirds of the page."""
    return best_of(view)[: max(3, height // 3 - 1)]


def why_canvas(view: Why, here: int, size: tuple[int, int], signs: Signs, said: str) -> Canvas:
    """The page; `here` is the place of the chain one stands on."""
    canvas, (width, height) = Canvas(*size), size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    canvas.put(1, 0, "what waits for what", BOLD)
    canvas.right(width - 1, 0, moment(view.at, view.calendar.zone), TEXT)
    if view.chains:
        canvas.put(1, 1, READ, DIM)
    else:
        canvas.put(1, 1, NOTHING_WAITS, Ink("ahead", bold=True))
    best = shown_best(view, height)
    foot = FOOT + (1 + len(best) if best else 0)
    _chains(canvas, view, here, height - TOP - foot, signs)
    if best:
        _best(canvas, height - foot, best, signs)
    paint_said(canvas, height - 2, said, signs)
    paint_keys(canvas, height - 1, keys.last_row(keys.WHY), signs)
    return canvas


def _chains(canvas: Canvas, view: Why, here: int, room: int, signs: Signs) -> None:
    """As many rows as fit, those of the chain one stands on among them."""
    rows = [
        row
        for nth, one in enumerate(view.chains)
        for row in _rows(one, nth, (view.calendar.zone, view.at), (canvas.width, signs))
    ]
    start = next((n for n, row in enumerate(rows) if row.chain == here), 0)
    after = next((n for n, row in enumerate(rows) if row.chain == here + 1), len(rows))
    first = min(start, max(0, after - 1 - room))
    for y, row in enumerate(rows[first : first + room], TOP):
        end = canvas.width - 1
        if row.right:
            end = canvas.right(end, y, row.right, AHEAD) - 2
        put_pieces(canvas, (row.x, y), row.pieces, end - row.x, signs)
        if row.chain >= 0:
            canvas.spot(0, y, (canvas.width, 1), f"{LINE}{row.chain}")
        if row.chain == here:
            canvas.ground(0, y, canvas.width, 1, "pick")
            canvas.put(0, y, signs.of("running"), Ink("text", bold=True, ground="pick"))
    if len(rows) > first + room:
        canvas.right(canvas.width - 1, TOP - 1, "more below", DIM)


def _rows(
    chain: Chain, nth: int, when: tuple[tzinfo, datetime], how: tuple[int, Signs]
) -> Iterator[_Row]:
    """What is promised of a job is whole where that is possible: rather the vehicle is cut."""
    (zone, now), (width, signs) = when, how
    name, tail = f"{chain.job}  ", [(promised_words(chain, zone, now), DIM)]
    if chain.promise_chance is not None:
        of = chance(chain.promise_chance)
        tail.append((f" {keeping(chain.promise_chance)}", Ink(of.role, bold=of.bad)))
    room = max(LEAST_VEHICLE, width - 2 - cell_len(name) - width_of(tail))
    vehicle = (cut(chain.vehicle, room, signs.more), TEXT)
    yield _Row(1, ((name, BOLD), vehicle, *tail), chain=nth)
    for link in chain.links or (FREE_WAY,):
        yield _link(link, zone, now, signs)
    yield _Row(0, ())


def _link(link: Link, zone: tzinfo, now: datetime, signs: Signs) -> _Row:
    corner = (f"{signs.frame[2]} ", Ink("line"))
    x = 2 + 3 * (link.depth - 1)
    if link.need is None:
        return _Row(x, (corner, (link.says, TEXT), (till_words(link, zone, now), DIM)))
    right = f"{link.need.act.minutes} min{frees_words(link)}"
    word = word_piece(link.need, signs)
    return _Row(x, (corner, word, (f" {link.says}", BOLD)), right)


def _best(canvas: Canvas, y: int, best: list[Best], signs: Signs) -> None:
    """Each act with its digit, the promises it keeps and the lift hours it saves."""
    end = canvas.width - 1
    paint_rule(canvas, y, (0, canvas.width), "one act each, best first", signs)
    canvas.right(end - GAIN, y, " promises kept ", DIM)
    canvas.right(end - HOURS, y, " lift hours", DIM)
    for nth, one in enumerate(best, 1):
        row = y + nth
        canvas.put(2, row, str(nth), BOLD)
        canvas.right(end - GAIN - 1, row, *_signed(one.gain))
        canvas.right(end - HOURS, row, *_signed(one.lift_h))
        act = one.need.act
        pieces = (
            (f"{one.need.word.lower()}  ", TEXT), (f"{where_words(one.need)}  ", DIM),
            (act.says, TEXT),
        )  # fmt: skip
        put_pieces(canvas, (5, row), pieces, end - GAIN - 13 - 5, signs)
        canvas.spot(0, row, (canvas.width, 1), str(nth))


def _signed(value: float | None) -> Piece:
    """`+0.8`; where nothing was reckoned, nothing."""
    if value is None:
        return "", DIM
    if abs(value) < 0.05:
        return "0", DIM
    return f"{value:+.1f}", AHEAD if value > 0 else Ink("behind")
