"""The lines of our CSV files, as contract and README describe them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from decimal import Decimal
from itertools import accumulate
from math import isfinite
from typing import Protocol
from zoneinfo import ZoneInfo

from store.learn.dates.spans import Span
from store.learn.records import People, Record

Cells = list[str]
LEVELS = tuple(f"q{percent:02d}" for percent in range(5, 100, 5))
"""Names of the 19 quantiles."""
FINE_H = 0.001
"""Hours from here on are written with six decimals, smaller ones with all they have."""

HISTORY = (
    "job", "template", "variant", "phase", "seq", "technician", "started_at", "closed_at",
    "book_hours", "actual_hours", "grade", "class", "people", "lumped_with", "cut_off", "serves",
    "surprise_hours",
)  # fmt: skip
PEOPLE = ("badge", "from", "until", "experience")
SPANS = ("job", "seq", "kind", "reason", "badge", "started_at", "ended_at", "expected_end")
OPEN = ("opened_at", "closed_at")
SCORED = (
    "job", "template", "variant", "phase", "seq", "moment", "as_of", "book_hours", "actual_hours",
    "mean", *LEVELS,
)  # fmt: skip
DATES = ("job", "seq", "moment", "as_of", "open_hours", "mean", *LEVELS, "naive")


class HoursForecast(Protocol):
    """A line of scored.csv: hours and POSIX seconds."""

    @property
    def job(self) -> str: ...
    @property
    def template(self) -> str: ...
    @property
    def variant(self) -> str: ...
    @property
    def phase(self) -> str: ...
    @property
    def seq(self) -> int: ...
    @property
    def moment(self) -> str: ...
    @property
    def as_of(self) -> float: ...
    @property
    def book_hours(self) -> float: ...
    @property
    def actual_hours(self) -> float: ...
    @property
    def mean(self) -> float: ...
    @property
    def quantiles(self) -> Sequence[float]: ...


class DateForecast(Protocol):
    """A line of dates.csv: open hours and POSIX seconds."""

    @property
    def job(self) -> str: ...
    @property
    def seq(self) -> int: ...
    @property
    def moment(self) -> str: ...
    @property
    def as_of(self) -> float: ...
    @property
    def open_hours(self) -> float: ...
    @property
    def mean(self) -> float: ...
    @property
    def quantiles(self) -> Sequence[float]: ...
    @property
    def naive(self) -> float: ...


def of_hours(row: HoursForecast, zone: ZoneInfo | None = None) -> Cells:
    """A line of scored.csv.

    Raises:
        ValueError: a forecast that is none: not 19 finite quantiles above 0.
    """
    return [
        row.job, row.template, row.variant, row.phase, str(row.seq), row.moment,
        instant(row.as_of, zone), exact(row.book_hours), exact(row.actual_hours),
        *_forecast(row.mean, row.quantiles, above=0.0),
    ]  # fmt: skip


def of_dates(row: DateForecast, zone: ZoneInfo | None = None) -> Cells:
    """A line of dates.csv.

    Raises:
        ValueError: a forecast that is none: not 19 finite quantiles.
    """
    return [
        row.job, str(row.seq), row.moment, instant(row.as_of, zone), rounded(row.open_hours),
        *_forecast(row.mean, row.quantiles), rounded(row.naive),
    ]  # fmt: skip


def of_record(record: Record, zone: ZoneInfo) -> Cells:
    """A line of history.csv; reading it gives the same record."""
    return [
        record.job, record.template, record.variant, record.phase, str(record.seq),
        record.technician, instant(record.started, zone), instant(record.closed, zone),
        exact(record.book_h), exact(record.actual_h), _maybe(record.grade),
        record.phase_class or "", _maybe(record.people), _maybe(record.lumped_with),
        "1" if record.cut_off else "", "+".join(record.serves),
        "" if record.surprise_h is None else exact(record.surprise_h),
    ]  # fmt: skip


def of_span(span: Span, zone: ZoneInfo) -> Cells:
    """A line of spans.csv."""
    return [
        span.job, str(span.seq), span.kind, span.reason, span.badge,
        *("" if at is None else instant(at, zone)
          for at in (span.started, span.ended, span.expected)),
    ]  # fmt: skip


def of_open(span: tuple[float, float], zone: ZoneInfo) -> Cells:
    """A line of open.csv."""
    return [instant(at, zone) for at in span]


def of_people(people: People, zone: ZoneInfo) -> Iterator[Cells]:
    """The lines of people.csv: whole local days, the last one included."""
    for badge, spans in sorted(people.employed.items()):
        for since, until in spans:
            yield [
                badge, _day(since, zone), "" if until is None else _day(until - 1, zone),
                people.experience.get(badge, ""),
            ]  # fmt: skip


def _day(at: float, zone: ZoneInfo) -> str:
    return datetime.fromtimestamp(at, zone).date().isoformat()


def _forecast(mean: float, quantiles: Sequence[float], above: float | None = None) -> Iterator[str]:
    """Never falling, also where floating point let it by the last digit."""
    if len(quantiles) != len(LEVELS) or not all(isfinite(one) for one in (mean, *quantiles)):
        raise ValueError(f"no forecast: mean {mean}, quantiles {list(quantiles)}")
    if above is not None and min(mean, *quantiles) <= above:
        raise ValueError(f"hours that are not above {above}: mean {mean}, {list(quantiles)}")
    yield rounded(mean)
    yield from (rounded(one) for one in accumulate(quantiles, max))


def rounded(value: float) -> str:
    """A figure with six decimals, a very small one with all it has; never an exponent."""
    return f"{value:.6f}" if abs(value) >= FINE_H or value == 0 else exact(value)


def exact(value: float) -> str:
    """The shortest decimal figure that reads back as the same number, without exponent."""
    shown = format(Decimal(repr(float(value))), "f")
    return shown.removesuffix(".0")


def instant(at: float, zone: ZoneInfo | None = None) -> str:
    """An instant with offset, of the zone or else UTC."""
    return datetime.fromtimestamp(at, zone or UTC).isoformat()


def _maybe(value: int | None) -> str:
    return "" if value is None else str(value)
