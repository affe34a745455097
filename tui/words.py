"""Hours, money, dates, chances and names in words: the only place that writes them for people.

Instants come in UTC and leave in the shop's zone. Nothing here asks for the time.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from functools import lru_cache
from math import floor
from zoneinfo import ZoneInfo

from rich.cells import cell_len, set_cell_size

from store.sums.zones import zone_named
from tui.colours import Role

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = (
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
)  # fmt: skip


@lru_cache(maxsize=64)
def zone_of(name: str) -> ZoneInfo:
    """The zone of that name, kept."""
    return zone_named(name)


def local(instant: datetime, zone: tzinfo) -> datetime:
    """The instant on the shop's wall."""
    return instant.astimezone(zone)


def hours(value: float) -> str:
    """Hours to a tenth: `1.4 h`."""
    return f"{tenth(value)} h"


def tenth(value: float) -> str:
    """A number to a tenth without its unit, never `-0.0`."""
    return f"{round(value, 1) + 0.0:.1f}"


def money(amount: float) -> str:
    """An amount in the shop's money: `210`, `38.50`, `1,250`."""
    cents = round(amount * 100)
    return f"{cents // 100:,}" if cents % 100 == 0 else f"{cents / 100:,.2f}"


def distance(value: float, unit: str) -> str:
    """`128,450 km`"""
    return f"{value:,.0f} {unit}"


def elapsed(since: datetime, at: datetime) -> str:
    """How long a clock has run, hours and minutes: `1:12`; never negative."""
    minutes = max(0, int((at - since) / timedelta(minutes=1)))
    return f"{minutes // 60}:{minutes % 60:02d}"


def time(instant: datetime, zone: tzinfo) -> str:
    """`10:40`"""
    return f"{local(instant, zone):%H:%M}"


def day(instant: datetime, zone: tzinfo) -> str:
    """`Thu`"""
    return DAYS[local(instant, zone).weekday()]


def day_date(instant: datetime, zone: tzinfo) -> str:
    """`Thu 15`: a day on an axis."""
    at = local(instant, zone)
    return f"{DAYS[at.weekday()]} {at.day}"


def full_date(instant: datetime, zone: tzinfo) -> str:
    """`Wed 14 Oct`"""
    at = local(instant, zone)
    return f"{DAYS[at.weekday()]} {at.day} {MONTHS[at.month - 1]}"


def moment(instant: datetime, zone: tzinfo) -> str:
    """`Wed 14 Oct  10:40`: what a header says of now."""
    return f"{full_date(instant, zone)}  {time(instant, zone)}"


def day_time(instant: datetime, zone: tzinfo, now: datetime) -> str:
    """`Thu 12:00`; `22 Oct 12:00` from six days off on; with the year from 300 days off on."""
    at = local(instant, zone)
    away = abs((at.date() - local(now, zone).date()).days)
    clock = f"{at:%H:%M}"
    if away < 6:
        return f"{DAYS[at.weekday()]} {clock}"
    year = f" {at.year}" if away >= 300 else ""
    return f"{at.day} {MONTHS[at.month - 1]}{year} {clock}"


def out_by(middle: datetime, cautious: datetime, zone: tzinfo, now: datetime) -> str:
    """`out Wed 13:25, by 14:00`: when a lift frees, by the middle and the cautious forecast.

    Of what is six days off or more only the day is said: nobody knows the minute.
    """
    first, second = _roughly(middle, zone, now), _roughly(cautious, zone, now)
    same = local(middle, zone).date() == local(cautious, zone).date()
    if same and first != second:
        second = time(cautious, zone)
    return f"out {first}" if first == second else f"out {first}, by {second}"


def _roughly(instant: datetime, zone: tzinfo, now: datetime) -> str:
    """`Thu 12:00`; `22 Oct` from six days off on."""
    text = day_time(instant, zone, now)
    away = abs((local(instant, zone).date() - local(now, zone).date()).days)
    return text if away < 6 else text[: -len(" 12:00")]


@dataclass(frozen=True, slots=True)
class Chance:
    """A chance of keeping a promise in words. `tenths` is "" where the word says it all."""

    step: int
    """The tenth it rounds to, 0 to 10."""
    word: str
    short: str
    tenths: str
    role: Role

    @property
    def bad(self) -> bool:
        """Whether the word points at the bad end and should move somebody."""
        return self.role in ("behind", "blocked")


