"""The roof's shear stiffness: exact cases, convergence, and the rule on the ring.

Exact constructed cases unless said otherwise.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Verdict
from loftwright.strength.racking import (
    FINENESS,
    ORDER,
    CutSkin,
    cut_skin,
    intact_compliance,
    judge_racking,
    panel_stiffness,
    racking,
    shear_compliance,
)
from loftwright.strength.racking_edges import Edge, Sheet, centred, lines, mesh_plate

BIG = centred(2.6, 1.5, 1.9, 1.1)
STEEL = {"thickness": 0.8e-3, "modulus": 206e9, "ring_modulus": 206e9}


@pytest.fixture(scope="module")
def skin() -> CutSkin:
    return cut_skin(BIG)


@pytest.mark.parametrize("edge", Edge)
def test_whole_skin_has_its_shear_modulus(edge):
    # The exact field is even shear, which the elements hold: G t for every edge.
    sheet = Sheet(2.0, 1.2, 0.3, 0.25, 0.8, 0.6)
    plate = mesh_plate(sheet, 0.3, 2, opened=False)
    assert shear_compliance(plate, edge) == pytest.approx(intact_compliance(sheet, 0.3), rel=1e-9)


def test_panel_stiffness_as_derived():
    # G 2750 MPa, t 2.5 mm, b 1400, h 600 mm: 16 041.67 N/mm; 300 N move it 0.018701 mm at 0.085714 MPa.
    # Computed here from first principles.
    k = float(panel_stiffness(2750e6, 2.5e-3, 1.4, 0.6))
    assert k == pytest.approx(16_041.67e3, rel=1e-6)
    assert 300.0 / k == pytest.approx(0.018701e-3, rel=1e-4)
    stress = 300.0 / (1.4 * 2.5e-3)
    assert stress == pytest.approx(0.085714e6, rel=1e-4)


def test_intact_is_exact_and_rows_broadcast(skin):
    t = np.array([0.7e-3, 0.8e-3, 0.9e-3])
    found = racking(skin, **{**STEEL, "thickness": t}, ring_area=2e-4, ring_inertia=2e-8)
    for part in found:
        assert part.intact == pytest.approx(206e9 / 2.6 * t)
        assert part.kept_cut == pytest.approx(part.kept_cut[0])
        assert part.kept_ring.shape == (3,)
        assert np.all(np.diff(part.kept_ring) < 0)
    table = racking(skin, **{**STEEL, "thickness": t[:, None]}, ring_area=np.full(15, 2e-4), ring_inertia=2e-8)
    assert table[0].ring.shape == (3, 15)
    assert table[0].ring[:, 7] == pytest.approx(found[0].ring)


def test_small_basis_gives_the_whole_solution(skin):
    # c0 - f_b' R (I + F R)^-1 f_b with every unknown at the opening, against the basis of solved shapes.
    from loftwright.strength.racking import _round_the_opening
    from loftwright.strength.racking_ring import ring_matrices

    _, points, corner = _round_the_opening(mesh_plate(BIG, 0.3, FINENESS))
    axial, bending = ring_matrices(points, corner)
    for area, inertia in ((3e-5, 1e-10), (1.7e-4, 2.3e-8), (1.3e-3, 7e-7)):
        found = racking(skin, **STEEL, ring_area=area, ring_inertia=inertia)
        ring = (area * axial + inertia * bending) / 0.8e-3
        for part, ours in zip((skin.shear_flow, skin.no_stretch), found, strict=True):
            given = ring @ np.linalg.solve(np.eye(len(ring)) + part.flexibility @ ring, part.response)
            whole = part.compliance - part.response @ given
            assert ours.ring == pytest.approx(206e9 * 0.8e-3 * 2.6 * 1.5 / whole, rel=2e-4)


def test_a_rigid_frame_flatters_a_big_hole(skin):
    # A warning value: prescribing a straight sheared edge all round leaves far more than a body can.
    found = racking(skin, **STEEL, ring_area=0.0, ring_inertia=0.0)
    flow, keep = (float(part.kept_cut) for part in found)
    assert flow < keep < skin.rigid_frame_kept
    assert 5.0 < skin.rigid_frame_kept / keep < skin.rigid_frame_kept / flow < 20.0


@pytest.mark.parametrize("edge", [Edge.SHEAR_FLOW, Edge.NO_STRETCH])
def test_convergence(edge):
    # Halving the mesh three times: order shown, and the mesh in use within 1 % of the extrapolated limit.
    sheet = centred(2.0, 1.2, 0.8, 0.6)
    stiffness = [1.0 / shear_compliance(mesh_plate(sheet, 0.3, n), edge) for n in (3, 6, 12)]
    coarse, used, fine = stiffness
    assert coarse > used > fine
    assert np.log2((coarse - used) / (used - fine)) == pytest.approx(ORDER, abs=0.35)
    limit = fine - (used - fine) / (2**ORDER - 1)
    assert used / limit == pytest.approx(1.0, abs=0.01)


def test_mesh_error_is_told(skin):
    for part in (skin.shear_flow, skin.no_stretch):
        assert 0.0 < part.mesh_error < 0.01
    fine = shear_compliance(mesh_plate(BIG, 0.3, 2 * FINENESS), Edge.SHEAR_FLOW)
    told = skin.shear_flow.mesh_error
    assert fine / skin.shear_flow.compliance - 1.0 == pytest.approx(told, rel=0.35)


def test_a_ring_that_hardly_helps_is_told(skin):
    flat = racking(skin, **STEEL, ring_area=3e-5, ring_inertia=2e-11)
    deep = racking(skin, **STEEL, ring_area=3e-4, ring_inertia=6e-8)
    for one in judge_racking(deep):
        assert one.rule.judge(float(one.value), float(one.limit)).verdict is Verdict.HOLDS
    for one in judge_racking(flat):
        assert one.rule.judge(float(one.value), float(one.limit)).verdict is Verdict.FAILS


def test_grid_lines_meet_the_opening():
    grid = lines(2.0, 0.6, 1.4, 4)
    assert grid.size == 17
    assert np.all(np.diff(grid) > 0)
    assert {0.0, 0.6, 1.4, 2.0} <= set(grid.round(12))


@pytest.mark.parametrize("sizes", [(2.0, 1.2, 2.0, 0.6), (2.0, 1.2, 0.8, 1.3), (2.0, 1.2, -0.8, 0.6)])
def test_an_opening_must_leave_skin(sizes):
    with pytest.raises(ValueError, match=r"skin|above zero"):
        centred(*sizes)


def test_what_is_no_skin_is_refused(skin):
    for wrong in ({"thickness": 0.0}, {"ring_modulus": -1.0}):
        with pytest.raises(ValueError, match="thickness"):
            racking(skin, **{**STEEL, **wrong}, ring_area=0.0, ring_inertia=0.0)
