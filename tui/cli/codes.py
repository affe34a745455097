"""`codes`: what a scanner reads, as squares in the terminal, as a page to print, as JSON."""

from __future__ import annotations

import os
import sys
from shutil import get_terminal_size

from store.trouble import Refused
from tui.cli.answer import Answer, Document, encoded, of_words
from tui.cli.call import Call
from tui.cli.codes_list import Sheet, job_sheet, shop_sheet
from tui.cli.usage import READING, Command, Option

WIDTH = 80
"""Columns where nobody looks at a terminal."""


def codes(call: Call) -> Answer:
    sheet = _sheet(call)
    if call.typed.has("html"):
        return _write(call, sheet)
    if call.as_json:
        return Answer((encoded(_document(sheet)),))
    return Answer(_lines(sheet))


def _sheet(call: Call) -> Sheet:
    from store.views.door import door, places
    from store.views.job import job_card
    from store.views.tools.page import kits_now

    now = call.reading_at()
    if call.typed.has("job"):
        return job_sheet(job_card(call.shop, call.typed.job("job"), now))
    return shop_sheet(door(call.shop, now), places(call.shop), kits_now(call.shop, now))


def _write(call: Call, sheet: Sheet) -> Answer:
    from store.file.text_out import write_text
    from tui.cli.html_codes import page
    from tui.words import full_date

    target = call.typed.path("html")
    if target.resolve() == call.terminal.path.resolve():
        raise Refused(f"{target} is the shop file: give the name of a page.")
    write_text(target, page(sheet, full_date(call.reading_at(), call.terminal.zone)))
    return of_words(f"{len(sheet.codes)} codes to print: {target}", as_json=call.as_json)


def _document(sheet: Sheet) -> Document:
    return {
        "codes": [
            {
                "kind": one.code.kind,
                "names": one.code.name,
                "code": one.typed,
                "letters": one.letters,
                "says": one.says,
                "note": one.note or None,
            }
            for one in sheet.codes
        ]
    }


def _lines(sheet: Sheet) -> list[str]:
    from tui.cli.text_codes import lines

    terminal = sys.stdout.isatty()
    encoding = (sys.stdout.encoding or "").lower().replace("-", "")
    plain = bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"
    columns = get_terminal_size((WIDTH, 24)).columns if terminal else WIDTH
    return list(
        lines(
            sheet, columns, coloured=terminal and not plain, light=terminal,
            ascii_only=encoding != "utf8" or bool(os.environ.get("HOISTBOOK_ASCII")),
        )
    )  # fmt: skip


COMMANDS = (
    Command(
        ("codes",), "Prints codes for the scanner: badges, lifts, kits, or those of a job.",
        codes,
        "codes --job 2417 --html 2417.html", (),
        (
            Option("job", "NUMBER", "the job, its phases and steps"),
            Option("html", "FILE", "as a page to print, not in the terminal", path=True),
            *READING,
        ),
        more="Each is a QR code with its name. A scanner must send what it reads as keys, with "
        "Enter at its end. Without colour the squares are drawn for a dark terminal, and for "
        "paper where the answer goes into a file.",
    ),
)  # fmt: skip
