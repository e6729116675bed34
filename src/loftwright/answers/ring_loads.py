"""What pushes and pulls on the ring round the opening: hinges or arms, spring feet, a person, snow, the cloth."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.motion import Array, thinned
from loftwright.mechanics.feel import feel, state
from loftwright.mechanics.reactions import reactions
from loftwright.project.assemble_road import latch_line
from loftwright.project.plane import LENGTHWISE
from loftwright.reference.wind import SNOW
from loftwright.strength.raised_shape import DIRECTIONS
from loftwright.strength.snow import snow_load

if TYPE_CHECKING:
    from loftwright.answers.held_road import RoadFound
    from loftwright.answers.held_wind import WindFound

PERSON: Final = 1500.0
"""A person who kneels on the closed roof, and moves [N]: judgement, 100 kg and half as much again."""
KNEELS: Final = 0.25
"""A person's middle is at least this far inside the shell's edges [m]: judgement, half of knees to hands."""
LOWEST: Final = 0.12
"""Points further than this below the roof [m] are taken to stand on the van's walls, not on the ring: judgement."""
STEPS: Final = ("closed", "a quarter open", "half open", "three quarters open", "open")
CASES: Final = (
    *STEPS,
    "closed, a person on top",
    "closed, snow on top",
    "on the road at the wanted speed",
    *(f"open, gust from the {direction}" for direction in DIRECTIONS),
)
"""Cases of load on the ring, in order."""
OPEN, PERSON_ON_TOP, SNOW_ON_TOP, DRIVING, GUST = 4, 5, 6, 7, 8
CLOSED: Final = (0, PERSON_ON_TOP, SNOW_ON_TOP, DRIVING)
"""Cases in which the shell lies on its seal."""
MOST_FORCE: Final = 1.0e5
"""Forces beyond this [N] are taken as this: near a dead point of the arms they grow without bound."""

ON_POSTS: Final = "Posts of guides are taken to stand on the van's floor or walls: the ring is judged without them."
BELOW: Final = (
    "Arm pins and spring feet more than 120 mm below the roof are taken to stand on the van's walls, not on the ring."
)


@dataclass(frozen=True, slots=True)
class Plate:
    """One pair of hinge plates or arm pins on the van: force of one side on the ring.

    `forward` in the plane of motion and `up` [N], [rows, 5] over `STEPS`; `along` place in that plane and `height` over
    the roof [m], [rows].
    """

    name: str
    forward: Array
    up: Array
    along: Array
    height: Array


@dataclass(frozen=True, slots=True)
class RingLoads:
    """Loads on the ring, in the van's axes.

    `points` [p] nominal places (x, y) [m] with `names`; `force` [rows, cases, p, 3] [N]; `height` [rows, p] [m] above
    the ring; `cloth` [rows, cases] pull inwards [N/m]; `cases` by name; `hinges`: which points carry hinge plates or
    arm pins; `plates`: these by themselves; the closed shell follows the ring at the points `shell` and is held at
    `far` (x, y) [m] by what does not stand on the ring.
    """

    points: tuple[tuple[float, float], ...]
    names: tuple[str, ...]
    force: Array
    height: Array
    cloth: Array
    cases: tuple[str, ...]
    hinges: tuple[int, ...]
    plates: tuple[Plate, ...]
    shell: tuple[int, ...]
    far: tuple[tuple[float, float], ...]
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Pair:
    """A pair of points left and right in the plane of motion; force of one side [rows, 5] [N]."""

    name: str
    along: Array
    height: Array
    aside: Array
    forward: Array
    up: Array
    part: str = ""
    """What the wind calls it, with its side in front; "" for what is no hinge and no arm."""


