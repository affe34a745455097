"""What stands under the hours: checks, what if, what else while it is open, lifts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from rich.cells import cell_len

from store.views.counter import Counter, LiftLine
from tui.colours import Ink
from tui.intake.state import DO, Before, IntakeState, date_at, open_lines
from tui.keys import filled
from tui.parts.canvas import Canvas, Piece, width_of
from tui.parts.lines import put_pieces
from tui.signs import Signs
from tui.words import chance, counted, cut, day_time, hours, money, tenth, zone_of

if TYPE_CHECKING:
    from store.views.estimate import Estimate, Extra, ForkLine, KitLine, Way

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
GOOD = Ink("ahead")
LABEL = 12
DOES = {
    "before": "comeback",
    "check": "what-if",
    "what if": "what-if",
    "while open": "extras",
    "lift": "lift",
}
"""What a click on a section does, by its label."""
LEAST_NAME = 30
"""Cells to which an answer's name is cut before words behind it are left out."""
Row = list[Piece]


class Section(NamedTuple):
    """Rows under one label; the first ones matter most."""

    label: str
    rows: list[Row]


def sections(here: Counter, state: IntakeState, signs: Signs) -> list[Section]:
    """All that is worth saying, in the order of the talk."""
    found = state.found
    made: list[Section] = []
    if state.before is not None:
        made.append(Section("before", [_before(state.before)]))
    if found is not None and state.stage == "whole":
        made.append(Section("check", list(_checks(found, signs))))
        made.append(Section("what if", list(_what_ifs(here, found, state, signs))))
        made.append(Section("while open", [_extra(one) for one in found.extras]))
    if found is not None and found.kits:
        made.append(Section("tools", [_kits(here, found)]))
    made.append(Section("lift", list(_lifts(here, state, signs))))
    return [one for one in made if one.rows]


def shared_out(made: Sequence[Section], rows: int) -> list[Section]:
    """As many rows as there are: each section its first one, then in turn one more.

    Where not even that fits, tools go first, then the check.
    """
    kept = list(made)
    for label in ("tools", "check", "while open"):
        if len(kept) > rows:
            kept = [one for one in kept if one.label != label]
    kept = kept[: max(0, rows)]
    given = [1] * len(kept)
    left = rows - len(kept)
    while left > 0 and any(n < len(one.rows) for n, one in zip(given, kept, strict=True)):
        for place, one in enumerate(kept):
            if left > 0 and given[place] < len(one.rows):
                given[place] += 1
                left -= 1
    return [Section(one.label, one.rows[:many]) for one, many in zip(kept, given, strict=True)]


def paint_sections(
    canvas: Canvas, at: tuple[int, int], end: int, made: Sequence[Section], signs: Signs
) -> int:
    """Paint them one under another; returns the row after them."""
    x, y = at
    for section in made:
        canvas.put(x, y, section.label, DIM)
        if section.label in DOES:
            rows = len(section.rows)
            canvas.spot(x, y, (end - x, rows), f"{DO}{DOES[section.label]}")
        for row in section.rows:
            room = end - x - LABEL + 1
            put_pieces(canvas, (x + LABEL - 1, y), _fitting(row, room, signs), room, signs)
            y += 1
    return y


def _fitting(row: Row, room: int, signs: Signs) -> Row:
    """The row with its name cut; then without its last dim words, half of which say nothing."""
    over = width_of(row) - room
    if over <= 0 or len(row) < 2:
        return row
    name, ink = row[0]
    row = [(cut(name, max(LEAST_NAME, cell_len(name) - over), signs.more), ink), *row[1:]]
    return row if width_of(row) <= room or row[-1][1] != DIM else row[:-1]


def _before(before: Before) -> Row:
    """What was here before; where the trouble may be the same, the key that says so."""
    again = filled("   {intake.comeback} the same trouble again") if before.fresh else ""
    return [(before.says, TEXT), (again, Ink("due"))]


def _checks(found: Estimate, signs: Signs) -> Iterator[Row]:
    """Answers that end the planned work: how likely, and what is spent by then; one for each
    phase that asks."""
    for line in found.forks:
        for way in line.ways:
            if way.ends:
                odds = odds_in_words(way)
                yield [
                    (f"phase {line.phase}  {way.text}", TEXT),
                    (f"  {odds}", BOLD), (f"  then {hours(way.total.middle)} spent", DIM),
                ]  # fmt: skip


def _what_ifs(here: Counter, found: Estimate, state: IntakeState, signs: Signs) -> Iterator[Row]:
    for line in open_lines(found):
        for way in line.ways:
            if not way.planned and not way.ends:
                yield _what_if(here, found, (line, way), state, signs)


def _what_if(
    here: Counter, found: Estimate, what: tuple[ForkLine, Way], state: IntakeState, signs: Signs
) -> Row:
    line, way = what
    name = f"{line.option} {way.text}" if line.option else way.text
    more = way.total.middle - found.total.middle
    at = _finish(way, state)
    row: Row = [
        (name, TEXT),
        (f"  {odds_in_words(way)}  ", DIM if way.odds is None else BOLD),
        (_change(more, signs), Ink("behind" if more > 0.05 else "text")),
    ]
    if at is not None:
        row.append((f"  {day_time(at, zone_of(here.zone), here.at)}", TEXT))
        row.append((" same chance", DIM))
    if way.kits:
        row.append((f"  needs {kit_names(here, way.kits)}", Ink("due")))
    return row


