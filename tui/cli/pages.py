"""`record` and `sheet`: what goes with the vehicle, and what the customer reads before."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, cast
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.file.text_out import write_text
from store.trouble import Refused
from tui.cli.answer import Answer, Document, JsonValue, encoded, of_words
from tui.cli.call import Call
from tui.cli.usage import NOW, READING, Argument, Command, Option

if TYPE_CHECKING:
    from tui.papers.paper import Paper

JOB = Argument("JOB", "its number")
HTML = Option("html", "FILE", "as a page to read, print and send, not in the terminal", path=True)


def record(call: Call) -> Answer:
    from store.views.record.page import record as look
    from tui.papers.record import record_paper

    found = look(
        call.shop, call.typed.job(), call.reading_at(), names=call.sees_names(),
        hours=call.typed.has("hours"),
    )  # fmt: skip
    return _given(call, record_paper(found), _document(found, found.zone))


def sheet(call: Call) -> Answer:
    from store.views.estimate_sheet import estimate_sheet
    from tui.papers.sheet import sheet_paper

    found = estimate_sheet(
        call.shop, call.typed.job(), call.reading_at(), names=call.sees_names()
    )  # fmt: skip
    return _given(call, sheet_paper(found), _document(found, found.zone))


def _given(call: Call, paper: Paper, document: Document) -> Answer:
    if call.typed.has("html"):
        return _written(call, call.typed.path("html"), paper)
    if call.as_json:
        return Answer((encoded(document),))
    from tui.papers.text import text_of

    return Answer(text_of(paper))


def _written(call: Call, target: Path, paper: Paper) -> Answer:
    from tui.papers.html import html_of

    if target.resolve() == call.terminal.path.resolve():
        raise Refused(f"{target} is the shop file: give the name of a page.")
    write_text(target, html_of(paper))
    return of_words(f"{paper.title}, {paper.about}: {target}", as_json=call.as_json)


def _document(found: object, zone: str) -> Document:
    """A frozen value as JSON: its fields as keys, instants in the shop's zone."""
    assert is_dataclass(found)
    return {one.name: _json(getattr(found, one.name), ZoneInfo(zone)) for one in fields(found)}


def _json(value: object, zone: ZoneInfo) -> JsonValue:
    if value is None or isinstance(value, (str, int, float)):
        return value
    if isinstance(value, datetime):
        return for_zone(value, zone)
    if isinstance(value, date):
        return str(value)
    if isinstance(value, tuple):
        return [_json(one, zone) for one in cast("tuple[object, ...]", value)]
    return _document(value, str(zone))


COMMANDS = (
    Command(
        ("record",), "Prints the record that goes with the vehicle.", record,
        "record 2417 --html 2417.html --as F1", (JOB,),
        (HTML, Option("hours", "", "with labour hours and money"), NOW, *READING),
        more="What was agreed, done, measured, signed, renewed, advised and handed over, in words "
        "for somebody who has never seen this program.",
    ),
    Command(
        ("sheet",), "Prints the estimate sheet for the customer.", sheet,
        "sheet 2417 --html 2417.html --as F1", (JOB,), (HTML, NOW, *READING),
        more="Without a quote it tells a rough range of today.",
    ),
)  # fmt: skip
