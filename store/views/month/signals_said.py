"""Signals in words: what changed, since when, from how many, and how seldom luck looks like it."""

from __future__ import annotations

from datetime import date
from math import floor, log10

from store.learn.signals.found import FALSE_A_YEAR, Found
from store.views.month.said import NAMES, jobs_word, percent
from store.views.month.told_values import What

NEAR_DAYS = 45
"""A date known to so many days is a month; another is a time between two."""
SHARES: dict[What, str] = {
    "supplier": "of {name}'s deliveries came late", "promise": "of promises were missed",
    "held": "of jobs were held ({name})",
}  # fmt: skip


def said(found: Found, name: str, early: date, late: date, since: date) -> str:
    """Return the whole in a plain sentence or two.

    Args:
        name: of what it is about, as people say it.
        since, early, late: local days.
    """
    if found.what in SHARES:
        told = _shares(found, name, since_words(since, early, late))
    elif found.kind == "level":
        told = _level(found, name)
    elif found.kind == "trend":
        told = _trend(found, name)
    else:
        told = _change(found, name, since_words(since, early, late))
    right = found.kind == "level" and found.what != "supplier"
    luck = "Were the book right within a tenth, luck would show" if right else "Luck alone shows"
    return f"{told} {luck} as much in fewer than 1 of {seldom(found.chance)} shops."


def since_words(since: date, early: date, late: date) -> str:
    """Return `Since March 2026`, or `Since about March 2026 (January to April)`."""
    if (late - early).days <= NEAR_DAYS or (early.year, early.month) == (late.year, late.month):
        return f"Since {_month(since)}"
    ends = (
        NAMES[one.month - 1] if one.year == since.year else _month(one) for one in (early, late)
    )
    return f"Since about {_month(since)} ({' to '.join(ends)})"


def _month(day: date) -> str:
    return f"{NAMES[day.month - 1]} {day.year}"


def seldom(chance: float) -> str:
    """Return 1 / chance, rounded down to 100, 1,000, 10,000 ...; a million at most."""
    return f"{10 ** min(6, floor(-log10(max(chance, 1e-9)))):,}"


def _change(found: Found, name: str, when: str) -> str:
    counted = f"({jobs_word(found.count_before)} before, {found.count_after} after)"
    if found.book_h:
        before, after = found.before * found.book_h, found.after * found.book_h
        return f"{when} {name} takes {after:.1f} h where it took {before:.1f} {counted}."
    times = f"{found.after / found.before:.2f} times what it took"
    if found.what == "person":
        return f"{when} {name} takes {found.after / found.before:.2f} times as long {counted}."
    if found.what == "shop":
        return f"{when} all work takes {times} {counted}."
    return f"{when} {name} takes {times} {counted}."


def _level(found: Found, name: str) -> str:
    rest = found.after / found.before
    side = "longer" if rest > 1 else "less"
    of = "its book" if found.what != "family" else "the book"
    return (
        f"{name[:1].upper()}{name[1:]} takes {found.after:.2f} times {of} "
        f"({jobs_word(found.count_after)}); all else being equal that is "
        f"{abs(percent(rest - 1))} % {side} than other work."
    )


def _trend(found: Found, name: str) -> str:
    word = "faster" if found.after < found.before else "slower"
    return (
        f"{name} gets {word}: took {found.before:.2f} times the book's hours at first, "
        f"{found.after:.2f} times now ({jobs_word(found.count_after)})."
    )


def _shares(found: Found, name: str, when: str) -> str:
    of = SHARES[found.what].format(name=name)
    after, before = percent(found.after), percent(found.before)
    if found.kind == "level":
        return f"{after} % {of} ({found.count_after} in all); of the others' {before} %."
    counted = f"({found.count_before} before, {found.count_after} after)"
    return f"{when} {after} % {of}, before it {before} % {counted}."


def whole_says(count: int, watched: int, *, looked: bool, running: bool) -> str:
    """Return one sentence over all of it, with the promise.

    Args:
        looked: the learner has looked at the work.
        running: the month has not ended, so nothing of it was looked at.
    """
    if not looked:
        return "Nobody has looked yet: what luck does not explain is looked for once a month."
    years = floor(1 / FALSE_A_YEAR + 0.5)
    promise = (
        f"{watched} things were looked at{', up to the end of last month' if running else ''}; "
        f"where nothing changes, a false one is told in at most 1 year of {years}."
    )
    if not count:
        return f"Nothing changed that luck does not explain. {promise}"
    things = "One thing" if count == 1 else f"{count} things"
    return f"{things} that luck hardly explains. {promise}"
