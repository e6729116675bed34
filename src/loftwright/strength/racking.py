"""How much of its stiffness in its own plane a roof skin keeps: whole, cut, and with a ring round the hole.

The plate is solved once for each edge condition and condensed onto the edge of the opening; a ring, a
thickness or a whole table of sections is then a small dense problem. None of it is a crash or roll-over
assessment: it says how the skin shears, elastic and unwrinkled.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.strength.cutout_rules import ENOUGH_KEPT, RING_GAIN, RING_STIFFENS
from loftwright.strength.racking_edges import Edge, Numbers, Plate, Sheet, held, mesh_plate, shear_load
from loftwright.strength.racking_ring import Corners, ring_matrices

FINENESS = 6
"""Elements over each margin of the skin: the stiffness of the cut skin is then within 0.5 % of its limit."""

ORDER = 3.0
"""Order at which the cut skin's stiffness settles as the mesh is halved, by study: docs/theory-strength.md."""

_AXIAL = np.logspace(-4.0, 1.5, 6)
_BENDING = np.logspace(-8.5, -1.5, 7)
# Ring sections from a wire to a girder, as area and second moment over the skin's thickness [m], [m3].


@dataclass(frozen=True, slots=True)
class Condensed:
    """A cut skin held by one edge condition, condensed onto the edge of its opening.

    All per unit E t: `compliance` [1] the shear angle times area over shear flow; `flexibility` [2 n, 2 n] [1] and
    `response` [2 n] [m] of the nodes at the opening to forces there and to the shear flow; the small matrices stand
    for plate, ring axially [1/m] and ring in bending [1/m3] in a basis of solved shapes.
    """

    edge: Edge
    compliance: float
    flexibility: Array
    response: Array
    clamped: float
    drive: Array
    plate: Array
    axial: Array
    bending: Array
    mesh_error: float
    """Estimated share by which the cut skin is too stiff on this mesh [1], from a mesh half as fine."""


@dataclass(frozen=True, slots=True)
class CutSkin:
    """A roof skin with its opening, ready for any thickness and any ring; Poisson's ratio `poisson` [1]."""

    sheet: Sheet
    poisson: float
    corners: Corners
    shear_flow: Condensed
    no_stretch: Condensed
    rigid_frame_kept: float
    """What a rigid pinned frame would make one believe is kept by the cut skin [1]: a warning, not an answer."""


@dataclass(frozen=True, slots=True)
class Racking:
    """Shear stiffness of a roof in its plane under one edge condition, shear flow per shear angle [N/m], each [...]."""

    edge: Edge
    intact: Array
    cut: Array
    ring: Array
    mesh_error: float

    @property
    def kept_cut(self) -> Array:
        """Share of the whole skin's stiffness that the cut skin keeps [1], [...]."""
        return np.asarray(self.cut / self.intact)

    @property
    def kept_ring(self) -> Array:
        """Share of the whole skin's stiffness kept with the ring [1], [...]; above 1 with a heavy ring."""
        return np.asarray(self.ring / self.intact)

    @property
    def given_back(self) -> Array:
        """Share of what the cut took that the ring gives back [1], [...]."""
        return np.asarray((self.ring - self.cut) / (self.intact - self.cut))


def panel_stiffness(shear_modulus: ArrayLike, thickness: ArrayLike, breadth: ArrayLike, height: ArrayLike) -> Array:
    """Return the racking stiffness [N/m] of a whole panel: force along its breadth per displacement of the far side.

    k = G t b / h (1).

    `shear_modulus` G [Pa], `thickness` t [m], `breadth` b along the force and `height` h across it [m]; each [...].
    Source: worked out from even shear, docs/theory-strength.md.

    >>> round(float(panel_stiffness(2750e6, 0.0025, 1.4, 0.6)) / 1000, 2)
    16041.67
    """
    g, t, b, h = (np.asarray(v, dtype=np.float64) for v in (shear_modulus, thickness, breadth, height))
    return np.asarray(g * t * b / h)


