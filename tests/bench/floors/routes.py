"""Operations of an invented shop: phases nest, last off first on; accesses are shared."""

from __future__ import annotations

from dataclasses import dataclass, replace

from store.learn.records import PhaseClass
from tests.bench.floors.draws import Dice, Range
from tests.bench.floors.open_time import HOUR
from tests.bench.floors.shop import Operation, Step


@dataclass(frozen=True, slots=True)
class Likes:
    """What the routes of a kind of shop are like: ranges from which each shop draws.

    Attributes:
        operations: how many.
        accesses: how many phases off, and as many on, a route has.
        works: phases between them.
        book_h: hours of a phase in the middle.
        before, inside_h, orders: chance before a phase; mishaps an hour; chance of an order.
        skilled: share of phases for which a skill is needed; `crew`: where two work at once.
        stands, outwork: chance a route has one.
    """

    operations: Range = (5, 9)
    accesses: Range = (1, 3)
    works: Range = (2, 5)
    book_h: Range = (0.9, 1.6)
    before: Range = (0.03, 0.1)
    inside_h: Range = (0.012, 0.04)
    orders: Range = (0.005, 0.035)
    reading: Range = (0.005, 0.03)
    skilled: Range = (0.05, 0.25)
    skills: int = 1
    crew: Range = (0.0, 0.1)
    stands: Range = (0.15, 0.5)
    outwork: Range = (0.0, 0.2)


@dataclass(frozen=True, slots=True)
class Habits:
    """What one shop drew from `Likes`."""

    dice: Dice
    likes: Likes
    book_h: float
    before: float
    inside: float
    orders: float
    reading: float
    skilled: float
    crew: float


def operations(dice: Dice, likes: Likes) -> tuple[Operation, ...]:
    """Draw the operations of a shop."""
    habits = Habits(
        dice, likes, dice.of(likes.book_h), dice.of(likes.before),
        dice.of(likes.inside_h) / HOUR, dice.of(likes.orders), dice.of(likes.reading),
        dice.of(likes.skilled), dice.of(likes.crew),
    )  # fmt: skip
    shared = [
        (_step(habits, f"A{i}-off", "strip"), _step(habits, f"A{i}-on", "refit"))
        for i in range(1, 7)
    ]
    stands, outwork = dice.of(likes.stands), dice.of(likes.outwork)
    return tuple(
        _operation(habits, f"OP{i}", shared, stands, outwork)
        for i in range(1, 1 + dice.whole(likes.operations))
    )


def _operation(
    habits: Habits, code: str, shared: list[tuple[Step, Step]], stands: float, outwork: float
) -> Operation:
    dice, trouble = habits.dice, habits.dice.about(0.35)
    nested = dice.rng.sample(shared, dice.whole(habits.likes.accesses))
    works = [
        _step(habits, f"{code}-{i}", "work") for i in range(1, 1 + dice.whole(habits.likes.works))
    ]
    middle = works.copy()
    if dice.rng.random() < outwork:
        middle.insert(1, _idle(f"{code}-out", "outwork", 0.0))
    if dice.rng.random() < stands:
        middle.append(_idle(f"{code}-cure", "standing", dice.rng.choice((1, 2, 4, 12, 20))))
    opened = [replace(off, orders=min(0.6, 3 * off.orders)) for off, _ in nested[-1:]]
    route = [_plain(habits, "G0", "strip"), *(off for off, _ in nested[:-1]), *opened, *middle]
    route += [on for _, on in reversed(nested)] + [_plain(habits, "ZF", "refit")]
    route.append(_plain(habits, "ZR", "refit"))
    steps = tuple(
        replace(one, before=one.before * trouble, inside=one.inside * trouble) for one in route
    )
    return Operation(code, steps, dice.about(0.6))


def _step(habits: Habits, code: str, phase_class: PhaseClass) -> Step:
    dice = habits.dice
    book_h = min(6.0, max(0.3, habits.book_h * dice.about(0.55)))
    trouble = dice.about(0.6)
    return Step(
        code, "labour", phase_class, round(book_h, 1),
        book_h * HOUR * dice.about(0.25), dice.of((8, 25)),
        dice.whole((1, habits.likes.skills)) if dice.rng.random() < habits.skilled else 0,
        2 if dice.rng.random() < habits.crew else 1,
        habits.before * trouble, habits.inside * trouble * (1.3 if phase_class == "strip" else 1),
        habits.reading * trouble * (phase_class != "strip"), habits.orders * trouble,
    )  # fmt: skip


def _plain(habits: Habits, code: str, phase_class: PhaseClass) -> Step:
    """Reception, fill and road test: short, anybody's, seldom held."""
    one = _step(habits, code, phase_class)
    return replace(
        one, book_h=0.6, content_s=0.6 * HOUR * habits.dice.about(0.2), skill=0, crew=1,
        before=one.before / 3,
    )  # fmt: skip


def _idle(code: str, kind: str, hours: float) -> Step:
    if kind == "standing":
        return Step(code, "standing", "work", 0.0, 0.0, 1.0, 0, 0, 0.0, 0.0, 0.0, 0.0, hours)
    return Step(code, "outwork", "work", 0.0, 0.0, 1.0, 0, 0, 0.0, 0.0, 0.0, 0.0)
