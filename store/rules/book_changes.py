"""What another version of the work book says otherwise, in words of the shop."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from store.rules.book import (
    Answer,
    Hours,
    Neighbour,
    Operation,
    Phase,
    Step,
    Surprise,
    WorkBook,
)

EASY = 200
"""Odds are said as `n in d` with a d up to that."""
SAME_SHAPE = 0.05
"""Low and high are the same shares of the book's hours, but for their rounding."""


class BookChange(NamedTuple):
    """One thing that is otherwise; `before` or `after` is "" where there was or is nothing."""

    what: str
    before: str
    after: str


def changes(before: WorkBook, after: WorkBook) -> tuple[BookChange, ...]:
    """Everything that is otherwise, operations first; none for two books that say the same."""
    return (*_named(before, after), *_operations(before, after), *_phases(before, after),
            *_rest(before, after))  # fmt: skip


def odds_words(odds: float) -> str:
    """`1 in 8`, `never`, `always`, or per cent where no small numbers fit."""
    if odds <= 0:
        return "never"
    if odds >= 1:
        return "always"
    share = Fraction(odds).limit_denominator(EASY)
    if abs(float(share) - odds) < 1e-6:
        return f"{share.numerator} in {share.denominator}"
    return f"{100 * odds:.3g} %"


def hours_words(hours: Hours) -> str:
    """`0.9 h (0.6 to 1.4)`: the book's, low and high."""
    return f"{hours.middle:g} h ({hours.low:g} to {hours.high:g})"


def _named(before: WorkBook, after: WorkBook) -> Iterator[BookChange]:
    if before.name != after.name:
        yield BookChange("the book's name", before.name, after.name)


def _operations(before: WorkBook, after: WorkBook) -> Iterator[BookChange]:
    for code, one in {**before.operations, **after.operations}.items():
        old, new = before.operations.get(code), after.operations.get(code)
        if old is None or new is None:
            gone = f"{one.name}, {len(one.route)} phases"
            yield BookChange(f"operation {code}", gone if new is None else "",
                             gone if old is None else "")  # fmt: skip
        elif old != new:
            yield from _operation(old, new)


def _operation(old: Operation, new: Operation) -> Iterator[BookChange]:
    if old.name != new.name:
        yield BookChange(f"{new.code}, its name", old.name, new.name)
    yield from _coming(old, new)
    parts = {part.text: part for part in old.parts}
    for part in new.parts:
        if parts.pop(part.text, None) != part:
            yield BookChange(f"{new.code}, always renewed", "", f"{part.text} for {part.phase}")
    for part in parts.values():
        yield BookChange(f"{new.code}, always renewed", f"{part.text} for {part.phase}", "")
    same = replace(new, name=old.name, surprises=old.surprises, neighbours=old.neighbours,
                   parts=old.parts, extras=old.extras)  # fmt: skip
    if same != old:
        yield BookChange(f"{new.code}, its route or what it asks", "as it was", "other")
    before = {f"{one.phase}.{one.step.code}": one.step for one in old.extras}
    yield from _steps(before, {f"{one.phase}.{one.step.code}": one.step for one in new.extras})


def _coming(old: Operation, new: Operation) -> Iterator[BookChange]:
    before: dict[str, Surprise | Neighbour] = {}
    before |= {one.code: one for one in old.surprises}
    before |= {one.code: one for one in old.neighbours}
    coming: tuple[Surprise | Neighbour, ...] = (*new.surprises, *new.neighbours)
    for one in coming:
        was = before.pop(one.code, None)
        what = f"{new.code}.{one.code} {one.text}"
        if was is None:
            yield BookChange(what, "", f"{odds_words(one.odds)}, {one.hours:g} h")
            continue
        if was.odds != one.odds:
            yield BookChange(what, odds_words(was.odds), odds_words(one.odds))
        if was.hours != one.hours:
            yield BookChange(what, f"{was.hours:g} h", f"{one.hours:g} h")
        if (was.text, was.phase, was.when) != (one.text, one.phase, one.when):
            yield BookChange(what, was.text, one.text)
    for one in before.values():
        yield BookChange(f"{new.code}.{one.code} {one.text}", odds_words(one.odds), "")


