"""A kit that came is looked through piece by piece on the day it comes; what lacked came later."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from store.views.parts_values import HireOut
from store.views.tools.values import KitNow
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.when import maybe
from tui.tools import deeds
from tui.tools.at_hand import AtHand, coming, here_now, one_of
from tui.tools.deeds import Looked
from tui.tools.typed import LIKE, back_by, cut_off_of, day_of, or_as_it_is
from tui.tools.words import date_words
from tui.words import counted, day_time, listed, zone_of

PIECE_KEYS = "123456789abcefghijklm"
"""Keys of pieces in their order; the letters that are left are the lines under them."""
LONGEST = len(PIECE_KEYS)
NO_LIST = "The work book does not say what belongs to it: see the supplier's list."


@dataclass(frozen=True, slots=True)
class Found:
    """What the list says so far.

    Attributes:
        lacking: places of the pieces that lack.
    """

    lacking: frozenset[int] = field(default_factory=frozenset[int])
    rest: Looked = field(default_factory=Looked)


async def receive(at: AtHand) -> None:
    """Look the kit at hand through.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    kit = at.the_kit
    none = f"{kit.name} is not on its way here: nobody asked for it."
    if here_now(kit):
        none = f"{kit.name} is here already."
    hire = await one_of(at.screen, kit, coming(kit), "which came?", none)
    await look_through(at.screen, kit, hire)


async def look_through(screen: Painted[Any], kit: KitNow, hire: HireOut) -> None:
    """Have each piece of its list looked for; a digit says that it lacks.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    pieces = kit.contains[:LONGEST]
    title = f"{kit.name} from {hire.supplier} is here"
    what = Filling(("looked through", hire.hire), title, "so it is here")
    first = Found(rest=Looked(due=None))

    def entries(found: Found) -> list[Entry]:
        return [*_pieces(pieces, found), *_rest(screen, hire, found)]

    async def change(key: str, found: Found) -> Found:
        if key in PIECE_KEYS and PIECE_KEYS.index(key) < len(pieces):
            return replace(found, lacking=found.lacking ^ {PIECE_KEYS.index(key)})
        return replace(found, rest=await _change(screen, title, key, (hire, found.rest)))

    def facts(found: Found) -> Sequence[str]:
        return (_head(pieces, found),)

    found = await fill_in(screen, what, first, entries, change, facts=facts)
    if hire.due is None and found.rest.due is None:
        due = await _goes_back(screen, title, hire, found.rest)
        found = replace(found, rest=replace(found.rest, due=due))
    missing = [pieces[n] for n in sorted(found.lacking)]
    await screen.act(deeds.receive(hire.hire, replace(found.rest, missing=missing)))
    forget(screen, what)


def _head(pieces: Sequence[str], found: Found) -> str:
    if not pieces:
        return NO_LIST
    lacks = len(found.lacking)
    so_far = f"{lacks} of them lack" if lacks else "all are there"
    return f"{counted(len(pieces), 'piece')}, {so_far}: the key of a piece says that it lacks."


def _pieces(pieces: Sequence[str], found: Found) -> list[Entry]:
    return [
        Entry(PIECE_KEYS[n], piece, "LACKS" if n in found.lacking else "there")
        for n, piece in enumerate(pieces)
    ]


def _rest(screen: Painted[Any], hire: HireOut, found: Found) -> list[Entry]:
    rest, zone, now = found.rest, zone_of(screen.zone), screen.session.now()
    due = rest.due or hire.due
    carries = date_words(rest.valid_until) if rest.valid_until else "it carries no date"
    return [
        Entry("w", "variant", "the WRONG one" if rest.wrong else "the right one"),
        Entry("n", "lacks besides", rest.note or "nothing"),
        Entry("s", "serial", rest.serial or "not read"),
        Entry("v", "in date until", carries),
        Entry("d", "goes back", day_time(due, zone, now) if due else "nobody said yet"),
    ]


async def _change(screen: Painted[Any], title: str, key: str, at: tuple[HireOut, Looked]) -> Looked:
    hire, rest = at
    match key:
        case "w":
            return replace(rest, wrong=not rest.wrong)
        case "n":
            note = await screen.talk.type(title, "lacks besides (Enter: nothing)", maybe)
            return replace(rest, note=note)
        case "s":
            serial = await screen.talk.type(title, "serial number (Enter: none)", maybe)
            return replace(rest, serial=serial)
        case "v":
            until = await screen.talk.type(
                title, "in date until (Enter: no date)", lambda t: day_of(t) if t else None,
                facts=("The date on it, like 2027-03-31.",),
            )  # fmt: skip
            return replace(rest, valid_until=until)
        case _:
            return replace(rest, due=await _goes_back(screen, title, hire, rest))


async def _goes_back(
    screen: Painted[Any], title: str, hire: HireOut, rest: Looked
) -> datetime:  # fmt: skip
    """The day on which it goes back; Enter leaves the one that was said."""

    def read(text: str) -> datetime:
        return back_by(screen, text, cut_off_of(hire))

    before, facts = rest.due or hire.due, (LIKE,)
    if before is None:
        return await screen.talk.type(title, "goes back", read, facts=facts)
    says = day_time(before, zone_of(screen.zone), screen.session.now())
    return await or_as_it_is(screen, (title, "goes back"), read, before, says, facts)


async def mended(at: AtHand) -> None:
    """What lacked of the kit at hand came, or the right variant did.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    kit, screen = at.the_kit, at.screen
    await somebody(screen)
    broken = [one for one in here_now(kit) if not one.whole]
    hire = await one_of(screen, kit, broken, "which is whole now?",
                        f"Nothing lacks of {kit.name}.")  # fmt: skip
    lacked = "the right variant" if hire.wrong else listed(hire.missing) or hire.note or "it"
    await screen.talk.pick(f"{kit.name}: {lacked} came", [Option("1", "it is whole now", hot=True)])
    await screen.act(deeds.mend(hire.hire, None))
