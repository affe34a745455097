"""What other hours or another rate would have made of work that is done, and what an hour costs.

Hours as h, money in the shop's currency, None where no rate was set.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from store.sums.month.sold import Paid, sold


@dataclass(frozen=True, slots=True)
class Asked:
    """A job that is done: what was asked of its customer at first, and how it is paid.

    Attributes:
        hours: middle hours as first agreed for the whole job.
        rate: money an hour on the day of that word.
    """

    paid: Paid
    hours: float
    rate: float | None


def otherwise(asked: Asked, hours: float | None = None, rate: float | None = None) -> float | None:
    """Return what a job's labour would have fetched at other hours or another rate.

    At a fixed price what was asked is what is paid: agreed + (hours - hours asked) x rate. On time
    what was worked is paid, whatever was asked. A ceiling moves with the hours asked and is paid
    up to. Extra work that was agreed stays as it was. Another rate holds for all hours.

    Asked 5 h at 100, 8 h worked: other hours of 7 h keep 200 more at a fixed price, nothing on
    time, and with a ceiling of 600 the 200 that were over it.

    Args:
        hours: asked instead, above 0; None: the same.
        rate: an hour instead, above 0; None: the same.
    """
    if hours is None and rate is None:
        return sold(asked.paid).money
    return sold(_moved(asked, asked.hours if hours is None else hours, rate)).money


def _moved(asked: Asked, hours: float, rate: float | None) -> Paid:
    paid, before = asked.paid, asked.rate
    if before is None:
        return paid
    more = hours * (before if rate is None else rate) - asked.hours * before
    ceiling = None if paid.ceiling is None else max(0.0, paid.ceiling + more)
    agreed_h = paid.agreed_h + hours - asked.hours
    if rate is None:
        agreed = None if paid.agreed is None else paid.agreed + more
        return replace(paid, agreed_h=agreed_h, agreed=agreed, ceiling=ceiling)
    return replace(
        paid,
        agreed_h=agreed_h,
        agreed=agreed_h * rate,
        ceiling=ceiling,
        worked=paid.worked_h * rate,
    )


def per_hour(wages: float, overheads: float, attended_h: float) -> float | None:
    """Return what an hour attended cost: (wages + overheads) / hours attended.

    9,000 in wages and 4,000 in overheads over 325 h are 40 an hour.

    Args:
        attended_h: 0 or more; of none an hour cost nothing that can be said.
    """
    return (wages + overheads) / attended_h if attended_h > 0 else None


def divided(money: float | None, by: float) -> float | None:
    """Return money by hours or days; None where one is not known, or there are none."""
    return None if money is None or by <= 0 else money / by
