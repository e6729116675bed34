"""From the file's keys to the two lines of the cloth walls, for every row: built up from sizes, or fitted to points.

Frame of the van: x to the cab, y left, z up over the roof at the point from which heights are counted. Random errors
of measuring go into the drawn rows alone; they are laid on by the answers through `Shaken`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from loftwright.cloth.rim_fit import RimFit, fitted
from loftwright.cloth.rim_model import errors, linear
from loftwright.cloth.rim_noise import perturbed
from loftwright.cloth.rim_seams import SeamPlaces, seam_places
from loftwright.cloth.rims import Heights, Loop, moved, reshaped, rounded
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.mechanics.feel import Roof
from loftwright.project.assemble_fit import shapes
from loftwright.project.assemble_wind import sound
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, plane_of
from loftwright.strength.fit_surfaces import Surface, at_origin

POINTS_FROM: Final = 8
"""Measured points from which a line is fitted to them: four sides, the radius and the surface with some to spare."""
DEFAULT_RADIUS: Final = 0.06
"""Corner radius of the opening where none is written [m]: a large hole saw, judgement."""
LEAST_RADIUS: Final = 0.005
"""Cloth goes round no sharper corner [m]: judgement, the folded edge of canvas."""
RADIUS_TOLD: Final = 0.010
"""Standard deviation of a fitted corner radius above which the written one is taken [m]: judgement."""
NOT_GIVEN: Final = (
    "The places in [[seam]] cannot all be seams of this line: the seams stand in the middle of its corners."
)
NO_ROOM: Final = "So far past the corners there is no room for a seam: the seams stand in the middle of the corners."
BEHIND: Final = ("past the rear right corner", "past the front left corner")
MISSED: Final = 0.0005
"""What the smooth skin misses points of the roof by before it is told [m]: judgement."""
PER: Final = 320
"""Points round each line."""

LineName = Literal["lower", "upper"]


@dataclass(frozen=True, slots=True)
class ClothLine:
    """One line, roof closed: `loop` [rows, n, 3], the fit to its points if it comes from these, and what to say."""

    loop: Loop
    fit: RimFit | None
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shaken:
    """In which rows the lines carry errors of measuring: `draws` of `rows`, of `size` [rows] [m], by `seed`."""

    rows: int
    draws: slice
    size: Array
    seed: int

    @property
    def count(self) -> int:
        """How many rows carry errors."""
        return int(self.draws.stop - self.draws.start)


def lower_line(project: Project, at: Values) -> tuple[ClothLine, Array]:
    """Return the line on the ring, and the height [m] of the roof's skin beside each of its points, [rows, n]."""
    given = shapes(project, at)
    out, up = at("walls.lower_outset"), at("walls.lower_height")
    said: list[str] = []
    if project.walls.lower_radius is not None:
        radius = at("walls.lower_radius")
    elif project.cut.corner_radius is not None:
        radius = at("cut.corner_radius") + out
    else:
        radius = np.full_like(out, DEFAULT_RADIUS) + out
        said.append(
            "The corners of the cloth's lower line are taken as a large hole saw cuts them, as neither [walls] "
            "lower_radius nor [cut] corner_radius is written."
        )
    long, wide = at("opening.length") + 2.0 * out, at("opening.width") + 2.0 * out
    zero = at_origin(given.under)[..., None]

    def skin(loop: Loop) -> Array:
        return np.asarray(given.roof.height(loop.points[..., 0], loop.points[..., 1]) - zero)

    # Parabolas first, so that lengths along corners are exact; then the roof as it was measured.
    bent = Heights(
        up, given.roof.crown * (wide / given.roof.width) ** 2, given.roof.camber * (long / given.roof.length) ** 2
    )
    plain = rounded(-out, long, wide, _fits(radius, long, wide), bent, per=PER)
    said += _smoothed(project, given.roof, float(out[0]))
    height = skin(plain) + up[..., None]
    built = reshaped(plain, np.stack(np.broadcast_arrays(*_xy(plain), height), axis=-1))
    line = _measured(project, at, "lower", built, radius, said)
    return line, skin(line.loop)


def upper_line(project: Project, at: Values) -> ClothLine:
    """Return the line in the shell, roof closed."""
    given = shapes(project, at)
    rim, inset = given.rim, at("walls.upper_inset")
    surface = rim.surface
    radius = rim.radius - inset if project.walls.upper_radius is None else at("walls.upper_radius")
    long, wide = rim.length - 2.0 * inset, rim.width - 2.0 * inset
    # The written height is that of the rim at the middles of the two ends in the plane of motion.
    if plane_of(project) is CROSSWISE:
        ends = [(rim.middle, side * rim.width / 2.0) for side in (-1.0, 1.0)]
    else:
        ends = [(rim.rear + share * rim.length, 0.0 * rim.rear) for share in (0.0, 1.0)]
    x, y = (np.stack(np.broadcast_arrays(*(end[k] for end in ends)), axis=-1) for k in (0, 1))
    datum = at("shell.rim_height") + at("walls.upper_height") - surface.height(x, y).mean(axis=-1)
    bent = Heights(datum, surface.crown * (wide / rim.width) ** 2, surface.camber * (long / rim.length) ** 2)
    plain = rounded(rim.rear + inset, long, wide, _fits(radius, long, wide), bent, per=PER)
    height = surface.height(*_xy(plain)) + datum[..., None]
    built = reshaped(plain, np.stack(np.broadcast_arrays(*_xy(plain), height), axis=-1))
    return _measured(project, at, "upper", built, radius, [])


