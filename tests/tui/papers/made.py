"""Papers of an invented shop: of jobs at every state, and one that means ill."""

from __future__ import annotations

from datetime import UTC, datetime

from store.views.estimate_sheet import estimate_sheet
from store.views.record.page import record
from tests.store.actions.made import World
from tui.papers.paper import Facts, Heading, Items, Lines, Paper, Row, Table, Words
from tui.papers.record import record_paper
from tui.papers.sheet import sheet_paper

EVIL = '</style><script>alert("x")</script>&amp;\x1b[31m\u202e<b title=\'"'
WIDE = "漢字" * 60
LONG = "w" * 190


def papers(world: World) -> dict[str, Paper]:
    """A record of every job and a sheet of every job of the busy shop, by name."""
    found: dict[str, Paper] = {"evil": evil()}
    for (job,) in world.all("select job from job order by number"):
        number = str(job)
        for names in (True, False):
            whole = record(world.shop, number, world.now, names=names, hours=names)
            found[f"record {number} {names}"] = record_paper(whole)
        sheet = estimate_sheet(world.shop, number, world.now, names=True)
        found[f"sheet {number}"] = sheet_paper(sheet)
    return found


def evil() -> Paper:
    """Every kind of block, with texts that are no plain words."""
    at = datetime(2026, 10, 14, tzinfo=UTC)
    return Paper(
        EVIL, LONG,
        (
            Words(EVIL), Heading(EVIL), Words(LONG, note=True), Facts(((EVIL, WIDE), ("", LONG))),
            Items((EVIL, WIDE)), Heading(WIDE), Lines((EVIL, "for the shop")),
            Table(EVIL, (EVIL, "b", WIDE), (Row((EVIL, "", LONG)), Row(("a", WIDE, "c"), True))),
        ),
        f"{at} {EVIL}",
    )  # fmt: skip
