"""The learner: takes in finished phases, fits, and stands ready to be asked."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from store.learn.arrays import Bools, Floats, Ints, added_up
from store.learn.labour import terms
from store.learn.labour.columns import (
    MEAN,
    Columns,
    lay_columns,
    precision_of,
    rows_of,
    walk_steps,
)
from store.learn.labour.equations import Look, Rows, Solved, look, solve
from store.learn.labour.gathered import AT_LEAST, HOURS, LUMPED, TOLD, Gathered
from store.learn.labour.lumps import is_doubtful, log_odds, neighbours
from store.learn.labour.sites import (
    CLEAN,
    FORGOTTEN,
    FREAK,
    MISPUNCH,
    SURPRISE,
    Kinds,
    damped,
    match,
    match_at_least,
    without,
)
from store.learn.labour.spreads import Spreads, pooled
from store.learn.labour.terms import PRIORS, Term
from store.learn.records import CLASSES, Record

NEW_SITE_MOVED = 0.15
"""A new record whose site moved more than this share is worth a second solving."""
LOADING_PRECISION = 1 / terms.LOADING_SD**2
COLD_ROUNDS = 24
WHOLE_ROUNDS, THIRD = 4, 3
"""After so many rounds the kinds of records hardly change: a third is judged anew each time."""
LUMPS_AFTER = 8
"""Rounds after which enough is known to doubt the split of two phases' hours."""


