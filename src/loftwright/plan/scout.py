"""Worth starting? Where one could stand under the open roof, and which parts it would take.

Axes as everywhere: x to the cab, z up, from the rear edge of the opening at roof height. The ceiling is
drawn in the side view as one line from the rear edge of the opening to its front edge: rear cloth wall, rear
end of the shell, its top through three stations, front end, front cloth wall.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.choices import Edge, LinkageKind
from loftwright.core.motion import Array
from loftwright.core.outline import shell_outline

AtHand = Literal["shell", "hinges", "springs"]

ANY_SKIN: Final = "shell skin, any lay-up"
"""What the price list calls the skin of a shell of which it is not known what it is made of."""
CLOTH_EXTRA: Final = 1.25
"""Cloth to buy over cloth in the walls: hems, laps, slack for folding and offcuts. Judgement."""
LEAST_FLOOR: Final = 0.5
"""Length of floor [m] on which one can stand and turn round. Judgement."""
JUST_INSIDE: Final = 1e-6
"""How far inside the edge of the opening [m] a place at its edge is looked at: the edge itself is no ceiling."""

STAND: Final = Rule(
    "PLAN-101",
    "You cannot stand upright under the open roof",
    "You can stand upright under the open roof",
    "m",
    "at least",
    "The highest place under the open shell is lower than the standing height you want.",
    "Open further, build the shell deeper, or hinge it so that its high end is over the floor.",
    Source("derivation", "ceiling line in the side view, docs/theory.md", "derivation"),
)
ROOM: Final = Rule(
    "PLAN-102",
    "There is hardly any floor on which to stand upright",
    "There is floor enough on which to stand upright",
    "m",
    "at least",
    "Under a roof that rises at one end only the far part is high enough.",
    "Open further, build the shell deeper, or lift both ends on arms.",
    Source("judgement", "room to stand and turn round", "judgement"),
)


@dataclass(frozen=True, slots=True)
class Outline:
    """Opening and shell when closed; each number is [m] and shaped [...].

    `opening_length`, `opening_width`; `shell_length` of the rim and `overhang` of the rim behind the rear edge
    of the opening; `rim` height of the rim above the roof; `rear`, `middle`, `front` outer height of the shell
    above its rim; `thickness` from outside to lining.
    """

    opening_length: ArrayLike
    opening_width: ArrayLike
    shell_length: ArrayLike
    overhang: ArrayLike
    rim: ArrayLike
    rear: ArrayLike
    middle: ArrayLike
    front: ArrayLike
    thickness: ArrayLike


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a closed point p goes when the roof is open: (x, z) + R(phi) p, in [m] and [rad], each [...]."""

    x: ArrayLike
    z: ArrayLike
    phi: ArrayLike


def ceiling(outline: Outline, pose: Pose) -> tuple[Array, Array]:
    """Return the corners of the ceiling line, x and z [m], each [..., 7], for the `outline` in its open `pose`.

    Corners: rear edge of the opening; inside of the rear rim; inside of the top at the rear end, half-way and at
    the front end; inside of the front rim; front edge of the opening.
    """
    o = outline
    rear = -np.asarray(o.overhang, dtype=np.float64)
    front = rear + np.asarray(o.shell_length, dtype=np.float64)
    x, z = shell_outline(rear, front, o.rim, o.rear, o.middle, o.front, thickness=o.thickness)
    tx, tz, phi = (np.asarray(v, dtype=np.float64)[..., None] for v in (pose.x, pose.z, pose.phi))
    cos, sin = np.cos(phi), np.sin(phi)
    end = np.asarray(o.opening_length, dtype=np.float64)[..., None]
    nought = np.zeros(1)
    return (
        _joined(nought, _joined(tx + cos * x - sin * z, end)),
        _joined(nought, _joined(tz + sin * x + cos * z, 0.0 * end)),
    )


def clear_at(line: tuple[Array, Array], x: ArrayLike) -> Array:
    """Return the lowest ceiling [m above the roof], [...], over the place x.

    Parameters
    ----------
    line: corners from `ceiling` [m], each [..., k].
    x: place along the opening [m], [...].

    Returns
    -------
    Height [m]; infinite where no part of the line lies above x.
    """
    xs, zs = line
    at = np.asarray(x, dtype=np.float64)[..., None]
    x0, x1, z0, z1 = xs[..., :-1], xs[..., 1:], zs[..., :-1], zs[..., 1:]
    run = x1 - x0
    wide = np.abs(run) > 1e-9
    share = (at - x0) / np.where(wide, run, 1.0)
    inside = wide & (share >= -1e-9) & (share <= 1 + 1e-9)
    return np.asarray(np.min(np.where(inside, z0 + share * (z1 - z0), np.inf), axis=-1), dtype=np.float64)


