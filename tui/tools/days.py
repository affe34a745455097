"""What each day costs: the table by which a person can check the recommended one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo

from store.views.tools.values import Advice, DayCost
from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.tools.words import short_day
from tui.words import money

LABEL, COLUMN = 17, 9
DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
CHOSEN = Ink("text", loud=True)


@dataclass(frozen=True, slots=True)
class Part:
    """One row of the table."""

    label: str
    says: Callable[[DayCost], str]


NEEDED = Part("still needed", lambda one: tenths(one.needed))
PARTS = (
    Part("hire", lambda one: _amount(one.hire)),
    Part("carriage", lambda one: _amount(one.carriage)),
    Part("late fee", lambda one: _amount(one.late)),
    Part("lift that waits", lambda one: _amount(one.waiting)),
)
TOTAL = Part("together", lambda one: _amount(one.total))


def tenths(chance: float) -> str:
    """`always`, `4 in 10`, `hardly`: of a chance that something is."""
    tenth = round(chance * 10)
    return "surely" if tenth == 10 else f"{tenth} in 10" if tenth else "hardly"


def _amount(value: float | None) -> str:
    """Expected money to the unit; a dash where the supplier's terms are not known."""
    return "-" if value is None else money(round(value))


def best_of(advice: Advice, zone: tzinfo) -> int | None:
    """Which of the days is the recommended one; None where none is shown."""
    days = advice.days
    until = advice.best.until.astimezone(zone).date() if advice.best.until else None
    found = next((n for n, one in enumerate(days) if one.day == until), None)
    if found is not None:
        return found
    known = [n for n, one in enumerate(days) if one.total is not None]
    return min(known, key=lambda n: days[n].total or 0.0, default=0 if days else None)


def around(best: int, many: int, room: int) -> range:
    """As many days as there is room for, with the recommended one in their midst."""
    first = min(max(0, best - room // 2), max(0, many - room))
    return range(first, min(many, first + room))


def table_rows(advice: Advice, room: int) -> tuple[Part, ...]:
    """The rows under the days: all where there is room, the chance and the whole else; the chance
    alone where the supplier's terms are not known."""
    if all(one.total is None for one in advice.days):
        return (NEEDED,)
    return (NEEDED, *PARTS, TOTAL) if room >= len(PARTS) + 4 else (NEEDED, TOTAL)


def paint_days(
    canvas: Canvas, at: tuple[int, int], advice: Advice, when: tuple[tzinfo, datetime],
    parts: Sequence[Part],
) -> int:  # fmt: skip
    """Days across, what each costs down; the recommended one filled. The row after them.

    Args:
        when: the shop's zone, and now.
    """
    (x, y), today = at, when[1].astimezone(when[0]).date()
    best = best_of(advice, when[0])
    if best is None:
        return y
    columns = max(1, (canvas.width - 1 - x - LABEL) // COLUMN)
    canvas.put(x, y, "back on", DIM)
    for row, part in enumerate(parts, y + 1):
        canvas.put(x, row, part.label, DIM)
    for nth, n in enumerate(around(best, len(advice.days), columns)):
        one, end = advice.days[n], x + LABEL + (nth + 1) * COLUMN - 2
        _right(canvas, end, y, short_day(one.day, today), CHOSEN if n == best else BOLD)
        for row, part in enumerate(parts, y + 1):
            ink = CHOSEN if n == best and part is TOTAL else TEXT
            _right(canvas, end, row, part.says(one), ink)
    return y + 1 + len(parts)


def _right(canvas: Canvas, end: int, y: int, text: str, ink: Ink) -> None:
    shown = f" {text} " if ink.loud else text
    canvas.right(end + ink.loud, y, shown, ink)


def step_words(advice: Advice, zone: tzinfo, now: datetime) -> str:
    """`Mon 19 costs 118: 60 more a day sooner, 22 more a day later, 178 as it is.`"""
    best = best_of(advice, zone)
    least = advice.days[best].total if best is not None else None
    if best is None or least is None:
        return ""
    days = advice.days
    said = _step("a day sooner", days[best - 1].total, least) if best > 0 else []
    said += _step("a day later", days[best + 1].total, least) if best + 1 < len(days) else []
    if advice.instead_of is not None and round(advice.instead_of) != round(least):
        said.append(f"{_amount(advice.instead_of)} as it is")
    today = now.astimezone(zone).date()
    first = f"{short_day(days[best].day, today)} costs {_amount(least)}"
    return f"{first}: {', '.join(said)}." if said else f"{first}."


def _step(name: str, total: float | None, least: float) -> list[str]:
    """`22 more a day later`"""
    if total is None:
        return []
    whole = round(total - least)
    if not whole:
        return [f"the same {name}"]
    return [f"{money(abs(whole))} {'more' if whole > 0 else 'less'} {name}"]


def kept_words(kept: Sequence[tuple[str, float]], likely: Callable[[float], str]) -> str:
    """`2433 likely 9 in 10, 2417 safe`"""
    return ", ".join(f"{job} {likely(value)}" for job, value in kept)
