"""A line for each command that only reads: `{j}` is a job, `{b}` a badge, `{f}` a folder."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

OF_A_JOB = (
    "job {j}", "record {j}", "sheet {j}", "card {j}", "parts {j}", "customer {j}", "advice {j}",
    "why {j}", "ready {j}", "codes --job {j}", "ledger --job {j}", "record {j} --html {f}/r.html",
    "sheet {j} --html {f}/s.html", "card {j} --html {f}/c.html", "job {j} --steps",
)  # fmt: skip
OF_THE_SHOP = (
    "floor", "ledger", "needs", "helps", "helps --all", "clear", "line", "desk", "quotes",
    "hire advise", "tools", "supplier", "outwork", "followups", "dates {f}/x.ics", "next {b}",
    "day {b}", "people", "sshline {b}", "codes", "workbook show", "workbook starter", "learned",
    "workbook export {f}/b.toml", "workbook check {f}/b.toml", "month 2026-10", "costs 2026-10",
    "prices 2026-10 --rate 98", "month 2026-10 --html {f}/m.html", "month 2026-10 --csv {f}/m",
    "history export {f}/h.csv --people {f}/p.csv --spans {f}/s.csv --open {f}/o.csv", "verify",
    "estimate --operation TC --family B4-M-F", "hindsight",
)  # fmt: skip


def reading_lines(folder: Path, badge: str, jobs: Sequence[str]) -> Iterator[str]:
    """Every line that reads, as JSON too."""
    known = {"f": folder, "b": badge or "T1"}
    every = [one.format(**known) for one in OF_THE_SHOP]
    every += [one.format(j=job, **known) for one in OF_A_JOB for job in jobs]
    for one in every:
        yield one
        if "html" not in one and "--csv" not in one:
            yield f"{one} --json"
