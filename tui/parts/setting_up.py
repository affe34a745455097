"""What a shop needs before its first job: lifts, people, a work book; asked by forms."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any, Literal, cast

from store.rules.roles import Act, why_not
from store.trouble import Refused
from tui import deeds
from tui.parts.card_out import write_card
from tui.parts.importing import take_history
from tui.parts.on_disk import ask_file
from tui.parts.painted import Painted, digits
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.when import number, some

ROLES = (Option("1", "technician", hot=True), Option("2", "foreman"), Option("3", "owner"))
Kind = Literal["yard", "bench", "stand"]
PLACES = (Option("1", "yard", hot=True), Option("2", "bench"), Option("3", "stand"))
LARGEST_BOOK = 2_000_000
"""Bytes; a longer file is no work book."""


async def add_lift(screen: Painted[Any]) -> None:
    """Add a lift to the shop.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    await somebody(screen)
    code = await screen.talk.type("a new lift", "code, like 1", some)
    kind = await screen.talk.type(f"lift {code}", "kind, like two-post", some)
    rated = await screen.talk.type(
        f"lift {code}, {kind}", "rated capacity, kg", lambda text: number(text, above=0.0),
        facts=("As its plate says. A vehicle that weighs more is refused on it.",),
    )  # fmt: skip
    await screen.act(deeds.add_lift(code, kind, rated))


async def add_place(screen: Painted[Any]) -> None:
    """Add a yard, bench or stand.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    await somebody(screen)
    chosen = await screen.talk.pick("a new place: what is it?", PLACES)
    kind = next(option.words for option in PLACES if option.key == chosen)
    code = await screen.talk.type(f"a new {kind}", "code, like yard", some)
    await screen.act(deeds.add_place(code, cast("Kind", kind)))


async def add_person(screen: Painted[Any]) -> None:
    """Add somebody who works here.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    await somebody(screen)
    name = await screen.talk.type("somebody new", "name", some)
    badge = await screen.talk.type(
        f"badge of {name}", "badge, like B12", lambda text: some(text).upper(), scanned=True,
        facts=("Two to eight capitals and digits, as on the badge; scan it or type it.",),
    )  # fmt: skip
    chosen = await screen.talk.pick(f"{name}, {badge}: which role?", ROLES)
    role = next(option.words for option in ROLES if option.key == chosen)
    await screen.act(deeds.add_person(badge, name, cast("deeds.RoleName", role)))


async def set_pin(screen: Painted[Any]) -> None:
    """Set one's own PIN, typed twice.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    await somebody(screen)
    who = screen.session.who
    assert who is not None
    pin = await screen.talk.type(
        f"a PIN for {who.name}", "new PIN", digits, secret=True,
        facts=("Four to twelve digits. It stands for your name where a badge is not enough.",),
    )  # fmt: skip

    def same(text: str) -> str:
        if digits(text) != pin:
            raise Refused("The two are not the same. Type it again, or Esc goes back.")
        return text

    await screen.talk.type(f"a PIN for {who.name}", "the same again", same, secret=True)
    await screen.act(deeds.set_pin(who.badge, pin))
    screen.session.forget_pin()


async def load_book(screen: Painted[Any]) -> None:
    """Load a work book from a file on this machine.

    Raises:
        Back: left with Esc.
        Trouble: it cannot be read, or has faults; the first is named.
    """
    await somebody(screen)
    _refuse_who_may_not(screen, "load work book")
    shop = screen.session.shop.path
    source = await ask_file(
        screen, "a work book", lambda path: book_text(path, shop),
        facts=("hoistbook workbook starter > book.toml  writes one to change;",
               "hoistbook workbook check book.toml  names every fault with its line."),
    )  # fmt: skip
    await screen.talk.sure(
        "Load this work book? It holds for jobs taken from now on.", "load it", "keep the old one",
        facts=(f"{len(source.splitlines())} lines. Jobs that are under way keep the book that "
               "they began with.",),
    )  # fmt: skip
    await screen.act(deeds.load_book(source))


def _refuse_who_may_not(screen: Painted[Any], act: Act) -> None:
    """Before anything of the machine is looked at."""
    who = screen.session.who
    says = why_not(act, who.role, "") if who is not None else None
    if who is not None and says is not None:
        raise Refused(f"{who.name} {says}")


def book_text(path: Path, shop: Path) -> str:
    """The text of a file.

    Args:
        shop: the shop file, which is never opened here: closing it would drop its locks.

    Raises:
        Refused: it cannot be read, or is no file for that.
    """
    try:
        if not path.is_file():
            raise Refused(f"There is no file {path}. Type where the work book is.")
        beside = (shop, *(shop.with_name(shop.name + end) for end in ("-wal", "-shm")))
        if any(one.exists() and path.samefile(one) for one in beside):
            raise Refused("That is the shop file. Type where the work book is.")
        if path.stat().st_size > LARGEST_BOOK:
            raise Refused(f"{path.name} is too large for a work book.")
        return path.read_text("utf-8")
    except UnicodeDecodeError:
        raise Refused(f"{path.name} is no text in UTF-8.") from None
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else None
        raise Refused(f"{path} cannot be read: {why or error}.") from None


async def erase_a_customer(screen: Painted[Any]) -> None:
    """Erase name and number of a customer; what it needs is loaded when it is wanted."""
    from tui.desk.erasing import erase_a_customer as erase

    await erase(screen)


async def show_outcomes(screen: Painted[Any]) -> None:
    """Show what became of quotes; what it needs is loaded when it is wanted."""
    from tui.desk.outcomes import show_outcomes as show

    await show(screen)


ACTIONS: tuple[tuple[str, Callable[[Painted[Any]], Awaitable[None]], Act | None], ...] = (
    ("adds a lift", add_lift, "add place"),
    ("adds a yard, bench or stand", add_place, "add place"),
    ("adds somebody who works here: people, badge, role", add_person, "add person"),
    ("loads a work book from a file: operations, phases", load_book, "load work book"),
    ("takes in old jobs from a table: history, spreadsheet, CSV", take_history, "import history"),
    ("writes a job card to print: paper, codes, HTML", write_card, None),
    ("erases a customer's name and telephone", erase_a_customer, "erase customer"),
    ("quotes and what became of them", show_outcomes, "give quote"),
    ("sets your PIN", set_pin, "set own pin"),
)
"""For the list of all actions: its words, what does it, and what one must be allowed."""
