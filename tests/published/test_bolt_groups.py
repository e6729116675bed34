"""Eccentric groups of bolts against two textbooks, by the elastic method.

A: R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design, Example 8-7: data read in a public
reproduction, printed answers 21.0 and 14.8 kN from memory. B: V. B. Bhandari, Design of Machine Elements, Example 7.3:
data and the choice of M20 read in a public reproduction. The further digits are computed here from the data.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.bolt_groups import in_plane
from loftwright.strength.joint_places import rectangle


def shears(across: float, up: float, load: float, arm: float) -> list[float]:
    x, y = in_plane(rectangle(2, 2, across, up), 0.0, -load, -load * arm)
    return sorted(float(v) for v in np.hypot(x, y))


def test_four_bolts_of_a_bar() -> None:
    far, _, near, nearest = shears(0.150, 0.120, 16000, 0.425)
    assert near == pytest.approx(nearest)
    assert (far, near) == pytest.approx((14788.9, 20972.6), abs=0.1)
    assert (round(far / 1000, 1), round(near / 1000, 1)) == (14.8, 21.0)


def test_torsion_alone() -> None:
    x, y = in_plane(rectangle(2, 2, 0.150, 0.120), 0.0, 0.0, 16000 * 0.425)
    assert np.hypot(x, y) == pytest.approx(np.full(4, 17699.7), abs=0.1)


def test_bracket_on_four_bolts() -> None:
    least, _, _, most = shears(0.200, 0.150, 10000, 0.500)
    assert (least, most) == pytest.approx((8139.4, 12093.4), abs=0.1)
    core = np.sqrt(4 * most / (np.pi * 80))
    assert core == pytest.approx(13.873, abs=0.001)
