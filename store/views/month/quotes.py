"""The quotes of a month and what became of them; extra work asked, and how much was agreed."""

from __future__ import annotations

from collections.abc import Iterable

from store.file.month.asked import Quoted, extra_in, quoted_in
from store.sums.ranged import of_count
from store.views.month.look import Look
from store.views.month.spent_values import Quotes
from store.views.month.way import Figure, Way

GIVEN = "Jobs that were quoted in the month, each once, whatever was answered since."
AGREED = "Of them, those that were agreed to."
DECLINED = "Of them, those that were declined."
OPEN = "Of them, those not answered yet."


def quotes_of(look: Look) -> Quotes:
    """Return the quotes given in a month and what became of them."""
    quoted = tuple(quoted_in(look.db, look.span))
    agreed = [one for one in quoted if one.outcome == "agreed"]
    declined = [one for one in quoted if one.outcome == "declined"]
    left = [one for one in quoted if one.outcome == "open"]
    asked = [one for one in extra_in(look.db, look.span) if look.span.holds(one.asked_at)]
    approved = sum(one.state == "approved" for one in asked)
    answered = approved + sum(one.state == "refused" for one in asked)
    return Quotes(
        _counted(GIVEN, quoted), _counted(AGREED, agreed), _counted(DECLINED, declined),
        _counted(OPEN, left), of_count(len(agreed), len(agreed) + len(declined)),
        of_count(approved, answered), _says(len(quoted), len(agreed), len(left)),
    )  # fmt: skip


def _counted(explained: str, quoted: Iterable[Quoted]) -> Figure:
    ways = tuple(Way(one.work, 1.0, one.job, at=one.at, events=one.seqs) for one in quoted)
    return Figure(float(len(ways)), "n", explained, ways)


def _says(given: int, agreed: int, left: int) -> str:
    if not given:
        return "No quote was given."
    end = f", {left} not answered yet" if left else ""
    return f"{agreed} of {given} jobs quoted became jobs{end}."
