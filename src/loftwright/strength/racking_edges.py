"""What a roof skin is held by at its outer edge, and the flat mesh on which its shear is worked out.

The skin is a flat plate in its own plane. Its edge decides more than the mesh does, so the edge is
a named condition and every number is given for two of them: `SHEAR_FLOW` lets the edges stretch
and bend freely, `NO_STRETCH` keeps their length. A closed body lies between. `RIGID_FRAME` is kept
only to show by how much it flatters.

Axes x along and y across the roof from one corner of the panel, lengths in metres.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loftwright.core.motion import Array, Flags

Numbers = NDArray[np.int64]

GRADING = 3.0
"""Exponent that draws the mesh to the corners of the opening [1]; the study is in docs/theory-strength.md."""


class Edge(StrEnum):
    """How the outer edge of the roof skin is held."""

    SHEAR_FLOW = "even shear flow along the edges, free to stretch"
    NO_STRETCH = "edges that keep their length, free to bend"
    RIGID_FRAME = "rigid pinned frame"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A roof skin `length` along and `width` across [m] with a rectangular opening in it.

    The opening begins `along` and `across` [m] from the corner of the skin and measures `opening_length` by
    `opening_width` [m]. Its corners are taken as square: a rounded corner keeps a little more.
    """

    length: float
    width: float
    along: float
    across: float
    opening_length: float
    opening_width: float

    def __post_init__(self) -> None:
        sizes = (self.length, self.width, self.along, self.across, self.opening_length, self.opening_width)
        if not all(np.isfinite(sizes)) or min(sizes) <= 0:
            raise ValueError("roof and opening need lengths above zero on every side")
        if self.along + self.opening_length >= self.length or self.across + self.opening_width >= self.width:
            raise ValueError("the opening must lie inside the roof, with some skin left on every side")

    @property
    def ends(self) -> tuple[float, float, float, float]:
        """Rear, front, right and left side of the opening [m]."""
        return self.along, self.along + self.opening_length, self.across, self.across + self.opening_width


def centred(length: float, width: float, opening_length: float, opening_width: float) -> Sheet:
    """Return a skin of `length` by `width` [m] with an `opening_length` by `opening_width` [m] in its middle.

    ValueError where the opening leaves no skin.
    """
    return Sheet(
        length,
        width,
        (length - opening_length) / 2,
        (width - opening_width) / 2,
        opening_length,
        opening_width,
    )


def lines(size: float, start: float, end: float, fineness: int, grading: float = GRADING) -> Array:
    """Return grid lines [m] over 0..`size` [m], drawn to the opening's sides `start` and `end` [m].

    Over a length l graded to one end, line i of n stands at l (i/n)^`grading` from that end (1), [1]; the span of
    the opening is graded to both. `fineness` elements over each margin, twice as many over the opening.
    """
    share = np.linspace(0.0, 1.0, fineness + 1) ** grading
    middle = (start + end) / 2
    parts = (
        start * (1.0 - share[::-1]),
        start + (middle - start) * share[1:],
        end - (end - middle) * share[-2::-1],
        end + (size - end) * share[1:],
    )
    return np.concatenate(parts)


@dataclass(frozen=True, slots=True)
class Plate:
    """A meshed plate of unit E t: its matrix [1], and for each unknown its place [m] and direction (0 x, 1 y)."""

    sheet: Sheet
    matrix: Any
    place: Array
    """[2, unknowns]"""
    direction: Numbers
    """[unknowns]"""

    def on(self, axis: int, at: float) -> Flags:
        """Return which unknowns lie on the line where coordinate `axis` equals `at` [m], [unknowns]."""
        return np.asarray(np.abs(self.place[axis] - at) < 1e-9)

    def find(self, direction: int, x: float, y: float) -> int:
        """Return the unknown in `direction` at the point `x`, `y` [m]."""
        return int(np.flatnonzero((self.direction == direction) & self.on(0, x) & self.on(1, y))[0])

    def side(self, direction: int, axis: int, at: float) -> Numbers:
        """Return the unknowns in `direction` on a whole outer side, coordinate `axis` equal `at` [m], in order."""
        found = np.flatnonzero((self.direction == direction) & self.on(axis, at))
        return np.asarray(found[np.argsort(self.place[1 - axis][found])])


