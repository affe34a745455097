"""A paper as one page of HTML: nothing from anywhere else, and readable without its script."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from tui.papers.paper import Block, Facts, Heading, Items, Lines, Paper, Row, Table, Words
from tui.papers.pictures import Bars, Run, Strip
from tui.papers.svg import bars_svg, run_svg, strip_svg
from tui.words import counted, plain

INK, DIM, RULE, SHADE, GROUND = "#1d2325", "#4a5559", "#6b757a", "#eef0ea", "#ffffff"
"""Text, small print, rules, heads of tables, paper; contrast is tested."""
STYLE = f"""
@page {{ margin: 16mm 14mm }}
:root {{ --ink: {INK}; --dim: {DIM}; --rule: {RULE}; --shade: {SHADE}; --ground: {GROUND} }}
* {{ box-sizing: border-box }}
body {{ margin: 0 auto; max-width: 182mm; padding: 6mm; color: var(--ink);
  background: var(--ground);
  font: 10.5pt/1.4 "DejaVu Sans", Verdana, "Segoe UI", Helvetica, Arial, sans-serif;
  overflow-wrap: anywhere }}
h1 {{ font-size: 17pt; line-height: 1.2; margin: 0 }}
h2 {{ font-size: 12pt; margin: 7mm 0 2mm; padding-bottom: 1mm; break-after: avoid;
  border-bottom: .4mm solid var(--rule) }}
p {{ margin: 1.5mm 0 }}
.about {{ font-size: 12pt; margin: 1mm 0 0 }}
.note, footer {{ color: var(--dim); font-size: 9.5pt }}
footer {{ margin-top: 8mm; padding-top: 2mm; border-top: .4mm solid var(--rule) }}
dl {{ display: grid; grid-template-columns: minmax(30mm, 26%) 1fr; gap: 1mm 4mm; margin: 0 }}
dt {{ color: var(--dim) }}
dd {{ margin: 0 }}
ul {{ margin: 1mm 0; padding-left: 5mm }}
table {{ width: 100%; border-collapse: collapse; margin: 1mm 0 3mm; font-size: 9.5pt }}
caption {{ text-align: left; color: var(--dim); padding-bottom: 1mm }}
th, td {{ text-align: left; vertical-align: top; padding: 1mm 2mm 1mm 1mm;
  border-bottom: .2mm solid var(--rule) }}
thead th {{ background: var(--shade) }}
tbody th {{ font-weight: 600 }}
tr, dt, dd, li {{ break-inside: avoid }}
thead {{ display: table-header-group }}
.void {{ color: var(--dim); text-decoration: line-through }}
.sign {{ display: grid; grid-template-columns: 1fr 1fr; gap: 6mm; margin-top: 14mm;
  break-inside: avoid }}
.sign p {{ border-top: .3mm solid var(--ink); padding-top: 1mm; margin: 12mm 0 0 }}
@media screen and (max-width: 46em) {{
  body {{ padding: 4vw }}
  dl, .sign {{ display: block }}
  dd {{ margin-bottom: 2mm }}
  thead {{ position: absolute; left: -200vw }}
  table, tbody, tr, th, td, caption {{ display: block; width: auto }}
  tr {{ padding: 2mm 0; border-bottom: .4mm solid var(--rule) }}
  th, td {{ border: 0; padding: .3mm 0 }}
  td[data-head]::before {{ content: attr(data-head) ": "; color: var(--dim) }}
}}
@media print {{ body {{ padding: 0; max-width: none }} }}
"""


def html_of(paper: Paper, *, style: str = "", script: str = "") -> str:
    """The paper; text of people is text and nothing else.

    Args:
        style: what goes beyond the style of every paper.
        script: of our own, inline.
    """
    blocks = "\n".join(line for block in _sections(paper) for line in block)
    body = (
        f'<header>\n<h1>{_text(paper.title)}</h1>\n<p class="about">{_text(paper.about)}</p>\n'
        f"</header>\n<main>\n{blocks}\n</main>\n<footer><p>{_text(paper.foot)}</p></footer>\n"
    )
    body += f"<script>{script}</script>\n" if script else ""
    return framed(f"{paper.title}: {paper.about}", STYLE + style, body)


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
            yield f"<h2{_id(block.id)}>{_text(text)}</h2>"
        case Words():
            yield _words(block)
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
        case Strip():
            yield from _figure("", strip_svg(block))
        case Bars():
            yield from _figure("", bars_svg(block))
        case Run():
            yield from _figure(block.name, run_svg(block))
        case Lines(under):
            yield '<div class="sign">'
            for text in under:
                yield f"<p>{_text(text)}</p>"
            yield "</div>"


def _id(name: str) -> str:
    return f' id="{escape(name)}"' if name else ""


def _linked(text: str, link: str) -> str:
    return f'<a href="#{escape(link)}">{_text(text)}</a>' if link else _text(text)


def _words(words: Words) -> str:
    kind = ' class="first"' if words.first else ' class="note"' if words.note else ""
    more = f' <a class="rows" href="#{escape(words.link)}">rows</a>' if words.link else ""
    return f"<p{kind}>{_text(words.text)}{more}</p>"


def _figure(name: str, picture: Iterator[str]) -> Iterator[str]:
    yield "<figure>"
    if name:
        yield f"<figcaption>{_text(name)}</figcaption>"
    yield from picture
    yield "</figure>"


def _table(table: Table) -> Iterator[str]:
    sorts = ' class="sorts"' if table.sorts else ""
    if table.folded:
        rows = counted(len(table.rows), "row")
        yield f"<details><summary>{_text(table.caption)}, {rows}</summary>"
    yield f"<table{_id(table.id)}{sorts}>"
    if table.caption and not table.folded:
        yield f"<caption>{_text(table.caption)}</caption>"
    heads = "".join(
        f'<th scope="col"{_figured(table, n)}>{_text(one)}</th>'
        for n, one in enumerate(table.heads)
    )
    yield f"<thead><tr>{heads}</tr></thead>\n<tbody>"
    for row in table.rows:
        yield _row(table, row)
    yield f"</tbody>\n</table>{'</details>' if table.folded else ''}"


def _figured(table: Table, column: int, void: bool = False) -> str:
    kinds = [*(["figure"] if column in table.figures else []), *(["void"] if void else [])]
    return f' class="{" ".join(kinds)}"' if kinds else ""


def _row(table: Table, row: Row) -> str:
    count = len(row.cells)
    links, keys = row.links or ("",) * count, row.keys or ("",) * count
    cells = ""
    for n, (text, link, key) in enumerate(zip(row.cells, links, keys, strict=True)):
        tag, what = ("td", _head(table, n, text)) if n else ("th", ' scope="row"')
        void = row.void and (n == 0 or n < count - 1)
        sort = f' data-key="{escape(key)}"' if key else ""
        cells += f"<{tag}{what}{_figured(table, n, void)}{sort}>{_linked(text, link)}</{tag}>"
    return f"<tr{_id(row.id)}>{cells}</tr>"


def _head(table: Table, column: int, text: str) -> str:
    """What stands before a cell where there is no room for columns; nothing before nothing."""
    return f' data-head="{_text(table.heads[column])}"' if text else ""