CHANCES: tuple[tuple[float, str, str, Role], ...] = (
    (0.95, "safe", "safe", "ahead"),
    (0.75, "likely", "likely", "ahead"),
    (0.55, "more likely than not", "leans good", "text"),
    (0.35, "a coin toss", "coin toss", "behind"),
    (0.15, "doubtful", "doubtful", "behind"),
    (0.00, "will break", "will break", "blocked"),
)
"""Lower border of the chance of keeping, word, short word, role. Each owns its rounded tenths, so
that word and figure never disagree."""
STICKS = 0.02
"""How far past a border a chance must be before a live screen changes its word."""


def chance(keeping: float) -> Chance:
    """The word for a chance of keeping a promise, 0 to 1."""
    return _by_step(_step(keeping))


def settled(before: Chance | None, keeping: float) -> Chance:
    """The same for a live screen: word and figure stay until the chance is clear of the border."""
    if before is not None:
        low, high = before.step / 10 - 0.05, before.step / 10 + 0.05
        if low - STICKS <= keeping < high + STICKS:
            return before
    return chance(keeping)


def _step(keeping: float) -> int:
    # rounded first: 0.15 * 10 + 0.5 must not fall under 2 by the last binary digit
    return min(10, max(0, floor(round(keeping * 10, 9) + 0.5)))


def _by_step(step: int) -> Chance:
    middle = step / 10
    _, word, short, role = next(row for row in CHANCES if row[0] <= middle)
    tenths = "" if step == 10 else f"{step} in 10" if step else "under 1 in 10"
    return Chance(step, word, short, tenths, role)


def plain(text: str) -> str:
    """Text from people on one line, without control characters that would move the cursor."""
    return text if text.isprintable() else "".join(c if _shows(c) else " " for c in text)


def _shows(character: str) -> bool:
    # zero-width joiners are not printable by Python's rule, yet hold one glyph together
    return character.isprintable() or character == "\u200d"


def cut(text: str, width: int, more: str = "…") -> str:
    """The text in at most `width` cells, ending in the mark `more` where something was left out."""
    text = plain(text)
    if cell_len(text) <= width:
        return text
    if width <= cell_len(more):
        return more[: max(0, width)]
    room = width - cell_len(more)
    kept = text[:room]
    while cell_len(kept) > room:
        kept = kept[:-1]
    while cell_len(kept) < room and cell_len(text[: len(kept) + 1]) <= room:
        kept = text[: len(kept) + 1]
    return kept.rstrip() + more


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` cells, broken between words; long words are cut."""
    lines: list[str] = []
    for word in (cut(each, width) for each in plain(text).split()):
        if lines and cell_len(lines[-1]) + 1 + cell_len(word) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def listed(names: Sequence[str], last: str = "and") -> str:
    """`Ines, Olu and Tomas`"""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


def evened(texts: Sequence[str], most: int | None = None, more: str = "…") -> list[str]:
    """The texts as a column: all as wide as the widest, none wider than `most`, and a gap."""
    widest = max(map(cell_len, texts), default=0)
    width = widest if most is None else min(widest, most)
    return [set_cell_size(cut(text, width, more), width + 3) for text in texts]


def joined(initials: Sequence[str]) -> str:
    """`TO+OL`; from four people on `TO+3`."""
    return f"{initials[0]}+{len(initials) - 1}" if len(initials) > 3 else "+".join(initials)


def counted(number: int, one: str, many: str | None = None) -> str:
    """`1 job`, `3 jobs`"""
    return f"{number} {one if number == 1 else many or one + 's'}"


def initials(names: Iterable[str]) -> list[str]:
    """Two capitals for each name in turn, no pair twice.

    The first two letters; else the first letter with that of the last name; else with each later
    letter; else with a digit.
    """
    taken: set[str] = set()
    found: list[str] = []
    for name in names:
        pair = next(p for p in _pairs(name) if p not in taken)
        taken.add(pair)
        found.append(pair)
    return found


def _pairs(name: str) -> Iterable[str]:
    parts = [only for part in name.split() if (only := "".join(filter(str.isalnum, part)))]
    letters = "".join(parts).upper() or "X"
    yield (letters + "X")[:2]
    if len(parts) > 1:
        yield letters[0] + parts[-1][0].upper()
    yield from (letters[0] + other for other in letters[1:])
    yield from (letters[0] + str(number) for number in range(2, 10))
    yield from (f"{number:02d}" for number in range(10, 10_000))