def highest(line: tuple[Array, Array], opening_length: ArrayLike) -> tuple[Array, Array]:
    """Return the highest ceiling [m above the roof] over the opening and the place x [m] where it is, each [...].

    Parameters
    ----------
    line: corners from `ceiling` [m], each [..., k].
    opening_length: [m], [...].

    Validity: exact while the line runs forward over the opening; where it doubles back the highest corner counts.
    """
    xs, _ = line
    end = np.asarray(opening_length, dtype=np.float64)[..., None]
    places = np.clip(xs, JUST_INSIDE, end - JUST_INSIDE)
    over = np.stack([clear_at(line, places[..., i]) for i in range(places.shape[-1])], axis=-1)
    over = np.where(np.isfinite(over), over, -np.inf)
    at = over.argmax(axis=-1)[..., None]
    places = np.broadcast_to(places, over.shape)
    return np.take_along_axis(over, at, axis=-1)[..., 0], np.take_along_axis(places, at, axis=-1)[..., 0]


def standing_length(
    line: tuple[Array, Array],
    opening_length: ArrayLike,
    need: ArrayLike,
    taken: Sequence[tuple[ArrayLike, ArrayLike]] = (),
) -> Array:
    """Return the length of floor under the opening over which the ceiling is high enough.

    Each part of the line that lies below `need` blocks an interval of x, found exactly because the part is
    straight; so does each stretch that is taken. What the intervals together leave free is the answer:

        free = L - | union of [a_i, b_i] within [0, L] |                                         (1)

    Parameters
    ----------
    line: corners from `ceiling` [m], each [..., k].
    opening_length: L [m], [...].
    need: ceiling wanted above the roof [m], [...].
    taken: stretches of x (from, to) [m], each [...], where no one can stand, such as a bed.

    Returns
    -------
    Length [m], [...].
    """
    xs, zs = line
    limit = np.asarray(opening_length, dtype=np.float64)[..., None]
    want = np.asarray(need, dtype=np.float64)[..., None]
    x0, x1, z0, z1 = xs[..., :-1], xs[..., 1:], zs[..., :-1], zs[..., 1:]
    rise = z1 - z0
    flat = np.abs(rise) < 1e-12
    cross = np.clip((want - z0) / np.where(flat, 1.0, rise), 0.0, 1.0)
    # The part below `want` runs over shares [low, high] of the straight part.
    low = np.where(flat, 0.0, np.where(rise > 0, 0.0, cross))
    high = np.where(flat, np.where(z0 < want, 1.0, 0.0), np.where(rise > 0, cross, 1.0))
    ends = [x0 + low * (x1 - x0), x0 + high * (x1 - x0)]
    begin, finish = np.minimum(*ends), np.maximum(*ends)
    for stretch in taken:
        a, b = (np.asarray(v, dtype=np.float64)[..., None] for v in stretch)
        begin, finish = _joined(begin, np.minimum(a, b)), _joined(finish, np.maximum(a, b))
    begin, finish, limit = np.broadcast_arrays(begin, finish, limit)
    begin, finish = np.clip(begin, 0.0, limit), np.clip(finish, 0.0, limit)
    order = np.argsort(begin, axis=-1)
    begin, finish = np.take_along_axis(begin, order, -1), np.take_along_axis(finish, order, -1)
    reached = np.maximum.accumulate(finish, axis=-1)
    before = np.concatenate((np.zeros((*begin.shape[:-1], 1)), reached[..., :-1]), axis=-1)
    blocked = np.sum(np.maximum(finish - np.maximum(begin, before), 0.0), axis=-1)
    return np.asarray(np.maximum(limit[..., 0] - blocked, 0.0), dtype=np.float64)


def _joined(left: Array, right: Array) -> Array:
    shape = np.broadcast_shapes(left.shape[:-1], right.shape[:-1])
    pair = [np.broadcast_to(v, (*shape, v.shape[-1])) for v in (left, right)]
    return np.concatenate(pair, axis=-1)


@dataclass(frozen=True, slots=True, eq=False)
class Headroom:
    """Standing under the open roof; each number [...].

    `best`: floor to ceiling [m] at the highest place, `best_x` [m]; `won`: `best` less the height inside before
    the roof was cut [m];
    `floor_length` [m] and `floor_area` [m2] on which the person can stand upright.
    """

    best: Array
    best_x: Array
    won: Array
    floor_length: Array
    floor_area: Array


