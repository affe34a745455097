"""A clock that was left running: when did it stop? Asked once, at sign-in, by one digit."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from store.views.values import ClockNow
from tui import deeds, keys
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.talk import Back
from tui.parts.when import stopped_at
from tui.words import day_time, hours, time, zone_of

OTHER, LATER = "4", "5"
BOTH = "Both times are kept: when you say it, and when it was."


async def stopped_when(screen: Painted[Any], clock: ClockNow) -> None:
    """Ask when a clock stopped; the shift's end is proposed, and Enter takes it too.

    Raises:
        Back: later; the clock stays as it is, and the foreman sees it.
        Trouble: refused.
    """
    now, zone = screen.session.now(), zone_of(screen.zone)
    title = "Your clock still runs. When did you stop?"
    facts = _facts(clock, now, zone)
    try:
        chosen = await screen.talk.pick(title, _options(clock, now, zone), facts=facts)
    except Back:
        chosen = LATER
    if chosen == LATER:
        answers = keys.filled("{bay.clock} says when you stopped.")
        screen.say(f"Your clock on {_what(clock)} waits; the foreman sees it.  {answers}")
        raise Back
    stop: datetime | None = None
    if chosen == OTHER:
        stop = await screen.talk.type(
            title, f"you stopped at, like {time(clock.stops[0].at, zone)}",
            lambda text: stopped_at(text, clock.since, now, zone), facts=facts,
        )  # fmt: skip
    elif chosen != "1":
        stop = clock.stops[int(chosen) - 1].at
    await screen.act(deeds.stop_left_running(stop))


def _what(clock: ClockNow) -> str:
    return f"{clock.job}.{clock.phase}" if clock.job else clock.reason or clock.name


def _facts(clock: ClockNow, now: datetime, zone: ZoneInfo) -> tuple[str, ...]:
    """What ran, since when, when the shop closed, what is counted."""
    name = f" {clock.name}" if clock.job else ""
    end = clock.stops[0]
    return (
        f"{_what(clock)}{name}, since {day_time(clock.since, zone, now)}.",
        f"The shift ended {day_time(end.at, zone, now)}: {hours(end.labour_h)} count so far.",
        BOTH,
    )


def _options(clock: ClockNow, now: datetime, zone: ZoneInfo) -> list[Option]:
    end, *earlier = clock.stops
    found = [Option("1", _words(day_time(end.at, zone, now), end.labour_h, "shift's end"), True)]
    found += [
        Option(str(nth), _words(day_time(one.at, zone, now), one.labour_h))
        for nth, one in enumerate(earlier, 2)
    ]
    return [*found, Option(OTHER, "another time ..."), Option(LATER, "later; the foreman sees it")]


def _words(when: str, labour_h: float, what: str = "") -> str:
    return f"{when}   {hours(labour_h):>6}   {what}".rstrip()