def cut_skin(sheet: Sheet, *, poisson: float = 0.3, fineness: int = FINENESS, corners: Corners = "rigid") -> CutSkin:
    """Return a cut roof skin condensed onto the edge of its opening, for the edge conditions that bracket a body.

    K u = f with the edge condition in K (1); F = B' K^-1 B, f_b = B' K^-1 f, c0 = f' K^-1 f (2), B the unknowns at
    the opening. A ring of matrix R changes the compliance to c0 - f_b' R (I + F R)^-1 f_b (3).

    `poisson` [1] of the skin; `fineness` elements over each margin; `corners` of the ring. The skin's thickness and
    modulus come later, in `racking`. Flat, elastic, not wrinkled; square corners of the opening.
    Source: worked out in docs/theory-strength.md, with the study of convergence.
    """
    fine = mesh_plate(sheet, poisson, fineness)
    coarse = mesh_plate(sheet, poisson, max(fineness // 2, 1))
    nodes, points, corner = _round_the_opening(fine)
    axial, bending = ring_matrices(points, corner, corners)

    def condensed(edge: Edge) -> Condensed:
        return _condense(fine, coarse, edge, nodes, axial, bending)

    rigid = float(shear_compliance(fine, Edge.RIGID_FRAME))
    intact = intact_compliance(sheet, poisson)
    return CutSkin(sheet, poisson, corners, condensed(Edge.SHEAR_FLOW), condensed(Edge.NO_STRETCH), intact / rigid)


def intact_compliance(sheet: Sheet, poisson: float) -> float:
    """Return the compliance [m2] of the whole skin per unit E t, exact for every edge: L W 2 (1 + `poisson` [1])."""
    return sheet.length * sheet.width * 2.0 * (1.0 + poisson)


def shear_compliance(plate: Plate, edge: Edge) -> float:
    """Return f' K^-1 f of a plate under an even shear flow [m2, per unit E t]: gamma L W E t / q."""
    solver, _, load = _factorised(plate, edge)
    return float(load @ solver.solve(load))


def racking(
    skin: CutSkin,
    *,
    thickness: ArrayLike,
    modulus: ArrayLike,
    ring_modulus: ArrayLike,
    ring_area: ArrayLike,
    ring_inertia: ArrayLike,
) -> tuple[Racking, Racking]:
    """Return the roof's racking stiffness for edges free to stretch and for edges that keep their length.

    With alpha = E_r A / (E t) and beta = E_r I / (E t) (1) the plate's unknowns at the opening give
    C = c_s + g' (S + alpha R_a + beta R_b)^-1 g (2), solved in a basis of shapes found beforehand, and the
    stiffness is E t L W / C (3); the whole skin has G t exactly. A body lies between the two answers.

    `thickness` of the skin [m], its `modulus` and the ring's `ring_modulus` [Pa], the ring's section `ring_area` [m2]
    and second moment `ring_inertia` [m4] for bending in the plane of the roof; each [...]. Both zero: no ring.
    ValueError for a thickness or modulus not above zero, or a ring below zero.
    Source: worked out in docs/theory-strength.md.
    """
    t, e, er, a, i = np.broadcast_arrays(
        *(np.asarray(v, dtype=np.float64) for v in (thickness, modulus, ring_modulus, ring_area, ring_inertia))
    )
    if not (np.all(t > 0) and np.all(e > 0) and np.all(er >= 0) and np.all(a >= 0) and np.all(i >= 0)):
        raise ValueError("a skin needs a thickness and a modulus above zero, a ring none below zero")
    skin_stiffness = e * t
    alpha, beta = er * a / skin_stiffness, er * i / skin_stiffness
    area = skin.sheet.length * skin.sheet.width
    intact = np.asarray(skin_stiffness * area / intact_compliance(skin.sheet, skin.poisson))

    def one(part: Condensed) -> Racking:
        matrix = part.plate + alpha[..., None, None] * part.axial + beta[..., None, None] * part.bending
        right = np.broadcast_to(part.drive[:, None], (*alpha.shape, part.drive.size, 1))
        solved = np.linalg.solve(matrix, right)[..., 0]
        compliance = part.clamped + solved @ part.drive
        cut = skin_stiffness * area / part.compliance
        return Racking(part.edge, intact, cut, np.asarray(skin_stiffness * area / compliance), part.mesh_error)

    return one(skin.shear_flow), one(skin.no_stretch)


def judge_racking(
    found: tuple[Racking, Racking], *, least_gain: ArrayLike = RING_GAIN, enough: ArrayLike = ENOUGH_KEPT
) -> tuple[Judged, Judged]:
    """Return the rule on what the ring adds, once for each edge condition: stiffness with it over without it [1].

    The limit is the least of `least_gain` and of what carries the cut skin to `enough` of the whole one (1), so a
    small hole asks for little. `least_gain` and `enough` [1], each [...].
    """

    def one(part: Racking) -> Judged:
        gain = np.asarray(part.ring / part.cut)
        wanted = np.minimum(np.asarray(least_gain, dtype=np.float64), np.asarray(enough) / part.kept_cut)
        return Judged(RING_STIFFENS, gain, np.broadcast_to(wanted, gain.shape), which=part.edge.value)

    return one(found[0]), one(found[1])


def _factorised(plate: Plate, edge: Edge) -> tuple[Any, Any, Array]:
    from scipy.sparse.linalg import splu

    carried = held(plate, edge)
    matrix = (carried.T @ plate.matrix @ carried).tocsc()
    solver = splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    return solver, carried, np.asarray(carried.T @ shear_load(plate))


def _round_the_opening(plate: Plate) -> tuple[Numbers, Array, Array]:
    """Return the unknowns at the opening's edge in order round it [2 n], their places [2, n], and which are corners."""
    rear, front, right, left = plate.sheet.ends
    x, y = plate.place
    near = 1e-9
    within = (x > rear - near) & (x < front + near) & (y > right - near) & (y < left + near)
    at_x, at_y = plate.on(0, rear) | plate.on(0, front), plate.on(1, right) | plate.on(1, left)
    edge = within & (at_x | at_y)
    first, second = (np.flatnonzero(edge & (plate.direction == d)) for d in (0, 1))
    # Distance round the rectangle orders the nodes: right side forward, front to the left, left side back, rear.
    length, width = front - rear, left - right

    def order(numbers: Numbers) -> Numbers:
        px, py = x[numbers], y[numbers]
        way = np.where(
            np.abs(py - right) < near,
            px - rear,
            np.where(
                np.abs(px - front) < near,
                length + py - right,
                np.where(np.abs(py - left) < near, length + width + front - px, 2 * length + width + left - py),
            ),
        )
        return np.asarray(numbers[np.argsort(way)])

    first, second = order(first), order(second)
    corner = (at_x & at_y)[first].astype(np.float64)
    return np.column_stack([first, second]).ravel(), plate.place[:, first], corner


def _condense(plate: Plate, coarse: Plate, edge: Edge, nodes: Numbers, axial: Array, bending: Array) -> Condensed:
    solver, carried, load = _factorised(plate, edge)
    at_opening = carried.tocsr()[nodes]
    right = np.asfortranarray(np.column_stack([load, at_opening.T.toarray()]))
    # A few columns at a time: quickest, and too little for the linear algebra to wake threads that only wait.
    solved = np.hstack([solver.solve(right[:, k : k + 8]) for k in range(0, right.shape[1], 8)])
    compliance = float(load @ solved[:, 0])
    found = at_opening @ solved
    response, flexibility = found[:, 0], found[:, 1:]
    stiffness = np.linalg.inv(0.5 * (flexibility + flexibility.T))
    stiffness = 0.5 * (stiffness + stiffness.T)
    drive = stiffness @ response
    a, b = (grid.ravel() for grid in np.meshgrid(_AXIAL, _BENDING))
    matrices = stiffness + a[:, None, None] * axial + b[:, None, None] * bending
    shapes = np.linalg.solve(matrices, np.broadcast_to(drive[:, None], (a.size, drive.size, 1)))[..., 0]
    shapes = np.vstack([response, shapes])
    shapes /= np.linalg.norm(shapes, axis=1, keepdims=True)
    left, size, _ = np.linalg.svd(shapes.T, full_matrices=False)
    basis = left[:, size > 1e-9 * size[0]]
    rough = shear_compliance(coarse, edge)
    return Condensed(
        edge,
        compliance,
        flexibility,
        response,
        clamped=compliance - float(response @ drive),
        drive=basis.T @ drive,
        plate=basis.T @ stiffness @ basis,
        axial=basis.T @ axial @ basis,
        bending=basis.T @ bending @ basis,
        mesh_error=(compliance / rough - 1.0) / (2.0**ORDER - 1.0),
    )
