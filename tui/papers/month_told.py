"""What is said about a month: what the book should say, what changed, prices, odds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from store.views.month.spent_values import OddsSeen
from store.views.month.told_values import PriceWay, ShouldSay, Signal
from store.views.month.values import Month
from store.views.month.way import Unit
from tui.papers import month_pictures as pictures
from tui.papers.month_rows import Rows
from tui.papers.month_words import NOTHING, in_column, of, percent
from tui.papers.paper import Block, Heading, Row, Table, Words
from tui.papers.said import number, on_day
from tui.words import tenth

KINDS: dict[str, str] = {
    "shop": "The shop", "operation": "Operation {name}", "phase": "Phase {name}",
    "family": "Family {name}", "person": "{name}", "supplier": "Supplier {name}",
    "promise": "Promises", "held": "Held for {name}",
}  # fmt: skip
NOT_YET = "Nothing yet: no phase differs from its book by more than luck would."


def book(found: Month, rows: Rows) -> Iterator[Block]:
    """What to change in the work book, what costs most first."""
    yield Heading("What to change in the work book", id="book")
    if not found.should_say:
        yield Words(NOT_YET)
        return
    sure = [one for one in found.should_say if one.sure]
    unsure = [one for one in found.should_say if not one.sure]
    if sure:
        yield _phases(sure, rows, "book", "")
    else:
        yield Words(NOT_YET)
    if unsure:
        yield _phases(unsure, rows, "book-unsure", "Not sure yet, to be left as it is")
    command = next((one.command for one in sure if one.command is not None), None)
    if command is not None:
        yield Words(
            f"To take one over: hoistbook {' '.join(command)}, or its digit on the month's "
            "screen. The old book stays in the ledger.",
            note=True,
        )


def _phases(lines: Sequence[ShouldSay], rows: Rows, key: str, caption: str) -> Table:
    heads = ("Phase", "For", "Book", "Takes", "Range", "Finished", "In a year", "In words")
    return Table(
        caption, heads, tuple(_should(one, f"{key}-{n}", rows) for n, one in enumerate(lines)),
        figures=(2, 3), sorts=True, id=f"table-{key}", folded=bool(caption),
    )  # fmt: skip


def _should(one: ShouldSay, key: str, rows: Rows) -> Row:
    here = rows.taught_by(key, f"{one.phase} {one.name}", one.jobs)
    return Row(
        (f"{one.phase} {one.name}", one.family or "all", f"{number(round(one.book_h, 2))} h",
         f"{number(round(one.should_h, 2))} h", f"{tenth(one.low_h)} to {tenth(one.high_h)} h",
         str(one.finished), year(one.year_h) if one.sure else "not sure yet", one.says),
        links=("", "", "", "", "", here, "", ""),
        keys=("", "", f"{one.book_h:.4f}", f"{one.should_h:.4f}", f"{one.should_h:.4f}", "",
              f"{one.year_h:.4f}", ""),
    )  # fmt: skip


def year(hours: float) -> str:
    """Hours of a year: `17 h lost`, `6 h too dear`."""
    return f"{abs(hours):.0f} h {'lost' if hours > 0 else 'too dear'}"


# -- signal or noise


def real(found: Month, rows: Rows) -> Iterator[Block]:
    """What changed that luck hardly explains, with its charts."""
    signals = found.signals
    if not (signals.says or signals.found or signals.old or signals.charts):
        return
    yield Heading("Is it real or chance?", id="signals")
    if signals.says:
        yield Words(signals.says)
    every = (*signals.found, *signals.old)
    if every:
        yield Table(
            "", ("What", "Since", "What changed", "Before", "After"),
            tuple(_signal(one, n, rows) for n, one in enumerate(every)), figures=(3, 4),
        )  # fmt: skip
    for chart in signals.charts:
        yield pictures.chart(chart)


UNITS: dict[str, Unit] = {"supplier": "days", "promise": "n", "held": "n"}


def _signal(one: Signal, n: int, rows: Rows) -> Row:
    here = rows.add(one.ways, f"signal-{n}", f"Since {on_day(one.since)}: {one.name}",
                    UNITS.get(one.what, "x"))  # fmt: skip
    return Row(
        (KINDS[one.what].format(name=one.name), on_day(one.since), one.says,
         pictures.told_before(one, one.before), pictures.told_before(one, one.after)),
        links=("", "", "", "", here),
    )  # fmt: skip


# -- prices and odds


def told_blocks(found: Month, rows: Rows) -> Iterator[Block]:
    """Prices, what operations earned, how often surprises and answers came."""
    yield from _prices(found, rows)
    if found.odds:
        yield Heading("Surprises and answers beside the book", id="odds")
        yield Table(
            "How often each came", ("Phase", "What", "In the month", "So far", "Book", "In words"),
            tuple(_odds(one, n, rows) for n, one in enumerate(found.odds)),
            sorts=True, id="table-odds", folded=True,
        )  # fmt: skip


def _odds(one: OddsSeen, n: int, rows: Rows) -> Row:
    what = one.text if one.answer is None else f"{one.text} {one.answer}"
    here = rows.add(one.ways, f"odds-{n}", f"{one.phase}: {what}", "n")
    return Row(
        (f"{one.phase} {one.name}", what, of(one.month), of(one.ever),
         NOTHING if one.book is None else percent(one.book), one.says),
        links=("", "", here, "", "", ""),
        keys=("", "", f"{one.month.share if one.month else 0:.4f}",
              f"{one.ever.share if one.ever else 0:.4f}", f"{one.book or 0:.4f}", ""),
    )  # fmt: skip


def _prices(found: Month, rows: Rows) -> Iterator[Block]:
    prices, currency = found.prices, found.currency
    if not (prices.ways or prices.earned or prices.says):
        return
    yield Heading("What prices would keep", id="prices")
    yield Words(f"From {on_day(prices.since)} to {on_day(prices.until)}. {prices.says}".strip())
    if prices.ways:
        yield Table(
            "The same quotes at other hours, or at another rate",
            ("Hours", f"Rate, {currency}", "Jobs", "Asked", "More", "Kept", "Below cost",
             "In words"),
            tuple(_price(one, n, rows) for n, one in enumerate(prices.ways)),
            figures=(1, 2, 3, 4, 5),
        )  # fmt: skip
    if prices.earned:
        yield _earned(found, rows)
    if prices.costs:
        yield Table(
            "What a month cost, as it was typed",
            ("Month", f"Wages, {currency}", "Overheads", "Attended", "An hour"),
            tuple(
                Row((one.month, in_column(one.wages),
                     in_column(one.overheads), f"{tenth(one.attended_h)} h",
                     in_column(one.per_hour)))
                for one in prices.costs
            ),
            figures=(1, 2, 3, 4),
        )  # fmt: skip


def _price(one: PriceWay, n: int, rows: Rows) -> Row:
    way = one.hours if one.rate is None else f"{one.hours} at {in_column(one.rate)}"
    same = one.hours == "as quoted" and one.rate is None
    told = "what was asked" if same else "what more than was quoted"
    here = rows.add(one.ways, f"price-{n}", f"Prices, {way}: {told}", "money")
    return Row(
        (one.hours, in_column(one.rate), str(one.jobs), in_column(one.sold), in_column(one.more),
         in_column(one.kept), of(one.below), one.says),
        links=("", "", here, "", "", "", "", ""),
    )  # fmt: skip


def _earned(found: Month, rows: Rows) -> Table:
    currency = found.currency
    return Table(
        "What an hour fetched, and a lift-day earned",
        ("Operation", "Jobs", "Took", f"An hour fetched, {currency}", "An hour cost", "Lift-days",
         "A lift-day earned", "In words"),
        tuple(
            Row(
                (f"{one.operation} {one.name}", str(one.jobs), f"{tenth(one.labour_h)} h",
                 in_column(one.fetched_per_hour),
                 in_column(one.cost_per_hour), tenth(one.lift_days),
                 in_column(one.per_lift_day), one.says),
                links=("", rows.add(one.ways, f"earned-{n}", f"{one.operation} {one.name}",
                                    "money"), *[""] * 6),
                keys=("", "", f"{one.labour_h:.4f}", f"{one.fetched_per_hour or 0:.4f}",
                      f"{one.cost_per_hour or 0:.4f}", f"{one.lift_days:.4f}",
                      f"{one.per_lift_day or 0:.4f}", ""),
            )
            for n, one in enumerate(found.prices.earned)
        ),
        figures=(1, 2, 3, 4, 5, 6), sorts=True, id="table-earned",
    )  # fmt: skip
