"""What the shell weighs, where its centre is, and how sure that is.

Places along the shell are measured from its rear rim edge, heights above its rim. A reading of the
scales is linear in m and m c (mass, and mass times centre), so two different readings settle both and
every further one is a check:

    scales at x1, the rest carried at x2:   R (x2 - x1) = m x2 - m c                              (1)
    the whole shell on the scales:          R = m                                                 (2)
    balanced over a pipe at x:              0 = m c - m x                                         (3)
    as (1), the end at x2 raised by t:      R (x2 - x1) = m x2 - m c +- m h tan t                 (4)

where h is the height of the centre above the supports and the sign in (4) is that of x2 - x1.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from loftwright.core.checks import Check, Rule, Source
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.motion import Array
from loftwright.core.uncertain import Uncertain

FINEST_READING_SD = 0.025
"""No scale reading is taken to be surer than this standard deviation [kg]."""
FINEST_PLACE_SD = 0.0005
"""No balance over a pipe is taken to be surer than this standard deviation [m]."""
LEAST_CHANCE = 0.01
"""Readings that honest errors bring about less often than this contradict each other."""

AGREE = Rule(
    id="MASS-101",
    title="The weighings contradict each other",
    promise="The weighings agree with each other",
    unit="1",
    sense="at least",
    reason="Errors as large as the ones you stated would hardly ever leave readings so far apart, so one is wrong.",
    remedy="Weigh again, first the reading that is named, if one is; see that nothing else touches the shell and the "
    "scales stand level.",
    source=Source("judgement", "chi-square of the weighted least squares, one chance in 100", "judgement"),
)


@dataclass(frozen=True, slots=True)
class Line:
    """Scales under the shell at `at` read `reads` [kg]; the rest is carried at `other` [m]."""

    at: Uncertain
    other: Uncertain
    reads: Uncertain


@dataclass(frozen=True, slots=True)
class Whole:
    """The whole shell on the scales reads `reads` [kg]."""

    reads: Uncertain


@dataclass(frozen=True, slots=True)
class Balance:
    """The shell balances over a pipe at `at` [m]."""

    at: Uncertain


@dataclass(frozen=True, slots=True)
class Tilted:
    """As `Line`, with the end at `other` raised until the shell leans by `angle` [rad]."""

    angle: Uncertain
    at: Uncertain
    other: Uncertain
    reads: Uncertain


Reading = Line | Whole | Balance | Tilted


@dataclass(frozen=True, slots=True)
class NotEnough:
    """The readings do not settle mass and centre: what is missing, and what they settle nevertheless."""

    missing: str
    mass: float | None = None
    centre: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Weighed:
    """Mass and centre with their doubt.

    `mass` [kg]; `centre` [m] from the rear rim edge; `height` [m] above the rim, when a tilted reading gave it;
    `covariance` of (mass, centre) or (mass, centre, height); `labels`: the readings by name; `standardised`:
    reading less fitted value over its own standard deviation (0 where nothing is left over); `chi2` over
    `freedom` degrees of freedom.
    """

    mass: float
    centre: float
    height: float | None
    covariance: Array
    labels: tuple[str, ...]
    standardised: Array
    chi2: float
    freedom: int

    @property
    def two_sd(self) -> tuple[float, ...]:
        """Two standard deviations of mass [kg], centre [m] and, when known, height [m]."""
        return tuple(float(v) for v in 2 * np.sqrt(np.diag(self.covariance)))

    @property
    def correlation(self) -> float:
        """Correlation of mass and centre [1]."""
        v = self.covariance
        return float(v[0, 1] / np.sqrt(v[0, 0] * v[1, 1]))

    @property
    def centre_per_mass(self) -> float:
        """How far the centre is expected to lie off when the mass is off, [m/kg]: cov(m, c) / var(m)."""
        return float(self.covariance[0, 1] / self.covariance[0, 0])

    def moment_doubt(self, about: float) -> float:
        """Return two standard deviations of the weight's moment [kg m] about a place along the shell [m].

        var(m a) = a^2 var(m) + m^2 var(c) + 2 m a cov(m, c), a = c - about (1).
        """
        arm, v = self.centre - about, self.covariance
        spread = arm**2 * v[0, 0] + self.mass**2 * v[1, 1] + 2 * self.mass * arm * v[0, 1]
        return float(2 * np.sqrt(max(spread, 0.0)))


def standard_deviation(value: Uncertain) -> float:
    """Return the standard deviation of a value: half its spread if normal, spread over root three if even."""
    return value.spread / (2.0 if value.shape == "normal" else math.sqrt(3.0))


def _lines_of(readings: Sequence[Reading]) -> dict[Uncertain, int]:
    """Number the support lines; the same place with the same doubt is one line, measured once."""
    lines: dict[Uncertain, int] = {}
    for reading in readings:
        if isinstance(reading, Line | Tilted):
            for place in (reading.at, reading.other):
                lines.setdefault(place, len(lines))
    return lines


def _refuse_impossible(readings: Sequence[Reading]) -> None:
    faults = []
    for number, reading in enumerate(readings, start=1):
        where = f"[weighing] reading {number}"
        if isinstance(reading, Line | Tilted) and reading.at.nominal == reading.other.nominal:
            faults.append(
                Fault(
                    f"{where}, other",
                    "the same place as at",
                    "the two supports must stand apart",
                    "give the place of the support that carries the rest",
                )
            )
        if isinstance(reading, Tilted) and not 0 < abs(reading.angle.nominal) < math.pi / 2:
            faults.append(
                Fault(
                    f"{where}, angle",
                    f"{math.degrees(reading.angle.nominal):.3g} degrees",
                    "a tilt lies between 0 and 90 degrees",
                    "give the angle by which the other end was raised",
                )
            )
    if faults:
        raise ProjectFault(faults)


def _linear(readings: Sequence[Reading], unknowns: int) -> tuple[Array, Array]:
    """Return the rows and right-hand sides of (1) to (4) for (m, m c, m h), each scaled to kilograms."""
    spots = [place.nominal for place in _lines_of(readings)]
    spots += [r.at.nominal for r in readings if isinstance(r, Balance)]
    span = (max(spots) - min(spots) if spots else 0.0) or 1.0
    rows, rights = [], []
    for r in readings:
        if isinstance(r, Whole):
            row, right = [1.0, 0.0, 0.0], r.reads.nominal
        elif isinstance(r, Balance):
            row, right = [r.at.nominal / span, -1.0 / span, 0.0], 0.0
        else:
            d = r.other.nominal - r.at.nominal
            lean = math.tan(r.angle.nominal) / abs(d) if isinstance(r, Tilted) else 0.0
            row, right = [r.other.nominal / d, -1.0 / d, lean], r.reads.nominal
        rows.append(row[:unknowns])
        rights.append(right)
    return np.array(rows), np.array(rights)


def _rank(rows: Array) -> int:
    size = np.linalg.norm(rows, axis=0)
    return int(np.linalg.matrix_rank(rows / np.where(size > 0, size, 1.0), tol=1e-7)) if rows.size else 0


def _not_enough(readings: Sequence[Reading]) -> NotEnough | None:
    """Say what is missing, or None when the readings suffice."""
    on_scales = [r for r in readings if not isinstance(r, Balance)]
    wholes = [r for r in readings if isinstance(r, Whole)]
    balances = [r for r in readings if isinstance(r, Balance)]
    centre = sum(r.at.nominal for r in balances) / len(balances) if balances else None
    mass = sum(r.reads.nominal for r in wholes) / len(wholes) if wholes else None
    if not readings:
        return NotEnough("two readings: the scales under one end, then under the other")
    if not on_scales:
        return NotEnough(
            "a reading of the scales: balancing tells where the centre is, not what the shell weighs", centre=centre
        )
    level = [r for r in readings if not isinstance(r, Tilted)]
    if level and _rank(_linear(level, 2)[0]) == 2:
        return None
    if len(level) < len(readings) and _rank(_linear(readings, 3)[0]) == 3:
        return None
    if mass is not None:
        return NotEnough(
            "where the centre is: balance the shell over a pipe, or read the scales under one end", mass=mass
        )
    return NotEnough(
        "a different reading: the scales under the other end, the whole shell, or its balance over a pipe",
        centre=centre,
    )


def _predict(
    readings: Sequence[Reading], theta: Array, lines: dict[Uncertain, int]
) -> tuple[Array, Array, Array, Array]:
    """Return fitted readings, their derivatives by the unknowns and by the lines' places, and own variances."""
    m, c = float(theta[0]), float(theta[1])
    h = float(theta[2]) if theta.size == 3 else 0.0
    n = len(readings)
    fitted, own = np.zeros(n), np.zeros(n)
    by_theta, by_line = np.zeros((n, 3)), np.zeros((n, len(lines)))
    for i, r in enumerate(readings):
        if isinstance(r, Balance):
            fitted[i], by_theta[i] = c, (0.0, 1.0, 0.0)
            own[i] = max(standard_deviation(r.at), FINEST_PLACE_SD) ** 2
            continue
        own[i] = max(standard_deviation(r.reads), FINEST_READING_SD) ** 2
        if isinstance(r, Whole):
            fitted[i], by_theta[i] = m, (1.0, 0.0, 0.0)
            continue
        d = r.other.nominal - r.at.nominal
        side = math.copysign(1.0, d)
        lean = math.tan(r.angle.nominal) if isinstance(r, Tilted) else 0.0
        share = (r.other.nominal - c) / d + side * h * lean / d
        fitted[i] = m * share
        by_theta[i] = (share, -m / d, side * m * lean / d)
        by_line[i, lines[r.at]] += m * share / d
        by_line[i, lines[r.other]] += m * (1.0 - share) / d
        if isinstance(r, Tilted):
            own[i] += (m * h * (1.0 + lean**2) / abs(d) * standard_deviation(r.angle)) ** 2
    return fitted, by_theta[:, : theta.size], by_line, own


