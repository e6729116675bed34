"""Packers that set two hinges level, in line and parallel on a roof curved both ways.

Two hinge plates lie at y = +- spacing / 2 with their middle at x; their pins run across the van, along y.
A level plate with its pin at one height on both sides is level, in line and parallel at once, so
each packer is what is left between its plate and the roof. Sides come last but for corners or
points of a profile: [..., 2], right (y < 0) first, as round the rim.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.judged import Judged
from loftwright.core.motion import Array, array_of, column
from loftwright.strength.fit_rules import AXES, HINGE_HEIGHT, PACKER_THIN, ROCKS, WEDGE
from loftwright.strength.fit_surfaces import Surface, at_origin

SIDES = ("right", "left")
PROFILE = 21
"""Points along the underside of a template."""

LEAST_PACKER = 0.004
"""Least thickness of a packer anywhere [m]: judgement."""
STEEPEST = 0.14
"""Steepest wedge [1]: the taper of DIN 435 washers; read in a public reproduction."""
BEDDING = 0.002
"""Thickest bed of sealant or filled resin under a packer [m]: judgement."""
SETTING = 0.001
"""How true a straight rod's far end can be set by tape [m]: judgement."""
PIN_OFF = 0.003
"""Packers may put a pin this far [m] off the height in the file, as a bracket marked with a tape: judgement."""


@dataclass(frozen=True, slots=True)
class Plates:
    """Two hinge plates; all [m], each [...].

    `x` of their middle, `spacing` between their middles, `length` along x, `width` across, `pin`: height of
    the pin's middle above the underside of the plate.
    """

    x: Array
    spacing: Array
    length: Array
    width: Array
    pin: Array

    def nominal(self) -> Plates:
        """Return row 0, the nominal one, with one row left."""
        sizes = (self.x, self.spacing, self.length, self.width, self.pin)
        return Plates(*(np.atleast_1d(size)[:1] for size in sizes))

    def places(self) -> tuple[Array, Array]:
        """Return x and y [m] of the middles, each [..., 2]."""
        y = column(self.spacing) / 2.0 * np.array([-1.0, 1.0])
        return column(self.x) + 0.0 * y, y + 0.0 * column(self.x)


def plates(*, x: ArrayLike, spacing: ArrayLike, length: ArrayLike, width: ArrayLike, pin: ArrayLike) -> Plates:
    """Return `Plates` from `x`, `spacing`, `length`, `width` and height of the `pin` [m], each [...]."""
    return Plates(*(array_of(value) for value in (x, spacing, length, width, pin)))


@dataclass(frozen=True, slots=True)
class Packers:
    """The two packers, right then left; thicknesses [m], slopes [1], angles [rad].

    `middle` [..., 2]; `corners` [..., 2, 4]: rear inner, rear outer, front inner, front outer; `slope_along`,
    `slope_across` [..., 2]: slope of the roof under the plate, by x and by y; `thinnest` [..., 2]: least
    thickness anywhere under the plate; `rock` [..., 2]: gap left under a flat underside.
    """

    middle: Array
    corners: Array
    slope_along: Array
    slope_across: Array
    thinnest: Array
    rock: Array

    @property
    def wedge_along(self) -> Array:
        """Wedge angle in the side view [rad], [..., 2]: positive is thicker to the rear."""
        return np.arctan(self.slope_along)

    @property
    def wedge_across(self) -> Array:
        """Wedge angle seen from the rear [rad], [..., 2]: positive is thicker to the right."""
        return np.arctan(self.slope_across)

    @property
    def steepness(self) -> Array:
        """Slope of the underside along its steepest line [1], [..., 2]."""
        return np.hypot(self.slope_along, self.slope_across)


