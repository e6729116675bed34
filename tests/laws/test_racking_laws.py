"""What holds for every hole and ring: order of the edges, a stiffer ring, a bigger hole, a change of scale."""

from __future__ import annotations

import numpy as np
import pytest
from skfem import Basis, ElementQuad2, ElementVector, MeshQuad

from loftwright.strength.racking import CutSkin, cut_skin, racking, shear_compliance
from loftwright.strength.racking_edges import Edge, Sheet, plate_on

RNG = np.random.default_rng(11)
SHEETS = (Sheet(2.4, 1.4, 0.3, 0.2, 1.6, 0.9), Sheet(1.8, 1.5, 0.7, 0.4, 0.5, 0.8))


@pytest.fixture(scope="module", params=range(len(SHEETS)))
def skins(request: pytest.FixtureRequest) -> tuple[Sheet, CutSkin, CutSkin]:
    sheet = SHEETS[request.param]
    return sheet, cut_skin(sheet, fineness=3), cut_skin(sheet, fineness=3, corners="pinned")


def rings(skin: CutSkin, area, inertia):
    return racking(skin, thickness=0.8e-3, modulus=2e11, ring_modulus=2e11, ring_area=area, ring_inertia=inertia)


def test_a_stiffer_ring_never_lowers_what_is_kept(skins):
    for skin in skins[1:]:
        area, inertia = 10 ** RNG.uniform(-6, -2, 40), 10 ** RNG.uniform(-12, -5, 40)
        more = 1.0 + RNG.exponential(1.0, (2, 40))
        for less, stiffer in zip(
            rings(skin, area, inertia), rings(skin, area * more[0], inertia * more[1]), strict=True
        ):
            assert np.all(stiffer.ring >= less.ring * (1 - 1e-9))
            assert np.all(less.ring >= less.cut * (1 - 1e-9))


def test_edges_keep_their_order(skins):
    sheet, skin, _ = skins
    area, inertia = 10 ** RNG.uniform(-6, -2, 20), 10 ** RNG.uniform(-12, -5, 20)
    flow, keep = rings(skin, area, inertia)
    assert np.all(flow.ring <= keep.ring * (1 + 1e-6))
    assert np.all(flow.kept_cut <= keep.kept_cut)
    assert np.all(keep.kept_cut <= skin.rigid_frame_kept)
    # No skin keeps more than its share of area: straight shear everywhere is one way to move.
    assert skin.rigid_frame_kept <= 1 - sheet.opening_length * sheet.opening_width / (sheet.length * sheet.width)


def test_pinned_corners_never_beat_stiff_ones(skins):
    _, stiff, pinned = skins
    area, inertia = 10 ** RNG.uniform(-5, -3, 20), 10 ** RNG.uniform(-9, -6, 20)
    for a, b in zip(rings(pinned, area, inertia), rings(stiff, area, inertia), strict=True):
        assert np.all(a.ring <= b.ring * (1 + 1e-4))


@pytest.mark.parametrize("edge", Edge)
def test_a_bigger_hole_never_raises_what_is_kept(edge):
    # One grid, more and more of it taken out: nested spaces, so the law holds to the last digit.
    mesh = MeshQuad.init_tensor(np.linspace(0, 2.0, 17), np.linspace(0, 1.2, 13))
    x, y = mesh.p[:, mesh.t].mean(axis=1)
    kept = []
    for i in range(6):
        sheet = Sheet(2.0, 1.2, 0.75 - 0.125 * i, 0.5 - 0.08 * i, 0.5 + 0.25 * i, 0.2 + 0.16 * i)
        rear, front, right, left = sheet.ends
        holed = mesh.remove_elements(np.flatnonzero((x > rear) & (x < front) & (y > right) & (y < left)))
        plate = plate_on(sheet, Basis(holed, ElementVector(ElementQuad2())), 0.3)
        kept.append(1.0 / shear_compliance(plate, edge))
    assert np.all(np.diff(kept) < 0)


def test_scale_does_not_matter():
    small, large = (cut_skin(Sheet(*(k * v for v in (2.0, 1.2, 0.5, 0.3, 0.8, 0.6))), fineness=2) for k in (1.0, 7.0))
    for a, b in zip(rings(small, 2e-4, 3e-8), rings(large, 7.0 * 2e-4, 343.0 * 3e-8), strict=True):
        assert a.kept_cut == pytest.approx(float(b.kept_cut), rel=1e-9)
        assert a.kept_ring == pytest.approx(float(b.kept_ring), rel=1e-5)


def test_mirror_image_is_alike():
    one, other = (
        cut_skin(Sheet(2.0, 1.2, along, across, 0.8, 0.6), fineness=3) for along, across in ((0.3, 0.2), (0.9, 0.4))
    )
    for a, b in zip(rings(one, 2e-4, 3e-8), rings(other, 2e-4, 3e-8), strict=True):
        assert a.ring == pytest.approx(float(b.ring), rel=1e-6)
