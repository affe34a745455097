"""What a kit costs at a supplier's or to buy, and until when it is in date."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from store.sums.hires.terms import Rates
from store.trouble import Refused
from store.views.tools.hires_back import Supply
from store.views.tools.values import KitNow
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import some
from tui.tools import deeds
from tui.tools.at_hand import AtHand, known
from tui.tools.typed import day_of, maybe_sum, or_as_it_is, sum_of, sum_or, whole
from tui.tools.words import date_words, rates_words
from tui.words import counted, money


async def rates(at: AtHand) -> None:
    """What the kit at hand costs at a supplier's, or to buy.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    screen, kit = at.screen, at.the_kit
    await somebody(screen)
    supply = await known(screen)
    offers = {one.supplier: one.terms.rates for one in supply.offers.get(kit.code, ())}
    names = [*supply.houses][:12]
    options = [
        Option(key, f"{name}   {rates_words(offers[name]) if name in offers else 'not offered'}")
        for key, name in zip(OPTION_KEYS, names, strict=False)
    ]
    options.append(Option("y", f"to buy   {_buy_words(supply, kit.code)}"))
    facts = () if names else ("No supplier is known yet: t on the screen says how one counts.",)
    chosen = await screen.talk.pick(f"{kit.name}: what does it cost where?", options, facts=facts)
    if chosen == "y":
        await _price(screen, kit, supply)
    else:
        name = names[OPTION_KEYS.index(chosen)]
        await _rates(screen, kit, name, offers.get(name))


def _buy_words(supply: Supply, code: str) -> str:
    price = supply.prices.get(code)
    if price is None or price.buy is None:
        return "not known"
    return f"{money(price.buy)}, {money(price.upkeep)} a year to keep, {price.life_years:g} years"


async def _rates(screen: Painted[Any], kit: KitNow, name: str, before: Rates | None) -> None:
    """Rates of a supplier; where there are some, that they are gone."""
    title = f"{kit.name} at {name}"
    what = Filling(("rates", f"{kit.code} {name}"), title, "so it costs")
    if before is not None:
        options = [Option("1", "costs otherwise ...", hot=True), Option("2", "not hired out there")]
        if await screen.talk.pick(f"{title}: {rates_words(before)}", options) == "2":
            await screen.act(deeds.offer_gone(kit.code, name))
            return
    elif what.about not in screen.session.filled:
        before = Rates(await screen.talk.type(title, "a day", sum_of))

    async def change(key: str, found: Rates) -> Rates:
        return await _rate_change(screen, title, key, found)

    found = await fill_in(screen, what, before or Rates(0.0), _rate_entries, change)
    await screen.act(deeds.offer(kit.code, name, found))
    forget(screen, what)


def _rate_entries(found: Rates) -> list[Entry]:
    return [
        Entry("1", "a day", money(found.day)),
        Entry("2", "a week", _maybe(found.week)), Entry("3", "a month", _maybe(found.month)),
        Entry("4", "paid at least", counted(found.minimum_days, "day")),
        Entry("5", "carriage", f"{money(found.carriage)} each way"),
        Entry("6", "deposit", money(found.deposit)),
    ]  # fmt: skip


def _maybe(rate: float | None) -> str:
    return "no such rate" if rate is None else money(rate)


async def _rate_change(screen: Painted[Any], title: str, key: str, found: Rates) -> Rates:
    kind = screen.talk.type
    match key:
        case "1":
            return replace(found, day=await sum_or(screen, (title, "a day"), found.day))
        case "2":
            return replace(found, week=await kind(title, "a week (Enter: no such rate)", maybe_sum))
        case "3":
            month = await kind(title, "a month (Enter: no such rate)", maybe_sum)
            return replace(found, month=month)
        case "4":
            days, asked = found.minimum_days, (title, "days paid at least")
            least = await or_as_it_is(screen, asked, _one_up, days, f"{days}")
            return replace(found, minimum_days=least)
        case "5":
            carriage = await sum_or(screen, (title, "carriage each way"), found.carriage)
            return replace(found, carriage=carriage)
        case _:
            return replace(found, deposit=await sum_or(screen, (title, "deposit"), found.deposit))


def _one_up(text: str) -> int:
    found = whole(text)
    if found < 1:
        raise Refused("At least one day is paid. Type 1 or more.")
    return found


@dataclass(frozen=True, slots=True)
class ToBuy:
    """What a kit costs to buy and to keep."""

    buy: float | None = None
    upkeep: float = 0.0
    life_years: float = 8.0


async def _price(screen: Painted[Any], kit: KitNow, supply: Supply) -> None:
    """What a kit costs to buy: with it hire or buy can be told."""
    title, known_price = f"{kit.name}: to buy", supply.prices.get(kit.code)
    what = Filling(("to buy", kit.code), title, "so it costs")
    first = ToBuy()
    if known_price is not None:
        first = ToBuy(known_price.buy, known_price.upkeep, known_price.life_years)
    if first.buy is None and what.about not in screen.session.filled:
        first = replace(first, buy=await screen.talk.type(title, "price", sum_of))

    def entries(found: ToBuy) -> list[Entry]:
        return [
            Entry("1", "price", _maybe(found.buy)),
            Entry("2", "to keep", f"{money(found.upkeep)} a year: calibration, repairs, room"),
            Entry("3", "lasts", f"{found.life_years:g} years"),
        ]  # fmt: skip

    async def change(key: str, found: ToBuy) -> ToBuy:
        labels = {"1": "price", "2": "to keep, a year", "3": "lasts, years"}
        typed = await screen.talk.type(title, labels[key], sum_of)
        return replace(found, **{{"1": "buy", "2": "upkeep", "3": "life_years"}[key]: typed})

    found = await fill_in(screen, what, first, entries, change)
    await screen.act(deeds.price(kit.code, found.buy, found.upkeep, found.life_years))
    forget(screen, what)


async def in_date(at: AtHand) -> None:
    """Until when a kit of the shop is calibrated or inspected.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    screen, kit = at.screen, at.the_kit
    await somebody(screen)
    if not kit.owned:
        raise Refused(
            f"{kit.name} is hired: the date that it carries is written down when it comes."
        )
    title = f"{kit.name} was calibrated or inspected"
    facts: Sequence[str] = ("The last day on which it may be used, like 2027-03-31.",)
    if kit.valid_until is not None:
        facts = (*facts, f"So far in date until {date_words(kit.valid_until)}.")
    until = await screen.talk.type(title, "in date until", day_of, facts=facts)
    source = await screen.talk.type(title, "who did it, or which paper says so", some)
    await screen.act(deeds.date_kit(kit.code, until, source))
