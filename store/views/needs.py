"""One list: who must do what by when, with what waiting costs."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from datetime import datetime

from store.file.learned.help_values import LEAST_GAIN, Help
from store.file.learned.kept_help import kept_help
from store.file.learned.rests import Rests
from store.file.open_acts.acts import all_acts
from store.file.open_acts.gathered import gathered
from store.file.open_acts.going import Gathered, Going
from store.file.shop import Shop
from store.learn.dates.spans import SHOP_DAY_H
from store.rules.acts import Act, ActKind
from store.views.needs_values import Need, Needs

BRINGS: Mapping[ActKind, tuple[str, ...]] = {
    "parts": ("parts",), "kit here": ("tool",), "kit ask": ("tool",),
}  # fmt: skip
"""Acts that end no hold by themselves, and the reasons of those that they help to end."""


def needs(shop: Shop, now: datetime) -> Needs:
    """Return everything that wants somebody, what matters most first.

    First what is due today or was before, the earliest first; then by the promises that it keeps
    and the lift-days that waiting costs; then by the day until when it is wanted, and by its age.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        every = gathered(db, now)
        known = kept_help(db)
        found = [one for one in needs_of(db, every, known) if _is_wanted(one)]
    return Needs(now, every.calendar, tuple(found), known.made_at if known else None)


def needs_of(
    db: sqlite3.Connection, every: Gathered, known: Help | None, *, costs: bool = True
) -> list[Need]:
    """Return the same out of what was read of one moment.

    Args:
        known: what helps most, as it was found last.
        costs: with what waiting costs; that reads what was learned of holds.
    """
    gains = {one.act: one.gain for one in known.helped} if known is not None else {}
    vehicles = {
        row[0]: row[1]
        for row in db.execute(
            "select job, label from job join vehicle using (vehicle) "
            "where state not in ('closed', 'declined', 'turned-away')"
        )
    }
    rests = Rests(db, every.calendar, every.now) if costs else None
    found = [_need(every, rests, one, gains, vehicles) for one in all_acts(every)]
    return sorted(found, key=_rank)


def _is_wanted(need: Need) -> bool:
    """Another order of the line wants nobody unless it is worth a line."""
    return need.act.kind != "line" or (need.gain or 0.0) >= LEAST_GAIN


def _need(
    every: Gathered, rests: Rests | None, act: Act, gains: Mapping[str, float],
    vehicles: Mapping[str, str],
) -> Need:  # fmt: skip
    day = every.calendar.day_of
    due = act.by is not None and day(act.by) <= day(every.now)
    vehicle = vehicles.get(act.job) if act.job is not None else None
    days_lost = lift_days(every, rests, act) if rests is not None else None
    return Need(act, vehicle, days_lost, gains.get(act.name), due)


def lift_days(every: Gathered, rests: Rests, act: Act) -> float | None:
    """Return the lift-days that waiting with an act is likely to cost.

    A lift whose job cannot go on costs a lift-day a day. It does so for as long as it takes until
    the act is done anyway: E[T - t | T > t] open hours over the 8 of a shop day, T the length of
    holds of that reason here (with the end that was said), t how long it has lasted. A name that
    lacks counts as a hold for a person. A job that could go on and has nobody, and a free lift that
    a ready job could take, cost what a wait for hands usually takes here.

    Returns:
        0 where the job can go on otherwise; None where it is about no lift.
    """
    if act.lift is None or act.kind in ("look over", "inspect"):
        return None
    if act.kind in ("person", "bring in"):
        return rests.idle_h / SHOP_DAY_H
    going = every.jobs.get(act.job) if act.job is not None else None
    if going is None:
        return None
    return _stuck_h(every, rests, going, act) / SHOP_DAY_H if going.stuck else 0.0


def _stuck_h(every: Gathered, rests: Rests, going: Going, act: Act) -> float:
    """Open hours until what an act would end is over anyway; of several holds the longest."""
    reasons = BRINGS.get(act.kind)
    if reasons is not None:
        holds = [one for one in going.holds if one.reason in reasons]
    elif act.kind == "clear":
        holds = list(going.holds)
    else:
        holds = [one for one in going.holds if (one.reason, one.since.timestamp()) in act.ends]
    if holds:
        return max(rests.hold_h(one.reason, one.since, one.expected) for one in holds)
    if act.kind not in ("sign", "decide", "clear"):
        return 0.0
    return rests.hold_h("person", act.since or going.rested or every.now, None)


def _rank(need: Need) -> tuple[bool, float, float, float, float, str]:
    """Smaller comes first."""
    by = need.act.by.timestamp() if need.act.by is not None else float("inf")
    since = need.act.since.timestamp() if need.act.since is not None else float("inf")
    gain, days = max(need.gain or 0.0, 0.0), need.lift_days or 0.0
    return (not need.due, by if need.due else 0.0, -round(gain + days, 3), by, since, need.act.name)
