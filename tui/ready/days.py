"""Days as people type them in the forms of parts and kits: a day is meant by its end."""

from __future__ import annotations

from datetime import datetime

from store.file.shop import Shop
from store.trouble import Refused
from store.views.opening import end_of_day
from tui.desk.reading import day_to_come
from tui.parts.when import coming
from tui.words import zone_of

LIKE = "Like thu, tomorrow, 22 oct, or with its time: fri 10:00."


def by_day(shop: Shop, text: str, now: datetime, zone: str) -> datetime:
    """The end of a day's last shift, or an instant that is still to come.

    Raises:
        Refused: it is neither, has been, or the shop is closed on that day.
    """
    place = zone_of(zone)
    try:
        day = day_to_come(text, now, place)
    except Refused as no_day:
        if ":" not in text and not text.strip().startswith("+"):
            raise Refused(f"{no_day}") from no_day
        return coming(text, now, place)
    at = end_of_day(shop, day)
    if at <= now:
        raise Refused("The shop closes before that. Type a later day.")
    return at


def maybe_day(shop: Shop, text: str, now: datetime, zone: str) -> datetime | None:
    """The same; None where nothing was typed."""
    return by_day(shop, text, now, zone) if text else None
