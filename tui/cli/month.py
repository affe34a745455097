"""`month`: the owner's month as text, as JSON, as a page, as tables."""

from __future__ import annotations

import locale
import os
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from store.trouble import Refused
from tui.cli.answer import Answer, encoded, of_words
from tui.cli.call import Call
from tui.cli.usage import NOW, READING, Argument, Command, Option, WrongUsage
from tui.words import counted

if TYPE_CHECKING:
    from store.views.month.values import Month

MONTH = Argument("YYYY-MM", "which month; else the last whole one", needed=False)
HTML = Option("html", "FILE", "as a page to read, print and send, not in the terminal", path=True)
CSV = Option("csv", "FOLDER", "as tables, one file each, not in the terminal", path=True)
PAGE = b"<!DOCTYPE html>"


def month(call: Call) -> Answer:
    from store.views.month.page import month as look
    from tui.learner import take_in

    typed = call.typed
    if typed.has(HTML.name) and typed.has(CSV.name):
        raise WrongUsage("month takes --html or --csv, not both: run it twice.")
    now, badge = call.reading_at(), call.maybe_badge()
    which = typed.maybe(MONTH.name)
    take_in(call.shop, call.terminal.clock)
    found = look(call.shop, which or _last(call, now), now, by=badge, of=typed.maybe("of"))
    if typed.has(HTML.name):
        return _page(call, found, typed.path(HTML.name))
    if typed.has(CSV.name):
        return _tables(call, found, typed.path(CSV.name))
    if call.as_json:
        from tui.cli import json_month

        return Answer((encoded(json_month.document(found)),))
    from tui.cli import text_month
    from tui.signs import choose_signs

    signs = choose_signs(os.environ, locale.getpreferredencoding(do_setlocale=False))
    return Answer(text_month.lines(found, signs))


def _last(call: Call, now: datetime) -> str:
    """The last whole month; that of now where there is none yet."""
    from store.views.month.page import months

    listed = months(call.shop, now)
    return next((one.month for one in listed if not one.running), listed[0].month)


def _page(call: Call, found: Month, target: Path) -> Answer:
    from store.file.text_out import write_text
    from tui.papers.month_html import month_html

    if target.resolve() == call.terminal.path.resolve():
        raise Refused(f"{target} is the shop file: give the name of a page.")
    check_page(target)
    write_text(target, month_html(found))
    says = f"Month {found.span.month}, {counted(len(found.jobs), 'job')} closed: {target}"
    return of_words(says, as_json=call.as_json)


def check_page(target: Path) -> None:
    """Only a page gives way to a page.

    Raises:
        Refused: something else is there.
    """
    try:
        if not target.is_file():
            return
        with target.open("rb") as file:
            begins = file.read(len(PAGE))
    except (OSError, ValueError):
        return  # whoever writes it says why it cannot be
    if begins.upper() != PAGE.upper():
        raise Refused(f"{target} is there already and is no page. Give another name.")


def _tables(call: Call, found: Month, folder: Path) -> Answer:
    from tui.cli.csv_month import TABLES, write_tables

    lines = write_tables(found, folder)
    says = (
        f"Month {found.span.month}: {counted(len(TABLES), 'table')}, {counted(lines, 'line')} in "
        f"{folder}."
    )
    return of_words(says, as_json=call.as_json)


COMMANDS = (
    Command(
        ("month",), "Shows the owner's month: whether estimates hold, what to change, what was "
        "lost.", month, "month 2026-09 --html 2026-09.html --as A01", (MONTH,),
        (
            HTML, CSV, Option("of", "BADGE", "judges only the jobs that this person led"), NOW,
            *READING,
        ),
        more="First takes in whatever was finished and has not taught yet. The page is one file "
        "that needs no network; every figure on it leads to its jobs, phases and entries of the "
        "ledger. Tables already in FOLDER give way only to those of the same month. People's "
        "figures are the owner's to see; with --as somebody else reads the shop's and their own.",
    ),
)  # fmt: skip
