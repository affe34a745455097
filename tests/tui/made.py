"""Invented values to paint: one week of an invented shop, seen on Wednesday at 10:40."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from math import exp, log
from statistics import NormalDist

from store.sums.working_time import Calendar, WeekPlan
from store.sums.working_time import Span as Shift
from store.views.values import (
    Finish,
    Job,
    PersonNow,
    PhaseLabel,
    PhaseNow,
    PhaseState,
    Span,
    Stretch,
)

ZONE = "Europe/Berlin"
WEEK = (1, 2, 3, 4, 5)
DAYS = {"Fri-": 9, "Mon": 12, "Tue": 13, "Wed": 14, "Thu": 15, "Fri": 16, "Mon+": 19, "Tue+": 20}


def calendar() -> Calendar:
    """Monday to Friday 7:30 to 16:30 with two breaks: eight hours a day."""
    plan = WeekPlan(
        date(2020, 1, 1),
        (Shift(WEEK, time(7, 30), time(16, 30)),),
        (Shift(WEEK, time(9), time(9, 15)), Shift(WEEK, time(12), time(12, 45))),
    )
    return Calendar(ZONE, [plan])


CALENDAR = calendar()


def on(text: str) -> datetime:
    """`Tue 13:30` of that week, as an instant."""
    day, clock = text.split()
    hour, minute = clock.split(":")
    local = datetime(2026, 10, DAYS[day], int(hour), int(minute), tzinfo=CALENDAR.zone)
    return local.astimezone(UTC)


NOW = on("Wed 10:40")


def person(
    name: str, job: str | None = None, since: str | None = None, **more: object
) -> PersonNow:
    """Somebody, on a job as `2417.4` or on none."""
    number, _, phase = (job or "").partition(".")
    made = PersonNow(
        f"B-{name}",
        name,
        "technician",
        name[:2].upper(),
        number or None,
        phase or None,
        None,
        on(since) if since else None,
    )
    return replace(made, **more)  # type: ignore[arg-type]  # checked by the dataclass itself


INES = person("Ines", "2417.4", "Wed 09:28")
TOMAS = person("Tomas", "2420.2", "Wed 08:00")
OLU = person("Olu", "2420.2", "Wed 08:20")
RUTH = person("Ruth", "2426.2", "Wed 09:50")
PER = person("Per", "2411.5", "Tue 16:45", left_running=True)


def worked(phase: str, since: str, until: str, over: str | None = None, **more: bool) -> Stretch:
    """A stretch of labour."""
    over_from = on(over) if over else None
    return Stretch("worked", phase, on(since), on(until), over_from=over_from, **more)


def label(text: str, state: PhaseState, hours: str = "0/0") -> PhaseLabel:
    """`2 gearbox out` with labour over estimate."""
    number, name = text.split(" ", 1)
    labour, estimate = hours.split("/")
    return PhaseLabel(number, name, state, float(labour), float(estimate))


def quantiles(middle: str, cautious: str) -> tuple[datetime, ...]:
    """19 instants of a log-normal rest with that middle and that 8-in-10."""
    m = CALENDAR.working_h(NOW, on(middle))
    c = CALENDAR.working_h(NOW, on(cautious))
    z = [NormalDist().inv_cdf(n / 20) for n in range(1, 20)]
    spread = (c / m - 1) / NormalDist().inv_cdf(0.8)
    return tuple(CALENDAR.after(NOW, m * exp(spread * each)) for each in z)


def phase(text: str, labour: float, middle: float, people: tuple[str, ...] = ()) -> PhaseNow:
    """The phase a job is in."""
    number, name = text.split(" ", 1)
    left = max(0.0, middle - labour)
    return PhaseNow(
        number, name, "labour", labour, Span(middle, middle * 1.2), Span(left, left * 1.3), people
    )


def job(number: str, vehicle: str, **more: object) -> Job:
    """A job with everything a floor does not look at filled in."""
    made = Job(
        number,
        vehicle,
        "five-cyl. diesel, automatic, all-wheel",
        ("clutch",),
        "clutch and flywheel",
        "on-lift",
        False,
        None,
        None,
        5.0,
        Span(10.0, 12.0),
        Span(5.0, 6.0),
        None,
        None,
        None,
        None,
        None,
        (),
    )
    return replace(made, **more)  # type: ignore[arg-type]  # checked by the dataclass itself


def forecast(of: Job, middle: str, cautious: str, promise: str) -> Job:
    """The job with finish, quantiles, promise and the chance that belongs to them."""
    m, c, p = (CALENDAR.working_h(NOW, on(text)) for text in (middle, cautious, promise))
    z = log(p / m) * NormalDist().inv_cdf(0.8) / (c / m - 1)
    return replace(
        of,
        finish=Finish(on(middle), on(cautious)),
        finish_quantiles=quantiles(middle, cautious),
        promise=on(promise),
        promise_chance=NormalDist().cdf(z),
    )