def ring_loads(base: Basis, wind: WindFound, road: RoadFound) -> RingLoads:
    """Return what acts on the ring.

    Hinges, arms and spring feet, springs in the sun, over five stations of the travel moving slowly down; when open,
    the cloth pulls the ring inwards as well. Closed, a person kneels at a corner of the free edge: the shell hands that
    on by levers to stops and, where those stand on the ring, hinges; the seal takes nothing, on the safe side. Or snow
    lies on the roof: half of it on the stops, half on the hinges where those stand on the ring. On the road the
    latches pull up with what `road` says that they hold down, and a hinge with what it puts on the shell; of arms the
    road is reckoned at the latches alone. In the wanted gust with its factor, from four directions, hinges and arms
    pull as `wind` says.
    """
    pairs, said = _moved(base)
    stops = _stops(base)
    every = [*pairs, stops]
    rows, count = base.rows, 2 * len(every)
    force, height = np.zeros((rows, len(CASES), count, 3)), np.zeros((rows, count))
    points: list[tuple[float, float]] = []
    names: list[str] = []
    lengthwise = base.plane is LENGTHWISE
    across = float(base.at("opening.width")[0])
    middle = float(base.at("opening.length")[0]) / 2
    sides = ("left", "right") if lengthwise else ("front", "rear")
    for k, pair in enumerate(every):
        for i in (0, 1):
            at, aside, point = float(pair.along[0]), (1 - 2 * i) * float(pair.aside[0]), 2 * k + i
            points.append((at, aside) if lengthwise else (middle + aside, across / 2 - at))
            names.append(f"{sides[i]} {pair.name}")
            height[:, point] = pair.height
            force[:, :5, point, 0 if lengthwise else 1] = pair.forward if lengthwise else -pair.forward
            force[:, :5, point, 2] = pair.up
    # With something on top the closed roof's springs go on pushing; a gust finds it open.
    force[:, PERSON_ON_TOP : DRIVING + 1] = force[:, :1]
    force[:, GUST:] = force[:, OPEN : OPEN + 1]
    top = np.asarray(base.outline.shell_length) * base.at(base.plane.shell_across)
    snow = base.full(snow_load(base.at("body.snow"), top, SNOW["settled"][1]))
    hinged = [2 * k + i for k, pair in enumerate(pairs) if pair.part for i in (0, 1)]
    if base.project.body.walked_on:
        force[:, PERSON_ON_TOP, :, 2] -= PERSON * _kneeling(base, pairs, stops)
    force[:, SNOW_ON_TOP, count - 2 :, 2] -= snow[:, None] / 4
    if hinged:
        force[:, SNOW_ON_TOP, hinged, 2] -= snow[:, None] / 2 / len(hinged)
    force[:, DRIVING, count - 2 :, 2] += _sane(road.line / 2)[:, None]
    for k, pair in enumerate(pairs):
        if pair.part == "hinge":
            along, up, sideways = (-_sane(road.hinge[:, axis]) for axis in range(3))
            pull = np.stack([along, sideways, up] if lengthwise else [sideways, -along, up], axis=-1)
            force[:, DRIVING, 2 * k : 2 * k + 2] = pull[:, None]
        for i in (0, 1):
            part = f"{sides[i]} {pair.part}"
            if part in wind.parts:
                force[:, GUST:, 2 * k + i] = -_sane(wind.vector[:, :, wind.parts.index(part)])
    cloth = np.zeros((rows, len(CASES)))
    cloth[:, OPEN] = base.at("forces.cloth_tension")
    cloth[:, GUST:] = cloth[:, OPEN : OPEN + 1]
    plates = tuple(Plate(p.name, p.forward, p.up, p.along, p.height) for p in pairs if p.part)
    away = () if hinged else _far_end(points[count - 2 :], lengthwise, 2 * middle, across)
    shell = (*hinged, count - 2, count - 1)
    return RingLoads(tuple(points), tuple(names), force, height, cloth, CASES, tuple(hinged), plates, shell, away, said)


def _far_end(
    stops: list[tuple[float, float]], lengthwise: bool, length: float, width: float
) -> tuple[tuple[float, float], ...]:
    """Return points opposite the `stops` (x, y) [m] at the other end of an opening of `length` and `width` [m]."""
    if lengthwise:
        return tuple((length - x, y) for x, y in stops)
    return tuple((x, -y if abs(y) > width / 4 else width / 2) for x, y in stops)


def _sane(force: Array) -> Array:
    return np.asarray(np.clip(np.nan_to_num(force), -MOST_FORCE, MOST_FORCE))