class Learner:
    """Everything that was learned so far.

    The same records give the same numbers whatever their order, as long as they are taken in in
    the order of closing; nothing is drawn by chance.

    Attributes:
        past: the finished phases.
        spreads: how much things differ.
        columns, rows, solved: the last fit.
        share: (n, 5) how likely each record is of each kind, in the order of `sites`.
    """

    def __init__(self, experience: Mapping[str, str] | None = None) -> None:
        self.past = Gathered(experience=experience or {})
        self.spreads = Spreads()
        self.fitted_rows = 0
        self._tau = np.zeros(0)
        self._nu = np.zeros(0)
        self.share: Floats = np.zeros((0, FREAK + 1))
        self._square = np.zeros((0, 3))
        self._feels = np.zeros((0, 2))
        self._job_variance = np.zeros(0)
        self._extra = np.zeros(0)
        self._turn = 0
        self.columns: Columns = lay_columns(self.past, 0.0)
        self.rows: Rows
        self.solved: Solved
        self._solve_at(0.0)

    def add(self, record: Record) -> None:
        """Take in a finished phase; it teaches from the next fit on. In the order of closing."""
        self.past.add(record)

    def refit(self, at: float, part: int = 12) -> None:
        """Fit anew, from where the last fit stood.

        Args:
            at: POSIX seconds; drift is reckoned back from here.
            part: the kinds of one record in so many are judged anew, beside the new ones.
        """
        before = self.fitted_rows
        self._make_room()
        self._solve_at(at)
        new = np.arange(before, self.past.rows)
        moved = self._judge(new, new >= before) if len(new) else 0.0
        if self._part_lumps(new):
            new = np.arange(before, self.past.rows)
            self._solve_at(at)
            moved = self._judge(new, new >= before)
        if moved > NEW_SITE_MOVED:
            self._solve_at(at, keep=True)
        self._turn = (self._turn + 1) % part
        turn = np.arange(self._turn, before, part)
        if len(turn):
            self._judge(turn, np.zeros(len(turn), bool))
        self._learn_spreads()
        self.fitted_rows = self.past.rows

    def fit(self, at: float, rounds: int = COLD_ROUNDS) -> None:
        """Fit from the beginning: a pure function of the records and the moment."""
        self._make_room()
        for turn in range(rounds):
            self._solve_at(at, keep=turn > 0 and self.fitted_rows == self.past.rows)
            every = np.arange(self.past.rows)
            some = every if turn < WHOLE_ROUNDS else every[turn % THIRD :: THIRD]
            if len(some):
                self._judge(some, np.full(len(some), turn == 0))
            self._learn_spreads()
            if turn == LUMPS_AFTER and self._part_lumps(every):
                self._solve_at(at)
            self.fitted_rows = self.past.rows
        self._solve_at(at, keep=True)

    def _make_room(self) -> None:
        more = self.past.rows - len(self._tau)
        self.spreads.stretch(self.past.key_term.size)
        if more <= 0:
            return
        self._tau = np.concatenate([self._tau, np.zeros(more)])
        self._nu = np.concatenate([self._nu, np.zeros(more)])
        self.share = np.concatenate([self.share, np.zeros((more, FREAK + 1))])
        self._square = np.concatenate([self._square, np.zeros((more, 3))])
        self._feels = np.concatenate([self._feels, np.zeros((more, 2))])
        jobs = len(self.past.jobs) - len(self._job_variance)
        self._job_variance = np.concatenate([self._job_variance, np.full(jobs, self.spreads.job)])

    def _solve_at(self, at: float, *, keep: bool = False) -> None:
        if not keep:
            self.columns = lay_columns(self.past, at)
            self.spreads.stretch(self.past.key_term.size)
        self.rows, self._extra = rows_of(self.past, self.columns, self.spreads)
        self._first_sites()
        active = np.asarray(self.past.active.view, np.float64)
        tau = self._tau * active
        pull = self._nu * active - tau * self.past.offset.view
        prior, prior_pull = precision_of(self.columns, self.spreads)
        self.solved = solve(self.rows, tau, pull, prior, prior_pull, 1 / self.spreads.job)

    def _first_sites(self) -> None:
        """A record that was never judged counts as clean, or not at all where it was cut off."""
        fresh = np.where(self._tau == 0)[0]
        if not len(fresh):
            return
        noise = self._noise(fresh)[0]
        censored = self.past.kind.view[fresh] == AT_LEAST
        self._tau[fresh] = np.where(censored, 1e-6, 1 / noise)
        self._nu[fresh] = self._tau[fresh] * self.past.y.view[fresh]

    def _noise(self, which: Ints) -> tuple[Floats, Floats]:
        """Return (k,) variance of a clean record and odds of a surprise."""
        first = self.past.chain_first.view
        chain = self.past.chain.view
        weight = self.past.chain_weight.view
        row = np.repeat(np.arange(self.past.rows), np.diff(first))
        both = self.past.kind.view[row] == LUMPED
        noise = added_up(
            row, np.where(both, weight**2, weight) * self.spreads.noise[chain], self.past.rows
        )
        odds = added_up(row, weight * self.spreads.surprise[chain], self.past.rows)
        return noise[which] + self._extra[which], odds[which]

    def _kinds(self, which: Ints) -> Kinds:
        noise, odds = self._noise(which)
        s = self.spreads
        told = self.past.kind.view[which] == TOLD
        surprise = np.where(told, 0.0, odds)
        return s.kinds(noise, surprise)

    def _judge(self, which: Ints, fresh: Bools) -> float:
        """Match the sites of some records; return by how much the most moved one moved."""
        found_now = look(self.rows, self.solved, which)
        out_m, out_v = self._without(which, found_now)
        tau, nu = self._tau[which], self._nu[which]
        y = self.past.y.view[which]
        kinds = self._kinds(which)
        found = match(y, out_m, out_v, kinds)
        new_tau, new_nu = found.tau, found.nu
        cut = self.past.kind.view[which] == AT_LEAST
        share = found.share
        if cut.any():
            least = match_at_least(y, out_m, out_v, kinds.variance[:, CLEAN])
            new_tau, new_nu = np.where(cut, least.tau, new_tau), np.where(cut, least.nu, new_nu)
            share = np.where(cut[:, None], 0.0, share)
        self.share[which] = share
        self._square[which] = np.stack(
            [found.square * ~cut, found.surprise, found.surprise_square], axis=1
        )
        self._tau[which] = damped(tau, new_tau, fresh)
        self._nu[which] = damped(nu, new_nu, fresh)
        self._feel(which, found_now)
        return float(np.max(np.abs(self._tau[which] - tau) / tau, initial=0.0))

    def _part_lumps(self, new: Ints) -> bool:
        """Let neighbours that were clocked as one teach through their sum; tell whether any were.

        Args:
            new: rows that have not been looked at; their neighbours may be older.
        """
        past = self.past
        fresh = set[int](new.tolist())
        jobs = {past.records[row][0].job for row in fresh}
        rows = [
            (row, one.job, one.seq, one.technician)
            for job in sorted(jobs)
            for row in past.of_job[job]
            if past.active.data[row] and past.kind.data[row] in {HOURS, TOLD}
            for one in past.records[row]
        ]
        pairs = [one for one in neighbours(rows) if one.one in fresh or one.other in fresh]
        if not pairs:
            return False
        which = np.array([(one.one, one.other) for one in pairs])
        mean, variance = (each.reshape(-1, 2) for each in self.left_out(which.ravel()))
        y = past.y.view[which]
        found = False
        taken: set[int] = set()
        for i, pair in enumerate(pairs):
            if taken & {pair.one, pair.other} or not is_doubtful(y[i], mean[i]):
                continue
            rows_of_two = which[i]
            book = np.exp(past.log_book.view[rows_of_two])
            share = book / book.sum()
            whole = float(np.log((share * np.exp(y[i])).sum()))
            kinds = self._kinds(rows_of_two)
            if log_odds(y[i], mean[i], variance[i], kinds, share, whole) > 0:
                past.merge(past.records[pair.one][0], past.records[pair.other][0])
                taken |= {pair.one, pair.other}
                found = True
        if found:
            self._make_room()
        return found

    def left_out(self, which: Ints) -> tuple[Floats, Floats]:
        """Return what all others say of some rows: means and variances, offsets included."""
        return self._without(which, look(self.rows, self.solved, which))

    def _without(self, which: Ints, said: Look) -> tuple[Floats, Floats]:
        mean = said.mean + self.past.offset.view[which]
        tau = np.where(self.past.active.view[which] > 0, self._tau[which], 0.0)
        return without(mean, said.variance, tau, self._nu[which])

    def _learn_spreads(self) -> None:
        if self.past.rows == 0:
            return
        self._learn_terms()
        self._learn_jobs()
        self._learn_loadings()
        self._learn_noise()
        self._learn_odds()

    def _learn_terms(self) -> None:
        beta, cov, s = self.solved.beta, self.solved.cov, self.spreads
        square = (beta - MEAN[self.columns.term]) ** 2 + np.diag(cov)
        count = np.bincount(self.columns.term, minlength=len(Term))
        total = added_up(self.columns.term, square, len(Term))
        for term in Term:
            worth = PRIORS[term].worth
            if worth is not None and term < Term.PER:
                s.term[term] = pooled(PRIORS[term].sd ** 2, worth, total[term], count[term])
        for term, (at, by) in walk_steps(self.columns, s).items():
            worth = PRIORS[term].worth or 1.0
            s.term[term] = pooled(
                PRIORS[term].sd ** 2, worth, float((self._steps(at, term) / by).sum()), len(at)
            )

    def _steps(self, at: Ints, term: Term) -> Floats:
        """Expected squares of a walk's steps, each from a knot to the next older one."""
        beta, cov = self.solved.beta, self.solved.cov
        square = beta[at] ** 2 + cov[at, at]
        older = at + 1
        same = np.isin(older, at) & ~self._begins(older, term)
        i, k = at[same], older[same]
        square[same] = (beta[i] - beta[k]) ** 2 + cov[i, i] + cov[k, k] - 2 * cov[i, k]
        return square

    def _begins(self, columns: Ints, term: Term) -> Bools:
        first = self.columns.walk if term is Term.TPW else np.array([self.columns.per_first])
        return np.isin(columns, first)

    def _learn_jobs(self) -> None:
        d = self.solved
        active = np.bincount(self.rows.job, self.past.active.view, self.rows.jobs) > 0
        square = (d.u**2 + self._job_variance)[active]
        self.spreads.job = pooled(
            terms.JOB_SD**2, terms.JOB_WORTH, float(square.sum()), len(square)
        )

    def _feel(self, which: Ints, said: Look) -> None:
        """Keep what rows say of their class's loading: tau E[(site - x beta) u] and tau E[u^2]."""
        d, job = self.solved, self.rows.job[which]
        tau = self._tau[which] * self.past.active.view[which]
        rest = self._nu[which] / self._tau[which] - self.past.offset.view[which]
        rest -= self.rows.x[which] @ d.beta
        self._job_variance[job] = said.job_variance
        self._feels[which, 0] = tau * (rest * d.u[job] - said.across)
        self._feels[which, 1] = tau * (d.u[job] ** 2 + said.job_variance)

    def _learn_loadings(self) -> None:
        known = len(CLASSES)
        first = np.array([terms.LOADING[one] for one in CLASSES])
        total = np.stack(
            [added_up(self.past.phase_class.view, one, known + 1)[:known] for one in self._feels.T]
        )
        self.spreads.loading[:known] = (LOADING_PRECISION * first + total[0]) / (
            LOADING_PRECISION + total[1]
        )

    def _learn_noise(self) -> None:
        s, past = self.spreads, self.past
        usable = (past.kind.view == HOURS) | (past.kind.view == TOLD)
        usable = usable & (past.active.view > 0)
        row = np.repeat(np.arange(past.rows), np.diff(past.chain_first.view))
        chain = past.chain.view
        weight = past.chain_weight.view * usable[row]
        keys = past.key_term.size
        square = added_up(chain, weight * self._square[row, 0], keys)
        clean = added_up(chain, weight * self.share[row, CLEAN], keys)
        s.noise_common = pooled(
            terms.NOISE_SD**2, terms.NOISE_COMMON_WORTH, float(square.sum()), float(clean.sum())
        )
        s.noise = (terms.NOISE_WORTH * s.noise_common + square) / (terms.NOISE_WORTH + clean)
        s.noise_worth = terms.NOISE_WORTH + clean
        told = past.found.view >= 0
        surprised = np.where(told, past.found.view > 0, self.share[:, SURPRISE])
        seen = added_up(chain, weight * surprised[row], keys)
        judged = added_up(chain, weight, keys)
        s.surprise_common = pooled(
            terms.SURPRISE_ODDS, terms.SURPRISE_WORTH, float(seen.sum()), float(judged.sum())
        )
        s.surprise = (terms.SURPRISE_WORTH * s.surprise_common + seen) / (
            terms.SURPRISE_WORTH + judged
        )

    def _learn_odds(self) -> None:
        s, past = self.spreads, self.past
        active = past.active.view > 0
        share = self.share * active[:, None]
        n = float(active.sum())
        s.forgotten = pooled(
            terms.FORGOTTEN_ODDS, terms.FAULT_WORTH, float(share[:, FORGOTTEN].sum()), n
        )
        s.mispunch = pooled(
            terms.MISPUNCH_ODDS, terms.FAULT_WORTH, float(share[:, MISPUNCH].sum()), n
        )
        told = (past.found.view > 0) & active
        count = float(share[:, SURPRISE].sum() + told.sum())
        total = float((self._square[:, 1] * active).sum() + past.found.view[told].sum())
        square = float((self._square[:, 2] * active).sum() + (past.found.view[told] ** 2).sum())
        worth = terms.SURPRISE_SIZE_WORTH
        s.size = pooled(terms.SURPRISE_MEAN, worth, total, count)
        about = square - 2 * s.size * total + count * s.size**2
        s.size_sd = float(np.sqrt(pooled(terms.SURPRISE_SD**2, worth, max(about, 0.0), count)))
