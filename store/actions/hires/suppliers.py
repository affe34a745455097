"""Who hires kits out: how they count, what each kit costs there, and what it costs to buy."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

from store.actions.acting import Acting, Done, acting
from store.actions.hires.kits_found import kit_row, offer_of, plain, refuse_figure, supplier_named
from store.actions.words import money_words
from store.edges.events.hires import KitPriced, OfferKnown, SupplierKnown
from store.file.change import By
from store.file.kits.terms import Price, houses_now, prices_now
from store.file.shop import Shop
from store.sums.hires.terms import Counts, House, Rates, Weekend
from store.trouble import Refused

MOST_TIMES, MOST_DAYS = 10.0, 60
"""A late fee of more day rates, or a longer way, is a slip of the fingers."""


def know(
    shop: Shop,
    by: By,
    *,
    name: str,
    cut_off: time | None = None,
    counts: Counts | None = None,
    weekend: Weekend | None = None,
    late: float | None = None,
    lead_days: int | None = None,
    back_days: int | None = None,
    cleaning: float | None = None,
) -> Done:
    """Write down how a supplier counts; what is not named stays, or is as it usually is.

    Args:
        name: compared without case and blanks.
        late: times the day rate, for each day begun after the day agreed.
        lead_days, back_days: working days.

    Raises:
        Refused: a figure cannot be, or nothing changes.
    """
    with acting(shop, by, "know supplier") as doing:
        refuse_figure(late, "The late fee, times the day rate,", most=MOST_TIMES)
        refuse_figure(lead_days, "The days to delivery", most=MOST_DAYS)
        refuse_figure(back_days, "The days of the way back", most=MOST_DAYS)
        refuse_figure(cleaning, "The cleaning")
        named = supplier_named(doing, name)
        before = houses_now(doing.db).get(named)
        given = {
            "cut_off": cut_off, "counts": counts, "weekend": weekend, "late": late,
            "lead_days": lead_days, "back_days": back_days, "cleaning": cleaning,
        }  # fmt: skip
        said = {key: value for key, value in given.items() if value is not None}
        house = replace(before or House(), **said)  # type: ignore[arg-type]  # fields by name
        if house == before:
            raise Refused(f"{named} counts so already: nothing was changed.")
        doing.record(
            SupplierKnown(
                supplier=named, cut_off=f"{house.cut_off:%H:%M}", counts=house.counts,
                weekend=house.weekend, late=house.late, lead_days=house.lead_days,
                back_days=house.back_days, cleaning=house.cleaning,
            )
        )  # fmt: skip
        return doing.done(house_words(named, house))


def house_words(name: str, house: House) -> str:
    """Say in one sentence how a supplier counts."""
    last = "the hand-over" if house.counts == "hand-over" else "the arrival"
    return (
        f"{name}: delivered {_days(house.lead_days)} after asking, days counted to {last}, "
        f"cut-off {house.cut_off:%H:%M}, week-ends {house.weekend}, {_days(house.back_days)} back, "
        f"late {house.late:g} x the day rate besides, cleaning {money_words(house.cleaning)}."
    )


def _days(n: int) -> str:
    return "1 working day" if n == 1 else f"{n} working days"


def offer(
    shop: Shop,
    by: By,
    *,
    kit: str,
    supplier: str,
    day: float | None = None,
    week: float | None = None,
    month: float | None = None,
    minimum_days: int | None = None,
    carriage: float | None = None,
    deposit: float | None = None,
) -> Done:
    """Write down what a kit costs at a supplier's; what is not named stays.

    Args:
        day: for a day; needed at first.
        week, month: for seven and thirty days; 0: there is no such rate any more.
        carriage: each way.

    Raises:
        NoSuch: no such kit.
        Refused: the supplier is not known, a figure cannot be, or nothing changes.
    """
    with acting(shop, by, "know supplier") as doing:
        row = kit_row(doing, kit)
        named = _known(doing, supplier)
        _refuse_rates(day, week, month, minimum_days, carriage, deposit)
        found = offer_of(doing, kit, named)
        before = None if found is None else found.terms.rates
        if day is None and before is None:
            raise Refused(f"Say what {row['name']} costs a day at {named}: --day MONEY.")
        given = {
            "day": day, "week": week, "month": month, "minimum_days": minimum_days,
            "carriage": carriage, "deposit": deposit,
        }  # fmt: skip
        said = {key: value for key, value in given.items() if value is not None}
        rates = replace(before or Rates(day or 0.0), **said)  # type: ignore[arg-type]  # by name
        rates = replace(rates, week=rates.week or None, month=rates.month or None)
        _refuse_longer(rates)
        if rates == before:
            raise Refused(f"{named} asks that for {kit} already: nothing was changed.")
        _record_offer(doing, kit, named, rates)
        return doing.done(f"{row['name']} at {named}: {rates_words(rates)}.")


def _known(doing: Acting, supplier: str) -> str:
    named = supplier_named(doing, supplier)
    houses = houses_now(doing.db)
    if named not in houses:
        there = ", ".join(houses) or "none"
        raise Refused(
            f"Say first how {named} counts: hoistbook supplier {named!r} --cut-off 15:30. "
            f"Known are: {there}."
        )
    return named


def _refuse_rates(
    day: float | None,
    week: float | None,
    month: float | None,
    minimum_days: int | None,
    carriage: float | None,
    deposit: float | None,
) -> None:
    if day == 0:
        raise Refused("A day costs more than 0: type what the supplier asks.")
    if minimum_days == 0:
        raise Refused("At least one day is paid: give 1 or more.")
    refuse_figure(day, "The rate of a day")
    refuse_figure(week, "The rate of a week")
    refuse_figure(month, "The rate of a month")
    refuse_figure(minimum_days, "The days paid at least", most=366)
    refuse_figure(carriage, "The carriage")
    refuse_figure(deposit, "The deposit")


def _refuse_longer(rates: Rates) -> None:
    """A week costs one to seven days, a month one to thirty: all else is a slip."""
    for name, days, rate in (("week", 7, rates.week), ("month", 30, rates.month)):
        if rate is not None and not rates.day <= rate <= days * rates.day:
            raise Refused(
                f"A {name} at {rate:g} lies outside 1 to {days} days at {rates.day:g}. Check the "
                "figures."
            )


def _record_offer(doing: Acting, kit: str, supplier: str, rates: Rates) -> None:
    doing.record(
        OfferKnown(
            kit=kit, supplier=supplier, day=rates.day, week=rates.week, month=rates.month,
            minimum_days=rates.minimum_days, carriage=rates.carriage, deposit=rates.deposit,
        )
    )  # fmt: skip


def rates_words(rates: Rates) -> str:
    """Say what a kit costs: `31.00 a day, 110.00 a week, at least 3 days`."""
    found = [f"{money_words(rates.day)} a day"]
    if rates.week is not None:
        found.append(f"{money_words(rates.week)} a week")
    if rates.month is not None:
        found.append(f"{money_words(rates.month)} a month")
    if rates.minimum_days > 1:
        found.append(f"at least {rates.minimum_days} days")
    if rates.carriage:
        found.append(f"carriage {money_words(rates.carriage)} each way")
    if rates.deposit:
        found.append(f"deposit {money_words(rates.deposit)}")
    return ", ".join(found)


def offer_gone(shop: Shop, by: By, *, kit: str, supplier: str) -> Done:
    """Write down that a supplier does not hire a kit out any more.

    Raises:
        NoSuch: no such kit.
        Refused: it was not on offer there.
    """
    with acting(shop, by, "know supplier") as doing:
        row = kit_row(doing, kit)
        named = supplier_named(doing, supplier)
        if offer_of(doing, kit, named) is None:
            raise Refused(f"{row['name']} is not on offer at {named}: nothing was changed.")
        doing.record(OfferKnown(kit=kit, supplier=named))
        return doing.done(f"{row['name']} is not hired out by {named} any more.")


def price(
    shop: Shop,
    by: By,
    *,
    kit: str,
    buy: float | None = None,
    upkeep: float | None = None,
    life_years: float | None = None,
) -> Done:
    """Write down what a kit costs to buy and to keep; what is not named stays.

    Args:
        upkeep: a year.
        life_years: for which it is of use.

    Raises:
        NoSuch: no such kit.
        Refused: a figure cannot be, or nothing changes.
    """
    with acting(shop, by, "know supplier") as doing:
        row = kit_row(doing, kit)
        refuse_figure(buy, "The price")
        refuse_figure(upkeep, "The upkeep of a year")
        if life_years is not None and not 0.5 <= life_years <= 50:
            raise Refused(f"A kit is of use for 0.5 to 50 years, not {life_years:g}.")
        before = prices_now(doing.db).get(kit)
        now = before or Price(None, 0.0, 8.0)
        new = Price(
            now.buy if buy is None else buy,
            now.upkeep if upkeep is None else upkeep,
            now.life_years if life_years is None else life_years,
        )
        if new.buy is None:
            raise Refused(f"Say what {row['name']} costs to buy: --buy MONEY.")
        if new == before:
            raise Refused(f"That is written down of {kit} already: nothing was changed.")
        doing.record(KitPriced(kit=kit, buy=new.buy, upkeep=new.upkeep, life_years=new.life_years))
        return doing.done(
            f"{row['name']} costs {money_words(new.buy)} to buy, {money_words(new.upkeep)} a year "
            f"to keep, for {new.life_years:g} years."
        )


__all__ = ["house_words", "know", "offer", "offer_gone", "plain", "price", "rates_words"]
