"""What the desk knows of a job: whose it is, its check, what was quoted and agreed, comebacks.

The same sentences on the screen and as text.
"""

from __future__ import annotations

from collections.abc import Iterator

from store.views.desk.values import Agreement, AnswerAhead, CheckNow, Comeback, QuoteNow
from store.views.values import JobCard
from tui import words
from tui.colours import Ink
from tui.job.labelled import FIRST, Labelled
from tui.parts.sheet import Sheet


def add_desk(sheet: Sheet, card: JobCard, *, names: bool) -> None:
    """The section of the card.

    Args:
        names: whoever looks may see the customer's name and number.
    """
    rows = Labelled(sheet, "desk")
    known = card.desk
    told = [", ".join(filter(None, (known.customer, known.telephone)))] if names else []
    for line in (*filter(None, told), *desk_lines(card)):
        for nth, piece in enumerate(words.wrapped(line, sheet.width - FIRST - 3)):
            rows.row().put(FIRST + (2 if nth else 0), 0, piece, Ink("text"))


def desk_lines(card: JobCard) -> list[str]:
    """Complaint and arrival, check, quotes, the customer's word, comebacks; what is not, is not."""
    told = [*_came(card), *_check(card.desk.check)]
    told += [_quote(one, card) for one in card.desk.quotes]
    if card.desk.agreement is not None:
        told += _agreement(card.desk.agreement, card)
    if card.desk.comeback_of is not None:
        told.append(f"comes back from {_link(card.desk.comeback_of, card.desk.comeback_of.of)}")
    return [*told, *(f"came back as {_link(one, one.job)}" for one in card.desk.comebacks)]


def ahead_of(card: JobCard, question: str) -> list[str]:
    """What the customer said in advance, where a question comes up; all of it where none fits."""
    if card.desk.agreement is None:
        return []
    ahead = card.desk.agreement.ahead
    same = [one for one in ahead if one.about.casefold() == question.casefold()]
    return [_ahead(one) for one in same or ahead]


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
    yield from (_ahead(said) for said in one.ahead)
    if one.free_hand is not None:
        yield f"no call is needed up to {words.money(one.free_hand)}"


def _link(one: Comeback, job: str) -> str:
    where = job if one.phase is None or job != one.of else f"{job}.{one.phase}"
    return f"{where}: {one.cause}; {one.fault}; {one.pays} pays; {words.hours(one.labour_h)}"


def _ahead(said: AnswerAhead) -> str:
    money = "" if said.money is None else f", up to {words.money(said.money)}"
    return f"said ahead: {said.about}: {said.answer}{money}"
