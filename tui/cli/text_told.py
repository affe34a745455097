"""What was found, asked, noted and promised on a job, and its kits, as text."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from store.views.values import JobCard
from tui import words
from tui.cli.text_floor import WIDTH
from tui.job.outside_words import (
    advice_words,
    call_said,
    extra_amount,
    meanwhile_words,
    money_words,
    outwork_words,
    tried_words,
)
from tui.job.told import answer_words, became, finding_words, note_words, promise_words


def told_lines(card: JobCard) -> Iterator[str]:
    """Each section with its name, the empty ones left out, at most 80 columns."""
    yield from _section("found", [
        line
        for one in card.findings
        for line in (
            _dated(card, one.at, one.who, finding_words(one)),
            f"{'':<19}{became(one, card)}",
        )
    ])  # fmt: skip
    yield from _section("extra work", [
        line
        for one in card.supplements
        for line in (
            f"{one.line} {one.text}: {extra_amount(one)}",
            f"  {answer_words(one, card)}",
        )
    ])  # fmt: skip
    yield from outside_lines(card)
    yield from _section(
        "notes", [_dated(card, one.at, one.who, note_words(one)) for one in card.notes]
    )
    yield from _section(
        "promised",
        [_dated(card, one.at, one.who, promise_words(one, card)) for one in card.promises],
    )
    yield from _section("kits", [
        f"{words.cut(one.name, 36):<36}  {'owned' if one.owned else 'hired'}  {one.state:<10}  "
        + (f"for {', '.join(one.phases)}" if one.phases else "")
        for one in card.kits
    ])  # fmt: skip


def outside_lines(card: JobCard) -> Iterator[str]:
    """What goes on with the customer and with other firms: calls, money, outwork, advice."""
    zone, now = card.calendar.zone, card.at
    waits = [text for text in (tried_words(card), meanwhile_words(card)) if text]
    yield from _section("the customer's word", waits)
    yield from _section("calls", [_dated(card, c.at, c.who, call_said(c)) for c in card.calls])
    yield from _section("money", [] if card.money is None else money_words(card.money))
    yield from _section("outwork", [
        text
        for one in card.outwork
        for first, second in [outwork_words(one, card)]
        for text in (first, f"  {second}")
    ])  # fmt: skip
    yield from _section("advice", [
        text
        for one in card.advice
        for first, second in [advice_words(one, zone, now)]
        for text in (first, f"  {second}")
    ])  # fmt: skip


def _section(name: str, lines: list[str]) -> Iterator[str]:
    if not lines:
        return
    yield ""
    yield name
    for line in lines:
        for nth, piece in enumerate(_folded(line, WIDTH - 2)):
            yield f"  {'  ' if nth else ''}{piece}".rstrip()


def _folded(line: str, width: int) -> list[str]:
    """The line, its words on further lines where it is too long; what it begins with stays."""
    if len(line) <= width:
        return [line]
    indent = len(line) - len(line.lstrip())
    folded = words.wrapped(line, width - indent - 2)
    return [" " * indent + piece for piece in folded]


def _dated(card: JobCard, at: datetime, who: str, text: str) -> str:
    when = words.day_time(at, card.calendar.zone, card.at)
    return f"{when:<12} {who}: {text}"
