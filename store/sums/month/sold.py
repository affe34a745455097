"""What of a job's labour a customer pays, and why the rest is lost.

Hours as h, money in the shop's currency, None where no rate was set.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

EXTRA = "extra work not agreed"
ROUTE = "a longer route at a fixed price"
OVERRUN = "overrun of a fixed price"
CEILING = "over a ceiling"
OURS = "comeback, ours"
SHOP = "comeback, paid by the shop"
DECLINED = "declined after work was done"
NOTHING = "nothing agreed"


@dataclass(frozen=True, slots=True)
class Paid:
    """A job whose work is over, as its price is reckoned.

    Attributes:
        basis: fixed price, ceiling or time; None where nothing was agreed.
        worked_h, worked: labour of lead and helpers, and its money at the rates of its days.
        agreed_h, agreed: at a fixed price, as agreed for the whole with the extra work that was
            agreed since, at the rates of those days.
        extra_h: of surprises found that nobody agreed to.
        route_h: that a decision added.
        ceiling: money up to which the customer pays; `beside` what of it is no labour.
        pays: who pays, of a comeback; `ours` whether it was the shop's fault.
        declined: it came to nothing.
    """

    basis: str | None
    worked_h: float
    worked: float | None
    agreed_h: float = 0.0
    agreed: float | None = None
    extra_h: float = 0.0
    route_h: float = 0.0
    ceiling: float | None = None
    beside: float = 0.0
    pays: str | None = None
    ours: bool = False
    declined: bool = False


@dataclass(frozen=True, slots=True)
class Lost:
    """Labour worked that nobody pays."""

    cause: str
    hours: float
    money: float | None


@dataclass(frozen=True, slots=True)
class Sold:
    """What customers pay of a job's labour, and what was lost.

    At a fixed price `hours` may be more than was worked: what was quick stays the shop's.
    """

    hours: float
    money: float | None
    lost: tuple[Lost, ...] = ()


def sold(job: Paid) -> Sold:
    """Return what is paid of a job's labour.

    A fixed price pays the hours agreed, whatever was worked; a ceiling pays what was worked up to
    it; time pays what was worked. Of a comeback that the shop pays nothing is paid.
    """
    if job.pays == "shop":
        return _all_lost(job, OURS if job.ours else SHOP)
    if job.basis is None:
        return _all_lost(job, DECLINED if job.declined else NOTHING)
    if job.basis == "fixed price":
        return Sold(job.agreed_h, job.agreed, tuple(_overrun(job)))
    over = _over(job)
    if not over:
        return Sold(job.worked_h, job.worked)
    hours = over * job.worked_h / job.worked if job.worked else 0.0
    left = None if job.worked is None else job.worked - over
    return Sold(job.worked_h - hours, left, (Lost(CEILING, hours, over),))


def _all_lost(job: Paid, cause: str) -> Sold:
    none = None if job.worked is None else 0.0
    lost = (Lost(cause, job.worked_h, job.worked),) if job.worked_h > 0 else ()
    return Sold(0.0, none, lost)


def _overrun(job: Paid) -> Iterator[Lost]:
    """Extra work that was not agreed first, then a longer route; what is left ran over."""
    left = job.worked_h - job.agreed_h
    for cause, most in ((EXTRA, job.extra_h), (ROUTE, job.route_h), (OVERRUN, left)):
        hours = min(left, most)
        if hours > 0:
            money = None if job.worked is None else job.worked * hours / job.worked_h
            yield Lost(cause, hours, money)
            left -= hours


def _over(job: Paid) -> float:
    """Money of labour beyond a ceiling; 0 where there is none, or no money is known."""
    if job.basis != "ceiling" or job.ceiling is None or job.worked is None:
        return 0.0
    return min(job.worked, max(0.0, job.worked + job.beside - job.ceiling))
