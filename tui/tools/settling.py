"""What follows a hire that went back: it arrived, the deposit came, the invoice came."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from store.trouble import Refused
from store.views.tools.hires_back import HireBack
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import maybe
from tui.tools import deeds
from tui.tools.at_hand import AtHand
from tui.tools.typed import or_as_it_is, sum_of
from tui.tools.words import back_words
from tui.words import money, zone_of


async def arrived(at: AtHand) -> None:
    """The supplier has it again.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    back = await _which(at, "arrival", "is still on its way back")
    note = await at.screen.talk.type(
        f"{back.name} arrived at {back.supplier}", "what they say of it (Enter: nothing)", maybe
    )
    await at.screen.act(deeds.arrived(back.hire, note))


async def deposit(at: AtHand) -> None:
    """The deposit came back; less where something was kept.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    back = await _which(at, "deposit", "has a deposit that is out")
    title = f"{back.name}: the deposit of {money(back.deposit)} came back"
    amount = await or_as_it_is(
        at.screen, (title, "amount"), sum_of, back.deposit, money(back.deposit)
    )
    note = None
    if amount < back.deposit:
        note = await at.screen.talk.type(title, "why less (Enter: not said)", maybe)
    await at.screen.act(deeds.deposit(back.hire, amount, note))


@dataclass(frozen=True, slots=True)
class Bill:
    """What an invoice says."""

    amount: float | None = None
    late_fee: float = 0.0
    extras: float = 0.0


async def invoice(at: AtHand) -> None:
    """What a hire came to.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    back = await _which(at, "invoice", "waits for its invoice")
    screen, title = at.screen, f"{back.name}: invoice of {back.supplier}"
    what = Filling(("invoice", back.hire), title, "write it down")

    def entries(found: Bill) -> list[Entry]:
        amount = "not typed yet" if found.amount is None else money(found.amount)
        return [
            Entry("1", "all of it", amount), Entry("2", "late fee in it", money(found.late_fee)),
            Entry("3", "pieces, damage, cleaning", money(found.extras)),
        ]  # fmt: skip

    async def change(key: str, found: Bill) -> Bill:
        labels = {"1": "all of it", "2": "late fee in it", "3": "pieces, damage, cleaning in it"}
        typed = await screen.talk.type(title, labels[key], sum_of)
        field = {"1": "amount", "2": "late_fee", "3": "extras"}[key]
        return replace(found, **{field: typed})

    first = screen.session.filled.get(what.about)
    if first is None:
        first = Bill(await screen.talk.type(title, "all of it", sum_of))
    found = await fill_in(screen, what, first, entries, change)
    if found.amount is None:
        raise Refused("Type what it came to: 1.")
    await screen.act(deeds.invoice(back.hire, found.amount, found.late_fee, found.extras))
    forget(screen, what)


async def _which(at: AtHand, lacks: str, words: str) -> HireBack:
    """The hire on the line, else the one of the kit, else one of all.

    Raises:
        Back: Esc.
        Refused: there is none.
    """
    await somebody(at.screen)
    every = [one for one in at.all_back if lacks in one.to_come]
    if at.back is not None:
        every = [one for one in every if one.hire == at.back.hire]
    elif at.kit is not None and any(one.kit == at.kit.code for one in every):
        every = [one for one in every if one.kit == at.kit.code]
    if not every:
        raise Refused(f"No hire {words}.")
    return every[0] if len(every) == 1 else await _picked(at, every)


async def _picked(at: AtHand, every: Sequence[HireBack]) -> HireBack:
    zone, now = zone_of(at.screen.zone), at.screen.session.now()
    options = [
        Option(key, f"{one.name}: {back_words(one, zone, now)}")
        for key, one in zip(OPTION_KEYS, every, strict=False)
    ]
    chosen = await at.screen.talk.pick("of which hire?", options)
    return every[OPTION_KEYS.index(chosen)]
