"""Rough weights by area and lay-up."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.uncertain import Provenance
from loftwright.mechanics.by_shape import skin
from loftwright.reference.layups import LAYUPS, mat_laminate, mat_thickness


def test_three_mats_of_450_at_30_per_cent_glass() -> None:
    # ISO 12215-5 lay-up, 3 x 450 g/m2 at psi = 0.30: 4.500 kg/m2, 3.1523 mm at 1427.5 kg/m3.
    # Density and thickness by the rule of mixtures (2560 and 1200 kg/m3), computed here from first principles.
    weight = float(mat_laminate(1.35, 0.30))
    assert weight == pytest.approx(4.5, rel=1e-12)
    assert float(mat_thickness(1.35, 0.30)) == pytest.approx(3.1523e-3, abs=1e-7)
    assert np.all(np.diff(mat_laminate(1.35, np.array([0.25, 0.30, 0.33]))) < 0)


def test_resin_batch() -> None:
    # 6 kg of glass at 30 % make 20 kg of laminate. Read in a public reproduction.
    assert float(mat_laminate(6.0, 0.30)) == pytest.approx(20.0)


def test_a_glass_fibre_high_shell_weighs_about_45_kg() -> None:
    # Common practice, no source: a glass-fibre high shell of about 2.4 m weighs about 45 kg; within a third.
    area, per_area = float(skin(2.4, 1.5, 0.33, 0.37, 0.35).area), LAYUPS["glass-fibre"].weight_per_area
    assert area * per_area.nominal == pytest.approx(45.0, rel=1 / 3)
    assert area * per_area.low < 45.0 < area * per_area.high
    assert per_area.provenance is Provenance.ASSUMED


@pytest.mark.parametrize("made_of", LAYUPS)
def test_every_range_is_in_order_and_built_from_its_layers(made_of: str) -> None:
    lay_up = LAYUPS[made_of]
    assert all(0 < layer.low <= layer.high for layer in lay_up.layers)
    assert all(0 <= layer.thick[0] <= layer.thick[1] for layer in lay_up.layers)
    assert lay_up.low == pytest.approx(sum(layer.low for layer in lay_up.layers))
    assert 3.0 < lay_up.low < lay_up.high < 14.0
    assert 0.003 < lay_up.thick[0] < lay_up.thick[1] < 0.05
    assert (lay_up.weight_per_area.low, lay_up.weight_per_area.high) == pytest.approx((lay_up.low, lay_up.high))


def test_not_knowing_covers_every_lay_up() -> None:
    unknown = LAYUPS["unknown"]
    for lay_up in LAYUPS.values():
        assert unknown.low <= lay_up.low
        assert lay_up.high <= unknown.high
        assert unknown.thick[0] <= lay_up.thick[0]
        assert lay_up.thick[1] <= unknown.thick[1]


def test_sheets_weigh_thickness_times_density() -> None:
    # 1 mm of aluminium at 2700 kg/m3 is 2.7 kg/m2; 6 mm of plywood at 500 kg/m3 is 3.0. First principles.
    aluminium, plywood = LAYUPS["aluminium-skin"].layers[0], LAYUPS["plywood"].layers[0]
    assert aluminium.low == pytest.approx(2.7)
    assert plywood.low == pytest.approx(3.0)
    assert (aluminium.thick[0], plywood.thick[0]) == pytest.approx((0.001, 0.006))


def test_a_sandwich_is_as_thick_as_its_faces_and_its_foam() -> None:
    # Faces of 4 and 3 mm on 20 mm of foam, light, with half a millimetre of glass and paint. First principles.
    assert LAYUPS["foam-plywood"].thick[0] == pytest.approx(0.0275)
