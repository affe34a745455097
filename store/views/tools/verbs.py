"""What is to be done about a kit, and the line that says why: by its dates and the forecast."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import get_args

from store.learn.dates.spans import SHOP_DAY_H
from store.sums.hires.terms import House
from store.views.parts_values import HireOut
from store.views.tools.read import KitRow, Known
from store.views.tools.values import Advice, Clash, KitWanted, Verb
from store.views.tools.words import clock, day, money, tenths, when

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
    advice: Advice | None = None


@dataclass(frozen=True, slots=True)
class About:
    """One kit with everything that its line may say. `needed`: who needs it, the first first."""

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
        own = {one.job for one in self.hires if one.job is not None}
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
    known, at, advice = about.known, hire.expected, about.advice_on(hire)
    if advice is not None and advice.best.do == "call off":
        return Said("CALL OFF", advice.best.says, None, at, hire.hire, advice)
    if at is None:
        says = f"nobody said when it comes: ask {hire.supplier}"
        return Said("RECEIVE", says, None, None, hire.hire, advice)
    if at < known.now and known.calendar.day_of(at) < known.today:
        says = f"was expected {_date(known.calendar.day_of(at))}: ask {hire.supplier} where it is"
        return Said("RECEIVE", says, None, at, hire.hire, advice)
    late = [one for one in about.serves(hire) if one.since < at]
    job = f"; {late[0].job} needs it {_when(about, late[0].since)}" if late else ""
    if known.calendar.day_of(at) == known.today:
        says = f"expected today {clock(at, known.calendar)} from {hire.supplier}{job}"
        return Said("RECEIVE", says, None, at, hire.hire, advice)
    better = advice is not None and advice.best.do in ("shorten", "extend")
    other = f"; {advice.best.says}" if advice is not None and better else ""
    says = f"comes {_when(about, at)} from {hire.supplier}{job}{other}"
    return Said(None, says, None, at, hire.hire, advice)


def _not_whole(hire: HireOut) -> Said:
    if hire.wrong:
        what = "the wrong variant came"
    else:
        what = f"lacks {', '.join(hire.missing) or hire.note or 'something'}"
    return Said("NOT WHOLE", f"{what}: ring {hire.supplier}", hire=hire.hire)


def _here(about: About, hire: HireOut) -> Said:
    known, advice = about.known, about.advice_on(hire)
    if hire.due is not None and hire.due < known.now:
        return _overdue(about, hire, hire.due)
    if advice is None:
        return Said(None, f"from {hire.supplier}, nobody said until when", hire=hire.hire)
    best, by = advice.best, advice.by or hire.due
    today = best.until is not None and known.calendar.day_of(best.until) <= known.today
    if best.do == "send back" or (best.do == "return and hire again" and today):
        loud = best.until is None or today
        return Said("SEND BACK" if loud else None, best.says, _sure(about, advice), by, hire.hire,
                    advice)  # fmt: skip
    if best.do == "keep" or (best.do == "use next" and "extend" not in (best.command or ())):
        return Said(None, best.says, _sure(about, advice), by, hire.hire, advice)
    loud = by is None or by <= _soon(known)
    return Said("EXTEND" if loud else None, best.says, None, by, hire.hire, advice)


def _sure(about: About, advice: Advice) -> float | None:
    """The chance that it is over by then, where anybody needs it."""
    hire = next((one for one in about.hires if one.hire == advice.hire), None)
    return advice.chance if hire is not None and about.serves(hire) else None


def _overdue(about: About, hire: HireOut, due: datetime) -> Said:
    """`was due Tue 13 Oct: back today 15:00; each day 88 and 176 late`"""
    use = next((one for one in about.known.uses if _is_of(one.job, hire, one.kit)), None)
    advice = about.advice_on(hire)
    busy = f", in use on {use.job}.{use.phase}" if use is not None else ""
    then = ""
    if advice is not None and advice.best.until is not None:
        word = "back" if advice.best.do in ("send back", "keep") else "agree"
        then = f": {word} {_when(about, advice.best.until)}"
    says = f"was due {_date(about.known.calendar.day_of(due))}{then}{busy}{_a_day(hire)}"
    return Said("OVERDUE", says, None, due, hire.hire, advice)


def _is_of(job: str, hire: HireOut, kit: str) -> bool:
    return kit == hire.kit and hire.job in (None, job)


def _a_day(hire: HireOut) -> str:
    """What each day costs that it stays too long."""
    if hire.terms is None:
        return ""
    rates, late = hire.terms.rates, hire.terms.house.late
    return f"; each day {money(rates.day)} and {money(late * rates.day)} late"


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
    """Jobs that need a kit which is neither ours nor hired for them."""
    known = about.known
    for one in about.advice:
        if one.hire is None:
            loud = one.by is None or known.calendar.day_of(one.by) <= _tomorrow(known)
            yield Said("ASK" if loud else None, one.best.says, None, one.by, None, one)


def _soon(known: Known) -> datetime:
    """As long ahead as somebody is moved to speak to a supplier."""
    return known.calendar.after(known.now, (House().lead_days + 1) * SHOP_DAY_H)


def _tomorrow(known: Known) -> date:
    """The next working day."""
    end = known.calendar.shift_end(known.now)
    return known.calendar.day_of(known.calendar.next_opening(end or known.now))
