"""Sections of a job card: how the estimate came to be, what it was taken as, lane, ledger."""

from __future__ import annotations

from datetime import datetime

from rich.cells import cell_len

from store.views.values import JobCard
from tui.colours import Ink
from tui.job.labelled import FIRST, Labelled
from tui.lane.axis import axis
from tui.lane.band import lay_out, paint_band
from tui.lane.captions import paint_captions
from tui.lane.labels import paint_axis, paint_labels, paint_lines
from tui.lane.outlook import Outlook
from tui.parts.lines import paint_rule
from tui.parts.sheet import Sheet
from tui.signs import Signs
from tui.words import cut, day_time, tenth

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)


def add_estimate(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """How the estimate came to be: a staircase of hours with causes."""
    if not card.estimate_changes:
        return
    sheet.gap()
    sheet.mark("estimate")
    sheet.block().put(1, 0, "how the estimate came to be", DIM)
    before: float | None = None
    for change in card.estimate_changes:
        step = None if before is None else change.middle - before
        _stair(sheet, (card, change.at), (f"{tenth(change.middle)} ", step), change.cause, signs)
        before = change.middle
    for line in card.supplements:
        if line.state == "asked" and line.hours and before is not None:
            before += line.hours
            cause = f"{line.text}; waits for the customer's word"
            _stair(sheet, (card, line.asked_at), (f"{tenth(before)}?", line.hours), cause, signs)


def _stair(
    sheet: Sheet, when: tuple[JobCard, datetime], figures: tuple[str, float | None],
    cause: str, signs: Signs,
) -> None:  # fmt: skip
    card, at = when
    total, step = figures
    row = sheet.block()
    row.put(3, 0, day_time(at, card.calendar.zone, card.at), DIM)
    row.right(25, 0, total, BOLD)
    if step is not None:
        text = f"{'+' if step >= 0 else signs.of('ahead')}{tenth(abs(step))}"
        row.put(26, 0, text, Ink("behind") if step >= 0.05 else Ink("ahead"))
    row.put(33, 0, cut(cause, sheet.width - 34, signs.more), DIM)


def add_facts(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """What the job was taken as: family, grade, price basis, options."""
    facts = [card.job.family, f"grade {card.grade}"]
    facts += [card.price_basis] if card.price_basis else []
    facts += [f"book version {card.book_version}"] if card.book_version is not None else []
    facts += [f"{name} {value}" for name, value in card.options]
    rows, room = Labelled(sheet, "taken as"), sheet.width - FIRST - 1
    row, x = rows.row(), FIRST
    for fact in (cut(one, room, signs.more) for one in facts if one):
        if x > FIRST and x + cell_len(fact) > FIRST + room:
            row, x = rows.row(), FIRST
        x = row.put(x, 0, fact, TEXT) + 3


def add_lane(sheet: Sheet, card: JobCard, outlook: Outlook | None, signs: Signs) -> None:
    """The job's lane along working time, two cells thick where there is room."""
    thick = 2 if sheet.width >= 112 else 1
    along = axis(card.calendar, card.at, sheet.width - 4)
    band = lay_out(along, card.job, outlook)
    sheet.gap()
    sheet.mark("lane")
    block = sheet.block(4 + thick)
    paint_rule(block, 0, (0, sheet.width), "along working time", signs)
    paint_lines(block, (2, 1), 3 + thick, along, signs)
    paint_axis(block, (2, 1), along)
    paint_labels(block, (2, 2), band, signs)
    paint_band(block, (2, 3), band, signs, thick)
    paint_captions(block, (2, 3 + thick), band, signs)


def add_ledger(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """Everything that happened, newest first."""
    sheet.gap()
    sheet.mark("ledger")
    paint_rule(sheet.block(), 0, (0, sheet.width), "ledger, newest first", signs)
    names = min(12, max((cell_len(line.who) for line in card.ledger), default=0))
    lines = [
        (line, day_time(line.at, card.calendar.zone, card.at))
        for line in sorted(card.ledger, key=lambda line: -line.seq)
    ]
    times = max((len(when) for _, when in lines), default=0)
    for line, when in lines:
        row = sheet.block()
        row.put(3, 0, when, DIM)
        x = 3 + times + 2
        row.put(x, 0, cut(line.who, names, signs.more), DIM)
        x += names + 2
        row.put(x, 0, cut(line.says, sheet.width - x - 1, signs.more), TEXT)
    if not card.ledger:
        sheet.block().put(3, 0, "nothing yet", DIM)
