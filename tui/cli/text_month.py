"""The owner's month as text of 80 columns: two sentences, one mark a job, what to change, where
the hours went, what was lost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from store.views.month.said import named
from store.views.month.told_values import ShouldSay
from store.views.month.values import Month
from tui.cli.sentences import WIDTH, items, wrapped
from tui.papers import month_pictures as pictures
from tui.papers.month_told import year
from tui.papers.month_words import told
from tui.papers.pictures_text import bars_lines, strip_lines
from tui.papers.said import number
from tui.signs import UNICODE, Signs
from tui.words import counted, cut, hours, money, plain, tenth

MOST = 3
"""So many lines of each kind; the page and the tables have them all."""
LABEL = 8


def lines(found: Month, signs: Signs = UNICODE) -> Iterator[str]:
    """The month for somebody who hates statistics."""
    about = f"{counted(len(found.jobs), 'job')} closed, {hours(found.accuracy.labour_h)}"
    if found.of is not None:
        about += f", only jobs that {plain(found.of)} led"
    yield cut(f"{named(found.span.month)}  {about}", WIDTH)
    yield ""
    for one in found.said:
        yield from wrapped(plain(one))
    strip = pictures.strip(found)
    if strip is not None:
        yield ""
        yield from strip_lines(strip, WIDTH, signs)
    yield from _book(found.should_say)
    yield from _signals(found)
    yield ""
    yield "hours"
    yield from (f"  {one}" for one in bars_lines(pictures.hours(found), WIDTH - 2, signs))
    yield from _ratios(found)
    yield ""
    yield from _lost(found)
    yield from _kits(found)
    yield from _labelled("words", found.promises.says)
    yield from _labelled("quotes", found.quotes.says)
    yield ""
    yield from wrapped(
        f"The whole page: hoistbook month {found.span.month} --html FILE; its tables: --csv FOLDER."
    )


def _book(should: Sequence[ShouldSay]) -> Iterator[str]:
    """Those that are sure first; one of the others says what is seen so far."""
    sure = [one for one in should if one.sure]
    shown = [*sure[:MOST], *[one for one in should if not one.sure][:1]]
    yield ""
    if not shown:
        yield "Nothing in the work book is worth changing: no phase differs by more than luck."
        return
    head = "worth changing in the book" if sure else "nothing sure to change in the book"
    yield f"{head:<37}{'book':>5} {'takes':>6}  {'from':<14}in a year"
    for one in shown:
        name = one.name + (f", {one.family}" if one.family else "")
        sure_of = f"{one.finished}, {'yes' if one.sure else 'not sure'}"
        yield (
            f"  {cut(name, 34):<35}{number(round(one.book_h, 1)):>5} "
            f"{number(round(one.should_h, 1)):>6}  {sure_of:<14}"
            f"{year(one.year_h) if one.sure else ''}"
        ).rstrip()
    commands = [one.command for one in shown if one.command is not None]
    yield from (f"    hoistbook {' '.join(map(plain, one))}" for one in commands)


def _signals(found: Month) -> Iterator[str]:
    signals = found.signals
    if not signals.says and not signals.found:
        return
    yield ""
    yield "is it real or chance?"
    told_so = [signals.says] if signals.says else []
    more = [one.says for one in (*signals.found, *signals.old) if one.says not in signals.says]
    yield from items(plain(one) for one in (*told_so, *more[:MOST]))


def _ratios(found: Month) -> Iterator[str]:
    here = found.hours
    named_so = (
        ("utilisation", here.utilisation, "on jobs / attended"),
        ("efficiency", here.efficiency, "told / took, of phases finished"),
        ("productivity", here.productivity, "told for them / attended"),
    )
    for name, one, says in named_so:
        yield f"  {name:<13}{told(one.value, 'x', found.currency):>6}   {says}"


def _lost(found: Month) -> Iterator[str]:
    """Held, comebacks, not charged, clocks that ran on."""
    held = ", ".join(f"{reason} {tenth(one.value or 0.0)}" for reason, one in found.held.reasons)
    total = f"held {told(found.held.total.value, 'h', '')}"
    yield from _labelled("lost", f"{total}: {held}" if held else "nothing was held")
    lost = found.money.not_charged
    for one in lost[:MOST]:
        worth = "" if one.money is None else f", {money(one.money)} {found.currency}"
        yield from _labelled(
            "", f"{tenth(one.hours)} h worked and not charged{worth}: {one.cause}, {one.basis}"
        )
    back = found.hours.comebacks
    if back:
        labour = hours(sum(one.labour_h for one in back))
        yield from _labelled("", f"{counted(len(back), 'comeback')}, {labour}")
    if found.hours.left_running:
        count = counted(len(found.hours.left_running), "clock")
        yield from _labelled("", f"{count} left running past the shift's end")


def _kits(found: Month) -> Iterator[str]:
    here, currency = found.money, found.currency
    parts = [
        f"{name} {money(one.value)}"
        for name, one in (("hired", here.hire), ("idle", here.hire_idle),
                          ("late fees", here.late_fees))
        if one.value
    ]  # fmt: skip
    if parts:
        yield from _labelled("kits", f"{', '.join(parts)} {currency}")
    parts = [
        f"{name} {money(one.value)}"
        for name, one in (("worked", here.labour_worked), ("sold", here.labour_sold),
                          ("not billed yet", here.not_billed))
        if one.value is not None
    ]  # fmt: skip
    if parts:
        yield from _labelled("money", f"{', '.join(parts)} {currency}")


def _labelled(label: str, text: str) -> Iterator[str]:
    """A text beside its label, further lines below its words."""
    if not text:
        return
    first, *rest = wrapped(plain(text), WIDTH - LABEL)
    yield f"{label:<{LABEL}}{first}"
    yield from (f"{'':<{LABEL}}{one}" for one in rest)
