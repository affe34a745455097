"""Hours of a work book as people type them, and written into its TOML."""

from __future__ import annotations

import re
from math import isfinite
from typing import NamedTuple, cast

from store.edges.toml_edit import Source, list_value, number_value
from store.edges.workbook_form import TYPICAL_HIGH, TYPICAL_LOW
from store.edges.workbook_places import Table, coming_path, phase_path, value_at
from store.trouble import Refused


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


def written_hours(text: str, phase: str) -> Hours:
    """Hours of a phase as they are written; of outwork days, where those are written.

    Raises:
        Refused: no such phase.
    """
    raw = Source(text).raw
    written = cast("Table", value_at(raw, phase_path(raw, phase)))
    found = written.get("days", written.get("hours", 1.0))
    if isinstance(found, list):
        return Hours(*(float(one) for one in cast("list[float]", found)))
    return Hours(found * TYPICAL_LOW, float(found), found * TYPICAL_HIGH)


def set_hours(text: str, phase: str, hours: Hours) -> str:
    """Give a phase other hours; of outwork that is written in days, other days.

    Raises:
        Refused: no such phase, or the hours do not rise.
    """
    source = Source(text)
    path = phase_path(source.raw, phase)
    word = "days" if "days" in value_at(source.raw, path) else "hours"
    new = list_value(map(number_value, _rising(hours)))
    return source.made([source.value((*path, word), new)])


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
