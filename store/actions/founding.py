"""A new shop: its name, calendar, lifts and owner, all of it or nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from store.actions.acting import Acting
from store.actions.books import record_book
from store.actions.people import record_pin
from store.actions.places import record_place
from store.actions.typed import in_words, refuse_unshowable
from store.edges.events.base import Event
from store.edges.events.people import PersonAdded
from store.edges.events.shop import CalendarSet, Demo, RateSet, ShopFounded, WeekSpan
from store.edges.workbook.model import load
from store.file.change import By, Change
from store.file.making import make_file
from store.file.pins import Secret
from store.file.shop import Shop
from store.rules.book import WorkBook
from store.sums.working_time import Calendar
from store.trouble import Refused


@dataclass(frozen=True, slots=True)
class LiftPlan:
    """A lift as it is typed at first: code, kind, rated capacity in kg."""

    code: str
    kind: str
    rated_kg: float


@dataclass(frozen=True, slots=True)
class ShopPlan:
    """What a first run asks for.

    Attributes:
        from_day: the calendar holds from here on; None is today.
        book: the first work book, in TOML; None where the shop begins without.
    """

    name: str
    zone: str
    currency: str
    shifts: Sequence[WeekSpan]
    breaks: Sequence[WeekSpan]
    lifts: Sequence[LiftPlan]
    owner_badge: str
    owner_name: str
    owner_pin: str = field(repr=False)
    rate_per_hour: float | None = None
    from_day: date | None = None
    book: str | None = None


def found_shop(
    path: Path, by: By, plan: ShopPlan, *, demo: Demo | None = None, secret: Secret | None = None,
    then: Callable[[Shop], object] | None = None,
) -> Shop:  # fmt: skip
    """Make a shop file and write its first events.

    Args:
        by: the owner's badge; the act's key becomes the shop's own id.
        secret: what is kept of the owner's PIN, where it was made already.
        then: writes what else the shop begins with, before its file takes its name.

    Raises:
        ShopExists, Unreadable: nothing was made.
        Refused: something of the plan cannot be; nothing was made.
        BadWorkBook: its first work book has faults; nothing was made.
    """
    _refuse_plan(plan)
    book = None if plan.book is None else load(plan.book)

    def begin(shop: Shop) -> None:
        with in_words():
            _write(shop, by, plan, demo, secret, book)
        if then is not None:
            then(shop)

    return make_file(path, begin)


def _refuse_plan(plan: ShopPlan) -> None:
    Calendar(plan.zone, [])
    if not plan.shifts:
        raise Refused('A shop has shifts: --shift "mon-fri 07:30-16:30".')
    if not (len(plan.currency) == 3 and plan.currency.isascii() and plan.currency.isupper()):
        raise Refused(f"{plan.currency} is no currency code: three capitals, as EUR.")
    if (
        not plan.owner_badge.isascii()
        or not plan.owner_badge.isalnum()
        or len(plan.owner_badge) > 12
    ):
        raise Refused(f"{plan.owner_badge} is no badge: 1 to 12 letters and digits.")


def _write(
    shop: Shop, by: By, plan: ShopPlan, demo: Demo | None, secret: Secret | None,
    book: WorkBook | None,
) -> None:  # fmt: skip
    with shop.changing(by) as change:
        _record(
            change,
            ShopFounded(
                shop=by.key, name=plan.name, zone=plan.zone, currency=plan.currency, demo=demo
            ),
        )
        first = plan.from_day or Calendar(plan.zone, []).day_of(by.now)
        day = first.isoformat()
        _record(
            change, CalendarSet(from_day=day, shifts=list(plan.shifts), breaks=list(plan.breaks))
        )
        owner = _owner(change, plan, day)
        doing = Acting(shop, change, by)
        record_pin(doing, owner, plan.owner_pin, secret)
        for lift in plan.lifts:
            record_place(doing, lift.code, "lift", lift.kind, lift.rated_kg)
        if plan.rate_per_hour is not None:
            _record(change, RateSet(from_day=day, per_hour=plan.rate_per_hour))
        if book is not None and plan.book is not None:
            record_book(doing, 1, plan.book, book)


def _record(change: Change, event: Event) -> None:
    """There is nobody yet in whose name an action could begin."""
    refuse_unshowable(event)
    change.record(event)


def _owner(change: Change, plan: ShopPlan, day: str) -> str:
    owner = change.new_id("p")
    _record(
        change,
        PersonAdded(
            person=owner, badge=plan.owner_badge.upper(), name=plan.owner_name, role="owner",
            experience="skilled", from_day=day,
        ),
    )  # fmt: skip
    return owner
