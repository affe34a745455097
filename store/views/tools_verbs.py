"""What is to be done about a kit, and the line that says why: by its dates and the forecast."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import get_args

from store.learn.dates.spans import SHOP_DAY_H
from store.sums.hire_terms import House
from store.views.parts_values import HireOut
from store.views.tools_read import KitRow, Known
from store.views.tools_values import Advice, Clash, KitWanted, Verb
from store.views.tools_words import clock, day, money, tenths, when

ORDER: dict[Verb | None, int] = {
    **{verb: place for place, verb in enumerate(get_args(Verb))}, None: 99,
}  # fmt: skip
"""The loudest first."""


@dataclass(frozen=True, slots=True)
class Said:
    """A verb with its line; without a verb: something quiet."""

    verb: Verb | None
    says: str
    chance: float | None = None
    by: datetime | None = None
    hire: str | None = None


@dataclass(frozen=True, slots=True)
class About:
    """One kit with everything that its line may say.

    Attributes:
        needed: who needs it, the first first.
        odds: chance that a hire's kit is needed after a moment, by hire.
    """

    known: Known
    kit: KitRow
    hires: Sequence[HireOut]
    needed: Sequence[KitWanted]
    advice: Sequence[Advice]
    clashes: Sequence[Clash]

    def advice_on(self, hire: HireOut) -> Advice | None:
        """What was worked out for a hire."""
        return next((one for one in self.advice if one.hire == hire.hire), None)

    def serves(self, hire: HireOut) -> list[KitWanted]:
        """Who needs the kit of this hire: its job, or whoever has no hire of their own."""
        if hire.job is not None:
            return [one for one in self.needed if one.job == hire.job]
        own = {one.job for one in self.hires}
        return [one for one in self.needed if one.job not in own]


def said_of(about: About) -> Said:
    """Return the loudest thing to say of a kit."""
    found = [*_out_of_date(about), *_hired(about), *_clashing(about), *_asking(about)]
    return min(found, key=_rank, default=Said(None, ""))


def _rank(said: Said) -> tuple[int, bool, str]:
    by = said.by.isoformat() if said.by else ""
    return ORDER[said.verb], said.by is None, by


# -- calibration and inspection


def _out_of_date(about: About) -> Iterator[Said]:
    known = about.known
    for until, hire in _dates(about):
        needed = [one for one in about.needed if known.calendar.day_of(one.middle) > until]
        if until >= known.today and not needed:
            continue
        if not needed and hire is None and not _in_use(about):
            yield Said(None, f"valid until {day(until, known.today)}: inspect it before it is used")
            continue
        who = f"; {needed[0].job} needs it" if needed else ""
        word = "was valid until" if until < known.today else "valid until"
        says = f"{word} {_date(until)}{who}: not to be used after"
        yield Said("OUT OF DATE", says, None, needed[0].since if needed else None, hire)


def _dates(about: About) -> Iterator[tuple[date, str | None]]:
    if about.kit.owned and about.kit.code in about.known.dates:
        yield about.known.dates[about.kit.code], None
    for one in about.hires:
        if one.here and one.valid_until is not None:
            yield one.valid_until, one.hire


def _date(of: date) -> str:
    return f"{of:%a} {of.day} {of:%b}"


def _in_use(about: About) -> bool:
    return any(one.kit == about.kit.code for one in about.known.uses)


# -- what is hired


def _hired(about: About) -> Iterator[Said]:
    for hire in about.hires:
        if not hire.here:
            yield _coming(about, hire)
            continue
        if not hire.whole:
            yield _not_whole(hire)
        yield _here(about, hire)


def _coming(about: About, hire: HireOut) -> Said:
    known, at = about.known, hire.expected
    if at is None:
        return Said("RECEIVE", f"nobody said when it comes: ask {hire.supplier}", hire=hire.hire)
    if at < known.now and known.calendar.day_of(at) < known.today:
        says = f"was expected {_date(known.calendar.day_of(at))}: ask {hire.supplier} where it is"
        return Said("RECEIVE", says, None, at, hire.hire)
    late = [one for one in about.serves(hire) if one.since < at]
    lift = f"; {late[0].job} needs it {_when(about, late[0].since)}" if late else ""
    if known.calendar.day_of(at) == known.today:
        says = f"expected today {clock(at, known.calendar)} from {hire.supplier}{lift}"
        return Said("RECEIVE", says, None, at, hire.hire)
    return Said(None, f"comes {_when(about, at)} from {hire.supplier}{lift}", None, at, hire.hire)


def _not_whole(hire: HireOut) -> Said:
    if hire.wrong:
        what = "the wrong variant came"
    else:
        what = f"lacks {', '.join(hire.missing) or hire.note or 'something'}"
    return Said("NOT WHOLE", f"{what}: ring {hire.supplier}", hire=hire.hire)


def _here(about: About, hire: HireOut) -> Said:
    known, due = about.known, hire.due
    if due is None:
        return Said(None, f"from {hire.supplier}, nobody said until when", hire=hire.hire)
    if due < known.now:
        return _overdue(about, hire, due)
    needed = about.serves(hire)
    last = max(needed, key=lambda one: one.middle, default=None)
    advice = about.advice_on(hire)
    if advice is not None and advice.best.do in ("extend", "return and hire again", "use first"):
        return Said("EXTEND", advice.best.says, None, advice.by or due, hire.hire)
    if advice is not None and advice.best.do == "send back":
        return Said("SEND BACK", advice.best.says, advice.chance, advice.by or due, hire.hire)
    if last is not None and last.middle > due:
        return Said("EXTEND", _too_short(about, hire, last), None, due, hire.hire)
    if known.calendar.day_of(due) == known.today:
        done = f"; done by {_until(about, last)}" if last is not None else ""
        chance = advice.chance if advice is not None else None
        says = f"today {clock(due, known.calendar)}{done}"
        return Said("SEND BACK", says, chance, due, hire.hire)
    return _stays(about, hire, due, last)


def _overdue(about: About, hire: HireOut, due: datetime) -> Said:
    use = next((one for one in about.known.uses if _is_of(one.job, hire, one.kit)), None)
    busy = f", in use on {use.job}.{use.phase}" if use is not None else ""
    costs = _a_day(hire)
    says = f"was due {_when(about, due)} at {hire.supplier}{busy}{costs}"
    return Said("OVERDUE", says, None, due, hire.hire)


def _is_of(job: str, hire: HireOut, kit: str) -> bool:
    return kit == hire.kit and hire.job in (None, job)


def _a_day(hire: HireOut) -> str:
    """What each day costs that it stays too long."""
    if hire.terms is None:
        return ""
    rates, late = hire.terms.rates, hire.terms.house.late
    return f": each day {money(rates.day)} and {money(late * rates.day)} late"


def _too_short(about: About, hire: HireOut, last: KitWanted) -> str:
    assert hire.due is not None
    fixed = "fixed there" if last.captive and last.begun else "needed"
    return (
        f"due {_when(about, hire.due)}, {fixed} on {last.job} till {_when(about, last.middle)}"
        f"{_a_day(hire)}"
    )


def _stays(about: About, hire: HireOut, due: datetime, last: KitWanted | None) -> Said:
    if last is None:
        others = [one.job for one in about.needed if one.job != hire.job]
        swap = f"; {others[0]} needs one" if others else ""
        says = f"nobody needs it; goes back {_when(about, due)}{swap}"
        return Said(None, says, None, due, hire.hire)
    says = f"goes back {_when(about, due)}; done by {_until(about, last)}"
    advice = about.advice_on(hire)
    return Said(None, says, advice.chance if advice else None, due, hire.hire)


def _until(about: About, last: KitWanted) -> str:
    known = about.known
    if known.calendar.day_of(last.middle) == known.today:
        return clock(last.middle, known.calendar)
    return _when(about, last.middle)


def _when(about: About, at: datetime) -> str:
    return when(at, about.known.now, about.known.calendar)


# -- two jobs, and what is not here


def _clashing(about: About) -> Iterator[Said]:
    for one in about.clashes:
        first, second = one.jobs
        ways = f"; {one.ways[0].says}" if one.ways else ""
        odds = "" if one.chance >= 0.95 else f", {tenths(one.chance)}"
        says = f"{first} till {_when(about, one.until)}, {second} at {_when(about, one.since)}"
        yield Said("CLASH", f"{says}{odds}{ways}", None, one.since)


def _asking(about: About) -> Iterator[Said]:
    """Runs that need a kit which is neither ours nor hired for them."""
    if about.kit.owned:
        return
    for one in uncovered(about):
        known = about.known
        offer = known.offer(about.kit.code)
        advice = next(
            (each for each in about.advice if each.hire is None and each.job == one.job), None
        )
        if advice is not None:
            loud = advice.by is None or known.calendar.day_of(advice.by) <= _tomorrow(known)
            yield Said("ASK" if loud else None, advice.best.says, None, advice.by)
            continue
        says = f"{one.job} needs it from {_when(about, one.since)} to {_when(about, one.middle)}"
        terms = "" if offer is not None else "; no supplier's terms are known"
        loud = one.since <= _soon(known)
        yield Said("ASK" if loud else None, f"{says}{terms}", None, one.since)


def uncovered(about: About) -> list[KitWanted]:
    """Return the runs that no hire is for: not begun, and not over before a hire goes back."""
    found: list[KitWanted] = []
    for one in about.needed:
        own = [hire for hire in about.hires if hire.job in (None, one.job)]
        if one.begun or any(hire.due is None or one.since <= hire.due for hire in own):
            continue
        found.append(one)
    return found


def _soon(known: Known) -> datetime:
    """As long ahead as a kit is to be asked for, where nobody knows a supplier's lead time."""
    return known.calendar.after(known.now, (House().lead_days + 1) * SHOP_DAY_H)


def _tomorrow(known: Known) -> date:
    """The next working day."""
    end = known.calendar.shift_end(known.now)
    return known.calendar.day_of(known.calendar.next_opening(end or known.now))
