"""A month's figures from what `month_again` read: times by a sweep, no formula of the program's.

The shop is open from its shifts less breaks. A question about time is answered by cutting it at
every instant at which anything changes and looking into the middle of each piece.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from functools import cached_property
from itertools import pairwise

from tests.store.views.month_again import Again, Row, second

Piece = tuple[float, float]
H = 3600.0


def long(pieces: Iterable[Piece]) -> float:
    """Hours."""
    return sum(max(0.0, end - start) for start, end in pieces) / H


def cut(pieces: Iterable[Piece], lo: float, hi: float) -> list[Piece]:
    """What lies between two instants."""
    both = [(max(start, lo), min(end, hi)) for start, end in pieces]
    return [(start, end) for start, end in both if end > start]


def inside(at: float, pieces: Iterable[Piece]) -> bool:
    """Whether an instant lies in one of them."""
    return any(start <= at < end for start, end in pieces)


def swept(of: Sequence[Piece], *others: Sequence[Piece]) -> Iterator[tuple[Piece, list[bool]]]:
    """Pieces of `of` cut wherever any other begins or ends, and in which others each lies."""
    for start, end in of:
        near = [cut(each, start, end) for each in others]
        edges = sorted({start, end, *(edge for each in near for piece in each for edge in piece)})
        for lo, hi in pairwise(edges):
            yield (lo, hi), [inside((lo + hi) / 2, each) for each in near]


@dataclass
class Days:
    """The shop's calendar, day by day."""

    past: Again
    known: dict[tuple[date, str], list[Piece]] = field(
        default_factory=dict[tuple[date, str], list[Piece]]
    )

    def at(self, day: date, clock: str) -> float:
        """A local time of day as POSIX seconds."""
        return datetime.combine(day, time.fromisoformat(clock), self.past.zone).timestamp()

    def day(self, at: float) -> date:
        """The local day of an instant."""
        return datetime.fromtimestamp(at, self.past.zone).date()

    def _spans(self, day: date, what: str) -> list[Piece]:
        if (day, what) not in self.known:
            self.known[day, what] = self._told(day, what)
        return self.known[day, what]

    def _told(self, day: date, what: str) -> list[Piece]:
        plans = [one for one in self.past.plans if one["from_day"] <= day.isoformat()]
        if day.isoformat() in self.past.closed_days or not plans:
            return []
        newest = max(plans, key=lambda one: str(one["from_day"]))
        return [
            (self.at(day, one["start"]), self.at(day, one["end"]))
            for one in newest[what]
            if day.isoweekday() in one["days"]
        ]

    def shifts(self, day: date) -> list[Piece]:
        """Shifts of a day, breaks not cut out."""
        return self._spans(day, "shifts")

    def open(self, day: date) -> list[Piece]:
        """Open pieces of a day."""
        return [
            piece
            for piece, (rest,) in swept(self.shifts(day), self._spans(day, "breaks"))
            if not rest
        ]

    def rests(self, since: float, until: float) -> list[Piece]:
        """The breaks that a clock spans whole."""
        first, last = self.day(since), self.day(until)
        days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
        found = [
            (start, end)
            for day in days
            for shift in self.shifts(day)
            for start, end in cut(self._spans(day, "breaks"), *shift)
        ]
        return [
            (start, end)
            for start, end in found
            if since <= start and end <= until and (start, end) != (since, until)
        ]

    def rate(self, day: date) -> float:
        """The price of an hour."""
        return max((since, rate) for since, rate in self.past.rates if since <= day.isoformat())[1]


DAYS: dict[int, Days] = {}
"""Of each past, laid out once."""


