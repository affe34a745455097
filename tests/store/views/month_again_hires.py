"""What a month's hired kits came to, from what `month_again` read: every mixture of rates tried."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from tests.store.views.month_again import Row
from tests.store.views.month_again_money import MoneyAgain

DAY = timedelta(days=1)


@dataclass
class HiresCame:
    """Money and shop days."""

    spent: float = 0.0
    late: float = 0.0
    idle: float = 0.0
    deposits: float = 0.0


class HiresAgain(MoneyAgain):
    """One month's hires."""

    def hires(self) -> HiresCame:
        """Day by day: each day of a hire that lies in the month adds its part."""
        found = HiresCame()
        for hire, one in self.past.hires.items():
            if "hire-received" not in one or one["hire-received"] >= self.hi:
                continue
            terms = one["terms"]
            if one.get("deposit-returned", math.inf) >= self.hi:
                found.deposits += terms["deposit"]
            came, sent = self.days.day(one["hire-received"]), one.get("hire-sent-back")
            last = self._handed(sent, terms["cut_off"]) if sent else self.days.day(self.past.now)
            due = self.days.day(datetime.fromisoformat(one["due"]).timestamp())
            carriage, extras = 2 * terms["carriage"], 0.0
            late = max(0, (last - due).days) * terms["late"] * terms["day"]
            whole = self._charge(terms, came, last, one["hire-received"]) + carriage
            if "hire-invoiced" in one:
                late, extras = one.get("late_fee", 0.0), one.get("extras", 0.0)
                whole = one["amount"] - late
            days = [came + n * DAY for n in range((last - came).days + 1)]
            late_days = [day for day in days if day > due] or days[-1:]
            mine = set(self.all_days)
            on_late = late / len(late_days) * len(mine.intersection(late_days))
            found.spent += whole / len(days) * len(mine.intersection(days)) + on_late
            found.late += on_late
            a_day = max(0.0, whole - carriage - extras) / len(days)
            found.idle += a_day * len(self._idle(hire, one))
        return found

    def _works(self, day: date) -> bool:
        return day.isoweekday() <= 5 and bool(self.days.shifts(day))

    def _handed(self, sent: float, cut_off: str) -> date:
        day = self.days.day(sent)
        if sent > self.days.at(day, cut_off):
            day += DAY
        while not self._works(day):
            day += DAY
        return day

    def _charge(self, terms: Row, came: date, handed: date, received: float) -> float:
        last = handed
        if terms["counts"] == "arrival":
            for _ in range(terms["back_days"]):
                last += DAY
                while not self._works(last):
                    last += DAY
        days = [came + n * DAY for n in range((last - came).days + 1)]
        counted = float(len(days))
        if terms["weekend"] == "half":
            counted -= sum(day.isoweekday() > 5 for day in days) / 2
        noon = received >= self.days.at(came, "12:00")
        if terms["weekend"] == "free" and noon and came.isoweekday() == 5:
            counted -= 2 if handed == came + 3 * DAY else 0
        counted = max(counted, terms["minimum_days"])
        most = math.ceil(counted) + 1
        cost: float = min(
            months * (terms.get("month") or math.inf if months else 0.0)
            + weeks * (terms.get("week") or math.inf if weeks else 0.0)
            + max(0.0, counted - 30 * months - 7 * weeks) * terms["day"]
            for months in range(most // 30 + 2)
            for weeks in range(most // 7 + 2)
        )
        return cost
