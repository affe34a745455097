"""The mixed-model equations, solved exactly: levels that cross, and jobs nested in nothing.

y_i ~ x_i beta + w_i u_job(i) + noise of precision tau_i. The jobs' own effects are taken out first
(each touches few rows), what is left is one dense symmetric system over the levels.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse
from scipy.linalg import lapack

from store.learn.arrays import Floats, Ints, added_up

RIDGE = 1e-10
CHUNK = 200
"""Jobs whose blocks are gathered at a time: bounds the memory."""


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows of the equations.

    Attributes:
        x: (n, p) sparse, the levels' weights.
        job: (n,) which job.
        loading: (n,) weight of the job's own effect.
        jobs: how many jobs there are.
    """

    x: sparse.csr_array
    job: Ints
    loading: Floats
    jobs: int


@dataclass(frozen=True, slots=True)
class Solved:
    """Means and covariances of all effects.

    Attributes:
        beta: (p,) the levels' means.
        cov: (p, p) their covariance.
        u: (jobs,) means of the jobs' own effects.
        d: (jobs,) their precisions before the levels' uncertainty counts.
        b: (jobs, p) sparse; cov(u, beta) = -b cov / d.
    """

    beta: Floats
    cov: Floats
    u: Floats
    d: Floats
    b: sparse.csr_array

    def job_variances(self, which: Ints | slice = slice(None)) -> Floats:
        """Return (k,) variances of jobs' own effects: 1/d + b cov b' / d^2."""
        b, d = self.b[which], self.d[which]
        own = np.arange(len(d))
        spread = _Blocks.of(b, b, own).products(b, b, own, self.cov)[2]
        return 1 / d + spread / d**2


class NotPositive(ArithmeticError):
    """The system has no single solution: a fixed effect without data and without a prior."""


def solve(rows: Rows, tau: Floats, pull: Floats, prior: Floats, prior_pull: Floats,
          job_precision: float) -> Solved:  # fmt: skip
    """Solve (X' T X + Q) beta = X' pull + prior_pull with the jobs' effects taken out.

    Args:
        tau: (n,) precision of each row, 0 for one that does not count.
        pull: (n,) precision times what the row says.
        prior: (p, p) Q, precision of the levels beforehand.
        prior_pull: (p,) Q times their means beforehand.
        job_precision: 1 over the variance of the jobs' own effects; `inf` for none.

    Raises:
        NotPositive: no single solution.

    Source:
        Henderson (1975), Best linear unbiased estimation and prediction under a selection model;
        the jobs are absorbed as a block diagonal part, as Bates et al. (2015) do for lme4.
    """
    root = np.sqrt(tau)
    scaled = _scale_rows(rows.x, root)
    system = np.asarray((scaled.T @ scaled).todense()) + prior
    right = rows.x.T @ pull + prior_pull
    if np.isinf(job_precision):
        d, b = np.full(rows.jobs, np.inf), sparse.csr_array((rows.jobs, rows.x.shape[1]))
        beta, cov = _invert(system, right)
        return Solved(beta, cov, np.zeros(rows.jobs), d, b)
    of_job = sparse.csr_array(
        (rows.loading * tau, (rows.job, np.arange(len(tau)))), shape=(rows.jobs, len(tau))
    )
    d = job_precision + added_up(rows.job, rows.loading**2 * tau, rows.jobs)
    b = sparse.csr_array(of_job @ rows.x)
    b.sum_duplicates()
    half = _scale_rows(b, 1 / np.sqrt(d))
    system -= np.asarray((half.T @ half).todense())
    job_pull = added_up(rows.job, rows.loading * pull, rows.jobs)
    right = right - b.T @ (job_pull / d)
    beta, cov = _invert(system, right)
    return Solved(beta, cov, (job_pull - b @ beta) / d, d, b)


def _invert(system: Floats, right: Floats) -> tuple[Floats, Floats]:
    if not len(right):
        return right, system
    system[np.diag_indices_from(system)] += RIDGE
    factor, bad = lapack.dpotrf(system, lower=1, overwrite_a=1, clean=1)
    if bad:
        raise NotPositive(f"pivot {bad}")
    low, _ = lapack.dpotri(factor, lower=1, overwrite_c=1)
    cov: Floats = low + low.T
    cov[np.diag_indices_from(cov)] /= 2
    return cov @ right, cov


def _scale_rows(x: sparse.csr_array, by: Floats) -> sparse.csr_array:
    data = x.data * np.repeat(by, np.diff(x.indptr))
    return sparse.csr_array((data, x.indices, x.indptr), shape=x.shape)


