"""Labour still to go: as forecast, else by the work book's range."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence

from store.file.learned.kept import forecasts
from store.file.route_now import PhaseRow
from store.sums import book_range, moving

LEAST = 1e-3
"""Share of the middle below which a low figure is not taken: a range needs one above 0."""


def scaled_book(phase: PhaseRow) -> tuple[float, float, float]:
    """Return a phase's range: the book's, moved to what its estimate is now."""
    if phase.book_h <= 0:
        return (phase.middle_h, phase.middle_h, phase.middle_h)
    ratio = phase.middle_h / phase.book_h
    return (phase.low_h * ratio, phase.middle_h, phase.high_h * ratio)


def left_of(phase: PhaseRow, labour_h: float) -> tuple[float, float, float]:
    """Return low, middle and high hours left of a labour phase, knowing what went into it."""
    if phase.state in ("finished", "skipped") or phase.kind != "labour":
        return (0.0, 0.0, 0.0)
    book = scaled_book(phase)
    if labour_h <= 0 or book[1] <= 0:
        return book
    low, middle, high = (
        book_range.remaining_quantile(book, labour_h, level) for level in (0.1, 0.5, 0.9)
    )
    return (max(low, middle * LEAST), middle, high)


def left_together(
    db: sqlite3.Connection,
    job: str,
    phases: Sequence[PhaseRow],
    labour: Mapping[str, float],
    cautious: float,
    *,
    unanswered: bool = True,
) -> tuple[float, float]:
    """Return middle and cautious hours of labour still to go in a job.

    The same as on its card: the forecast that is kept, moved by the hours worked since; where it
    was made for another route, or never, the work book's range.

    Args:
        labour: hours in each phase now.
        unanswered: with extra work that still waits for the customer's word, as a forecast counts
            it in; the book's range never does.
    """
    live = [one for one in phases if one.kind == "labour" and one.state in ("to come", "under way")]
    known = forecasts(db, [job]).get(job)
    if live and known is not None and all(one.phase in known.phases for one in live):
        passed = max(0.0, sum(labour.values()) - known.labour_h)
        found = moving.left(known.left.quantiles, passed)
        less = 0.0 if unanswered else _asked_h(db, job)
        middle, high = moving.quantile(found, 0.5), moving.quantile(found, cautious)
        return max(0.0, middle - less), max(0.0, high - less)
    ranges = [left_of(one, labour.get(one.phase, 0.0)) for one in live]
    ranges = [one for one in ranges if one[1] > 0]
    if not ranges:
        return 0.0, 0.0
    total = book_range.total(ranges)
    return total[1], book_range.quantile(total, cautious)


def _asked_h(db: sqlite3.Connection, job: str) -> float:
    """Hours of extra work that waits for the customer's word, in phases that are not over."""
    found = db.execute(
        "select coalesce(sum(hours), 0) from supplement join phase using (job, phase) "
        "where job = ? and supplement.state = 'asked' "
        "and phase.state in ('to come', 'under way')",
        [job],
    ).fetchone()
    return float(found[0])
