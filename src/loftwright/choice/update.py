"""What readings on the finished roof say of its inputs: linear-Gaussian update, and draws moved along with it.

Unknown inputs x [n], each in its own unit, are believed normal with a mean and a covariance P. Readings are
y = h(x) + noise, noise independent with given standard deviations. The covariance is carried as a square root of its
inverse, W with W'W = inv(P) [n, n], so that an input of which nothing is known (standard deviation inf) is exact too.

Sources: Jazwinski, Stochastic Processes and Filtering Theory (1970), 7.3 and 8.3 (gain; iterated filter); Bierman,
Factorization Methods for Discrete Sequential Estimation (1977), ch. V (square-root information); Journel and
Huijbregts, Mining Geostatistics (1978), VII.A.1, conditioning by kriging, after Matheron (draws). Locators from
memory.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.errors import Bug
from loftwright.core.motion import Array

ROUNDS = 4
"""How often inputs that would leave their bounds are stopped there and the rest is settled anew."""


@dataclass(frozen=True, slots=True)
class Beliefs:
    """Mean [n] of the inputs and `root` W [n, n], W'W the inverse of their covariance."""

    mean: Array
    root: Array

    @property
    def covariance(self) -> Array:
        """Covariance P [n, n]. Raises Bug while nothing at all is known of some input."""
        try:
            inverse = np.linalg.inv(self.root)
        except np.linalg.LinAlgError:
            raise Bug("an input of which nothing is known has no covariance") from None
        return np.asarray(inverse @ inverse.T)

    @property
    def sd(self) -> Array:
        """Standard deviation of every input [n]."""
        return np.sqrt(np.diag(self.covariance))


def independent(mean: ArrayLike, sd: ArrayLike) -> Beliefs:
    """Return beliefs in inputs that know nothing of each other.

    `mean` and `sd` (> 0; inf: nothing is known) in the inputs' own units, e.g. [N], each [n].
    """
    spread = np.asarray(sd, dtype=np.float64)
    if not np.all(spread > 0):
        raise Bug("an input without doubt cannot be learnt")
    return Beliefs(np.asarray(mean, dtype=np.float64), np.diag(1.0 / spread))


def learn(
    before: Beliefs, off: ArrayLike, jacobian: ArrayLike, noise_sd: ArrayLike, *, at: ArrayLike | None = None
) -> Beliefs:
    """Return the beliefs after readings.

    x+ minimises |W (x - m)|^2 + |R^-1/2 (y - h(a) - H (x - a))|^2 (1), m the mean before, a the point of expansion;
    with a = m that is m + K (y - h(m)), K = P H' (H P H' + R)^-1 (2), covariance (I - K H) P (3). Solved by QR of
    the stacked rows, which is (2) and (3) without a difference of large numbers.

    `off` y - h(a) [N], [m]; `jacobian` H = dh/dx at a [N per unit of the input], [m, n]; `noise_sd` sqrt(diag R) [N],
    [m], above zero; `at` a, [n], left out: the mean before. For a non-linear h call again with the SAME `before`,
    `at` the mean found, `off` and `jacobian` taken there: that is a Gauss-Newton step. Exact where h is linear and
    all is normal. Sources: those of the module.

    >>> after = learn(independent([10.0], [2.0]), [3.0], [[1.0]], [1.0])
    >>> round(float(after.mean[0]), 6), round(float(after.sd[0]), 6)
    (12.4, 0.894427)
    """
    weight = 1.0 / np.asarray(noise_sd, dtype=np.float64)
    slope = np.atleast_2d(np.asarray(jacobian, dtype=np.float64))
    point = before.mean if at is None else np.asarray(at, dtype=np.float64)
    # Unknown is the step from the point of expansion.
    rows = np.vstack([before.root, weight[:, None] * slope])
    wanted = np.concatenate([before.root @ (before.mean - point), weight * np.asarray(off, dtype=np.float64)])
    # Inputs of very unlike size are brought to one size for the sums.
    size = np.maximum(np.sqrt((rows**2).sum(axis=0)), np.finfo(np.float64).tiny)
    q, r = np.linalg.qr(rows / size)
    if np.abs(np.diag(r)).min() < 1e-14:
        raise Bug("readings and beliefs together leave an input open")
    step = np.linalg.solve(r, q.T @ wanted) / size
    return Beliefs(point + step, r * size)


