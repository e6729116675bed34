"""One march of the elastic chain: how a strip is laid out in nodes and stepped on until it rests.

The compiler of the loop is imported when the first strip is stepped, not before.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from math import ceil, sqrt
from typing import Any, Final

import numpy as np

from loftwright.cloth import chain_kernel as kernel
from loftwright.cloth.chain_parts import Room, Strand
from loftwright.core.errors import Bug
from loftwright.core.motion import Array

G0: Final = 9.80665
"""Standard acceleration of fall [m/s2]."""
NODE: Final = 0.006
"""Distance between nodes [m]: halving it changes the depth of a fold by less than 3 mm."""
MARGIN: Final = 1.3
"""How much shorter than its limit a step is taken [1]."""
STEP_LONGEST: Final = 5.0e-4
"""Longest step for limp cloth [s]."""
CALM: Final = 8.0
"""Damping while the strip comes to rest before and after [1/s]."""
STILL: Final = 1e-8
"""Kinetic energy over the weight times the length below which a strip rests [1]: a third of a millimetre a second."""
QUIET: Final = 0.25
"""For how long it must be that still [s]."""
SETTLE: Final = 8.0
"""How long at most it is given to come to rest [s]; `Folded.rest` tells when that was not enough."""


@dataclass(slots=True)
class Hung:
    """A strip on its way: positions `x` [n, 2] [m] of its nodes, their speeds `v` [n, 2] [m/s], and how it is held.

    `spacing` h and `step` [m], [s]; `foot` [2]: direction in which it leaves the lower clamp [1]; `free`: whether the
    upper end hangs free; `touch`: whether it touches itself; `gravity` [m/s2]; `loads` [n, 2]: steady forces [N/m].
    """

    strand: Strand
    x: Array
    v: Array
    spacing: float
    step: float
    foot: Array
    free: bool = False
    touch: bool = True
    gravity: float = G0
    loads: Array = field(default_factory=lambda: np.zeros((0, 2)))


@dataclass(frozen=True, slots=True)
class Phase:
    """What one march of the loop gave: `rest` and `strain` [1], `lift` [N/m], `frames` [f, n, 2] [m], `notes` [f, 2].

    `notes`: share of the drive [1] and push on the shell [N/m] of each frame. `steps` done.
    """

    steps: int
    rest: float
    strain: float
    lift: float
    frames: Array
    notes: Array


@cache
def compiled() -> Any:
    """Return the loop compiled by numba, which is imported here; what it compiles is kept on disk between runs."""
    import numba
    from numba.extending import register_jitable

    for part in kernel.PARTS:
        register_jitable(part)
    return numba.njit(cache=True, fastmath=False)(kernel.march)


def longest_step(strand: Strand, node: float) -> float:
    """Return the step [s] above which bending of `strand` runs away, node^2 / (2 sqrt(B / m) sqrt(1 + 2 a)) (1).

    `node` [m] is the distance between nodes. From the highest frequency of a beam cut into equal cells,
    4 sqrt(B / m) / node^2 (2), and the limit of explicit steps that look a = 1/4 step ahead, (frequency step)^2
    (1 + 2 a) < 4 (3). Source: derivation.
    """
    return node**2 / (2.0 * sqrt(strand.stiffness / strand.mass) * sqrt(1.0 + 2.0 * kernel.SMOOTH))


def hang(
    strand: Strand, shape: Array, foot: Array, *, node: float = NODE, step: float | None = None, **held: Any
) -> Hung:
    """Return `strand` laid along the polyline `shape` [m, 2] [m] at nodes about `node` [m] apart, at rest.

    `foot` [2]: direction in which it leaves the lower clamp [1]. `step` [s] as in `run`; `held` as in `Hung`.
    """
    if min(strand.length, strand.mass, strand.stiffness, strand.thickness, node) <= 0.0:
        raise ValueError("length, mass, stiffness, thickness and distance of nodes must be positive")
    count = max(4, round(strand.length / node))
    spacing = strand.length / count
    limit = longest_step(strand, spacing)
    taken = min(limit / MARGIN, STEP_LONGEST) if step is None else step
    if not 0.0 < taken <= limit:
        raise ValueError(f"a step of {taken:.3g} s is above the limit of {limit:.3g} s: bending would run away")
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(shape, axis=0).T))])
    at = np.linspace(0.0, run[-1], count + 1)
    x = np.stack([np.interp(at, run, shape[:, 0]), np.interp(at, run, shape[:, 1])], axis=-1)
    hung = Hung(strand, x, np.zeros_like(x), spacing, taken, np.asarray(foot, dtype=np.float64), **held)
    if hung.loads.size == 0:
        hung.loads = np.zeros_like(x)
    return hung


def empty_room(k: int = 2) -> Room:
    """Return a room in which the strip touches nothing, for a drive of `k` points."""
    none = np.zeros(k)
    return Room(np.zeros((0, 4)), 1e3, none, np.zeros((0, 3)), 0.0, np.zeros((0, 2)), np.zeros((0, 3)), none)


def advance(
    hung: Hung,
    path: Array,
    leave: Array,
    room: Room,
    *,
    seconds: float,
    settle: float = SETTLE,
    damping: float = CALM,
    still: float = STILL,
    frames: int = 0,
    hold_reach: Array | None = None,
    march: Any = None,
) -> Phase:
    """Move the upper clamp along a path and step on until the strip rests; `hung` is changed in place.

    `path` [k, 2] [m] and `leave` [k, 2], the direction in which the strip leaves the clamp [1], evenly in time over
    `seconds` [s]; then at most `settle` [s] more, until its kinetic energy over weight times length (without weight:
    over stiffness over length) stays below `still` [1] for a quarter second. `damping` [1/s]. `frames` to keep.
    `hold_reach` [h] [m]: lengths of the cords when open; they are drawn in with the path. `march`: the loop, compiled
    by default. Bug where the step lies above its limit.
    """
    strand, x = hung.strand, hung.x
    if hung.step > longest_step(strand, hung.spacing):
        raise Bug(f"a step of {hung.step:.3g} s is above its limit: bending would run away")
    k, last = len(path), len(x) - 1
    ease = np.ones(last + 1)
    ease[0], ease[last] = 0.0, 2.0 if hung.free else 0.0
    drawn = np.ones(k) if hold_reach is None else np.linspace(1.0, 0.0, k)
    turn = np.stack([np.cos(room.tilt), np.sin(room.tilt)], axis=-1)
    drive = np.concatenate([path, leave, turn, room.pressure[:, None], drawn[:, None]], axis=1)
    weight = strand.mass * hung.gravity * strand.length**2
    unit = weight if weight > 0.0 else strand.stiffness / strand.length
    mass = strand.mass * hung.spacing
    cap = 0.4 * strand.thickness if hung.touch else 0.5 * hung.spacing
    bend = strand.stiffness / hung.spacing**3
    how = (hung.spacing, mass, bend, hung.gravity, damping, hung.step)
    numbers = np.array([*how, strand.thickness, room.friction, room.ceiling, unit, still, cap])
    moving = max(1, round(seconds / hung.step))
    window = max(1, round(QUIET / hung.step))
    most = moving + max(window, round(settle / hung.step))
    every = max(1, moving // frames) if frames else max(1, moving // 8)
    skip = 2 + ceil(1.6 * strand.thickness / hung.spacing) if hung.touch else 0
    counts = np.array([skip, int(hung.free), moving, most, window, every], dtype=np.int64)
    kept, notes, tally = np.zeros((frames, *x.shape)), np.zeros((frames, 2)), np.zeros(5)
    reach = np.full(len(room.holds), np.inf) if hold_reach is None else hold_reach
    holds = np.concatenate([room.holds[:, 1:], reach[:, None]], axis=1)
    boxes = np.concatenate(
        [np.minimum(room.boxes[:, :2], room.boxes[:, 2:]), np.maximum(room.boxes[:, :2], room.boxes[:, 2:])], axis=1
    )
    pairs = np.zeros((last * (last + 1) if hung.touch else 0, 2), dtype=np.int64)
    at = node_at(room.holds, last)
    bars = np.ascontiguousarray(room.bars, dtype=np.float64)
    loop = compiled() if march is None else march
    loop(
        x,
        hung.v,
        ease,
        numbers,
        counts,
        hung.foot,
        drive,
        hung.loads,
        boxes,
        bars,
        at,
        holds,
        pairs,
        kept,
        notes,
        tally,
    )
    if not np.all(np.isfinite(x)):
        raise Bug("the strip ran away")
    done, rest, strain, lift, taken = (float(value) for value in tally)
    return Phase(int(done), rest, strain, lift, kept[: int(taken)], notes[: int(taken)])


def node_at(table: Array, last: int) -> Any:
    """Return the nodes nearest to the shares of length in the first column of `table` [h, ...], never a clamp's."""
    return np.clip(np.rint(table[:, 0] * last), 1, last - 1).astype(np.int64)
