"""The learner at work: what happened to a job first, then all that teaches, then every job, then
which act helps most.

Reading takes one look, writing one short transaction; in between nobody is kept waiting.
"""

from __future__ import annotations

import os
import sqlite3
import threading
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import suppress
from datetime import datetime

from store.file.kits.wanted import kits_wanted
from store.file.learned.alone import alone
from store.file.learned.cases import Cases, cases
from store.file.learned.due import Due, due, may_teach
from store.file.learned.help_due import fit_seq, is_help_due, promised
from store.file.learned.help_values import Help
from store.file.learned.helping import Helping
from store.file.learned.kept import Part, forget_all, keep_forecasts, keep_parts, parts
from store.file.learned.kept_help import keep_help
from store.file.learned.learner import Forecaster, Learner
from store.file.learned.moment import moment
from store.file.open_acts.acts import open_acts
from store.file.shop import Shop
from store.rules.acts import MOVES

WATCH_S = 0.25
"""How often it is looked for what happened while everything is learned anew."""
BEHIND = 10
"""How far the sums that take long step back behind others."""
PATIENCE_S = 60.0
"""How long a command waits for a learner that is at work."""


class Turns:
    """One process's learner of one shop file."""

    def __init__(self, shop: Shop, learner: Learner, now: Callable[[], datetime]) -> None:
        """Take over; nothing is read yet.

        Args:
            now: gives the shop's instant.
        """
        self._shop, self._learner, self._now = shop, learner, now
        self._ready: tuple[object, Forecaster] | None = None

    def keep_up(self) -> bool:
        """Do what is due until nothing is, unless another learner is there; then leave it to that.

        Returns:
            Whether anything was done here.

        Raises:
            Trouble: the file cannot be read or written; what was written holds.
        """
        done = False
        while True:
            with alone(self._shop.path) as mine:
                if not mine:
                    return done
                while self._work() or self._help():
                    done = True
            if not self._anything():  # once more, now that the lock is let go: see `alone`
                return done

    def take_in(self) -> bool:
        """Learn from whatever has not taught yet, before a question is answered.

        Returns:
            False where another learner kept at it for so long that nobody waits on.

        Raises:
            Trouble: the file cannot be read or written.
        """
        with alone(self._shop.path, PATIENCE_S) as mine:
            if mine:
                self._take_in()
        return mine

    def anew(self) -> bool:
        """Forget what was learned and learn it from the ledger again.

        Raises:
            Trouble: the file cannot be read or written.
        """
        with alone(self._shop.path, PATIENCE_S) as mine:
            if mine:
                with self._shop.beside() as db:
                    forget_all(db)
                self._take_in()
        return mine

    # -- the work

    def _work(self) -> bool:
        """Do the most urgent; False where nothing was due."""
        found = self._due()
        if found.learn:
            self._learn(found)
            self._renew(everything=True)
        elif found.anything:
            self._renew(everything=bool(found.aged))
        return found.anything

    def _anything(self) -> bool:
        """Something is to be learned or forecast, or what helps most is to be found anew."""
        if self._due().anything:
            return True
        with self._shop.reading() as db:
            found = due(db, self._learner.versions, self._now())
            return found.whole and is_help_due(db, found, self._now())

    def _help(self) -> bool:
        """Find what helps most, where the ledger moved; whatever happens to a job comes first.

        Returns:
            Whether anything was done.
        """
        now = self._now()
        with self._shop.reading() as db:
            found = due(db, self._learner.versions, now)
            forecaster = self._forecaster(db, found)
            if forecaster is None or not is_help_due(db, found, now):
                return False
            here, acts, promises = moment(db, found.live, now), open_acts(db, now), promised(db)
        touched = {one.job for one in acts if one.kind in MOVES and one.job is not None}
        outlook = forecaster.outlook(here, touched)
        nothing = Help(here.at, now, {}, ())
        helped = (
            nothing
            if outlook is None
            else Helping(here, outlook, promises).help(acts, lambda: not self._due().concerned)
        )
        if helped is not None:
            with self._shop.beside() as db:
                keep_help(db, helped, fit_seq(found))
        return True

    def _due(self) -> Due:
        now = self._now()
        with self._shop.reading() as db:
            return due(db, self._learner.versions, now)

    def _take_in(self) -> None:
        with self._shop.reading() as db:
            known = parts(db, self._learner.versions)
            whole = len(known) == len(self._learner.versions)
            if whole and not may_teach(db, known):
                return
            taught = cases(db)
        if self._keep(taught, self._learner.learn(taught, known)):
            self._renew(everything=True)

    def _learn(self, found: Due) -> None:
        """Learn everything anew; meanwhile jobs to which something happens are not left waiting."""
        if found.whole and found.concerned:
            self._renew()
        with self._shop.reading() as db:
            taught = cases(db)
        with ThreadPoolExecutor(1, initializer=_step_back) as pool:
            learning = pool.submit(self._learner.learn, taught, found.known)
            while not _is_done(learning):
                if self._due().concerned:
                    self._renew()
            self._keep(taught, learning.result())

    def _keep(self, taught: Cases, learned: Sequence[Part]) -> bool:
        """Write down what was learned; False where it is what was known already."""
        with self._shop.beside() as db:
            kept = keep_parts(db, learned, taught.at)
        return kept and any(one.content is not None for one in learned)

    def _renew(self, *, everything: bool = False) -> None:
        """Make forecasts anew: of the jobs to which something happened, or of all."""
        now = self._now()
        with self._shop.reading() as db:
            found = due(db, self._learner.versions, now)
            forecaster = self._forecaster(db, found)
            if forecaster is None:
                self._forget_spoilt(found)
                return
            jobs = found.live if everything else found.concerned
            here, wanted = moment(db, found.live, now), kits_wanted(db, jobs)
        made = forecaster.forecasts(here, jobs, wanted)
        with self._shop.beside() as db:
            keep_forecasts(db, made, found.at)

    def _forecaster(self, db: sqlite3.Connection, found: Due) -> Forecaster | None:
        """What was learned, read again only where it is other; None where nothing can be read."""
        if not found.whole:
            return None
        marks = tuple((one.part, one.version, one.digest) for one in found.known.values())
        if self._ready is None or self._ready[0] != marks:
            known = parts(db, self._learner.versions, whole=True)
            try:
                self._ready = marks, self._learner.ready(known)
            except ValueError:  # torn or changed by hand: the ledger teaches it again
                return None
        return self._ready[1]

    def _forget_spoilt(self, found: Due) -> None:
        """What is there and cannot be read is as never learned."""
        if found.whole:
            with self._shop.beside() as db:
                forget_all(db)


def teach(shop: Shop, learner: Learner) -> None:
    """Learn everything that the file holds by now, and forecast nothing.

    For a past that is made in one go, inside `Shop.bulk` too: what is agreed after that is
    estimated by it. How often is the maker's choice.

    Raises:
        Trouble: the file cannot be read or written.
    """
    with shop.reading() as db:
        known, taught = parts(db, learner.versions), cases(db)
    learned = learner.learn(taught, known)
    with shop.beside() as db:
        keep_parts(db, learned, taught.at)


def _step_back() -> None:
    """Whoever works at this machine comes first; a system that knows no such thing does without."""
    with suppress(OSError, AttributeError):
        os.setpriority(os.PRIO_PROCESS, threading.get_native_id(), BEHIND)


def _is_done(learning: Future[Sequence[Part]]) -> bool:
    return bool(wait([learning], timeout=WATCH_S).done)
