"""A month's accuracy in words: the one place. No word of statistics that is not explained here."""

from __future__ import annotations

from datetime import datetime
from math import floor

from store.sums.accuracy import Accuracy
from store.sums.month.span import MonthSpan
from store.sums.ranged import Ranged, Share, apart, enough
from store.sums.scoring import SHARE
from store.views.month.told_values import Signal

NAMES = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


def named(month: str, beside: str | None = None) -> str:
    """Return `August`, with its year where that is not the year of the month beside it."""
    name = NAMES[int(month[5:]) - 1]
    return name if beside is not None and beside[:4] == month[:4] else f"{name} {month[:4]}"


def percent(share: float) -> int:
    """Return a share as whole per cent, halves away from 0."""
    return floor(share * 100 + 0.5) if share >= 0 else -floor(-share * 100 + 0.5)


def jobs_word(count: int, word: str = "job") -> str:
    """Return `1 job`, `14 jobs`."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def ran(bias: float) -> str:
    """Return `ran 4 % short`, `were 6 % too high`, `came out as told`.

    Args:
        bias: (labour - estimates) / estimates.
    """
    off = percent(bias)
    if off == 0:
        return "came out as told"
    return f"ran {off} % short" if off > 0 else f"were {-off} % too high"


def opening(
    span: MonthSpan, now: Accuracy, before: tuple[str, Accuracy] | None, changed: Signal | None
) -> str:
    """Return the first sentences: how estimates ran, how a month before, since when truer.

    Args:
        before: the newest month before it with jobs to judge.
        changed: the shop's newest change that luck does not explain.
    """
    if now.bias is None:
        return f"Nothing to judge in {named(span.month)}."
    says = f"Estimates {ran(now.bias.value)}"
    if before is not None and before[1].bias is not None:
        says += f"; in {named(before[0], span.month)} {_beside(now.bias, before[1].bias)}"
    return f"{says}. {_verdict(span, now, before, changed)}"


def _beside(now: Ranged, before: Ranged) -> str:
    """Return `it was 6 %` where both ran the same way, else `they ran 6 % short`."""
    off, then = percent(now.value), percent(before.value)
    if off == then:
        return "they did too" if off >= 0 else "they were too"
    if off * then > 0:
        return f"it was {abs(then)} %"
    return f"they {ran(before.value)}"


def _verdict(
    span: MonthSpan, now: Accuracy, before: tuple[str, Accuracy] | None, changed: Signal | None
) -> str:
    if changed is not None and changed.before != changed.after:
        truer = abs(changed.after - 1) < abs(changed.before - 1)
        since = f"{changed.since.year:04d}-{changed.since.month:02d}"
        return f"{'Truer' if truer else 'Further off'} since {named(since, span.month)}."
    if not now.enough:
        return f"{jobs_word(now.jobs)}: too few to say more."
    if before is None or not before[1].enough:
        return "There is no month yet to compare it with."
    if apart(now.bias, before[1].bias):
        return "That is more than luck explains."
    return "The difference may be luck."


def near(now: Accuracy, cautious: float) -> str:
    """Return how many came within a quarter, and how often the cautious figure held.

    Args:
        cautious: the share of jobs in which it is to hold.
    """
    if now.within is None or now.cautious is None:
        return "No job with an estimate was closed."
    held = f"{times(now.cautious.held)}; aim {aim(now.jobs, cautious)}"
    return (
        f"{now.within.held} of {now.jobs} came within a quarter. The cautious figure held {held}"
        f"{_missed(now.cautious, cautious, 'too low', 'higher than it need be')}."
    )


def aim(count: int, cautious: float) -> int:
    """Return in how many of so many jobs the cautious figure is to hold."""
    return floor(count * cautious + 0.5)


def times(count: int) -> str:
    """Return `never`, `once`, `11 times`."""
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")


def _missed(held: Share, aims: float, too_few: str, too_many: str) -> str:
    """Say where luck does not explain how far it lies from its aim."""
    if not enough(held.count) or held.low <= aims <= held.high:
        return ""
    if held.high < aims:
        return f", so it is {too_few} and not by luck"
    return f", so it is {too_many}"


def typically(now: Accuracy) -> str:
    """Return the typical miss and what the bias means, explained in place."""
    if now.miss is None or now.bias is None:
        return ""
    says = f"100 hours told took {percent(1 + now.bias.value)}."
    if not now.enough:
        return says
    return (
        f"Typically off by {percent(now.miss.value)} %: half of the jobs were nearer, half further "
        f"off. {_in_range(now.inside)}{says}"
    )


def _in_range(inside: Share | None) -> str:
    """Return in how many jobs hours lay in the range told, and whether luck explains it."""
    if inside is None or not enough(inside.count):
        return ""
    verdict = _missed(inside, SHARE, "too narrow", "wider than it need be")
    return f"Inside the range in {inside.held} of {jobs_word(inside.count)}; aim 4 of 5{verdict}. "


def scope(extra_h: float, route_h: float, other_h: float) -> str:
    """Say what changed the hours agreed, since jobs are judged with it."""
    parts = [
        f"{what} {'added' if hours > 0 else 'took out'} {abs(hours):.1f} h"
        for what, hours in (
            ("extra work agreed", extra_h), ("changed routes", route_h),
            ("what was left out or taken back", other_h),
        )
        if abs(hours) >= 0.05
    ]  # fmt: skip
    if not parts:
        return ""
    told = ", ".join(parts)
    return f"{told[0].upper()}{told[1:]}: jobs are judged with it, as it was agreed."


def line_says(found: Accuracy, of: str = "job") -> str:
    """Return a line's sentence; too few say only what they took."""
    if found.bias is None:
        return "nothing to judge"
    if not found.enough or found.bias.low is None or found.bias.high is None:
        return f"{ran(found.bias.value)}; {jobs_word(found.jobs, of)}, too few to say"
    low, high = found.bias.low, found.bias.high
    if low <= 0 <= high:
        return f"{ran(found.bias.value)}; may be luck"
    ends = sorted((abs(percent(low)), abs(percent(high))))
    return f"{ran(found.bias.value)}; {ends[0]} to {ends[1]} %, 19 in 20 sure"


def promises_say(
    kept: Share | None, first: Share | None, likely: Share | None, due: float | None
) -> str:
    """Return how promises were kept; of those given at a chance, whether as often as was said."""
    if kept is None:
        return "Nobody was promised a day."
    says = [f"{kept.held} of {kept.count} promises were kept"]
    if first is not None and first.held != kept.held:
        says.append(f"{first.held} by what was told first")
    told = ", ".join(says) + "."
    if likely is None or due is None:
        return told
    should = floor(likely.count * due + 0.5)
    told += f" Of {likely.count} given at a chance {likely.held} held, {should} should have"
    if not enough(likely.count):
        return f"{told}: too few to tell."
    if likely.low <= due <= likely.high:
        return f"{told}: as they should, but for luck."
    return f"{told}: {'too few' if likely.high < due else 'more than was said'}, and not by luck."


def nothing_closed(span: MonthSpan) -> str:
    """Say that no job was closed, and what to do."""
    if span.running:
        return f"No job was closed in {named(span.month)} yet: look at a month before."
    return f"No job was closed in {named(span.month)}: nothing to judge. Look at another month."


def told_so_far(span: MonthSpan, now: datetime) -> str:
    """Say that a month still runs. `now`: in the shop's zone."""
    return f"{named(span.month)} still runs: told up to {now:%a} {now.day} {now:%b %H:%M}."
