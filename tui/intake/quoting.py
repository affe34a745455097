"""A quote from the estimate on the intake: which ways, on which terms, what is offered with it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from store.trouble import Refused
from tui.desk import deeds
from tui.desk.agreeing import ask_basis
from tui.desk.judging import HOW, MEANS
from tui.desk.reading import day_to_come, day_words
from tui.desk.words import BASES
from tui.intake.state import open_lines
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.prompt import OPTION_KEYS, Option
from tui.words import day_time, hours, local, money, tenth, zone_of

if TYPE_CHECKING:
    from store.views.estimate import Estimate

DONE = "Enter"
SAME_H = 0.05
"""Ways whose hours differ by less have one price."""
BY_VOICE, BOTH = "by voice, roughly", "both prices"


@dataclass(frozen=True, slots=True)
class Terms:
    """What is said with a quote, as far as it was filled in.

    Attributes:
        both: prices of the other answers to its decisions stand beside the planned one.
        without: neighbouring work that is not offered.
    """

    both: bool = True
    basis: deeds.Basis = "fixed price"
    ceiling: float | None = None
    means: str = MEANS["1"]
    until: date | None = None
    without: frozenset[str] = frozenset()
    rough: bool = False


async def give_quote(
    screen: Painted[Any], job: str, found: Estimate, promise: datetime | None,
    planned: deeds.Call,
) -> None:  # fmt: skip
    """Have a quote given for a job whose work is kept already.

    Raises:
        Back: left with Esc; what was filled in is kept.
        Trouble: refused; what was filled in is kept.
    """
    what = Filling(("quoted", job), f"{job}: a quote", "give it")
    offered = offers(found)

    async def change(key: str, terms: Terms) -> Terms:
        return await _changed(screen, job, key, terms, offered)

    terms = await fill_in(
        screen, what, Terms(), lambda now: _entries(screen, now, found, promise), change,
        facts=lambda now: facts(found),
    )  # fmt: skip
    await screen.act(
        deeds.give_quote(
            job,
            deeds.Quote(
                terms.basis, terms.ceiling, promise, terms.means, terms.until, terms.rough,
                tuple(one for one in offered if one not in terms.without),
                None if terms.both else (planned.operations, planned.options),
            ),
        )
    )  # fmt: skip
    forget(screen, what)


def offers(found: Estimate) -> tuple[str, ...]:
    """Neighbouring work in words: what it adds now, and what it costs alone later."""
    return tuple(
        f"{one.text}: now +{tenth(one.adds_h)} h; later, alone, {hours(one.alone_h)}"
        for one in found.extras
    )


def facts(found: Estimate) -> tuple[str, ...]:
    """The hours and the money that the customer is told, of the planned way and of others."""
    rate = found.labour_money / found.total.middle if found.labour_money else None

    def told(middle: float) -> str:
        return hours(middle) + (f", {money(round(rate * middle, 2))}" if rate else "")

    ways = [
        f"{line.text} {way.text}: {told(way.total.middle)}"
        for line in open_lines(found)
        for way in line.ways
        if not way.ends and abs(way.total.middle - found.total.middle) > SAME_H
    ]
    return (f"as planned: {told(found.total.middle)}", *ways[:3])


def _entries(
    screen: Painted[Any], terms: Terms, found: Estimate, promise: datetime | None
) -> list[Entry]:
    now, zone = screen.session.now(), zone_of(screen.zone)
    basis = BASES[terms.basis]
    if terms.ceiling is not None:
        basis += f" of {money(terms.ceiling)}"
    many = len(offers(found)) - len(terms.without)
    today = local(now, zone).date()
    lines = [Entry("1", "ways", BOTH if terms.both else "as planned only")]
    if len(facts(found)) < 2:
        lines = []
    lines += [
        Entry("2", "price", basis),
        Entry("3", "told", BY_VOICE if terms.rough else terms.means),
        Entry("4", "holds until", day_words(terms.until, today) if terms.until else "not said"),
    ]
    if found.extras:
        lines.append(Entry("5", "offered with it", f"{many} of {len(found.extras)}"))
    said = day_time(promise, zone, now) if promise else "nothing yet"
    return [*lines, Entry("6", "promised", f"{said}; on the page, by arrows")]


async def _changed(
    screen: Painted[Any], job: str, key: str, terms: Terms, offered: tuple[str, ...]
) -> Terms:
    match key:
        case "1":
            return replace(terms, both=not terms.both)
        case "2":
            basis, ceiling = await ask_basis(
                screen, f"{job}: who pays an overrun?", terms.basis, terms.ceiling
            )
            return replace(terms, basis=basis, ceiling=ceiling)
        case "3":
            options = (*HOW, Option("4", BY_VOICE))
            chosen = await screen.talk.pick(f"{job}: how is it told?", options)
            return replace(terms, means=MEANS.get(chosen, MEANS["1"]), rough=chosen == "4")
        case "4":
            now, zone = screen.session.now(), zone_of(screen.zone)
            until = await screen.talk.type(
                f"{job}: the quote holds until", "day (Enter: not said)",
                lambda text: day_to_come(text, now, zone) if text else None,
            )  # fmt: skip
            return replace(terms, until=until)
        case "5":
            return replace(terms, without=await _offered(screen, job, offered, terms.without))
        case _:
            raise Refused("The promise is chosen on the page, by arrows: Esc, then left or right.")


async def _offered(
    screen: Painted[Any], job: str, offered: tuple[str, ...], without: frozenset[str]
) -> frozenset[str]:
    """Tick what is offered with it; a digit takes a line out, or in again."""
    done, to_come = screen.session.signs.of("done"), screen.session.signs.of("to come")
    while True:
        options = [
            Option(key, f"{to_come if one in without else done} {one}")
            for key, one in zip(OPTION_KEYS, offered, strict=False)
        ]
        options.append(Option(DONE, "offer what is marked", hot=True))
        key = await screen.talk.pick(f"{job}: offered while it is open", options)
        if key == DONE:
            return without
        without = without ^ {offered[OPTION_KEYS.index(key)]}
