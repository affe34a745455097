"""The head of a job card: which job, where it stands, what it is for and what was promised."""

from __future__ import annotations

from rich.cells import cell_len

from store.views.values import Job, JobCard
from tui.colours import Ink
from tui.lane.outlook import Outlook
from tui.parts.canvas import Canvas, Piece
from tui.parts.lines import put_pieces
from tui.signs import Signs
from tui.words import cut, day_time

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
AT_DESK = ("enquiry", "booked", "arrived", "quoted")
"""States in which it matters more how far one is than where the vehicle stands."""


def paint_job_head(canvas: Canvas, card: JobCard, outlook: Outlook | None, signs: Signs) -> None:
    """Two lines: which job, where, since when; its work and its promise."""
    job, zone, end = card.job, card.calendar.zone, canvas.width - 1
    start = canvas.right(end, 0, day_time(card.at, zone, card.at), BOLD)
    where = [_where(job)]
    where += [f"in since {day_time(job.in_since, zone, card.at)}"] if job.in_since else []
    first: list[Piece] = [
        (f"{job.number} ", BOLD), (f"{job.vehicle}  ", TEXT), (", ".join(where), DIM)
    ]  # fmt: skip
    put_pieces(canvas, (1, 0), first, start - 3, signs)
    second: list[Piece] = []
    if job.promise is not None and outlook is not None:
        second.append((f"promised {day_time(job.promise, zone, card.at)} ", TEXT))
        second.append((outlook.said_long, outlook.ink))
    elif job.promise is None:
        second.append(("not promised", DIM))
    room = end - 1 - sum(cell_len(text) for text, _ in second) - 3
    x = canvas.put(1, 1, cut(job.work, max(12, room), signs.more), DIM) + 3
    put_pieces(canvas, (x, 1), second, end - x, signs)


def _where(job: Job) -> str:
    """`lift 2`, `yard`, `waiting`; before the customer's word how far one is: `quoted, at yard`."""
    if job.state in AT_DESK:
        return f"{job.state}, at {job.place}" if job.place else job.state
    return f"lift {job.place}" if job.state == "on-lift" and job.place else job.place or job.state
