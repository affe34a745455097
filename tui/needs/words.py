"""What is said of an act that is open, of what it would change, and of its age."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, tzinfo

from store.views.needs_values import Chain, ChanceMoved, Helps, Link, Need, NeedWord, OutMoved
from tui import words
from tui.signs import LOUD, Loud

NOTHING = "Nothing needs anybody."
NOTHING_WAITS = "Nothing waits for anything."
FREE_WAY = Link(1, "nothing is in its way")
"""What is read under a job that waits for nothing."""
LEAST_DAYS, LEAST_GAIN, LEAST_FREED_H = 0.05, 0.05, 0.05
"""Lift-days, promises, lift hours under which nothing is said of them: they would read as 0.0."""
NEED_LOUD: Mapping[NeedWord, Loud] = {
    "ANSWER": LOUD["ANSWER"], "SIGN": LOUD["SIGN"], "DECIDE": LOUD["SIGN"],
    "READING": LOUD["READING"], "HELD": LOUD["HELD"], "NOBODY": Loud("act", "behind"),
    "FREE": Loud("free", "behind"), "CLEAR": Loud("act", "behind"),
    "PARTS": Loud("waiting", "due"), "KIT HERE": LOUD["DUE"], "SEND BACK": LOUD["DUE"],
    "EXTEND": LOUD["DUE"], "ASK": Loud("act", "due"),
    "CALL": LOUD["CLOCK"], "CHASE": LOUD["DUE"], "JUDGE": Loud("act", "due"),
    "QUOTE": LOUD["CLOCK"], "ASSIGN": Loud("act", "due"), "CLOCK": LOUD["CLOCK"],
    "LOOK OVER": Loud("act", "due"), "INSPECT": LOUD["DUE"],
    "LINE": Loud("act", "due"),
}  # fmt: skip
"""By which sign and in which role each of them is shouted."""


def is_loud(need: Need) -> bool:
    """It cannot wait: it is due, or something stands for it."""
    return need.due or need.act.stuck or (need.lift_days or 0.0) >= LEAST_DAYS


def where_words(need: Need) -> str:
    """`lift 2  2409.4`; `shop` where it is about neither."""
    act = need.act
    lift = f"lift {act.lift}" if act.lift is not None else ""
    return "  ".join(filter(None, (lift, act.where))) or "shop"


def fact_words(need: Need, zone: tzinfo, now: datetime) -> Iterator[str]:
    """Who and how long, by when, what waiting costs, its age."""
    act = need.act
    yield f"{act.who}, {act.minutes} min"
    if act.by is not None:
        yield by_words(act.by, zone, now)
    if need.lift_days is not None and need.lift_days >= LEAST_DAYS:
        yield f"costs {need.lift_days:.1f} lift-days"
    if need.gain is not None and need.gain >= LEAST_GAIN:
        yield f"{need.gain:+.1f} promises"
    if act.since is not None and act.since <= now:
        yield f"since {words.day_time(act.since, zone, now)}"


def by_words(by: datetime, zone: tzinfo, now: datetime) -> str:
    """`by Wed 15:00`"""
    return f"by {words.day_time(by, zone, now)}"


def keeping(chance: float) -> str:
    """`doubtful 3 in 10`"""
    found = words.chance(chance)
    return f"{found.word} {found.tenths}".rstrip()


def is_seen(one: ChanceMoved) -> bool:
    """Word or figure moves."""
    return keeping(one.before) != keeping(one.after)


def out_words(one: OutMoved, zone: tzinfo, now: datetime, becomes: str) -> str:
    """`lift 2 out Fri 14:25 › Fri 08:40`"""
    before, after = (words.day_time(at, zone, now) for at in (one.before, one.after))
    return f"lift {one.lift} out {before} {becomes} {after}"


def age_words(found: Helps) -> str:
    """`as of Wed 10:31, 2 entries since`; "" where it is as new as the ledger."""
    return as_of(found) if found.behind else ""


def as_of(found: Helps) -> str:
    """The same however new it is; "" where nothing was reckoned yet."""
    if found.made_at is None:
        return ""
    when = f"as of {words.day_time(found.made_at, found.calendar.zone, found.at)}"
    since = words.counted(found.behind, "entry", "entries")
    return f"{when}, {since} since" if found.behind else when


def comes_words(found: Helps) -> str:
    """`Next: lift 2 is free about Thu 12:00 (2409).`; "" where nothing is known to come."""
    comes = found.comes
    if comes is None:
        return ""
    if comes.middle is None:
        return f"Next: lift {comes.lift} is free."
    when = words.day_time(comes.middle, found.calendar.zone, found.at)
    return f"Next: lift {comes.lift} is free about {when} ({comes.job})."


def promised_words(chain: Chain, zone: tzinfo, now: datetime) -> str:
    """`, promised Mon 16:00`"""
    if chain.promise is None:
        return ", not promised"
    return f", promised {words.day_time(chain.promise, zone, now)}"


def till_words(link: Link, zone: tzinfo, now: datetime) -> str:
    """`; till about Fri 14:25`; "" where nobody knows."""
    return f"; till about {words.day_time(link.until, zone, now)}" if link.until else ""


def frees_words(link: Link) -> str:
    """`, frees 5.0 h`; "" where it frees nothing of a lift."""
    frees = link.lift_h is not None and link.lift_h >= LEAST_FREED_H
    return f", frees {words.tenth(link.lift_h or 0.0)} h" if frees else ""
