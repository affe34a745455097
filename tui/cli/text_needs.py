"""Who must do what, what helps most and what waits for what, as text of 80 columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from store.views.needs_values import (
    ChanceMoved,
    HelpLine,
    Helps,
    Link,
    Need,
    Needs,
    OutMoved,
    Tried,
    Why,
)
from tui import words
from tui.cli import text_floor

WIDTH = 80
NOTHING = "Nothing needs anybody."
MOST_FREED = 3


def needs(found: Needs) -> Iterator[str]:
    """The list, each need with its command."""
    if not found.needs:
        yield NOTHING
    for one in found.needs:
        yield from _need(one, found.calendar.zone, found.at)


def _need(one: Need, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    where = " ".join(_where(one))
    head = f"{'!' if one.due else ' '} {one.word:<10}{where:<22} "
    yield from _hanging(head, one.act.says)
    yield from _hanging(" " * 12, "; ".join(_facts(one, zone, now)))
    yield from _command(one)


def _where(one: Need) -> Iterator[str]:
    if one.act.lift is not None:
        yield f"lift {one.act.lift}"
    if one.act.where is not None:
        yield one.act.where
    if one.act.lift is None and one.act.where is None:
        yield "shop"


def _facts(one: Need, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    act = one.act
    yield f"{act.who}, {act.minutes} min"
    if act.by is not None:
        yield f"by {words.day_time(act.by, zone, now)}"
    if act.since is not None and act.since <= now:
        yield f"since {words.day_time(act.since, zone, now)}"
    if one.lift_days is not None and one.lift_days >= 0.05:
        yield f"waiting costs {one.lift_days:.1f} lift-days"
    if one.gain is not None and one.gain >= 0.05:
        yield f"keeps {one.gain:.1f} promises more"


def _command(one: Need) -> Iterator[str]:
    """Never wrapped: it is there to be copied."""
    yield f"{'':12}{one.command}"
    if one.other is not None:
        yield f"{'':8}or  {one.other}"


def _hanging(head: str, text: str) -> Iterator[str]:
    lines = words.wrapped(words.plain(text), WIDTH - len(head)) or [""]
    yield f"{head}{lines[0]}".rstrip()
    yield from (f"{'':{len(head)}}{line}" for line in lines[1:])


def helps(found: Helps) -> Iterator[str]:
    """What helps most, with before and after in words and figures."""
    zone, now = found.calendar.zone, found.at
    if found.seq is None:
        yield "Not reckoned yet: it is found beside the work, a moment after something happens."
        return
    yield _age(found)
    if not found.lines:
        yield NOTHING
        yield from _comes(found)
    for one in found.lines:
        yield ""
        yield from _line(one, zone, now)


def _age(found: Helps) -> str:
    zone, now = found.calendar.zone, found.at
    assert found.made_at is not None
    since = f", {words.counted(found.behind, 'entry', 'entries')} since" if found.behind else ""
    return f"As of {words.day_time(found.made_at, zone, now)}{since}."


def _comes(found: Helps) -> Iterator[str]:
    comes = found.comes
    if comes is None:
        return
    if comes.middle is None:
        yield f"Next: lift {comes.lift} is free."
    else:
        when = words.day_time(comes.middle, found.calendar.zone, found.at)
        yield f"Next: lift {comes.lift} is free about {when} ({comes.job})."


def _line(one: HelpLine, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    act = one.need.act
    where = " ".join(_where(one.need))
    yield from _hanging(f"{one.place:>2}  {one.need.word:<10}", f"{where}  {act.says}")
    worth = f"promises {one.gain:+.1f}, lift hours {one.lift_h:+.1f}; {act.who}, {act.minutes} min"
    yield from _hanging(" " * 14, worth)
    for moved in [each for each in one.frees if _seen(each)][:MOST_FREED]:
        yield words.cut(f"{'':14}{_chances(moved)}", WIDTH)
    for out in one.outs[:MOST_FREED]:
        yield words.cut(f"{'':14}{_out(out, zone, now)}", WIDTH)
    if one.refused_gain is not None:
        yield from _hanging(" " * 14, f"if the answer is no: promises {one.refused_gain:+.1f}")
    yield f"{'':14}{one.need.command}"


def _seen(one: ChanceMoved) -> bool:
    """Word or figure moves."""
    return _keeping(one.before) != _keeping(one.after)


def _chances(one: ChanceMoved) -> str:
    return f"{one.job} {_keeping(one.before)} > {_keeping(one.after)}"


def _keeping(chance: float) -> str:
    found = words.chance(chance)
    return f"{found.word} {found.tenths}".rstrip() if found.tenths else found.word


def _out(one: OutMoved, zone: ZoneInfo, now: datetime) -> str:
    before, after = (words.day_time(at, zone, now) for at in (one.before, one.after))
    return f"lift {one.lift} out {before} > {after}"


def tried(found: Tried) -> Iterator[str]:
    """The floor as if; a line says that nothing is written."""
    act = found.line.need.act
    yield from _hanging("TRYING  ", f"{found.line.need.word} {act.where or ''}: {act.says}")
    yield "Nothing is written. It is done by:"
    yield f"  {found.line.need.command}"
    for moved in found.line.frees:
        if _seen(moved):
            yield f"  {_chances(moved)}"
    yield ""
    yield from text_floor.lines(found.after)


def why(found: Why) -> Iterator[str]:
    """Chains, read downwards; under them what helps, best first."""
    zone, now = found.calendar.zone, found.at
    if not found.chains:
        yield "Nothing waits for anything."
    for one in found.chains:
        said = ""
        if one.promise is not None:
            said = f", promised {words.day_time(one.promise, zone, now)}"
        if one.promise_chance is not None:
            said += f", {_keeping(one.promise_chance)}"
        yield words.cut(f"{one.job}  {one.vehicle}{said}", WIDTH)
        for link in one.links or (Link(1, "nothing is in its way"),):
            yield from _link(link, zone, now)
        yield ""
    if found.helps:
        yield from _columns(found.helps)


def _link(one: Link, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    head = f"{'':{1 + 3 * (one.depth - 1)}}+- "
    says = one.says if one.need is None else f"{one.need.word}  {one.says}"
    if one.need is not None:
        says += f"; {one.need.act.who}, {one.need.act.minutes} min"
    if one.lift_h:
        says += f", frees {one.lift_h:.1f} h"
    if one.until is not None:
        says += f", till about {words.day_time(one.until, zone, now)}"
    yield from _hanging(head, says)
    if one.need is not None:
        yield f"{'':{len(head)}}{one.need.command}"


def _columns(lines: Iterable[HelpLine]) -> Iterator[str]:
    yield f"{'one act each, best first':<50}{'promises kept':>15}{'lift hours':>13}"
    for one in lines:
        what = words.cut(f"{one.place:>3}  {one.need.word} {one.need.act.says}", 50)
        yield f"{what:<50}{one.gain:>+15.1f}{one.lift_h:>+13.1f}"
