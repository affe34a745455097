"""The desk as text: one job on two lines, at most 80 columns; quotes and what became of them."""

from __future__ import annotations

from collections.abc import Iterator

from store.views.desk.values import Desk, DeskRow, Outcome, Outcomes, QuoteNow
from tui import words
from tui.cli.text_floor import WIDTH
from tui.papers.outcomes import summary

HEADS = {
    "enquiry": "asked", "booked": "to come", "arrived": "here, to check and quote",
    "quoted": "quoted, waits for a word", "waiting": "agreed, waits for a lift",
}  # fmt: skip


def lines(found: Desk) -> Iterator[str]:
    """What goes on by state, then what lately ended without work."""
    if not found.rows:
        yield "Nothing is at the desk. Take a call: hoistbook enquiry --vehicle TEXT."
    before = None
    for row in found.rows:
        if row.state != before:
            if before is not None:
                yield ""
            yield HEADS[row.state]
            before = row.state
        yield from _row(row, found)
    if found.gone:
        yield ""
        yield "lately declined or turned away"
        for row in found.gone:
            text = f"  {row.number} {row.vehicle}  {row.work}"
            yield words.cut(words.plain(text), WIDTH)
            since = words.full_date(row.since, found.calendar.zone)
            yield words.cut(words.plain(f"       {since}: {row.why or 'not said'}"), WIDTH)


def _row(row: DeskRow, found: Desk) -> Iterator[str]:
    plate = f" ({row.plate})" if row.plate and row.plate != row.vehicle else ""
    work = row.work if row.operations or row.small else row.complaint or row.work
    place = f"  at {row.place}" if row.place else ""
    yield words.cut(words.plain(f"  {row.number} {row.vehicle}{plate}  {work}{place}"), WIDTH)
    sign = "! " if row.late else ""
    told = [f"{sign}{row.next}"]
    if row.check.result:
        text = f": {row.check.text}" if row.check.text else ""
        told.append(f"check {row.check.result}{text}")
    if row.quote is not None:
        told.append(_quote(row.quote, found))
    if row.promise is not None:
        told.append(f"promised {words.day_time(row.promise, found.calendar.zone, found.at)}")
    for piece in words.wrapped(words.plain("; ".join(told)), WIDTH - 7):
        yield f"       {piece}"
    if row.customer is not None:
        who = ", ".join(filter(None, (row.customer, row.telephone)))
        yield words.cut(words.plain(f"       {who}"), WIDTH)


def _quote(quote: QuoteNow, found: Desk) -> str:
    way = quote.ways[0]
    money = "" if way.money is None else f", {words.money(way.money)} {found.currency}"
    kind = "told roughly" if quote.rough else f"quote {quote.number}"
    return f"{kind} {words.tenth(way.middle_h)} to {words.tenth(way.cautious_h)} h{money}"


def outcomes(found: Outcomes) -> Iterator[str]:
    """How many quotes became jobs, then each with its hours."""
    yield from summary(found)
    if found.rows:
        heads = "".join(f"{one:>7}" for one in ("rough", "quoted", "agreed", "worked"))
        yield f"  {'job':<6} {'work':<33}{heads}  became"
    for one in found.rows:
        yield words.cut(_outcome(one), WIDTH)


def _outcome(one: Outcome) -> str:
    told = (one.rough_h, one.quoted_h, one.agreed_h, one.worked_h)
    hours = "".join(f"{'-' if each is None else words.tenth(each):>7}" for each in told)
    return f"  {one.job:<6} {words.cut(words.plain(one.work), 33):<33}{hours}  {one.became}"
