"""Figures of the owner's month in words: the same on the page, in the text and beside a picture."""

from __future__ import annotations

from store.views.month.said import percent as whole
from store.views.month.values import JobJudged, Ranged, Share
from store.views.month.way import Figure, Unit
from tui.papers.said import amount
from tui.words import MONTHS, tenth

NOTHING = "-"


def short(year: int, month: int) -> str:
    """`Sep 26`: a month below a chart."""
    return f"{MONTHS[month - 1]} {year % 100:02d}"


def told(value: float | None, unit: Unit, currency: str) -> str:
    """A figure with its unit; a dash where there is none."""
    if value is None:
        return NOTHING
    match unit:
        case "h":
            return f"{tenth(value)} h"
        case "money":
            return amount(value + 0.0, currency)
        case "share" | "x":
            return percent(value)
        case "days":
            return f"{tenth(value)} days"
        case "n":
            return f"{value:,.0f}"


def in_column(money: float | None) -> str:
    """Money under a head that names its currency."""
    return NOTHING if money is None else f"{money + 0.0:,.2f}"


def figure(found: Figure, currency: str) -> str:
    """A figure of the page."""
    return told(found.value, found.unit, currency)


def percent(share: float) -> str:
    """`79 %`"""
    return f"{whole(share)} %"


def off(bias: float) -> str:
    """How estimates stood to labour: `7 % short`, `4 % too high`, `as told`."""
    by = whole(bias)
    return "as told" if by == 0 else f"{abs(by)} % {'short' if by > 0 else 'too high'}"


def of(share: Share | None) -> str:
    """`12 of 14`"""
    return NOTHING if share is None else f"{share.held} of {share.count}"


def ranged(found: Ranged | None) -> str:
    """A share with its range, in per cent: `20 % (14 to 33)`."""
    if found is None:
        return NOTHING
    if found.low is None or found.high is None:
        return percent(found.value)
    return f"{percent(found.value)} ({whole(found.low)} to {whole(found.high)})"


def job_told(job: JobJudged) -> str:
    """A job beside what was told, in words: `2417 clutch: 8.4 h, told 7.1 h`."""
    estimate = NOTHING if job.estimate_h is None else f"{tenth(job.estimate_h)} h"
    return f"{job.job} {job.work}: {tenth(job.labour_h)} h, told {estimate}"