def _kneeling(base: Basis, pairs: list[_Pair], stops: _Pair) -> Array:
    """Return the share of every point in a person's weight, [rows, p] [1]: a stiff shell on stops and hinges.

    Along, between stops and hinges as between two supports (1); across, between left and right of each (2). No support
    pulls: a person beyond them all stands on the nearest.
    """
    hinges = [pair for pair in pairs if pair.part]
    middle = base.full(base.at(base.plane.shell_across) / 2 - KNEELS)

    def sides(pair: _Pair) -> Array:
        left = np.clip(0.5 + middle / np.maximum(2 * pair.aside, 1e-3), 0.5, 1.0)
        return np.stack([left, 1 - left], axis=-1)

    shares = [np.zeros((base.rows, 2)) for _ in pairs]
    ahead = np.ones(base.rows)
    if hinges:
        far = np.mean([pair.along for pair in hinges], axis=0)
        lip = base.roof.lip[0]
        person = lip + np.sign(far - lip) * KNEELS
        ahead = np.clip((person - far) / (stops.along - far), 0.0, 1.0)
        shares = [
            sides(pair) * ((1 - ahead) / len(hinges))[:, None] if pair.part else none
            for pair, none in zip(pairs, shares, strict=True)
        ]
    return np.concatenate([*shares, sides(stops) * ahead[:, None]], axis=-1)


def _stops(base: Basis) -> _Pair:
    """Return where latches and stops stand at the free edge; nothing acts there but in the cases that say so."""
    along, _ = latch_line(base.project, base.at, base.roof)
    spread = base.at("latches.spread") if base.project.latches.count > 1 else base.at(base.plane.opening_across) / 2
    none = np.zeros((base.rows, 5))
    return _Pair("stop", base.full(along), base.full(0.0), base.full(spread / 2), none, none)


def _moved(base: Basis) -> tuple[list[_Pair], tuple[str, ...]]:
    """Return the points on the ring that carry the moving roof, springs in the sun, slowly down."""
    if base.project.linkage.kind == "guides":
        return [], (ON_POSTS,)
    step = (base.roof.travel.fraction.size - 1) // 4
    roof = replace(base.roof, travel=thinned(base.roof.travel, step))
    felt = feel(roof)
    pushes = [push.at(state("sun", "new")) for push in felt.springs]
    found = reactions(
        roof.travel,
        roof.body,
        pushes,
        felt.loads,
        roof.pin_moment,
        roof.handle,
        roof.pins,
        going="down",
        lifters=felt.lifters,
    )

    def each(value: Array) -> Array:
        whole = np.broadcast_to(value, (base.rows, 5))
        return np.asarray(np.clip(np.where(found.bounded, whole, 0.0), -MOST_FORCE, MOST_FORCE))

    pairs, low = [], False
    spacing = base.full(base.roof.spacing / 2)
    parts = ("hinge",) if len(roof.pins.van) == 1 else ("arm a", "arm b")
    for part, (x, z), (forward, up) in zip(parts, roof.pins.van, found.at_van, strict=True):
        if float(np.broadcast_to(z, (base.rows,))[0]) < -LOWEST:
            low = True
            continue
        # Left and right together, and the other way round: what the hinge does to the van.
        name = part if part == "hinge" else f"foot of {part}"
        pairs.append(_Pair(name, base.full(x), base.full(z), spacing, -each(forward) / 2, -each(up) / 2, part))
    for fitted, push in zip(roof.fitted, pushes, strict=True):
        mount = push.mount
        for end, on, sign in (("foot", mount.foot_on, -1.0), ("head", mount.head_on, 1.0)):
            if on != "van":
                continue
            x, z = (mount.foot_x, mount.foot_z) if end == "foot" else (mount.head_x, mount.head_z)
            if float(np.broadcast_to(z, (base.rows,))[0]) < -LOWEST:
                low = True
                continue
            one = sign * mount.count / 2 * np.maximum(push.raising, push.lowering)
            line = push.line
            pairs.append(
                _Pair(
                    f"{end} of {fitted.name}",
                    base.full(x),
                    base.full(z),
                    base.full(fitted.place),
                    each(one * line.along_x),
                    each(one * line.along_z),
                )
            )
    said = (BELOW,) if low else ()
    if roof.gear:
        said = (*said, "What coil and torsion springs and cords do to the ring at their own feet is left out.")
    return pairs, said
