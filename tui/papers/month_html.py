"""The owner's month as one page of HTML: light and dark, on a telephone and on paper; a click on a
head sorts its table, and without its script it reads the same."""

from __future__ import annotations

from store.views.month.values import Month
from tui.papers.html import html_of
from tui.papers.month import month_paper

LIGHT = {
    "ink": "#1d2325", "dim": "#4a5559", "rule": "#6b757a", "shade": "#eef0ea", "ground": "#ffffff",
    "link": "#1a668d", "past": "#848a87", "running": "#1a668d", "ahead": "#0d6a60",
    "behind": "#8a4f00", "blocked": "#8c0a3a", "band": "#e4edf1",
}  # fmt: skip
DARK = {
    "ink": "#dfe4de", "dim": "#98a5a8", "rule": "#718188", "shade": "#1f262a", "ground": "#14181b",
    "link": "#6fb7d8", "past": "#6f828b", "running": "#6fb7d8", "ahead": "#79cfc0",
    "behind": "#f2a93b", "blocked": "#ff8573", "band": "#22303a",
}  # fmt: skip
"""Roles as on the screens; `band` lies behind marks, `shade` behind heads. Contrast is tested."""
MARKS = ("past", "running", "ahead", "behind", "blocked")


def _values(colours: dict[str, str]) -> str:
    return "; ".join(f"--{name}: {value}" for name, value in colours.items())


FILLS = "\n".join(
    f".k-{name} {{ fill: var(--{name}); background: var(--{name}) }}" for name in (*MARKS, "dim")
)
STYLE = f"""
:root {{ {_values(LIGHT)}; color-scheme: light dark }}
@media screen and (prefers-color-scheme: dark) {{ :root {{ {_values(DARK)} }} }}
html {{ background: var(--ground) }}
body {{ max-width: 62rem }}
a {{ color: var(--link); text-decoration-thickness: .06em; text-underline-offset: .15em }}
a.rows {{ font-size: 9.5pt; white-space: nowrap; font-weight: 400 }}
.first {{ font-size: 13pt; font-weight: 600 }}
thead th {{ overflow-wrap: normal }}
tbody th {{ min-width: 6em }}
.figure {{ text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums }}
tbody tr:target > *, tr:target > * {{ background: var(--band) }}
figure {{ margin: 3mm 0 4mm; break-inside: avoid }}
figcaption {{ color: var(--dim); font-size: 9.5pt }}
.picture {{ display: block; overflow: visible; font-size: 12px }}
.picture text {{ fill: var(--ink); paint-order: stroke; stroke: var(--ground); stroke-width: 3px;
  stroke-linejoin: round }}
.picture text.dim {{ fill: var(--dim) }}
.picture a text {{ fill: var(--link); text-decoration: underline }}
.told {{ font-weight: 600 }}
.near, .trough {{ fill: var(--band) }}
.dash, .limit {{ stroke: var(--dim); stroke-dasharray: 4 3 }}
.middle {{ stroke: var(--ink); stroke-width: 1.5 }}
.target {{ stroke: var(--rule); stroke-dasharray: 1 3 }}
.joined {{ stroke: var(--rule) }}
.change {{ stroke: var(--behind); stroke-width: 2; stroke-dasharray: 6 3 }}
.k-text {{ fill: var(--ink) }}
{FILLS}
.legend {{ font-size: 9.5pt; color: var(--dim) }}
.legend span {{ margin-right: 1em; white-space: nowrap }}
.legend i {{ display: inline-block; width: .8em; height: .8em; margin-right: .35em;
  print-color-adjust: exact }}
details {{ margin: 1mm 0; break-inside: avoid-page }}
details[open] {{ break-inside: auto }}
details table {{ scroll-margin-top: 3rem }}
summary {{ cursor: pointer; color: var(--link); padding: 1mm 0 }}
th button {{ all: unset; cursor: pointer; color: inherit; font: inherit }}
th button:focus-visible {{ outline: 2px solid var(--link); outline-offset: 2px }}
th[aria-sort=ascending] button::after {{ content: " \\25B4" }}
th[aria-sort=descending] button::after {{ content: " \\25BE" }}
@media screen and (max-width: 46em) {{
  .figure {{ text-align: left }}
  .fine, details td:empty {{ display: none }}
  details td {{ display: inline-block; margin-right: .9em }}
  .sorted thead {{ position: static; display: block }}
  .sorted thead tr {{ display: flex; flex-wrap: wrap; gap: .3em 1em }}
  .sorted thead tr::before {{ content: "sort by"; color: var(--dim); padding: .3mm 0 }}
  .sorted thead th {{ display: inline; background: none }}
  .sorted thead button {{ color: var(--link); text-decoration: underline }}
}}
@media print {{
  body {{ font-size: 9pt }}
  a {{ color: inherit; text-decoration: none }}
  a.rows, details:not([open]), section:has(#phases, #made-of, #odds):not(:has(details[open])) {{
    display: none }}
  table {{ font-size: 8.5pt }}
  .picture, .legend {{ print-color-adjust: exact; -webkit-print-color-adjust: exact }}
}}
"""
SCRIPT = """
"use strict";
for (const table of document.querySelectorAll("table.sorts")) {
  table.classList.add("sorted");
  const heads = [...table.tHead.rows[0].cells];
  const key = (row, n) => row.cells[n].dataset.key ?? row.cells[n].textContent;
  const compare = (a, b) => {
    const x = Number(a), y = Number(b);
    if (a !== "" && b !== "" && !isNaN(x) && !isNaN(y)) return x - y;
    return a.localeCompare(b, "en", { numeric: true });
  };
  heads.forEach((head, n) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const up = head.getAttribute("aria-sort") !== "ascending";
      heads.forEach((one) => one.removeAttribute("aria-sort"));
      head.setAttribute("aria-sort", up ? "ascending" : "descending");
      const rows = [...table.tBodies[0].rows];
      rows.sort((a, b) => (up ? 1 : -1) * compare(key(a, n), key(b, n)));
      table.tBodies[0].append(...rows);
    });
  });
}
const unfold = () => {
  const there = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const folded = there?.closest("details:not([open])");
  if (folded) { folded.open = true; there.scrollIntoView(); }
};
addEventListener("hashchange", unfold);
unfold();
"""
"""A click on a head sorts; a link to folded rows unfolds them, where the browser does not."""


def month_html(found: Month) -> str:
    """The report as one file; nothing is asked from anywhere else."""
    return html_of(month_paper(found), style=STYLE, script=SCRIPT)
