"""What a kit is, where, for whom and until when, in words."""

from __future__ import annotations

from datetime import date, datetime, tzinfo

from store.sums.hires.terms import Rates
from store.views.parts_values import HireOut
from store.views.tools.hires_back import HireBack
from store.views.tools.values import KitNow, KitWanted
from tui.signs import Signs
from tui.tools.ramp import needed_at
from tui.tools.state import asked_of, here_of
from tui.words import DAYS, MONTHS, Chance, chance, day, day_time, listed, money

MOST_JOBS = 3


def state_words(kit: KitNow, signs: Signs) -> str:
    """`ours, in use on 2417.4 › 2433`, `31 a day, here › 2409`, `not asked for › 2433`."""
    hire = here_of(kit) or asked_of(kit)
    jobs = _jobs(kit)
    return f"{_where(kit, hire)} {signs.becomes} {jobs}" if jobs else _where(kit, hire)


def _where(kit: KitNow, hire: HireOut | None) -> str:
    if kit.owned:
        return f"ours, {kit.state}"
    if hire is None:
        return "not asked for" if kit.state in ("not hired", "") else kit.state
    rate = f"{money(hire.terms.rates.day)} a day, " if hire.terms else "hired, "
    if hire.received_at is None:
        return f"{rate}asked for"
    return f"{rate}{'here' if kit.state == 'on hand' else kit.state}"


def _jobs(kit: KitNow) -> str:
    """The jobs that need it; the one that its state names is not said again."""
    every = dict.fromkeys(one.job for one in kit.needed_by if f" {one.job}." not in kit.state)
    jobs = [*every]
    more = f" and {len(jobs) - MOST_JOBS} more" if len(jobs) > MOST_JOBS else ""
    return f"{', '.join(jobs[:MOST_JOBS])}{more}"


def in_time(kit: KitNow, hire: HireOut, zone: tzinfo) -> Chance | None:
    """The chance that a hire is not needed any more when it is to go back; None: not known.

    By the table of days where it is about this hire and has that day, else by the highest chance
    of need from then on. Of several hires of a kit only what was worked out for one is its own.
    """
    due, advice = hire.due, kit.advice
    own = advice is not None and advice.hire == hire.hire
    if due is None or (len(kit.hires) > 1 and not own):
        return None
    day = due.astimezone(zone).date()
    days = advice.days if advice is not None and own else ()
    found = next((one.needed for one in days if one.day == day), None)
    if found is None:
        now = needed_at(kit.needed, due)
        later = (chance for at, chance in kit.needed if at > due)
        found = None if now is None else max((now, *later))
    return None if found is None else chance(1.0 - found)


def back_in_time(found: Chance) -> str:
    """`likely 9 in 10`, of a kit that goes back: nothing breaks, it will be late."""
    word = "will be late" if found.role == "blocked" else found.short
    return f"{word} {found.tenths}".rstrip()


def when(at: datetime, zone: tzinfo, now: datetime) -> str:
    """`today 16:00`, `Thu 12:00`, `22 Oct 12:00`."""
    text = day_time(at, zone, now)
    today = at.astimezone(zone).date() == now.astimezone(zone).date()
    return f"today {text[-5:]}" if today else text


def on_day(at: datetime, zone: tzinfo, now: datetime) -> str:
    """`today`, `Thu`, `22 Oct`."""
    away = (at.astimezone(zone).date() - now.astimezone(zone).date()).days
    if away == 0:
        return "today"
    return day(at, zone) if 0 < away < 6 else day_time(at, zone, now)[: -len(" 12:00")]


def date_words(day: date) -> str:
    """`12 Nov 2026`"""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def short_day(of: date, today: date) -> str:
    """`Thu 15`; `22 Oct` from six days off on, where the name alone could be another week's."""
    if 0 <= (of - today).days < 6:
        return f"{DAYS[of.weekday()]} {of.day}"
    return f"{of.day} {MONTHS[of.month - 1]}"


def need_words(need: KitWanted, zone: tzinfo, now: datetime) -> str:
    """`2433.3 from Thu 08:00 until Thu 12:00, by Thu 15:10; fixed on it till then`"""
    first = f"{need.job}.{need.phase}"
    last = f" to {need.phases[-1]}" if len(need.phases) > 1 else ""
    since = "now" if need.begun else f"from {when(need.since, zone, now)}"
    until = when(need.middle, zone, now)
    by = "" if need.cautious <= need.middle else f", by {when(need.cautious, zone, now)}"
    fixed = "; fixed on it till then" if need.captive else ""
    return f"{first}{last} {since} until {until}{by}{fixed}"


def hire_words(hire: HireOut, zone: tzinfo, now: datetime) -> str:
    """Where a hire stands: of whom, for which job, since when, back when, what lacks."""
    forjob = f" for {hire.job}" if hire.job else ""
    parts = [f"{hire.supplier}{forjob}"]
    if hire.received_at is None:
        comes = f"comes {when(hire.expected, zone, now)}" if hire.expected else "nobody said when"
        parts.append(f"asked {when(hire.asked_at, zone, now)}, {comes}")
    else:
        parts.append(f"here since {when(hire.received_at, zone, now)}")
    if hire.due is not None:
        parts.append(f"goes back {when(hire.due, zone, now)}")
    return "; ".join([*parts, *_amiss(hire)])


def _amiss(hire: HireOut) -> list[str]:
    """What is wrong with it, and what one may want to know of it."""
    said = ["the wrong variant"] if hire.wrong else []
    if hire.received_at is not None and not hire.complete:
        lacks = listed(hire.missing) or hire.note or "something"
        said.append(f"lacks {lacks}")
    said += [f"serial {hire.serial}"] if hire.serial else []
    said += [f"in date until {date_words(hire.valid_until)}"] if hire.valid_until else []
    return said


def back_words(back: HireBack, zone: tzinfo, now: datetime) -> str:
    """`sent to Toolhire Mon 15:00; still to come: arrival, deposit 200, invoice`"""
    parts = [f"deposit {money(back.deposit)}" if one == "deposit" else one for one in back.to_come]
    sent = f"sent to {back.supplier} {when(back.sent_at, zone, now)}"
    return f"{sent}; still to come: {listed(parts)}" if parts else sent


def rates_words(rates: Rates) -> str:
    """`31 a day, 110 a week, at least 3 days, carriage 15 each way, deposit 200`"""
    parts = [f"{money(rates.day)} a day"]
    parts += [f"{money(rates.week)} a week"] if rates.week is not None else []
    parts += [f"{money(rates.month)} a month"] if rates.month is not None else []
    parts += [f"at least {rates.minimum_days} days"] if rates.minimum_days > 1 else []
    parts += [f"carriage {money(rates.carriage)} each way"] if rates.carriage else []
    parts += [f"deposit {money(rates.deposit)}"] if rates.deposit else []
    return ", ".join(parts)
