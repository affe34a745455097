"""Terms of a supplier, what a kit costs there or to buy, and until when a kit is in date."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import time
from typing import Any

from store.sums.hire_terms import Counts, House, Rates, Weekend
from store.trouble import Refused
from store.views.hires_back import Supply
from store.views.tools_values import KitNow
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import clock_of, some
from tui.tools import deeds
from tui.tools.at_hand import AtHand, known
from tui.tools.typed import day_of, maybe_sum, or_as_it_is, sum_of, whole
from tui.tools.words import date_words, rates_words
from tui.words import counted, money

COUNTS: Mapping[Counts, str] = {
    "hand-over": "to the day it is handed to the carrier", "arrival": "to the day it arrives",
}  # fmt: skip
WEEKEND: Mapping[Weekend, str] = {
    "counted": "counted like other days", "half": "half a day each",
    "free": "free from Friday noon to Monday",
}  # fmt: skip
NEXT_WEEKEND: Mapping[Weekend, Weekend] = {"counted": "half", "half": "free", "free": "counted"}


async def supplier_of(
    screen: Painted[Any], supply: Supply, title: str, hot: str | None, *, known_only: bool = False
) -> str:
    """One of the suppliers that are known, or another that is typed.

    Raises:
        Back: Esc.
        Refused: none is known, and none may be typed.
    """
    names = [*supply.houses] if known_only else [*supply.names]
    names = names[:12]
    if not names and not known_only:
        return await screen.talk.type(title, "supplier", some)
    options = [
        Option(key, name, hot=name == hot) for key, name in zip(OPTION_KEYS, names, strict=False)
    ]
    options += [] if known_only else [Option("z", "another one ...")]
    chosen = await screen.talk.pick(title, options)
    return (
        await screen.talk.type(title, "supplier", some)
        if chosen == "z" else names[OPTION_KEYS.index(chosen)]
    )  # fmt: skip


async def terms(at: AtHand) -> None:
    """How a supplier counts.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    screen = at.screen
    await somebody(screen)
    supply = await known(screen)
    hot = at.kit.supplier if at.kit is not None else None
    name = await supplier_of(screen, supply, "terms of which supplier?", hot)
    what = Filling(("terms", name), f"{name} hires kits out", "so it counts")
    first = supply.houses.get(name, House())

    def entries(found: House) -> list[Entry]:
        return _house_entries(found)

    async def change(key: str, found: House) -> House:
        return await _house_change(screen, what.title, key, found)

    found = await fill_in(screen, what, first, entries, change)
    await screen.act(deeds.know(name, found))
    forget(screen, what)


def _house_entries(house: House) -> list[Entry]:
    return [
        Entry("1", "cut-off", f"{house.cut_off:%H:%M}, later goes the next working day"),
        Entry("2", "days count", COUNTS[house.counts]),
        Entry("3", "week-ends", WEEKEND[house.weekend]),
        Entry("4", "late", f"{house.late:g} x the day rate besides, each day begun"),
        Entry("5", "delivered", f"{counted(house.lead_days, 'working day')} after asking"),
        Entry("6", "on its way back", counted(house.back_days, "working day")),
        Entry("7", "cleaning", f"{money(house.cleaning)} for a kit that comes back dirty"),
    ]


async def _house_change(screen: Painted[Any], title: str, key: str, house: House) -> House:
    match key:
        case "1":
            cut, says = house.cut_off, f"{house.cut_off:%H:%M}"
            cut_off = await or_as_it_is(screen, (title, "cut-off"), _clock, cut, says)
            return replace(house, cut_off=cut_off)
        case "2":
            counts: Counts = "arrival" if house.counts == "hand-over" else "hand-over"
            return replace(house, counts=counts)
        case "3":
            return replace(house, weekend=NEXT_WEEKEND[house.weekend])
        case "4":
            late = await _sum(screen, (title, "late, times the day rate"), house.late)
            return replace(house, late=late)
        case "5":
            lead = await _days(screen, (title, "working days to delivery"), house.lead_days)
            return replace(house, lead_days=lead)
        case "6":
            back = await _days(screen, (title, "working days back"), house.back_days)
            return replace(house, back_days=back)
        case _:
            cleaning = await _sum(screen, (title, "cleaning"), house.cleaning)
            return replace(house, cleaning=cleaning)


async def _sum(screen: Painted[Any], asked: tuple[str, str], before: float) -> float:
    return await or_as_it_is(screen, asked, sum_of, before, f"{before:g}")


async def _days(screen: Painted[Any], asked: tuple[str, str], before: int) -> int:
    return await or_as_it_is(screen, asked, whole, before, f"{before}")


def _clock(text: str) -> time:
    return time(*clock_of(text))


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
            return replace(found, day=await _sum(screen, (title, "a day"), found.day))
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
            carriage = await _sum(screen, (title, "carriage each way"), found.carriage)
            return replace(found, carriage=carriage)
        case _:
            return replace(found, deposit=await _sum(screen, (title, "deposit"), found.deposit))


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
