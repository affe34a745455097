"""How near estimates came, as the document of a month tells it."""

from __future__ import annotations

from store.sums.scoring import Scores
from store.views.month.values import Accuracy, AccuracyLine, Ranged, Share
from tui.cli.answer import Document, JsonValue, hours


def percent(found: Ranged | None) -> float | None:
    """Return a ratio as per cent."""
    return None if found is None else round(100 * found.value, 4) + 0.0


def share(found: Share | None) -> float | None:
    """Return a share as per cent."""
    return None if found is None else round(100 * found.share, 4)


def held(found: Share | None) -> JsonValue:
    """Return a count with the range of its share, 19 in 20."""
    if found is None:
        return None
    return {"held": found.held, "of": found.count, "low": found.low, "high": found.high}


def range_of(found: Ranged | None) -> JsonValue:
    """Return a figure with its range, 19 in 20."""
    if found is None:
        return None
    return {"value": found.value, "low": found.low, "high": found.high}


def accuracy(found: Accuracy) -> Document:
    """Shares, not per cent; ranges are 19 in 20."""
    return {
        "jobs": found.jobs, "left_out": found.left_out, "hours": hours(found.labour_h),
        "estimate_hours": hours(found.estimate_h), "hours_lost": hours(found.lost_h),
        "bias": range_of(found.bias), "miss": range_of(found.miss),
        "mean_miss": range_of(found.mean_miss), "within": held(found.within),
        "cautious": held(found.cautious), "inside": held(found.inside), **scored(found.scores),
        "enough": found.enough,
    }  # fmt: skip


def scored(found: Scores | None) -> Document:
    """Return what scores the hours told, in hours, and of how many jobs: the smaller the better."""
    return {
        "scored_jobs": 0 if found is None else found.jobs,
        "pinball_hours": None if found is None else hours(found.pinball_h),
        "crps_hours": None if found is None else hours(found.crps_h),
        "interval_score_hours": None if found is None else hours(found.interval_h),
    }  # fmt: skip


def line(one: AccuracyLine) -> Document:
    """Return one line of the accuracy by whatever."""
    return {"key": one.key, "name": one.name, "says": one.says, "of": list(one.jobs),
            **accuracy(one.accuracy)}  # fmt: skip


def operation(one: AccuracyLine) -> Document:
    """Return the line of an operation."""
    return {
        "operation": one.key, "jobs": one.accuracy.jobs,
        "bias_percent": percent(one.accuracy.bias),
        "hours_lost": hours(one.accuracy.lost_h), "name": one.name, "says": one.says,
        "of": list(one.jobs), "judged": accuracy(one.accuracy),
    }  # fmt: skip
