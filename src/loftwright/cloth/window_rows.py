"""A window on its panel in every row at once: how far its layers keep from edges, creases and other windows.

A rectangle with round corners is its core, as much smaller all round as its corners' radius, grown by that radius
again: distances are those of the core less the radius.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.cloth.cut_lines import EDGES
from loftwright.core.motion import Array

PER_EDGE: Final = 40
"""Points of a panel's edge that distances in every row are taken to."""
PER_SIDE: Final = 6
"""Points of each side of a window's core."""
BESIDE: Final = 0.2
"""A crease is followed this far beside a window [m]."""


def eased_rows(lower: Array, upper: Array, ease: Array) -> Array:
    """Return upper lines [rows, k, 2] raised by `ease` [m], [rows], as `pieces.eased` does for one row.

    `lower` [rows, m, 2] and `upper` [m].
    """
    left, right = upper[:, :1] - lower[:, :1], upper[:, -1:] - lower[:, -1:]
    steps = np.linalg.norm(np.diff(upper, axis=1), axis=-1)
    share = np.concatenate([np.zeros((len(upper), 1)), np.cumsum(steps, axis=1)], axis=1)
    share = (share / share[:, -1:])[..., None]
    left, right = (way / np.maximum(np.linalg.norm(way, axis=-1, keepdims=True), 1e-12) for way in (left, right))
    way = (1.0 - share) * left + share * right
    way = way / np.maximum(np.linalg.norm(way, axis=-1, keepdims=True), 1e-12)
    return np.asarray(upper + ease[:, None, None] * way)


def thinned(line: Array) -> Array:
    """Return some of the points of lines [rows, n, 2], both ends among them [m]."""
    count = line.shape[1]
    return line[:, np.unique(np.linspace(0, count - 1, min(count, PER_EDGE)).round().astype(int))]


def at_x(line: Array, x: Array) -> Array:
    """Return heights of lines [rows, n, 2] at `x` [rows, p] [m], level beyond their ends."""
    along, height = line[..., 0], line[..., 1]
    k = np.clip(np.sum(x[:, :, None] >= along[:, None, :], axis=-1) - 1, 0, along.shape[1] - 2)
    x0, x1, y0, y1 = (np.take_along_axis(values, k + step, axis=1) for values in (along, height) for step in (0, 1))
    step = np.where(np.abs(x1 - x0) < 1e-12, 1.0, x1 - x0)
    return np.asarray(y0 + np.clip((x - x0) / step, 0.0, 1.0) * (y1 - y0))


def left_of(points: Array, line: Array) -> Array:
    """Return how far left of lines [rows, n, 2] points [rows, p, 2] lie, [rows, p] [m]; negative to the right."""
    start, step = line[:, None, :-1], np.diff(line, axis=1)[:, None]
    gap = points[:, :, None] - start
    size = np.maximum(np.sum(step**2, axis=-1), 1e-18)
    share = np.clip(np.sum(gap * step, axis=-1) / size, 0.0, 1.0)
    far = np.linalg.norm(gap - share[..., None] * step, axis=-1)
    side = step[..., 0] * gap[..., 1] - step[..., 1] * gap[..., 0]
    nearest = np.argmin(far, axis=-1)[..., None]
    sign = np.where(np.take_along_axis(side, nearest, axis=-1) < 0.0, -1.0, 1.0)
    return np.asarray((sign * np.take_along_axis(far, nearest, axis=-1))[..., 0])


@dataclass(frozen=True, slots=True)
class WindowRows:
    """One window in all rows: its panel's lines [rows, n, 2], its sight line's sides and corner radius [rows] [m]."""

    lower: Array
    upper: Array
    left: Array
    bottom: Array
    right: Array
    top: Array
    radius: Array

    def _core(self, by: float) -> tuple[Array, Array]:
        """Return points of the core of the layer that goes `by` [m] beyond the sight line, and its radius."""
        radius = np.maximum(self.radius + by, 0.0)
        inward = radius - by
        x0, x1, y0, y1 = self.left + inward, self.right - inward, self.bottom + inward, self.top - inward
        share = np.linspace(0.0, 1.0, PER_SIDE)
        across, up = x0[:, None] + (x1 - x0)[:, None] * share, y0[:, None] + (y1 - y0)[:, None] * share
        sides = [
            np.stack(np.broadcast_arrays(*pair), axis=-1)
            for pair in ((across, y0[:, None]), (across, y1[:, None]), (x0[:, None], up), (x1[:, None], up))
        ]
        return np.concatenate(sides, axis=1), radius

    def clear(self, by: float) -> dict[str, Array]:
        """Return how far the layer `by` [m] beyond the sight line keeps inside each edge of the panel, [rows] [m]."""
        points, radius = self._core(by)
        right = np.stack([self.lower[:, -1], self.upper[:, -1]], axis=1)
        left = np.stack([self.upper[:, 0], self.lower[:, 0]], axis=1)
        lines = (self.lower, right, self.upper[:, ::-1], left)
        return {
            name: np.asarray(left_of(points, line).min(axis=1) - radius)
            for name, line in zip(EDGES, lines, strict=True)
        }

    def crease(self, by: float, shares: tuple[float, ...]) -> Array:
        """Return how far that layer keeps from the nearest crease, negative across it, [rows] [m].

        Creases run at `shares` of the height of the cloth [1].
        """
        points, radius = self._core(by)
        span = self.right - self.left + 2.0 * BESIDE
        across = (self.left - BESIDE)[:, None] + span[:, None] * np.linspace(0.0, 1.0, 25)
        low = at_x(self.lower, across)
        tall = at_x(self.upper, across) - low
        found = []
        for share in shares:
            above = left_of(points, np.stack([across, low + share * tall], axis=-1))
            least, most = above.min(axis=1) - radius, above.max(axis=1) + radius
            found.append(np.where(least > 0.0, least, np.where(most < 0.0, -most, -np.minimum(most, -least))))
        return np.asarray(np.min(found, axis=0))

    def apart(self, by: float, other: WindowRows, and_by: float) -> Array:
        """Return how far two windows of one panel are apart with layers `by` and `and_by` beyond, [rows] [m]."""
        across = np.maximum(self.left, other.left) - np.minimum(self.right, other.right)
        up = np.maximum(self.bottom, other.bottom) - np.minimum(self.top, other.top)
        return np.asarray(np.maximum(across, up) - by - and_by)
