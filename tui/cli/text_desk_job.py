"""What the desk knows of one job, as text under its card."""

from __future__ import annotations

from collections.abc import Iterator

from store.views.values import JobCard
from tui import words
from tui.cli.text_floor import WIDTH
from tui.job.desk import desk_lines


def lines(card: JobCard) -> Iterator[str]:
    """The desk's sentences under their heading; nothing where there are none."""
    told = desk_lines(card)
    if not told:
        return
    yield ""
    yield "the desk"
    for line in told:
        for nth, piece in enumerate(words.wrapped(words.plain(line), WIDTH - 4)):
            yield f"  {'  ' if nth else ''}{piece}"
