"""The layers behind the outer cloth: the lining on its own smaller loop, insulation stopped short of corners and fold.

Points of rims are [..., n, 3] in metres: x to the cab, y left, z up, counter-clockwise from above.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of


def _units(ways: Array) -> Array:
    return np.asarray(ways / np.linalg.norm(ways, axis=-1, keepdims=True))


def moved_inward(loop: Array, by: ArrayLike, wall: ArrayLike = (0.0, 0.0, 1.0)) -> Array:
    """Return a closed rim moved inward by the build of the layers before it, to be developed by itself.

    Every part of the loop moves square to itself and to the wall's own direction up the cloth, n = up x way (1); a
    point between two parts by (a + b) / (1 + a . b) of their normals (2), so that all parts move by the same. A level
    loop that turns once round to the left becomes 2 pi `by` shorter. `loop` [m] [..., n, 3] without its first point
    again, `by` [m] [...], `wall` the direction up the cloth as plain lengths [1], [3] or [..., n, 3].
    ValueError for fewer than three points.
    """
    if loop.shape[-2] < 3:
        raise ValueError("a rim needs at least three points")
    up = _units(np.broadcast_to(array_of(wall), loop.shape))
    ahead = np.roll(loop, -1, axis=-2) - loop
    after = _units(np.cross(up, ahead))
    before = _units(np.cross(up, np.roll(ahead, 1, axis=-2)))
    lean = np.maximum(1.0 + np.sum(before * after, axis=-1, keepdims=True), 0.1)
    return np.asarray(loop + array_of(by)[..., None, None] * (before + after) / lean)


def stretches_between(
    corners: Sequence[tuple[float, float]], around: float, short: float
) -> tuple[tuple[float, float], ...]:
    """Return where insulation goes along the rim: the runs between `corners`, stopped `short` [m] of each.

    `corners` are first and last rim arc of each rounded corner [m] in their order round the rim, `around` the rim's
    length [m]. A run may pass the start: its end is then more than `around`. Runs of no length are left out.
    """
    if not corners:
        return ((0.0, around),)
    found = []
    for k, (_, last) in enumerate(corners):
        begins = corners[k + 1][0] if k + 1 < len(corners) else corners[0][0] + around
        if begins - short > last + short:
            found.append((last + short, begins - short))
    return tuple(found)


def _at(line: Array, arc: Array, wanted: Array) -> Array:
    return np.stack([np.interp(wanted, arc, line[:, k]) for k in range(2)], axis=-1)


def part_of_panel(
    lower: Array, upper: Array, lower_arc: Array, upper_arc: Array, run: tuple[float, float], band: tuple[float, float]
) -> tuple[Array, Array]:
    """Return lower and upper line of a flat part of a panel, each [n, 2] [m]: shares of its length and of its height.

    `lower` [m, 2] and `upper` [k, 2] [m] are the panel's lines with their rim arcs [m], [m] and [k]; `run` the first
    and last rim arc of the lower line [m]; `band` the first and last share of the height [1]. Points at equal shares
    of both lines are joined. ValueError where the run leaves the panel.
    """
    first, last = run
    if not (lower_arc[0] <= first < last <= lower_arc[-1] and 0.0 <= band[0] < band[1] <= 1.0):
        raise ValueError("a part of a panel must lie within it")
    inner = lower_arc[(lower_arc > first) & (lower_arc < last)]
    arcs = np.asarray([first, *inner, last])
    share = (arcs - lower_arc[0]) / (lower_arc[-1] - lower_arc[0])
    low = _at(lower, lower_arc, arcs)
    high = _at(upper, upper_arc, upper_arc[0] + share * (upper_arc[-1] - upper_arc[0]))
    return np.asarray(low + band[0] * (high - low)), np.asarray(low + band[1] * (high - low))
