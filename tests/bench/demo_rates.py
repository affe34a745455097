"""The demo shop's own rates beside those that workshops see (common practice, no source).

    python tests/bench/demo_rates.py FILE

Reads the file with plain SQL; hours are the shop's open hours, breaks cut out.
"""

from __future__ import annotations

import json
import sqlite3
import sys
from bisect import bisect_left
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

Span = tuple[float, float]
DAY_H = 8.0
"""Working hours of a shop day, Monday to Thursday."""


@dataclass(frozen=True, slots=True)
class Rate:
    """One figure and the bounds between which it is believable.

    Attributes:
        unit: `h`, `%` or nothing.
        usual: what workshops see, in words.
    """

    name: str
    value: float
    low: float
    high: float
    usual: str
    unit: str = "%"

    @property
    def believable(self) -> bool:
        """True inside the bounds."""
        return self.low <= self.value <= self.high


class Opening:
    """The open hours of the shop, from its own tables."""

    def __init__(self, db: sqlite3.Connection, first: date, last: date) -> None:
        self.zone = ZoneInfo(db.execute("select zone from shop").fetchone()[0])
        plan = json.loads(db.execute("select plan from calendar order by from_day").fetchone()[0])
        closed = {row[0] for row in db.execute("select day from holiday")}
        self.spans: list[Span] = []
        self.by_day: dict[date, float] = {}
        for n in range((last - first).days + 1):
            day = first + timedelta(days=n)
            if day.isoformat() not in closed:
                self._lay(day, plan)
        self._ends = [end for _, end in self.spans]

    def _lay(self, day: date, plan: dict[str, list[dict[str, object]]]) -> None:
        cuts: list[Span] = self._of(day, plan["breaks"])
        for start, end in self._of(day, plan["shifts"]):
            edges = [start, *(x for cut in sorted(cuts) for x in cut if start < x < end), end]
            pieces = list(zip(edges[::2], edges[1::2], strict=True))
            self.spans += pieces
            self.by_day[day] = self.by_day.get(day, 0.0) + sum(b - a for a, b in pieces) / 3600

    def _of(self, day: date, spans: list[dict[str, object]]) -> list[Span]:
        found: list[Span] = []
        for one in spans:
            days, start, end = one["days"], one["start"], one["end"]
            assert isinstance(days, list)
            if day.isoweekday() in days:
                found.append((self._at(day, str(start)), self._at(day, str(end))))
        return found

    def _at(self, day: date, clock: str) -> float:
        return datetime.combine(day, time.fromisoformat(clock), self.zone).timestamp()

    def hours(self, spans: Iterable[Span]) -> float:
        """Open hours inside the union of some spans."""
        return sum(self._inside(one) for one in union(spans)) / 3600

    def _inside(self, span: Span) -> float:
        total, at = 0.0, bisect_left(self._ends, span[0])
        while at < len(self.spans) and self.spans[at][0] < span[1]:
            total += max(0.0, min(span[1], self.spans[at][1]) - max(span[0], self.spans[at][0]))
            at += 1
        return total


def union(spans: Iterable[Span]) -> list[Span]:
    """Merge spans that touch."""
    merged: list[Span] = []
    for start, end in sorted(one for one in spans if one[1] > one[0]):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], end))
        else:
            merged.append((start, end))
    return merged


def common(some: Iterable[Span], others: Iterable[Span]) -> list[Span]:
    """Return what lies in both."""
    others = list(others)
    return [(max(a, c), min(b, d)) for a, b in some for c, d in others if max(a, c) < min(b, d)]


def epoch(text: str) -> float:
    """Return the instant that the file's text means."""
    return datetime.fromisoformat(text).timestamp()


@dataclass(slots=True)
class Stay:
    """What is read of one closed deep job on its lift."""

    stay_h: float
    held_h: float
    worked_h: float
    labour_h: float


