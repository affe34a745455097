"""Holding: the reason by one digit is all that is needed; end and next move are asked after."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from tui import deeds
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.when import coming, maybe
from tui.words import zone_of

if TYPE_CHECKING:
    from store.actions.holding import Reason

REASONS: dict[str, Reason] = {
    "1": "parts", "2": "approval", "3": "person", "4": "tool", "5": "reading", "6": "place",
    "7": "other",
}  # fmt: skip
WORDS = (
    Option("1", "parts"),
    Option("2", "customer's word"),
    Option("3", "a person"),
    Option("4", "tool or kit"),
    Option("5", "reading, data"),
    Option("6", "lift or place"),
    Option("7", "other"),
)
WHEN = "14:00, fri 10:00, +2 for two hours from now"


async def hold(screen: Painted[Any], job: str, phase: str | None, *, what: str = "") -> None:
    """Hold at once; then ask until when, and whose move it is.

    Raises:
        Back: left with Esc before the reason was chosen.
        Trouble: refused.
    """
    where = job if phase is None else f"{job}.{phase}"
    chosen = await screen.talk.pick(f"{where} {what}  cannot go on. What lacks?".strip(), WORDS)
    reason = REASONS[chosen]
    await screen.act(deeds.hold(job, phase, reason))
    words = next(one.words for one in WORDS if one.key == chosen)
    title = f"{where} is held: {words}"
    now = screen.session.now()
    zone = zone_of(screen.zone)

    def until_of(text: str) -> datetime | None:
        return coming(text, now, zone) if text else None

    until = await screen.talk.type(
        title, "expected until (Enter: not known)", until_of, facts=(f"Like {WHEN}.",)
    )
    move = await screen.talk.type(title, "whose move (Enter: not known)", maybe)
    if until is not None or move is not None:
        await screen.act(deeds.hold(job, phase, reason, until=until, next_move=move))
