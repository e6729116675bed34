"""What can go wrong with two measured rims: every rule once, and how far one rim crosses the other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.cloth.rim_fit import RimFit
from loftwright.cloth.rim_places import station
from loftwright.cloth.rims import Loop
from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array

WRONG_FROM = 4.0
"""A point that pulls on the fit by more than so many standard deviations [1] was hardly measured so.

Two normal errors together pass it once in exp(8) = 2981 points.
"""
SCATTER_LIMIT = 0.005
"""Scatter of a rim's points that the walls stand [m].

A smooth error of 3 mm moves outlines by 7 to 10 mm, one of 5 mm by 12 to 18 mm: computed here, no source.
"""

WRONG_POINT: Final = Rule(
    "WALL-1341",
    "A point of the rim is measured or typed wrong",
    "The points of the rim agree with one another",
    "short m",
    "at most",
    "One wrong point bends the whole fitted rim, and every wall is cut to it.",
    "Measure this point again, or leave it out and see whether the others agree.",
    Source("derivation", "least squares with one point left out; limit by judgement", "derivation"),
)
ROUGH: Final = Rule(
    "WALL-1342",
    "The rim is measured too roughly to cut cloth by",
    "The rim is measured well enough to cut cloth by",
    "short m",
    "at most",
    "What the points miss the fitted rim by, the walls miss by two to three times.",
    "Measure again from one straight base line, or measure more points where they miss most.",
    Source("judgement", "5 mm of scatter moves a wall's outline by 12 to 18 mm", "judgement"),
)


def judge_fit(fit: RimFit, name: str) -> tuple[Judged, ...]:
    """Return the judgements of one fitted rim, called `name` ("lower rim").

    The worst point's pull [m] against `WRONG_FROM` times the greater of measuring error and scatter of the others (1);
    the scatter without that point [m] against `SCATTER_LIMIT`. With no point to spare neither can be judged.
    """
    if fit.freedom <= 2:
        wanted = f"more points of the {name}"
        return tuple(Judged(rule, None, None, name, unknown=wanted) for rule in (WRONG_POINT, ROUGH))
    limit = WRONG_FROM * max(fit.sd, fit.others_scatter)
    wrong = fit.worst_pull > limit
    return (
        against(WRONG_POINT, np.array([fit.worst_pull]), np.array([limit]), point_name(fit, name)),
        against(ROUGH, np.array([fit.others_scatter if wrong else fit.scatter]), np.array([SCATTER_LIMIT]), name),
    )


def point_name(fit: RimFit, name: str) -> str:
    """Return in plain words which point of the rim called `name` is the worst and how far it lies off the others.

    Points count from 1 in the order in which they were given; the distance is in mm.
    """
    return f"{name}, point {fit.worst + 1}, {fit.places[fit.worst]}, {1000.0 * fit.worst_off:.0f} mm off the others"


@dataclass(frozen=True, slots=True)
class Overhang:
    """How far the upper rim lies outside the lower one, seen from above: `least` and `most` [m], [...], and where."""

    least: Array
    most: Array
    least_at: str
    most_at: str

    def crossing(self, close: float = 0.002) -> tuple[float, float] | None:
        """Return how far the upper rim lies outside and inside at most [m], planned row.

        None where the rims do not cross by more than `close` [m].
        """
        low, high = float(np.ravel(self.least)[0]), float(np.ravel(self.most)[0])
        return (high, -low) if low < -close and high > close else None


def overhang(lower: Loop, upper: Loop) -> Overhang:
    """Return how far the upper rim lies outside the lower one, square to the lower one in plan.

    At every point of `lower`: least distance along its outward normal n to the line of the nearest chord of `upper`,
    w = (q - p) . n (1), q the foot on that chord seen from above. Numbers of chords are those of row 0. Source:
    derivation.
    """
    base, top = lower.row(), upper.row()
    p, q = base.points[:, :2], top.points[:, :2]
    chord = np.roll(q, -1, axis=0) - q
    size = np.maximum(np.sum(chord**2, axis=-1), 1e-18)
    gap = p[:, None, :] - q
    share = np.clip(np.sum(gap * chord, axis=-1) / size, 0.0, 1.0)
    near = np.argmin(np.linalg.norm(gap - share[..., None] * chord, axis=-1), axis=-1)
    ends = upper.points[..., near, :2], upper.points[..., (near + 1) % q.shape[0], :2]
    foot = ends[0] + share[np.arange(p.shape[0]), near][:, None] * (ends[1] - ends[0])
    out = station(lower, lower.arc[..., :-1]).outward[..., :2]
    wide = np.sum((foot - lower.points[..., :2]) * out, axis=-1)
    row = wide.reshape(-1, wide.shape[-1])[0]
    return Overhang(
        np.asarray(wide.min(axis=-1)),
        np.asarray(wide.max(axis=-1)),
        base.places[int(np.argmin(row))],
        base.places[int(np.argmax(row))],
    )
