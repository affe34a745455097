"""The rest of the page: real or chance, how near, promises, quotes, lifts, odds, prices, people."""

from __future__ import annotations

from store.views.month.told_values import Chart, Signal
from store.views.month.values import AccuracyLine, Month
from tui.colours import Ink
from tui.month import charts
from tui.month.figures import CHARTED, PEOPLE, PRICES, price_name
from tui.month.sheet import DIM, TEXT, Page
from tui.papers import month_pictures as pictures
from tui.papers.month_words import NOTHING, figure, of, off, percent, told
from tui.parts.canvas import Piece
from tui.words import counted, tenth

MOST_CHARTS = 4
ODDS = 8
GAP: Piece = ("  ", DIM)


def real(page: Page, found: Month) -> None:
    """What luck hardly explains, with dates; the shop's chart first, then those of the signals."""
    signals = found.signals
    page.rule("is it real or chance?")
    every = (*signals.found, *signals.old)
    page.words(signals.says or "Nothing was looked for yet.", TEXT if every else DIM)
    first = len(every) if page.room == "much" else 1
    _signals(page, found, range(min(first, len(every))))
    for chart in signals.charts[:1]:
        _chart(page, found, chart)
    _signals(page, found, range(first, len(every)))
    for chart in signals.charts[1:MOST_CHARTS]:
        page.sheet.gap()
        _chart(page, found, chart)


def _signals(page: Page, found: Month, which: range) -> None:
    every = (*found.signals.found, *found.signals.old)
    for n in which:
        page.words(every[n].says, _loud(every[n], n < len(found.signals.found)), f"signal-{n}", 4)


def _chart(page: Page, found: Month, chart: Chart) -> None:
    """Its values lead to where its signal leads; those of all jobs to the month's jobs."""
    every = (*found.signals.found, *found.signals.old)
    same = (n for n, one in enumerate(every) if (one.what, one.code) == (chart.what, chart.code))
    stop = next((f"signal-{n}" for n in same), CHARTED if chart.what == "shop" else "")
    stop = f"{stop}-chart" if stop.startswith("signal") else stop
    page.gap()
    page.words(f"{chart.name}: {chart.says}", DIM, stop)
    charts.run(page, pictures.chart(chart), stop)


def _loud(one: Signal, new: bool) -> Ink:
    """Those of the month itself are loud; those that are still true are told."""
    return Ink("behind") if new and one.kind != "level" else TEXT


def accuracy(page: Page, found: Month) -> None:
    """How near estimates came, by whatever; too few are dim and say so."""
    groups = (
        ("kind", "how near the estimates came", found.kinds),
        ("operation", "by operation", found.operations),
        ("family", "by family", found.families), ("phase", "by phase", found.by_phase),
        ("lead", "by whoever led", found.leads), ("before", "the months before", found.before),
    )  # fmt: skip
    for key, title, lines in groups:
        if lines:
            page.rule(title)
            for one in reversed(lines) if key == "before" else lines:
                _line(page, key, one)


def _line(page: Page, key: str, one: AccuracyLine) -> None:
    found = one.accuracy
    ink = TEXT if found.enough else DIM
    name = one.name if key in ("kind", "lead", "before") or one.key == one.name else (
        f"{one.key} {one.name}"
    )  # fmt: skip
    bias = NOTHING if found.bias is None else off(found.bias.value)
    right: list[Piece] = [(f"{found.jobs:>4}", DIM), (f"{bias:>16}", ink)]
    if page.width >= 76:
        miss = NOTHING if found.miss is None else percent(found.miss.value)
        right += [(f"{miss:>7} typically", DIM), (f"{of(found.within):>10} near", DIM)]
    page.told([(name, ink), ("  " + one.says, DIM)] if page.width >= 100 else [(name, ink)],
              right, f"{key}-{one.key}")  # fmt: skip


