"""The end of a job on its card: what is open first, then what is usual, then asked once."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from typing import Any

from store.rules.follow_ups import SENT_IN
from store.trouble import Refused
from store.views.handing_over import AtHandOver, at_hand_over
from tui.deeds import close
from tui.desk.reading import odometer
from tui.follow import deeds
from tui.follow.deeds import Handing
from tui.keys import filled
from tui.papers.paper import Items, Paper, Words
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.reading import read_paper
from tui.parts.talk import Back
from tui.parts.when import maybe
from tui.words import counted, distance

OLD_PARTS = {"1": "returned to the customer", "2": "kept here", "3": SENT_IN}
OTHER = "4"


class _Alone(Exception):
    """It is to be closed without a hand-over."""


async def hand_over(screen: Painted[Any], job: str) -> None:
    """Have a vehicle handed over and its job closed.

    Raises:
        Back: left; what was filled in is kept.
        Trouble: refused; what was filled in is kept.
    """
    await somebody(screen)
    session = screen.session
    here = await asyncio.to_thread(lambda: at_hand_over(session.shop, job, session.now()))
    if here.state == "closed":
        raise Refused(f"{job} is closed already.")
    if here.still_open:
        await read_paper(screen, _open(here))
        raise Back
    what = Filling(("handed over", job), f"{job}, {here.vehicle}: the hand-over", "goes on")
    first = session.filled.get(what.about) or _usual(here, await _read(screen, here, None))
    try:
        found = await fill_in(
            screen, what, first, lambda said: _entries(said, here),
            lambda key, said: _change(screen, here, key, said), facts=lambda said: _facts(here),
        )  # fmt: skip
    except _Alone:
        await _close_alone(screen, job)
        forget(screen, what)
        return
    await screen.talk.sure(
        f"Hand {job} over and close it. This cannot be taken back.",
        f"hand over and close {job}", "keep it open", facts=_sure(here, found),
    )  # fmt: skip
    await screen.act(deeds.hand_over(job, found))
    forget(screen, what)


async def _close_alone(screen: Painted[Any], job: str) -> None:
    """The vehicle went without a word: the record says so."""
    await screen.talk.sure(
        f"Close {job} without a hand-over. This cannot be taken back.", f"close {job}",
        "keep it open", facts=("Its record will say that none was written down.",),
    )  # fmt: skip
    await screen.act(close(job))


def _open(here: AtHandOver) -> Paper:
    """Everything that is open, however much."""
    many = counted(len(here.still_open), "thing is", "things are")
    return Paper(
        f"{here.job} cannot be handed over yet", f"{here.vehicle}: {many} open",
        (Items(here.still_open), Words("All of it must be done, signed or answered first.")), "",
    )  # fmt: skip


def _usual(here: AtHandOver, read: tuple[float, str] | None) -> Handing:
    return Handing(
        read=read, old_parts=None if here.small else OLD_PARTS["1"], faults_before=here.lamps,
        run_in=here.run_in or None, warranty_months=here.warranty_months,
        warranty_distance=here.warranty_distance,
        kits={one.code: len(one.pieces) for one in here.kits},
    )  # fmt: skip


def _facts(here: AtHandOver) -> tuple[str, ...]:
    """Advice that nobody answered, and what follows by itself."""
    facts = [
        filled(f"Advice without an answer: {text}. {{job.advice}} writes the answer.")
        for _, text in here.unanswered
    ]
    if here.kits:
        facts.append("Count every piece of every kit: none drives away in the vehicle.")
    return tuple(facts)


def _sure(here: AtHandOver, found: Handing) -> tuple[str, ...]:
    facts = [f"You counted: {_kits(here, found)}."] if here.kits else []
    many = len(here.follow_ups) if found.follows else 0
    facts.append(f"{counted(many, 'follow-up')} will be set." if many else "Nothing will follow.")
    return tuple(facts)


def _kits(here: AtHandOver, found: Handing) -> str:
    return "; ".join(
        f"{one.name} {found.kits.get(one.code, 0)} of {len(one.pieces)}" for one in here.kits
    )


# -- lines


def _entries(said: Handing, here: AtHandOver) -> list[Entry]:
    lines = [
        Entry("o", "odometer", distance(*said.read) if said.read else "not read"),
        Entry("t", "taken by", said.to or "not said"),
        Entry("p", "old parts", said.old_parts or "not said"),
        Entry("l", "fluids, litres", "; ".join(said.fluids) or "none said"),
        Entry("b", "faults before", said.faults_before or "not said"),
        Entry("a", "faults after", said.faults_after or "not said"),
        Entry("r", "running in", said.run_in or "nothing said"),
        Entry("w", "warranty", _warranty(said, here.unit)),
        Entry("f", "photographs", said.photographs or "none said"),
        Entry("n", "follow-ups", _follows(said, here)),
        Entry("c", "or close it alone", "no hand-over is written down"),
    ]
    if here.kits:
        lines.insert(3, Entry("k", "kits counted", _kits(here, said)))
    return lines


def _warranty(said: Handing, unit: str) -> str:
    months = f"{said.warranty_months} months" if said.warranty_months else ""
    far = distance(said.warranty_distance, unit) if said.warranty_distance else ""
    return " or ".join(filter(None, (months, far))) or "none"


def _follows(said: Handing, here: AtHandOver) -> str:
    if not said.follows:
        return "none"
    return f"{len(here.follow_ups)} usual" if here.follow_ups else "none usual"


async def _change(screen: Painted[Any], here: AtHandOver, key: str, said: Handing) -> Handing:
    match key:
        case "o":
            return replace(said, read=await _read(screen, here, said.read))
        case "k":
            return await _count(screen, here, said)
        case "l":
            text = await _text(screen, here, "fluids, kind and litres", "; ".join(said.fluids))
            parts = (one.strip() for one in (text or "").split(";"))
            return replace(said, fluids=tuple(filter(None, parts)))
        case "w":
            return await _ask_warranty(screen, here, said)
        case "n":
            return replace(said, follows=not said.follows)
        case "c":
            raise _Alone
        case _:
            return await _word(screen, here, key, said)


async def _word(screen: Painted[Any], here: AtHandOver, key: str, said: Handing) -> Handing:
    """One of the lines that are a text."""
    match key:
        case "t":
            return replace(said, to=await _text(screen, here, "taken by", said.to))
        case "p":
            return replace(said, old_parts=await _old_parts(screen, here, said.old_parts))
        case "b":
            text = await _text(screen, here, "faults stored before", said.faults_before)
            return replace(said, faults_before=text)
        case "a":
            text = await _text(screen, here, "faults stored after", said.faults_after)
            return replace(said, faults_after=text)
        case "r":
            return replace(said, run_in=await _text(screen, here, "driven at first", said.run_in))
        case _:
            text = await _text(screen, here, "photographs", said.photographs)
            return replace(said, photographs=text)


async def _text(
    screen: Painted[Any], here: AtHandOver, label: str, before: str | None
) -> str | None:
    return await screen.talk.type(
        f"{here.job}: the hand-over", f"{label} (Enter: as it stands)", maybe, text=before or ""
    )


async def _old_parts(screen: Painted[Any], here: AtHandOver, before: str | None) -> str | None:
    options = [Option(key, words, hot=words == before) for key, words in OLD_PARTS.items()]
    options.append(Option(OTHER, "something else"))
    chosen = await screen.talk.pick(f"{here.job}: the old parts", options)
    if chosen != OTHER:
        return OLD_PARTS[chosen]
    return await _text(screen, here, "old parts", before)


async def _read(
    screen: Painted[Any], here: AtHandOver, before: tuple[float, str] | None
) -> tuple[float, str] | None:
    last = "" if here.odometer is None else distance(here.odometer, here.unit)
    return await screen.talk.type(
        f"{here.job}: the hand-over", "odometer (Enter: not read)",
        lambda text: odometer(text, here.unit),
        text=f"{before[0]:.0f} {before[1]}" if before else "",
        facts=(f"The last that was read: {last}.",) if last else (),
    )  # fmt: skip


async def _count(screen: Painted[Any], here: AtHandOver, said: Handing) -> Handing:
    """Pieces of each kit; why one is missing, where one is."""
    counts = dict(said.kits)
    for one in here.kits:
        title = f"{here.job}: {one.name}"
        facts = (f"{len(one.pieces)}: {', '.join(one.pieces)}.",)
        counts[one.code] = await screen.talk.type(
            title, "pieces counted", _whole, facts=facts,
            text=f"{counts.get(one.code, len(one.pieces))}",
        )  # fmt: skip
    short = any(counts[one.code] < len(one.pieces) for one in here.kits)
    missing = None
    if short:
        missing = await screen.talk.type(
            f"{here.job}: a piece is missing", "why it is not in the vehicle", maybe,
            text=said.missing or "",
        )  # fmt: skip
    return replace(said, kits=counts, missing=missing)


async def _ask_warranty(screen: Painted[Any], here: AtHandOver, said: Handing) -> Handing:
    title = f"{here.job}: warranty"
    months = await screen.talk.type(
        title, "months (0: none)", _whole, text=f"{said.warranty_months or 0}"
    )
    far = await screen.talk.type(
        title, f"{here.unit} (0: none)", _whole, text=f"{said.warranty_distance or 0:.0f}"
    )
    return replace(said, warranty_months=months or None, warranty_distance=float(far) or None)


def _whole(text: str) -> int:
    """A whole number, 0 or more; nothing typed is 0.

    Raises:
        Refused: it is something else.
    """
    words = text.replace(",", "").replace(" ", "") or "0"
    if not (words.isascii() and words.isdecimal() and len(words) < 9):
        raise Refused(f"{text[:20]} is no whole number. Type one like 12.")
    return int(words)
