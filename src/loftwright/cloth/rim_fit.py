"""A rim fitted to measured points: straights, round corners and a curved surface, with how well each is known.

Axes: x to the cab, y left, z up. Fit first, then cut: an error that goes up and down from point to point lengthens a
rim, a fitted one has none of it. What is left over at each point is shown, the worst point named.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.rim_bumps import Bumps, bumps_of, with_bumps
from loftwright.cloth.rim_feet import feet
from loftwright.cloth.rim_model import SHAPE, errors, heights_of, linear, radii_of, shape_basis
from loftwright.cloth.rim_noise import normals
from loftwright.cloth.rims import Loop, rounded
from loftwright.core.motion import Array

Corners = Literal["one", "ends", "four"]
"""How many corner radii are looked for: one for all, one for each end, four."""
RADII = {"one": ("radius",), "ends": ("rear radius", "front radius"), "four": tuple(f"radius {k}" for k in range(1, 5))}

BUMPS_FROM = 24
"""Points from which bumps can be told from noise [1]: two or three on every corner and bow; judgement."""
TAPER_FROM = 14
"""Points from which a crown of each end's own is looked for [1]: judgement."""
OPEN = 0.05
"""A term is left out where less than this share of it [1], over the points, is its own and not of earlier terms."""
_STARTS = (0.08, 0.2, 0.35)
_SUSPECTS = 3


@dataclass(frozen=True, slots=True)
class RimFit:
    """A rim as fitted to k points.

    `names` and `values` [m], [p], of what was fitted, `covariance` [m2], [p, p]; `left_out`: what these points cannot
    tell, taken as nought; `radius` [m]: where it was given, else None. `out`, `up` [m], [k]: how far each point lies
    outside and above the fitted rim; `arc` [m], [k]: where beside it; `places`: on what part. `sd`: standard deviation
    of the measuring on each axis, `scatter`: that found in the residuals [m], `freedom`: with how many to spare [1].
    `worst`: number of the point without which the others fit best, `worst_off`: how far it lies off the rim through
    these, `worst_pull`: root of the sum of squares that it costs, `others_scatter`: their scatter without it, all [m].
    """

    names: tuple[str, ...]
    values: Array
    covariance: Array
    left_out: tuple[str, ...]
    radius: float | None
    out: Array
    up: Array
    arc: Array
    places: tuple[str, ...]
    sd: float
    scatter: float
    freedom: int
    worst: int
    worst_off: float
    worst_pull: float
    others_scatter: float
    bumps: Bumps | None = None

    @property
    def off(self) -> Array:
        """How far each point lies off the fitted rim [m], [k]."""
        return np.asarray(np.hypot(self.out, self.up))

    @property
    def deviations(self) -> Array:
        """Standard deviation of each fitted value [m], [p]."""
        return np.asarray(np.sqrt(np.diag(self.covariance)))

    def value(self, name: str) -> float:
        """Return a fitted value by its name [m]; nought where it was left out."""
        return float(self.values[self.names.index(name)]) if name in self.names else 0.0

    def loop(self, per: int = 400) -> Loop:
        """Return the fitted rim with about `per` points [1], with its bumps if they were followed."""
        return _loop(self, self.values, per)

    def drawn(self, seed: int, rows: int, per: int = 400) -> Loop:
        """Return `rows` rims drawn from the covariance, row 0 the fitted one; `per`: about how many points [1].

        values + L z (1), L L^T the covariance, z normal, by `seed`. A radius drawn below a tenth of its value stays
        there, one over half the shorter side too.
        """
        chance = normals(seed, rows, self.values.size)
        chance[:1] = 0.0
        drawn = self.values + chance @ np.linalg.cholesky(self.covariance).T
        short = np.minimum(drawn[:, 1] - drawn[:, 0], drawn[:, 3] - drawn[:, 2]) / 2.0
        for k, name in enumerate(self.names):
            if "radius" in name:
                drawn[:, k] = np.minimum(np.maximum(drawn[:, k], self.values[k] / 10.0), short)
        return _loop(self, drawn, per)


