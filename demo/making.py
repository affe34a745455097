"""The demo shop, made whole: the same for the same seed and months, event by event."""

from __future__ import annotations

import gc
from collections.abc import Generator
from contextlib import contextmanager
from datetime import UTC, date, datetime, time
from pathlib import Path
from zoneinfo import ZoneInfo

from pendulum import Date

from demo.chance import Chance
from demo.founding import found, made_for
from demo.past import live_through, new_world
from demo.pen import Pen
from demo.story import STORY, Story
from demo.telling import book_ahead, tell
from store.file.shop import Shop
from store.sums.working_time import at_zone

ZONE = ZoneInfo("Europe/Amsterdam")
TODAY = date(2026, 10, 14)
OPENS_AT = datetime(2026, 10, 14, 10, 40, tzinfo=ZONE).astimezone(UTC)
"""When the demo's own clock starts: a Wednesday morning."""
LAST_PAST_DAY = date(2026, 10, 9)
MOST_MONTHS = 60
"""Those who work here came some years ago."""


def make_demo(path: Path, *, seed: int = 1, months: int = 18, story: Story = STORY) -> Shop:
    """Make the invented shop in a new file, with so many months behind it.

    Args:
        story: what is true in it and nobody there knows yet.

    Raises:
        ShopExists: something is there already.
        ValueError: fewer than 1 month, or more than `MOST_MONTHS`.
    """
    if not 1 <= months <= MOST_MONTHS:
        raise ValueError(f"the demo's past is 1 to {MOST_MONTHS} months, not {months}")
    chance = Chance(seed)
    first = first_day(months)
    now = at_zone(first, time(6, 30), ZONE)
    pen = Pen(chance("keys"), now)

    def live(shop: Shop) -> None:
        with shop.bulk():
            world = new_world(shop, pen, chance, story, first, LAST_PAST_DAY)
            telling = book_ahead(world, TODAY)
            live_through(world, first, LAST_PAST_DAY)
            tell(telling, OPENS_AT)

    with _no_rubbish():
        mark = made_for(seed, months, OPENS_AT)
        return found(path, pen, now, mark, TODAY.year + 1, live)


@contextmanager
def _no_rubbish() -> Generator[None]:
    """Ten thousands of events leave no circles behind that are worth looking for."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def first_day(months: int) -> date:
    """Return the day on which a past of so many months begins."""
    first = Date(TODAY.year, TODAY.month, TODAY.day).subtract(months=months)
    return date(first.year, first.month, first.day)