def packers(roof: Surface, hinge: Plates, height: ArrayLike) -> Packers:
    """Return the `Packers` that bring both pins to `height` [m], [...], over the roof at the origin.

    (1) thickness = height - pin - (roof(x, y) - roof(0, 0)), anywhere under the plate: its top is level.
    (2) slopes = the roof's gradient at the plate's middle; wedge angles are their arc tangents, one in each view.
    (3) rock = range of roof minus that tangent plane over the plate: what a flat underside misses at worst.
    The plate is sampled on 5 x 5 places, corners, edges and middle among them; a crest between two of them is missed by
    at most curvature x (length / 8)^2 / 2: under 0.01 mm for 0.1 m on a bend of 0.1 /m. Source: derivation.
    """
    x, y = hinge.places()
    top = column(array_of(height) + at_origin(roof) - hinge.pin)
    along, across = roof.slopes(x, y)
    share = np.linspace(-0.5, 0.5, 5)
    du = (column(column(hinge.length)) * np.repeat(share, 5)) + 0.0 * y[..., None]
    dv = (column(column(hinge.width)) * np.tile(share, 5)) + 0.0 * y[..., None]
    under = _heights(roof, x[..., None] + du, y[..., None] + dv)
    thick = column(top) - under
    off = under - along[..., None] * du - across[..., None] * dv
    # Inner is towards y = 0: for the right packer the end with the larger y.
    rear_low, rear_high, front_low, front_high = (thick[..., k] for k in (0, 4, 20, 24))
    right = np.array([True, False])
    corners = [
        np.where(right, rear_high, rear_low),
        np.where(right, rear_low, rear_high),
        np.where(right, front_high, front_low),
        np.where(right, front_low, front_high),
    ]
    return Packers(
        thick[..., 12],
        np.stack(corners, axis=-1),
        along,
        across,
        thick.min(axis=-1),
        off.max(axis=-1) - off.min(axis=-1),
    )


def _heights(roof: Surface, x: Array, y: Array) -> Array:
    """Return heights [m] at places [..., 2, n], by folding sides and places into one axis."""
    shape = np.broadcast_shapes(x.shape, y.shape)
    flat = (*shape[:-2], shape[-2] * shape[-1])
    found = roof.height(np.broadcast_to(x, shape).reshape(flat), np.broadcast_to(y, shape).reshape(flat))
    return found.reshape(*found.shape[:-1], shape[-2], shape[-1])


def least_height(roof: Surface, hinge: Plates, thinnest: ArrayLike = LEAST_PACKER) -> Array:
    """Return the lowest pin height [m], [...], at which both packers are at least `thinnest` [m], [...].

    By (1), over the roof at the origin: height at which the thinner of the two just has it.
    """
    at_nought = packers(roof, hinge, 0.0)
    return np.asarray(array_of(thinnest) - at_nought.thinnest.min(axis=-1))


def pin_heights(roof: Surface, hinge: Plates, right: ArrayLike, left: ArrayLike) -> Array:
    """Return the height [m] of each pin's middle, [..., 2], on packers made so thick at their middle.

    (4) roof(x, y) - roof(0, 0) + thickness + pin, over the roof at the origin: how packers move the hinge.
    `right`, `left` thickness [m], [...].
    """
    x, y = hinge.places()
    thick = np.stack(np.broadcast_arrays(array_of(right), array_of(left)), axis=-1)
    return np.asarray(roof.height(x, y) + thick + column(hinge.pin - at_origin(roof)))


def profiles(roof: Surface, hinge: Plates, height: ArrayLike, view: str) -> Array:
    """Return the outlines [m], [..., 2, PROFILE + 2, 2], of both packers at full size, for templates.

    `view` "along" cuts through the plate's middle in the side view, seen from the left, "across" seen from the rear
    with left to the left: the first number is x, or y, from the plate's middle, the second is height above the roof
    there. The underside follows the roof, then the level top (1); pins at `height` [m], [...].
    The outline closes on its first point. ValueError for another view.
    """
    if view not in ("along", "across"):
        raise ValueError('view must be "along" or "across"')
    x, y = hinge.places()
    reach = column(hinge.length if view == "along" else hinge.width)
    step = column(reach) * np.linspace(-0.5, 0.5, PROFILE) + 0.0 * y[..., None]
    du, dv = (step, 0.0 * step) if view == "along" else (0.0 * step, step)
    under = _heights(roof, x[..., None] + du, y[..., None] + dv)
    floor = roof.height(x, y)[..., None]
    top = column(column(array_of(height) + at_origin(roof) - hinge.pin)) - floor
    under, top, step = np.broadcast_arrays(under - floor, top, step)
    ups = np.concatenate([under, top[..., -1:], top[..., :1]], axis=-1)
    ways = np.concatenate([step, step[..., -1:], step[..., :1]], axis=-1)
    return np.stack([ways, ups], axis=-1)