def _finish(way: Way, state: IntakeState) -> datetime | None:
    return date_at(way.finish, state.form.chance or 0.8)


def odds_in_words(way: Way) -> str:
    if way.odds is None:
        return "odds not known"
    return chance(way.odds).tenths or "nearly sure"


def _change(more: float, signs: Signs) -> str:
    if abs(more) < 0.05:
        return "same hours"
    return f"{'+' if more > 0 else signs.of('ahead')}{tenth(abs(more))} h"


def kit_names(here: Counter, kits: Sequence[str]) -> str:
    known = {one.code: f"{one.name}{'' if one.owned else ', hired'}" for one in here.kits}
    return " and ".join(known.get(code, code) for code in kits)


def _extra(one: Extra) -> Row:
    odds = f", {chance(one.odds).tenths or 'nearly always'}" if one.odds else ""
    return [
        (f"{one.text}{odds}  ", TEXT), (f"now +{tenth(one.adds_h)} h", GOOD),
        (f"; later, alone, {hours(one.alone_h)}", DIM),
    ]  # fmt: skip


def _kits(here: Counter, found: Estimate) -> Row:
    row: Row = []
    for one in found.kits:
        name = next((kit.name for kit in here.kits if kit.code == one.kit), one.kit)
        phases = ", ".join(one.phases)
        whose, ink = ("ours", GOOD) if one.owned else (_hire(one), Ink("due"))
        row += [(f"{name}: ", TEXT), (whose, ink), (f", phase {phases}   ", DIM)]
        if one.says:
            row += [(f"{one.says}   ", Ink("behind"))]
    return row


def _hire(kit: KitLine) -> str:
    """`hire 2 days, 38`; `hired` where nothing of it was worked out."""
    if not kit.days:
        return "hired"
    cost = "" if kit.cost is None else f", {money(kit.cost)}"
    return f"hire {counted(kit.days, 'day')}{cost}"


def _lifts(here: Counter, state: IntakeState, signs: Signs) -> Iterator[Row]:
    """Which one it goes on, which are free, when the others are; each against the vehicle."""
    if not here.lifts:
        yield [("No lift yet. Add one: hoistbook lift add CODE.", DIM)]
        return
    chosen = state.form.lift
    first: Row = [(f"goes on {chosen} now", BOLD) if chosen else ("waits", BOLD)]
    for one in _in_order(here, state):
        first += [("   ", DIM), *_lift(here, one, state)]
    yield first
    if state.form.mass is None and state.form.vehicle:
        yield [
            (
                filled("its mass is not known; {intake.vehicle}: type it behind, like 1.5 t"),
                DIM,
            )
        ]
    for one in _in_order(here, state):
        yield _long_lift(here, one, state, signs)


def _in_order(here: Counter, state: IntakeState) -> list[LiftLine]:
    """Free ones first, then by when they are free, then those that cannot take it."""
    late = datetime.max.replace(tzinfo=here.at.tzinfo)

    def place(one: LiftLine) -> tuple[bool, bool, datetime]:
        out = one.out.middle if one.out else here.at
        return bool(why_not(one, state)), one.job is not None, out if one.job is None else (
            one.out.middle if one.out else late)  # fmt: skip

    return sorted((one for one in here.lifts if one.code != state.form.lift), key=place)


def why_not(lift: LiftLine, state: IntakeState) -> str:
    """Why the vehicle cannot go on a lift, free or not; "" where nothing speaks against it."""
    mass = state.form.mass
    if not lift.in_service:
        return "out of service"
    if mass is not None and mass > lift.rated_kg:
        return f"carries {lift.rated_kg / 1000:.1f} t, not {mass / 1000:.1f} t"
    return ""


def _lift(here: Counter, one: LiftLine, state: IntakeState) -> Row:
    wrong = why_not(one, state)
    if wrong:
        short = "out" if not one.in_service else "too weak"
        return [(f"{one.code} {short}", DIM)]
    if one.job is None:
        return [(f"{one.code} free", GOOD)]
    if one.out is None:
        return [(f"{one.code} {one.job}", DIM)]
    return [(f"{one.code} ", TEXT), (day_time(one.out.middle, zone_of(here.zone), here.at), TEXT)]


def _long_lift(here: Counter, one: LiftLine, state: IntakeState, signs: Signs) -> Row:
    kind = cut(f"{one.code}  {one.kind}, {one.rated_kg / 1000:.1f} t", 26, signs.more)
    row: Row = [(f"{kind:<28}", TEXT)]
    wrong = why_not(one, state)
    if wrong:
        return [*row, (wrong, Ink("behind"))]
    if one.job is None:
        return [*row, ("free", GOOD)]
    if one.out is None:
        return [*row, (f"{one.job} on it", DIM)]
    out = day_time(one.out.middle, zone_of(here.zone), here.at)
    return [*row, (f"{one.job} out {out}", TEXT)]
