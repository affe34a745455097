"""What is told of the kit that one stands on: days and their cost, ways out, who needs it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, tzinfo
from typing import NamedTuple

from store.views.tools.values import Advice, Clash, KitNow, Way
from tui.colours import Ink
from tui.keys import filled
from tui.parts.canvas import Canvas
from tui.parts.lines import paint_rule
from tui.signs import Signs
from tui.tools.days import kept_words, paint_days, step_words, table_rows
from tui.tools.state import BACK, FOLD, Shown, ToolsState, at_rest
from tui.tools.words import back_words, date_words, hire_words, need_words, when
from tui.words import chance, counted, cut, listed, money, wrapped

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
LEFT, LABEL = 2, 15


NO_SUPPLIER = (
    "No supplier is known yet: {tools.terms} says how one counts, {tools.rates} what a kit costs, "
    "{tools.ask} asks for one."
)


class Said(NamedTuple):
    """One line of what is told; without a label it takes the whole width."""

    label: str
    text: str


def likely(value: float) -> str:
    """`likely 8 in 10`; a sure one has no tenths."""
    found = chance(value)
    return f"{found.short} {found.tenths}".rstrip()


def paint_told(
    canvas: Canvas, top: int, rows: int, shown: Shown, how: tuple[ToolsState, Signs]
) -> None:
    """A rule with the name, then what is known, as much as fits into so many rows."""
    state, signs = how
    kit = shown.kit(state.cursor)
    paint_rule(canvas, top, (0, canvas.width), _title(shown, state, kit), signs)
    zone, now = shown.tools.calendar.zone, shown.tools.at
    y, end = top + 1, top + rows
    if kit is not None and kit.advice is not None and kit.advice.days and kit.verb != "CLASH":
        y = paint_days(canvas, (LEFT, y), kit.advice, (zone, now), table_rows(kit.advice, rows))
    for line in _lines(shown, state, kit, (zone, now)):
        y = _put(canvas, y, end, line, signs)
        if y >= end:
            break


def _title(shown: Shown, state: ToolsState, kit: KitNow | None) -> str:
    if kit is not None:
        about = f": {_table_words(kit)}" if _has_days(kit) else ""
        return f"{kit.name} ({kit.code}){about}"
    back = shown.went_back(state.cursor)
    return f"{back.name}, hired of {back.supplier}" if back is not None else "at rest"


def _table_words(kit: KitNow) -> str:
    known = kit.advice is not None and any(one.total is not None for one in kit.advice.days)
    return "what each day costs, all in" if known else "until when it is needed"


def _has_days(kit: KitNow) -> bool:
    return kit.verb != "CLASH" and kit.advice is not None and bool(kit.advice.days)


def _put(canvas: Canvas, y: int, end: int, line: Said, signs: Signs) -> int:
    """A label and its text, wrapped under itself; the row after it."""
    label = LABEL if line.label else 0
    canvas.put(LEFT, y, cut(line.label, LABEL - 2, signs.more), DIM)
    for text in wrapped(line.text, max(8, canvas.width - LEFT - label - 1)):
        if y >= end:
            break
        canvas.put(LEFT + label, y, text, TEXT)
        y += 1
    return y


def _lines(
    shown: Shown, state: ToolsState, kit: KitNow | None, where: tuple[tzinfo, datetime]
) -> Iterator[Said]:
    if state.cursor is not None and state.cursor.startswith(BACK):
        back = shown.went_back(state.cursor)
        if back is not None:
            yield Said("went back", back_words(back, *where))
    elif state.cursor == FOLD:
        rest = [one.name for one in shown.tools.kits if at_rest(one)]
        yield Said(counted(len(rest), "kit"), "; ".join(rest))
    elif kit is not None:
        if not shown.suppliers and not kit.owned:
            yield Said("", filled(NO_SUPPLIER))
        yield from kit_lines(kit, *where)
        buys = (one for one in shown.tools.buy if one.kit == kit.code)
        yield from (Said("hire or buy", one.says) for one in buys)


def kit_lines(kit: KitNow, zone: tzinfo, now: datetime) -> Iterator[Said]:
    """Everything about a kit but the table of days, what matters most first."""
    clashes = kit.clashes
    if kit.verb == "CLASH":
        yield from (line for clash in clashes for line in clash_lines(clash, zone, now))
    steps = step_words(kit.advice, zone, now) if kit.advice is not None else ""
    if steps:
        yield Said("", steps)
    if kit.says:
        yield Said("to do" if kit.verb else "now", kit.says)
    yield from advice_lines(kit, zone, now)
    yield from (Said("needed", need_words(one, zone, now)) for one in kit.needed_by)
    if kit.verb != "CLASH":
        yield from (line for clash in clashes for line in clash_lines(clash, zone, now))
    yield from (Said("hired", hire_words(one, zone, now)) for one in kit.hires)
    if kit.contains:
        yield Said("its pieces", f"{len(kit.contains)}: {listed(kit.contains)}.")
    if kit.valid_until is not None:
        yield Said("in date until", date_words(kit.valid_until))


def advice_lines(kit: KitNow, zone: tzinfo, now: datetime) -> Iterator[Said]:
    """Why, and every other way."""
    advice = kit.advice
    if advice is None:
        return
    if advice.why:
        yield Said("why", advice.why)
    if kit.verb != "CLASH":
        yield from (Said("or", way_words(one, zone, now)) for one in others(advice))


def others(advice: Advice) -> list[Way]:
    """The ways that are not the best one."""
    return [one for one in advice.ways if one != advice.best]


def clash_lines(clash: Clash, zone: tzinfo, now: datetime) -> Iterator[Said]:
    """Who wants it when, then the ways out, the cheapest first."""
    first, second = clash.jobs
    since, until = when(clash.since, zone, now), when(clash.until, zone, now)
    same = since[:-5] == until[:-5]
    span = f"{since} to {until[-5:] if same else until}"
    yield Said("clash", f"{first} and {second} want it {span}, {_odds(clash.chance)}.")
    yield from (Said("way out", way_words(one, zone, now)) for one in clash.ways)


def _odds(value: float) -> str:
    tenth = round(value * 10)
    return "for sure" if tenth == 10 else f"{max(1, tenth)} in 10"


def way_words(way: Way, zone: tzinfo, now: datetime) -> str:
    """What it is, what it costs, and how likely the promises are kept then."""
    parts = [way.says.rstrip(".")]
    if way.cost is not None:
        parts.append(f"costs {money(round(way.cost))}" if round(way.cost) else "costs nothing")
    kept = f"; {kept_words(way.kept, likely)}" if way.kept else ""
    return f"{': '.join(parts)}{kept}"