def _phases(before: WorkBook, after: WorkBook) -> Iterator[BookChange]:
    for code, one in {**before.phases, **after.phases}.items():
        old, new = before.phases.get(code), after.phases.get(code)
        if old is None or new is None:
            hours = hours_words(one.hours)
            yield BookChange(f"phase {code} {one.name}", hours if new is None else "",
                             hours if old is None else "")  # fmt: skip
        elif old != new:
            yield from _phase(old, new)


def _phase(old: Phase, new: Phase) -> Iterator[BookChange]:
    if old.hours != new.hours:
        what = f"{new.code} {new.name}"
        yield BookChange(what, *_shorter(old.hours, new.hours))
    yield from _families(old, new)
    same = replace(new, hours=old.hours, steps=old.steps, hours_for=old.hours_for,
                   learned=old.learned)  # fmt: skip
    if same != old:
        yield BookChange(f"{new.code} {new.name}, what is said of it", "as it was", "other")
    yield from _steps({f"{new.code}.{one.code}": one for one in old.steps},
                      {f"{new.code}.{one.code}": one for one in new.steps})  # fmt: skip


def _families(old: Phase, new: Phase) -> Iterator[BookChange]:
    before = {one.family: one.hours for one in old.hours_for}
    for one in new.hours_for:
        was, what = before.pop(one.family, None), f"{new.code} {new.name} for {one.family}"
        if was is None:
            yield BookChange(what, "", hours_words(one.hours))
        elif was != one.hours:
            yield BookChange(what, *_shorter(was, one.hours))
    for family, hours in before.items():
        yield BookChange(f"{new.code} {new.name} for {family}", hours_words(hours), "")


def _shorter(old: Hours, new: Hours) -> tuple[str, str]:
    """The book's hours alone where low and high kept their share of them."""
    low = abs(old.low / old.middle - new.low / new.middle)
    high = abs(old.high / old.middle - new.high / new.middle)
    if old.middle != new.middle and max(low, high) < SAME_SHAPE:
        return f"{old.middle:g} h", f"{new.middle:g} h"
    return hours_words(old), hours_words(new)


def _steps(before: Mapping[str, Step], after: Mapping[str, Step]) -> Iterator[BookChange]:
    for where, one in {**before, **after}.items():
        old, new = before.get(where), after.get(where)
        if old is None or new is None:
            yield BookChange(
                where, one.text if new is None else "", one.text if old is None else ""
            )
        elif old != new:
            yield from _answers(where, old, new)
            if replace(new, answers=old.answers) != old:
                yield BookChange(where, old.text, new.text if new.text != old.text else "other")


def _answers(where: str, old: Step, new: Step) -> Iterator[BookChange]:
    before = {one.code: one for one in old.answers}
    for one in new.answers:
        was = before.pop(one.code, None)
        if was is None or was != one:
            said = "" if was is None else _said(was)
            yield BookChange(f"{where}.{one.code} {one.text}", said, _said(one))
    for one in before.values():
        yield BookChange(f"{where}.{one.code} {one.text}", _said(one), "")


def _said(answer: Answer) -> str:
    return odds_words(answer.odds)


def _rest(before: WorkBook, after: WorkBook) -> Iterator[BookChange]:
    for word, old, new in (
        ("tools", before.kits, after.kits),
        ("open conditions", before.conditions, after.conditions),
        ("hold points of every job", before.hold_points, after.hold_points),
        ("families", dict(before.families), dict(after.families)),
        ("what is quicker beside something else", before.reductions, after.reductions),
    ):
        if old != new:
            yield BookChange(word, "as it was", "other")
