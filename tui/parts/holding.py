"""Holding: the reason by one digit is all it takes; expected end and next move may follow."""

from __future__ import annotations

import asyncio
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, cast

from store.trouble import Refused
from store.views.job import job_card
from store.views.values import JobCard
from tui import deeds
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.talk import Back
from tui.parts.when import coming, some
from tui.words import day_time, local, zone_of

if TYPE_CHECKING:
    from store.actions.holding import Reason
    from store.sums.working_time import Calendar

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
MOVES = {"1": "supplier", "2": "customer", "3": "foreman", "4": "technician", "5": "machine shop"}
MOVE_WORDS = (
    *(Option(key, words) for key, words in MOVES.items()),
    Option("6", "somebody else ..."),
    Option("7", "not known", hot=True),
)
KEPT = "It is held already; Esc leaves this out."
DAYS_AHEAD = 14


async def hold(screen: Painted[Any], job: str, phase: str | None, *, what: str = "") -> None:
    """Hold at once; then ask until when, and whose move it is.

    Raises:
        Back: left with Esc; what was said before stays.
        Trouble: refused.
    """
    where = job if phase is None else f"{job}.{phase}"
    chosen = await screen.talk.pick(f"{where} {what}  cannot go on. What lacks?".strip(), WORDS)
    reason = REASONS[chosen]
    await screen.act(deeds.hold(job, phase, reason))
    words = next(one.words for one in WORDS if one.key == chosen)
    title = f"{where} is held: {words}"
    until = await until_when(screen, (job, phase), title, parts=reason == "parts")
    try:
        move = await _move(screen, title)
    except Back:
        move = None
    if until is not None or move is not None:
        await screen.act(deeds.hold(job, phase, reason, until=until, next_move=move))


async def hold_for_parts(
    screen: Painted[Any], job: str, phase: str | None, until: datetime | None
) -> None:
    """Hold for parts at once, until when they are expected.

    Raises:
        Trouble: refused.
    """
    move = "supplier" if until is not None else None
    await screen.act(deeds.hold(job, phase, "parts", until=until, next_move=move))


async def told_anew(screen: Painted[Any], card: JobCard, phase: str | None) -> None:
    """Say when what holds it ends now.

    Raises:
        Back: left with Esc.
        Refused: nothing holds it any more.
    """
    job = card.job.number
    where = job if phase is None else f"{job}.{phase}"
    found = next((one for one in card.holds if one.phase == phase), None)
    if found is None:
        raise Refused(f"{where} is not held any more. Look again.")
    reason = cast("Reason", found.reason)
    title = f"{where} is held: {found.reason}"
    until = await until_when(screen, (job, phase), title, parts=reason == "parts")
    await screen.act(deeds.hold(job, phase, reason, until=until, next_move=found.next_move))


async def until_when(
    screen: Painted[Any], where: tuple[str, str | None], title: str, *, parts: bool
) -> datetime | None:
    """When it is likely to go on: a usual time by one digit, or typed.

    Where parts lack that somebody expects, their day is the filled answer.
    """
    session, (job, phase) = screen.session, where
    now, zone = session.now(), zone_of(screen.zone)
    card = await asyncio.to_thread(lambda: job_card(session.shop, job, now))
    usual = usual_ends(card.calendar, now)
    come = parts_expected(card, phase, now) if parts else None
    words = [day_time(at, zone, now) for at in usual]
    if come is not None:
        usual, words = [come, *usual], [f"{day_time(come, zone, now)}, when its parts come", *words]
    options = [
        Option(str(nth), text, hot=come is not None and nth == 1)
        for nth, text in enumerate(words, 1)
    ]
    other, unknown = str(len(usual) + 1), str(len(usual) + 2)
    options.append(Option(other, "another time ..."))
    options.append(Option(unknown, "not known", hot=come is None))
    chosen = await screen.talk.pick(f"{title}. Expected when?", options, facts=(KEPT,))
    if chosen == unknown:
        return None
    if chosen == other:
        return await screen.talk.type(
            title, "expected", lambda text: coming(text, now, zone), facts=(f"Like {WHEN}.",)
        )
    return usual[int(chosen) - 1]


def parts_expected(card: JobCard, phase: str | None, now: datetime) -> datetime | None:
    """When all ordered parts are there that a phase, or the job, lacks; None where nobody knows."""
    lacking = [one for one in card.parts if one.lacks and phase in (None, one.phase)]
    days = [one.expected for one in lacking if one.state == "ordered" and one.expected is not None]
    return max(days) if days and len(days) == len(lacking) and max(days) > now else None


def usual_ends(calendar: Calendar, now: datetime) -> list[datetime]:
    """Today's closing, the next working day's opening and closing: at most three, all to come."""
    today = local(now, calendar.zone).date()
    shifts = (calendar.shifts_of(today + timedelta(days=ahead)) for ahead in range(DAYS_AHEAD))
    days = [(day[0][0], day[-1][1]) for day in shifts if day]
    times = [at for opens, closes in days[:3] for at in (opens, closes) if at > now]
    return times[:3]


async def _move(screen: Painted[Any], title: str) -> str | None:
    """Whose move it is: by one digit, or typed; None where nobody knows."""
    chosen = await screen.talk.pick(f"{title}. Whose move is it?", MOVE_WORDS, facts=(KEPT,))
    if chosen == "6":
        return await screen.talk.type(title, "whose move", some)
    return MOVES.get(chosen)
