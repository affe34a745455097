"""What lacks, parts and kits as text of at most 80 columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from store.views.parts_values import PartOnCard
from store.views.values import Job, JobCard
from tui import words
from tui.ready.words import kit_words, part_more

WIDTH = 80


def ready_lines(jobs: Iterable[Job]) -> Iterator[str]:
    """One job a line, and under it what lacks where it is more than one line holds."""
    found = False
    for job in jobs:
        found = True
        says = job.ready.says if job.ready is not None else ""
        head = f"{job.number:>6}  {words.cut(job.vehicle, 24):<24}  "
        first, *rest = words.wrapped(says, WIDTH - len(head)) or [""]
        yield (head + first).rstrip()
        yield from (" " * len(head) + one for one in rest)
    if not found:
        yield "No job waits to come in."


def part_lines(card: JobCard) -> Iterator[str]:
    """The part lines and kits of a job."""
    zone = card.calendar.zone
    if not card.parts:
        yield f'{card.job.number} has no parts listed: hoistbook parts add {card.job.number} "…"'
    for one in card.parts:
        yield words.cut(_part(one, zone, card.at), WIDTH)
    for kit in card.tools:
        yield words.cut(f"kit  {kit.name}: {kit_words(kit, zone, card.at)}", WIDTH)
    ready = card.job.ready
    if ready is not None:
        yield from words.wrapped(f"{card.job.number} {ready.says}", WIDTH)
    elif card.unready:
        yield from words.wrapped(f"came in without: {'; '.join(card.unready)}", WIDTH)


def _part(part: PartOnCard, zone: ZoneInfo, now: datetime) -> str:
    where = f" for {part.phase}" if part.phase else ""
    more = "; ".join(part_more(part, zone, now))
    mark = "!" if part.lacks else " "
    return f"{mark}{part.line:>3}  {part.state:<10} {part.text}{where}{'  ' + more if more else ''}"
