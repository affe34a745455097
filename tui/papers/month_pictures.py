"""Pictures of the owner's month: one mark a job, bars of hours and of lifts, charts with limits."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from store.sums.month.span import is_month
from store.views.month.said import percent as whole
from store.views.month.spent_values import LiftHours
from store.views.month.told_values import Chart, ChartPoint, Signal, What
from store.views.month.values import Month
from tui.papers.month_words import job_told, off, percent, short, told
from tui.papers.pictures import (
    Bar,
    Bars,
    Kind,
    Mark,
    Piece,
    Point,
    Run,
    Stretch,
    Strip,
)
from tui.papers.said import number
from tui.words import counted, tenth

DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", re.ASCII)
LIFT_PIECES: tuple[tuple[str, Kind, Callable[[LiftHours], float]], ...] = (
    ("worked", "running", lambda one: one.worked_h),
    ("held", "blocked", lambda one: one.held_h),
    ("nobody there", "behind", lambda one: one.dead_h),
    ("empty", "past", lambda one: one.empty_h),
    ("out of service", "dim", lambda one: one.out_h),
)

SHARES: tuple[What, ...] = ("promise", "held")
"""Charted as shares of each month's jobs."""
TARGETS: dict[What, tuple[float, str] | None] = {
    "shop": (1.0, "as told"), "supplier": (0.0, "in time"), "promise": None, "held": None,
}  # fmt: skip


def strip(found: Month) -> Strip | None:
    """One mark a job; None where no job can be judged."""
    marks = tuple(
        Mark(one.ratio, job_told(one), f"job-{one.job}")
        for one in found.jobs
        if one.ratio is not None
    )
    if not marks:
        return None
    near = sum(one.near for one in marks)
    jobs = counted(len(marks), "job")
    return Strip(marks, f"{jobs} from half of what was told to double: {near} within a quarter")


def hours(found: Month, link: Callable[[str], str] = lambda name: "") -> Bars:
    """Attended, on jobs, sold. `link`: where a figure's rows stand."""
    here = found.hours
    attended, on_jobs, sold = here.attended.value, here.on_jobs.value, here.sold.value
    idle = (attended or 0.0) - (on_jobs or 0.0)
    unsold = (on_jobs or 0.0) - (sold or 0.0)
    wanted: tuple[tuple[str, str, float | None, Kind, str], ...] = (
        ("attended", "attended", attended, "past", f"{tenth(idle)} h on no job"),
        ("on_jobs", "on jobs", on_jobs, "dim", f"{tenth(unsold)} h worked, not sold"),
        ("sold", "sold", sold, "running", ""),
    )
    bars = tuple(
        Bar(name, (Piece(name, value or 0.0, kind),), told(value, "h", found.currency),
            note if value and not note.startswith(("-", "0.0")) else "", link(key))
        for key, name, value, kind, note in wanted
    )  # fmt: skip
    return Bars(bars, "; ".join(f"{one.name} {one.told}" for one in bars))


def held(found: Month, link: Callable[[str], str] = lambda name: "") -> Bars | None:
    """Working hours held, by reason; None where nothing was."""
    if not found.held.reasons:
        return None
    bars = tuple(
        Bar(reason, (Piece(reason, one.value or 0.0, "blocked"),), told(one.value, "h", ""),
            link=link(f"held-{reason}"))
        for reason, one in found.held.reasons
    )  # fmt: skip
    return Bars(bars, "; ".join(f"held for {one.name} {one.told}" for one in bars))


def lifts(found: Month, link: Callable[[str], str] = lambda name: "") -> Bars | None:
    """Every lift's open hours; None where there is no lift."""
    if not found.lifts.lifts:
        return None
    bars = tuple(
        Bar(
            f"lift {one.lift}",
            tuple(Piece(name, of(one), kind) for name, kind, of in LIFT_PIECES),
            f"{tenth(one.open_h)} h open",
            _earned(one, found.currency), link(f"lift-{one.lift}"),
        )
        for one in found.lifts.lifts
    )  # fmt: skip
    says = "; ".join(
        f"lift {one.lift}: "
        + ", ".join(f"{name} {tenth(of(one))} h" for name, _, of in LIFT_PIECES if of(one) >= 0.05)
        for one in found.lifts.lifts
    )
    return Bars(bars, says, legend=True)


def _earned(one: LiftHours, currency: str) -> str:
    return "" if one.per_day is None else f"{one.per_day:,.0f} {currency} a lift-day"


def chart(found: Chart) -> Run:
    """A chart of individual values with the limits that luck keeps to."""
    points = tuple(
        Point(labelled(one.label), one.value, _point_says(found.what, one), one.loud)
        for one in found.points
    )
    stretches = tuple(_stretches(found))
    says = f"{found.name}: {found.says}"
    return Run(
        says, points, stretches, tuple(charted(found.what, one.middle) for one in stretches), says,
        TARGETS.get(found.what, (1.0, "as the book")), _scale(found),
    )  # fmt: skip


def _scale(found: Chart) -> tuple[tuple[float, str], ...]:
    """The newest limits; where there are none, the highest point."""
    ends = [max((one.value for one in found.points), default=0.0)]
    if found.levels:
        ends = [found.levels[-1].high, found.levels[-1].low]
    return tuple((value, charted(found.what, value)) for value in ends)


def _point_says(what: What, one: ChartPoint) -> str:
    of = f", {one.count} jobs" if one.count > 1 else ""
    return f"{labelled(one.label)}: {charted(what, one.value)}{of}"


def _stretches(found: Chart) -> Iterator[Stretch]:
    """Levels by the points that lie in them: the newest level that had begun holds a point."""
    for n, one in enumerate(found.levels):
        after = [each.since for each in found.levels[n + 1 : n + 2]]
        inside = [
            at for at, point in enumerate(found.points)
            if one.since <= point.at and not any(day <= point.at for day in after)
        ]  # fmt: skip
        if inside:
            since = one.since if n else None
            yield Stretch(inside[0], inside[-1], one.middle, one.low, one.high, since)


def labelled(label: str) -> str:
    """`Sep 26` of a month, `14 Sep 26` of a day, a job's number as it is."""
    if is_month(label):
        return short(int(label[:4]), int(label[5:]))
    if DAY.fullmatch(label):
        return f"{int(label[8:])} {short(int(label[:4]), int(label[5:7]))}"
    return label


def charted(what: What, value: float) -> str:
    """A charted figure in words: `7 % short`, `33 % over the book`, `1.0 days late`, `37 %`."""
    if what == "supplier":
        days = number(round(value, 1))
        return "in time" if value < 0.05 else f"{days} day{'' if days == '1' else 's'} late"
    if what in SHARES:
        return percent(value)
    if what == "shop":
        return off(value - 1)
    return _against_book(value)


def told_before(signal: Signal, value: float) -> str:
    """A signal's figure in words: of deliveries, promises and holds the share of yes."""
    return percent(value) if signal.what in ("supplier", *SHARES) else _against_book(value)


def _against_book(ratio: float) -> str:
    by = whole(ratio - 1)
    return "as the book" if by == 0 else f"{abs(by)} % {'over' if by > 0 else 'under'} the book"
