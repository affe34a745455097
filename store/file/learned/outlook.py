"""Every job's finish at one moment, and what would become of it if something were other.

The same forecaster and the same dice: what an act does not touch comes out bit for bit the same.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING

from store.file.learned.as_if import Changed, free_of_holds
from store.file.learned.forecaster import SMALL_JOB, Asking, ShopForecaster, after
from store.file.learned.kept import Spread
from store.learn.dates.line import Line

if TYPE_CHECKING:
    from store.file.learned.moment import Moment
    from store.file.learned.standing import Standing


class ShopOutlook:
    """What a forecaster says of the whole shop at one moment."""

    def __init__(self, known: ShopForecaster, moment: Moment, standing: Standing) -> None:
        """Forecast every job that goes on."""
        self._known, self._moment, self._standing = known, moment, standing
        asking = Asking(known, moment, standing)
        self._stays = {
            job: spread
            for job, hand in moment.hands.items()
            if (spread := asking.stay(standing, hand)) is not None
        }
        self._before = dict(_finishes(moment, self._stays, self._stays.keys()))

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
        stays = {**self._stays, **self._changed(changed)}
        lifted = set(changed.moment.lifts.jobs)
        moves = changed.line or bool(lifted & changed.jobs)
        asked = sorted({*changed.jobs, *(jobs if moves else ())} & stays.keys())
        found = _finishes(changed.moment, stays, asked)
        return {job: spread for job, spread in found if spread != self._before.get(job)}

    def stuck_h(self, job: str) -> float:
        """Mean open hours that a job is likely to lose to what holds it now."""
        if job not in self._stays:
            return 0.0
        free = self._changed(Changed(free_of_holds(self._moment, job), frozenset({job})))
        return max(0.0, self._stays[job].mean - free[job].mean) if job in free else 0.0

    def _changed(self, changed: Changed) -> dict[str, Spread]:
        standing = self._standing.otherwise(changed.moment, changed.jobs)
        asking = Asking(self._known, changed.moment, standing)
        return {
            job: spread
            for job in sorted(changed.jobs)
            if (spread := asking.stay(standing, changed.moment.hands[job])) is not None
        }


def _finishes(
    moment: Moment, stays: Mapping[str, Spread], jobs: Iterable[str]
) -> Iterable[tuple[str, Spread]]:
    """Stays, after the wait for a lift where there is one."""
    lifts, line = moment.lifts, None
    for job in jobs:
        hand = moment.hands[job]
        behind = None if hand.been_on or hand.line is None else hand.line - lifts.free
        if behind is None or behind < 0:
            yield job, stays[job]
            continue
        if line is None:
            running = [stays[one].quantiles if one in stays else SMALL_JOB for one in lifts.jobs]
            running += [SMALL_JOB] * lifts.small
            line = Line(running) if running else None
        yield job, after(line.nth(behind) if line is not None else None, stays[job])
