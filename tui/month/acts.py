"""Forms of a month: the book adopts, costs are typed, prices tried, papers written."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from store.rules.roles import TABLE, Act
from store.sums.month.span import is_month
from store.trouble import Refused
from store.views.month.told_values import ShouldSay
from store.views.month.values import Month
from tui import deeds, keys
from tui.month.deeds import write_report
from tui.month.state import Shown
from tui.papers.said import number
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.on_disk import ask_target
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.tools.typed import sum_of
from tui.words import counted, listed, money

if TYPE_CHECKING:
    from store.views.pricing import Pricing

STAYS = "leave the book"


def may(screen: Painted[Any], act: Act, what: str) -> None:
    """Tell at once whom to ask, before anything is typed in vain.

    Raises:
        Refused: whoever is signed in may not do it.
    """
    who, roles = screen.session.who, TABLE[act].roles
    if who is not None and who.role not in roles:
        raise Refused(f"{what} is for the {listed(sorted(roles), 'or')}: ask one of them.")


async def adopt(screen: Painted[Any], shown: Shown, lines: Sequence[ShouldSay]) -> None:
    """Ask once, then let the book say what was learned.

    Raises:
        Back: Esc.
        Trouble: refused; the book may have been changed a moment ago.
    """
    await somebody(screen)
    may(screen, "load work book", "Changing the work book")
    facts = [_says(one) for one in lines]
    facts.append("A new version; jobs that are taken keep theirs, the old one stays in the ledger.")
    await screen.talk.sure(_title(lines), "adopt", STAYS, facts=facts)
    wanted = [(one.operation, one.phase, one.family) for one in lines]
    await screen.act(deeds.adopt(wanted, upon=shown.book))


def _title(lines: Sequence[ShouldSay]) -> str:
    if len(lines) > 1:
        return f"{len(lines)} phases of the work book"
    one = lines[0]
    return f"the work book: {one.name}{f', {one.family}' if one.family else ''}"


def _says(one: ShouldSay) -> str:
    where = f"{one.phase}{f' {one.family}' if one.family else ''}"
    return (
        f"{where}: {number(round(one.book_h, 2))} h, then {number(round(one.low_h, 2))} / "
        f"{number(round(one.should_h, 2))} / {number(round(one.high_h, 2))} h, from "
        f"{counted(one.finished, 'time')}."
    )


async def several(screen: Painted[Any], shown: Shown) -> None:
    """Have some of the lines chosen by their digits, then adopt them at once."""
    sure = shown.sure
    if not sure:
        raise Refused("Nothing in the book is sure enough to be changed.")
    await somebody(screen)
    may(screen, "load work book", "Changing the work book")
    what = Filling(("adopt", shown.month), "which of them does the book say from now on?",
                   "go on with these")  # fmt: skip

    def entries(found: tuple[int, ...]) -> list[Entry]:
        return [
            Entry(f"{n}", "yes" if n in found else "no", _says(one))
            for n, one in enumerate(sure, 1)
        ]

    async def change(key: str, found: tuple[int, ...]) -> tuple[int, ...]:
        n = int(key)
        return tuple(one for one in found if one != n) if n in found else (*found, n)

    first = tuple(range(1, len(sure) + 1))
    chosen = await fill_in(screen, what, first, entries, change)
    forget(screen, what)
    if not chosen:
        raise Refused("None was chosen: the book stays as it is.")
    await adopt(screen, shown, [sure[n - 1] for n in sorted(chosen)])


@dataclass(frozen=True, slots=True)
class Typed:
    """What a month cost, as far as it was typed."""

    month: str
    wages: float | None = None
    overheads: float | None = None


async def costs(screen: Painted[Any], found: Month) -> None:
    """Have wages and overheads of a month typed.

    Raises:
        Back: Esc.
        Trouble: refused: it is not the owner, or they lack.
    """
    await somebody(screen)
    may(screen, "set costs", "What a month cost")
    month = found.span.month
    known = next((one for one in found.prices.costs if one.month == month), None)
    first = Typed(month) if known is None else Typed(month, known.wages, known.overheads)
    what = Filling(("costs", month), f"what {month} cost, in {found.currency}", "write it down")

    def entries(typed: Typed) -> list[Entry]:
        return [
            Entry("1", "wages", f"{_sum(typed.wages)}  with what goes to others on top"),
            Entry("2", "overheads", f"{_sum(typed.overheads)}  rent, power, wear; no parts"),
        ]

    async def change(key: str, typed: Typed) -> Typed:
        if key == "1":
            return replace(typed, wages=await screen.talk.type(what.title, "wages", sum_of))
        return replace(typed, overheads=await screen.talk.type(what.title, "overheads", sum_of))

    facts = _cost_facts(found)
    typed = await fill_in(screen, what, first, entries, change, facts=lambda _: facts)
    if typed.wages is None or typed.overheads is None:
        raise Refused("Wages and overheads are both wanted: 1 and 2 type them.")
    await screen.act(deeds.set_costs(month, typed.wages, typed.overheads))
    forget(screen, what)


def _sum(value: float | None) -> str:
    return "not typed yet" if value is None else money(value)


def _cost_facts(found: Month) -> tuple[str, ...]:
    known = next((one for one in found.prices.costs if one.month == found.span.month), None)
    if known is None or known.taken_from is None:
        return ()
    return (f"So far as in {known.taken_from}: a month without costs takes over the last ones.",)


async def at_rate(screen: Painted[Any], found: Month) -> Pricing:
    """Last year's quotes at a rate that is typed.

    Raises:
        Back: Esc.
        Refused: it is not the owner who asks.
    """
    rate = await screen.talk.type(
        "last year's quotes at another rate", f"an hour, in {found.currency}", _rate
    )
    session, who = screen.session, screen.session.who
    assert who is not None

    def read() -> Pricing:
        from store.views.pricing import pricing

        return pricing(session.shop, session.now(), month=found.span.month, rate=rate, by=who.badge)

    return await asyncio.to_thread(read)


def _rate(text: str) -> float:
    found = sum_of(text)
    if found <= 0:
        raise Refused("A rate is money for an hour, more than 0, like 95.")
    return found


async def another(screen: Painted[Any], shown: Shown) -> str:
    """Have any month typed."""
    months = {one.month for one in shown.months}

    def read(text: str) -> str:
        if not is_month(text):
            raise Refused(f"{text[:12] or 'Nothing'} is no month. Type one like {shown.month}.")
        if text not in months:
            raise Refused(f"The shop has months from {min(months)} to {max(months)}.")
        return text

    return await screen.talk.type("another month", "year and month", read)


async def write(screen: Painted[Any], found: Month) -> None:
    """Write the page for the accountant, and every table beside it.

    Raises:
        Back: Esc.
        Trouble: it cannot be written; what was there is as it was.
    """
    shop, month = screen.session.shop, found.span.month
    target = await ask_target(
        screen, "the month as a page, its tables in a folder beside it", ends=".html",
        text=str(shop.path.parent / f"month-{month}.html"),
        facts=("On this machine, beside the shop file; older ones of that name are replaced.",),
    )  # fmt: skip
    screen.say(await asyncio.to_thread(write_report, shop, found, target))


def nobody_else(found: Month) -> Refused:
    """Why there is nobody to be seen."""
    says = "People's figures are the owner's to see" if found.reader != "owner" else (
        "Nobody worked in this month"
    )  # fmt: skip
    return Refused(keys.filled(f"{says}. {{month.back}} goes back."))
