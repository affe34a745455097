"""Where a month's hours and money went: figures with what each of them is, bars, lifts, quotes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from store.views.month.spent_values import Hours, LiftHours, Money, PersonHours
from store.views.month.values import Month
from store.views.month.way import Figure
from tui.papers import month_pictures as pictures
from tui.papers.month_rows import Rows
from tui.papers.month_words import NOTHING, figure, in_column, of
from tui.papers.paper import Block, Heading, Items, Row, Table, Words
from tui.words import plain, tenth

Named = tuple[str, str, Figure]
"""Its key, what it is called, the figure."""
MADE_OF = {
    "utilisation": "on_jobs", "efficiency": "estimated", "productivity": "estimated",
    "unclocked": "attended",
}  # fmt: skip
"""Figures that are reckoned from others: where their rows stand."""


def spent(found: Month, rows: Rows) -> Iterator[Block]:
    """Hours, what was held, money, lifts, quotes."""
    yield from _hours(found, rows)
    yield from _held(found, rows)
    yield from _money(found, rows)
    yield from _lifts(found, rows)
    yield from _quotes(found, rows)


def _rows_of(rows: Rows, named: Named) -> str:
    """Where a figure's rows stand; of a ratio, those of what is divided."""
    key, name, one = named
    here = rows.of(one, key, name)
    return here or (rows.there(MADE_OF[key]) if key in MADE_OF else "")


def figures(
    found: Month, rows: Rows, caption: str, named: Sequence[Named], *, dash: bool = False
) -> Table:
    """Figures by name, each a link to its rows, with what it is. `dash`: also those of nothing."""
    return Table(
        caption, ("Figure", "Comes to", "What it is"),
        tuple(
            Row(
                (name, figure(one, found.currency), one.explained or NOTHING),
                links=("", _rows_of(rows, (key, name, one)), ""),
            )
            for key, name, one in named
            if dash or one.value is not None
        ),
        figures=(1,),
    )  # fmt: skip


# -- hours


def hours_named(hours: Hours) -> tuple[Named, ...]:
    """Every figure of hours."""
    return (
        ("attended", "Attended", hours.attended), ("on_jobs", "On jobs", hours.on_jobs),
        ("indirect", "On no job, with a reason", hours.indirect),
        ("unclocked", "Attended and not clocked", hours.unclocked),
        ("learning", "Learning", hours.learning),
        ("estimated", "Told for the phases finished", hours.estimated),
        ("finished", "Took for the phases finished", hours.finished),
        ("sold", "Sold", hours.sold), ("utilisation", "Utilisation", hours.utilisation),
        ("efficiency", "Efficiency", hours.efficiency),
        ("productivity", "Productivity", hours.productivity),
    )  # fmt: skip


def _hours(found: Month, rows: Rows) -> Iterator[Block]:
    table = figures(found, rows, "", hours_named(found.hours), dash=True)
    yield Heading("Where the hours went", id="hours")
    yield pictures.hours(found, lambda key: f"rows-{key}" if _has(found.hours, key) else "")
    yield table
    if found.hours.people:
        yield Table(
            "By person", ("Who", "Attended", "On jobs", "On no job", "Told for what was finished"),
            tuple(_person(one) for one in found.hours.people), figures=(1, 2, 3, 4), sorts=True,
            id="table-people",
        )  # fmt: skip
    if found.hours.left_running:
        yield Words("Clocks that ran on past the shift's end:")
        yield Items(tuple(f"{one.says} (entry {one.seq})" for one in found.hours.left_running))
    if found.hours.comebacks:
        yield _comebacks(found, rows)


def _has(hours: Hours, key: str) -> bool:
    return any(name == key and one.ways for name, _, one in hours_named(hours))


def _person(one: PersonHours) -> Row:
    values = (one.attended_h, one.on_jobs_h, one.indirect_h, one.estimated_h)
    return Row(
        (f"{one.badge} {one.name}", *(f"{tenth(each)} h" for each in values)),
        keys=("", *(f"{each:.4f}" for each in values)),
    )


def _comebacks(found: Month, rows: Rows) -> Table:
    return Table(
        "Comebacks", ("Job", "Of", "Fault", "Who pays", "Took", f"Worth, {found.currency}"),
        tuple(
            Row(
                (one.job, one.of, plain(one.fault), plain(one.pays), f"{tenth(one.labour_h)} h",
                 in_column(one.money)),
                links=(rows.job(one.job), rows.job(one.of), "", "",
                       rows.add(one.way, f"comeback-{one.job}", f"Comeback {one.job}", "h"), ""),
            )
            for one in found.hours.comebacks
        ),
        figures=(4, 5),
    )  # fmt: skip


