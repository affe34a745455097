"""`supplier`, `hire terms`, `kit price`, `kit date`: who hires kits out, what they cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import time
from typing import cast, get_args

from store.actions.hires import kit_dates, suppliers
from store.sums.hires.terms import Counts, House, Rates, Weekend
from tui.cli.answer import Answer, Document, encoded
from tui.cli.call import Call
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage
from tui.words import wrapped

KIT = Argument("KIT", "its code in the work book")
NAME = Argument("NAME", "of the supplier; without it all are listed", needed=False)
COUNTED = ("cut-off", "counts", "weekend", "late", "lead", "back", "cleaning")
WIDTH = 80
NOBODY = 'No supplier is known. Like: hoistbook supplier "Loan" --cut-off 15:30 --as F1'


def supplier(call: Call) -> Answer:
    typed = call.typed
    if not typed.has("NAME"):
        if any(typed.has(one) for one in COUNTED):
            raise WrongUsage("supplier lacks NAME: say whose terms these are.")
        return _listed(call)
    cut_off = _clock(typed.maybe("cut-off"))
    late, cleaning = typed.number("late"), typed.number("cleaning")
    lead, back = typed.whole("lead"), typed.whole("back")
    return call.done(
        lambda shop, by: suppliers.know(
            shop, by, name=typed.text("NAME"), cut_off=cut_off,
            counts=cast("Counts | None", typed.maybe("counts")),
            weekend=cast("Weekend | None", typed.maybe("weekend")), late=late, lead_days=lead,
            back_days=back, cleaning=cleaning,
        )
    )  # fmt: skip


def _clock(text: str | None) -> time | None:
    if text is None:
        return None
    hour, sign, minute = text.strip().partition(":")
    whole = sign and hour.isdecimal() and minute.isdecimal() and len(minute) == 2
    if not whole or int(hour) > 23 or int(minute) > 59:
        raise WrongUsage(f"--cut-off HH:MM: {text!r} is no time of day. Write one like 15:30.")
    return time(int(hour), int(minute))


def _listed(call: Call) -> Answer:
    from store.views.tools.hires_back import Supply, supply

    call.check_reader()
    found: Supply = supply(call.shop)
    offers = {
        name: [
            (one.kit, one.terms.rates)
            for each in found.offers.values()
            for one in each
            if one.supplier == name
        ]
        for name in found.houses
    }
    if call.as_json:
        every = [_document(name, house, offers[name]) for name, house in found.houses.items()]
        return Answer((encoded({"suppliers": every}),))
    return Answer(_lines(found.houses, offers))


def _lines(
    houses: Mapping[str, House], offers: Mapping[str, list[tuple[str, Rates]]]
) -> Iterator[str]:
    if not offers:
        yield NOBODY
    for name, house in houses.items():
        yield from wrapped(suppliers.house_words(name, house), WIDTH)
        for kit, rates in offers[name]:
            first, *more = wrapped(f"{kit}: {suppliers.rates_words(rates)}", WIDTH - 6)
            yield f"  {first}"
            yield from (f"      {one}" for one in more)


def _document(name: str, house: House, offers: list[tuple[str, Rates]]) -> Document:
    return {
        "supplier": name, "cut_off": f"{house.cut_off:%H:%M}", "counts": house.counts,
        "weekend": house.weekend, "late": house.late, "lead_days": house.lead_days,
        "back_days": house.back_days, "cleaning": house.cleaning,
        "offers": [
            {
                "kit": kit, "day": one.day, "week": one.week, "month": one.month,
                "minimum_days": one.minimum_days, "carriage": one.carriage,
                "deposit": one.deposit,
            }
            for kit, one in offers
        ],
    }  # fmt: skip


def terms(call: Call) -> Answer:
    typed = call.typed
    money = {one: typed.number(one) for one in ("day", "week", "month", "carriage", "deposit")}
    minimum = typed.whole("minimum")
    if typed.has("gone"):
        if minimum is not None or any(one is not None for one in money.values()):
            raise WrongUsage("Give --gone alone: it is not on offer any more.")
        return call.done(
            lambda shop, by: suppliers.offer_gone(
                shop, by, kit=typed.text("KIT"), supplier=typed.text("supplier")
            )
        )
    return call.done(
        lambda shop, by: suppliers.offer(
            shop, by, kit=typed.text("KIT"), supplier=typed.text("supplier"),
            minimum_days=minimum, **money,
        )
    )  # fmt: skip


def price(call: Call) -> Answer:
    typed = call.typed
    buy, upkeep, years = typed.number("buy"), typed.number("upkeep"), typed.number("years")
    return call.done(
        lambda shop, by: suppliers.price(
            shop, by, kit=typed.text("KIT"), buy=buy, upkeep=upkeep, life_years=years
        )
    )


def dated(call: Call) -> Answer:
    until, typed = call.typed.date("until"), call.typed
    assert until is not None
    return call.done(
        lambda shop, by: kit_dates.know_date(
            shop, by, kit=typed.text("KIT"), until=until, source=typed.text("source")
        )
    )


TERMS = Command(
    ("hire", "terms"), "What a kit costs at a supplier's from now on.", terms,
    "hire terms LS --supplier Loan --day 31 --week 115 --minimum 3 --carriage 18 --as F1", (KIT,),
    (
        Option("supplier", "TEXT", "whose terms", needed=True),
        Option("day", "MONEY", "for a day"), Option("week", "MONEY", "for seven; 0: no such rate"),
        Option("month", "MONEY", "for thirty; 0: no such rate"),
        Option("minimum", "DAYS", "that are paid at least"),
        Option("carriage", "MONEY", "each way"), Option("deposit", "MONEY", "paid before"),
        Option("gone", "", "it is not hired out there any more"), *WRITING,
    ),
    more="Said anew, only what is named changes. What is asked for keeps the terms of its day.",
)  # fmt: skip
COMMANDS = (
    Command(
        ("supplier",), "How a supplier counts the days of a hire; alone: all of them.", supplier,
        "supplier Loan --cut-off 15:30 --counts hand-over --weekend half --lead 2 --as F1",
        (NAME,),
        (
            Option("cut-off", "HH:MM", "until then it counts for the day"),
            Option("counts", "TO", "the last day paid", choices=get_args(Counts)),
            Option("weekend", "RULE", "days of a week-end", choices=get_args(Weekend)),
            Option("late", "X", "times the day rate, besides, for each day begun"),
            Option("lead", "DAYS", "working days from asking to delivery"),
            Option("back", "DAYS", "working days from the carrier to the supplier"),
            Option("cleaning", "MONEY", "for a kit that comes back dirty"), *WRITING,
        ),
        more="Said anew, only what is named changes.",
    ),
    Command(
        ("kit", "price"), "What a kit costs to buy and to keep.", price,
        "kit price LS --buy 640 --upkeep 25 --years 6 --as F1", (KIT,),
        (
            Option("buy", "MONEY", "to buy it"), Option("upkeep", "MONEY", "to keep it, a year"),
            Option("years", "N", "for which it is of use"), *WRITING,
        ),
    ),
    Command(
        ("kit", "date"), "Until when a kit of the shop may be used: calibration, inspection.",
        dated, 'kit date TW --until 2027-03-01 --source "test house, sheet 12" --as B12', (KIT,),
        (
            Option("until", "DATE", "the last day", needed=True),
            Option("source", "TEXT", "who did it, or what says so", needed=True), *WRITING,
        ),
    ),
)  # fmt: skip
