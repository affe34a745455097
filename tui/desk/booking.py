"""The day on which a vehicle is to come, what is to be remembered of it, and a deposit."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from store.views.desk.at_desk import AtDesk
from tui.desk import deeds
from tui.desk.reading import amount, day_to_come, day_words
from tui.desk.words import title
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.when import maybe
from tui.words import local, money, zone_of


@dataclass(frozen=True, slots=True)
class Booking:
    """What is to be remembered of a day that is booked."""

    note: str | None = None
    deposit: float | None = None


async def book(screen: Painted[Any], here: AtDesk) -> None:
    """Have the day booked on which it comes; a note and a deposit where there are such.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    await somebody(screen)
    now, zone = screen.session.now(), zone_of(screen.zone)
    day: date = await screen.talk.type(
        title(here, "on which day does it come?"), "day",
        lambda text: day_to_come(text, now, zone), facts=("Like thu, tomorrow or 22 oct.",),
    )  # fmt: skip
    words = day_words(day, local(now, zone).date())
    asks = title(here, f"it comes {words}")
    what = Filling(("booked", here.job), asks, f"book it for {words}")

    def entries(found: Booking) -> list[Entry]:
        paid = "none" if found.deposit is None else money(found.deposit)
        return [Entry("n", "to remember", found.note or "nothing"), Entry("d", "deposit", paid)]

    async def change(key: str, found: Booking) -> Booking:
        if key == "n":
            note = screen.talk.type(asks, "to be remembered (Enter: nothing)", maybe,
                                    text=found.note or "")  # fmt: skip
            return replace(found, note=await note)
        paid = screen.talk.type(asks, "deposit (Enter: none)", amount)
        return replace(found, deposit=await paid)

    found = await fill_in(screen, what, Booking(), entries, change)
    await screen.act(deeds.book(here.job, day, found.note, found.deposit))
    forget(screen, what)