def fitted(
    points: ArrayLike,
    *,
    sd: float = 0.003,
    radius: float | None = None,
    corners: Corners = "one",
    follow_bumps: bool = False,
) -> RimFit:
    """Return the rim with round corners on a curved surface that lies nearest to measured points.

    `points` [m], [k, 3], in any order: x, y, z; `sd`: standard deviation of the measuring on each axis [m]; `radius`
    [m] of all corners where it is known, else as many as `corners` says are fitted; `follow_bumps`: let the rim follow
    what the points show beyond the model, for `BUMPS_FROM` points or more (see `rim_bumps`).

    Least squares by Gauss and Newton (1) of two distances of every point: in plan to the outline along its normal, and
    z over the surface of `Heights` at its x and y. Covariance s^2 (J^T J)^-1 (2), s the greater of `sd` and the scatter
    sqrt(sum of squares / (2 k - p)) (3). The worst point is the one without which the sum of squares falls most, among
    those three for which e^T (1 - H)^-1 e (4) is greatest, H the point's own part of J (J^T J)^-1 J^T.
    At a sharp corner a point counts for one side alone: measure two along each side. ValueError where the points do
    not tell a side, or a corner radius that is not given. Source: derivation; (2) and (4) are those of linear
    regression (textbooks, from memory).
    """
    p = np.asarray(points, dtype=np.float64)
    if p.ndim != 2 or p.shape[1] != 3 or not np.all(np.isfinite(p)):
        raise ValueError("measured points are x, y and z of each")
    if p.shape[0] < 5 or sd <= 0.0:
        raise ValueError("a rim needs at least five points and a measuring error above nought")
    names, left_out = _names(p, radius, corners)
    values = _best(p, names, radius)
    _told(p, names, values, radius)
    out, up = errors(p, names, values, radius)
    jacobian = linear(p, names, values, radius)[1]
    freedom = 2 * p.shape[0] - len(names)
    total = float(np.sum(out**2 + up**2))
    scatter = float(np.sqrt(total / freedom)) if freedom > 0 else 0.0
    inverse = np.linalg.inv(jacobian.T @ jacobian)
    worst, off, pull, others = _worst(p, names, values, radius, jacobian @ inverse @ jacobian.T, total)
    empty = np.zeros(p.shape[0])
    fit = RimFit(
        names,
        values,
        np.asarray(inverse * max(sd, scatter) ** 2),
        left_out,
        radius,
        out,
        up,
        empty,
        (),
        sd,
        scatter,
        freedom,
        worst,
        off,
        pull,
        others,
    )
    arc, places = feet(fit.loop(), p)
    fit = replace(fit, arc=arc, places=places)
    if follow_bumps and p.shape[0] >= BUMPS_FROM:
        perimeter = float(fit.loop().perimeter)
        fit = replace(fit, bumps=bumps_of(arc, out, up, perimeter, spent=len(names)))
    return fit


def _loop(fit: RimFit, values: Array, per: int) -> Loop:
    # One row of values, or [rows, p].
    rear, front, right, left = (values[..., k] for k in range(4))
    four = radii_of(fit.names, values, fit.radius)
    heights = heights_of(fit.names, values)
    size = front - rear, left - right
    loop = rounded(rear, *size, (four[0], four[1], four[2], four[3]), heights, aside=(left + right) / 2.0, per=per)
    return loop if fit.bumps is None else with_bumps(loop, fit.bumps)