def promised(page: Page, found: Month) -> None:
    """Promises, what changed estimates, quotes."""
    page.rule("promises and quotes")
    page.labelled("promises", found.promises.says, "promises")
    changes = found.changes
    parts = [
        f"{name} {hours:+.1f} h"
        for name, hours in (("extra work", changes.extra_h), ("routes", changes.route_h),
                            ("left out", changes.other_h))
        if abs(hours) >= 0.05
    ]  # fmt: skip
    page.labelled("changed", ", ".join(parts) or "no hours after they were agreed", "changes")
    page.labelled("quotes", found.quotes.says, "quotes")


def spent(page: Page, found: Month) -> None:
    """Ratios explained, then lifts."""
    here = found.hours
    page.rule("hours, each explained")
    for name, one in (
        ("attended", here.attended), ("on_jobs", here.on_jobs), ("sold", here.sold),
        ("indirect", here.indirect), ("unclocked", here.unclocked), ("learning", here.learning),
        ("utilisation", here.utilisation), ("efficiency", here.efficiency),
        ("productivity", here.productivity),
    ):  # fmt: skip
        if one.value:
            page.labelled(f"{figure(one, found.currency):>8}", f"{name.replace('_', ' ')}: "
                          f"{one.explained}", name, DIM)  # fmt: skip
    lifts = pictures.lifts(found)
    if lifts is None:
        return
    page.rule("lifts")
    charts.bars(page, lifts, stops=[f"lift-{one.lift}" for one in found.lifts.lifts])
    charts.legend(page, lifts)
    ahead = found.lifts.booked_ahead
    page.words(f"Booked ahead: {figure(ahead, found.currency)}.", TEXT, "ahead")


def odds(page: Page, found: Month) -> None:
    """Surprises and answers beside the book's odds, those that differ first."""
    if not found.odds:
        return
    page.rule("surprises and answers beside the book")
    order = sorted(range(len(found.odds)), key=lambda n: -_seen(found, n))
    for n in order[:ODDS]:
        one = found.odds[n]
        what = one.text if one.answer is None else f"{one.text} {one.answer}"
        book = NOTHING if one.book is None else percent(one.book)
        right: list[Piece] = [(f"{of(one.ever):>10}", TEXT), (f"  book {book:>5}", DIM)]
        page.told([(f"{one.phase} ", DIM), (what, TEXT)], right, f"odds-{n}")


def _seen(found: Month, n: int) -> int:
    one = found.odds[n]
    return one.month.count if one.month is not None else 0


def priced(page: Page, found: Month) -> None:
    """Quotes at other hours or rates, beside what an hour cost."""
    prices = found.prices
    page.rule("what prices would have kept")
    page.words(prices.says, DIM, PRICES)
    for one in prices.ways:
        right: list[Piece] = [
            (f"{told(one.sold, 'money', found.currency):>16}", TEXT),
            (f"  kept {told(one.kept, 'money', ''):>11}", DIM),
            (f"  below cost {of(one.below):>8}", DIM),
        ]  # fmt: skip
        page.told([(price_name(one), TEXT)], right if page.width >= 76 else right[:2], PRICES)
    if page.width >= 76:
        for each in prices.earned:
            says = each.says if len(each.says) < page.width // 2 else ""
            page.told([(f"{each.operation} {each.name}", TEXT)], [(says, DIM)], PRICES)


def people(page: Page, found: Month) -> None:
    """Whose figures the reader may see."""
    if not found.hours.people:
        return
    page.rule("people: your own" if found.reader != "owner" else "people")
    for one in found.hours.people:
        right: list[Piece] = [
            (f"{tenth(one.attended_h):>7} h attended", DIM),
            (f"{tenth(one.on_jobs_h):>7} h on jobs", TEXT),
        ]  # fmt: skip
        page.told([(one.name, TEXT)], right, PEOPLE)
    left = found.hours.left_running
    if left:
        page.words(f"{counted(len(left), 'clock')} left running.", DIM, "lost")
