"""The customer: name and telephone, kept outside the ledger, and every try to reach them."""

from __future__ import annotations

from typing import Any

from store.trouble import Refused
from store.views.desk.at_desk import AtDesk
from tui.desk import deeds
from tui.desk.words import title
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.talk import Back
from tui.parts.when import coming, maybe
from tui.words import zone_of


async def may_see(screen: Painted[Any]) -> None:
    """Have somebody signed in who may see names of customers.

    Raises:
        Back: nobody came.
        Refused: whoever is here may not.
    """
    await somebody(screen)
    if not screen.session.sees_customers:
        raise Refused("Names of customers are for foreman and owner. Ask one of them.")


async def whose(screen: Painted[Any], title: str, known: tuple[str, str] = ("", "")) -> (
    tuple[str, str] | None
):  # fmt: skip
    """The owner's name and telephone; None where no name was typed.

    Raises:
        Back: left with Esc.
    """
    kept = ("Kept outside the ledger, so that it can be erased.",)
    name = await screen.talk.type(
        title, "owner's name (Enter: not known)", maybe, facts=kept, text=known[0]
    )
    if name is None:
        return None
    telephone = await screen.talk.type(
        title, "telephone (Enter: not known)", maybe, facts=(name,), text=known[1]
    )
    return name, telephone or ""


async def tried(screen: Painted[Any], here: AtDesk) -> None:
    """Have a try to reach the customer written down, and when to try again.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    await somebody(screen)
    asks = title(here, "tried to reach the customer")
    facts = (f"{here.customer[0]}  {here.customer[1]}".strip(),) if here.customer else ()
    key = await screen.talk.pick(
        asks, [Option("1", "not reached", hot=True), Option("2", "reached"),
               Option("3", "wrote a message")], facts=facts,
    )  # fmt: skip
    reached = key == "2"
    means = "text message" if key == "3" else "telephone"
    text = await screen.talk.type(asks, "what was said (Enter: nothing)", maybe, facts=facts)
    now, zone = screen.session.now(), zone_of(screen.zone)
    again = await screen.talk.type(
        asks, "again when (Enter: not set)",
        lambda typed: coming(typed, now, zone) if typed else None,
        facts=("Like fri 10:00, or +2 for two hours from now.",),
    )  # fmt: skip
    await screen.act(deeds.note_call(here.job, means, reached, text, again))


async def owner(screen: Painted[Any], here: AtDesk) -> None:
    """Have the owner's name and telephone kept, or put right.

    Raises:
        Back: left with Esc, or nothing was typed.
        Trouble: refused.
    """
    await may_see(screen)
    known = here.customer or ("", "")
    found = await whose(screen, title(here, "whose is it?"), known)
    if found is None:
        raise Back
    await screen.act(deeds.know_customer(here.job, *found))
