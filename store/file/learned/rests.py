"""How long what holds a job is likely to go on, from the shop's own past; without any array."""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from store.file.learned import dates_part
from store.file.learned.kept import parts
from store.sums.clearing import Rest
from store.sums.rest_of_length import mean_rest
from store.sums.working_time import Calendar

if TYPE_CHECKING:
    from store.learn.dates.learned import Learned
    from store.learn.dates.lengths import Law

LONGEST_H = 400.0
"""Open hours; as long as a hold is drawn at most."""


class Rests:
    """What was learned of lengths, read at one moment; the trade's figures where nothing was."""

    def __init__(self, db: sqlite3.Connection, calendar: Calendar, now: datetime) -> None:
        """Read it."""
        self._calendar, self._now = calendar, now
        self._learned, since = _known(db)
        first = datetime.fromtimestamp(since, UTC) if since else now
        self._reading = calendar.working_h(min(first, now), now)

    def hold_h(self, reason: str, since: datetime, expected: datetime | None) -> float:
        """Return the mean open hours for which a hold of a reason still goes on.

        Args:
            since: when it began; expected: the end that was said, None where nobody said.
        """
        rest = self.hold(reason, since, expected)
        return min(mean_rest(rest.m, rest.s, rest.so_far), LONGEST_H)

    def hold(self, reason: str, since: datetime, expected: datetime | None) -> Rest:
        """Return the law of the open hours for which a hold of a reason still goes on."""
        law = self._learned.length_law(reason, self._reading)
        return self._rest(law, reason, since, expected)

    def away(self, firm: str, since: datetime, promised: datetime | None) -> Rest:
        """Return the law of the open hours for which parts are still away at a firm.

        By the firm's outwork and all outwork, whatever the phase.
        """
        from store.learn.dates.route import Step

        step = Step(0, "outwork", "", "", firm=firm)
        law = self._learned.away.outwork_law(step, self._reading)
        return self._rest(law, firm, since, promised)

    def _rest(self, law: Law, reason: str, since: datetime, expected: datetime | None) -> Rest:
        """With the end that was said, as a second look at the length."""
        from store.learn.dates.learned import LEAST_SAID_H, MISS
        from store.learn.dates.lengths import Lengths, said_too

        m, s = law.m, law.wide
        if expected is not None:
            said_h = max(self._open_h(since, expected), LEAST_SAID_H)
            misses = self._learned.misses.get(reason, Lengths())
            both = said_too(law, said_h, misses.law(MISS, self._reading))
            m, s = both.m, both.wide
        return Rest(m, s, self._open_h(since, self._now))

    @property
    def pace(self) -> float:
        """Hours of labour that a job on a lift gets in an open hour, neither held nor away."""
        from store.learn.dates.told import told

        return told(self._learned).pace.labour_h

    @property
    def idle_h(self) -> float:
        """Mean open hours for which a job that could go on waits for hands between two phases."""
        pace = self._learned.waits.pace()
        return pace.each_h["between"] / pace.chance["between"]

    def _open_h(self, since: datetime, until: datetime) -> float:
        return self._calendar.working_h(since, until) if until > since else 0.0


def _known(db: sqlite3.Connection) -> tuple[Learned, float]:
    from store.learn.dates.learned import Learned

    found = parts(db, {dates_part.NAME: dates_part.VERSION}, whole=True)
    if dates_part.NAME in found:
        try:
            dates = dates_part.read(found[dates_part.NAME])
        except ValueError:  # cannot be read: the learner will learn it again
            return Learned(), 0.0
        return dates.learned, dates.since
    return Learned(), 0.0
