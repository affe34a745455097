"""Whether a kit is at hand for a job: here and whole, in date, and not on another job.

One rule for whether a job can come in, whether a phase may be begun, and what the screens say.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

KitAt = Literal["here", "asked", "in use", "incomplete", "wrong", "out of date", "nowhere"]
NEAR = timedelta(days=6)
"""Within so many days a day is said by its name."""


@dataclass(frozen=True, slots=True)
class Hired:
    """A hire that was not sent back. `job`: None is any; `missing`: pieces that lack."""

    supplier: str
    job: str | None = None
    expected: datetime | None = None
    received: bool = False
    complete: bool = True
    wrong: bool = False
    missing: tuple[str, ...] = ()
    valid_until: date | None = None

    def good(self, day: date) -> bool:
        """Whether it may be worked with on a day."""
        whole = self.received and self.complete and not self.wrong
        return whole and not _over(self.valid_until, day)


@dataclass(frozen=True, slots=True)
class KitFacts:
    """What is known of a kit.

    Attributes:
        valid_until: of the one that the shop owns.
        users: jobs that have one in use, or fixed on an open unit.
    """

    code: str
    name: str
    owned: bool
    valid_until: date | None = None
    hires: tuple[Hired, ...] = ()
    users: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class KitNeed:
    """Where a kit is that a job needs.

    Attributes:
        job: which other one has it in use; with `nowhere`: for which alone it is hired.
        supplier: where it was hired.
        note: pieces that lack.
        valid_until: on which its date ran out.
    """

    name: str
    at: KitAt
    job: str | None = None
    expected: datetime | None = None
    code: str = ""
    supplier: str | None = None
    note: str = ""
    valid_until: date | None = None


def kit_for(job: str, kit: KitFacts, day: date) -> KitNeed:
    """Return where a kit is for a job on a day.

    A hire of its own serves it; else the shop's own kit and hires for any job, as many as there
    are more of than other jobs that work with one of them.
    """
    own = [one for one in kit.hires if one.job == job]
    shared = [one for one in kit.hires if one.job is None]
    if any(one.good(day) for one in own):
        return KitNeed(kit.name, "here", code=kit.code)
    free = sum(one.good(day) for one in shared)
    free += kit.owned and not _over(kit.valid_until, day)
    served = {one.job for one in kit.hires if one.job is not None and one.good(day)}
    busy = [one for one in dict.fromkeys(kit.users) if one != job and one not in served]
    if free > len(busy):
        return KitNeed(kit.name, "here", code=kit.code)
    for hire in (*own, *shared):
        if not hire.good(day):
            return _not_good(kit, hire, day)
    if free:
        return KitNeed(kit.name, "in use", busy[0], code=kit.code)
    if kit.owned:
        return KitNeed(kit.name, "out of date", code=kit.code, valid_until=kit.valid_until)
    other = next((one.job for one in kit.hires if one.good(day)), None)
    return KitNeed(kit.name, "nowhere", other, code=kit.code)


def _not_good(kit: KitFacts, hire: Hired, day: date) -> KitNeed:
    at: KitAt = "asked"
    if hire.received:
        at = "wrong" if hire.wrong else "incomplete" if not hire.complete else "out of date"
    return KitNeed(
        kit.name, at, None, hire.expected, kit.code, hire.supplier, ", ".join(hire.missing),
        hire.valid_until if at == "out of date" else None,
    )  # fmt: skip


def _over(until: date | None, day: date) -> bool:
    return until is not None and until < day


def stops(need: KitNeed, *, kept: bool) -> bool:
    """Tell whether a phase may not be begun for a kit.

    Args:
        kept: the shop keeps its hires here. One that does not is stopped by a date alone, which
            somebody wrote down.
    """
    return need.at == "out of date" or (kept and need.at != "here")


def where_words(need: KitNeed, now: datetime, zone: ZoneInfo) -> str:
    """Say where a kit is: `asked for at Loan, expected Thu`, `on 2417`."""
    if need.at == "asked":
        return f"asked for at {need.supplier}, {_when(need.expected, now, zone)}"
    if need.at == "incomplete":
        return f"here, not complete{f': {need.note} lacks' if need.note else ''}"
    if need.at == "wrong":
        return f"the wrong variant came from {need.supplier}"
    if need.at == "out of date":
        return out_of_date(need)
    if need.at == "in use":
        return f"on {need.job}"
    if need.at == "here":
        return "here"
    return f"hired for {need.job} alone" if need.job else "not hired"


def out_of_date(need: KitNeed) -> str:
    """Say that a kit must not be used."""
    return f"must not be used: its date ran out on {need.valid_until}"


def _when(expected: datetime | None, now: datetime, zone: ZoneInfo) -> str:
    if expected is None:
        return "nobody said when"
    late = "late, it was expected" if expected <= now else "expected"
    return f"{late} {day_word(expected, now, zone)}"


def day_word(at: datetime, now: datetime, zone: ZoneInfo) -> str:
    """Return `today`, `Thu` within the week, else `15 Oct`."""
    local, today = at.astimezone(zone), now.astimezone(zone)
    if local.date() == today.date():
        return "today"
    if timedelta(0) < local.date() - today.date() <= NEAR:
        return f"{local:%a}"
    return f"{local.day} {local:%b}"


def wait_words(needs: Iterable[KitNeed], now: datetime, zone: ZoneInfo) -> str:
    """Name several kits that are waited for: `locking set: asked for at Loan, expected Thu`."""
    return "; ".join(f"{one.name}: {where_words(one, now, zone)}" for one in needs)


def all_words(needs: Iterable[KitNeed], now: datetime, zone: ZoneInfo) -> str:
    """Name several kits and where each is."""
    return "; ".join(f"{one.name} ({where_words(one, now, zone)})" for one in needs)
