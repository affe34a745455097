"""Parts, kits and what lacks in words, for the list, the card and the command."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from store.views.parts_values import HireOut, KitOnCard, PartOnCard
from store.views.values import JobCard
from tui.words import day_time, money


def ready_words(card: JobCard) -> str:
    """`ready to come in`, what lacks, or what it came in without."""
    ready = card.job.ready
    if ready is not None:
        return "ready to come in" if ready.ready else ready.says
    if card.unready:
        return f"it came in without {'; '.join(card.unready)}"
    lacks = sum(one.lacks for one in card.parts)
    return f"{lacks} {'parts' if lacks > 1 else 'part'} not here" if lacks else "nothing lacks"


def part_more(part: PartOnCard, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    """What else is known of a part line, the day first."""
    if part.left_out and part.state not in ("fitted", "not needed", "returned"):
        yield "its phase is not done"
    elif part.state == "ordered":
        yield expected_words(part.expected, zone, now)
    if part.supplier:
        yield part.supplier
    if part.batch:
        yield f"batch {part.batch}"
    if part.price is not None:
        yield money(part.price)
    if part.note:
        yield part.note


def expected_words(at: datetime | None, zone: ZoneInfo, now: datetime) -> str:
    """`expected Fri 15:00`, `late, was Tue 15:00`, `no date`."""
    if at is None:
        return "no date"
    return f"{'late, was' if at <= now else 'expected'} {day_time(at, zone, now)}"


def kit_words(kit: KitOnCard, zone: ZoneInfo, now: datetime) -> str:
    """Where a kit is, and when it comes or goes back."""
    if kit.at == "elsewhere":
        return f"in use on {kit.job}"
    if kit.owned or kit.hire is None:
        return {"here": "in the shop", "not asked": "not asked for"}.get(kit.at, kit.at)
    if kit.at == "asked":
        when = expected_words(kit.hire.expected, zone, now)
        return f"asked for at {kit.hire.supplier}, {when}"
    state = "here" if kit.hire.complete else f"not complete: {kit.hire.note}"
    state = "in use" if kit.at == "in use" else state
    return f"{state}, {back_words(kit.hire, zone, now)}"


def back_words(hire: HireOut, zone: ZoneInfo, now: datetime) -> str:
    """When a hired kit goes back."""
    if hire.due is None:
        return "nobody said when it goes back"
    late = hire.received_at is not None and hire.due < now
    return f"{'was due' if late else 'goes back'} {day_time(hire.due, zone, now)}"
