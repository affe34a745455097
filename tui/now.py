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
from store.sums.spans import apart
from store.trouble import Trouble
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


SLEW_S = 2.0
"""What a clock may drift from one look to the next without having been set: one that is brought
in gently goes wrong by 0.05 % at most (adjtimex(2), from memory)."""
FAR_S = 12 * 3600.0
"""Ahead by more than this nothing is entered: the shop would have to wait until that time came."""


class ClockSet(Trouble):
    """The machine's clock was set far ahead under an open terminal."""

    def __init__(self, seconds: float) -> None:
        super().__init__(
            f"This machine's clock was set {apart(seconds)} ahead while this terminal was open. "
            "Nothing is entered at such a time. If it is right, leave the terminal and open it "
            "again; if not, set the clock, and this terminal goes on by itself."
        )


class Steps:
    """Tells a clock that was set from one that goes, by how long the machine has run.

    Attributes:
        ahead_s: seconds by which it was set since this began; below 0 it was set back.
        came_right: it was set, and set again to what it was.
    """

    def __init__(self) -> None:
        self.ahead_s = 0.0
        self.came_right = False
        self._base: float | None = None
        self._said = 0.0

    def look(self, now: datetime) -> None:
        """Look at the clock, once a second or so."""
        up = uptime()
        if up is None:
            return
        apart_s = now.timestamp() - up.s
        if self._base is None or abs(apart_s - self._base) <= SLEW_S:
            self.came_right = self.came_right or self.ahead_s != 0
            self._base, self.ahead_s = apart_s, 0.0
        else:
            self.came_right = False
            self.ahead_s = apart_s - self._base

    def news(self) -> str:
        """What is to be said of it once."""
        if abs(self.ahead_s - self._said) < SLEW_S:
            return ""
        self._said = self.ahead_s
        if not self.ahead_s:
            return "This machine's clock goes as it did before it was set."
        if self.ahead_s > FAR_S:
            return str(ClockSet(self.ahead_s))
        how = f"This machine's clock was set {apart(self.ahead_s)}"
        if self.ahead_s > 0:
            how += " ahead: clocks that run count it. "
        else:
            how += " back: no labour counts until it has caught up. "
        return f"{how}What is entered is kept. Set it right; then look at the day sheet."


class ShopClock:
    """The clock that a shop goes by.

    Attributes:
        steps: whether the machine's clock was set meanwhile.
    """

    def __init__(self, shop: Shop) -> None:
        """Look once whether it is a demo shop.

        Raises:
            Trouble: the file cannot be read.
        """
        self._shop = shop
        self._demo = about(shop).demo
        self.steps = Steps()

    @property
    def sleeps(self) -> bool:
        """Whether it stands still while nobody is there: a demo shop's does."""
        return self._demo is not None

    def look(self) -> datetime:
        """The shop's instant now; a demo shop's clock does not take it for a use of the file."""
        if self._demo is None:
            return self._machine()
        return demo_now(self._shop, machine_now(), self._demo.opens_at)

    def use(self) -> datetime:
        """The shop's instant now, for a command or a key.

        Raises:
            ClockSet: the machine's clock was set far ahead.
        """
        if self._demo is None:
            now = self._machine()
            if self.steps.ahead_s > FAR_S:
                raise ClockSet(self.steps.ahead_s)
            return now
        return use_demo(self._shop, machine_now(), self._demo.opens_at)

    def _machine(self) -> datetime:
        now = machine_now()
        self.steps.look(now)
        return now
