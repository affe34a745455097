"""Odds of a work book as people type them, and written into its TOML."""

from __future__ import annotations

import re
from fractions import Fraction

from store.edges.toml_edit import Edit, Source, number_value, text_value
from store.edges.toml_lines import Path
from store.edges.workbook.places import (
    Table,
    coming_path,
    operation_path,
    phase_path,
    tables_of,
    value_at,
)
from store.trouble import Refused

LARGEST_PART = 999
"""A share with a larger number in it is written as a decimal."""
_ODDS = re.compile(r"(\d{1,4}) *(?:in|:|/|of) *(\d{1,4})", re.ASCII)
_SHARE = re.compile(r"(\d{0,3}(?:[.,]\d{1,6})?) *(%?)", re.ASCII)


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
        path = coming_path(source.raw, *parts)
        return source.made([source.value((*path, "odds"), _odds_value(odds))])
    if len(parts) == 3:
        return source.made(_answers(source, _decision_path(source.raw, *parts[:2]), parts[2], odds))
    raise Refused(
        f"{where} names no odds. Give OPERATION.SURPRISE, like CL.dowel, or PHASE.DECISION.ANSWER."
    )


def _decision_path(raw: Table, holder: str, code: str) -> Path:
    """A decision of a phase or of an operation's extra steps; a shared one where it is shared."""
    is_operation = any(one.get("code") == holder for one in tables_of(raw, "operation"))
    base = operation_path(raw, holder) if is_operation else phase_path(raw, holder)
    word = "extra" if is_operation else "step"
    for i, step in enumerate(tables_of(value_at(raw, base), word)):
        if code in (step.get("code"), step.get("use")):
            if "answer" in step:
                return (*base, word, i)
            shared = tables_of(raw, "shared_step")
            at = next((n for n, one in enumerate(shared) if one.get("code") == step.get("use")), -1)
            if at >= 0 and "answer" in shared[at]:
                return ("shared_step", at)
    raise Refused(f"{holder} has no decision {code}. See the book: hoistbook workbook show --toml.")


def _fraction(odds: object) -> Fraction:
    return read_odds(odds) if isinstance(odds, str) else Fraction(str(odds))


def _answers(source: Source, path: Path, code: str, odds: Fraction) -> list[Edit]:
    answers = tables_of(value_at(source.raw, path), "answer")
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
