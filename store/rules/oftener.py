"""What is no work but yes or no: a supplier's delivery late, a promise missed, a job held for a
reason. More often than is usual, or more often since a date."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from store.learn.signals.found import ALPHA, FEWEST, OF_ROWS, OF_SUPPLIERS, Found, What
from store.sums.turned import at_least, more_often, turned

USUAL_LATE = 1 / 8
"""Of deliveries: what a supplier is measured against, and the shop's other suppliers beside it.
Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Happened:
    """One delivery, promise or job, at an instant in POSIX seconds: late, missed, held, or not."""

    at: float
    yes: bool


Rows = Mapping[str, Sequence[Happened]]
"""By code, in order of time."""


def suppliers(rows: Rows) -> list[Found]:
    """Return who comes late more often since a date; else who comes late too often all along."""
    share = 2.0 * len(rows) / OF_SUPPLIERS
    found: list[Found] = []
    for code, row in rows.items():
        others = [one.yes for name, other in rows.items() if name != code for one in other]
        told = _turn("supplier", code, row, share) or _often(code, row, others, share)
        found += [told] if told else []
    return found


def kept_and_held(promises: Sequence[Happened], held: Rows) -> list[Found]:
    """Return whether promises are missed, or jobs held for a reason, more or less often since."""
    share = (1.0 + len(held)) / OF_ROWS
    told = [_turn("promise", "", promises, share)]
    told += [_turn("held", code, row, share) for code, row in held.items()]
    return [one for one in told if one is not None]


def _turn(what: What, code: str, row: Sequence[Happened], share: float) -> Found | None:
    turn = turned([one.yes for one in row], FEWEST, ALPHA / share)
    if turn is None or turn.chance * share > ALPHA:
        return None
    return Found(
        "change", what, code, "", row[turn.place].at, row[turn.early].at, row[turn.late].at,
        turn.before, turn.after, 0.0, turn.place, len(row) - turn.place, turn.chance * share,
    )  # fmt: skip


def _often(
    code: str, row: Sequence[Happened], others: Sequence[bool], share: float
) -> Found | None:
    """Both must be surely so: more often than is usual, and than the others, where there are."""
    late = sum(one.yes for one in row)
    if len(row) < FEWEST:
        return None
    chance = at_least(late, len(row), USUAL_LATE)
    beside = sum(others) / len(others) if others else USUAL_LATE
    if len(others) >= FEWEST:
        chance = max(chance, more_often(late, len(row), sum(others), len(others)))
    if chance * share > ALPHA:
        return None
    first, last = row[0].at, row[-1].at
    return Found(
        "level", "supplier", code, "", first, first, last, beside, late / len(row), 0.0, 0,
        len(row), chance * share,
    )  # fmt: skip
