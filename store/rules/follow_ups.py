"""What usually follows a job: the shop's defaults, chosen by what the job was.

All of it is common practice, no source; the work book adds what one operation asks for.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from store.rules.book import FollowUp
from store.sums.follow_up_days import day_after_driving
from store.sums.months import months_later

CountedFrom = Literal["hand-over", "work", "receipt", "entry"]
"""What a follow-up is counted from; `entry`: the moment somebody set it."""
SHOP, FOREMAN, OWNER, PARTS = "shop", "foreman", "owner", "parts person"
WHEELS = FollowUp("Wheels tightened again, by torque wrench, after 50 to 100 km",
                  "customer or shop", distance_km=100)  # fmt: skip
CALL = FollowUp("Call: is all well?", FOREMAN, days=5)
RE_CHECK = FollowUp("Re-check: leaks, levels, noise; half an hour, free", SHOP,
                    days=28, distance_km=1000)  # fmt: skip
SURCHARGE = FollowUp("Old unit sent back: its surcharge returned?", PARTS, days=30)
ADVICE_DAYS = 91
"""Advice that was refused is asked about again after three months, then after six and twelve."""
BEFORE_THE_END = timedelta(days=28)
"""So long before a warranty ends the owner is told."""
WARRANTY_MONTHS, WARRANTY_KM, WARRANTY_MILES = 12, 20_000.0, 12_000.0
"""The shop's own warranty, whichever comes first, in the unit of the odometer."""
SENT_IN = "sent in for their surcharge"
"""What became of old parts, where money is to come back for them."""


@dataclass(frozen=True, slots=True)
class Ended:
    """What a job was, as far as what follows it goes.

    Attributes:
        wheels_off: its wheels were tightened under a signature.
        of_the_book: follow-ups of its operations that apply to this vehicle.
        declined: advice that the customer did not take.
    """

    small: bool
    wheels_off: bool
    of_the_book: tuple[FollowUp, ...] = ()
    declined: tuple[str, ...] = ()
    old_parts: str | None = None
    warranty_months: int | None = None


@dataclass(frozen=True, slots=True)
class ToDo:
    """One thing to be done in the months after.

    Attributes:
        day: at the latest; None where only the distance counts.
        distance_km: driven since, at the latest.
        counted_from: `hand-over`, `receipt` of what was sent, or the `entry` itself.
    """

    what: str
    who: str
    day: date | None = None
    distance_km: float | None = None
    counted_from: CountedFrom = "hand-over"


def usual(ended: Ended, since: date) -> tuple[ToDo, ...]:
    """Return what usually follows a job, counted from a local day."""
    found = [to_do(WHEELS, since)] if ended.wheels_off else []
    if not ended.small:
        found.append(to_do(CALL, since))
        if not any(_is_re_check(one) for one in ended.of_the_book):
            found.append(to_do(RE_CHECK, since))
    found += [to_do(one, since) for one in ended.of_the_book]
    found += [_ask_again(text, since) for text in ended.declined]
    if ended.old_parts is not None and "surcharge" in ended.old_parts:
        found.append(to_do(SURCHARGE, since, "receipt"))
    if ended.warranty_months:
        found.append(_warranty(ended.warranty_months, since))
    return tuple(found)


def to_do(one: FollowUp, since: date, counted_from: CountedFrom = "hand-over") -> ToDo:
    """Return a follow-up of the book or the shop as it stands from a day on."""
    day = None if one.days is None else since + timedelta(days=one.days)
    return ToDo(one.what, one.who, day, one.distance_km, counted_from)


def without_odometer(one: ToDo, since: date) -> ToDo:
    """Return the same by a day alone, where no odometer was read: the distance stays in words."""
    if one.distance_km is None:
        return one
    driven = day_after_driving(one.distance_km, since)
    day = driven if one.day is None else min(one.day, driven)
    far = "" if " km" in one.what else f" (within {one.distance_km:,.0f} km)"
    return ToDo(one.what + far, one.who, day, None, one.counted_from)


def _is_re_check(one: FollowUp) -> bool:
    """The operation has a look of its own within weeks or kilometres."""
    return one.days is not None and one.distance_km is not None


def _ask_again(text: str, since: date) -> ToDo:
    day = since + timedelta(days=ADVICE_DAYS)
    return ToDo(f"Ask again: {text} (advised, not done; then after 6, 12 months)", FOREMAN, day)


def _warranty(months: int, since: date) -> ToDo:
    end = months_later(since, months)
    return ToDo(f"Warranty ends on {end}: look it over before", OWNER, end - BEFORE_THE_END)
