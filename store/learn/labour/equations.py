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
CHUNK = 400
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
        spread = quadratic(self.b[which], self.cov)
        return 1 / self.d[which] + spread / self.d[which] ** 2


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


def quadratic(z: sparse.csr_array, cov: Floats) -> Floats:
    """Return (n,) z_i cov z_i' for sparse rows, without forming z cov."""
    width = int(np.diff(z.indptr).max(initial=1))
    found = np.empty(z.shape[0])
    for start in range(0, z.shape[0], CHUNK):
        stop = min(start + CHUNK, z.shape[0])
        index, data = padded(z, start, stop, width)
        block = cov[index[:, :, None], index[:, None, :]]
        found[start:stop] = np.einsum("ri,rij,rj->r", data, block, data, optimize=True)
    return found


def padded(z: sparse.csr_array, start: int, stop: int, width: int) -> tuple[Ints, Floats]:
    """Return rows `start` to `stop` as (rows, width) columns and values, padded with zeros."""
    counts = np.diff(z.indptr[start : stop + 1])
    mask = np.arange(width) < counts[:, None]
    span = slice(z.indptr[start], z.indptr[stop])
    index = np.zeros((stop - start, width), np.int64)
    data = np.zeros((stop - start, width))
    index[mask] = z.indices[span]
    data[mask] = z.data[span]
    return index, data


def predicted(rows: Rows, solved: Solved, which: Ints) -> tuple[Floats, Floats]:
    """Return (k,) means and variances of the linear predictors of some rows, their jobs included.

    With z = x - w b/d, the variance is z cov z' + w^2 / d.
    """
    x = rows.x[which]
    w, job = rows.loading[which], rows.job[which]
    mean = x @ solved.beta + w * solved.u[job]
    if np.isinf(solved.d).all():
        return mean, quadratic(sparse.csr_array(x), solved.cov)
    z = sparse.csr_array(x - _scale_rows(solved.b[job], w / solved.d[job]))
    z.sum_duplicates()
    return mean, quadratic(z, solved.cov) + w**2 / solved.d[job]


def with_job(rows: Rows, solved: Solved, which: Ints) -> Floats:
    """Return (k,) covariances of x beta with the own effect of the row's job: -x cov b' / d."""
    found = np.empty(len(which))
    if np.isinf(solved.d).all():
        return np.zeros(len(which))
    x, job = rows.x[which], rows.job[which]
    b = solved.b[job]
    wide, wider = (int(np.diff(one.indptr).max(initial=1)) for one in (x, b))
    for start in range(0, len(which), CHUNK):
        stop = min(start + CHUNK, len(which))
        i, left = padded(x, start, stop, wide)
        k, right = padded(b, start, stop, wider)
        block = solved.cov[i[:, :, None], k[:, None, :]]
        found[start:stop] = -np.einsum("ri,rik,rk->r", left, block, right, optimize=True)
    return found / solved.d[job]
