"""The only place that asks the machine for the time.

A real shop goes by the machine's clock. The demo shop keeps its own, which stands still while
nobody uses the file, so that it is alive whenever it is opened.
"""

from __future__ import annotations

import time
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from store.file.demo_clock import demo_now, use_demo
from store.file.pins import Uptime
from store.file.shop import Shop
from store.views.about import about


def machine_now() -> datetime:
    """The machine's instant, UTC."""
    return datetime.now(UTC)


def uptime() -> Uptime | None:
    """How long the machine has run, sleep included; None on one that does not say so."""
    started = _start()
    return None if started is None else Uptime(started, time.clock_gettime(time.CLOCK_BOOTTIME))


@cache
def _start() -> str | None:
    """Which start of the machine this is: Linux draws a number at each."""
    try:
        return Path("/proc/sys/kernel/random/boot_id").read_text("ascii").strip()
    except OSError:
        return None


class ShopClock:
    """The clock that a shop goes by."""

    def __init__(self, shop: Shop) -> None:
        """Look once whether it is a demo shop.

        Raises:
            Trouble: the file cannot be read.
        """
        self._shop = shop
        self._demo = about(shop).demo

    @property
    def sleeps(self) -> bool:
        """Whether it stands still while nobody is there: a demo shop's does."""
        return self._demo is not None

    def look(self) -> datetime:
        """The shop's instant now; a demo shop's clock does not take it for a use of the file."""
        if self._demo is None:
            return machine_now()
        return demo_now(self._shop, machine_now(), self._demo.opens_at)

    def use(self) -> datetime:
        """The shop's instant now, for a command or a key."""
        if self._demo is None:
            return machine_now()
        return use_demo(self._shop, machine_now(), self._demo.opens_at)
