"""What a strip of cloth, its clamps and its surroundings are for the elastic chain, and what comes out of a run.

Plane of the strip: u inward (into the van), z up, origin at the lower clamp. Forces are per metre of rim.
"""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.core.motion import Array


@dataclass(frozen=True, slots=True)
class Strand:
    """A strip of cloth: `length` [m], `mass` [kg/m2], `stiffness` B in bending [N m], `thickness` [m] in contact."""

    length: float
    mass: float
    stiffness: float
    thickness: float


@dataclass(frozen=True, slots=True)
class Drive:
    """The upper clamp over the lowering, from open to closed: `u`, `z` [m] and `lean` [rad], each [k], evenly in time.

    `lean` is the direction in which the cloth leaves the upper clamp downwards, 0 straight down, positive inward; the
    lower clamp holds it by `foot_lean` [rad] from straight up, positive inward. `seconds` is how long it takes.
    """

    u: Array
    z: Array
    lean: Array
    seconds: float
    foot_lean: float = 0.0


@dataclass(frozen=True, slots=True)
class Room:
    """What the strip may touch and what pulls at it.

    `boxes` [b, 4]: u and z of one corner, then of the other [m], fixed to the van. `ceiling` [m]: the shell's inside
    above the upper clamp, square to the shell; `tilt` [k] the shell's turn in this plane [rad]. `bars` [c, 3]: u, z
    [m] from the upper clamp in the shell's frame and radius [m]. `friction` [1]. `pulls` [p, 2]: share of the strip's
    length from the lower clamp [1] and steady pull inward [N/m]. `holds` [h, 3]: share of the length [1], and u, z [m]
    to which that point is drawn by a cord that gets shorter as the shell comes down, to nothing when it is closed.
    `pressure` [k]: air pushing outward, square to the strip [Pa].
    """

    boxes: Array
    ceiling: float
    tilt: Array
    bars: Array
    friction: float
    pulls: Array
    holds: Array
    pressure: Array


@dataclass(frozen=True, slots=True)
class Start:
    """How the strip hangs before it comes down: `bow` [m] at its middle, inward positive, and the seed of its ripples.

    `ripple` [m] is the size of the random part.
    """

    bow: float
    seed: int
    ripple: float = 0.002


@dataclass(frozen=True, slots=True)
class Folded:
    """How it came to rest.

    `points` [n, 2]: u, z [m] of its nodes from the lower clamp; `inward`, `outward` [m]: furthest reach of the strip
    from the line between its clamps, level, 0 where it does not go there; `bundle` [m]: height from the lowest to the
    highest node of what lies further from that line than half the greater reach, middles of the layers; `lift` [N/m]:
    mean push of the strip and its contacts on the shell, up positive; `rest` [1]: greatest kinetic energy over the
    weight times the length in the last quarter second, above 1e-8 where it did not come to rest; `strain` [1]:
    greatest; `steps`, `step` [s]; `frames` [f, n, 2] [m] on the way, the last at rest, with `frame_drive` [f], index
    into the drive; `lifts` [f]: the push on the shell at each frame [N/m].
    """

    points: Array
    inward: float
    outward: float
    bundle: float
    lift: float
    rest: float
    strain: float
    steps: int
    step: float
    frames: Array
    frame_drive: Array
    lifts: Array