def spread_of(sd: ArrayLike, jacobian: ArrayLike, noise_sd: ArrayLike) -> Array:
    """Return S = H P H' + R (1) [m, m], the covariance of readings not yet taken.

    `sd` of independent inputs, each in its own unit, [n]; `jacobian` [N per unit], [m, n]; `noise_sd` [N], [m].
    Source: Jazwinski (1970), 7.3.
    """
    slope = np.asarray(jacobian, dtype=np.float64) * np.asarray(sd, dtype=np.float64)
    return np.asarray(slope @ slope.T + np.diag(np.asarray(noise_sd, dtype=np.float64) ** 2))


def gain_of(sd: ArrayLike, jacobian: ArrayLike, noise_sd: ArrayLike) -> Array:
    """Return K = P H' S^-1 (1), [n, m]: how far each input [its unit] moves for 1 [N] of a reading.

    Arguments and source as `spread_of`: `sd` [n], `jacobian` [m, n], `noise_sd` [m].
    """
    variance = np.asarray(sd, dtype=np.float64) ** 2
    slope = np.asarray(jacobian, dtype=np.float64)
    return np.asarray(np.linalg.solve(spread_of(sd, slope, noise_sd), slope * variance).T)


def draws_after(
    draws: ArrayLike,
    off: ArrayLike,
    sd: ArrayLike,
    jacobian: ArrayLike,
    noise_sd: ArrayLike,
    *,
    at: ArrayLike | None = None,
    low: ArrayLike | None = None,
    high: ArrayLike | None = None,
) -> Array:
    """Return draws of the inputs as they are after the readings, [d, n].

    x+ = x + K (y - e - h(a) + H (a - x)) (1), for each draw x of the independent inputs with its own draw e of the
    noise; a = x is Matheron's rule, x + K (y - h(x) - e). An input that would leave its bounds stays on the bound,
    and the others are settled anew with it there.

    `draws` x, [d, n], and `sd` [n], each input in its own unit; `off` y - e - h(a) [N], [d, m]; `jacobian`
    [N per unit], [m, n]; `noise_sd` [N], [m]; `at` a, [d, n], left out: the draws themselves, else what an earlier
    call returned (with `off` taken there: one more Gauss-Newton step for each draw); `low` and `high` bounds, [n].
    Exact where h is linear, inputs and noise are normal and no bound is met; else near, since every draw carries its
    own prediction: the better the readings, the less the shape of the prior matters. Sources: those of the module;
    Oliver, He and Reynolds, Conditioning permeability fields to pressure data (1996), randomized maximum likelihood.
    """
    x = np.asarray(draws, dtype=np.float64)
    slope = np.asarray(jacobian, dtype=np.float64)
    deviation = np.asarray(sd, dtype=np.float64)
    noise = np.asarray(noise_sd, dtype=np.float64)
    point = x if at is None else np.asarray(at, dtype=np.float64)
    floor = np.full(x.shape[1], -np.inf) if low is None else np.asarray(low, dtype=np.float64)
    ceiling = np.full(x.shape[1], np.inf) if high is None else np.asarray(high, dtype=np.float64)
    # What H x should come to, were h straight.
    wanted = np.asarray(off, dtype=np.float64) + point @ slope.T
    found = x + (wanted - x @ slope.T) @ gain_of(deviation, slope, noise).T
    stopped = (found < floor) | (found > ceiling)
    found = np.clip(found, floor, ceiling)
    at_work = np.flatnonzero(stopped.any(axis=1))
    for _ in range(ROUNDS):
        if not at_work.size:
            break
        here = stopped[at_work]
        start = np.where(here, found[at_work], x[at_work])
        variance = np.where(here, 0.0, deviation**2)
        # One small system for every draw: [k, m, n] times [n, m].
        share = variance[:, None, :] * slope
        spread = share @ slope.T + np.diag(noise**2)
        left = wanted[at_work] - start @ slope.T
        moved = start + np.einsum("kmn,km->kn", share, np.linalg.solve(spread, left[..., None])[..., 0])
        over = ((moved < floor) | (moved > ceiling)) & ~here
        found[at_work] = np.clip(moved, floor, ceiling)
        stopped[at_work] |= over
        at_work = at_work[over.any(axis=1)]
    return np.asarray(found)
