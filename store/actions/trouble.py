"""Why an act was refused, in words for whoever tried."""

from __future__ import annotations

from store.trouble import Refused


class UnknownBadge(Refused):
    """Nobody here carries that badge."""

    def __init__(self, badge: str) -> None:
        self.badge = badge
        super().__init__(
            f"Nobody here has the badge {badge or '(none)'}. Scan it again, or ask the owner."
        )


class NotEmployed(Refused):
    """The person does not work here on that day."""

    def __init__(self, name: str) -> None:
        super().__init__(f"{name} is not on the roll on that day. Ask the owner to change it.")


class MayNot(Refused):
    """The role does not allow it."""


class PinNeeded(Refused):
    """The act takes a PIN and none was typed."""

    def __init__(self, name: str) -> None:
        super().__init__(f"This takes {name}'s PIN. Type it when asked, or use --pin-stdin.")


class NoPin(Refused):
    """The act takes a PIN and the person has none."""

    def __init__(self, name: str, badge: str) -> None:
        super().__init__(
            f"{name} has no PIN yet, and this takes one. Set it: hoistbook people pin {badge}."
        )


class WrongPin(Refused):
    """The PIN is not theirs."""

    def __init__(self, person: str, name: str) -> None:
        self.person = person
        super().__init__(f"That is not {name}'s PIN; nothing was changed. Try again.")


class PinWaits(Refused):
    """Too many wrong tries."""

    def __init__(self, person: str, name: str, wait_s: int) -> None:
        self.person, self.wait_s = person, wait_s
        super().__init__(f"Too many wrong PINs for {name}. Wait {wait_s} seconds, then try again.")


class InTheFuture(Refused):
    """The instant lies ahead of the shop's clock."""

    def __init__(self) -> None:
        super().__init__("That time has not come yet. Give one that is past, or leave it out.")


class NoSuch(Refused):
    """Something named does not exist."""

    def __init__(self, what: str, name: str, remedy: str) -> None:
        super().__init__(f"There is no {what} {name}. {remedy}")