def pin_allowance(play: ArrayLike, pin_length: ArrayLike, opens: ArrayLike) -> Array:
    """Return how far [rad], [...], either pin may point off the line through both hinges.

    A pin of length l with clearance c in its bearing tilts by c / l. Bolted on where the closed roof lies free, a pin
    that is out by a walks on a cone as the roof turns by q about the common line and is then out by
    2 a sin(q / 2). Neither this nor a itself may be more than c / l:
    (5) a = (c / l) / max(1, 2 sin(q / 2)).
    `play` c, `pin_length` l [m]; `opens` q [rad], counted as half a turn beyond that; each [...]. Both pins leaning to
    opposite sides by a: 2 a between them. Small angles. Source: derivation.

    >>> round(float(pin_allowance(0.0005, 0.05, 0.5)), 4)
    0.01
    """
    q = np.minimum(np.abs(array_of(opens)), np.pi)
    return np.asarray(array_of(play) / array_of(pin_length) / np.maximum(1.0, 2.0 * np.sin(q / 2.0)))


def rod_reading(spacing: ArrayLike, allowance: ArrayLike) -> Array:
    """Return how far [m], [...], a straight rod held along one pin may point past the middle of the other.

    (6) spacing tan(a): up and down, fore and aft, or both together as the long side of the triangle. It reads both
    faults at once: a pin that leans or toes, and pins at unlike height or place, because the line through
    both hinges is what counts. `spacing` [m], `allowance` a [rad], each [...]. Source: derivation.
    """
    return np.asarray(array_of(spacing) * np.tan(array_of(allowance)))


def packer_error(width: ArrayLike, allowance: ArrayLike) -> Array:
    """Return how much [m], [...], the inner edge of a packer may be too thick against its outer edge.

    (7) width tan(a): its plate leans by a. `width` [m] across the van, `allowance` a [rad], each [...].
    """
    return np.asarray(array_of(width) * np.tan(array_of(allowance)))


def judge_packers(
    made: Packers,
    *,
    least: ArrayLike = LEAST_PACKER,
    steepest: ArrayLike = STEEPEST,
    bedding: ArrayLike = BEDDING,
) -> tuple[Judged, ...]:
    """Return both packers judged: thin (FIT-506), steep (FIT-507), rocking (FIT-508).

    `least` thickness [m], `steepest` slope [1], thickest `bedding` [m]; each [...].
    """
    found = []
    for k, side in enumerate(SIDES):
        for rule, values, limit in (
            (PACKER_THIN, made.thinnest, least),
            (WEDGE, made.steepness, steepest),
            (ROCKS, made.rock, bedding),
        ):
            value = values[..., k]
            found.append(Judged(rule, value, np.broadcast_to(array_of(limit), value.shape), side))
    return tuple(found)


def judge_axes(
    *,
    spacing: ArrayLike,
    play: ArrayLike | None,
    pin_length: ArrayLike,
    opens: ArrayLike,
    setting: ArrayLike = SETTING,
) -> Judged:
    """Return how true the pins can be set judged against what their play takes, both as a rod reads (FIT-509).

    `spacing` of the hinges, `play` of a pin in its bearing (None where not known), `pin_length`, `setting`: how true
    the rod's end can be set [m]; `opens` [rad]; each [...].
    """
    if play is None:
        wanting = "measure the play of the hinge pins"
        return Judged(AXES, array_of(setting), None, unknown=wanting, missing="hinge_play")
    limit = rod_reading(spacing, pin_allowance(play, pin_length, opens))
    return Judged(AXES, np.broadcast_to(array_of(setting), limit.shape), limit)


def judge_made(pins: Array, height: ArrayLike, most: ArrayLike = PIN_OFF) -> Judged:
    """Return how far the `pins` [m], [..., 2], on packers as made are off the planned `height` [m], [...] (FIT-512).

    The worse of the two counts, against `most` [m], [...].
    """
    off = np.abs(pins - column(height)).max(axis=-1)
    return Judged(HINGE_HEIGHT, off, np.broadcast_to(array_of(most), off.shape))
