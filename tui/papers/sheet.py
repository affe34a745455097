"""The estimate sheet as a paper: what is proposed, what it costs, what was agreed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from store.views.estimate_sheet import EstimateSheet, SheetExtra, SheetWay
from tui.papers.agreed import agreed_rows
from tui.papers.paper import Block, Facts, Heading, Items, Lines, Paper, Row, Table, Words
from tui.papers.said import BASES, BASES_MEAN, DECIDE, amount, at, on_day
from tui.words import listed, zone_of

OPEN = ("enquiry", "booked", "arrived", "quoted")
"""Nobody has agreed to it yet."""


def sheet_paper(found: EstimateSheet) -> Paper:
    """Return what the customer reads before the word is given."""
    zone = zone_of(found.zone)
    return Paper(
        title="Rough estimate" if found.rough and not found.agreed else "Estimate",
        about=f"{found.vehicle}, job {found.job}, {found.shop}",
        blocks=tuple(_blocks(found, zone)),
        foot=f"{found.shop}, job {found.job}. Written on {at(found.at, zone)}. {DECIDE}",
    )


def _blocks(found: EstimateSheet, zone: tzinfo) -> Iterator[Block]:
    yield from _head(found, zone)
    yield from _ways(found)
    yield from _terms(found, zone)
    yield from _extras(found)
    yield from _agreed(found, zone)
    yield Heading("What this rests on")
    yield Items(tuple(_reservations(found)))
    if found.state in OPEN or found.agreed:
        yield Lines(("Date and signature of the customer", f"Date and signature for {found.shop}"))


def _head(found: EstimateSheet, zone: tzinfo) -> Iterator[Block]:
    told = None
    if found.given is not None:
        when, who, means = found.given
        told = f"{at(when, zone)}, by {who}{f', {means}' if means else ''}"
    rows = [
        ("Vehicle", found.vehicle), ("Number plate", found.plate or ""),
        ("Identification number (VIN)", found.vin or ""), ("Customer", found.customer or ""),
        ("In the customer's words", found.complaint or ""), ("Proposed work", found.work),
        ("Told by voice" if found.rough else "Estimate given", told or ""),
    ]  # fmt: skip
    yield Heading("Vehicle and work")
    yield Facts(tuple((name, value) for name, value in rows if value))


# -- prices


def _ways(found: EstimateSheet) -> Iterator[Block]:
    yield Heading("What it costs")
    if not found.ways:
        yield Words("No price was given yet.")
        return
    if len(found.ways) > 1:
        yield Words(
            "Some things show only when the vehicle is apart. Every way that the work may then "
            "take stands here with its own price; the first is the one that is planned."
        )
    yield Table(
        "", ("The work", "Price", "Not in this price"),
        tuple(Row((_named(one), _price(one, found), _without(one))) for one in found.ways),
    )  # fmt: skip


def _named(one: SheetWay) -> str:
    return f"{one.text} (planned)" if one.planned else one.text


def _price(one: SheetWay, found: EstimateSheet) -> str:
    if one.ends:
        return "the planned work ends; a new estimate follows"
    if one.low is not None and one.high is not None:
        return f"roughly {one.low:,.0f} to {one.high:,.0f} {found.currency}"
    if one.price is None:
        return "not known yet"
    price = amount(one.price, found.currency)
    return price if found.basis == "fixed price" else f"about {price}"


def _without(one: SheetWay) -> str:
    return listed(one.excludes) or "-"


def _terms(found: EstimateSheet, zone: tzinfo) -> Iterator[Block]:
    rows: list[tuple[str, str]] = []
    if found.basis is not None:
        rows.append(("Price", f"{BASES[found.basis]}. {BASES_MEAN[found.basis]}"))
    if found.ceiling is not None:
        rows.append(("At most", amount(found.ceiling, found.currency)))
    if found.check is not None:
        rows.append(("Check before the work", f"{amount(found.check, found.currency)}, due also "
                                              "where the work is not done"))  # fmt: skip
    if found.promise is not None:
        rows.append(("Ready", f"{at(found.promise, zone)}, as things stand today"))
    if found.until is not None:
        rows.append(("Holds until", on_day(found.until)))
    if rows:
        yield Facts(tuple(rows))


def _extras(found: EstimateSheet) -> Iterator[Block]:
    if not found.extras:
        return
    yield Heading("Worth doing while it is open")
    yield Words(
        "The way to these parts is open already. Done now, only the work itself is paid; done "
        "alone later, the way there and back is paid again.",
        note=True,
    )
    yield Table(
        "Labour, without parts", ("Work", "Adds now", "Alone later"),
        tuple(Row(_extra(one, found.currency)) for one in found.extras),
    )  # fmt: skip


def _extra(one: SheetExtra, currency: str) -> tuple[str, str, str]:
    def told(money: float | None) -> str:
        return "on request" if money is None else f"about {money:,.0f} {currency}"

    return one.text, told(one.now), told(one.later)


# -- the word


def _agreed(found: EstimateSheet, zone: tzinfo) -> Iterator[Block]:
    if not found.agreed:
        return
    yield Heading("What was agreed")
    for one in found.agreed:
        yield Facts(tuple(agreed_rows(one, found.currency, zone)))
    if found.asked:
        yield Table(
            "Extra work (supplement) asked since", ("Extra work", "Price", "Answer"),
            tuple(
                Row((
                    one.text, "-" if one.money is None else amount(one.money, found.currency),
                    one.answer,
                ))
                for one in found.asked
            ),
        )  # fmt: skip


def _reservations(found: EstimateSheet) -> Iterator[str]:
    yield (
        "It is told from what can be seen and measured now. What shows only when the vehicle is "
        "apart may change the work; you are asked before anything beyond it is done."
    )
    if found.rough:
        yield (
            "It is a rough range as of today and no offer: about two in ten such jobs cost less or "
            "more."
        )
    if any(one.excludes for one in found.ways):
        yield "What stands under 'Not in this price' is charged as it comes, and told beforehand."
    yield (
        "The day rests on parts, other firms and your answers in time. If it moves, you are told."
    )
    yield "Old parts are yours: say if you want to have them back."
