"""A floor that is tried: what stands before and after in words, and the lift time that is won."""

from __future__ import annotations

from dataclasses import replace

from store.views.values import Job
from tui.colours import Ink
from tui.lane.axis import Axis
from tui.lane.outlook import Outlook, outlook
from tui.parts.canvas import Canvas
from tui.signs import Signs


def from_to(before: Job | None, after: Job, signs: Signs) -> Outlook | None:
    """The promise as it is and as it would be: `will break › doubtful 3 in 10`.

    Args:
        before: the job as it is; None where it is not known.
    """
    then = outlook(after)
    was = outlook(before) if before is not None else None
    if was is None or then is None or (was.word, was.tenths) == (then.word, then.tenths):
        return then
    same = was.word == then.word
    word = f"{was.said_long} {signs.becomes}" if same else f"{was.word} {signs.becomes} {then.word}"
    return replace(then, word=word, short=f"{signs.becomes} {then.short}")


def paint_won(
    canvas: Canvas, at: tuple[int, int], axis: Axis, jobs: tuple[Job | None, Job | None],
    signs: Signs,
) -> None:  # fmt: skip
    """Mark the time from which the lift would likely be free to that at which it is as it is.

    In a band two cells thick the taper goes on under it.

    Args:
        jobs: on the lift as it is, and as it would be.
    """
    (x, y), (before, after) = at, jobs
    if before is None or before.finish is None:
        return
    since = after.finish.middle if after is not None and after.finish is not None else axis.at
    for n, _ in axis.between(max(since, axis.at), before.finish.middle):
        if n > axis.now:
            canvas.dot(x + n, y, signs.won, Ink("ahead"))
