"""Whether readings contradict what is known of the roof, and which cause is likeliest.

nu = y - mean of h(x) is how far m readings lie off, S = cov h(x) + R what is expected of nu when all is well. A cause c
of size a adds a h_c to the readings. Among sizes that can be, the best one gains

    g_c = 2 a h_c' S^-1 nu - a^2 h_c' S^-1 h_c, a = h_c' S^-1 nu / (h_c' S^-1 h_c) kept within its bounds,     (1)

twice the logarithm of the likelihood ratio; without bounds sqrt(g_c) is the size of

    z_c = h_c' S^-1 nu / sqrt(h_c' S^-1 h_c).                                                                   (2)

The greatest sqrt(g_c), less what a rare cause is held back by, is compared with a threshold that is found from the
draws themselves, so that false alarms are as rare as asked for whatever the shape of the inputs' ranges.

Sources: Willsky and Jones, A generalized likelihood ratio approach to the detection and estimation of jumps in linear
systems, IEEE Trans. AC-21 (1976), 108-112; Lehmann and Romano, Testing Statistical Hypotheses, 3rd ed. (2005), 3.2
(Neyman and Pearson). Locators from memory. (1) and (2) derived here from the normal density.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.errors import Bug
from loftwright.core.motion import Array

ALARMS = 0.04
"""Share of sound roofs that may be called strange [1]: under one in twenty, with room for chance. Judgement."""
CLOSE = 10.0
"""A cause that explains the readings a tenth as well as the likeliest, or better, is named too [1]: judgement."""
BEYOND = 0.01
"""Share of sound roofs [1] that leave more unexplained by the likeliest cause than readings may."""
FEWEST = 20
"""Fewest draws that readings are held against."""
NOISES = 8
"""Draws of the readings' noise for each draw of the roof when the threshold is sought."""


@dataclass(frozen=True, slots=True)
class Cause:
    """What can be wrong.

    `signature` h_c [N per unit of its size], [m]: what it adds to each reading. Its size lies between `least` and
    `most` [unit of the size]: 0 and inf where the sign is known, 1 and 1 where it is there or not. `held_back` [1] is
    taken from its score: causes that come in many, such as one wrong reading, must say more.
    """

    name: str
    signature: Array
    least: float = 0.0
    most: float = np.inf
    held_back: float = 0.0


@dataclass(frozen=True, slots=True)
class Suspect:
    """A cause with its size and one standard deviation of it [unit of the size], and its score [1]."""

    name: str
    size: float
    sd: float
    score: float


@dataclass(frozen=True, slots=True)
class Finding:
    """What readings say: all suspects, likeliest first, and the score above which they are taken for real.

    `off` [N] is each reading less what was expected, `sd` [N] its standard deviation when all is well, each [m].
    `left` [1] is what the likeliest cause leaves unexplained, nu' S^-1 nu - g, and `most_left` what it rarely leaves.
    """

    suspects: tuple[Suspect, ...]
    threshold: float
    off: Array
    sd: Array
    left: float
    most_left: float

    @property
    def strange(self) -> bool:
        """Whether the readings contradict what is known."""
        return bool(self.suspects) and self.suspects[0].score > self.threshold

    @property
    def likely(self) -> tuple[Suspect, ...]:
        """The likeliest cause and those close to it; nothing where the readings are as expected."""
        if not self.strange:
            return ()
        return near_best(self.suspects)

    @property
    def explained(self) -> bool:
        """Whether one cause alone explains the readings."""
        return self.left <= self.most_left


def near_best(suspects: Sequence[Suspect]) -> tuple[Suspect, ...]:
    """Return the first of `suspects`, likeliest first, and those whose likelihood is a `CLOSE`-th of its, or more."""
    if not suspects:
        return ()
    least = suspects[0].score ** 2 - 2 * math.log(CLOSE)
    return (suspects[0], *(one for one in suspects[1:] if one.score > 0 and one.score**2 > least))


def scores(off: ArrayLike, spread: ArrayLike, causes: Sequence[Cause]) -> tuple[Array, Array]:
    """Return score [1] and size of every cause, each [..., c], by eq. (1).

    `off` nu [N], [..., m]; `spread` S [N2, as N squared], [m, m].

    >>> drag = Cause("drag", np.array([1.0, 1.0]))
    >>> score, size = scores([6.0, 6.0], np.diag([4.0, 4.0]), [drag])
    >>> round(float(score[0]), 4), round(float(size[0]), 4)
    (4.2426, 6.0)
    """
    nu = np.asarray(off, dtype=np.float64)
    signature = np.stack([np.asarray(c.signature, dtype=np.float64) for c in causes])
    weighed = np.linalg.solve(np.asarray(spread, dtype=np.float64), signature.T).T
    pull = nu @ weighed.T
    force = np.maximum((weighed * signature).sum(axis=1), np.finfo(np.float64).tiny)
    least, most, held = (np.array([getattr(c, k) for c in causes]) for k in ("least", "most", "held_back"))
    size = np.clip(pull / force, least, most)
    gained = np.maximum(2 * size * pull - size**2 * force, 0.0)
    return np.sqrt(gained) - held, size


