"""Forecasts of jobs that go on: labour through the shop's pace, over the ways that are open."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from store.file.kits.wanted import Wanted, until_here
from store.file.learned import dates_part, labour_part, seen
from store.file.learned.branches import ROOM, Branch, as_it_stands, branches, of_route
from store.file.learned.estimating import at_hand
from store.file.learned.kept import Forecast, PhaseLeft, Spread
from store.file.learned.line import Line, later
from store.file.learned.moment import behind
from store.file.learned.needs import LINE, Made, drawn, needs
from store.file.learned.new_work import AsOf, Work
from store.file.learned.spreads import LEAST_H, after, less, ways_mixed
from store.file.learned.standing import Standing
from store.file.learned.stays import Stay, Way, ended
from store.file.learned.stays import mixed as mixed_stays
from store.file.learned.stays import stay as stay_of
from store.learn.labour.ahead import draw, phase_hours, quantiles_of
from store.learn.labour.draws import LATTICE
from store.learn.records import AtHand
from store.rules.routes import RoutePhase
from store.sums.mixing import Quantiles, mixed
from store.sums.moving import left
from store.trouble import Trouble

if TYPE_CHECKING:
    from store.file.learned.hand import Hand
    from store.file.learned.kept_needs import KitNeed
    from store.file.learned.learner import Parts
    from store.file.learned.moment import Moment
    from store.file.learned.outlook import ShopOutlook
    from store.learn.arrays import Floats
    from store.learn.dates.ahead import Ahead

NOTHING: Mapping[str, Sequence[Wanted]] = {}
"""No job wants a kit, as far as is asked."""
SMALL_JOB = tuple(2.0 * n / 10 for n in range(1, 20))
"""Open hours for which a small job keeps a lift. Common practice, no source."""


class ShopForecaster:
    """What was learned, ready to be asked."""

    def __init__(self, parts: Parts) -> None:
        """Read it.

        Raises:
            ValueError: a part is not what this version keeps.
        """
        self.labour = labour_part.read(parts[labour_part.NAME])
        self.dates = dates_part.read(parts[dates_part.NAME])
        self.seen = seen.read(parts[seen.NAME])
        self.seq = parts[labour_part.NAME].at.seq

    def forecasts(
        self,
        moment: Moment,
        jobs: Sequence[str],
        wanted: Mapping[str, Sequence[Wanted]] = NOTHING,
    ) -> list[Forecast]:
        """Return what is left of some jobs; those that wait for a lift come after those on one."""
        if not jobs:
            return []
        asking = Asking(self, moment, standing_of(moment, self.dates), wanted)
        order = sorted(jobs, key=lambda job: moment.hands[job].line or -1)
        return [asking.forecast(moment.hands[job]) for job in order]

    def outlook(self, moment: Moment, anew: Collection[str]) -> ShopOutlook | None:
        """Return what is known of all jobs together; None where the shop never opens."""
        from store.file.learned.outlook import ShopOutlook

        standing = standing_of(moment, self.dates)
        return None if standing is None else ShopOutlook(self, moment, standing, anew)

    def new_jobs(
        self,
        moment: Moment,
        work: Work,
        cases: Sequence[Sequence[tuple[float, Sequence[RoutePhase]]]],
    ) -> list[Spread] | None:
        """Return the open hours until work would be finished that is taken now, in each case.

        It comes after those that wait for a lift already. A route that several cases may take
        is walked once.

        Args:
            cases: the routes that the work may take, with their odds.
        """
        standing = standing_of(moment, self.dates)
        if standing is None:
            return None
        asking = Asking(self, moment, standing)
        wait = asking.wait(behind(moment.hands, moment.lifts)[1])
        walked: dict[object, Spread] = {}
        ended: dict[object, Spread] = {}
        for ways in cases:
            if _case(ways) in ended:
                continue
            for _, route in ways:
                if _key(route) not in walked:
                    walked[_key(route)] = self._walked(moment, standing, work, route)
            stay = ways_mixed([(odds, walked[_key(route)]) for odds, route in ways])
            ended[_case(ways)] = after(wait, stay)
        return [ended[_case(ways)] for ways in cases]

    def _walked(
        self, moment: Moment, standing: Standing, work: Work, route: Sequence[RoutePhase]
    ) -> Spread:
        """The open hours of one route from when it is begun."""
        as_of = AsOf(moment.now.timestamp(), moment.employed, 0.0)
        branch = of_route(route, work.badge)
        ready = self.labour.ready(at_hand(work, as_of), branch.planned())
        seqs = tuple(one.seq for one in branch.pieces if one.left_labour)
        ahead = standing.untouched("", branch, work.template)
        return ended(standing, ahead, Way(branch, draw(ready), seqs))


def _case(ways: Sequence[tuple[float, Sequence[RoutePhase]]]) -> object:
    """What may be assumed, to be told from other cases."""
    return tuple((odds, _key(route)) for odds, route in ways)


def _key(route: Sequence[RoutePhase]) -> object:
    """What a walk through a route depends on."""
    return tuple((one.phase.code, one.book, one.learned, one.serves) for one in route)


def standing_of(moment: Moment, dates: dates_part.Dates) -> Standing | None:
    """None where the shop never opens: then there is no date."""
    try:
        return Standing(moment, dates)
    except (ValueError, Trouble):
        return None


class Asking:
    """One look's forecasts."""

    def __init__(
        self,
        known: ShopForecaster,
        moment: Moment,
        standing: Standing | None,
        wanted: Mapping[str, Sequence[Wanted]] = NOTHING,
    ) -> None:
        self._known, self._moment, self._standing = known, moment, standing
        self._wanted = wanted
        self._made: dict[str, Spread] = {}
        self._line: Line | None = None
        self._behind, _ = behind(moment.hands, moment.lifts)

    def forecast(self, hand: Hand) -> Forecast:
        ways, wanted = self._ways(hand), self._wanted.get(hand.job, ())
        stays = self._stays(self._standing, hand, ways, phases=bool(wanted))
        stay, lift, held = mixed_stays(stays), self._lift(hand), self._held(hand)
        found = None if stay is None else after(later(lift, held), stay)
        if found is not None:
            self._made[hand.job] = found
        return Forecast(
            hand.job, self._moment.at.seq, self._known.seq, self._moment.now, hand.labour_h,
            _together(ways), found, self._phases(hand) if self._known.seen.records else {},
            stay if hand.waits else None, self._needs(hand, wanted, stays, (lift, held)),
        )  # fmt: skip

    def _ways(self, hand: Hand) -> list[Way]:
        book = self._moment.books.get(hand.version) if hand.version is not None else None
        return [self._drawn(hand, one) for one in branches(hand, book, self._known.seen.chances)]

    def _drawn(self, hand: Hand, branch: Branch) -> Way:
        pieces = [one for one in branch.pieces if one.left_labour]
        if not pieces:
            return Way(branch, np.zeros((1, 0)), ())
        whole = draw(self._known.labour.ready(self._at_hand(hand), branch.planned()), LATTICE)
        spent = np.array([one.planned.elapsed_h for one in pieces])
        return Way(branch, np.maximum(whole - spent, LEAST_H), tuple(one.seq for one in pieces))

    def _at_hand(self, hand: Hand) -> AtHand:
        return AtHand(
            hand.job, hand.template, hand.family, self._moment.now.timestamp(), hand.grade,
            hand.believable(), self._moment.employed,
        )  # fmt: skip

    def _phases(self, hand: Hand) -> Mapping[str, PhaseLeft]:
        pieces = [one for one in as_it_stands(hand).pieces if one.left_labour]
        if not pieces:
            return {}
        ready = self._known.labour.ready(self._at_hand(hand), [one.planned for one in pieces])
        number = {one.seq * ROOM: one.row.phase for one in hand.phases}
        return {
            number[one.seq]: PhaseLeft(
                one.planned.elapsed_h, less(one.planned.elapsed_h, hours.mean, hours.quantiles)
            )
            for one, hours in zip(pieces, phase_hours(ready), strict=True)
        }

    def _lift(self, hand: Hand) -> Quantiles | None:
        """When a lift is free for a job that waits for one."""
        return self.wait(self._behind.get(hand.job))

    def _held(self, hand: Hand) -> Quantiles | None:
        """When nothing holds a job any more that waits."""
        return None if self._standing is None else self._standing.held(hand)

    def _needs(
        self,
        hand: Hand,
        wanted: Sequence[Wanted],
        stays: Sequence[Stay],
        waits: tuple[Quantiles | None, Quantiles | None],
    ) -> tuple[KitNeed, ...]:
        """When it needs its kits, after its waits for a lift and for what holds it."""
        if not wanted or not stays:
            return ()
        made = Made(self._moment.at.seq, self._known.seq, self._moment.now)
        seqs = {one.row.phase: one.seq * ROOM for one in hand.phases}
        lift, held = waits
        here_h = until_here(self._moment.calendar, self._moment.now, wanted[0])
        if here_h > 0:  # a vehicle that is booked comes last
            lift = self.wait(behind(self._moment.hands, self._moment.lifts)[1])
        before = np.maximum(drawn(lift, LINE), drawn(held, f"{hand.job} held"))
        ways = [one.walked for one in stays]
        return needs(made, wanted, seqs, ways, np.maximum(before, here_h))

    def stay(self, standing: Standing, hand: Hand) -> Spread | None:
        """What is left of a job once it is on its lift; None where nothing is."""
        return mixed_stays(self._stays(standing, hand, self._ways(hand), phases=False))

    def _stays(
        self, standing: Standing | None, hand: Hand, ways: Sequence[Way], *, phases: bool
    ) -> list[Stay]:
        if standing is None:
            return []
        return [
            stay_of(standing, self._ahead(standing, hand, one), one, phases=phases) for one in ways
        ]

    def _ahead(self, standing: Standing, hand: Hand, way: Way) -> Ahead | None:
        waits = hand.line is not None and not hand.been_on and not hand.is_worked
        if waits and way.branch.pieces:
            return standing.untouched(hand.job, way.branch, hand.template)
        return standing.ahead(hand, way.branch)

    def wait(self, place: int | None) -> tuple[float, ...] | None:
        """Quantiles of the open hours until so many lifts have become free; 0 is the first.

        A job that waits for a lift first waits until enough of them have become free.

        Args:
            place: None where it waits for none.
        """
        if place is None:
            return None
        lifts = self._moment.lifts
        if self._line is None:  # whoever waits is asked after all that are on lifts
            running = [self._leaves(job) for job in lifts.jobs] + [SMALL_JOB] * lifts.small
            self._line = Line(running) if running else None
        return self._line.nth(place) if self._line is not None else None

    def _leaves(self, job: str) -> tuple[float, ...]:
        """When a job on a lift is likely to leave it, open hours from now."""
        if job in self._made:
            return self._made[job].quantiles
        kept = self._moment.kept.get(job)
        if kept is None or kept.finish is None:
            return SMALL_JOB  # nothing of it is left: it only has to drive away
        made = min(kept.made_at, self._moment.now)
        passed = self._moment.calendar.working_h(made, self._moment.now)
        return left(kept.finish.quantiles, passed)


def _together(ways: Sequence[Way]) -> Spread:
    """Labour still to do in all phases, over the ways that a job may go."""
    each = [(one.branch.odds, np.sort(one.hours.sum(axis=1))) for one in ways]
    return Spread(
        float(sum(odds * hours.mean() for odds, hours in each)),
        mixed([(odds, _quantiles(hours)) for odds, hours in each]),
    )


def _quantiles(rising: Floats) -> tuple[float, ...]:
    if len(rising) == 1:
        return (float(rising[0]),) * 19
    return tuple(float(one) for one in quantiles_of(rising))
