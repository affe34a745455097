"""The estimate as text."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, tzinfo

from store.views.estimate import Estimate, EstimateLine, ForkLine, KitLine
from tui import words

WIDTH = 80


def lines(found: Estimate, zone: tzinfo, now: datetime) -> Iterator[str]:
    """The route with its hours, at most 80 columns."""
    yield f"{'':2}{'phase':<44}{'book':>7}{'est':>7}{'caut':>7}   jobs"
    for one in found.route:
        yield words.cut(_line(one), WIDTH)
    total = found.total
    yield (
        f"  {'labour together':<44}{'':>7}{words.tenth(total.middle):>7}"
        f"{words.tenth(total.cautious):>7}"
    )
    low, high = total.quantiles[1], total.quantiles[17]
    yield f"  8 in 10 between {words.tenth(low)} and {words.hours(high)}; {_source(found)}"
    if found.saves_h > 0.005:
        yield f"  access shared saves {words.hours(found.saves_h)}"
    if found.labour_money is not None:
        yield f"  labour {words.money(found.labour_money)} {found.currency}"
    for kit in found.kits:
        yield words.cut(f"  kit {kit.kit}, {_whose(kit)}, for phase {', '.join(kit.phases)}", WIDTH)
        if kit.says:
            yield from (f"    {line}" for line in words.wrapped(kit.says, WIDTH - 4))
    if found.options:
        assumed = ", ".join(f"{key}={value}" for key, value in found.options)
        yield words.cut(f"  taken as known: {assumed}", WIDTH)
    for fork in (*found.forks, *found.unknown):
        yield from _fork(fork)
    for extra in found.extras:
        adds, later = words.tenth(extra.adds_h), words.hours(extra.alone_h)
        yield f"  {words.cut(extra.text, 34):<36}adds {adds} now; later, alone, {later}"
    yield from _promises(found, zone, now)
    if found.by is not None:
        at, keeping = found.by
        when = words.day_time(at, zone, now)
        said = "nobody knows yet" if keeping is None else _in_words(words.chance(keeping))
        yield f"  done by {when}: {said}"


def _whose(kit: KitLine) -> str:
    """`ours`, `hire 2 days, 38`"""
    if kit.owned:
        return "ours"
    cost = "" if kit.cost is None else f", {words.money(kit.cost)}"
    return f"hire {words.counted(kit.days, 'day')}{cost}"


def _in_words(chance: words.Chance) -> str:
    return f"{chance.word} {chance.tenths}".rstrip()


def _source(found: Estimate) -> str:
    return "from the work book" if found.says == "book" else found.says


def _line(one: EstimateLine) -> str:
    name = one.name if one.kind == "labour" else f"{one.name} ({one.kind})"
    known = str(one.finished_before) if one.finished_before else "book"
    return (
        f"{one.phase:>4} {words.cut(name, 40):<41}{words.tenth(one.book_h):>7}"
        f"{words.tenth(one.figures.middle):>7}{words.tenth(one.figures.cautious):>7}   {known}"
    )


def _fork(fork: ForkLine) -> Iterator[str]:
    """The routes of a decision side by side."""
    yield words.cut(f"  {fork.phase or '?'} {fork.text}", WIDTH)
    for way in fork.ways:
        tenths = "" if way.odds is None else words.chance(way.odds).tenths or "nearly sure"
        yield (
            f"    {words.cut(way.text, 42):<42}{tenths:>13}{words.tenth(way.total.middle):>7}"
            f"{words.tenth(way.total.cautious):>7}"
        )


def _promises(found: Estimate, zone: tzinfo, now: datetime) -> Iterator[str]:
    for chance, at in found.promise:
        sure = words.chance(chance).tenths or words.chance(chance).word
        yield f"  {sure} done by {words.day_time(at, zone, now)}"
