"""Advice on hires where nobody knows the supplier's terms: days and chances, no money."""

from __future__ import annotations

from datetime import datetime, timedelta

from store.edges.instants import for_zone
from store.views.tools.draws import Drawn, needed_after
from store.views.tools.money import Reckoning
from store.views.tools.running import TABLE, USUAL, Running
from store.views.tools.values import Advice, DayCost, Way
from store.views.tools.words import tenths, when


def without_money(running: Running) -> Advice | None:
    """Return days and chances alone: as long as it is needed with the shop's cautious chance."""
    hire, days = running.hire, running.days
    if not days:
        return None
    rows = tuple(DayCost(day, running.back_by(day), running.still(day)) for day in days)
    sure = 1 - running.reckoning.cautious
    enough = next((row for row in rows if row.needed <= sure), rows[-1])
    agreed = next((row for row in rows if row.day == running.due), None)
    if agreed is not None and agreed.needed <= sure and running.needs:
        enough = agreed
    way = _way_without(running, enough)
    return Advice(
        hire.kit, way, None, f"the terms of {hire.supplier} are not known: no money", (way,), rows,
        hire.hire, hire.job, _by_without(running, way), hire.supplier,
        1 - (agreed or enough).needed,
    )  # fmt: skip


def _way_without(running: Running, enough: DayCost) -> Way:
    at, hire = enough.back_by, running.hire
    if not running.needs:
        if not hire.here:
            command = ("hire", "cancel", hire.kit, *running.picked)
            return Way("call off", "nobody needs it any more", None, at, command=command)
        command = ("hire", "return", hire.kit, *running.picked)
        return Way("send back", "nobody needs it", None, at, command=command)
    if running.due is None or enough.day > running.due:
        zone = running.reckoning.known.calendar.zone
        command = ("hire", "extend", hire.kit, "--due", for_zone(at, zone), *running.picked)
        last = max(running.needs, key=lambda one: one.told.middle)
        says = f"needed on {last.told.job} till {running.when(last.told.middle)}"
        return Way("extend", says, None, at, command=command)
    last_at = max(one.told.middle for one in running.needs)
    says = f"{running.when(at)}; done by {running.when(last_at)}"
    if hire.here and enough.day == running.reckoning.known.today:
        return Way(
            "send back", says, None, at, command=("hire", "return", hire.kit, *running.picked)
        )
    return Way("keep", f"goes back {says}", None, at)


def _by_without(running: Running, way: Way) -> datetime | None:
    if way.do == "extend" and running.due is not None:
        return running.back_by(running.due)
    return way.until


def ask_without_money(reckoning: Reckoning, kit: str, need: Drawn) -> Advice:
    """Return days and chances: a lead time as usual, as long as the cautious forecast says."""
    known, told = reckoning.known, need.told
    shop, calendar = reckoning.days, known.calendar
    back = shop.handed(told.cautious, USUAL.cut_off)
    until = shop.cut_off(back, USUAL.cut_off)
    days = shop.between(known.today, back + timedelta(days=7))[-TABLE:]
    rows = tuple(
        DayCost(day, shop.cut_off(day, USUAL.cut_off),
                needed_after([need.need], shop.cut_off(day, USUAL.cut_off)))
        for day in days
    )  # fmt: skip
    comes = calendar.next_opening(max(told.since, known.now))
    by = calendar.next_opening(max(known.now, told.since - timedelta(days=USUAL.lead_days)))
    says = (
        f"{told.job} needs it from {when(comes, known.now, calendar)} till "
        f"{when(told.middle, known.now, calendar)}; no supplier's terms are known"
    )
    command = ("hire", "ask", kit, "--supplier", "-SUPPLIER", "--job", told.job)
    way = Way("ask", says, None, until, comes, command=command)
    over = 1 - needed_after([need.need], until)
    why = f"done by {when(until, known.now, calendar)} {tenths(over)}"
    return Advice(kit, way, None, why, (way,), rows, None, told.job, by, None, over)
