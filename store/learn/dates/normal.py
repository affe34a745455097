"""The normal law on arrays, and what is left of a log-normal span that has lasted a while."""

from __future__ import annotations

import math

import numpy as np

from store.learn.arrays import Floats

CENTRE_A = (3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3,
            1.3731693765509461125e4, 4.5921953931549871457e4, 6.7265770927008700853e4,
            3.3430575583588128105e4, 2.5090809287301226727e3)  # fmt: skip
CENTRE_B = (1.0, 4.2313330701600911252e1, 6.8718700749205790830e2, 5.3941960214247511077e3,
            2.1213794301586595867e4, 3.9307895800092710610e4, 2.8729085735721942674e4,
            5.2264952788528545610e3)  # fmt: skip
MIDDLE_C = (1.42343711074968357734e0, 4.63033784615654529590e0, 5.76949722146069140550e0,
            3.64784832476320460504e0, 1.27045825245236838258e0, 2.41780725177450611770e-1,
            2.27238449892691845833e-2, 7.74545014278341407640e-4)  # fmt: skip
MIDDLE_D = (1.0, 2.05319162663775882187e0, 1.67638483018380384940e0, 6.89767334985100004550e-1,
            1.48103976427480074590e-1, 1.51986665636164571966e-2, 5.47593808499534494600e-4,
            1.05075007164441684324e-9)  # fmt: skip
TAIL_E = (6.65790464350110377720e0, 5.46378491116411436990e0, 1.78482653991729133580e0,
          2.96560571828504891230e-1, 2.65321895265761230930e-2, 1.24266094738807843860e-3,
          2.71155556874348757815e-5, 2.01033439929228813265e-7)  # fmt: skip
TAIL_F = (1.0, 5.99832206555887937690e-1, 1.36929880922735805310e-1, 1.48753612908506148525e-2,
          7.86869131145613259100e-4, 1.84631831751005468180e-5, 1.42151175831644588870e-7,
          2.04426310338993978564e-15)  # fmt: skip

FARTHEST = 30.0
"""Standard deviations: beyond, what is left of a span is no longer told from its logs."""


def upper_tail(z: float) -> float:
    """The chance that a standard normal value exceeds z."""
    return math.erfc(z / math.sqrt(2)) / 2


def deviate(p: Floats) -> Floats:
    """The standard normal value below which the chance is p, to about 1 part in 10^15.

    Args:
        p: (...) above 0, below 1.

    Source:
        Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37 (1988).
    """
    q = p - 0.5
    r = 0.180625 - q * q
    found = q * _ratio(r, CENTRE_A, CENTRE_B)
    outer = r < 0
    if outer.any():
        far = np.sqrt(-np.log(np.minimum(p[outer], 1 - p[outer])))
        near = _ratio(far - 1.6, MIDDLE_C, MIDDLE_D)
        beyond = far > 5
        near[beyond] = _ratio(far[beyond] - 5, TAIL_E, TAIL_F)
        found[outer] = np.copysign(near, q[outer])
    return found


def rest_of(m: float, s: float, so_far: float, u: Floats) -> Floats:
    """What is still to come of a span that has lasted so far and is not over.

    ln T ~ N(m, s^2); of T - t given T > t, the value that a share u exceeds:
    ln T = m - s Phi^-1(u Phi(-(ln t - m) / s)).

    Args:
        m, s: of the log of the whole length; s above 0.
        so_far: t, 0 or more.
        u: (...) above 0, below 1.

    Returns:
        (...), above 0, in the unit of t. Where a span has lasted so long that the law knows nothing
        of it any more, an exponential of mean t / 2.

    Source:
        Johnson, Kotz, Balakrishnan, Continuous Univariate Distributions, vol. 1 (1994), chapter 14.
    """
    z = (math.log(so_far) - m) / s if so_far > 0 else -math.inf
    if z > FARTHEST:
        return -np.log(u) * so_far / 2
    whole = np.exp(m - s * deviate(u * upper_tail(z)))
    return np.maximum(whole - so_far, 0.0)


def _ratio(x: Floats, above: tuple[float, ...], below: tuple[float, ...]) -> Floats:
    return _polynomial(x, above) / _polynomial(x, below)


def _polynomial(x: Floats, factors: tuple[float, ...]) -> Floats:
    total = np.full_like(x, factors[-1])
    for factor in factors[-2::-1]:
        total *= x
        total += factor
    return total
