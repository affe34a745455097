"""A work book changed by a word: text in, text out. Whether the result holds is for the checker.

Only what was meant is written anew; comments, order and every other value stay as they were.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import isfinite
from typing import Any, NamedTuple, cast

from store.edges.toml_edit import Edit, Source, list_value, number_value, text_value
from store.edges.toml_lines import Path
from store.edges.workbook_form import TYPICAL_HIGH, TYPICAL_LOW
from store.trouble import Refused

Table = Mapping[str, Any]
LARGEST_PART = 999
"""A share with a larger number in it is written as a decimal."""
CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,15}", re.ASCII)
_NUMBER = re.compile(r"\d{1,4}([.,]\d{1,4})?", re.ASCII)
_ODDS = re.compile(r"(\d{1,4}) *(?:in|:|/|of) *(\d{1,4})", re.ASCII)
_SHARE = re.compile(r"(\d{0,3}(?:[.,]\d{1,6})?) *(%?)", re.ASCII)


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


def phase_path(raw: Table, code: str) -> Path:
    """Where a phase is written; `GB-off` is one side of an access.

    Raises:
        Refused: the book has none of that code.
    """
    for i, phase in enumerate(_tables(raw, "phase")):
        if phase.get("code") == code:
            return ("phase", i)
    for i, access in enumerate(_tables(raw, "access")):
        name = str(access.get("code"))
        if name == code and "off" not in access:
            return ("access", i)
        for side in ("off", "on"):
            if side in access and code == f"{name}-{side}":
                return ("access", i, side)
    raise Refused(f"The work book has no phase {code}. See them: hoistbook workbook show.")


def operation_path(raw: Table, code: str) -> Path:
    """Where an operation is written.

    Raises:
        Refused: the book has none of that code.
    """
    for i, operation in enumerate(_tables(raw, "operation")):
        if operation.get("code") == code:
            return ("operation", i)
    raise Refused(f"The work book has no operation {code}. See them: hoistbook workbook show.")


def _tables(raw: Table, name: str) -> Sequence[Table]:
    return cast("Sequence[Table]", raw.get(name, ()))


def _at(raw: Table, path: Path) -> Any:
    found: Any = raw
    for part in path:
        found = found[part]
    return found


def written_hours(text: str, phase: str) -> Hours:
    """Hours of a phase as they are written; of outwork days, where those are written.

    Raises:
        Refused: no such phase.
    """
    raw = Source(text).raw
    written = cast("Table", _at(raw, phase_path(raw, phase)))
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
    word = "days" if "days" in _at(source.raw, path) else "hours"
    new = list_value(map(number_value, _rising(hours)))
    return source.made([source.value((*path, word), new)])


def read_odds(text: str) -> Fraction:
    """Odds as they are typed: `1 in 8`, `1:8`, `1/8`, `0.125`, `12.5 %`.

    Raises:
        Refused: they are none.
    """
    words = text.strip().lower()
    pair, share = _ODDS.fullmatch(words), _SHARE.fullmatch(words)
    if pair and int(pair[2]):
        found = Fraction(int(pair[1]), int(pair[2]))
    elif share and share[1].strip(".,"):
        found = Fraction(share[1].replace(",", ".")) / (100 if share[2] else 1)
    else:
        raise Refused(f"{text[:20] or 'Nothing'} is no odds. Give them like 1 in 8, or 0.125.")
    if not 0 <= found <= 1:
        raise Refused(f"{text[:20]} is more than always. Give odds like 1 in 8, or 0.125.")
    return found


def odds_words(odds: Fraction) -> str:
    """`1 in 8`, or a decimal where that would take large numbers."""
    if odds.denominator <= LARGEST_PART and odds.numerator:
        return f"{odds.numerator} in {odds.denominator}"
    return f"{float(odds):.6g}"


def _odds_value(odds: Fraction) -> str:
    words = odds_words(odds)
    return text_value(words) if " in " in words else number_value(float(odds))


def set_odds(text: str, where: str, odds: Fraction) -> str:
    """Give a surprise, neighbouring work, or an answer other odds.

    The other answers of a decision share what is left as they shared it before.

    Args:
        where: `CL.dowel`, or `CL1.fit.fail` for an answer of the decision `fit` in CL1.

    Raises:
        Refused: there is none, or the others cannot share what is left.
    """
    source = Source(text)
    parts = where.split(".")
    if len(parts) == 2:
        path = _coming_path(source.raw, *parts)
        return source.made([source.value((*path, "odds"), _odds_value(odds))])
    if len(parts) == 3:
        return source.made(_answers(source, _decision_path(source.raw, *parts[:2]), parts[2], odds))
    raise Refused(
        f"{where} names no odds. Give OPERATION.SURPRISE, like CL.dowel, or PHASE.DECISION.ANSWER."
    )


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
    path = _coming_path(source.raw, *parts)
    return source.made([source.value((*path, "hours"), number_value(hours))])


def _coming_path(raw: Table, operation: str, code: str) -> Path:
    path = operation_path(raw, operation)
    for word in ("surprise", "neighbour"):
        for i, one in enumerate(_tables(_at(raw, path), word)):
            if one.get("code") == code:
                return (*path, word, i)
    raise Refused(f"{operation} has no surprise and no neighbouring work {code}.")


def _decision_path(raw: Table, holder: str, code: str) -> Path:
    """A decision of a phase or of an operation's extra steps; a shared one where it is shared."""
    is_operation = any(one.get("code") == holder for one in _tables(raw, "operation"))
    base = operation_path(raw, holder) if is_operation else phase_path(raw, holder)
    word = "extra" if is_operation else "step"
    for i, step in enumerate(_tables(_at(raw, base), word)):
        if code in (step.get("code"), step.get("use")):
            if "answer" in step:
                return (*base, word, i)
            shared = _tables(raw, "shared_step")
            at = next((n for n, one in enumerate(shared) if one.get("code") == step.get("use")), -1)
            if at >= 0 and "answer" in shared[at]:
                return ("shared_step", at)
    raise Refused(f"{holder} has no decision {code}. See the book: hoistbook workbook show --toml.")


def _fraction(odds: object) -> Fraction:
    return read_odds(odds) if isinstance(odds, str) else Fraction(str(odds))


def _answers(source: Source, path: Path, code: str, odds: Fraction) -> list[Edit]:
    answers = _tables(_at(source.raw, path), "answer")
    known = [str(one.get("code")) for one in answers]
    if code not in known:
        raise Refused(f"There is no answer {code}. It has these: {', '.join(known)}.")
    before = {name: _fraction(one["odds"]) for name, one in zip(known, answers, strict=True)}
    rest = sum((share for name, share in before.items() if name != code), Fraction(0))
    if rest == 0 and odds != 1:
        raise Refused("The other answers never come: give one of them odds first.")
    edits: list[Edit] = []
    for n, name in enumerate(known):
        new = odds if name == code else before[name] * (1 - odds) / (rest or 1)
        if new != before[name]:
            edits.append(source.value((*path, "answer", n, "odds"), _odds_value(new)))
    return edits


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
        for one in cast("Sequence[object]", _at(source.raw, path)["route"])
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
             for one in _tables(source.raw, word)}  # fmt: skip
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
