"""The shell's home tests and its rise at mid-side against plates: exact pure twist, and Morley plate elements.

scikit-fem's Morley element holds any quadratic surface exactly, so pure twist w = c x y must come out to the last
digits; the bending cases converge as the mesh is refined.
"""

from __future__ import annotations

import numpy as np
import pytest
from skfem import Basis, BilinearForm, ElementTriMorley, LinearForm, MeshTri, condense, solve
from skfem.helpers import dd, ddot, eye, trace

from loftwright.core.motion import Array
from loftwright.strength.shell_hung import FLAT_EDGE, plate_rigidity, side_rise
from loftwright.strength.shell_stiffness import twist_from_test

E, T, NU = 6400e6, 0.004, 0.3


class Plate:
    """A free flat plate, `a` along x and `b` along y, of Morley elements."""

    def __init__(self, a: float, b: float, n: int) -> None:
        self.mesh = MeshTri.init_tensor(np.linspace(0, a, n + 1), np.linspace(0, b, n + 1))
        self.basis = Basis(self.mesh, ElementTriMorley())
        d = float(plate_rigidity(E, T, NU))

        @BilinearForm
        def bending(u, v, _):  # type: ignore[no-untyped-def]
            moment = d * ((1 - NU) * dd(u) + NU * eye(trace(dd(u)), 2))
            return ddot(moment, dd(v))

        self.stiff = bending.assemble(self.basis)

    def at(self, x: float, y: float) -> int:
        """Return the unknown that is the deflection of the node nearest to (x, y)."""
        node = int(np.argmin(np.hypot(self.mesh.p[0] - x, self.mesh.p[1] - y)))
        return int(self.basis.nodal_dofs[0, node])

    def bent(self, load: Array, held: list[int]) -> Array:
        """Return every unknown under a load with some held at nought."""
        return np.asarray(solve(*condense(self.stiff, load, D=np.array(held))))


def test_weight_on_the_free_corner_by_morley_plate() -> None:
    a, b, force = 2.0, 1.2, 5.0
    plate = Plate(a, b, 6)
    load = np.zeros(plate.basis.N)
    load[plate.at(a, b)] = force
    w = plate.bent(load, [plate.at(0, 0), plate.at(a, 0), plate.at(0, b)])
    sinks = float(w[plate.at(a, b)])
    # Thin strip: GJ = G b t^3 / 3.
    exact = E / (2 * (1 + NU)) * b * T**3 / 3
    assert twist_from_test(force, b, a, sinks) == pytest.approx(exact, rel=1e-6)
    # The surface is w x y / (a b).
    assert w[plate.at(a / 2, b / 2)] == pytest.approx(sinks / 4, rel=1e-6)


def test_corner_forces_of_pure_twist() -> None:
    # Exact: w = c x y gives corner forces 2 D (1 - nu) c; Timoshenko and Woinowsky-Krieger, section 11 (from memory).
    a, b, sinks = 1.5, 1.5, 0.01
    force = 2 * float(plate_rigidity(E, T, NU)) * (1 - NU) * sinks / (a * b)
    assert twist_from_test(force, b, a, sinks) == pytest.approx(E / (2 * (1 + NU)) * b * T**3 / 3, rel=1e-12)


def strip(n: int, *, by_edges: bool) -> float:
    """Return rise of the free edges at mid-side over that of a beam; 2.0 by 1.2 m, held along its two short ends."""
    a, b, q = 2.0, 1.2, 10.0
    plate = Plate(a, b, n)
    if by_edges:
        sides = plate.basis.mesh.facets_satisfying(lambda x: np.minimum(x[1], b - x[1]) < 1e-9, boundaries_only=True)
        load = LinearForm(lambda v, _: q / 2 * v).assemble(plate.basis.boundary(sides))
    else:
        load = LinearForm(lambda v, _: q / b * v).assemble(plate.basis)
    ends = plate.mesh.nodes_satisfying(lambda x: np.minimum(x[0], a - x[0]) < 1e-9, boundaries_only=True)
    w = plate.bent(load, [int(v) for v in plate.basis.nodal_dofs[0, ends]])
    edge = (w[plate.at(a / 2, 0.0)] + w[plate.at(a / 2, b)]) / 2
    return float(edge / side_rise(q, a, E * b * T**3 / 12))


def test_free_edges_of_a_flat_plate_against_the_beam() -> None:
    # Under even pressure the edges rise a few per cent more than the beam; pushed along its edges only, more.
    for by_edges, said in ((False, 1.04), (True, FLAT_EDGE)):
        coarse, fine = strip(12, by_edges=by_edges), strip(24, by_edges=by_edges)
        assert abs(fine - coarse) < 0.02
        assert fine == pytest.approx(said, abs=0.015)