def _names(p: Array, radius: float | None, corners: Corners) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what can be fitted to the points and what of the surface is left out."""
    basis = shape_basis(p, *_box(p))
    kept: list[int] = []
    for k, name in enumerate(SHAPE):
        if len(kept) >= p.shape[0] or (name == "taper" and p.shape[0] < TAPER_FROM):
            continue
        term = basis[:, k]
        own = term - basis[:, kept] @ np.linalg.lstsq(basis[:, kept], term, rcond=None)[0] if kept else term
        if np.linalg.norm(own) > OPEN * max(float(np.linalg.norm(term)), 1e-12):
            kept.append(k)
    round_ones = () if radius is not None else RADII[corners]
    told = tuple(SHAPE[k] for k in kept)
    return ("rear", "front", "right", "left", *round_ones, *told), tuple(name for name in SHAPE if name not in told)


def _box(p: Array) -> tuple[float, float, float, float]:
    x, y = p[:, 0], p[:, 1]
    box = float(x.min()), float(x.max()), float(y.min()), float(y.max())
    if box[1] - box[0] <= 0.0 or box[3] - box[2] <= 0.0:
        raise ValueError("the points lie on one line seen from above")
    return box


def _best(p: Array, names: tuple[str, ...], radius: float | None, start: Array | None = None) -> Array:
    """Return the values with the least sum of squares, from `start` or from a few radii."""
    if start is not None:
        return nearest_rim(p, names, start, radius)[0]
    box = _box(p)
    short = min(box[1] - box[0], box[3] - box[2])
    found = []
    for share in _STARTS if radius is None else _STARTS[:1]:
        values = np.zeros(len(names))
        values[:4] = box
        for k, name in enumerate(names):
            if "radius" in name:
                values[k] = share * short
            elif name == "height":
                values[k] = float(np.mean(p[:, 2]))
        found.append(nearest_rim(p, names, values, radius))
    return min(found, key=lambda pair: pair[1])[0]


def nearest_rim(points: Array, names: tuple[str, ...], values: Array, radius: float | None) -> tuple[Array, float]:
    """Return the values [m], [p], next to a start where the sum of squares is least, and that sum [m2].

    `points` [m], [k, 3]; `values` [m], [p], to start from, called `names`; `radius` [m] if it was given. Gauss and
    Newton's steps, halved until the sum falls; radii stay between nought and half the shorter side. Source: derivation.
    """
    size = float(np.ptp(points[:, :2]))
    error, jacobian = linear(points, names, values, radius)
    least = float(error @ error)
    for _ in range(60):
        step = np.linalg.lstsq(jacobian, -error, rcond=1e-10)[0]
        ahead = error + jacobian @ step
        if least - float(ahead @ ahead) < 1e-13 * least:
            values = _inside(names, values + step)
            return values, float(np.sum(np.square(linear(points, names, values, radius)[0])))
        share = 1.0
        while share > 1e-4:
            trial = _inside(names, values + share * step)
            new, slopes = linear(points, names, trial, radius)
            if float(new @ new) < least:
                break
            share /= 2.0
        else:
            break
        moved = float(np.abs(trial - values).max())
        values, error, jacobian, least = trial, new, slopes, float(new @ new)
        if moved < 1e-13 * size:
            break
    return values, least


def _inside(names: tuple[str, ...], values: Array) -> Array:
    """Return values with every radius between nought and half the shorter side."""
    short = min(values[1] - values[0], values[3] - values[2]) / 2.0
    return np.array([min(max(v, 0.0), short) if "radius" in n else v for n, v in zip(names, values, strict=True)])


def _told(p: Array, names: tuple[str, ...], values: Array, radius: float | None) -> None:
    """Raise ValueError where the points do not tell a side or a radius."""
    jacobian = linear(p, names, values, radius)[1]
    for k, name in enumerate(names[: sum("radius" in n for n in names) + 4]):
        others = np.delete(jacobian, k, axis=1)
        own = jacobian[:, k] - others @ np.linalg.lstsq(others, jacobian[:, k], rcond=None)[0]
        if np.linalg.norm(own) < OPEN:
            what = "corner: give its radius, or measure one there" if "radius" in name else "side: measure two there"
            raise ValueError(f"the points do not tell the {name}: too few lie on that {what}")


def _worst(
    p: Array, names: tuple[str, ...], values: Array, radius: float | None, hat: Array, total: float
) -> tuple[int, float, float, float]:
    """Return the worst point, how far it lies off the rim through the others, its pull, and their scatter [m]."""
    count = p.shape[0]
    pair = np.arange(count)[:, None] + np.array([0, count])
    error = linear(p, names, values, radius)[0][pair]
    rest = np.eye(2) - hat[pair[:, :, None], pair[:, None, :]]
    # Without a point that alone tells something there is no fit: such points cannot be judged.
    judged = np.linalg.eigvalsh(rest)[:, 0] > 1e-6
    safe = np.where(judged[:, None, None], rest, np.eye(2))
    pull = np.where(judged, np.sum(error * np.linalg.solve(safe, error[..., None])[..., 0], axis=-1), 0.0)
    freedom = 2 * (count - 1) - len(names)
    best = (int(np.argmax(pull)), 0.0, 0.0, 0.0)
    if freedom <= 0:
        return best
    least = np.inf
    for k in np.argsort(-pull, kind="stable")[:_SUSPECTS]:
        if pull[k] <= 0.0:
            continue
        others = np.delete(p, k, axis=0)
        # From where the fit with it came to rest, and afresh: a far point may have drawn it into another hollow.
        tries = [_best(others, names, radius, values), _best(others, names, radius)]
        sums = [float(np.sum(np.square(errors(others, names, found, radius)))) for found in tries]
        found, left = tries[int(np.argmin(sums))], min(sums)
        if left < least:
            least = left
            off = float(np.hypot(*(e[0] for e in errors(p[k : k + 1], names, found, radius))))
            best = (int(k), off, float(np.sqrt(max(total - left, 0.0))), float(np.sqrt(left / freedom)))
    return best
