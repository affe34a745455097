"""What is best done about a hire that runs: extend, send back, and what each way costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from store.edges.instants import for_zone
from store.sums.hires.charge import charge
from store.sums.hires.terms import Terms
from store.sums.hires.ways import Option
from store.sums.hires.window import Pair, Window
from store.views.tools import kept as tools_kept
from store.views.tools.running import TABLE, Running
from store.views.tools.unpriced import without_money
from store.views.tools.values import Advice, DayCost, Way
from store.views.tools.words import counted, money, tenths, whole

SPOKEN = 0.5
"""Money below which it would be told as 0."""
WORTH = 1.0
"""Money below which one way is not called better than another."""


def on_hire(running: Running) -> Advice | None:
    """Return what is best done about one hire; None where it never had a day."""
    if running.terms is None:
        return without_money(running)
    asked = running.reckoning.asked(running.terms, running.hire.supplier, here=running.hire.here)
    needs = [one.need for one in running.needs]
    now = running.reckoning.known.now
    window = tools_kept.returns(asked, needs, running.came, now, running.due)
    other = None if running.other is None else running.other.need
    options = (
        tools_kept.ways(asked, needs, running.came, now, running.due, other)
        if needs and running.hire.here
        else ()
    )
    apart = _apart(running, running.terms) if len(needs) > 1 else None
    return _Reckoned(running, running.terms, window, options, apart).advice()


@dataclass(frozen=True, slots=True)
class _Apart:
    """The first stretch with this hire, the others with another one.

    Attributes:
        back: the day on which this one goes back; again: on which the other comes.
    """

    back: date
    again: date
    cost: float


def _apart(running: Running, terms: Terms) -> _Apart | None:
    """One job's stretches that lie apart, each with a hire of its own."""
    jobs = {one.told.job for one in running.needs}
    if len(jobs) > 1 or any(one.need.begun for one in running.needs[1:]):
        return None
    share, now = running.reckoning, running.reckoning.known.now
    first, *rest = (one.need for one in running.needs)
    here = share.asked(terms, running.hire.supplier, here=running.hire.here)
    short = tools_kept.returns(here, [first], running.came, now, running.due).best
    ready = share.days.after(share.known.today, terms.house.lead_days)
    again = tools_kept.windows(share.asked(terms, running.hire.supplier), rest, ready, now).best
    if again.delivery <= short.back:
        return None
    return _Apart(short.back, again.delivery, short.cost.total + again.cost.total)