class Rates:
    """Reads a demo shop."""

    def __init__(self, db: sqlite3.Connection) -> None:
        self.db = db
        first, last = db.execute("select min(recorded_at), max(recorded_at) from ledger").fetchone()
        self.first = datetime.fromisoformat(first).date()
        self.last = datetime.fromisoformat(last).date()
        self.open = Opening(db, self.first, self.last)
        self.deep = [
            row[0] for row in db.execute("select job from job where state = 'closed' and not small")
        ]

    def number(self, sql: str) -> float:
        """Return the one number of a query."""
        return float(self.db.execute(sql).fetchone()[0] or 0)

    def spans(self, sql: str, job: str) -> list[Span]:
        """Return the spans of a query for a job."""
        return [(epoch(a), epoch(b)) for a, b in self.db.execute(sql, [job]) if b is not None]

    def stays(self) -> list[Stay]:
        """Return the stays on a lift of the deep jobs that are closed."""
        return [one for one in map(self._stay, self.deep) if one.stay_h > 0]

    def _stay(self, job: str) -> Stay:
        stay = self.spans(
            "select stay.since, min(stay.until, finished_at) from stay join place using (place) "
            "join job using (job) where stay.job = ? and kind = 'lift'", job,
        )  # fmt: skip
        held = self.spans("select since, until from hold where job = ?", job)
        held += self.spans(
            "select begun_at, finished_at from phase where job = ? and kind = 'outwork' and "
            "begun_at is not null", job,
        )  # fmt: skip
        work = self.spans("select since, until from clock where job = ? and part != 'learner'", job)
        on_lift = [common(stay, [one]) for one in work]
        return Stay(
            self.open.hours(stay),
            self.open.hours(common(stay, held)),
            self.open.hours(common(stay, work)),
            sum(self.open.hours(one) for one in on_lift),
        )

    def clocked(self, where: str) -> float:
        """Return the clocked open hours of the clocks that meet a condition."""
        rows = self.db.execute(
            "select since, until from clock join person using (person) left join job using (job) "
            f"where until is not null and {where}"
        )
        return sum(self.open.hours([(epoch(a), epoch(b))]) for a, b in rows)

    def attended(self) -> float:
        """Return the hours of technicians by calendar and absence."""
        total = 0.0
        for person, start, end in self.db.execute(
            "select person, from_day, until_day from person where role = 'technician'"
        ):
            away = [
                (epoch(a), epoch(b))
                for a, b in self.db.execute(
                    "select since, until from absence where person = ?", [person]
                )
            ]
            for day, hours in self.open.by_day.items():
                if start <= day.isoformat() <= (end or "9"):
                    noon = datetime.combine(day, time(10), UTC).timestamp()
                    total += 0 if any(a <= noon < b for a, b in away) else hours
        return total

    def held_by_reason(self) -> dict[str, float]:
        """Return hours for which deep jobs were held on their lift, outwork with them."""
        found: dict[str, float] = {}
        for job, reason, a, b in self.db.execute(
            "select job, reason, since, until from hold where until is not null union all "
            "select job, kind, begun_at, finished_at from phase where kind = 'outwork' and "
            "finished_at is not null"
        ):
            stay = self.spans(
                "select stay.since, stay.until from stay join place using (place) join job "
                "using (job) where stay.job = ? and kind = 'lift' and not small", job,
            )  # fmt: skip
            held = common(stay, [(epoch(a), epoch(b))])
            found[reason] = found.get(reason, 0.0) + self.open.hours(held)
        return found

    def left_running(self) -> float:
        """Return how many clocks there are to one that was stopped on a later day."""
        clocks = self.number("select count(*) from clock")
        forgotten = self.number(
            "select count(*) from clock join ledger on ledger.seq = stopped_seq "
            "where substr(recorded_at, 1, 10) > substr(since, 1, 10)"
        )
        return clocks / max(1.0, forgotten)

    def overlapping(self) -> int:
        """Count the clocks of one person that overlap: there may be none."""
        found = 0
        for (person,) in self.db.execute("select person from person"):
            rows = self.db.execute(
                "select since, until from clock where person = ? order by since", [person]
            ).fetchall()
            found += sum(b[0] < (a[1] or "9") for a, b in pairwise(rows))
        return found


def rates(db: sqlite3.Connection) -> list[Rate]:
    """Return every figure with its bounds."""
    read = Rates(db)
    return [
        *_lifts(read), *_holds(read), *_people(read), *_customers(read), *_desk(read),
        *_afterwards(read), *_hires(read),
    ]  # fmt: skip


