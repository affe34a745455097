"""Which act helps most: each open act as if it were done now, and what becomes of the promises.

gain = sum over promised jobs of (chance of keeping the promise after - before), with the same
forecaster and the same dice; ties by the lift hours that it saves. An act is worth a line only
from a tenth of a promise or two lift hours on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from store.file.learned.as_if import Changed, as_if, as_if_refused
from store.file.learned.help_values import Chance, Help, Helped, Out
from store.file.learned.kept import Spread
from store.file.learned.learner import Outlook
from store.file.learned.moment import Moment
from store.rules.acts import MOVES, Act
from store.sums import moving

MOST = 60
"""So many acts are tried at most."""
TOLD = 9
"""Of the best so many, each with a digit to it, it is kept what would become of every job."""


class Helping:
    """One moment's acts, tried one after the other."""

    def __init__(self, moment: Moment, outlook: Outlook, promises: Mapping[str, datetime]) -> None:
        """Take over what is known.

        Args:
            promises: what customers were told, by job.
        """
        self._moment, self._outlook = moment, outlook
        calendar, now = moment.calendar, moment.now
        self._due_h = {
            job: calendar.working_h(now, at) if at > now else 0.0
            for job, at in promises.items()
            if job in outlook.before
        }

    def help(self, acts: Sequence[Act], wanted: Callable[[], bool]) -> Help | None:
        """Try each act; None as soon as it is not wanted any more.

        Args:
            wanted: asked before each act, since whatever happens meanwhile comes first.
        """
        found: list[tuple[Helped, Act]] = []
        for act in self._likeliest(acts):
            if not wanted():
                return None
            helped = self._tried(act)
            if helped is not None:
                found.append((helped, act))
        found.sort(key=lambda one: (-round(one[0].gain, 4), -one[0].lift_h, one[1].name))
        best = [self._told(helped, act) for helped, act in found[:TOLD]]
        every = (*best, *(helped for helped, _ in found[TOLD:]))
        jobs = {job for one in every for job in one.after}
        before = {job: spread for job, spread in self._outlook.before.items() if job in jobs}
        return Help(self._moment.at, self._moment.now, before, every)

    def _likeliest(self, acts: Sequence[Act]) -> list[Act]:
        """Acts that may help, those on lifts and on promised jobs first."""
        lifted = set(self._moment.lifts.jobs)
        movers = [one for one in acts if one.kind in MOVES]
        movers.sort(key=lambda one: (one.job not in lifted, one.job not in self._due_h))
        return movers[:MOST]

    def _tried(self, act: Act) -> Helped | None:
        changed = as_if(self._moment, act)
        if changed is None:
            return None
        after = self._outlook.after(changed, self._due_h.keys())
        chances = tuple(self._chances(after))
        outs = tuple(self._outs(act, after))
        helped = Helped(act.name, _gain(chances), self._lift_h(act, after), chances, outs)
        return self._with_refusal(helped, act)

    def _with_refusal(self, helped: Helped, act: Act) -> Helped:
        refused = as_if_refused(self._moment, act)
        if refused is None:
            return helped
        chances = tuple(self._chances(self._outlook.after(refused, self._due_h.keys())))
        return replace(helped, refused_gain=_gain(chances), refused_chances=chances)

    def _told(self, helped: Helped, act: Act) -> Helped:
        """The same with what becomes of every job."""
        changed = as_if(self._moment, act)
        assert changed is not None
        return replace(helped, after=self._every(changed), told=True)

    def _outs(self, act: Act, after: Mapping[str, Spread]) -> Iterator[Out]:
        for job in self._moment.lifts.jobs:
            if job in after and not (act.kind == "clear" and job == act.job):
                was, then = self._outlook.before[job], after[job]
                yield Out(
                    job, moving.quantile(was.quantiles, 0.5), moving.quantile(then.quantiles, 0.5)
                )

    def _every(self, changed: Changed) -> dict[str, Spread]:
        return self._outlook.after(changed, self._outlook.before.keys())

    def _chances(self, after: Mapping[str, Spread]) -> Iterator[Chance]:
        for job, due_h in self._due_h.items():
            if job not in after:
                continue
            was, then = self._outlook.before[job].quantiles, after[job].quantiles
            before, later = moving.chance(was, due_h), moving.chance(then, due_h)
            if before != later:
                yield Chance(job, round(before, 4), round(later, 4))

    def _lift_h(self, act: Act, after: Mapping[str, Spread]) -> float:
        """Open hours of a lift that it saves: of the job's own stay, where it stands on one.

        A free lift is used so much sooner as jobs that could go on wait for hands on the average;
        a lift cleared is free for as long as what stood on it is likely to be held.
        """
        if act.job is None:
            return 0.0
        if act.kind == "bring in":
            return self._outlook.idle_h
        if act.kind == "clear":
            return self._outlook.stuck_h(act.job)
        if act.job not in self._moment.lifts.jobs or act.job not in after:
            return 0.0
        return max(0.0, self._outlook.before[act.job].mean - after[act.job].mean)


def _gain(chances: Sequence[Chance]) -> float:
    return sum(one.after - one.before for one in chances)