@dataclass(frozen=True, slots=True)
class _Reckoned:
    """A hire with every day's cost, and other ways to go on."""

    running: Running
    terms: Terms
    window: Window
    options: Sequence[Option]
    apart: _Apart | None

    @property
    def best(self) -> Pair:
        """The day that costs least; the day agreed where no other is worth a word."""
        found, agreed = self.window.best, self.agreed
        if agreed is not None and agreed.cost.total - found.cost.total < WORTH:
            return agreed
        return found

    @property
    def agreed(self) -> Pair | None:
        """What the day agreed costs, where that is still to come."""
        return next((row for row in self.window.by_back if row.back == self.running.due), None)

    def advice(self) -> Advice:
        """The best way first, what the others cost, and the days behind it."""
        own = self._own()
        ways = sorted([own, *self._others()], key=lambda way: way.cost or 0.0)
        best = ways[0] if (own.cost or 0.0) - (ways[0].cost or 0.0) >= WORTH else own
        return Advice(
            self.running.hire.kit, best, self._instead(ways, best),
            self._why(alone=best.to is not None),
            (best, *(way for way in ways if way != best)), self._days(), self.running.hire.hire,
            self.running.hire.job, self._by(best), self.running.hire.supplier,
            1 - (self.agreed or self.best).needed,
        )  # fmt: skip

    def _own(self) -> Way:
        """Keep it until the best day, which may be the day agreed."""
        running, best = self.running, self.best
        until, cost = running.back_by(best.back), best.cost.total
        if not running.needs:
            return self._nobody(best, until)
        today = running.reckoning.known.today
        if running.due is None or best.back > running.due:
            return Way("extend", self._longer(best), cost, until, command=self._extend(until))
        if not running.hire.here and best.back < running.due:
            says = f"done by then: agree {running.when(until)}{self._saves(best)}"
            return Way("shorten", says, cost, until, command=self._extend(until))
        if best.back == today and running.hire.here:
            says = f"{running.when(until)}{self._done()}{self._saves(best)}"
            return Way("send back", says, cost, until, command=self._return())
        if best.back < running.due:
            says = f"done by then: back {running.when(until)}{self._saves(best)}"
            return Way("send back", says, cost, until, command=self._return())
        return Way("keep", f"goes back {running.when(until)}{self._done()}", cost, until)

    def _done(self) -> str:
        at = max(one.told.middle for one in self.running.needs)
        known = self.running.reckoning.known
        if known.calendar.day_of(at) != known.today:
            return f"; done by {self.running.when(at)}"
        return f"; done by {at.astimezone(known.calendar.zone):%H:%M}"

    def _saves(self, best: Pair) -> str:
        if self.agreed is None or best.back == self.running.due:
            return ""
        saved = self.agreed.cost.total - best.cost.total
        return f", saves {whole(saved)}" if saved >= WORTH else ""

    def _nobody(self, best: Pair, until: datetime) -> Way:
        """Nobody needs it: what the days until the day agreed cost for nothing."""
        running = self.running
        swap = f"; swap with {running.other.told.job}?" if running.other is not None else ""
        lost = 0.0 if self.agreed is None else self.agreed.cost.total - best.cost.total
        if not running.hire.here:
            command = ("hire", "cancel", running.hire.kit, *running.picked)
            return Way("call off", f"nobody needs it any more{swap}", 0.0, until, command=command)
        if best.back == running.due:
            if best.back == running.reckoning.known.today:
                says = f"{running.when(until)}; nobody needs it{swap}"
                return Way("send back", says, best.cost.total, until, command=self._return())
            says = f"nobody needs it; sooner than {running.when(until)} saves nothing{swap}"
            return Way("keep", says, best.cost.total, until)
        idle = 0 if running.due is None else max(0, (running.due - best.back).days)
        words = f": {counted(idle, 'idle day')}, {whole(lost)} lost" if lost >= WORTH else ""
        says = f"nobody needs it{words}{swap}"
        return Way("send back", says, best.cost.total, until, command=self._return())

    def _longer(self, best: Pair) -> str:
        """`1 day (31) beats late fee (60 a day, 4 in 10)`"""
        running, terms = self.running, self.terms
        if running.due is None:
            return f"agree a day: {running.when(running.back_by(best.back))} costs least"
        more = (best.back - running.due).days
        shop, came = running.reckoning.days, running.came
        first = max(running.due, running.reckoning.known.calendar.day_of(came))
        costs = charge(terms, came, best.back, shop).hire - charge(terms, came, first, shop).hire
        late = terms.house.late * terms.rates.day
        fixed = next((one for one in running.needs if one.need.fixed), None)
        where = f"fixed on {fixed.told.job}: " if fixed is not None else ""
        odds = tenths(self.agreed.needed if self.agreed is not None else 1.0)
        beats = "beats" if more == 1 else "beat"
        return (
            f"{where}{counted(more, 'day')} ({money(costs) if costs else 'nothing more'}) "
            f"{beats} late fee "
            f"({money(late)} a day, {odds})"
        )

    def _others(self) -> list[Way]:
        """What the other job's own hire costs is spared, or not: either way it is left out.

        A kit that is fixed on an open unit is not spoken of for anything else.
        """
        alone = next((one.cost.total for one in self.options if one.way == "extend"), 0.0)
        alone -= self.window.best.cost.total
        found = [self._other(one, alone) for one in self.options if self._can(one)]
        return found if self.apart is None else [*found, self._two(self.apart)]

    def _can(self, option: Option) -> bool:
        """Whether it is a way besides: whoever needs it later does not take it first."""
        needs, other = self.running.needs, self.running.other
        if option.way == "extend" or any(one.need.fixed for one in needs):
            return False
        later = other is not None and needs and other.told.since >= needs[0].told.since
        return not (option.way == "use first" and later)

    def _two(self, apart: _Apart) -> Way:
        """Back after the first stretch, hired again for the next."""
        running, due = self.running, self.running.due
        until, again = running.back_by(apart.back), running.reckoning.days.opens(apart.again)
        longer = due is None or apart.back > due
        more = f" ({counted((apart.back - due).days, 'day')} more)" if due and longer else ""
        says = f"back {running.when(until)}{more}, hire again {running.when(again)}"
        away = longer or not running.hire.here
        command = self._extend(until) if away else self._return()
        return Way("return and hire again", says, apart.cost, until, again, command=command)

    def _other(self, option: Option, alone: float) -> Way:
        """As `option`, without what a hire of its own would cost the other job."""
        running, cost = self.running, option.cost.total - alone
        until = running.back_by(option.back)
        if option.way in ("use first", "wait"):
            assert running.other is not None
            return self._shared(option, running.other.told.job, cost, until, alone)
        again = running.reckoning.days.opens(option.again or option.back)
        says = f"send it back {running.when(until)}, hire again {running.when(again)}"
        return Way("return and hire again", says, cost, until, again, command=self._return())

    def _shared(
        self, option: Option, job: str, cost: float, until: datetime, alone: float
    ) -> Way:  # fmt: skip
        """Another job uses it before, or next, and hires none of its own."""
        running, kit = self.running, self.running.hire.kit
        spares = f", spares its own hire ({whole(alone)})"
        if option.way == "use first":
            first = " first" if running.needs else ""
            says = f"let {job} use it{first}, back {running.when(until)}{spares}"
            command = ("hire", "give", kit, "--to", job, *running.picked)
            return Way("use first", says, cost, until, command=command, to=job)
        says = f"back {running.when(until)}: {job} uses it next{spares}"
        if running.due is None or option.back > running.due:
            return Way("use next", says, cost, until, command=self._extend(until), to=job)
        command = ("hire", "give", kit, "--to", "any", *running.picked)
        return Way("use next", says, cost, until, command=command, to=job)

    def _instead(self, ways: Sequence[Way], best: Way) -> float | None:
        """What leaving it as agreed costs, else the next best way, else a day more."""
        if self.agreed is not None and best.do not in ("keep",):
            return self.agreed.cost.total
        rest = [way.cost for way in ways if way is not best and way.cost is not None]
        if rest:
            return min(rest)
        more = self.window.day_more
        return None if more is None else self.window.best.cost.total + more

    def _why(self, *, alone: bool) -> str:
        """What a day costs; `alone`: where another job uses it too, of this one by itself."""
        best = self.best
        at = self.window.by_back.index(best)
        aside = [
            f"one day {word} costs {whole(self.window.by_back[at + step].cost.total - best.cost.total)} more"  # noqa: E501  # one clause
            for word, step in (("less", -1), ("more", 1))
            if 0 <= at + step < len(self.window.by_back)
            and self.window.by_back[at + step].cost.total - best.cost.total >= SPOKEN
        ]
        odds = f"still needed after it {tenths(best.needed)}" if self.running.needs else ""
        said = "; ".join(one for one in (", ".join(aside), odds) if one)
        if not alone or not said:
            return said
        return f"by itself back {self.running.when(self.running.back_by(best.back))}: {said}"

    def _days(self) -> tuple[DayCost, ...]:
        """The best day in the middle, the day agreed among them."""
        rows = self.window.by_back
        at = rows.index(self.best)
        first = max(0, min(at - TABLE // 2, len(rows) - TABLE))
        shown = list(rows[first : first + TABLE])
        if self.agreed is not None and self.agreed not in shown:
            shown = sorted([*shown, self.agreed], key=lambda row: row.back)
        return tuple(
            DayCost(row.back, self.running.back_by(row.back), row.needed, row.cost.hire,
                    row.cost.carriage, row.cost.late, row.cost.waiting)
            for row in shown
        )  # fmt: skip

    def _by(self, best: Way) -> datetime | None:
        """Until when it is to be done: the supplier is told before the day agreed is over."""
        running = self.running
        if best.do in ("keep", "send back", "call off") or running.due is None:
            return best.until
        return min(running.back_by(running.due), best.until or running.back_by(running.due))

    def _extend(self, until: datetime) -> tuple[str, ...]:
        zone = self.running.reckoning.known.calendar.zone
        hire = self.running.hire
        return ("hire", "extend", hire.kit, "--due", for_zone(until, zone), *self.running.picked)

    def _return(self) -> tuple[str, ...]:
        return ("hire", "return", self.running.hire.kit, *self.running.picked)