def mesh_plate(sheet: Sheet, poisson: float, fineness: int, *, opened: bool = True, grading: float = GRADING) -> Plate:
    """Return the plate in plane stress on eight- or nine-node quadrilaterals graded to the opening's corners.

    Per unit E t, with Poisson's ratio `poisson` [1], the energy density is
    1/2 [lam (tr e)^2 + 2 mu e : e], lam = nu / (1 - nu^2), mu = 1 / (2 (1 + nu)) (1).
    `fineness` elements over each margin, `grading` [1] as in `lines`; `opened` False leaves the skin whole.
    Source: any text on plane stress, e.g. Timoshenko and Goodier, Theory of Elasticity, section 11.
    """
    from skfem import Basis, ElementQuad2, ElementVector, MeshQuad

    rear, front, right, left = sheet.ends
    mesh = MeshQuad.init_tensor(
        lines(sheet.length, rear, front, fineness, grading), lines(sheet.width, right, left, fineness, grading)
    )
    if opened:
        x, y = mesh.p[:, mesh.t].mean(axis=1)
        mesh = mesh.remove_elements(np.flatnonzero((x > rear) & (x < front) & (y > right) & (y < left)))
    return plate_on(sheet, Basis(mesh, ElementVector(ElementQuad2())), poisson)


def plate_on(sheet: Sheet, basis: Any, poisson: float) -> Plate:
    """Return the plate of `sheet` on a ready `basis` of a quadratic vector element, for `poisson` [1]."""
    from skfem import BilinearForm
    from skfem.helpers import ddot, sym_grad, trace

    lam, mu = poisson / (1.0 - poisson**2), 0.5 / (1.0 + poisson)

    def energy(u: Any, v: Any, _: Any) -> Any:
        strain, other = sym_grad(u), sym_grad(v)
        return lam * trace(strain) * trace(other) + 2.0 * mu * ddot(strain, other)

    direction = np.zeros(basis.N, dtype=np.int64)
    for numbers in (basis.nodal_dofs, basis.facet_dofs, basis.interior_dofs):
        if numbers is not None and numbers.size:
            direction[numbers[1]] = 1
    return Plate(sheet, BilinearForm(energy).assemble(basis).tocsr(), np.asarray(basis.doflocs), direction)


def shear_load(plate: Plate) -> Array:
    """Return the nodal forces [m, per unit shear flow] of an even shear flow on all four sides, [unknowns].

    Each element side of length h gets h/6, 4h/6, h/6 at end, middle and end (1), Simpson's rule, exact for
    quadratic elements. Work done by the flow q over the mean shear angle: q gamma L W (2).
    """
    load = np.zeros(plate.direction.size)
    length, width = plate.sheet.length, plate.sheet.width
    for direction, axis, at, sign in ((0, 1, width, 1.0), (0, 1, 0.0, -1.0), (1, 0, length, 1.0), (1, 0, 0.0, -1.0)):
        side = plate.side(direction, axis, at)
        h = np.diff(plate.place[1 - axis][side][::2])
        load[side[:-1:2]] += sign * h / 6.0
        load[side[1::2]] += sign * h * 4.0 / 6.0
        load[side[2::2]] += sign * h / 6.0
    return load


def held(plate: Plate, edge: Edge) -> Any:
    """Return the sparse matrix that carries the free unknowns of a plate held by `edge` to all its unknowns.

    `SHEAR_FLOW`: three unknowns pinned, only against moving as a whole. `NO_STRETCH`: the same, and along each
    side one common displacement. `RIGID_FRAME`: every side u = gamma y, v = 0, gamma the last unknown.
    """
    from scipy import sparse

    count = plate.direction.size
    length, width = plate.sheet.length, plate.sheet.width
    if edge is Edge.RIGID_FRAME:
        rim = plate.on(0, 0.0) | plate.on(0, length) | plate.on(1, 0.0) | plate.on(1, width)
        free = np.flatnonzero(~rim)
        inside = sparse.csr_matrix((np.ones(free.size), (free, np.arange(free.size))), shape=(count, free.size))
        sheared = np.where(rim & (plate.direction == 0), plate.place[1], 0.0)
        return sparse.hstack([inside, sparse.csr_matrix(sheared[:, None])]).tocsc()
    group = np.arange(count)
    if edge is Edge.NO_STRETCH:
        for direction, axis, at in ((0, 1, 0.0), (0, 1, width), (1, 0, 0.0), (1, 0, length)):
            side = plate.side(direction, axis, at)
            group[side] = side[0]
    names, column = np.unique(group, return_inverse=True)
    pinned = [column[plate.find(0, 0.0, 0.0)], column[plate.find(1, 0.0, 0.0)], column[plate.find(1, length, 0.0)]]
    whole = sparse.csc_matrix((np.ones(count), (np.arange(count), column)), shape=(count, names.size))
    return whole[:, np.setdiff1d(np.arange(names.size), pinned)]
