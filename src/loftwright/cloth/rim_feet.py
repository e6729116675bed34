"""Where beside a rim measured points lie."""

from __future__ import annotations

import numpy as np

from loftwright.cloth.rims import Loop
from loftwright.core.motion import Array


def feet(loop: Loop, points: Array) -> tuple[Array, tuple[str, ...]]:
    """Return the arc [m], [k], nearest to each of `points` [m], [k, 3], on row 0 of a loop, and the part it is on.

    Foot of the perpendicular on each chord, kept within it, and the nearest of these (1). Source: derivation.
    """
    known = loop.row()
    chords = np.roll(known.points, -1, axis=0) - known.points
    gap = points[:, None, :] - known.points
    share = np.clip(np.sum(gap * chords, axis=-1) / np.sum(chords**2, axis=-1), 0.0, 1.0)
    away = np.linalg.norm(gap - share[..., None] * chords, axis=-1)
    near = np.argmin(away, axis=-1)
    part = share[np.arange(points.shape[0]), near]
    arc = known.arc[near] + part * np.diff(known.arc)[near]
    behind = (near + (part > 0.5)) % len(known.places)
    return np.asarray(arc), tuple(known.places[int(k)] for k in behind)
