"""A month's hired kits: what they came to on its days, idle days, late fees, deposits."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import TypedDict

from store.file.month.hires import HiredKit
from store.views.month.down import most_first, summed
from store.views.month.look import Look
from store.views.month.way import Figure, Way

HIRE = (
    "Kits hired: what the supplier invoiced, else days, carriage and late fee by the terms agreed; "
    "each day it was here carries the same."
)
IDLE = (
    "Of the hire, the shop days on which a kit was here and nobody worked with it nor was it fixed "
    "on an open unit."
)
IDLE_DAYS = "Shop days on which a hired kit was here and not in use."
LATE = "Of the hire, the fees for days begun after the day agreed."
DEPOSITS = "Deposits of kits received by the month's end that were not back by then."

Worth = Callable[[HiredKit, date, date], "float | None"]


class HireMoney(TypedDict):
    """The figures of `Money` that hires give."""

    hire: Figure
    hire_idle: Figure
    idle_days: Figure
    late_fees: Figure
    deposits: Figure


def hires_of(look: Look, hires: Sequence[HiredKit]) -> HireMoney:
    """Return what the hires of a month came to."""

    def idle_days(one: HiredKit, first: date, last: date) -> float:
        days = one.days.idle(first, last, lambda day: bool(look.calendar.shifts_of(day)))
        return float(len(days))

    def idle_money(one: HiredKit, first: date, last: date) -> float | None:
        a_day = one.days.idle_a_day
        return None if a_day is None else a_day * idle_days(one, first, last)

    return HireMoney(
        hire=_known(look, hires, summed("money", HIRE, _each(look, hires, spent))),
        hire_idle=_known(look, hires, summed("money", IDLE, _each(look, hires, idle_money))),
        idle_days=summed("days", IDLE_DAYS, _each(look, hires, idle_days)),
        late_fees=summed("money", LATE, _each(look, hires, _late)),
        deposits=summed("money", DEPOSITS, _deposits(look, hires)),
    )


def spent(one: HiredKit, first: date, last: date) -> float | None:
    """Return what of a hire falls on some days, late fee included; None where nobody knows."""
    money = one.days.spent(first, last)
    return None if money is None else money + one.days.late_on(first, last)


def hired_so_far(look: Look, one: HiredKit) -> Way:
    """Return what a hire came to by the month's end; one of unknown terms adds nothing."""
    return _way(one, spent(one, one.days.came, look.span.last))


def _late(one: HiredKit, first: date, last: date) -> float | None:
    return one.days.late_on(first, last)


def _each(look: Look, hires: Sequence[HiredKit], worth: Worth) -> tuple[Way, ...]:
    """The hires that were here in the month; one of unknown terms says so and adds nothing."""
    first, last = look.span.first, look.span.last
    here = (one for one in hires if _here(look, one))
    ways = (_way(one, worth(one, first, last)) for one in here)
    return most_first(way for way in ways if way.value or "not known" in way.says)


def _way(one: HiredKit, money: float | None) -> Way:
    says = f"{one.name}, {one.supplier}"
    if money is None:
        says += ": its price is not known"
    return Way(says, money or 0.0, one.job, at=one.received_at, events=one.events)


def _known(look: Look, hires: Sequence[HiredKit], figure: Figure) -> Figure:
    """Say how many are not in it; of none but those nobody knows the sum."""
    here = [one.days.whole for one in hires if _here(look, one)]
    unknown = here.count(None)
    if not unknown:
        return figure
    explained = f"{figure.explained} {unknown} of unknown price not counted."
    value = None if unknown == len(here) else figure.value
    return replace(figure, value=value, explained=explained)


def _here(look: Look, one: HiredKit) -> bool:
    """Whether some day of it lies in the month."""
    return one.days.came <= look.span.last and one.days.last >= look.span.first


def _deposits(look: Look, hires: Sequence[HiredKit]) -> Iterator[Way]:
    for one in hires:
        back = one.deposit_at is not None and one.deposit_at < look.span.until
        if one.deposit and not back:
            yield _way(one, one.deposit)
