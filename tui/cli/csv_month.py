"""The owner's month as tables: one file each, names that stay, numbers that lead to the ledger.

Hours, money and shares are written with all the digits they have, instants with offset in the
shop's zone, days as ISO 8601 has them, yes and no as 1 and 0, several as 1+2, nothing as an empty
cell. The first column is always the month.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TypeAlias, cast
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.edges.tables.cells import exact
from store.file.csv_folder import csv_folder
from store.views.month.values import Month
from tui.cli import csv_month_rows as rows
from tui.cli.csv_month_rows import Line

Table: TypeAlias = "tuple[tuple[str, ...], Callable[[Month], Iterator[Line]]]"
"""The columns after the month, and what fills them."""

RANGES = (
    "bias", "bias_low", "bias_high", "miss", "miss_low", "miss_high", "mean_miss", "within",
    "within_low", "within_high", "cautious_held", "cautious_low", "cautious_high",
    "inside", "inside_low", "inside_high", "pinball_hours", "crps_hours",
)  # fmt: skip
TABLES: Mapping[str, Table] = {
    "accuracy.csv": (
        ("by", "key", "name", "jobs", "left_out", "labour_hours", "estimate_hours", "lost_hours",
         *RANGES, "enough", "says"), rows.accuracy,
    ),
    "book.csv": (
        ("operation", "phase", "name", "family", "book_hours", "should_hours", "low_hours",
         "high_hours", "finished", "sure", "year_hours", "command", "jobs", "says"), rows.book,
    ),
    "changes.csv": (("job", "seq", "at", "cause", "added_hours", "middle_hours", "cautious_hours",
                     "says"), rows.changes),
    "chart_levels.csv": (("what", "code", "since", "until", "middle", "low", "high"), rows.levels),
    "chart_points.csv": (("what", "code", "at", "label", "value", "count", "outside"),
                         rows.points),
    "clocks.csv": (("seq", "job", "phase", "badge", "part", "since", "until", "hours"),
                   rows.clocks),
    "comebacks.csv": (("job", "of", "fault", "pays", "labour_hours", "money"), rows.comebacks),
    "costs.csv": (("of_month", "wages", "overheads", "attended_hours", "per_hour", "taken_from",
                   "seq"), rows.costs),
    "earned.csv": (("operation", "name", "jobs", "labour_hours", "fetched_per_hour",
                    "cost_per_hour", "lift_days", "per_lift_day", "says"), rows.earned),
    "figures.csv": (("figure", "value", "unit", "explained"), rows.figures),
    "jobs.csv": (
        ("job", "operations", "work", "family", "grade", "small", "lead", "basis",
         "closed_at", "labour_hours", "first_hours", "estimate_hours", "cautious_hours",
         "extra_hours", "route_hours", "other_hours", "promised", "first_promised", "chance",
         "ready_at", "not_teaching"), rows.jobs,
    ),
    "left_running.csv": (("seq", "badge", "job", "phase", "since", "stopped_at", "says"),
                         rows.left_running),
    "lifts.csv": (("lift", "open_hours", "worked_hours", "held_hours", "dead_hours",
                   "empty_hours", "out_hours", "earned", "days", "per_day"), rows.lifts),
    "made_of.csv": (("figure", "line", "below", "says", "value", "job", "phase", "badge", "at",
                     "events"), rows.made_of),
    "not_charged.csv": (("cause", "basis", "hours", "money"), rows.not_charged),
    "odds.csv": (("kind", "phase", "name", "text", "answer", "month_seen", "month_of",
                  "ever_seen", "ever_of", "book", "says"), rows.odds),
    "people.csv": (("badge", "name", "attended_hours", "on_jobs_hours", "indirect_hours",
                    "estimated_hours"), rows.people),
    "phases.csv": (
        ("job", "phase", "code", "name", "class", "operation", "family", "small", "badge",
         "state", "finished_at", "cut_off", "not_teaching", "labour_hours", "estimate_hours",
         "cautious_hours", "book_hours"), rows.phases,
    ),
    "prices.csv": (("hours", "rate", "jobs", "sold", "more", "kept", "below_cost", "says"),
                   rows.prices),
    "signals.csv": (("what", "code", "name", "since", "before", "after", "count_before",
                     "count_after", "kind", "early", "late", "chance", "says"), rows.signals),
}  # fmt: skip


def header(name: str) -> tuple[str, ...]:
    """The columns of a table."""
    return ("month", *TABLES[name][0])


def cells(found: Month, name: str) -> Iterator[list[str]]:
    """The lines of a table as they are written."""
    zone = ZoneInfo(found.zone)
    for line in TABLES[name][1](found):
        yield [found.span.month, *(cell(one, zone) for one in line)]


def cell(value: object, zone: ZoneInfo) -> str:
    """One value as it is written."""
    match value:
        case None:
            return ""
        case str():
            return value
        case bool():
            return "1" if value else "0"
        case int():
            return str(value)
        case float():
            return exact(value)
        case datetime():
            return for_zone(value, zone)
        case date():
            return value.isoformat()
        case _:
            return "+".join(cell(one, zone) for one in cast("Sequence[object]", value))


def write_tables(found: Month, folder: Path) -> int:
    """Write every table into a folder; return how many lines.

    Raises:
        NotWritable: it is no folder, or holds a file of such a name that is no such table; nothing
            was written.
    """
    wanted = {name: header(name) for name in TABLES}
    with csv_folder(folder, wanted, found.span.month) as files:
        return sum(file.rows(cells(found, name)) for name, file in files.items())
