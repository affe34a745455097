"""`workbook …`: operations and phases."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from store.actions import books
from store.edges.reading import opened_to_read
from store.edges.workbook.model import check as check_book
from store.rules.book import Operation, WorkBook
from store.trouble import Refused
from store.views.book import BookNow, book_now
from tui import words
from tui.cli import adopting, book_edit
from tui.cli.answer import REFUSED, Answer, Document, encoded
from tui.cli.call import Call
from tui.cli.usage import NOW, READING, WRITING, Argument, Command, Option

FILE = Argument("FILE.toml", "the work book, in TOML", path=True)
LARGEST = 2_000_000
"""Bytes; a file beyond it is no work book."""


def check(call: Call) -> Answer:
    faults = check_book(_text(call.typed.path(FILE.name)))
    if faults:
        return Answer((), faults, REFUSED)
    if call.as_json:
        return Answer((encoded({"ok": True, "faults": []}),))
    return Answer(("No fault. Load it: hoistbook workbook load FILE.toml --as BADGE",))


def load(call: Call) -> Answer:
    text = _text(call.typed.path(FILE.name))
    return call.done(lambda shop, by: books.load_workbook(shop, by, source=text))


def _text(path: Path) -> str:
    try:
        with opened_to_read(path) as file:
            raw = file.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "cannot be read"
        raise Refused(f"{path}: {why}. Give the work book's file.") from error
    if len(raw) > LARGEST:
        raise Refused(f"{path} is too large for a work book.")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise Refused(f"{path}, line {line}: this is no UTF-8 text. Save it as UTF-8.") from error


def show(call: Call) -> Answer:
    found = book_now(call.shop, call.reading_at())
    if call.as_json:
        return Answer((encoded(_document(found)),))
    if call.typed.has("source") or call.typed.has("toml"):
        return Answer((found.source.rstrip("\n"),))
    return Answer(_lines(found))


def starter(call: Call) -> Answer:
    from tui.cli.starter import read_starter, small_example, starter_book

    codes = read_starter(call.typed.maybe("operations") or "")
    text = starter_book(codes, "our shop") or small_example()
    if call.as_json:
        return Answer((encoded({"source": text}),))
    return Answer((text.rstrip("\n"),))


def _document(found: BookNow) -> Document:
    book = found.book
    return {
        "version": found.version,
        "from": found.from_day.isoformat(),
        "name": book.name,
        "operations": [
            {
                "code": one.code,
                "name": one.name,
                "phases": [use.phase for use in one.route],
                "options": {option.code: list(option.values) for option in one.options},
            }
            for one in book.operations.values()
        ],
        "phases": [
            {
                "code": one.code,
                "name": one.name,
                "kind": one.kind,
                "low_hours": one.hours.low,
                "book_hours": one.hours.middle,
                "high_hours": one.hours.high,
                "hours_for": [
                    {
                        "family": each.family,
                        "low_hours": each.hours.low,
                        "book_hours": each.hours.middle,
                        "high_hours": each.hours.high,
                    }
                    for each in one.hours_for
                ],
                "steps": len(one.steps),
            }
            for one in book.phases.values()
        ],
        "families": {part: dict(codes) for part, codes in book.families.items()},
    }


def _lines(found: BookNow) -> Iterator[str]:
    book = found.book
    yield words.cut(f"{book.name}, version {found.version}, from {found.from_day} on", 80)
    for operation in book.operations.values():
        yield ""
        yield from _operation(book, operation)


def _operation(book: WorkBook, operation: Operation) -> Iterator[str]:
    yield words.cut(f"{operation.code}  {operation.name}", 80)
    for option in operation.options:
        yield words.cut(f"    {option.code}={'|'.join(option.values)}  {option.text}", 80)
    for use in dict.fromkeys(one.phase for one in operation.route):
        phase = book.phases[use]
        hours = phase.hours
        kind = "" if phase.kind == "labour" else f"  {phase.kind}"
        yield words.cut(
            f"  {phase.code:<10} {words.cut(phase.name, 38):<38} {hours.low:>5g} "
            f"{hours.middle:>5g} {hours.high:>5g} h{kind}",
            80,
        )
        for one in phase.hours_for:
            yield words.cut(
                f"    {f'on {one.family}':<47} {one.hours.low:>5g} {one.hours.middle:>5g} "
                f"{one.hours.high:>5g} h",
                80,
            )


COMMANDS = (
    Command(
        ("workbook", "check"), "Names every fault of a work book, line by line; writes nothing.",
        check, "workbook check book.toml", (FILE,), READING,
    ),
    Command(
        ("workbook", "load"), "Loads a work book: jobs taken from now on use it.", load,
        "workbook load book.toml --as F1", (FILE,), WRITING,
        more="Jobs taken before keep the version they were taken with.",
    ),
    Command(
        ("workbook", "show"), "Shows the work book that holds: operations, phases, hours.", show,
        "workbook show", (),
        (
            Option("toml", "", "prints it as TOML, to be edited"),
            Option("source", "", "the same"), NOW, *READING,
        ),
    ),
    Command(
        ("workbook", "starter"), "Prints a first work book with notes, to be copied and changed.",
        starter, "workbook starter", (),
        (
            Option("operations", "CODES", "of the demo's operations instead: all, or like CL,TC"),
            *READING,
        ),
        more="Keep it with: hoistbook workbook starter > book.toml",
    ),
    *book_edit.COMMANDS,
    *adopting.COMMANDS,
)  # fmt: skip