def headroom(
    outline: Outline,
    pose: Pose,
    floor_to_roof: ArrayLike,
    roof_build: ArrayLike,
    person: ArrayLike,
    taken: Sequence[tuple[ArrayLike, ArrayLike]] = (),
) -> Headroom:
    """Return how high one can stand under the open roof, and on how much floor.

        standing(x) = floor_to_roof + ceiling(x)                                                 (2)
        won = max standing - (floor_to_roof - roof_build)                                        (3)
        area = opening_width |{x: standing(x) >= person}|                                        (4)

    Parameters
    ----------
    outline: opening and closed shell [m].
    pose: the shell when open.
    floor_to_roof: from the floor inside to the outer skin of the roof [m], [...].
    roof_build: skin and lining together [m], [...].
    person: standing height wanted [m], [...].
    taken: stretches of x (from, to) [m] where no one can stand.

    Returns
    -------
    `Headroom`.

    Validity: side view, so the whole width of the opening counts; cloth drawn straight.
    Source: derivation.
    """
    line = ceiling(outline, pose)
    floor = np.asarray(floor_to_roof, dtype=np.float64)
    length = np.asarray(outline.opening_length, dtype=np.float64)
    top, best_x = highest(line, length)
    best = floor + top
    free = standing_length(line, length, np.asarray(person, dtype=np.float64) - floor, taken)
    return Headroom(
        best=best,
        best_x=best_x,
        won=best - (floor - np.asarray(roof_build, dtype=np.float64)),
        floor_length=free,
        floor_area=free * np.asarray(outline.opening_width, dtype=np.float64),
    )


def wall_area(outline: Outline, pose: Pose) -> Array:
    """Return the area of the cloth walls drawn straight [m2], [...], for the `outline` in its open `pose`.

    Two sides, each the four-sided figure between the opening and the rim of the open shell in the side view,
    and the two ends, each as wide as the opening:

        A = 2 A_side + w (l_rear + l_front)                                                      (5)

    Validity: figures that do not cross themselves; walls that stand upright across the van.
    """
    xs, zs = ceiling(outline, pose)
    x, z = xs[..., [0, 1, 5, 6]], zs[..., [0, 1, 5, 6]]
    side = np.abs(np.sum(x * np.roll(z, -1, axis=-1) - z * np.roll(x, -1, axis=-1), axis=-1)) / 2
    ends = np.hypot(x[..., 1] - x[..., 0], z[..., 1] - z[..., 0]) + np.hypot(
        x[..., 3] - x[..., 2], z[..., 3] - z[..., 2]
    )
    return np.asarray(2 * side + np.asarray(outline.opening_width, dtype=np.float64) * ends, dtype=np.float64)


def parts_needed(
    *,
    kind: LinkageKind,
    end: Edge,
    opening_length: float,
    opening_width: float,
    shell_length: float,
    shell_width: float,
    skin_area: float,
    cloth_area: float,
    made_of: str,
    springs: int = 2,
    at_hand: Set[AtHand] = frozenset(),
) -> dict[str, float]:
    """Return how many of each part are still to be got, by the names of the price table.

    Parameters
    ----------
    kind, end: the linkage and its end.
    opening_length, opening_width, shell_length, shell_width: [m].
    skin_area: skin of the shell [m2]. cloth_area: cloth in the walls [m2], from `wall_area`.
    made_of: the shell's lay-up, as the project file names it.
    springs: gas springs in all [1].
    at_hand: what is there already.

    Returns
    -------
    Counts in the unit of each price: pieces, pairs, sets, metres, square metres.
    """
    around_opening = 2 * (opening_length + opening_width)
    around_shell = 2 * (shell_length + shell_width)
    counts = {
        "wall cloth": cloth_area * CLOTH_EXTRA,
        "cloth trim": 2 * around_opening,
        "ring section": around_opening,
        "rim seal": around_shell,
        "latch": 2.0 if kind == "hinge" else 4.0,
        "prop": 1.0,
        "lip strap": 1.0,
        "fastenings": 1.0,
        "sealant and primer": 1.0,
        "blades and protection": 1.0,
        "spring bracket": 2.0 * springs,
        "ball stud": 2.0 * springs,
    }
    if kind == "hinge" and end == "rear":
        counts["safety catch"] = 1.0
    if "shell" not in at_hand:
        counts[ANY_SKIN if made_of == "unknown" else f"shell skin of {made_of}"] = skin_area
    if "hinges" not in at_hand:
        counts["hinge pair" if kind == "hinge" else "lifting arm set"] = 1.0
    if "springs" not in at_hand:
        counts["gas spring pair"] = springs / 2
    return counts
