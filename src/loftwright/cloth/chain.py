"""One strip of cloth between two rims as an elastic chain in its own plane: how it folds as the shell comes down.

Plane of the strip: u inward (into the van), z up, origin at the lower clamp. Forces are per metre of rim.

The strip is cut into nodes a few millimetres apart that keep their distance; weight, bending (curvature taken as the
bend between neighbours over their distance), air and pulls act as forces, step by step in time, with a little damping.
It touches boxes, the shell, bars and itself, with friction. First it is let down from a stretched shape into the open
pose and comes to rest, then the shell comes down, then it comes to rest again. The direction it takes is a choice that
any small thing decides: no number from one run may be quoted.

The compiler of the loop is imported when the first strip is run, not before.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any, Final

import numpy as np

from loftwright.cloth.chain_march import NODE, SETTLE, STILL, Hung, Phase, advance, hang, node_at
from loftwright.cloth.chain_parts import Drive, Folded, Room, Start, Strand
from loftwright.core.motion import Array

__all__ = ["Drive", "Folded", "Room", "Start", "Strand", "run", "run_many"]

DAMPING: Final = 1.0
"""Damping while the shell comes down [1/s]: a swing of a second dies to a third. Judgement."""
LET_DOWN: Final = 0.5
"""How long it takes to be let down from the stretched shape into the open pose [s]."""
FRAMES: Final = 60
"""Frames kept of a lowering."""
KNOTS: Final = 9
"""Places along the strip between which its ripples run."""


def _ripples(start: Start, count: int) -> Array:
    """Return how far the strip stands off the line between its clamps at `count` places, bow and ripples [m]."""
    even = np.linspace(0.0, 1.0, count)
    rough = np.random.Generator(np.random.PCG64(start.seed)).random(KNOTS) * 2.0 - 1.0
    rough[[0, -1]] = 0.0
    place = even * (KNOTS - 1)
    low = np.minimum(place.astype(np.int64), KNOTS - 2)
    part = place - low
    smooth = part * part * (3.0 - 2.0 * part)
    return np.asarray(
        16.0 * start.bow * (even * (1.0 - even)) ** 2
        + start.ripple * (rough[low] + smooth * (rough[low + 1] - rough[low]))
    )


def _stretched(strand: Strand, drive: Drive, start: Start) -> Array:
    """Return the strip as a polyline [m, 2] [m] with bow and ripples along the line of the open clamps.

    The upper end stands so far out along that line that the strip is as long as it is. ValueError where it is shorter
    than the way between its clamps, or bowed too far.
    """
    way = np.array([drive.u[0], drive.z[0]])
    gap = float(np.hypot(way[0], way[1]))
    if strand.length < gap:
        raise ValueError(f"the strip is {(gap - strand.length) * 1000:.1f} mm shorter than the way between its clamps")
    off = _ripples(start, 401)
    even = np.linspace(0.0, 1.0, 401)
    if float(np.sum(np.abs(np.diff(off)))) >= strand.length:
        raise ValueError("the strip is bowed too far for its length")
    low, high = 0.0, strand.length
    for _ in range(60):
        middle = (low + high) / 2.0
        longer = float(np.sum(np.hypot(middle * np.diff(even), np.diff(off)))) > strand.length
        low, high = (low, middle) if longer else (middle, high)
    along = way / gap
    across = np.array([along[1], -along[0]])
    return np.asarray(even[:, None] * low * along + off[:, None] * across)


def run(
    strand: Strand,
    drive: Drive,
    room: Room,
    start: Start,
    *,
    node: float = NODE,
    step: float | None = None,
    settle: float = SETTLE,
    damping: float = DAMPING,
    still: float = STILL,
    frames: int = FRAMES,
    march: Any = None,
) -> Folded:
    """Return how `strand` comes to rest in `room`, lowered by `drive` from `start`.

    `node` [m]: distance between nodes; `step` [s]: by default 1.3 times below the limit of `longest_step`; `settle`
    [s]: longest time to come to rest, both before and after; `damping` [1/s] on the way; `still` [1]: when it rests;
    `frames` to keep; `march`: the loop, compiled by default.
    ValueError where the step is above its limit, the strip is shorter than the way between its open clamps, or rows
    of `drive` and `room` differ in number.
    Validity: straight part of a wall, one strip moving as one; the sense of a fold is a matter of chance.
    Source: explicit steps of an elastic chain, derivation; checked against exact elasticas.
    """
    k = len(drive.u)
    if any(len(v) != k for v in (drive.z, drive.lean, room.tilt, room.pressure)) or k < 2:
        raise ValueError("drive and room need the same number of points, two at least")
    path = np.stack([drive.u, drive.z], axis=-1)
    leave = np.stack([np.sin(drive.lean), -np.cos(drive.lean)], axis=-1)
    foot = np.array([np.sin(drive.foot_lean), np.cos(drive.foot_lean)])
    shape = _stretched(strand, drive, start)
    hung = hang(strand, shape, foot, node=node, step=step)
    last = len(hung.x) - 1
    for where, force in room.pulls:
        hung.loads[node_at(np.array([[where]]), last)[0], 0] += force
    opened = replace(room, tilt=room.tilt[[0, 0]], pressure=room.pressure[[0, 0]])
    down = np.stack([shape[-1], path[0]])
    advance(hung, down, leave[[0, 0]], opened, seconds=LET_DOWN, settle=settle, still=still, march=march)
    at = node_at(room.holds, last)
    reach = np.hypot(*(hung.x[at] - room.holds[:, 1:]).T)
    how: dict[str, Any] = {"march": march, "still": still}
    falling = advance(
        hung,
        path,
        leave,
        room,
        seconds=drive.seconds,
        settle=0.0,
        damping=damping,
        frames=frames,
        hold_reach=reach,
        **how,
    )
    stay = replace(room, tilt=room.tilt[[-1, -1]], pressure=room.pressure[[-1, -1]])
    drawn = np.zeros_like(reach)
    ended = advance(hung, path[[-1, -1]], leave[[-1, -1]], stay, seconds=0.0, settle=settle, hold_reach=drawn, **how)
    return _folded(hung, falling, ended, k)


def _folded(hung: Hung, falling: Phase, ended: Phase, k: int) -> Folded:
    """Return what came of a lowering over a drive of `k` points."""
    x = hung.x
    top = x[-1]
    share = np.clip(x[:, 1] / top[1], 0.0, 1.0) if abs(top[1]) > 1e-9 else np.zeros(len(x))
    off = x[:, 0] - share * top[0]
    inward, outward = max(0.0, float(np.max(off))), max(0.0, -float(np.min(off)))
    bundle = x[np.abs(off) >= 0.5 * max(inward, outward), 1]
    frames = np.concatenate([falling.frames, x[None]])
    rows = np.append(falling.notes[:, 0] * (k - 1), k - 1.0)
    lifts = np.append(falling.notes[:, 1], ended.lift)
    return Folded(
        x.copy(),
        inward,
        outward,
        float(np.ptp(bundle)),
        ended.lift,
        ended.rest,
        max(falling.strain, ended.strain),
        falling.steps + ended.steps,
        hung.step,
        frames,
        rows,
        lifts,
    )


def run_many(
    strand: Strand,
    drive: Drive,
    room: Room,
    starts: Iterable[Start],
    *,
    tell: Callable[[float], None] = lambda share: None,
    stopped: Callable[[], bool] = lambda: False,
    **how: Any,
) -> tuple[Folded, ...]:
    """Return one result of `run` for each of `starts`, one after another; `strand`, `drive`, `room` and `how` as there.

    `tell` hears the share done [1] after each; once `stopped()` is true, those so far are returned.
    """
    every = tuple(starts)
    done: list[Folded] = []
    for start in every:
        if stopped():
            break
        done.append(run(strand, drive, room, start, **how))
        tell(len(done) / len(every))
    return tuple(done)
