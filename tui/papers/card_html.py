"""A job card as one page of HTML that prints on A4 and Letter in black: boxes, fields, codes."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from store.rules.codes import MARK, Code, written
from store.views.printed_card import PrintedCard
from tui.cli import qr
from tui.papers.card import (
    CLOCK_ROWS,
    DECIDE,
    FOUND_ROWS,
    HOURS_HEADS,
    ON_PAPER,
    CardPhase,
    CardStep,
    alarms,
    facts,
    findings,
    foot,
    phases,
)
from tui.papers.html import framed
from tui.words import plain

STYLE = """
@page { margin: 12mm 11mm }
* { box-sizing: border-box }
body { margin: 0 auto; max-width: 188mm; padding: 5mm; color: #000; background: #fff;
  font: 10pt/1.3 "DejaVu Sans", Verdana, "Segoe UI", Helvetica, Arial, sans-serif;
  overflow-wrap: anywhere }
header { display: grid; grid-template-columns: 1fr 30mm; gap: 4mm }
h1 { font-size: 20pt; line-height: 1.1; margin: 0 0 1mm }
h2 { font-size: 11.5pt; margin: 0 }
p { margin: 1mm 0 }
dl { display: grid; grid-template-columns: 30mm 1fr; gap: .5mm 3mm; margin: 1mm 0 }
dt { color: #333 }
dd { margin: 0 }
.alarm { border: .7mm solid #000; padding: 1.5mm 2.5mm; font-weight: 700; margin: 1.5mm 0;
  break-inside: avoid }
.small, footer { font-size: 8.5pt; color: #333 }
section { border-top: .4mm solid #000; margin-top: 3mm; padding-top: 2mm }
.head { display: grid; grid-template-columns: 1fr 26mm; gap: 3mm; break-inside: avoid;
  break-after: avoid }
.warn { font-weight: 700 }
ol { list-style: none; margin: 1mm 0 0; padding: 0 }
li { display: grid; grid-template-columns: 6mm 11mm 1fr 26mm; gap: 1mm; padding: 1mm 0;
  border-top: .15mm solid #777; break-inside: avoid }
.box { width: 4mm; height: 4mm; border: .35mm solid #000; margin-top: .4mm; font: 700 9pt/3.4mm
  sans-serif; text-align: center }
.field { display: inline-block; border-bottom: .3mm solid #000; min-width: 26mm; height: 5mm }
.long { min-width: 48mm }
svg { display: block; width: 24mm; height: 24mm }
code { display: block; font: 6.5pt "DejaVu Sans Mono", monospace; overflow-wrap: anywhere }
table { width: 100%; border-collapse: collapse; margin-top: 1mm }
th { text-align: left; font-size: 8.5pt }
td, th { border: .2mm solid #000; padding: 1mm 1.5mm }
tbody td { height: 8mm }
thead { display: table-header-group }
tr { break-inside: avoid }
@media print { body { padding: 0; max-width: none } }
"""


def card_html(found: PrintedCard) -> str:
    """The page; text of people is text and nothing else."""
    job = found.card.job
    parts = [*_head(found)]
    for one in phases(found):
        parts += _phase(one)
    parts += [*_found(found), *_hours(found)]
    parts.append(f"<footer><p>{_text(foot(found))}</p></footer>\n")
    return framed(f"job card {job.number} {job.vehicle}", STYLE, "\n".join(parts))


def _head(found: PrintedCard) -> Iterator[str]:
    job = found.card.job
    rows = "".join(f"<dt>{_text(name)}</dt><dd>{_text(value)}</dd>" for name, value in facts(found))
    yield f"<header>\n<div><h1>Job {_text(job.number)}</h1>\n<dl>{rows}</dl></div>"
    yield f"{_code(Code('job', job.number))}</header>\n<main>"
    for one in alarms(found):
        yield f'<p class="alarm">{_text(one)}</p>'
    yield f'<p class="small">{_text(DECIDE)} {_text(ON_PAPER)}</p>'


def _phase(one: CardPhase) -> Iterator[str]:
    code = _code(one.code) if one.code is not None and not one.over else "<div></div>"
    yield f'<section>\n<div class="head"><div><h2>{_text(f"{one.number} {one.name}")}</h2>'
    yield f"<p>{_text(one.state)}: {_text(one.figures)}</p>"
    for warning in () if one.over else one.warnings:
        yield f'<p class="warn">! {_text(warning)}</p>'
    yield f"</div>{code}</div>"
    if one.steps:
        yield "<ol>"
        for step in one.steps:
            yield from _step(step)
        yield "</ol>"
    yield "</section>"


def _step(one: CardStep) -> Iterator[str]:
    box = "x" if one.done else "&#160;"
    yield f'<li><div class="box">{box}</div><div>{_text(one.number)}</div><div>'
    kind = "" if one.kind == "step" else f"<b>{_text(one.kind.upper())}</b> "
    yield f"{kind}{_text(one.text)}"
    if one.done:
        yield f'<p class="small">{_text(one.done)}</p></div><div></div></li>'
        return
    if one.caution:
        yield f'<p class="warn">! {_text(one.caution)}</p>'
    for note in one.notes:
        yield f'<p class="small">{_text(note)}</p>'
    for text, limits, unit in one.readings:
        yield (
            f'<p>{_text(text)}: <span class="field"></span> {_text(unit)} '
            f'<span class="small">({_text(limits)})</span></p>'
        )
    for n in range(one.names):
        yield (
            f'<p>name {n + 1}: <span class="field long"></span> time: '
            '<span class="field"></span></p>'
        )
    yield f"</div>{_code(one.code) if one.code is not None else '<div></div>'}</li>"


def _found(found: PrintedCard) -> Iterator[str]:
    yield "<section>\n<h2>found</h2>"
    for line in findings(found):
        yield f"<p>{_text(line)}</p>"
    yield from _table(("phase", "what", "hours"), FOUND_ROWS)
    yield "</section>"


def _hours(found: PrintedCard) -> Iterator[str]:
    people = ", ".join(f"{badge} {name}" for badge, name in found.people)
    yield f'<section>\n<h2>hours</h2>\n<p class="small">{_text(people)}</p>'
    yield from _table(HOURS_HEADS, CLOCK_ROWS)
    yield "</section>\n</main>"


def _table(heads: tuple[str, ...], rows: int) -> Iterator[str]:
    named = "".join(f'<th scope="col">{_text(one)}</th>' for one in heads)
    yield f"<table><thead><tr>{named}</tr></thead><tbody>"
    yield from ("<tr>" + "<td></td>" * len(heads) + "</tr>" for _ in range(rows))
    yield "</tbody></table>"


def _code(code: Code) -> str:
    letters = written(code)
    rows = qr.modules(MARK + letters)
    size = len(rows)
    return (
        f'<div><svg viewBox="0 0 {size} {size}" role="img" aria-label="{_text(letters)}" '
        f'shape-rendering="crispEdges"><path fill="#000" d="{qr.path(rows)}"/></svg>'
        f"<code>{_text(letters)}</code></div>"
    )


def _text(text: str) -> str:
    return escape(plain(text))
