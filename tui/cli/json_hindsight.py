"""The JSON document of `hindsight` of the shop's own past. Per cents are 0 to 100."""

from __future__ import annotations

from typing import TYPE_CHECKING

from store.edges.instants import for_zone
from store.views.hindsight import PROMISE, Hindsight, Judged
from tui.cli.answer import Document

if TYPE_CHECKING:
    from store.learn.judged import DatesJudged, HoursJudged, Share

NOTHING: Document = {
    "from": None, "until": None, "jobs": 0, "phases": 0, "only_teach": 0, "cautious": None,
    "promise": PROMISE, "all": None, "last_half": None, "by_operation": [],
}  # fmt: skip
"""Of a shop whose past holds nothing yet."""


def document(found: Hindsight) -> Document:
    """What the replay came to as its document."""
    return {
        "from": for_zone(found.since, found.zone),
        "until": for_zone(found.until, found.zone),
        "jobs": found.jobs,
        "phases": found.phases,
        "only_teach": found.first,
        "cautious": found.cautious,
        "promise": PROMISE,
        "all": _judged(found.every),
        "last_half": _judged(found.last_half),
        "by_operation": [
            {
                "operation": one.operation, "name": one.name, "jobs": _hours(one.jobs),
                "phases": _hours(one.phases),
            }
            for one in found.operations
        ],
    }  # fmt: skip


def _judged(judged: Judged) -> Document:
    hours, dates = judged.hours, judged.dates
    return {
        "jobs": judged.jobs,
        "hours": {
            "jobs": _hours(hours.jobs), "phases": _hours(hours.phases),
            "phases_begun": _hours(hours.begun),
        },
        "dates": None if dates is None else {
            "agreed": _dates(dates.agreed), "begun": _dates(dates.begun),
        },
    }  # fmt: skip


def _hours(judged: HoursJudged) -> Document:
    return {
        "jobs": judged.jobs,
        "count": judged.count,
        "book_enough": _share(judged.book),
        "middle_enough": _share(judged.middle),
        "cautious_enough": _share(judged.cautious),
        "range_held": _share(judged.within),
        "book_miss_percent": _percent(judged.book_miss),
        "miss_percent": _percent(judged.miss),
        "nearer_percent": None if judged.nearer is None else _percent(judged.nearer),
    }


def _dates(judged: DatesJudged) -> Document:
    return {
        "jobs": judged.jobs,
        "count": judged.count,
        "range_held": _share(judged.within),
        "promise_kept": _share(judged.promise),
        "plain_kept": _share(judged.plain),
        "plain_miss_percent": _percent(judged.plain_miss),
        "miss_percent": _percent(judged.miss),
        "nearer_percent": None if judged.nearer is None else _percent(judged.nearer),
    }


def _share(share: Share) -> Document:
    return {
        "percent": _percent(share.share), "low": _percent(share.low), "high": _percent(share.high),
    }  # fmt: skip


def _percent(share: float) -> float:
    return round(100 * share, 2) + 0.0