def _lifts(read: Rates) -> list[Rate]:
    stays = read.stays()
    stay, held = sum(one.stay_h for one in stays), sum(one.held_h for one in stays)
    worked, labour = sum(one.worked_h for one in stays), sum(one.labour_h for one in stays)
    months = (read.last - read.first).days / 30.4
    pace = labour / max(1e-9, stay - held) * DAY_H
    return [
        Rate("deep jobs closed a month", len(read.deep) / months, 14, 26, "some 19", ""),
        Rate("stay on a lift, open hours", stay / max(1, len(stays)), 24, 46, "31 to 40", "h"),
        Rate("labour a shop day on a lift, not held", pace, 3.2, 5.2, "3.5 to 5", "h"),
        Rate("of a lift stay: held", 100 * held / stay, 24, 45, "33"),
        Rate("of a lift stay: worked", 100 * worked / stay, 27, 48, "38"),
        Rate("of a lift stay: nobody on it", 100 * (stay - held - worked) / stay, 18, 40, "29"),
    ]


def _holds(read: Rates) -> list[Rate]:
    by_reason = read.held_by_reason()
    total = sum(by_reason.values()) or 1.0
    usual = {
        "parts": (20, 50, "35"), "approval": (10, 35, "22"), "outwork": (5, 35, "16"),
        "person": (4, 24, "12"), "tool": (2, 18, "8"), "reading": (1, 12, "4"),
        "place": (0.5, 10, "3"),
    }  # fmt: skip
    return [
        Rate(f"held for {reason}", 100 * by_reason.get(reason, 0.0) / total, low, high, words)
        for reason, (low, high, words) in usual.items()
    ]


def _people(read: Rates) -> list[Rate]:
    attended = read.attended()
    technicians = "role = 'technician'"
    on_jobs = read.clocked(f"{technicians} and job is not null")
    indirect = read.clocked(f"{technicians} and clock.reason is not null")
    deep = read.clocked("small = 0 and part != 'learner'")
    small = read.clocked("small = 1")
    confirmed = read.number("select count(*) from day_confirmed")
    days = read.number(
        "select count(*) from (select distinct person, substr(since, 1, 10) from clock)"
    )
    sold = read.number(
        "select sum((select middle_h from estimate_change c where c.job = job.job "
        "order by seq desc limit 1)) from job where state = 'closed'"
    )
    return [
        Rate("worked on jobs of attended", 100 * on_jobs / attended, 66, 86, "70 to 82"),
        Rate("indirect of attended, clocked", 100 * indirect / attended, 12, 30, "about 24"),
        Rate(
            "small jobs' share of hours on jobs", 100 * small / (small + deep), 18, 42, "20 to 40"
        ),
        Rate("sold of worked", 100 * sold / (small + deep), 78, 108, "85 to 105"),
        Rate("sold of attended", 100 * sold / attended, 55, 88, "62 to 82"),
        Rate("clocks to one left running", read.left_running(), 50, 130, "60 to 100", ""),
        Rate("days confirmed by the person", 100 * confirmed / max(1, days), 70, 97, "most"),
    ]


def _customers(read: Rates) -> list[Rate]:
    per_job: Callable[[int], str] = lambda least: (  # noqa: E731
        "select count(*) from (select finding.job from finding join job using (job) where "
        "job.state = 'closed' and kind = 'surprise' and code is not null group by finding.job "
        f"having count(distinct code) >= {least})"
    )
    jobs = max(1, len(read.deep))
    lines = read.number("select count(*) from supplement where state != 'asked'") or 1.0
    approved = read.number("select count(*) from supplement where state = 'approved'")
    kept = read.number(
        "select count(*) from job where state = 'closed' and not small and closed_at <= (select "
        "promise from promised where promised.job = job.job order by seq limit 1)"
    )
    return [
        Rate("jobs with a surprise", 100 * read.number(per_job(1)) / jobs, 28, 55, "40"),
        Rate("jobs with two or more", 100 * read.number(per_job(2)) / jobs, 4, 20, "10"),
        Rate("supplement lines agreed", 100 * approved / lines, 60, 92, "75"),
        Rate("promises kept", 100 * kept / jobs, 52, 80, "60 to 75"),
    ]


