"""What lines the shell inside: areas, weight and where it acts, how warm it keeps, its lamps, and the fold's room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.outline import shell_outline
from loftwright.fitout.lights import lights, route_length, strip_length
from loftwright.fitout.lining import (
    Weight,
    ceiling_area,
    ceiling_centre,
    cheeks_area,
    resistance,
    ring_strip_area,
    together,
)
from loftwright.fitout.lining_rules import leaves_room, light_enough
from loftwright.project.assemble_riding import LiningGiven, lining_given

INSET: Final = 0.10
"""How far inside the opening's edge a strip of lamps is laid [m]: judgement."""
EVENING: Final = 4.0
"""Hours of light in an evening [h]: judgement."""
BATTERY: Final = 12.0
"""Voltage of the lamps [V]."""
PLAY: Final = 0.010
"""Room left beside what the fold counts on [m]: judgement."""

THERE: Final = "The shell was weighed with its lining: it adds nothing to the balance."
NOT_THERE: Final = (
    "The lining is in the balance only as an [[item]] of kind lining: its weight and place are offered for one."
)
BRIDGES: Final = "Ribs, battens and screws let more heat through than the sum of layers says."
CAVITY: Final = (
    "The hollow is the shell's inside over the roof at its lowest end, and what the fold counts on is [stow] cavity: "
    "measured with the lining in, it counts twice."
)
SQUARE: Final = "The shell is taken straight across, its inside a box; a crown adds a few in a hundred."
LAMPS: Final = "Lamps are taken at 12 V for four hours an evening."


@dataclass(frozen=True, slots=True)
class LiningFound:
    """The lining, arrays [rows].

    Areas under the top, of the `cheeks` all round and of the `edge` strip round the opening [m2]; `weight` with its
    centre in the plane of motion, closed [kg], [m]; `planned`: what items of kind lining weigh [kg], None without any;
    `warm` and `bare`: resistance with and without it [m2 K/W]; `power` [W], `current` [A] and `evening` [W h] of the
    lamps, length of a `strip` round the ceiling and of its `cable` [m]; `hollow` over the roof [m] and the `cavity` the
    fold counts on [m].
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    given: LiningGiven
    ceiling: Array
    cheeks: Array
    edge: Array
    weight: Weight
    planned: Array | None
    warm: Array
    bare: Array
    power: Array
    current: Array
    evening: Array
    strip: Array
    cable: Array
    hollow: Array
    cavity: Array


def the_lining(base: Basis) -> LiningFound | None:
    """Return the lining with its judgements; None without [lining]."""
    project, at = base.project, base.at
    if project.lining is None:
        return None
    shell, rim = (base.full(np.asarray(v)) for v in (base.outline.thickness, base.outline.rim))
    given = lining_given(project, at, shell)
    x, z, wide = _inside(base)
    top = ceiling_area(x, z, wide)
    sides = cheeks_area(x, z, rim)
    ends = np.asarray(wide * (z[:, 0] + z[:, -1] - 2 * rim))
    weight = _weight(base, given, (x, z), (top, sides, ends))
    radius = np.zeros(base.rows) if project.cut.corner_radius is None else at("cut.corner_radius")
    size = at("opening.length"), at("opening.width")
    edge = ring_strip_area(*size, at("van.roof_build") + at("roof.upstand"), np.minimum(radius, np.minimum(*size) / 2))
    warm = resistance(given.layers, given.conducts)
    bare = resistance(given.layers[-1:], given.conducts[-1:])
    lamps = lights(1.0, at("lining.lights"), 0.0, 0.0, BATTERY, EVENING)
    lowest = np.minimum(z[:, 0], z[:, -1])
    cavity = base.full(at("stow.cavity"))
    mine = [i for i, item in enumerate(project.item) if item.kind == "lining" and item.state == "add"]
    planned = None if not mine else base.full(np.sum([at(f"item.{i}.mass") for i in mine], axis=0))
    judged = [leaves_room(base.full(given.thickness), lowest, cavity, PLAY)]
    if planned is not None and not project.lining.there:
        judged.append(light_enough(weight.mass, planned))
    there = THERE if project.lining.there else NOT_THERE
    return LiningFound(
        judged=tuple(judged),
        said=(there, BRIDGES, CAVITY, SQUARE, LAMPS),
        given=given,
        ceiling=top,
        cheeks=np.asarray(sides + ends),
        edge=base.full(edge),
        weight=weight,
        planned=planned,
        warm=base.full(warm),
        bare=base.full(bare),
        power=base.full(lamps.power),
        current=base.full(lamps.current),
        evening=base.full(lamps.energy),
        strip=base.full(strip_length(*size, INSET)),
        cable=base.full(_cable(x, z, wide)),
        hollow=lowest,
        cavity=cavity,
    )


def _inside(base: Basis) -> tuple[Array, Array, Array]:
    """Return the corners of the inside of the shell's top, x and z closed [m], [rows, 3], and its width [m], [rows]."""
    one = base.outline
    rear = -np.asarray(one.overhang)
    x, z = shell_outline(
        rear,
        rear + np.asarray(one.shell_length),
        one.rim,
        one.rear,
        one.middle,
        one.front,
        thickness=one.thickness,
    )
    wide = np.maximum(base.roof.rim.width - 2 * np.asarray(one.thickness), 0.0)
    every = base.rows, 3
    return np.broadcast_to(x[..., 1:4], every), np.broadcast_to(z[..., 1:4], every), base.full(wide)


def _weight(base: Basis, given: LiningGiven, line: tuple[Array, Array], areas: tuple[Array, Array, Array]) -> Weight:
    """Return the weight of the lining on top, sides and ends, and its centre."""
    x, z = line
    top, sides, ends = areas
    rim, per = base.full(np.asarray(base.outline.rim)), given.per_area
    centre_x, centre_z = ceiling_centre(x, z)
    half = (centre_z + rim) / 2
    near, far = z[:, 0] - rim, z[:, -1] - rim
    both = np.maximum(near + far, 1e-9)
    end_x = (near * x[:, 0] + far * x[:, -1]) / both
    masses = np.stack([per * top, per * sides, per * ends], axis=-1)
    return together(
        masses,
        np.stack([centre_x, centre_x, end_x], axis=-1),
        np.stack([centre_z, half, half], axis=-1),
    )


def _cable(x: Array, z: Array, wide: Array) -> Array:
    """Return the length of cable from the middle of one side along the ceiling to both ends [m], [rows]."""
    zero = np.zeros_like(wide)
    points = np.stack(
        [
            np.stack([x[:, 0], wide / 2, z[:, 0]], axis=-1),
            np.stack([x[:, 1], wide / 2, z[:, 1]], axis=-1),
            np.stack([x[:, 2], wide / 2, z[:, 2]], axis=-1),
            np.stack([x[:, 2], zero, z[:, 2]], axis=-1),
        ],
        axis=-2,
    )
    return route_length(points)
