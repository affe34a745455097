"""Who must do what, what helps most and what waits for what, as text of 80 columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from store.views.needs_values import ChanceMoved, HelpLine, Helps, Link, Need, Needs, Tried, Why
from tui import words
from tui.cli import text_floor
from tui.needs.words import (
    FREE_WAY,
    NOTHING,
    NOTHING_WAITS,
    as_of,
    comes_words,
    fact_words,
    frees_words,
    is_seen,
    keeping,
    out_words,
    promised_words,
    till_words,
    where_words,
)

WIDTH = 80
BECOMES = ">"
MOST_FREED = 3


def needs(found: Needs) -> Iterator[str]:
    """The list, each need with its command."""
    if not found.needs:
        yield NOTHING
    for one in found.needs:
        yield from _need(one, found.calendar.zone, found.at)


def _need(one: Need, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    head = f"{'!' if one.due else ' '} {one.word:<10}{where_words(one):<22} "
    yield from _hanging(head, one.act.says)
    yield from _hanging(" " * 12, "; ".join(fact_words(one, zone, now)))
    yield from _commands(one, 12)


def _commands(one: Need, indent: int) -> Iterator[str]:
    """Never wrapped: they are there to be copied."""
    yield f"{'':{indent}}{one.command}"
    if one.other is not None:
        yield f"{'or ':>{indent}}{one.other}"


def _hanging(head: str, text: str) -> Iterator[str]:
    lines = words.wrapped(words.plain(text), WIDTH - len(head)) or [""]
    yield f"{head}{lines[0]}".rstrip()
    yield from (f"{'':{len(head)}}{line}" for line in lines[1:])


def helps(found: Helps) -> Iterator[str]:
    """What helps most, with before and after in words and figures."""
    zone, now = found.calendar.zone, found.at
    if found.seq is None:
        yield "Not reckoned yet: it is found beside the work, a moment after something happens."
        return
    yield f"A{as_of(found).removeprefix('a')}."
    if not found.lines:
        yield f"{NOTHING}  {comes_words(found)}".rstrip()
    for one in found.lines:
        yield ""
        yield from _line(one, zone, now)


def _line(one: HelpLine, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    act = one.need.act
    head = f"{one.place:>2}  {one.need.word:<10}"
    yield from _hanging(head, f"{where_words(one.need)}  {act.says}")
    worth = f"promises {one.gain:+.1f}, lift hours {one.lift_h:+.1f}; {act.who}, {act.minutes} min"
    yield from _hanging(" " * 14, worth)
    for moved in [each for each in one.frees if is_seen(each)][:MOST_FREED]:
        yield words.cut(f"{'':14}{_chances(moved)}", WIDTH)
    for out in one.outs[:MOST_FREED]:
        yield words.cut(f"{'':14}{out_words(out, zone, now, BECOMES)}", WIDTH)
    if one.refused_gain is not None:
        yield from _hanging(" " * 14, f"if the answer is no: promises {one.refused_gain:+.1f}")
    yield from _commands(one.need, 14)


def _chances(one: ChanceMoved) -> str:
    return f"{one.job} {keeping(one.before)} {BECOMES} {keeping(one.after)}"


def tried(found: Tried) -> Iterator[str]:
    """The floor as if; a line says that nothing is written."""
    act = found.line.need.act
    yield from _hanging("TRYING  ", f"{found.line.need.word} {act.where or ''}: {act.says}")
    yield "Nothing is written. It is done by:"
    yield from _commands(found.line.need, 4)
    for moved in found.line.frees:
        if is_seen(moved):
            yield f"  {_chances(moved)}"
    yield ""
    yield from text_floor.lines(found.after)


def why(found: Why) -> Iterator[str]:
    """Chains, read downwards; under them what helps, best first."""
    zone, now = found.calendar.zone, found.at
    if not found.chains:
        yield NOTHING_WAITS
    for one in found.chains:
        said = promised_words(one, zone, now)
        if one.promise_chance is not None:
            said += f", {keeping(one.promise_chance)}"
        yield words.cut(f"{one.job}  {one.vehicle}{said}", WIDTH)
        for link in one.links or (FREE_WAY,):
            yield from _link(link, zone, now)
        yield ""
    if found.helps:
        yield from _columns(found.helps)


def _link(one: Link, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    head = f"{'':{1 + 3 * (one.depth - 1)}}+- "
    says = one.says if one.need is None else f"{one.need.word}  {one.says}"
    if one.need is not None:
        says += f"; {one.need.act.who}, {one.need.act.minutes} min{frees_words(one)}"
    says += till_words(one, zone, now)
    yield from _hanging(head, says)
    if one.need is not None:
        yield from _commands(one.need, len(head))


def _columns(lines: Iterable[HelpLine]) -> Iterator[str]:
    yield f"{'one act each, best first':<50}{'promises kept':>15}{'lift hours':>13}"
    for one in lines:
        what = words.cut(f"{one.place:>3}  {one.need.word} {one.need.act.says}", 50)
        yield f"{what:<50}{one.gain:>+15.1f}{one.lift_h:>+13.1f}"
