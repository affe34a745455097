"""`costs`: what a month cost. `prices`: what other hours or another rate would have kept."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tui import deeds
from tui.cli.answer import Answer, Document, encoded, hours, money
from tui.cli.call import Call
from tui.cli.sentences import wrapped
from tui.cli.usage import NOW, READING, WRITING, Argument, Command, Option, WrongUsage
from tui.words import cut, plain

if TYPE_CHECKING:
    from store.views.month.told_values import Costs, Earned, Prices, PriceWay
    from store.views.pricing import Pricing

MONTH = Argument("YYYY-MM", "the month, like 2026-09; without it the one that runs", False)
WIDTH = 80


def costs(call: Call) -> Answer:
    """Type a month's costs; without figures those of twelve months are shown."""
    typed = call.typed
    wages, overheads = typed.number("wages"), typed.number("overheads")
    if wages is None and overheads is None:
        found = _pricing(call)
        if call.as_json:
            return Answer((encoded({
                "month": found.month, "currency": found.currency,
                "costs": [_cost(one) for one in found.prices.costs],
            }),))  # fmt: skip
        return Answer(_cost_lines(found))
    if wages is None or overheads is None:
        raise WrongUsage("costs takes --wages and --overheads together.")
    return call.done(deeds.set_costs(typed.text(MONTH.name), wages, overheads))


def prices(call: Call) -> Answer:
    """Show what other prices would have kept."""
    found = _pricing(call, call.typed.number("rate"))
    return Answer((encoded(document(found)),)) if call.as_json else Answer(lines(found))


def _pricing(call: Call, rate: float | None = None) -> Pricing:
    from store.views.pricing import pricing

    now = call.reading_at()
    return pricing(
        call.shop, now, month=call.typed.maybe(MONTH.name), rate=rate, by=call.maybe_badge()
    )


def document(found: Pricing) -> Document:
    """Prices as their document."""
    return {"month": found.month, "currency": found.currency, **prices_document(found.prices)}


def prices_document(found: Prices) -> Document:
    """The same where the month and the currency are told elsewhere."""
    return {
        "since": found.since.isoformat(), "until": found.until.isoformat(),
        "quotes": [_way(one) for one in found.ways],
        "earned": [_earned(one) for one in found.earned],
        "costs": [_cost(one) for one in found.costs], "says": found.says,
    }  # fmt: skip


def _way(one: PriceWay) -> Document:
    return {
        "hours": one.hours, "rate": money(one.rate), "jobs": one.jobs, "sold": money(one.sold),
        "more": money(one.more), "kept": money(one.kept),
        "below_cost_percent": None if one.below is None else round(100 * one.below.share, 1),
        "says": one.says,
    }  # fmt: skip


def _earned(one: Earned) -> Document:
    return {
        "operation": one.operation, "name": one.name, "jobs": one.jobs,
        "labour_hours": hours(one.labour_h), "fetched_per_hour": money(one.fetched_per_hour),
        "cost_per_hour": money(one.cost_per_hour), "lift_days": round(one.lift_days, 2),
        "per_lift_day": money(one.per_lift_day), "says": one.says,
    }  # fmt: skip


def _cost(one: Costs) -> Document:
    return {
        "month": one.month, "wages": money(one.wages), "overheads": money(one.overheads),
        "attended_hours": hours(one.attended_h), "per_hour": money(one.per_hour),
        "taken_from": one.taken_from, "running": one.running, "seq": one.seq,
    }  # fmt: skip


def lines(found: Pricing) -> Iterator[str]:
    """Prices in words and columns."""
    told = found.prices
    yield f"Quotes of the jobs closed {told.since} to {told.until}, money in {found.currency}"
    yield from wrapped(told.says, WIDTH)
    if told.ways:
        yield ""
        yield f"{'asked at':<26}{'fetched':>13}{'more':>13}{'after cost':>13}{'below cost':>13}"
    for one in told.ways:
        what = one.hours if one.rate is None else f"{one.hours}, at {one.rate:,.2f}"
        below = "" if one.below is None else f"{one.below.held} of {one.below.count}"
        yield (
            f"{what:<26}{_whole(one.sold):>13}{_whole(one.more):>13}{_whole(one.kept):>13}"
            f"{below:>13}"
        )
    if told.earned:
        yield ""
        titles = "".join(f"{one:>12}" for one in ("an hour", "its cost", "lift-day"))
        yield f"{'operation':<26}{'jobs':>6}{'hours':>9}{titles}"
    for each in told.earned:
        yield (
            f"{cut(plain(each.name), 25):<26}{each.jobs:>6}{each.labour_h:>9.1f}"
            f"{_cents(each.fetched_per_hour):>12}{_cents(each.cost_per_hour):>12}"
            f"{_cents(each.per_lift_day):>12}"
        )
    if told.costs:
        yield ""
        yield from _cost_lines(found)


def _cost_lines(found: Pricing) -> Iterator[str]:
    if not found.prices.costs:
        yield from wrapped(found.prices.says, WIDTH)
        return
    yield f"{'month':<9}{'wages':>13}{'overheads':>13}{'attended h':>12}{'an hour':>10}"
    for one in found.prices.costs:
        taken = "  runs" if one.running else ""
        taken += "" if one.taken_from is None else f"  as {one.taken_from}"
        yield (
            f"{one.month:<9}{one.wages:>13,.2f}{one.overheads:>13,.2f}{one.attended_h:>12.1f}"
            f"{_cents(one.per_hour):>10}{taken}"
        )


def _whole(value: float | None) -> str:
    return "not known" if value is None else f"{value:,.0f}"


def _cents(value: float | None) -> str:
    return "not known" if value is None else f"{value:,.2f}"


COMMANDS = (
    Command(
        ("costs",), "Types what a month cost, or shows it.", costs,
        "costs 2026-09 --wages 14200 --overheads 6100 --as A01", (MONTH,),
        (
            Option("wages", "MONEY", "of everybody, with what goes to others on top"),
            Option("overheads", "MONEY", "rent, power, insurance, wear: no parts, no hires"),
            *WRITING,
        ),
        more="A month without costs of its own takes over those of the last one that has some. "
        "Without figures the twelve months up to YYYY-MM are shown.",
    ),
    Command(
        ("prices",), "Shows what other hours or another rate would have kept.", prices,
        "prices 2026-09 --rate 98", (MONTH,),
        (
            Option("rate", "MONEY", "looks at the quotes at this price of an hour"),
            Option("as", "BADGE", "who reads; prices are the owner's"), NOW, *READING,
        ),
        more="The quotes of the jobs closed in the twelve months up to YYYY-MM, had the same "
        "customers said yes: a fixed price keeps a difference, time worked does not.",
    ),
)  # fmt: skip
