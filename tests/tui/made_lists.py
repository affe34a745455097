"""Invented lists of work: one with three lines, one of somebody at school, and what is nobody's."""

from __future__ import annotations

from datetime import timedelta

from store.file.roster import Absence
from store.views.assigned_values import Assigned, Work, WorkList
from tests.tui.made import CALENDAR, NOW, on


def work(
    where: str, name: str, *, promise: str | None = None, waits: str = "", place: str | None = None,
    likely: tuple[str, str] | None = None,
) -> Work:  # fmt: skip
    """A line, by what it is called."""
    job, _, phase = where.partition(".")
    return Work(
        job, phase or None, name, "panel van", place, None if waits else phase or "2", waits, 1.2,
        on(promise) if promise else None, 0.8, "Ruth", NOW,
        (on(likely[0]), on(likely[1])) if likely else None,
    )  # fmt: skip


INES = WorkList(
    "B12", "Ines", "IN", "technician", "2417.4", NOW - timedelta(minutes=72), None,
    (
        work("2417.5", "gearbox in", promise="Wed 16:00", place="lift 1",
             likely=("Wed 11:00", "Wed 14:00")),
        work("2420.2", "bearings", promise="Wed 12:00", place="lift 3",
             likely=("Wed 14:00", "Wed 16:20")),
        work("2409", "timing chain", waits="after 3 covers off", place="lift 2"),
    ),
)  # fmt: skip
PER = WorkList(
    "B14", "Per", "PE", "technician", None, None,
    Absence(on("Wed 08:00"), on("Thu 16:00"), "school"), (),
)  # fmt: skip
RUTH = WorkList("F01", "Ruth", "RU", "foreman", None, None, None, ())
VIEW = Assigned(NOW, CALENDAR, (INES, PER, RUTH), (work("2436.1", "check"),))