def weigh(readings: Sequence[Reading]) -> Weighed | NotEnough:
    """Return mass and centre by weighted least squares, or what is missing.

    Starts from the linear solution of (1) to (4), then repeats

        theta <- theta + (J' V^-1 J)^-1 J' V^-1 (y - f(theta)),   V = diag(s^2) + K Q K'           (5)

    with theta = (m, c[, h]), J and K the derivatives of the fitted readings f by theta and by the places
    of the support lines, s the standard deviation of each reading and Q the variances of the places. A line
    that occurs in several readings with the same place and doubt is one line: its error is shared.
    Covariance of theta: (J' V^-1 J)^-1.

    Parameters
    ----------
    readings: scale readings [kg] at places [m], in any order.

    Returns
    -------
    `Weighed`; or `NotEnough` when the readings leave something open or make the mass zero or less.

    Errors: ProjectFault for supports in one place or a tilt outside 0 .. 90 degrees.
    Validity: errors small against the distances.
    Source: equations of moments; least squares with a general covariance (Aitken), derivation.

    >>> from loftwright.core.uncertain import exact, normal
    >>> got = weigh([Line(exact(50.0), exact(128.0), normal(340.0, 1.0)), Whole(normal(2006.0, 1.0))])
    >>> round(got.centre, 1)  # nosewheel aircraft of FAA-H-8083-1, chapter 3, in pounds and inches
    114.8
    """
    _refuse_impossible(readings)
    missing = _not_enough(readings)
    if missing is not None:
        return missing
    unknowns = 3 if any(isinstance(r, Tilted) for r in readings) else 2
    rows, rights = _linear(readings, unknowns)
    if _rank(rows) < unknowns:
        return NotEnough("a second tilted or a second level reading")
    start = np.asarray(np.linalg.lstsq(rows, rights, rcond=None)[0], dtype=np.float64)
    if start[0] <= 0:
        return NotEnough(f"readings that agree: these would make the shell weigh {start[0]:.3g} kg")
    theta: Array = np.concatenate((start[:1], start[1:] / start[0]))
    observed = np.array([r.at.nominal if isinstance(r, Balance) else r.reads.nominal for r in readings])
    lines = _lines_of(readings)
    places = np.array([standard_deviation(place) ** 2 for place in lines])
    for _ in range(60):
        fitted, jac, by_line, own = _predict(readings, theta, lines)
        spread = np.diag(own) + (by_line * places) @ by_line.T
        weighted = np.linalg.solve(spread, jac)
        covariance = np.asarray(np.linalg.inv(jac.T @ weighted), dtype=np.float64)
        step = covariance @ (weighted.T @ (observed - fitted))
        theta = theta + step
        if np.all(step**2 <= 1e-18 * np.diag(covariance)):
            break
    else:
        return NotEnough("readings that agree: these lie too far apart for any one mass and centre")
    if not theta[0] > 0:
        return NotEnough(f"readings that agree: these would make the shell weigh {theta[0]:.3g} kg")
    fitted, jac, by_line, own = _predict(readings, theta, lines)
    left = observed - fitted
    own_doubt = np.diag(spread - jac @ covariance @ jac.T)
    free = own_doubt > 1e-9 * np.diag(spread)
    return Weighed(
        mass=float(theta[0]),
        centre=float(theta[1]),
        height=float(theta[2]) if unknowns == 3 else None,
        covariance=(covariance + covariance.T) / 2,
        labels=tuple(
            "the tilted reading" if isinstance(r, Tilted) else f"reading {i}" for i, r in enumerate(readings, start=1)
        ),
        standardised=np.where(free, left / np.sqrt(np.where(free, own_doubt, 1.0)), 0.0),
        chi2=float(left @ np.linalg.solve(spread, left)),
        freedom=len(readings) - unknowns,
    )


