"""A paper as one page of HTML: no script, no picture, nothing from anywhere else."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from tui.papers.paper import Block, Facts, Heading, Items, Lines, Paper, Row, Table, Words
from tui.words import plain

INK, DIM, RULE, SHADE, GROUND = "#1d2325", "#4a5559", "#6b757a", "#eef0ea", "#ffffff"
"""Text, small print, rules, heads of tables, paper; contrast is tested."""
STYLE = f"""
@page {{ margin: 16mm 14mm }}
* {{ box-sizing: border-box }}
body {{ margin: 0 auto; max-width: 182mm; padding: 6mm; color: {INK}; background: {GROUND};
  font: 10.5pt/1.4 "DejaVu Sans", Verdana, "Segoe UI", Helvetica, Arial, sans-serif;
  overflow-wrap: anywhere }}
h1 {{ font-size: 17pt; line-height: 1.2; margin: 0 }}
h2 {{ font-size: 12pt; margin: 7mm 0 2mm; padding-bottom: 1mm; border-bottom: .4mm solid {RULE};
  break-after: avoid }}
p {{ margin: 1.5mm 0 }}
.about {{ font-size: 12pt; margin: 1mm 0 0 }}
.note, footer {{ color: {DIM}; font-size: 9.5pt }}
footer {{ margin-top: 8mm; padding-top: 2mm; border-top: .4mm solid {RULE} }}
dl {{ display: grid; grid-template-columns: minmax(30mm, 26%) 1fr; gap: 1mm 4mm; margin: 0 }}
dt {{ color: {DIM} }}
dd {{ margin: 0 }}
ul {{ margin: 1mm 0; padding-left: 5mm }}
table {{ width: 100%; border-collapse: collapse; margin: 1mm 0 3mm; font-size: 9.5pt }}
caption {{ text-align: left; color: {DIM}; padding-bottom: 1mm }}
th, td {{ text-align: left; vertical-align: top; padding: 1mm 2mm 1mm 1mm;
  border-bottom: .2mm solid {RULE} }}
thead th {{ background: {SHADE} }}
tbody th {{ font-weight: 600 }}
tr, dt, dd, li {{ break-inside: avoid }}
thead {{ display: table-header-group }}
.void {{ color: {DIM}; text-decoration: line-through }}
.sign {{ display: grid; grid-template-columns: 1fr 1fr; gap: 6mm; margin-top: 14mm;
  break-inside: avoid }}
.sign p {{ border-top: .3mm solid {INK}; padding-top: 1mm; margin: 12mm 0 0 }}
@media screen and (max-width: 46em) {{
  body {{ padding: 4vw }}
  dl, .sign {{ display: block }}
  dd {{ margin-bottom: 2mm }}
  thead {{ position: absolute; left: -200vw }}
  table, tbody, tr, th, td, caption {{ display: block; width: auto }}
  tr {{ padding: 2mm 0; border-bottom: .4mm solid {RULE} }}
  th, td {{ border: 0; padding: .3mm 0 }}
  td[data-head]::before {{ content: attr(data-head) ": "; color: {DIM} }}
}}
@media print {{ body {{ padding: 0; max-width: none }} }}
"""


def html_of(paper: Paper) -> str:
    """The paper; text of people is text and nothing else."""
    blocks = "\n".join(line for block in _sections(paper) for line in block)
    body = (
        f'<header>\n<h1>{_text(paper.title)}</h1>\n<p class="about">{_text(paper.about)}</p>\n'
        f"</header>\n<main>\n{blocks}\n</main>\n<footer><p>{_text(paper.foot)}</p></footer>\n"
    )
    return framed(f"{paper.title}: {paper.about}", STYLE, body)


def framed(title: str, style: str, body: str, *, lang: str = "en") -> str:
    """A whole page around a body that is written already.

    Args:
        title: of the window, as text.
    """
    return (
        f'<!DOCTYPE html>\n<html lang="{lang}">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_text(title)}</title>\n<style>{style}</style>\n</head>\n<body>\n{body}"
        "</body>\n</html>\n"
    )


def _sections(paper: Paper) -> Iterator[Iterator[str]]:
    """Blocks under their headings, each section whole."""
    opened = False
    for block in paper.blocks:
        if isinstance(block, Heading):
            if opened:
                yield iter(["</section>"])
            opened = True
            yield iter(["<section>"])
        yield _block(block)
    if opened:
        yield iter(["</section>"])


def _text(text: str) -> str:
    return escape(plain(text))


def _block(block: Block) -> Iterator[str]:
    match block:
        case Heading(text):
            yield f"<h2>{_text(text)}</h2>"
        case Words(text, note):
            yield f'<p class="note">{_text(text)}</p>' if note else f"<p>{_text(text)}</p>"
        case Facts(rows):
            yield "<dl>"
            for name, value in rows:
                yield f"<dt>{_text(name)}</dt>\n<dd>{_text(value)}</dd>"
            yield "</dl>"
        case Items(texts):
            yield "<ul>"
            for text in texts:
                yield f"<li>{_text(text)}</li>"
            yield "</ul>"
        case Table():
            yield from _table(block)
        case Lines(under):
            yield '<div class="sign">'
            for text in under:
                yield f"<p>{_text(text)}</p>"
            yield "</div>"


def _table(table: Table) -> Iterator[str]:
    yield "<table>"
    if table.caption:
        yield f"<caption>{_text(table.caption)}</caption>"
    heads = "".join(f'<th scope="col">{_text(one)}</th>' for one in table.heads)
    yield f"<thead><tr>{heads}</tr></thead>\n<tbody>"
    for row in table.rows:
        yield _row(table, row)
    yield "</tbody>\n</table>"


def _row(table: Table, row: Row) -> str:
    void = ' class="void"' if row.void else ""
    first = f'<th scope="row"{void}>{_text(row.cells[0])}</th>'
    rest = "".join(
        f'<td{void if n < len(row.cells) - 1 else ""} data-head="{_text(head)}">{_text(cell)}</td>'
        for n, (head, cell) in enumerate(zip(table.heads[1:], row.cells[1:], strict=True), 1)
    )
    return f"<tr>{first}{rest}</tr>"
