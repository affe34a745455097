"""What the desk knows of one job, as text under its card."""

from __future__ import annotations

from collections.abc import Iterator

from store.views.desk_values import Agreement, CheckNow, Comeback, QuoteNow
from store.views.values import JobCard
from tui import words
from tui.cli.text_floor import WIDTH


def lines(card: JobCard) -> Iterator[str]:
    """Complaint and arrival, check, quotes, the customer's word, comebacks; what is not, is not."""
    told = [*_came(card), *_check(card.desk.check)]
    told += [_quote(one, card) for one in card.desk.quotes]
    if card.desk.agreement is not None:
        told += _agreement(card.desk.agreement, card)
    if card.desk.comeback_of is not None:
        told.append(f"comes back from {_link(card.desk.comeback_of, card.desk.comeback_of.of)}")
    told += [f"came back as {_link(one, one.job)}" for one in card.desk.comebacks]
    if not told:
        return
    yield ""
    yield "the desk"
    for line in told:
        for nth, piece in enumerate(words.wrapped(words.plain(line), WIDTH - 4)):
            yield f"  {'  ' if nth else ''}{piece}"


def _came(card: JobCard) -> Iterator[str]:
    zone, desk = card.calendar.zone, card.desk
    if desk.complaint:
        yield f"said: {desk.complaint}"
    if desk.arrived_at is not None:
        parts = [f"arrived {words.day_time(desk.arrived_at, zone, card.at)}"]
        if desk.odometer is not None:
            parts.append(f"{desk.odometer[0]:,.0f} {desk.odometer[1]}")
        parts += [f"lamps: {desk.lamps}"] if desk.lamps else []
        parts += [f"photographs: {desk.photographs}"] if desk.photographs else []
        yield ", ".join(parts)
    elif desk.arrives is not None:
        yield f"is to come on {desk.arrives}"


def _check(check: CheckNow) -> Iterator[str]:
    if check.state == "none" and check.result is None:
        return
    price = "" if check.price is None else f", sold for {words.money(check.price)}"
    text = f": {check.text}" if check.text else ""
    judged = f"{check.result}{text}" if check.result else "not judged yet"
    yield f"check {judged}; {words.hours(check.labour_h)}{price}"


def _quote(quote: QuoteNow, card: JobCard) -> str:
    kind = "told roughly" if quote.rough else f"quote {quote.number}"
    ways = "; ".join(
        f"{one.text} {words.tenth(one.middle_h)} to {words.tenth(one.cautious_h)} h"
        + ("" if one.money is None else f", {words.money(one.money)}")
        for one in quote.ways
    )
    when = words.day_time(quote.at, card.calendar.zone, card.at)
    why = f": {quote.why}" if quote.why else ""
    return f"{when} {kind}, {quote.state}{why}: {ways}"


def _agreement(one: Agreement, card: JobCard) -> Iterator[str]:
    if one.by is None and not one.ahead:
        return
    how = ", ".join(filter(None, (one.by, one.means))) or "nobody is named"
    terms = one.basis if one.ceiling is None else f"{one.basis} {words.money(one.ceiling)}"
    when = words.day_time(one.at, card.calendar.zone, card.at)
    yield f"{when} agreed by {how}: {terms}"
    if one.left_out:
        yield f"not agreed: {', '.join(one.left_out)}"
    for said in one.ahead:
        money = "" if said.money is None else f", up to {words.money(said.money)}"
        yield f"said ahead: {said.about}: {said.answer}{money}"
    if one.free_hand is not None:
        yield f"no call is needed up to {words.money(one.free_hand)}"


def _link(one: Comeback, job: str) -> str:
    where = job if one.phase is None or job != one.of else f"{job}.{one.phase}"
    return f"{where}: {one.cause}; {one.fault}; {one.pays} pays; {words.hours(one.labour_h)}"