def _held(found: Month, rows: Rows) -> Iterator[Block]:
    yield Heading("What was held", id="held")
    total = rows.of(found.held.total, "held", "Held, all of it")
    bars = pictures.held(found, lambda key: f"rows-{key}")
    says = found.held.total.explained
    yield Words(f"Held: {figure(found.held.total, found.currency)}. {says}".strip(), link=total)
    for reason, one in found.held.reasons:
        rows.of(one, f"held-{reason}", f"Held for {reason}")
    if bars is not None:
        yield bars


# -- money


def money_named(money: Money) -> tuple[Named, ...]:
    """Every figure of money."""
    return (
        ("labour_worked", "Labour worked", money.labour_worked),
        ("labour_estimated", "Labour told", money.labour_estimated),
        ("labour_sold", "Labour sold", money.labour_sold),
        ("not_billed", "Work not billed yet", money.not_billed),
        ("parts", "Parts that came", money.parts), ("outwork", "Outwork", money.outwork),
        ("hire", "Hired kits", money.hire), ("hire_idle", "Of it on idle days", money.hire_idle),
        ("idle_days", "Days hired kits stood idle", money.idle_days),
        ("late_fees", "Late fees", money.late_fees),
        ("deposits", "Deposits still out", money.deposits),
        ("supplements", "Extra work agreed", money.supplements),
        ("supplements_asked", "Extra work asked", money.supplements_asked),
        ("supplements_refused", "Extra work refused", money.supplements_refused),
    )  # fmt: skip


def _money(found: Month, rows: Rows) -> Iterator[Block]:
    yield Heading("Money", id="money")
    yield figures(found, rows, "", money_named(found.money))
    lost = found.money.not_charged
    if lost:
        yield Table(
            "Worked and not charged, by why and by how the price was agreed",
            ("Why", "Price", "Hours", f"Worth, {found.currency}"),
            tuple(
                Row(
                    (one.cause, one.basis, f"{tenth(one.hours)} h",
                     in_column(one.money)),
                    links=("", "", rows.add(one.ways, f"not-charged-{n}",
                                            f"Not charged: {one.cause}, {one.basis}", "h"), ""),
                )
                for n, one in enumerate(lost)
            ),
            figures=(2, 3),
        )  # fmt: skip


# -- lifts and quotes


def _lifts(found: Month, rows: Rows) -> Iterator[Block]:
    bars = pictures.lifts(found, lambda key: f"rows-{key}" if _stood(found, key) else "")
    if bars is None:
        return
    yield Heading("The lifts", id="lifts")
    yield bars
    pieces = tuple(name for name, _, _ in pictures.LIFT_PIECES)
    heads = ("Lift", "Open", *pieces, f"Earned, {found.currency}", "A lift-day")
    yield Table(
        "", heads, tuple(_lift(found, rows, one) for one in found.lifts.lifts),
        figures=tuple(range(1, len(heads))), sorts=True, id="table-lifts",
    )  # fmt: skip
    ahead = found.lifts.booked_ahead
    yield Words(
        f"Booked ahead: {figure(ahead, found.currency)}. {ahead.explained}".strip(),
        link=rows.of(ahead, "booked-ahead", "Booked ahead"),
    )


def _stood(found: Month, key: str) -> bool:
    return any(f"lift-{one.lift}" == key and one.ways for one in found.lifts.lifts)


def _lift(found: Month, rows: Rows, one: LiftHours) -> Row:
    hours = (one.open_h, *(of(one) for _, _, of in pictures.LIFT_PIECES))
    money = (one.earned, one.per_day)
    here = rows.add(one.ways, f"lift-{one.lift}", f"What stood on lift {one.lift}", "h")
    return Row(
        (one.lift, *(f"{tenth(each)} h" for each in hours),
         *(in_column(each) for each in money)),
        links=("", here, *[""] * (len(hours) + 1)),
        keys=("", *(f"{each:.4f}" for each in hours), *(f"{each or 0:.2f}" for each in money)),
    )  # fmt: skip


def _quotes(found: Month, rows: Rows) -> Iterator[Block]:
    here = found.quotes
    if not here.given.value and not here.says:
        return
    yield Heading("Quotes", id="quotes")
    if here.says:
        yield Words(here.says)
    yield figures(found, rows, "", (
        ("quotes-given", "Given", here.given), ("quotes-agreed", "Became jobs", here.agreed),
        ("quotes-declined", "Declined", here.declined), ("quotes-open", "Not answered", here.open),
    ))  # fmt: skip
    yield Words(
        f"Of those answered {of(here.became_jobs)} became jobs; of extra work asked and answered "
        f"{of(here.supplements)} was agreed.",
        note=True,
    )
