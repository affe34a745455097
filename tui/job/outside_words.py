"""What a card says of customers and other firms, in words: the same on screen and as text."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from zoneinfo import ZoneInfo

from store.views.outside_values import AdviceLine, CallLine, JobMoney, OutworkLine
from store.views.outside_wants import is_due
from store.views.values import JobCard, PhaseLine, SupplementLine
from tui.words import day_time, hours, money

MOST = 3
"""Phases that are named of those that may go on, and attempts of those that were made."""
TIMES = {1: "once", 2: "twice"}


def extra_amount(line: SupplementLine) -> str:
    """`+1.0 h, 95` of a line of extra work; its money alone where it takes no labour."""
    price = money(line.money) if line.money is not None else ""
    if not line.hours and price:
        return f"+{price}"
    return f"+{hours(line.hours)}" + (f", {price}" if price else "")


# -- calls


def call_words(call: CallLine, card: JobCard) -> str:
    """`Tue 15:00 telephone, nobody`."""
    when = day_time(call.at, card.calendar.zone, card.at)
    return f"{when} {call_said(call)}"


def call_said(call: CallLine) -> str:
    """`telephone, not reached: nobody`."""
    got = "reached" if call.reached else "not reached"
    return f"{call.means}, {got}" + (f": {call.text}" if call.text else "")


def tried_words(card: JobCard) -> str | None:
    """`tried twice: Tue 15:00 telephone, nobody; …; again 14:00`, since extra work was asked."""
    asked = [line.asked_at for line in card.supplements if line.state == "asked"]
    since = [one for one in card.calls if asked and one.at >= min(asked)]
    if not since:
        return None
    times = TIMES.get(len(since), f"{len(since)} times")
    made = "; ".join(_try(one, card) for one in since[-MOST:])
    before = "... " if len(since) > MOST else ""
    return f"tried {times}: {before}{made}{again_words(since[-1], card)}"


def _try(call: CallLine, card: JobCard) -> str:
    when = day_time(call.at, card.calendar.zone, card.at)
    came = call.text or ("reached" if call.reached else "not reached")
    return f"{when} {call.means}, {came}"


def again_words(call: CallLine, card: JobCard) -> str:
    """`; again 14:00`, or that the time for it has come."""
    if call.again is None:
        return ""
    when = day_time(call.again, card.calendar.zone, card.at)
    return f"; again {when}" if call.again > card.at else f"; to be tried again since {when}"


# -- while the answer is open


def free_phases(card: JobCard) -> list[PhaseLine]:
    """Phases of labour that may go on although an answer is open."""
    return [
        one
        for one in card.phases
        if one.kind == "labour"
        and one.state in ("to come", "under way")
        and one.hold is None
        and one.blocked_by is None
    ]


def meanwhile_words(card: JobCard) -> str | None:
    """`meanwhile: 4 refit may go on`, or that nothing may; None where no answer is open."""
    if not any(line.state == "asked" for line in card.supplements):
        return None
    free = free_phases(card)
    if not free:
        return "meanwhile: nothing may go on"
    named = "; ".join(f"{one.number} {one.name}" for one in free[:MOST])
    more = f" and {len(free) - MOST} more" if len(free) > MOST else ""
    return f"meanwhile: {named}{more} may go on"


# -- money


def money_words(found: JobMoney) -> list[str]:
    """What was agreed, used up and is expected, a line each; none where nothing was agreed."""
    if found.basis is None:
        return []
    lines = [_agreed(found), _used(found)]
    if found.ceiling is not None:
        lines.append(_against(found, found.ceiling))
    if found.free_hand is not None:
        lines.append(
            f"agreed ahead {money(found.free_hand)}, {money(found.free_left or 0.0)} of it left"
        )
    return lines


def _agreed(found: JobMoney) -> str:
    extras = f", extra work {money(found.extras)}" if found.extras else ""
    if found.price is not None:
        return f"fixed price {money(found.price)}" + (
            f": agreed {money(found.agreed or 0.0)}{extras}" if extras else ""
        )
    ceiling = f", ceiling {money(found.ceiling)}" if found.ceiling is not None else ""
    agreed = f" {money(found.agreed)}" if found.agreed is not None else ""
    by_time = " by time" if found.basis == "time" else ""
    return f"estimate{agreed}{by_time}{extras}{ceiling}"


def _used(found: JobMoney) -> str:
    used = found.used
    parts = (("labour", used.labour), ("outwork", used.outwork), ("parts", used.parts),
             ("agreed beside", used.extra))  # fmt: skip
    named = ", ".join(f"{name} {money(value)}" for name, value in parts if value)
    return f"used up so far {money(used.total)}" + (f" ({named})" if named else "")


def _against(found: JobMoney, ceiling: float) -> str:
    if found.expected is None:
        return "expected at the end: an hour has no price yet"
    middle, cautious = found.expected
    says = f"expected at the end {money(middle)}, cautious {money(cautious)}"
    if found.over > 0:
        return f"{says}: {money(found.over)} over the ceiling"
    return f"{says}: {'cautious over' if cautious > ceiling else 'within'} the ceiling"


# -- other firms


def outwork_words(line: OutworkLine, card: JobCard) -> tuple[str, str]:
    """What is where, and what was said of it."""
    first = f"{line.phase} {line.name}: {line.what}, {'at' if line.away else 'by'} {line.firm}"
    return first, "; ".join(_said(line, card.calendar.zone, card.at))


def due_words(line: OutworkLine, card: JobCard) -> tuple[str, str]:
    """Whom to ask about what, and what was said of it."""
    zone, now = card.calendar.zone, card.at
    first = f"ask {line.firm}: {line.what} ({line.phase} {line.name})"
    promised = f"promised {day_time(line.promised, zone, now)}" if line.promised else "no date said"
    return first, promised + (f"; says: {line.said}" if line.said else "")


def _said(line: OutworkLine, zone: ZoneInfo, now: datetime) -> list[str]:
    said = [f"sent {day_time(line.sent_at, zone, now)}"]
    if line.back_at is not None:
        said.append(f"back {day_time(line.back_at, zone, now)}")
        said += [line.report] if line.report else []
        said += [f"{name} {value:g}" for name, value in line.readings]
    else:
        said += [f"promised {day_time(line.promised, zone, now)}"] if line.promised else []
        said += [f"says: {line.said}"] if line.said else []
        said += [f"to be asked {day_words(line.chase)}"] if line.chase else []
    return [*said, money(line.price)] if line.price is not None else said


def day_words(day: date) -> str:
    """`Wed 14 Oct`."""
    return f"{day:%a} {day.day} {day:%b}"


def due_firms(card: JobCard) -> Sequence[OutworkLine]:
    """Firms that are to be asked by now."""
    return [one for one in card.outwork if is_due(one, card.at, card.calendar)]


# -- advice


def advice_words(line: AdviceLine, zone: ZoneInfo, now: datetime) -> tuple[str, str]:
    """What was advised, and what the customer said of it."""
    takes = f", {hours(line.hours)}" if line.hours else ""
    first = f"{line.line} {line.text}{takes}, on {line.phase}"
    if line.answer is None or line.answered_at is None:
        return first, "the customer was not asked yet"
    when = day_time(line.answered_at, zone, now)
    how = ", ".join(filter(None, (line.by, line.means)))
    risk = "" if line.answer == "agreed" else (
        "; the risk was told" if line.risk_told else "; the risk was not told"
    )  # fmt: skip
    return first, f"{line.answer} {when}{f' by {how}' if how else ''}{risk}"
