"""Whether the folded wall has room, and how it pushes on the shell over the last part of the way down.

Lengths [m] and pushes [N/m of wall], [...] over draws. Depth is counted inward from the lower line, height from the
ring to what is above it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.chain import Folded
from loftwright.cloth.fold_rules import BUNDLE, HANG, PUSH, TIP
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array, array_of

TIP_CLEAR = 0.010
"""How far the tip of the fold is to stay from boards and cabinets [m]: judgement."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """What stands inward of the ring and must stay clear, "bed board" or "cabinet"; `depth` to it [m], [...]."""

    name: str
    depth: Array


@dataclass(frozen=True, slots=True)
class Cavity:
    """The room for the bundle, each [m], [...].

    Room below the ring does not count: what hangs there is judged by itself. `lining`: height from the ring to the
    shell's lining; `bar_back`: how far inward of the lower line the near side of
    the latch bar stands; `bar_under`: height from the ring to its underside.
    """

    lining: Array
    bar_back: Array
    bar_under: Array

    def height_at(self, depth: ArrayLike) -> Array:
        """Return the room above a bundle reaching in to `depth` [m]: under the lining, and under the bar once there."""
        under = np.minimum(self.bar_under, self.lining)
        return np.asarray(np.where(array_of(depth) > self.bar_back, under, self.lining))


@dataclass(frozen=True, slots=True)
class Push:
    """What a folded wall pushes the shell up by over `share` [n] of the opening, which rises from 0 closed.

    `force` [n] and its ends `low` and `high` are [N/m of wall].
    """

    share: Array
    force: Array
    low: Array
    high: Array


def tip_judged(
    depth: ArrayLike, obstacles: tuple[Obstacle, ...], place: str, clear: float = TIP_CLEAR
) -> tuple[Judged, ...]:
    """Return the room left beyond the tip of the fold before each obstacle, against `clear` [m].

    `depth` to which the fold reaches inward [m], [...]; `place` names the wall.
    """
    return tuple(against(TIP, one.depth - array_of(depth), clear, f"{place}, {one.name}") for one in obstacles)


def bundle_judged(height: ArrayLike, room: ArrayLike, place: str) -> Judged:
    """Return the bundle's `height` against the `room` above it (`Cavity.height_at`), both [m], [...]."""
    return against(BUNDLE, height, room, place)


def hang_judged(hang: ArrayLike, drop: ArrayLike, place: str) -> Judged:
    """Return how far the fold may `hang` below the ring against the clear `drop` there, both [m], [...]."""
    return against(HANG, hang, drop, place)


def push_judged(push: ArrayLike, limit: ArrayLike, place: str) -> Judged:
    """Return the `push` on the closed shell against its `limit`, both [N/m], per metre of wall, [...]."""
    return against(PUSH, push, limit, place)


def place_push(runs: tuple[Folded, ...], drive_share: Array, points: int = 41, reach: float = 0.25) -> Push:
    """Return the push of one wall over the last part of the way down, [N/m]: middle, least and greatest of the `runs`.

    `drive_share` [k] of the opening at the points of their drive, from 1 open to 0 closed [1]; the curve has `points`
    from closed up to the share `reach` [1]. What a run pushed on its way is read off its frames, straight between; the
    push at rest stands at closed. ValueError without runs.
    """
    if not runs:
        raise ValueError("no run yet")
    share = np.linspace(0.0, reach, points)
    curves = []
    for run in runs:
        at = np.interp(run.frame_drive, np.arange(drive_share.size), drive_share)
        order = np.argsort(at, kind="stable")
        curve = np.interp(share, at[order], run.lifts[order])
        curve[0] = run.lift
        curves.append(np.maximum(curve, 0.0))
    low, middle, high = np.quantile(curves, [0.0, 0.5, 1.0], axis=0)
    return Push(share, np.asarray(middle), np.asarray(low), np.asarray(high))
