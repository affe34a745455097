"""A month's money from what `month_again` read, reckoned job by job."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta

from tests.store.views.month_again import Row
from tests.store.views.month_again_sums import MonthAgain, is_labour, long

MEDIAN = 9
"""The tenth of nineteen quantiles."""


class MoneyAgain(MonthAgain):
    """One month's money."""

    def worth(self, clocks: list[Row]) -> float:
        """Labour of whole clocks at the rates of their days."""
        return sum(
            long(self.labour(one)) * self.days.rate(self.days.day(one["since"])) for one in clocks
        )

    def of_job(self, job: str) -> list[Row]:
        """The labour clocks of a job."""
        return self.past.by_job.get(job, [])

    def worked(self) -> float:
        """Labour of the month at the rates of its days."""
        return sum(
            long(pieces) * self.days.rate(self.days.day(one["since"]))
            for one, pieces in self.clocks
            if is_labour(one)
        )

    def paid(self) -> Iterator[tuple[float, float, list[tuple[str, str, float]]]]:
        """Of each job that ended: hours and money sold, and what was lost by cause and basis."""
        for job, told in self.past.jobs.items():
            if not self.holds(told["closed"] or told["gone"]):
                continue
            clocks = self.of_job(job)
            hours = sum(long(self.labour(one)) for one in clocks)
            if self.holds(told["closed"]):
                yield self._closed(job, told, hours, self.worth(clocks))
            elif told["closed"] is None and self.holds(told["gone"]) and clocks:
                yield self._declined(job, hours)

    def _declined(
        self, job: str, hours: float
    ) -> tuple[float, float, list[tuple[str, str, float]]]:
        checks = [one for one in self.past.agreed[job] if one.get("check")]
        if not checks:
            return 0.0, 0.0, [("declined after work was done", "none", hours)]
        agreed = checks[-1]["total"]["quantiles"][MEDIAN]
        assert checks[-1]["basis"] == "fixed price", "so is a check sold in this shop"
        over = max(0.0, hours - agreed)
        lost = [("overrun of a fixed price", "fixed price", over)] if over else []
        return agreed, agreed * self.days.rate(self.days.day(checks[-1]["at"])), lost

    def _closed(
        self, job: str, told: Row, hours: float, money: float
    ) -> tuple[float, float, list[tuple[str, str, float]]]:
        basis = told["basis"]
        if told["pays"] == "shop":
            whose = "ours" if told["fault"] == "ours" else "paid by the shop"
            return 0.0, 0.0, [(f"comeback, {whose}", basis or "none", hours)]
        if basis == "fixed price":
            return self._fixed(job, hours)
        over = 0.0
        if basis == "ceiling" and told["ceiling"] is not None:
            over = min(money, max(0.0, money + self._beside(job) - told["ceiling"]))
        lost_h = hours * over / money if money else 0.0
        lost = [("over a ceiling", basis, lost_h)] if over else []
        return hours - lost_h, money - over, lost

    def _beside(self, job: str) -> float:
        """Outwork, parts and what extra work cost beside its hours."""
        outwork = sum(
            (one["charged"] if one["charged"] is not None else one.get("price")) or 0.0
            for one in self.past.outwork
            if one["job"] == job and one["back"] is not None
        )
        extra = sum(
            one["money"] - one["hours"] * self.days.rate(self.days.day(one["asked_at"]))
            for (number, _), one in self.past.extras.items()
            if number == job and one["state"] == "approved" and one.get("money") is not None
        )
        parts = sum(one["price"] for one in self.past.parts_of(job))
        return float(outwork + extra + parts)

    def _fixed(self, job: str, hours: float) -> tuple[float, float, list[tuple[str, str, float]]]:
        first = next(one for one in self.past.agreed[job] if not one.get("check"))
        told = [one for one in self.past.changed[job] if one["seq"] >= first["seq"]]
        sold, money, route = 0.0, 0.0, 0.0
        before = 0.0
        for at, one in enumerate(told):
            added, before = one["middle"] - before, one["middle"]
            causes = self.past.acts[job, one["at"]]
            extra = bool(causes & {"supplement-answered", "answer-taken-back"})
            if at == 0 or extra:
                sold += added
                money += added * self.days.rate(self.days.day(one["at"]))
            elif "route-changed" in causes and "estimate-agreed" not in causes:
                route += added
        lost: list[tuple[str, str, float]] = []
        left = hours - sold
        agreed = {one["found"] for one in self.past.extras.values() if one["state"] == "approved"}
        found = sum(
            one.get("hours") or 0.0
            for seq, one in self.past.surprises.items()
            if one["job"] == job and seq not in agreed
        )
        for cause, most in (
            ("extra work not agreed", found),
            ("a longer route at a fixed price", route),
            ("overrun of a fixed price", left),
        ):
            part = min(left, most)
            if part > 0:
                lost.append((cause, "fixed price", part))
                left -= part
        return sold, money, lost

    def not_charged(self) -> dict[tuple[str, str], float]:
        """Hours by cause and basis."""
        found: dict[tuple[str, str], float] = defaultdict(float)
        for _, _, lost in self.paid():
            for cause, basis, hours in lost:
                found[cause, basis] += hours
        return {key: hours for key, hours in found.items() if hours > 0}

    def live(self) -> list[str]:
        """Jobs that were neither closed nor declined at the month's end."""
        return [
            job
            for job, one in self.past.jobs.items()
            if one["opened"] < self.hi
            and all(end is None or end >= self.hi for end in (one["closed"], one["gone"]))
        ]

    def not_billed(self) -> float:
        """Labour, outwork and parts of live jobs, without hires."""
        total = 0.0
        for job in self.live():
            for one in self.of_job(job):
                if one["since"] < self.hi:
                    pieces = [(a, min(b, self.hi)) for a, b in self.labour(one)]
                    total += long(pieces) * self.days.rate(self.days.day(one["since"]))
            total += sum(
                (one["charged"] if one["charged"] is not None else one.get("price")) or 0.0
                for one in self.past.outwork
                if one["job"] == job and one["back"] is not None and one["back"] < self.hi
            )
            total += sum(one["price"] for one in self.past.parts_of(job, self.hi))
        return total

    def idle_days(self) -> int:
        """Shop days on which a hired kit was here and in use by nobody."""
        return sum(len(self._idle(hire, one)) for hire, one in self.past.hires.items())

    def _idle(self, hire: str, one: Row) -> list[date]:
        if "hire-received" not in one or one["hire-received"] >= self.hi:
            return []
        came, sent = self.days.day(one["hire-received"]), one.get("hire-sent-back")
        yesterday = self.days.day(self.past.now) - timedelta(days=1)
        last = yesterday if sent is None else self.days.day(sent)
        here = [day for day in self.all_days if came <= day <= last and self.days.shifts(day)]
        used = self._used(hire, one) if here else set[date]()
        return [day for day in here if day not in used]

    def _used(self, hire: str, told: Row) -> set[date]:
        found: set[date] = set()
        for (job, phase), one in self.past.by_kit[told["kit"]]:
            days: set[date] = set()
            for clock in self.past.by_phase.get((job, phase), ()):
                pieces = self.labour(clock)
                end = clock["until"] if clock["until"] is not None else pieces[-1][1]
                days |= set(self._each(clock["since"], end))
            until = self.past.captive.get((one["version"], one["code"], told["kit"]))
            ends = self.past.ends.get((job, until)) if until is not None else None
            begun = [clock["since"] for clock in self.past.by_phase.get((job, phase), ())]
            if ends is not None and begun:
                end = ends["finished"] or self.past.jobs[job]["closed"] or self.past.now
                days |= set(self._each(min(begun), end))
            found |= {day for day in days if not self._own(hire, told, job, day)}
        return found

    def _own(self, hire: str, told: Row, job: str, day: date) -> bool:
        """Whether that job had another kit of the kind that day."""
        return told.get("job") != job and any(
            other != hire
            and one["kit"] == told["kit"]
            and one.get("job") == job
            and "hire-received" in one
            and self.days.day(one["hire-received"])
            <= day
            <= self.days.day(one.get("hire-sent-back", self.past.now))
            for other, one in self.past.hires.items()
        )

    def _each(self, since: float, until: float) -> Iterator[date]:
        first, last = self.days.day(since), self.days.day(max(since, until))
        return (first + timedelta(days=n) for n in range((last - first).days + 1))