@dataclass(frozen=True, slots=True)
class Look:
    """What a fit says of some rows, (k,) each.

    Attributes:
        mean, variance: of the linear predictor, the job's own effect included.
        across: covariance of x beta with that effect.
        job_variance: of that effect.
    """

    mean: Floats
    variance: Floats
    across: Floats
    job_variance: Floats


def look(rows: Rows, solved: Solved, which: Ints) -> Look:
    """Ask a fit about some rows.

    With C the levels' covariance, b and d of the row's job and w its loading: Var(x beta) = x C x',
    Cov(x beta, u) = -x C b' / d, Var(u) = 1 / d + b C b' / d^2. All rows of a job share one small
    block of C.
    """
    jobs, pos = np.unique(rows.job[which], return_inverse=True)
    x, b, d = rows.x[which], solved.b[jobs], solved.d[jobs]
    blocks = _Blocks.of(x, b, pos)
    xx, xb, bb = blocks.products(x, b, pos, solved.cov)
    w, d = rows.loading[which], d[pos]
    across = -xb / d
    job_variance = 1 / d + bb[pos] / d**2
    mean = x @ solved.beta + w * solved.u[jobs][pos]
    return Look(mean, xx + 2 * w * across + w**2 * job_variance, across, job_variance)


def predicted(rows: Rows, solved: Solved, which: Ints) -> tuple[Floats, Floats]:
    """Return (k,) means and variances of rows' linear predictors, their jobs included."""
    found = look(rows, solved, which)
    return found.mean, found.variance


@dataclass(frozen=True, slots=True)
class _Blocks:
    """The levels that each of some jobs touches: a sparse pattern (jobs, p), columns in order."""

    pattern: sparse.csr_array
    keys: Ints
    """Job and column of each entry as one rising number."""
    rank: Ints
    """(k,) place of each row among those of its job."""

    @staticmethod
    def of(x: sparse.csr_array, b: sparse.csr_array, pos: Ints) -> _Blocks:
        ones = np.ones(len(pos))
        own = sparse.csr_array((ones, (pos, np.arange(len(pos)))), shape=(b.shape[0], len(pos)))
        pattern = sparse.csr_array(own @ abs(x) + abs(b))
        pattern.sum_duplicates()
        count = np.diff(pattern.indptr)
        keys = np.repeat(np.arange(len(count)), count) * x.shape[1] + pattern.indices
        order = np.argsort(pos, kind="stable")
        begins = np.cumsum(np.bincount(pos)) - np.bincount(pos)
        rank = np.empty(len(pos), np.int64)
        rank[order] = np.arange(len(pos)) - begins[pos[order]]
        return _Blocks(pattern, keys, rank)

    def products(
        self, x: sparse.csr_array, b: sparse.csr_array, pos: Ints, cov: Floats
    ) -> tuple[Floats, Floats, Floats]:
        """Return (k,) x C x' and x C b', (jobs,) b C b'."""
        jobs, width = self.pattern.shape[0], int(np.diff(self.pattern.indptr).max(initial=1))
        left = np.zeros((jobs, int(self.rank.max(initial=0)) + 1, width))
        row, at = self._place(x, pos)
        left[pos[row], self.rank[row], at] = x.data
        right = np.zeros((jobs, width))
        row, at = self._place(b, np.arange(jobs))
        right[row, at] = b.data
        xx, xb, bb = np.empty(left.shape[:2]), np.empty(left.shape[:2]), np.empty(jobs)
        for start in range(0, jobs, CHUNK):
            part = slice(start, min(start + CHUNK, jobs))
            index = self._columns(part.start, part.stop, width)
            block = cov[index[:, :, None], index[:, None, :]]
            across = left[part] @ block
            xx[part] = (across * left[part]).sum(axis=2)
            xb[part] = (across * right[part, None]).sum(axis=2)
            bb[part] = ((right[part, None] @ block)[:, 0] * right[part]).sum(axis=1)
        return xx[pos, self.rank], xb[pos, self.rank], bb

    def _place(self, of: sparse.csr_array, pos: Ints) -> tuple[Ints, Ints]:
        """Rows of a matrix's entries, and their places in their job's block."""
        row = np.repeat(np.arange(of.shape[0]), np.diff(of.indptr))
        key = pos[row] * of.shape[1] + of.indices
        return row, np.searchsorted(self.keys, key) - self.pattern.indptr[pos[row]]

    def _columns(self, start: int, stop: int, width: int) -> Ints:
        """(jobs, width) columns of the blocks, padded with the first one."""
        first = self.pattern.indptr[start : stop + 1]
        inside = np.arange(width) < np.diff(first)[:, None]
        index = np.zeros((stop - start, width), np.int64)
        index[inside] = self.pattern.indices[first[0] : first[-1]]
        return index
