"""A work book changed by a word: text in, text out. Whether the result holds is for the checker.

Only what was meant is written anew; comments, order and every other value stay as they were.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import cast

from store.edges.toml_edit import Source, list_value, number_value, text_value
from store.edges.workbook.hours import Hours, read_hours, set_coming_hours, set_hours, written_hours
from store.edges.workbook.odds import odds_words, read_odds, set_odds
from store.edges.workbook.places import CODE, Table, operation_path, phase_path, tables_of, value_at
from store.trouble import Refused

__all__ = [
    "Hours", "add_part", "name_book", "new_operation", "odds_words", "read_hours", "read_odds",
    "read_phases", "rename", "set_coming_hours", "set_hours", "set_odds", "written_hours",
]  # fmt: skip
_NUMBER = re.compile(r"\d{1,4}([.,]\d{1,4})?", re.ASCII)


def rename(text: str, operation: str, name: str) -> str:
    """Call an operation otherwise; its code stays.

    Raises:
        Refused: no such operation.
    """
    source = Source(text)
    path = operation_path(source.raw, operation)
    return source.made([source.value((*path, "name"), text_value(name))])


def name_book(text: str, name: str) -> str:
    """Call the whole book otherwise."""
    source = Source(text)
    return source.made([source.value(("name",), text_value(name))])


def add_part(text: str, operation: str, what: str, phase: str) -> str:
    """Add a part that is always renewed, and for which phase it must be here.

    Raises:
        Refused: no such operation, or the phase is none of its route.
    """
    source = Source(text)
    path = operation_path(source.raw, operation)
    route = [
        one if isinstance(one, str) else str(cast("Table", one).get("phase"))
        for one in cast("Sequence[object]", value_at(source.raw, path)["route"])
    ]
    if phase not in route:
        raise Refused(f"{phase} is no phase of {operation}. It has these: {', '.join(route)}.")
    at = source.under(path)
    new = f"\n[[operation.part]]\ntext = {text_value(what)}\nphase = {text_value(phase)}\n"
    return source.made([(at, at, new)])


def read_phases(text: str) -> list[tuple[str, float]]:
    """Phases as they are typed: `strip 2, clutch 3.5, ZR`; a word alone is a phase of the book.

    Returns:
        Names with hours; codes of the book with 0.

    Raises:
        Refused: one has no name or no hours.
    """
    found: list[tuple[str, float]] = []
    for one in re.split(r"[,;]\s+|;", text.strip().rstrip(",;")):
        if CODE.fullmatch(one.strip()) and not _NUMBER.fullmatch(one.strip()):
            found.append((one.strip(), 0.0))
            continue
        name, _, hours = one.strip().rpartition(" ")
        value = float(hours.replace(",", ".")) if _NUMBER.fullmatch(hours) else 0.0
        if not name.strip() or value <= 0:
            raise Refused(
                f"{one.strip()[:30] or 'Nothing'} is no phase with hours. Type them like: "
                "strip 2, clutch 3.5, refit 2."
            )
        found.append((name.strip(), value))
    return found


def new_operation(
    text: str, code: str, name: str, phases: Sequence[tuple[str, float]], *, book: str
) -> str:
    """Write an operation from nothing: its phases are called CODE1, CODE2 and so on.

    Args:
        text: the book so far, "" where there is none.
        book: its name, where there is none.

    Raises:
        Refused: the code cannot be or is taken, or a phase without hours is not in the book.
    """
    source = Source(text or f"name = {text_value(book)}\n")
    if not CODE.fullmatch(code):
        raise Refused(f"{code[:20]!r} is no code: letters, digits and hyphens, sixteen at most.")
    codes = [f"{code}{n}" if hours else what for n, (what, hours) in enumerate(phases, 1)]
    for what, hours in phases:
        if not hours:
            phase_path(source.raw, what)
    own = [(own, *one) for own, one in zip(codes, phases, strict=True) if one[1]]
    taken = {str(one.get("code")) for word in ("operation", "phase")
             for one in tables_of(source.raw, word)}  # fmt: skip
    if taken & {code, *(one[0] for one in own)}:
        raise Refused(f"The code {code} is taken already. Give it another one.")
    parts = [
        f"\n[[phase]]\ncode = {text_value(one)}\nname = {text_value(what)}\n"
        f"hours = {number_value(hours)}\n"
        for one, what, hours in own
    ]
    route = list_value(map(text_value, codes))
    parts.append(
        f"\n[[operation]]\ncode = {text_value(code)}\nname = {text_value(name)}\nroute = {route}\n"
    )
    return source.text + "".join(parts)
