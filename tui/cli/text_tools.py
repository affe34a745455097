"""Special tools and what is advised about hires as text of at most 80 columns."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from store.views.parts_values import HireOut
from store.views.tools.values import Advice, Clash, DayCost, KitNow, Tools
from tui import words
from tui.ready.words import back_words, expected_words

WIDTH = 80
LEFT = 13


def tool_lines(found: Tools) -> Iterator[str]:
    """Each kit with where it is, what is to be done about it, its hires, and who needs it."""
    if not found.kits:
        yield "The work book names no kits."
    zone = found.calendar.zone
    for kit in found.kits:
        yield words.cut(f"{kit.code:<12} {kit.name}: {kit.state}", WIDTH)
        yield from said(kit)
        if kit.verb != "CLASH":
            yield from (line for clash in kit.clashes for line in _clashing(clash, zone, found.at))
        for hire in kit.hires:
            yield from _wrapped(_hire(hire, zone, found.at))
        yield from (words.cut(f"{'':{LEFT}}{one}", WIDTH) for one in _needed(kit, zone, found.at))


def said(kit: KitNow) -> Iterator[str]:
    """The verb with its line, the chance in words behind it."""
    if not kit.says:
        return
    sure = "" if kit.chance is None else f", {_in_words(kit.chance)}"
    head = f"{kit.verb or '':<12}"
    lines = words.wrapped(f"{kit.says}{sure}", WIDTH - LEFT - (12 if kit.verb else 0))
    for place, line in enumerate(lines):
        mark = (head if not place else " " * 12) if kit.verb else ""
        yield f"{'':{LEFT}}{mark}{line}".rstrip()


def _clashing(clash: Clash, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    """Who wants it at one time, where something else about the kit is louder."""
    first, second = clash.jobs
    since, until = (words.day_time(at, zone, now) for at in (clash.since, clash.until))
    text = f"{first} and {second}, {since} to {until}, {words.chance(clash.chance).tenths}"
    yield f"{'':{LEFT}}{'CLASH':<12}{text}"


def _in_words(chance: float) -> str:
    found = words.chance(chance)
    return f"{found.word} {found.tenths}".rstrip()


def _hire(hire: HireOut, zone: ZoneInfo, now: datetime) -> str:
    where = f" for {hire.job}" if hire.job else ""
    if not hire.here:
        return f"asked for at {hire.supplier}{where}, {expected_words(hire.expected, zone, now)}"
    what = ", ".join(hire.missing) or hire.note
    lacks = f", not complete{f': {what}' if what else ''}" if not hire.complete else ""
    if hire.wrong:
        lacks = f", the wrong variant{f': {hire.note}' if hire.note else ''}"
    return f"from {hire.supplier}{where}, {back_words(hire, zone, now)}{lacks}"


def _needed(kit: KitNow, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    for one in kit.needed_by:
        since, until = (words.day_time(at, zone, now) for at in (one.since, one.middle))
        yield f"{one.job}.{one.phase} from {since} to {until}"


# -- advice


def advice_lines(found: Tools, kit: KitNow | None = None) -> Iterator[str]:
    """What is advised: of one kit with the days behind it, else of all."""
    zone = found.calendar.zone
    mine = [one for one in found.advice if kit is None or one.kit == kit.code]
    for one in mine:
        yield from _advice(one, found, zone)
        if kit is not None:
            yield from _days(one, zone, found.at)
    for clash in found.clashes:
        if kit is None or clash.kit == kit.code:
            yield words.cut(f"{clash.kit:<12} CLASH {' and '.join(clash.jobs)}", WIDTH)
            for way in clash.ways:
                cost = "" if way.cost is None else f"  {words.money(round(way.cost))}"
                yield from _wrapped(f"{way.says}{cost}")
    for own in found.buy:
        if kit is None or own.kit == kit.code:
            yield words.cut(f"{own.kit:<12} hire or buy: {own.name}", WIDTH)
            yield from _wrapped(own.says)
    if kit is not None and not mine:
        yield words.cut(f"{kit.code:<12} {kit.name}: {kit.says or 'nothing to advise'}", WIDTH)
    elif not found.advice and not found.clashes and not found.buy:
        yield "Nothing to advise: no kit is hired, and none that is needed is to be hired."


def _advice(one: Advice, found: Tools, zone: ZoneInfo) -> Iterator[str]:
    name = next((kit.name for kit in found.kits if kit.code == one.kit), one.kit)
    about = f" for {one.job}" if one.job else ""
    yield words.cut(f"{one.kit:<12} {one.best.do}: {name}{about}", WIDTH)
    yield from _wrapped(one.best.says)
    yield from _wrapped(one.why)
    for way in one.ways:
        if way is not one.best:
            cost = "" if way.cost is None else f"  {words.money(round(way.cost))}"
            yield from _wrapped(f"or {way.says}{cost}")
    if one.best.command is not None:
        yield from _wrapped(f"hoistbook {shlex.join(one.best.command)}")


def _wrapped(text: str) -> Iterator[str]:
    yield from (f"{'':{LEFT}}{line}" for line in words.wrapped(text, WIDTH - LEFT))


def _days(one: Advice, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    """The table by which the sum can be checked."""
    if not one.days:
        return
    names = ("hire", "carriage", "late", "waiting", "all")
    comes = "comes" if one.hire is None else ""
    yield (
        f"{comes:>{LEFT - 2}}  {'back by':<13}{'needed':>7}"
        f"{''.join(f'{name:>9}' for name in names)}"
    )
    best = (one.best.since, one.best.until)
    yield from (_row(day, zone, now, best=(day.since, day.back_by) == best) for day in one.days)


def _row(day: DayCost, zone: ZoneInfo, now: datetime, *, best: bool) -> str:
    parts = (day.hire, day.carriage, day.late, day.waiting, day.total)
    costs = "".join(f"{'-' if one is None else words.money(round(one)):>9}" for one in parts)
    comes = "" if day.since is None else words.day_time(day.since, zone, now)
    when = words.day_time(day.back_by, zone, now)
    needed = f"{words.chance(day.needed).step} in 10"
    return f"{'> ' if best else '  '}{comes:>{LEFT - 4}}  {when:<13}{needed:>7}{costs}"
