"""One command being run: its typed values, the shop it is about, who acts, and when."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from store.edges.instants import parse_instant
from tui.cli import pins as pin_ways
from tui.cli import where
from tui.cli.typed import Typed
from tui.cli.usage import WrongUsage

if TYPE_CHECKING:
    from store.actions.acting import Done
    from store.file.shop import By, Shop
    from tui.cli.answer import Answer
    from tui.now import ShopClock


@dataclass(slots=True)
class Terminal:
    """Where commands come from; one for a command, or one for all of a batch.

    Attributes:
        given: the shop file as it was named; None is the usual one.
        badge: who acts where a command does not say it.
        pins: PINs known so far, by badge.
        asks: somebody can be asked for a PIN.
        as_json: every answer is JSON.
        in_batch: the commands come from a batch.
        to_learn: something was done that moves forecasts or teaches.
    """

    given: Path | None = None
    badge: str | None = None
    pins: pin_ways.Pins = field(default_factory=dict[str, str], repr=False)
    asks: bool = False
    as_json: bool = False
    in_batch: bool = False
    to_learn: bool = False
    name: str = "?"
    _shop: Shop | None = None
    _clock: ShopClock | None = None
    _zone: ZoneInfo | None = None

    @property
    def path(self) -> Path:
        """The shop file."""
        return self.given or where.usual_shop()

    @property
    def shop(self) -> Shop:
        """The shop, opened at first use.

        Raises:
            Trouble: the file is not there, not a shop, or cannot be read.
        """
        if self._shop is None:
            from store.file.shop import Shop

            self._shop = Shop(self.path)
        return self._shop

    @property
    def clock(self) -> ShopClock:
        """The shop's clock."""
        if self._clock is None:
            from tui.now import ShopClock

            self._clock = ShopClock(self.shop)
        return self._clock

    @property
    def zone(self) -> ZoneInfo:
        """The shop's zone."""
        if self._zone is None:
            from store.views.about import about

            self._zone = about(self.shop).zone
        return self._zone

    def close(self) -> None:
        """Let go of the file."""
        if self._shop is not None:
            self._shop.close()
            self._shop = None


@dataclass(slots=True)
class Call:
    """One command being run."""

    terminal: Terminal
    typed: Typed

    @property
    def shop(self) -> Shop:
        """The shop it is about."""
        return self.terminal.shop

    @property
    def as_json(self) -> bool:
        """Whether the answer is JSON."""
        return self.terminal.as_json or self.typed.has("json")

    def instant(self, name: str) -> datetime | None:
        """An instant that was typed, in the shop's zone where it says none.

        Raises:
            WrongUsage: it is no instant.
            BadInstant: it names no moment of the shop's zone, or two.
        """
        text = self.typed.instant(name)
        return None if text is None else parse_instant(text, self.terminal.zone)

    def badge(self) -> str:
        """Who acts.

        Raises:
            WrongUsage: nobody was named.
        """
        found = self.maybe_badge()
        if found is None:
            raise WrongUsage(
                f"{self.typed.command.name} lacks --as BADGE: say who does it. "
                f"Like: hoistbook {self.typed.command.example}"
            )
        return found

    def maybe_badge(self) -> str | None:
        """Who acts or reads, where that was said."""
        found = self.typed.maybe("as") or self.terminal.badge
        return found.strip().upper() if found else None

    def by(self) -> By:
        """Who acts, where and when, with the PIN that is known."""
        from store.file.shop import By
        from tui.now import uptime

        badge = self.badge()
        at = self.instant("at")
        pin = self.pin(badge)
        now = self.terminal.clock.use()
        return By(badge, self.terminal.name, now, at=at, pin=pin, up=uptime())

    def pin(self, badge: str) -> str | None:
        """The PIN of a badge, where it is known or piped in."""
        if self.typed.has("pin-stdin") and badge not in self.terminal.pins:
            self.terminal.pins[badge] = pin_ways.piped()[0]
        return self.terminal.pins.get(badge)

    def act(self, do: Callable[[Shop, By], Done]) -> Done:
        """Do it; ask for the PIN where one turns out to be needed, and try again with the same key.

        What moves a forecast is left to a learner of its own, which nobody waits for.

        Raises:
            Trouble: it was refused; nothing was changed.
        """
        done = self._act(do)
        self.terminal.to_learn = self.terminal.to_learn or done.to_learn
        return done

    def _act(self, do: Callable[[Shop, By], Done]) -> Done:
        from store.actions.trouble import PinNeeded

        by = self.by()
        try:
            return do(self.shop, by)
        except PinNeeded:
            if not self.terminal.asks:
                raise
            pin = pin_ways.ask(by.badge)
        done = do(self.shop, replace(by, pin=pin))
        self.terminal.pins[by.badge] = pin
        return done

    def done(self, do: Callable[[Shop, By], Done], *, text: str | None = None) -> Answer:
        """Do it and say so."""
        from tui.cli.answer import of_done

        return of_done(self.act(do), as_json=self.as_json, text=text)

    def reading_at(self) -> datetime:
        """The moment that a reading command stands at.

        Raises:
            Refused: it lies before the last entry; or the reader's badge is nobody's.
        """
        self.check_reader()
        at = self.instant("at") if self.typed.command.option("at") else None
        now = self.terminal.clock.use()
        if at is None:
            from store.views.about import last_entry_at

            last = last_entry_at(self.shop)
            return max(now, last) if last else now
        from store.views.moment import check_moment

        check_moment(self.shop, at)
        return at

    def check_reader(self) -> None:
        """Refuse a reader whom nobody knows; a look is a use of the shop's clock too.

        Raises:
            UnknownBadge: nobody carries that badge.
        """
        self.terminal.clock.use()
        badge = self.typed.maybe("as")
        if badge is not None:
            self.check_badge(badge)

    def sees_names(self) -> bool:
        """Whether the reader is shown names: whoever opens the file, a badge as its role may.

        Raises:
            UnknownBadge: nobody carries that badge.
        """
        from store.views.desk.page import sees_names

        self.check_reader()
        badge = self.maybe_badge()
        return badge is None or sees_names(self.shop, badge)

    def check_badge(self, badge: str) -> None:
        """Refuse a badge that nobody carries.

        Raises:
            UnknownBadge: nobody does.
        """
        from store.actions.acting import person_by

        with self.shop.reading() as db:
            person_by(db, badge.strip())


def here(given: str | None) -> Terminal:
    """The terminal of this process."""
    return Terminal(
        given=where.named_shop(given, os.environ), badge=where.key_badge(os.environ),
        asks=pin_ways.can_ask(), name=where.terminal_name(os.environ),
    )  # fmt: skip
