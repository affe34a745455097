"""Sheets of codes to print: one page of HTML that needs nothing from anywhere else."""

from __future__ import annotations

from html import escape

from tui.cli import qr
from tui.cli.codes_list import Printed, Sheet
from tui.papers.html import framed
from tui.words import plain

STYLE = """
@page { size: A4; margin: 14mm 12mm }
body { margin: 0 auto; max-width: 186mm; color: #1d2325; background: #fff;
  font: 10pt/1.35 "DejaVu Sans", Verdana, sans-serif }
h1 { font-size: 15pt; margin: 0 }
h2 { font-size: 10.5pt; margin: 7mm 0 3mm; padding-bottom: 1mm; border-bottom: .4mm solid #737d81;
  break-after: avoid }
p { margin: 1mm 0 0; color: #4f5b60 }
ul { list-style: none; margin: 0; padding: 0; display: grid; gap: 6mm 4mm;
  grid-template-columns: repeat(auto-fill, minmax(42mm, 1fr)) }
li { break-inside: avoid }
svg { display: block; width: 32mm; height: 32mm; margin: -3mm 0 0 -4.4mm }
@media screen { body { padding: 8mm } }
b { display: block; font-size: 9.5pt }
i { display: block; font-style: normal; color: #4f5b60 }
code { display: block; font: 8pt "DejaVu Sans Mono", monospace; color: #4f5b60;
  letter-spacing: .04em; overflow-wrap: anywhere }
"""


def page(sheet: Sheet, printed_on: str) -> str:
    """The sheet; text of people is text and nothing else.

    Args:
        printed_on: the day in words.
    """
    groups = "\n".join(
        f"<section>\n<h2>{_text(group.title)}</h2>\n<ul>\n"
        + "\n".join(_item(one) for one in group.codes)
        + "\n</ul>\n</section>"
        for group in sheet.groups
    )
    body = (
        f"<h1>{_text(sheet.title)}</h1>\n<p>{_text(sheet.note)} Printed {_text(printed_on)}.</p>\n"
        f"{groups}\n"
    )
    return framed(f"{sheet.title}: codes", STYLE, body)


def _item(one: Printed) -> str:
    rows = qr.modules(one.typed)
    size = len(rows)
    note = f"<i>{_text(one.note)}</i>" if one.note else ""
    return (
        f'<li><svg viewBox="0 0 {size} {size}" role="img" aria-label="{_text(one.letters)}" '
        f'shape-rendering="crispEdges"><path fill="#000" d="{qr.path(rows)}"/></svg>'
        f"<b>{_text(one.says)}</b>{note}<code>{_text(one.letters)}</code></li>"
    )


def _text(text: str) -> str:
    return escape(plain(text))
