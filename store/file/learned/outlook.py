"""Every job's finish at one moment, and what would become of it if something were other.

The same forecaster and the same dice: what an act does not touch comes out bit for bit the same.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING

from store.file.learned.as_if import Changed, free_of_holds
from store.file.learned.forecaster import SMALL_JOB, Asking, ShopForecaster
from store.file.learned.kept import Spread
from store.file.learned.line import Line, later
from store.file.learned.moment import behind
from store.file.learned.spreads import after
from store.sums.mixing import Quantiles

if TYPE_CHECKING:
    from store.file.learned.hand import Hand
    from store.file.learned.moment import Moment
    from store.file.learned.standing import Standing


class ShopOutlook:
    """What a forecaster says of the whole shop at one moment."""

    def __init__(
        self, known: ShopForecaster, moment: Moment, standing: Standing, anew: Collection[str]
    ) -> None:
        """Forecast every job that goes on.

        What a job takes that waits for a lift, from when it is on one, is taken over from its
        forecast: of hundreds that wait it would take seconds.

        Args:
            anew: jobs of which it is not.
        """
        self._known, self._moment, self._standing = known, moment, standing
        asking = Asking(known, moment, standing)
        self._stays = {
            job: spread
            for job, hand in moment.hands.items()
            if (spread := _kept(moment, hand, anew) or asking.stay(standing, hand)) is not None
        }
        self._held = _held(standing, moment, moment.hands.keys())
        self._before = dict(_finishes(moment, self._stays, self._held, self._stays.keys()))

    @property
    def before(self) -> Mapping[str, Spread]:
        """Open hours until each job's last phase is finished."""
        return self._before

    @property
    def idle_h(self) -> float:
        """Mean open hours for which a job that could go on waits for hands between two phases."""
        pace = self._known.dates.learned.waits.pace()
        return pace.each_h["between"] / pace.chance["between"]

    def after(self, changed: Changed, jobs: Collection[str]) -> dict[str, Spread]:
        """Return the finishes of those of some jobs, and of those changed, that would be other.

        Args:
            jobs: those asked about; whoever waits and is not among them is not looked at.
        """
        standing = self._standing.otherwise(changed.moment, changed.jobs)
        stays = {**self._stays, **self._changed(changed, standing)}
        still = {job: hours for job, hours in self._held.items() if job not in changed.jobs}
        held = {**still, **_held(standing, changed.moment, changed.jobs)}
        lifted = set(changed.moment.lifts.jobs)
        moves = changed.line or bool(lifted & changed.jobs)
        asked = sorted({*changed.jobs, *(jobs if moves else ())} & stays.keys())
        found = dict(_finishes(changed.moment, stays, held, asked))
        if changed.back is not None and changed.back in stays:
            found[changed.back] = self._back(changed.moment, stays, changed.back)
        return {job: spread for job, spread in found.items() if spread != self._before.get(job)}

    def _back(self, changed: Moment, stays: Mapping[str, Spread], job: str) -> Spread:
        """A job off its lift comes back behind those that wait now, not before it can go on.

        A move from a lift costs no hour here; hands and minutes for it are said with the act.
        """
        place = behind(changed.hands, changed.lifts)[1]
        line = _line(changed, stays)
        if place is None or line is None:
            return stays[job]
        free_h = self.stuck_h(job)
        return after(tuple(max(0.0, one - free_h) for one in line.nth(place)), stays[job])

    def stuck_h(self, job: str) -> float:
        """Mean open hours that a job is likely to lose to what holds it now."""
        if job not in self._stays:
            return 0.0
        there = free_of_holds(self._moment, job)
        changed = Changed(there, frozenset({job}))
        free = self._changed(changed, self._standing.otherwise(there, changed.jobs))
        return max(0.0, self._stays[job].mean - free[job].mean) if job in free else 0.0

    def _changed(self, changed: Changed, standing: Standing) -> dict[str, Spread]:
        asking = Asking(self._known, changed.moment, standing)
        return {
            job: spread
            for job in sorted(changed.jobs)
            if (spread := asking.stay(standing, changed.moment.hands[job])) is not None
        }


def _kept(moment: Moment, hand: Hand, anew: Collection[str]) -> Spread | None:
    known = moment.kept.get(hand.job)
    return known.stay if known is not None and hand.waits and hand.job not in anew else None


def _held(standing: Standing, moment: Moment, jobs: Iterable[str]) -> dict[str, Quantiles]:
    """Until when jobs that wait cannot come in, though a lift be free."""
    waiting = [moment.hands[job] for job in jobs if moment.hands[job].waits]
    holding = {one.job for one in moment.spans if one.kind == "held" and one.ended is None}
    return {
        one.job: hours
        for one in waiting
        if one.job in holding and (hours := standing.held(one)) is not None
    }


def _finishes(
    moment: Moment,
    stays: Mapping[str, Spread],
    held: Mapping[str, Quantiles],
    jobs: Iterable[str],
) -> Iterable[tuple[str, Spread]]:
    """Stays, after the wait for a lift and for what holds the job, where there is one."""
    places, _ = behind(moment.hands, moment.lifts)
    line = _line(moment, stays) if places else None
    for job in jobs:
        wait = line.nth(places[job]) if line is not None and job in places else None
        yield job, after(later(wait, held.get(job)), stays[job])


def _line(moment: Moment, stays: Mapping[str, Spread]) -> Line | None:
    running = [stays[one].quantiles if one in stays else SMALL_JOB for one in moment.lifts.jobs] + [
        SMALL_JOB
    ] * moment.lifts.small
    return Line(running) if running else None
