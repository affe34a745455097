"""The customer's word on a job: to all of it or a part, on which terms, what is settled ahead."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import TYPE_CHECKING, Any, cast

from store.trouble import Refused
from store.views.desk.at_desk import AtDesk
from tui.desk import deeds
from tui.desk.judging import HOW, MEANS
from tui.desk.reading import amount
from tui.desk.words import BASES, quote_words, title
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import some
from tui.words import day_time, money, zone_of

if TYPE_CHECKING:
    from store.actions.agreeing import WorkedOut

CUSTOMER = "the customer"
BASIS_KEYS: dict[str, deeds.Basis] = {"1": "fixed price", "2": "ceiling", "3": "time"}
DONE = "Enter"


@dataclass(frozen=True, slots=True)
class Word:
    """What the customer said, as far as it was filled in.

    Attributes:
        out: codes of operations that were not agreed.
        ahead: answers given before they are asked, by what they are about.
    """

    out: frozenset[str] = frozenset()
    said_by: str = CUSTOMER
    means: str = MEANS["1"]
    basis: deeds.Basis = "fixed price"
    ceiling: float | None = None
    ahead: Mapping[str, str] = field(default_factory=dict[str, str])
    free_hand: float | None = None


@dataclass(frozen=True, slots=True)
class Promise:
    """What is promised with it, and the hours as they were shown."""

    at: datetime | None = None
    chance: float | None = None
    told: Callable[[], WorkedOut | None] | None = None


async def agree(screen: Painted[Any], here: AtDesk, promised: Promise | None = None) -> None:
    """Have it written down that the customer agreed; the estimate is frozen.

    Raises:
        Back: left with Esc; what was filled in is kept.
        Trouble: refused; what was filled in is kept.
    """
    await somebody(screen)
    if not here.operations:
        raise Refused(f"{here.job} has no work yet. The intake chooses it.")
    quote = here.quote
    at = promised.at if promised is not None else quote.promise if quote else None
    what = Filling(("agreed", here.job), title(here, "the customer agreed"), "agreed so")
    basis = cast("deeds.Basis", (quote.basis if quote else None) or here.basis or "fixed price")
    first = Word(basis=basis, ceiling=quote.ceiling if quote else None)
    facts = quote_words(quote, here.at, here.zone) if quote else ("No quote was given.",)
    if at is not None:
        facts = (*facts, f"promised {day_time(at, zone_of(here.zone), here.at)}")
    found = await fill_in(
        screen, what, first, lambda word: _entries(word, here),
        lambda key, word: _changed(screen, here, key, word),
        facts=lambda word: facts,
    )  # fmt: skip
    kept = tuple(code for code, _ in here.operations if code not in found.out)
    if not kept:
        raise Refused("Nothing of it was agreed. Take one of the lines in again, or Esc.")
    word = deeds.Agreement(
        found.basis, found.ceiling, found.said_by, found.means, quote.number if quote else None,
        kept if found.out else None, tuple(found.ahead.items()), found.free_hand, at,
        promised.chance if promised else None, promised.told if promised else None,
    )  # fmt: skip
    await screen.act(deeds.agree(here.job, word))
    forget(screen, what)


def _entries(word: Word, here: AtDesk) -> list[Entry]:
    part = [name for code, name in here.operations if code not in word.out]
    whole = "all of it: " if not word.out else "in part: "
    terms = BASES[word.basis]
    if word.basis == "ceiling":
        terms += ", not said" if word.ceiling is None else f" of {money(word.ceiling)}"
    ahead = [f"{answer}" for answer in word.ahead.values()]
    found = [
        Entry("1", "to what", whole + " + ".join(part)),
        Entry("2", "by whom", word.said_by),
        Entry("3", "how", word.means),
        Entry("4", "price", terms),
    ]
    if here.ahead:
        found.append(Entry("5", "settled ahead", ", ".join(ahead) or "nothing: we ask then"))
    free = "none: we ask" if word.free_hand is None else f"up to {money(word.free_hand)}"
    return [*found, Entry("6", "free hand", free)]


async def _changed(screen: Painted[Any], here: AtDesk, key: str, word: Word) -> Word:
    match key:
        case "1":
            return replace(word, out=await _part(screen, here, word.out))
        case "2":
            name = await screen.talk.type(
                title(here, "who agreed?"), "who", some, text=word.said_by,
                facts=("A name is kept outside the ledger, so that it can be erased.",),
            )  # fmt: skip
            return replace(word, said_by=name)
        case "3":
            means = await screen.talk.pick(title(here, "how did the word come?"), HOW)
            return replace(word, means=MEANS[means])
        case "4":
            basis, ceiling = await ask_basis(screen, title(here, "who pays an overrun?"),
                                             word.basis, word.ceiling)  # fmt: skip
            return replace(word, basis=basis, ceiling=ceiling)
        case "5":
            return replace(word, ahead=await _ahead(screen, here, word.ahead))
        case _:
            free = await screen.talk.type(
                title(here, "free hand"), "up to (Enter: none)", amount,
                facts=("Money up to which extra work needs no call.",),
                text=f"{word.free_hand:g}" if word.free_hand else "",
            )  # fmt: skip
            return replace(word, free_hand=free)


async def _part(screen: Painted[Any], here: AtDesk, out: frozenset[str]) -> frozenset[str]:
    """Tick what was agreed; a digit takes a line out, or in again."""
    if len(here.operations) < 2:
        raise Refused("It is one piece of work: it is agreed as a whole.")
    done, to_come = screen.session.signs.of("done"), screen.session.signs.of("to come")
    while True:
        options = [
            Option(key, f"{to_come if code in out else done} {name}")
            for key, (code, name) in zip(OPTION_KEYS, here.operations, strict=False)
        ]
        options.append(Option(DONE, "agreed to what is marked", hot=True))
        key = await screen.talk.pick(title(here, "what of it was agreed?"), options)
        if key == DONE:
            return out
        out = out ^ {here.operations[OPTION_KEYS.index(key)][0]}


async def ask_basis(
    screen: Painted[Any], asks: str, basis: deeds.Basis, ceiling: float | None
) -> tuple[deeds.Basis, float | None]:
    """The price basis, and its ceiling where it has one.

    Raises:
        Back: Esc.
    """
    options = [Option(key, BASES[one], hot=one == basis) for key, one in BASIS_KEYS.items()]
    chosen = BASIS_KEYS[await screen.talk.pick(asks, options, facts=(
        "Fixed: the shop pays it. Ceiling: the customer, up to that. Time: the customer.",
    ))]  # fmt: skip
    if chosen != "ceiling":
        return chosen, None
    limit = await screen.talk.type(
        asks, "ceiling", lambda text: amount(some(text)), text=f"{ceiling:g}" if ceiling else ""
    )
    return chosen, limit


async def _ahead(
    screen: Painted[Any], here: AtDesk, ahead: Mapping[str, str]
) -> dict[str, str]:  # fmt: skip
    """What is done where a decision turns out so, or that we ask then; one decision at a time."""
    found = dict(ahead)
    asks = title(here, "which answers need no call any more?")
    while True:
        options = [
            Option(key, f"{one.about}   {found.get(one.about, 'we ask then')}")
            for key, one in zip(OPTION_KEYS, here.ahead, strict=False)
        ]
        key = await screen.talk.pick(asks, [*options, Option(DONE, "settled so", hot=True)])
        if key == DONE:
            return found
        one = here.ahead[OPTION_KEYS.index(key)]
        answers = [Option(key, text) for key, text in zip(OPTION_KEYS, one.answers, strict=False)]
        key = await screen.talk.pick(
            f"{here.job}: {one.about}", [*answers, Option("0", "we ask then")]
        )
        if key == "0":
            found.pop(one.about, None)
        else:
            found[one.about] = one.answers[OPTION_KEYS.index(key)]
