"""Rough weights by area and lay-up."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.uncertain import Provenance
from loftwright.mechanics.weigh import skin_area
from loftwright.reference.layups import LAYUPS, mat_laminate, rough_mass


def test_three_mats_of_450_at_30_per_cent_glass() -> None:
    # ISO 12215-5 lay-up, 3 x 450 g/m2 at psi = 0.30: 4.500 kg/m2, 3.1523 mm at 1427.5 kg/m3.
    # Density and thickness by the rule of mixtures (2560 and 1200 kg/m3), computed here from first principles.
    weight = float(mat_laminate(1.35, 0.30))
    assert weight == pytest.approx(4.5, rel=1e-12)
    assert 1.35 / 2560 + (weight - 1.35) / 1200 == pytest.approx(3.1523e-3, abs=1e-7)
    assert np.all(np.diff(mat_laminate(1.35, np.array([0.25, 0.30, 0.33]))) < 0)


def test_resin_batch() -> None:
    # 6 kg of glass at 30 % make 20 kg of laminate. Read in a public reproduction.
    assert float(mat_laminate(6.0, 0.30)) == pytest.approx(20.0)


def test_a_glass_fibre_high_shell_weighs_about_45_kg() -> None:
    # Common practice, no source: a glass-fibre high shell of about 2.4 m weighs about 45 kg; within a third.
    guess = rough_mass("glass-fibre", float(skin_area(2.4, 1.5, 0.33, 0.37, 0.35)))
    assert guess.nominal == pytest.approx(45.0, rel=1 / 3)
    assert guess.low < 45.0 < guess.high
    assert guess.provenance is Provenance.ASSUMED


@pytest.mark.parametrize("made_of", LAYUPS)
def test_every_range_is_in_order_and_built_from_its_layers(made_of: str) -> None:
    lay_up = LAYUPS[made_of]
    assert all(0 < layer.low <= layer.high for layer in lay_up.layers)
    assert lay_up.low == pytest.approx(sum(layer.low for layer in lay_up.layers))
    assert 3.0 < lay_up.low < lay_up.high < 14.0
    guess = rough_mass(made_of, 2.0)
    assert (guess.low, guess.high) == pytest.approx((2 * lay_up.low, 2 * lay_up.high))


def test_not_knowing_covers_every_lay_up() -> None:
    unknown = LAYUPS["unknown"]
    for lay_up in LAYUPS.values():
        assert unknown.low <= lay_up.low
        assert lay_up.high <= unknown.high


def test_sheets_weigh_thickness_times_density() -> None:
    # 1 mm of aluminium at 2700 kg/m3 is 2.7 kg/m2; 6 mm of plywood at 500 kg/m3 is 3.0. First principles.
    aluminium, plywood = LAYUPS["aluminium-skin"].layers[0], LAYUPS["plywood"].layers[0]
    assert aluminium.low == pytest.approx(2.7)
    assert plywood.low == pytest.approx(3.0)


def test_an_unheard_of_material_is_refused() -> None:
    with pytest.raises(KeyError):
        rough_mass("cardboard", 6.0)