class MonthAgain:
    """One month of a shop."""

    def __init__(self, past: Again, month: str) -> None:
        """Find its edges."""
        self.past, self.days = past, DAYS.setdefault(id(past), Days(past))
        first = date.fromisoformat(f"{month}-01")
        after = (first + timedelta(days=31)).replace(day=1)
        self.all_days = [first + timedelta(days=n) for n in range((after - first).days)]
        self.lo = self.days.at(first, "00:00")
        self.hi = min(self.days.at(after, "00:00"), past.now + 1e-6)

    def holds(self, at: float | None) -> bool:
        """Whether an instant lies in it."""
        return at is not None and self.lo <= at < self.hi

    @cached_property
    def open(self) -> list[Piece]:
        """The shop's open pieces."""
        return cut([one for day in self.all_days for one in self.days.open(day)], self.lo, self.hi)

    def labour(self, clock: Row) -> list[Piece]:
        """When a clock's labour was."""
        if "labour" not in clock:
            clock["labour"] = self._labour(clock)
        return list(clock["labour"])

    def _labour(self, clock: Row) -> list[Piece]:
        since, until = clock["since"], clock["until"]
        if until is None:
            ends = [end for _, end in self.days.shifts(self.days.day(since))]
            until = min(self.past.now, max(ends)) if ends else self.past.now
        rests = [] if clock["through"] else self.days.rests(since, until)
        return [piece for piece, (rest,) in swept([(since, until)], rests) if not rest]

    @cached_property
    def clocks(self) -> list[tuple[Row, list[Piece]]]:
        """Clocks with labour in the month, and that labour."""
        near = [one for one in self.past.clocks.values() if one["since"] < self.hi]
        near = [one for one in near if one["until"] is None or one["until"] > self.lo]
        found = [(one, cut(self.labour(one), self.lo, self.hi)) for one in near]
        return [(one, pieces) for one, pieces in found if pieces]

    def clocked(self, what: str) -> float:
        """Hours on jobs, on none, or as a learner."""
        return sum(long(pieces) for one, pieces in self.clocks if kind_of(one) == what)

    def attended(self) -> float:
        """Technicians by the calendar, the others as they clocked."""
        total = 0.0
        for person, told in self.past.people.items():
            for day in self.all_days:
                text = day.isoformat()
                if self.days.at(day, "00:00") > self.past.now or text < told["from_day"]:
                    continue
                if told.get("until_day") and text > told["until_day"]:
                    continue
                right = self.past.hours_right.get((person, text))
                if right is not None:
                    total += right
                elif self.role(person, text) == "technician":
                    total += self._here(person, day)
        return total + sum(
            long(pieces)
            for one, pieces in self.clocks
            if self.role(one["person"], self._counts_on(one)) != "technician"
            and (one["person"], self._counts_on(one)) not in self.past.hours_right
        )

    def _counts_on(self, clock: Row) -> str:
        return max(self.days.day(clock["since"]), self.all_days[0]).isoformat()

    def role(self, person: str, day: str) -> str:
        """What somebody was on a day."""
        told = [one for one in self.past.roles[person] if one[0] <= day]
        return told[-1][1] if told else self.past.people[person]["role"]

    def _here(self, person: str, day: date) -> float:
        away = [
            (second(one["since"]), second(one["until"]))
            for one in self.past.away
            if one["person"] == person
        ]
        spans = cut(self.days.open(day), 0.0, self.past.now)
        return long(piece for piece, (gone,) in swept(spans, away) if not gone)

    def finished(self) -> list[tuple[tuple[str, str], Row]]:
        """Labour phases finished in the month."""
        return [
            (key, one)
            for key, one in self.past.phases.items()
            if one["kind"] == "labour" and not one["skipped"] and self.holds(one["finished"])
        ]

    def phase_h(self, key: tuple[str, str]) -> float:
        """Labour of a phase, whenever it was."""
        return sum(long(self.labour(one)) for one in self.past.by_phase[key] if is_labour(one))

    def held(self) -> dict[str, float]:
        """Open hours held by reason; of two holds of a job at once the one that began first."""
        jobs: dict[str, list[Row]] = defaultdict(list)
        for one in self.past.holds.values():
            jobs[one["job"]].append(one)
        found: dict[str, float] = defaultdict(float)
        for job, holds in jobs.items():
            holds.sort(key=lambda one: float(one["since"]))
            spans = [[(one["since"], self._ends(job, one["until"]))] for one in holds]
            open_ = [piece for piece in self.open if any(cut(each, *piece) for each in spans)]
            for piece, which in swept(open_, *spans):
                if any(which):
                    found[holds[which.index(True)]["reason"]] += long([piece])
        return dict(found)

    def _ends(self, job: str, until: float | None) -> float:
        gone = self.past.jobs[job]["gone"]
        return min(self.hi if until is None else until, self.hi if gone is None else gone)

    def lift(self, place: str) -> dict[str, float]:
        """Hours of a lift: each open piece looked at once."""
        lift = self.past.lifts[place]
        stays = [
            (one["job"], (one["since"], self._ends(one["job"], one["until"])))
            for one in self.past.stays
            if one["place"] == place and one["part"] == "body" and one["since"] < self.hi
        ]
        stays = [(job, stay) for job, stay in stays if stay[1] > self.lo]
        jobs = {job for job, _ in stays}
        on = {job: [stay for each, stay in stays if each == job] for job in jobs}
        worked = _on(on, [(one["job"], pieces) for one, pieces in self.clocks])
        held = _on(
            on,
            [
                (one["job"], [(one["since"], self._ends(one["job"], one["until"]))])
                for one in self.past.holds.values()
            ],
        )
        out = [(since, self.hi if until is None else until) for since, until in lift["out"]]
        found: dict[str, float] = defaultdict(float)
        here = cut(self.open, lift["since"], self.hi)
        for piece, which in swept(here, worked, out, held, [stay for _, stay in stays]):
            name = next((name for name, so in zip(NAMES, which, strict=True) if so), "empty_h")
            found[name] += long([piece])
        found["open_h"] = long(here)
        found["earned"] = sum(
            long(piece for stay in on[one["job"]] for piece in cut(pieces, *stay))
            * self.days.rate(self.days.day(one["since"]))
            for one, pieces in self.clocks
            if is_labour(one) and one["job"] in on and self.past.jobs[one["job"]]["pays"] != "shop"
        )
        return found


NAMES = ("worked_h", "out_h", "held_h", "dead_h")


def _on(
    on: dict[str, list[Piece]], told: Iterable[tuple[str | None, Sequence[Piece]]]
) -> list[Piece]:
    """What was told of a job while it stood there."""
    return [
        piece
        for job, pieces in told
        if job is not None and job in on
        for stay in on[job]
        for piece in cut(pieces, *stay)
    ]


def is_labour(clock: Row) -> bool:
    """On a job, and no learner's."""
    return clock["job"] is not None and clock["part"] != "learner"


def kind_of(clock: Row) -> str:
    """What a clock counts as."""
    if clock["job"] is None:
        return "indirect"
    return "on jobs" if is_labour(clock) else "learning"
