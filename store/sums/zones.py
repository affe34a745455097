"""Time zones by name, as the IANA database of this machine has them."""

from __future__ import annotations

import struct
from zoneinfo import ZoneInfo

from store.trouble import Trouble

UNREADABLE = (KeyError, ValueError, OSError, EOFError, struct.error)
"""What a zone that is unknown, or whose file is torn, raises."""


class UnknownZone(Trouble):
    """This machine has no such time zone, or cannot read it."""

    def __init__(self, zone: str) -> None:
        self.zone = zone
        super().__init__(
            f"This machine knows no time zone {zone!r}. A name is Continent/City, like "
            "Europe/Berlin; if it is right, bring the machine's time zone data (tzdata) up to "
            "date. Nothing was changed."
        )


def zone_named(name: str) -> ZoneInfo:
    """Return a zone of the IANA time zone database.

    Raises:
        UnknownZone: this machine has none of that name.
    """
    try:
        return ZoneInfo(name)
    except UNREADABLE:
        raise UnknownZone(name) from None
