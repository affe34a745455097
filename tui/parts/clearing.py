"""What clearing a lift takes and when it pays, in words; the same on screens and as text."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from store.sums.clearing import Worth
from store.views.clearing_values import Clearing
from tui import words

NO_SOURCE = (
    "Hours and people are common practice, no source: the makers' manuals and the qualified "
    "person decide."
)
NUMBERS = {1: "one person", 2: "two people"}
FEW, MANY = 0.05, 0.95
"""Beyond these nothing is known."""


def clearing_lines(one: Clearing) -> list[str]:
    """Why it stands, what leaving costs, when that pays, who comes, what is won, where to."""
    lines = [waiting(one), *weighed(one)]
    if one.worth is not None:
        lines.append(_won(one.worth))
    if one.cost is not None:
        lines.append(_where(one))
    return lines


def weighed(one: Clearing) -> list[str]:
    """What it costs, when it pays, and for whom."""
    return [leaving(one), *paying(one), _comes(one)]


def waiting(one: Clearing) -> str:
    """Why it cannot go on, since when, and how much longer."""
    zone = ZoneInfo(one.zone)
    parts = [one.waits]
    if one.since is not None:
        parts[0] += f" since {words.day_time(one.since, zone, one.at)}"
    if one.until is not None:
        parts.append(f"over {words.day_time(one.until, zone, one.at)} as was said")
    return ", ".join([*parts, f"about {words.hours(one.rest_h)} more"])


def leaving(one: Clearing) -> str:
    """What it costs to clear the lift, or why the vehicle stays."""
    if one.cost is None or one.worth is None:
        return f"it {'sits fixed' if one.stands == 'fixed' else one.stands} and stays: {one.why}"
    if one.stands == "drives":
        return "it drives: leaving costs nothing"
    spent = f"{words.tenth(one.cost.low_h)} to {words.hours(one.cost.high_h)}"
    people = NUMBERS.get(one.cost.people, f"{one.cost.people} people")
    labour = f"{words.hours(one.worth.labour_h)} of labour out and in again"
    if one.stands == "rolls":
        return f"it rolls: {spent} and {people} each way, {labour}"
    return f"it sits fixed: closed far enough to roll in {spent} by {people}, {labour}"


def paying(one: Clearing) -> list[str]:
    """Whether it pays, and from which rest of the hold on; nothing where it stays."""
    if one.worth is None:
        return []
    if not one.worth.break_even_h:
        needs = "it costs nothing"
    else:
        longer = one.worth.longer
        odds = (
            "under 5 %" if longer < FEW else "over 95 %" if longer > MANY
            else f"{round(100 * longer)} %"
        )  # fmt: skip
        more = words.hours(one.worth.break_even_h)
        needs = f"worth it from {more} more on, {odds} that it lasts longer"
    match one.verdict:
        case "may pay":
            return [f"may pay: {needs}; on the average it does"]
        case "nobody is ready":
            return [f"nobody ready needs it: {needs}"]
        case "no place":
            return [f"the shop has no yard for it: {needs}"]
        case word:
            return [f"{word}: {needs}"]


def _comes(one: Clearing) -> str:
    if one.comes:
        first, *rest = one.comes
        more = f", then {', '.join(rest)}" if rest else ""
        return f"{first} is ready for it{more}"
    if one.other is not None:
        return f"no ready job needs it: {one.other[0]} can have lift {one.other[1]}"
    return "no ready job needs it"


def _won(worth: Worth) -> str:
    span = f"{words.tenth(worth.low_h)} to {words.hours(worth.high_h)}"
    return f"wins {words.hours(worth.won_h)} of the lift on the average, {span} likely"


def _where(one: Clearing) -> str:
    to = f"to {' or '.join(one.yards)}" if one.yards else "no yard is there"
    if one.unit_at is not None:
        return f"{to}; its unit is at {one.unit_at}"
    if one.stands == "fixed" and one.unit_places:
        return f"{to}; a unit to {' or '.join(one.unit_places)}"
    return to