def _smoothed(project: Project, roof: Surface, out: float) -> list[str]:
    """Return what the smooth skin misses the roof's own points at the hole by, where that is more than `MISSED`.

    `out`: how far the lower line lies outside the hole [m].
    """
    if roof.points is None:
        return []
    spots, off = roof.points, roof.residuals()
    x, y, z = (np.atleast_2d(one)[0] for one in (spots.x, spots.y, off))
    long, wide = project.opening.length.nominal, project.opening.width.nominal / 2.0
    there = (x >= -out - 1e-9) & (x <= long + out + 1e-9) & (np.abs(y) <= wide + out + 1e-9)
    most = float(np.max(np.abs(z[there]), initial=0.0))
    if most < MISSED:
        return []
    return [
        "One smooth skin is laid through all points of the roof, those beyond the hole too: at the hole it misses "
        f"them by up to {Wording(project.settings.units).short_length(most)}, and so may the lower line. Points "
        "measured on the line itself ([[lower_point]]) are free of that."
    ]


def _xy(loop: Loop) -> tuple[Array, Array]:
    return np.asarray(loop.points[..., 0]), np.asarray(loop.points[..., 1])


def _fits(radius: Array, long: Array, wide: Array) -> Array:
    return np.clip(radius, LEAST_RADIUS, np.minimum(long, wide) / 2.0 * 0.98)


def _measured(project: Project, at: Values, name: LineName, built: Loop, radius: Array, said: list[str]) -> ClothLine:
    """Return the line fitted to its measured points, or the one `built` from sizes where there are too few."""
    count = len(project.lower_point if name == "lower" else project.upper_point)
    if not count:
        return ClothLine(built, None, tuple(said))
    key = f"{name}_point"
    if count < POINTS_FROM:
        said.append(
            f"The {count} measured points of the {name} line are not used: with {POINTS_FROM} or more the line is "
            "fitted to them."
        )
        return ClothLine(built, None, tuple(said))
    spots = np.stack([np.stack([at(f"{key}.{i}.{axis}") for axis in "xyz"], axis=-1) for i in range(count)], axis=-2)
    sd = max(float(at("walls.rim_error")[0]), 1e-4)
    try:
        fit = _fit(spots[0], sd, max(float(radius[0]), LEAST_RADIUS))
    except ValueError as fault:
        said.append(f"The measured points of the {name} line are not used: {fault}.")
        return ClothLine(built, None, tuple(said))
    given = f"its sizes in [opening], [{'cut' if name == 'lower' else 'shell'}] and [walls] are left aside"
    said.append(f"The {name} line is fitted to its {count} measured points; {given}.")
    if fit.radius is not None:
        said.append(f"The points hardly tell the corners of the {name} line: their radius is taken as it is written.")
    return ClothLine(_with(fit, fit.values + _follows(fit, spots)), fit, tuple(said))


def _fit(points: Array, sd: float, radius: float) -> RimFit:
    """Return the fit, with the corner radius as written where the points hardly tell it."""
    try:
        free = fitted(points, sd=sd, follow_bumps=True)
    except ValueError:
        return fitted(points, sd=sd, radius=radius, follow_bumps=True)
    if "radius" in free.names and free.deviations[free.names.index("radius")] < RADIUS_TOLD:
        return free
    return fitted(points, sd=sd, radius=radius, follow_bumps=True)


def _with(fit: RimFit, values: Array) -> Loop:
    """Return the fitted rim with other values, [rows, p], as far as a rim can have them."""
    values = values.copy()
    short = np.minimum(values[:, 1] - values[:, 0], values[:, 3] - values[:, 2]) / 2.0
    for k, name in enumerate(fit.names):
        if "radius" in name:
            values[:, k] = np.clip(values[:, k], max(fit.values[k] / 10.0, LEAST_RADIUS), short)
    return replace(fit, values=values).loop(PER)


def _follows(fit: RimFit, spots: Array) -> Array:
    """Return how the fitted values [m], [rows, p], follow points that move from row to row, to first order.

    J dv = -(change of the errors) by least squares (1); an error changes by its own point alone, so three small steps
    tell all. `spots` [m], [rows, k, 3]. Source: derivation.
    """
    first, step = spots[0], 1e-5
    moves = spots - first
    if not np.any(moves):
        return np.zeros((len(spots), fit.values.size))
    jacobian = linear(first, fit.names, fit.values, fit.radius)[1]
    before = np.stack(errors(first, fit.names, fit.values, fit.radius))
    change = np.zeros((len(spots), 2, len(first)))
    for axis in range(3):
        there = np.stack(errors(first + step * np.eye(3)[axis], fit.names, fit.values, fit.radius))
        change += (there - before) / step * moves[:, None, :, axis]
    return np.asarray(-change.reshape(len(spots), -1) @ np.linalg.pinv(jacobian).T)


