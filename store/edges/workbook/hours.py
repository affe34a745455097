"""Hours of a work book as people type them, and written into its TOML."""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import isfinite
from typing import NamedTuple, cast

from store.edges.toml_edit import Edit, Source, list_value, number_value, text_value
from store.edges.toml_lines import Path
from store.edges.workbook.form import TYPICAL_HIGH, TYPICAL_LOW
from store.edges.workbook.places import Table, coming_path, phase_path, value_at
from store.rules.family_hours import pattern_of
from store.trouble import Refused

FAMILIES, LEARNED = "hours_for", "learned"
_KEY = re.compile(r"[\"']?hours[\"']?(?=\s*=\s*$)")


class Hours(NamedTuple):
    """Low, book and high."""

    low: float
    book: float
    high: float


def read_hours(text: str, before: Hours) -> Hours:
    """Hours as they are typed: three, or the book's alone, then low and high move along.

    Raises:
        Refused: they are none, or do not rise.
    """
    numbers = re.split(r"[;/\s]+|,\s+|,(?=\d*\.)", text.strip())
    if len(numbers) == 1 and text.count(",") == 2:
        numbers = text.split(",")
    try:
        found = [float(one.strip().replace(",", ".")) for one in numbers]
    except ValueError:
        found = []
    if len(found) == 1 and before.book > 0:
        found = [round(one * found[0] / before.book, 2) for one in before]
    if len(found) != 3 or not all(isfinite(one) for one in found):
        raise Refused(
            f"{text[:20] or 'Nothing'} is no hours. Give low, book and high, like 0.7, 1.1, 1.6, "
            "or one number."
        )
    return _rising(Hours(*found))


def _rising(hours: Hours) -> Hours:
    if not 0 <= hours.low <= hours.book <= hours.high or hours.book <= 0:
        raise Refused("Hours rise: low, book, high. Give three like 0.7, 1.1, 1.6, or one.")
    return hours


def written_hours(text: str, phase: str, family: str | None = None) -> Hours:
    """Hours of a phase as they are written; of outwork days, where those are written.

    Args:
        family: a family or pattern: its own hours, the phase's where it has none yet.

    Raises:
        Refused: no such phase, or a family that cannot be.
    """
    raw = Source(text).raw
    path = phase_path(raw, phase)
    written = cast("Table", value_at(raw, path))
    place = _family_place(written, family)
    if place is not None:
        written = cast("Table", written[FAMILIES][place])
    found = written.get("days", written.get("hours", 1.0))
    if isinstance(found, list):
        return Hours(*(float(one) for one in cast("list[float]", found)))
    return Hours(found * TYPICAL_LOW, float(found), found * TYPICAL_HIGH)


def set_hours(
    text: str, phase: str, hours: Hours, family: str | None = None, learned: float | None = None
) -> str:
    """Give a phase other hours; of outwork that is written in days, other days.

    Args:
        family: a family or pattern whose hours these are; None: the phase's.
        learned: times what the book said before it took over what was learned; None: as it was.

    Raises:
        Refused: no such phase, the hours do not rise, or a family that cannot be.
    """
    source = Source(text)
    path = phase_path(source.raw, phase)
    written = cast("Table", value_at(source.raw, path))
    new = list_value(map(number_value, _rising(hours)))
    if family is None:
        word = "days" if "days" in written else "hours"
        inline = source.has(path)
        more = _learned(source, path, learned, inline=inline)
        return source.made([source.value((*path, word), new), *more])
    if "days" in written:
        raise Refused(f"{phase} is outwork, written in days: it has the same for every family.")
    place = _family_place(written, family)
    if place is not None:
        own, inline = (*path, FAMILIES, place), source.has((*path, FAMILIES))
        more = _learned(source, own, learned, inline=inline)
        return source.made([source.value((*own, "hours"), new), *more])
    times = written.get(LEARNED, 1.0) if learned is None else learned
    one = (text_value(pattern_of(family)), new, number_value(times))
    return source.made([_added(source, path, len(written.get(FAMILIES, ())), one)])


def _learned(source: Source, path: Path, times: float | None, *, inline: bool) -> list[Edit]:
    """What was learned beside hours of a phase or a family: in its line, else after theirs."""
    if times is None:
        return []
    new = number_value(times)
    if source.has((*path, LEARNED)):
        return [source.value((*path, LEARNED), new)]
    _, end = source.places.values[*path, "hours"]
    if inline:
        return [(end, end, f", {LEARNED} = {new}")]
    return [_line_after(source, path, LEARNED, new)]


def _line_after(source: Source, path: Path, key: str, value: str) -> Edit:
    """A line below the hours of a table, written as theirs is."""
    start, end = source.places.values[*path, "hours"]
    written = source.text[source.text.rfind("\n", 0, start) + 1 : start]
    rest = source.text.find("\n", end) + 1
    return rest, rest, f"{_KEY.sub(key, written)}{value}\n"


def _family_place(phase: Table, family: str | None) -> int | None:
    """Which of a phase's hours for families are those of this family or pattern itself."""
    if family is None:
        return None
    wanted = pattern_of(family)
    for i, one in enumerate(cast("Sequence[Table]", phase.get(FAMILIES, ()))):
        if pattern_of(str(one["family"])) == wanted:
            return i
    return None


def _added(source: Source, path: Path, many: int, one: tuple[str, str, str]) -> Edit:
    """Hours for one more family: after the others, else after the phase's own hours."""
    pairs = list(zip(("family", "hours", LEARNED), one, strict=True))
    pairs = pairs if float(one[2]) != 1.0 else pairs[:2]
    line = f"{{ {', '.join(f'{key} = {value}' for key, value in pairs)} }}"
    if source.has((*path, FAMILIES)):
        if not many:
            return source.value((*path, FAMILIES), f"[{line}]")
        _, end = source.places.values[*path, FAMILIES, many - 1]
        return end, end, f", {line}"
    if many:
        at = source.under((*path, FAMILIES))
        name = ".".join(str(part) for part in path if isinstance(part, str))
        lines = "".join(f"{key} = {value}\n" for key, value in pairs)
        return at, at, f"\n[[{name}.{FAMILIES}]]\n{lines}"
    if source.has(path):
        _, end = source.places.values[*path, "hours"]
        return end, end, f", {FAMILIES} = [{line}]"
    return _line_after(source, path, FAMILIES, f"[{line}]")


def set_coming_hours(text: str, where: str, hours: float) -> str:
    """Give a surprise or neighbouring work other hours.

    Args:
        where: `CL.dowel`.

    Raises:
        Refused: there is none, or the hours cannot be.
    """
    source = Source(text)
    parts = where.split(".")
    if len(parts) != 2 or hours < 0:
        raise Refused(f"{where} takes hours from 0 on. Give OPERATION.SURPRISE, like CL.dowel.")
    path = coming_path(source.raw, *parts)
    return source.made([source.value((*path, "hours"), number_value(hours))])
