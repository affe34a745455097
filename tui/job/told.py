"""What was found, asked, noted and promised on a job, and the kits of its route."""

from __future__ import annotations

from datetime import datetime

from rich.cells import cell_len

from store.views.values import FindingLine, JobCard, NoteLine, PromiseLine, SupplementLine
from tui.colours import Ink
from tui.job.labelled import FIRST, Labelled
from tui.job.outside_words import extra_amount
from tui.parts.canvas import Canvas, Piece
from tui.parts.lines import put_pieces
from tui.parts.sheet import Sheet
from tui.ready.words import back_words
from tui.signs import STATES, Signs, State
from tui.words import chance, cut, day_time, listed, tenth, wrapped

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
WHEN, LONGEST = 13, 12
"""Cells of a time, a far one too, and of the longest name."""
ANSWERS: dict[str, State] = {
    "asked": "answer", "approved": "done", "refused": "to come", "withdrawn": "to come",
}  # fmt: skip


def add_findings(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """What was discovered, by whom, and what became of it."""
    rows = Labelled(sheet, "found")
    for one in card.findings:
        text = finding_words(one)
        x = dated(rows, card, (one.at, one.who, text), signs)
        sheet.block().put(x, 0, cut(became(one, card), sheet.width - x - 1, signs.more), DIM)


def finding_words(one: FindingLine) -> str:
    """`surprise on 3: stud broken off, +3.5 h`."""
    on = f" on {one.phase}" if one.phase else ""
    hours = f", +{tenth(one.hours)} h" if one.hours else ""
    return f"{one.kind}{on}: {one.text}{hours}"


def became(one: FindingLine, card: JobCard) -> str:
    """`extra work 1: approved Tue 12:40`, or what else became of a finding."""
    when = f" {day_time(one.became_at, card.calendar.zone, card.at)}" if one.became_at else ""
    if one.line is None:
        return f"{one.became}{when}"
    state = next((line.state for line in card.supplements if line.line == one.line), "")
    return f"extra work {one.line}: {'waits for the word' if state == 'asked' else state}{when}"


def add_extra(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """Extra work in every state: what it adds, who asked, who answered when, by what means."""
    rows = Labelled(sheet, "extra")
    for one in card.supplements:
        state = ANSWERS[one.state]
        pieces: list[Piece] = [
            (f"{signs.of(state)} ", Ink(STATES[state].role)),
            (f"{one.line} {one.text}: {extra_amount(one)}", TEXT),
        ]
        put_pieces(rows.row(), (FIRST, 0), pieces, sheet.width - FIRST - 1, signs)
        under = cut(answer_words(one, card), sheet.width - FIRST - 3, signs.more)
        sheet.block().put(FIRST + 2, 0, under, DIM)


def answer_words(one: SupplementLine, card: JobCard) -> str:
    """`asked Tue 14:10 by Ruth; approved Wed 08:02 by the owner, telephone`."""
    zone = card.calendar.zone
    asked = f"asked {day_time(one.asked_at, zone, card.at)} by {one.asked_by}"
    if one.answered_at is None:
        return f"{asked}; {'waits for the word' if one.state == 'asked' else one.state}"
    how = ", ".join(filter(None, (one.answered_by, one.means)))
    when = day_time(one.answered_at, zone, card.at)
    return f"{asked}; {one.state} {when}{f' by {how}' if how else ''}"


def add_notes(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """What somebody wrote down of the job and of its phases."""
    rows = Labelled(sheet, "notes")
    for one in card.notes:
        dated(rows, card, (one.at, one.who, note_words(one)), signs)


def note_words(one: NoteLine) -> str:
    """`3 took longer: rust`; a note of the job is its text."""
    return one.text if one.phase is None else f"{one.phase} {one.kind}: {one.text}"


def add_promises(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """Everything that the customer was told."""
    rows = Labelled(sheet, "promised")
    for one in card.promises:
        dated(rows, card, (one.at, one.who, promise_words(one, card)), signs)


def promise_words(one: PromiseLine, card: JobCard) -> str:
    """`Thu 16:00, chosen at 8 in 10`."""
    if one.promise is None:
        return "taken back"
    when = day_time(one.promise, card.calendar.zone, card.at)
    if one.chance is None:
        return when
    likely = chance(one.chance)
    return f"{when}, told as {likely.word} {likely.tenths}".rstrip()


def add_kits(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """The kits of the route: whose, whether they are still needed, and for which phases."""
    rows = Labelled(sheet, "kits")
    names = max((cell_len(one.name) for one in card.kits), default=0)
    width = min(names, 40, max(16, sheet.width - FIRST - 36))
    for one in card.kits:
        row = rows.row()
        row.put(FIRST, 0, cut(one.name, width, signs.more), TEXT)
        x = FIRST + width + 2
        row.put(x, 0, "owned" if one.owned else "hired", DIM)
        row.put(x + 7, 0, one.state, TEXT if one.state == "in use" else DIM)
        word = "phase" if len(one.phases) == 1 else "phases"
        needs = f"{word} {listed(one.phases)}" if one.phases else ""
        row.put(x + 19, 0, cut(needs, sheet.width - x - 20, signs.more), DIM)
        text = _goes_back(one.code, card)
        if text:
            rows.row().put(FIRST + 2, 0, cut(text, sheet.width - FIRST - 3, signs.more), DIM)


def _goes_back(kit: str, card: JobCard) -> str:
    """`goes back Fri 12:00; in time more likely than not 6 in 10`"""
    found = next((one for one in card.tools if one.code == kit and one.hire is not None), None)
    if found is None or found.hire is None or found.hire.due is None:
        return ""
    when = back_words(found.hire, card.calendar.zone, card.at)
    if found.in_time is None or found.hire.due <= card.at:
        return when
    likely = chance(found.in_time)
    return f"{when}; in time {likely.word} {likely.tenths}".rstrip()


def dated(rows: Labelled, card: JobCard, what: tuple[datetime, str, str], signs: Signs) -> int:
    """When, who, and a text in as many rows as it takes; returns the first cell of the text."""
    at, who, text = what
    row: Canvas = rows.row()
    when = day_time(at, card.calendar.zone, card.at)
    x = max(FIRST + WHEN, row.put(FIRST, 0, when, DIM) + 1)
    names = _names_width(card)
    row.put(x, 0, cut(who, names, signs.more), DIM)
    x += names + 2
    lines = wrapped(text, max(8, row.width - x - 1)) or [""]
    row.put(x, 0, lines[0], TEXT)
    for line in lines[1:]:
        rows.row().put(x, 0, line, TEXT)
    return x


def _names_width(card: JobCard) -> int:
    """Cells of the names, the same in each section."""
    told = [one.who for one in card.findings]
    told += [one.who for one in card.notes] + [one.who for one in card.promises]
    told += [one.who for one in card.calls]
    return min(LONGEST, max(map(cell_len, told), default=0))