@dataclass(frozen=True, slots=True)
class Watch:
    """What readings are held against.

    `centre` [N], [m], and `spread` S [N2, as N squared], [m, m]: mean and covariance of readings when all is well;
    `threshold` and `most_left` [1] as in `Finding`, found by draws.
    """

    centre: Array
    spread: Array
    causes: tuple[Cause, ...]
    threshold: float
    most_left: float

    def read(self, readings: ArrayLike) -> Finding:
        """Return what `readings` y [N], [m], say."""
        off = np.asarray(readings, dtype=np.float64) - self.centre
        score, size = scores(off, self.spread, self.causes)
        signature = np.stack([np.asarray(c.signature, dtype=np.float64) for c in self.causes])
        force = (np.linalg.solve(self.spread, signature.T).T * signature).sum(axis=1)
        sd = 1.0 / np.sqrt(np.maximum(force, np.finfo(np.float64).tiny))
        order = np.argsort(-score, kind="stable")
        ranked = tuple(Suspect(self.causes[i].name, float(size[i]), float(sd[i]), float(score[i])) for i in order)
        left = float(_left(off, self.spread, score.max()))
        return Finding(ranked, self.threshold, off, np.sqrt(np.diag(self.spread)), left, self.most_left)


def watch(
    predicted: ArrayLike, noise_sd: ArrayLike, causes: Sequence[Cause], *, alarms: float = ALARMS, seed: int = 1
) -> Watch:
    """Return what readings are held against.

    `predicted` h(x) [N], [d, m], for draws of the roof as it is believed to be: before any reading, or after an earlier
    set of readings, against which a new set is then held. `noise_sd` [N], [m]. `alarms` [1] is the share of sound roofs
    that may be called strange; the threshold is that share's quantile of the greatest score among readings made up from
    the draws with `NOISES` draws of noise each. Validity: some hundred draws; with 200 the share met is `alarms` within
    1.5 percentage points.
    """
    h, noise = np.asarray(predicted, dtype=np.float64), np.asarray(noise_sd, dtype=np.float64)
    if h.ndim != 2 or h.shape[0] < FEWEST:
        raise Bug("a contradiction needs draws to be seen against")
    spread = np.atleast_2d(np.cov(h, rowvar=False)) + np.diag(noise**2)
    centre = h.mean(axis=0)
    chance = np.random.default_rng(seed).standard_normal((NOISES, *h.shape))
    sound = h + noise * chance - centre
    null = scores(sound, spread, causes)[0].max(axis=-1)
    threshold = float(np.quantile(null, 1.0 - alarms))
    most_left = float(np.quantile(_left(sound, spread, null), 1.0 - BEYOND))
    return Watch(centre, spread, tuple(causes), threshold, most_left)


def contradiction(
    readings: ArrayLike,
    predicted: ArrayLike,
    noise_sd: ArrayLike,
    causes: Sequence[Cause],
    *,
    alarms: float = ALARMS,
    seed: int = 1,
) -> Finding:
    """Return whether `readings` y [N], [m], contradict `predicted` [N], [d, m], and which cause is likeliest.

    `noise_sd` [N], [m], and `alarms` [1] as in `watch`.
    """
    return watch(predicted, noise_sd, causes, alarms=alarms, seed=seed).read(readings)


def _left(off: Array, spread: Array, best: ArrayLike) -> Array:
    """Return nu' S^-1 nu less the square of the best score [1], [...]."""
    whole = (np.linalg.solve(spread, off[..., None])[..., 0] * off).sum(axis=-1)
    return np.asarray(whole - np.maximum(best, 0.0) ** 2)


def one_wrong(names: Sequence[str], sizes: ArrayLike, held_back: float = 1.0) -> tuple[Cause, ...]:
    """Return "this reading is wrong" for each of m readings, of either sign.

    `sizes` [N], [m], is what one unit of the cause adds: 1 N says the size in newtons. `held_back` [1] as in `Cause`.
    """
    unit = np.diag(np.asarray(sizes, dtype=np.float64))
    return tuple(Cause(name, row, -np.inf, np.inf, held_back) for name, row in zip(names, unit, strict=True))


def best_power(signature: ArrayLike, noise_sd: ArrayLike, alarms: float = ALARMS) -> float:
    """Return how often the best of all tests finds a known change [1].

    power = Phi(sqrt(h' R^-1 h) - Phi^-1(1 - alarms)) (1), the Neyman-Pearson test of a known change h [N], `signature`
    [m], in readings with nothing but independent normal noise, `noise_sd` [N], [m] (for the difference of two sets:
    the root of the sum of squares of both), at `alarms` [1] false alarms. No test of the same readings does better.
    Source: Lehmann and Romano (2005), 3.2.

    >>> round(best_power([0.0], [1.0], 0.05), 3), round(best_power([3.0], [1.0], 0.05), 3)
    (0.05, 0.912)
    """
    h, noise = np.asarray(signature, dtype=np.float64), np.asarray(noise_sd, dtype=np.float64)
    distance = float(np.sqrt(((h / noise) ** 2).sum()))
    normal = NormalDist()
    return normal.cdf(distance - normal.inv_cdf(1.0 - alarms))
