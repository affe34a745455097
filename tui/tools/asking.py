"""Asking a supplier for a kit: everything is proposed, Enter takes it as it stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from store.file.kits.terms import Offer
from store.trouble import Refused
from store.views.tools.hires_back import Supply
from store.views.tools.values import Advice, KitNow, KitWanted
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import maybe, some
from tui.tools import deeds
from tui.tools.at_hand import AtHand, known
from tui.tools.days import step_words
from tui.tools.deeds import Asking
from tui.tools.typed import LIKE, back_by, here_on, or_as_it_is
from tui.tools.words import need_words, rates_words
from tui.words import day_time, zone_of

ANOTHER, ANY = "o", "a"
SOON, LATER = "as soon as the supplier can", "not said yet"


async def ask(at: AtHand) -> None:
    """Ask for the kit at hand.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await ask_for(at.screen, at.the_kit)


async def ask_for(screen: Painted[Any], kit: KitNow, job: str | None = None) -> None:
    """Ask for a kit; supplier, job and days are proposed from the advice.

    Args:
        job: for which; None takes the one that needs it first.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    supply = await known(screen)
    first = proposed(kit, supply, job)
    what = Filling(("asked", f"{kit.code} {job or ''}"), f"{kit.name}: asked for", "ask for it")

    def entries(found: Asking) -> list[Entry]:
        return _entries(screen, found)

    async def change(key: str, found: Asking) -> Asking:
        return await _change(screen, kit, supply, key, found)

    def facts(found: Asking) -> Sequence[str]:
        return tuple(_facts(screen, kit, supply, found))

    found = await fill_in(screen, what, first, entries, change, facts=facts)
    if found.supplier is None:
        raise Refused("Say at whose it is asked for: 1 names the supplier.")
    await screen.act(deeds.ask(kit.code, found))
    forget(screen, what)


def proposed(kit: KitNow, supply: Supply, job: str | None) -> Asking:
    """What the forecast and the terms say: whose, for which job, from when to when."""
    need, advice = _need(kit, job), _advice(kit, job)
    offers = supply.offers.get(kit.code, ())
    supplier = advice.supplier if advice is not None else None
    supplier = supplier or (offers[0].supplier if len(offers) == 1 else kit.supplier)
    if supplier is None and len(supply.names) == 1:
        supplier = supply.names[0]
    whose = job or (need.job if need is not None else None)
    if advice is not None:
        return Asking(supplier, whose, advice.best.since, advice.best.until)
    return Asking(supplier, whose)


def _need(kit: KitNow, job: str | None) -> KitWanted | None:
    """The stretch to come that has no hire of its own."""
    has = {one.job for one in kit.hires}
    wanted = [one for one in kit.needed_by if job in (None, one.job) and one.job not in has]
    return min(wanted, key=lambda one: one.since, default=None)


def _advice(kit: KitNow, job: str | None) -> Advice | None:
    advice = kit.advice
    asks = advice is not None and advice.hire is None and job in (None, advice.job)
    return advice if asks else None


def _entries(screen: Painted[Any], found: Asking) -> list[Entry]:
    why = [Entry("5", "why all the same", found.why)] if found.why else []
    return [
        Entry("1", "supplier", found.supplier or "not said"),
        Entry("2", "for", found.job or "any job"),
        Entry("3", "comes", _day(screen, found.expected, SOON)),
        Entry("4", "goes back", _day(screen, found.due, LATER)),
        *(why or [Entry("5", "why all the same", "only where no job needs it")]),
    ]


def _day(screen: Painted[Any], at: datetime | None, unknown: str) -> str:
    return unknown if at is None else day_time(at, zone_of(screen.zone), screen.session.now())


def _facts(
    screen: Painted[Any], kit: KitNow, supply: Supply, found: Asking
) -> Iterator[str]:  # fmt: skip
    zone, now = zone_of(screen.zone), screen.session.now()
    need = _need(kit, found.job)
    if need is not None:
        yield f"Needed by {need_words(need, zone, now)}."
    offer = _offer(supply, kit.code, found.supplier)
    if offer is not None:
        yield f"{offer.supplier}: {rates_words(offer.terms.rates)}."
    advice = _advice(kit, found.job)
    if advice is not None and step_words(advice, zone, now):
        yield f"Back on {step_words(advice, zone, now)}"


def _offer(supply: Supply, kit: str, supplier: str | None) -> Offer | None:
    return next((one for one in supply.offers.get(kit, ()) if one.supplier == supplier), None)


async def _change(
    screen: Painted[Any], kit: KitNow, supply: Supply, key: str, found: Asking
) -> Asking:
    title = f"{kit.name}: asked for"
    match key:
        case "1":
            return replace(found, supplier=await _supplier(screen, kit, supply, found))
        case "2":
            return replace(found, job=await _job(screen, kit, found))
        case "3":
            expected = await or_as_it_is(
                screen, (title, "comes"), lambda text: here_on(screen, text), found.expected,
                _day(screen, found.expected, SOON), (LIKE,),
            )  # fmt: skip
            early = expected is not None and found.due is not None and found.due <= expected
            return replace(found, expected=expected, due=None if early else found.due)
        case "4":
            offer = _offer(supply, kit.code, found.supplier)
            cut = offer.terms.house.cut_off if offer is not None else None
            due = await or_as_it_is(
                screen, (title, "goes back"), lambda text: back_by(screen, text, cut), found.due,
                _day(screen, found.due, LATER), (LIKE,),
            )  # fmt: skip
            return replace(found, due=due)
        case _:
            why = await screen.talk.type(title, "why all the same (Enter: no reason)", maybe)
            return replace(found, why=why)


async def _supplier(screen: Painted[Any], kit: KitNow, supply: Supply, found: Asking) -> str:
    """One of those known, those who offer it first; or one that is typed."""
    offers = supply.offers.get(kit.code, ())
    rates = {one.supplier: rates_words(one.terms.rates) for one in offers}
    names = [*rates, *(name for name in supply.names if name not in rates)][:12]
    if not names:
        return await screen.talk.type(f"{kit.name}: asked for", "at which supplier's", some)
    options = [
        Option(key, f"{name}   {rates.get(name, '')}".rstrip(), hot=name == found.supplier)
        for key, name in zip(OPTION_KEYS, names, strict=False)
    ]
    options.append(Option("z", "another one ..."))
    chosen = await screen.talk.pick(f"{kit.name}: at which supplier's?", options)
    if chosen == "z":
        return await screen.talk.type(f"{kit.name}: asked for", "at which supplier's", some)
    return names[OPTION_KEYS.index(chosen)]


async def _job(screen: Painted[Any], kit: KitNow, found: Asking) -> str | None:
    """One of the jobs that need it, another, or any."""
    zone, now = zone_of(screen.zone), screen.session.now()
    needs = {one.job: one for one in kit.needed_by}
    jobs = [*needs][:9]
    options = [
        Option(key, need_words(needs[job], zone, now), hot=job == found.job)
        for key, job in zip(OPTION_KEYS, jobs, strict=False)
    ]
    options += [Option(ANY, "any job that needs it"), Option(ANOTHER, "another job ...")]
    chosen = await screen.talk.pick(f"{kit.name}: for which job?", options)
    if chosen == ANY:
        return None
    if chosen == ANOTHER:
        return await screen.talk.type(f"{kit.name}: for which job?", "number", some)
    return jobs[OPTION_KEYS.index(chosen)]