def _desk(read: Rates) -> list[Rate]:
    """Since the shop keeps its desk in the file, up to the last three weeks."""
    calls = (
        "select count(*) from job join ledger on ledger.seq = opened_seq where "
        "json_extract(payload, '$.state') = 'enquiry' and opened_at < "
        "(select datetime(max(happened_at), '-21 days') from ledger)"
    )
    rang = read.number(calls)
    came = read.number(calls + " and arrived_at is not null")
    failed = read.number("select count(*) from job where check_result = 'fail'")
    answered = "select count(*) from quote where not rough and state in ('agreed', 'declined'"
    declined = read.number(answered.replace("'agreed', ", "") + ")")
    return [
        Rate("calls to one visit", rang / max(1.0, came), 1.7, 3.4, "2 to 3", ""),
        Rate("visits whose check failed", 100 * failed / max(1.0, came), 5, 19, "10 to 12"),
        Rate("quotes declined", 100 * declined / max(1.0, read.number(answered + ")")), 2, 30,
             "10 to 20"),
    ]  # fmt: skip


def _afterwards(read: Rates) -> list[Rate]:
    jobs = max(1, len(read.deep))
    back = read.number("select count(*) from comeback")
    ours = read.number("select count(*) from comeback where fault = 'ours'")
    over = "select count(*) from follow_up where what like 'Call%' and state"
    rung = read.number(f"{over} = 'done'") / max(1.0, read.number(f"{over} != 'open'"))
    return [
        Rate("jobs that came back", 100 * back / jobs, 1, 6, "2 to 4"),
        Rate("comebacks that were the shop's work", 100 * ours / max(1.0, back), 10, 90, "50"),
        Rate("customers rung up after a job", 100 * rung, 45, 85, "foreman calls, or nobody"),
    ]


def _hires(read: Rates) -> list[Rate]:
    """Of kits that came, up to the last three days."""
    came = "select count(*) from hire where received_at is not null"
    all_of_them = max(1.0, read.number(came))
    late = read.number(f"{came} and substr(received_at, 1, 10) > substr(expected, 1, 10)")
    lacking = read.number(f"{came} and came_complete = 0")
    back = max(1.0, read.number(f"{came} and sent_at is not null"))
    over = read.number(f"{came} and sent_at is not null and sent_at > due")
    return [
        Rate("hires a month", all_of_them / ((read.last - read.first).days / 30.4), 5, 30, "", ""),
        Rate("kits that came a day late or more", 100 * late / all_of_them, 8, 18, "12.5"),
        Rate("kits not complete when they came", 100 * lacking / all_of_them, 1.5, 7, "4"),
        Rate("kits sent back after their day", 100 * over / back, 3, 20, "some"),
        Rate("idle days a hire", _idle_days(read), 0.3, 3.5, "one or two", ""),
    ]


def _idle_days(read: Rates) -> float:
    """Calendar days of a hire on which no phase that needs the kit was under way, a hire."""
    return read.number(
        "select avg(julianday(substr(sent_at, 1, 10)) - julianday(substr(received_at, 1, 10)) + 1 "
        "- (select coalesce(sum(julianday(substr(finished_at, 1, 10)) - "
        "julianday(substr(begun_at, 1, 10)) + 1), 0) from (select min(begun_at) as begun_at, "
        "max(finished_at) as finished_at from phase where phase.job = hire.job and "
        "instr(kits, '\"' || hire.kit || '\"') and begun_at is not null))) "
        "from hire where sent_at is not null and received_at is not null"
    )


def table(found: list[Rate]) -> str:
    """Return the figures as lines of text."""
    lines = [f"{'':40}{'demo':>9}   usual"]
    for one in found:
        mark = "" if one.believable else "   outside its bounds"
        lines.append(f"{one.name:40}{one.value:8.1f}{one.unit or ' '}   {one.usual}{mark}")
    return "\n".join(lines)


if __name__ == "__main__":
    with sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True) as opened:
        print(table(rates(opened)))
