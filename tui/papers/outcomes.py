"""Quotes and what became of them, as a paper to be read at the desk."""

from __future__ import annotations

from collections.abc import Iterator

from store.views.desk.values import Outcome, Outcomes
from tui import words
from tui.papers.paper import Block, Heading, Paper, Row, Table, Words


def outcomes_paper(found: Outcomes) -> Paper:
    """Return how many quotes became jobs, then each with its hours."""
    return Paper(
        "Quotes and what became of them", f"since {found.since}", tuple(_blocks(found)), ""
    )


def _blocks(found: Outcomes) -> Iterator[Block]:
    for line in summary(found):
        yield Words(line)
    if found.rows:
        yield Heading("Job by job")
        yield Table(
            "Middle hours: told by voice, quoted, agreed, worked",
            ("Job", "Work", "Voice", "Quoted", "Agreed", "Worked", "Became"),
            tuple(_row(one) for one in found.rows),
        )


def summary(found: Outcomes) -> Iterator[str]:
    """How many of them became jobs, and their hours together."""
    yield (
        f"Since {found.since}: {words.counted(found.quoted, 'job')} quoted, {found.agreed} agreed, "
        f"{found.declined} declined or turned away, {found.open} open."
    )
    if found.closed:
        yield (
            f"Of {words.counted(found.closed, 'job')} closed: "
            f"quoted {words.hours(found.quoted_h)}, agreed {words.hours(found.agreed_h)}, "
            f"worked {words.hours(found.worked_h)}."
        )


def _row(one: Outcome) -> Row:
    told = (one.rough_h, one.quoted_h, one.agreed_h, one.worked_h)
    hours = ("-" if each is None else words.tenth(each) for each in told)
    why = f": {one.why}" if one.why else ""
    return Row((one.job, one.work, *hours, f"{one.became}{why}"))
