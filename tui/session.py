"""One terminal: its shop, who is signed in, and how it paints."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any, Protocol

from store.file.shop import By, Shop
from store.rules.roles import sees_customers
from store.trouble import Refused
from store.views.door import Known
from tui.colours import Paint
from tui.now import ShopClock, uptime
from tui.signs import Signs


class Clock(Protocol):
    """A clock that a shop goes by."""

    @property
    def sleeps(self) -> bool:
        """Whether it stands still while nobody presses a key."""
        ...

    def look(self) -> datetime:
        """The shop's instant, for looking only."""
        ...

    def use(self) -> datetime:
        """The shop's instant, for a key."""
        ...


@dataclass(slots=True)
class Session:
    """What a terminal keeps between two screens.

    Attributes:
        lift: at which the terminal stands, where that was said.
        sign_off_s: seconds without a key after which it signs off.
        who: is signed in; None is nobody.
        pins: proven here while their person was signed in or stood by, by badge.
        wall: nobody sits here: no keys.
        asks_width: the terminal is to be asked how wide it draws the signs.
        key_badge: the badge of the SSH key by which the line came in: nobody else signs in on it,
            and it reaches no file but the shop's.
    """

    shop: Shop
    clock: Clock
    terminal: str
    paint: Paint
    signs: Signs
    lift: str | None = None
    sign_off_s: float = 120.0
    wall: bool = False
    asks_width: bool = False
    key_badge: str | None = None
    who: Known | None = None
    said: str = ""
    """What the next screen says first."""
    filled: dict[tuple[str, str], Any] = field(default_factory=dict[tuple[str, str], Any])
    """What whoever is signed in filled in and left, until it is done."""
    _pin: str | None = field(default=None, repr=False)

    @property
    def sees_customers(self) -> bool:
        """Whether whoever is signed in may see customers' names and numbers."""
        return self.who is not None and sees_customers(self.who.role)

    def sign_in(self, who: Known) -> None:
        """Somebody else is here now.

        Raises:
            Refused: the line is for another badge.
        """
        self.admits(who)
        if self.who is None or self.who.badge != who.badge:
            self.forget_pin()
            self.filled.clear()
        self.who = who

    def admits(self, who: Known) -> Known:
        """Return who may sign in here.

        Raises:
            Refused: the line came in by the key of another.
        """
        if self.key_badge is not None and who.badge != self.key_badge:
            raise Refused(
                f"This line is for the badge {self.key_badge} and no other. Sign in at a terminal "
                "of the shop."
            )
        return who

    def refuse_files(self) -> None:
        """Go on only where files of the machine may be read and written.

        Raises:
            Refused: the line came in by a key.
        """
        if self.key_badge is not None:
            raise Refused(
                "A line that came in by a key reaches no files. Do it at a terminal of the shop."
            )

    def sign_off(self) -> None:
        """Nobody is here any more; the clock in the shop file goes on."""
        self.who = None
        self.forget_pin()
        self.filled.clear()

    def keep_pin(self, pin: str) -> None:
        """Keep the PIN of who is signed in, until they are not."""
        self._pin = pin

    def forget_pin(self) -> None:
        """Forget the PIN, here and in the shop."""
        self._pin = None
        self.shop.proven.clear()

    def by(self, badge: str | None = None, pin: str | None = None) -> By:
        """Who acts, now, from this terminal; somebody else where a badge is given."""
        if badge is None:
            assert self.who is not None
            badge, pin = self.who.badge, pin or self._pin
        other = self.who is None or badge != self.who.badge
        proves = other and self.key_badge is not None  # where no other badge can sign in
        now = self.clock.use()
        sure = isinstance(self.clock, ShopClock) and self.clock.steps.came_right
        return By(badge, self.terminal, now, pin=pin, up=uptime(), proves=proves, sure=sure)

    def news(self) -> str:
        """What was found about the file or the machine's clock, said once."""
        clock = self.clock.steps.news() if isinstance(self.clock, ShopClock) else ""
        return self.shop.standing.news() or clock

    def now(self) -> datetime:
        """The shop's instant."""
        return self.clock.look()


def open_shop(path: Path) -> tuple[Shop, ShopClock]:
    """Open the file and its clock.

    Raises:
        Trouble: it is not there, no shop, or cannot be read.
    """
    shop = Shop(path)
    try:
        return shop, ShopClock(shop)
    except BaseException:
        shop.close()
        raise