def shaken(line: ClothLine, errors_of: Shaken, name: LineName) -> Loop:
    """Return a line with random errors in its drawn rows, none in the others.

    Of a line built from sizes every point moves, smoothly along it; of a fitted one its values, by their covariance.
    A drawn row has the same errors however many other rows there are.
    """
    loop, count = line.loop, errors_of.count
    rows = np.broadcast_to(loop.points, (errors_of.rows, *loop.points.shape[-2:]))
    seed = 2 * errors_of.seed + (0 if name == "lower" else 1)
    share = np.zeros((errors_of.rows, 1, 1))
    if line.fit is None:
        share[errors_of.draws, 0, 0] = errors_of.size[errors_of.draws]
        one = loop.row()
        chance = perturbed(one, 1.0, seed, count + 1).points[1:] - one.points
    else:
        share[errors_of.draws, 0, 0] = errors_of.size[errors_of.draws] / line.fit.sd
        drawn = line.fit.drawn(seed, count + 1, PER).points
        chance = drawn[1:] - drawn[:1]
    moves = np.zeros(rows.shape)
    moves[errors_of.draws] = chance
    arcs = np.broadcast_to(loop.arc, (errors_of.rows, loop.arc.shape[-1]))
    return reshaped(replace(loop, points=rows, arc=arcs), rows + share * moves)


Pose = tuple[Array, Array, Array]
"""Where the shell is: shift along the plane of motion and up [m], turn [rad], each [rows]."""


def open_pose(roof: Roof, step: float = 0.0) -> Pose:
    """Return where the shell is with the roof open on its stop, or by `step` farther along its travel.

    `step` [rad] of the angle that drives the roof, [m] in straight guides, to second order.
    """
    shell, full = roof.travel.shell, (roof.possible.size, roof.travel.fraction.size)

    def last(name: str) -> Array:
        return sound(np.broadcast_to(np.asarray(getattr(shell, name)), full), roof)[:, -1]

    x, z, phi = (last(n) + last(f"d{n}") * step + last(f"dd{n}") * step**2 / 2.0 for n in ("x", "z", "phi"))
    return x, z, phi


def opened(project: Project, at: Values, loop: Loop, pose: Pose) -> Loop:
    """Return a loop of the closed shell in another pose."""
    if plane_of(project) is CROSSWISE:
        return moved(loop, *pose, "crosswise", edge=at("opening.width") / 2.0)
    return moved(loop, *pose)


def seams(project: Project, at: Values, lower: Loop, upper: Loop) -> tuple[SeamPlaces, tuple[str, ...]]:
    """Return where the seams stand on both lines in every row, and what to say of it."""
    walls = project.walls
    split = ("right", "left") if walls.split_sides else ()
    past = at("walls.seam_past")
    if project.seam:
        found = _given(project, at, lower, upper)
        if found is not None:
            return found, ()
        return seam_places(lower, upper, "mid corner", split=split), (NOT_GIVEN,)
    if walls.seams == "one strip":
        end = project.linkage.end if project.linkage.kind == "hinge" else "rear"
        said = (f"The one strip is joined in the middle of the {end} wall.",)
        return seam_places(lower, upper, "one strip", strip_at=end, split=split), said
    if walls.seams == "past the corner":
        try:
            found = seam_places(lower, upper, "past the corner", past=float(past[0]), split=split)
            return _later(found, past - past[0]), ()
        except ValueError:
            return seam_places(lower, upper, "mid corner", split=split), (NO_ROOM,)
    return seam_places(lower, upper, "mid corner", split=split), ()


def _later(found: SeamPlaces, more: Array) -> SeamPlaces:
    """Return seams past the corners that stand `more` [m], [rows], farther from them."""
    if not np.any(more):
        return found
    # Away from the corner is forward along the rim behind two of them, backward before the two others.
    signs = {name: 1.0 if name.startswith(BEHIND) else -1.0 for name in found.names if "corner" in name}
    shift = more[:, None] * np.array([signs.get(name, 0.0) for name in found.names])
    return replace(found, lower=np.asarray(found.lower + shift), upper=np.asarray(found.upper + shift))


def _given(project: Project, at: Values, lower: Loop, upper: Loop) -> SeamPlaces | None:
    """Return the seams where the file has them; None where that cannot be."""
    around = float(lower.row().perimeter)
    places = [at(f"seam.{i}.at") for i in range(len(project.seam))]
    first: Sequence[float] = [float(place[0]) for place in places]
    if any(not 0.0 <= place < around for place in first):
        return None
    try:
        found = seam_places(lower, upper, "given", given=first)
    except ValueError:
        return None
    order = [int(name.split()[-1]) - 1 for name in found.names]
    shift = np.stack([places[k] - first[k] for k in order], axis=-1)
    if not np.any(shift):
        return found
    ratio = (upper.perimeter / lower.perimeter)[..., None]
    return replace(found, lower=np.asarray(found.lower + shift), upper=np.asarray(found.upper + shift * ratio))