def one_more(readings: Sequence[Reading], extra: Reading) -> Weighed | NotEnough:
    """Return the weighing as it would stand with `extra` read as now expected: what one more reading is worth.

    Only places and doubts of `extra` count; its reading is replaced by the expected one.
    """
    now = weigh(readings)
    if isinstance(now, NotEnough):
        return now
    if isinstance(extra, Tilted) and now.height is None:
        return NotEnough("a first tilted reading: nothing yet tells how high the centre lies", now.mass, now.centre)
    theta = np.array([now.mass, now.centre, now.height or 0.0])
    expected = float(_predict([extra], theta, _lines_of([extra]))[0][0])

    def moved(value: Uncertain) -> Uncertain:
        return replace(value, nominal=expected, low=expected - value.spread, high=expected + value.spread)

    if isinstance(extra, Balance):
        return weigh([*readings, replace(extra, at=moved(extra.at))])
    return weigh([*readings, replace(extra, reads=moved(extra.reads))])


def chance_of(chi2: float, freedom: int) -> float:
    """Return how often honest errors give at least `chi2` [1] with `freedom` degrees of freedom [1].

    Closed sums of the chi-square distribution for whole degrees of freedom, with y = chi2 / 2:
    even: exp(-y) sum_{j < k/2} y^j / j!;
    odd: erfc(sqrt y) + exp(-y) sum_{j = 1 .. (k-1)/2} y^(j - 1/2) / Gamma(j + 1/2).              (6)

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.4.4 and 26.4.5.

    >>> round(chance_of(3.841, 1), 3), round(chance_of(5.991, 2), 3)
    (0.05, 0.05)
    """
    y = chi2 / 2
    if freedom % 2 == 0:
        return math.exp(-y) * math.fsum(y**j / math.factorial(j) for j in range(freedom // 2))
    tail = math.fsum(y ** (j - 0.5) / math.gamma(j + 0.5) for j in range(1, (freedom - 1) // 2 + 1))
    return math.erfc(math.sqrt(y)) + math.exp(-y) * tail


def differs_most(weighed: Weighed) -> str:
    """Return which reading lies furthest from the fit; empty where several lie equally far, as with one to spare."""
    size = np.abs(weighed.standardised)
    furthest = np.flatnonzero(size > 0.99 * size.max())
    return weighed.labels[furthest[0]] if furthest.size == 1 else ""


def agreement(weighed: Weighed) -> Check:
    """Return whether the readings agree within their stated errors; not known without a spare reading."""
    if weighed.freedom == 0:
        return AGREE.not_known("one more reading of the scales, as a check on the others", limit=LEAST_CHANCE)
    chance, furthest = chance_of(weighed.chi2, weighed.freedom), differs_most(weighed)
    named = f"most of all {furthest}" if furthest and chance < LEAST_CHANCE else ""
    return AGREE.judge(chance, LEAST_CHANCE, part=named)
