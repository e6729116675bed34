"""Lining and lights: exact figures of simple shapes; each rule on both sides of its limit."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.fitout import lights, lining
from loftwright.fitout.lining_rules import leaves_room, light_enough
from loftwright.reference.warmth import FOAM, LAMINATE


def checked(found: Judged) -> list[Check]:
    assert found.value is not None
    assert found.limit is not None
    return [found.rule.judge(float(v), float(k)) for v, k in zip(found.value, found.limit, strict=True)]


def test_areas_of_a_box() -> None:
    x, z = np.array([0.0, 0.0, 2.0, 2.0]), np.array([0.0, 0.2, 0.2, 0.0])
    # Rear end, top and front end.
    assert lining.ceiling_area(x, z, 1.2) == pytest.approx(2.4 * 1.2)
    assert lining.cheeks_area(x, z, 0.0) == pytest.approx(2 * 2.0 * 0.2)
    assert lining.ring_strip_area(2.0, 1.2, 0.05) == pytest.approx(6.4 * 0.05)
    assert lining.ring_strip_area(1.2, 1.2, 0.1, 0.6) == pytest.approx(np.pi * 1.2 * 0.1)


def test_a_sloping_top_over_rows() -> None:
    z = np.array([[0.1, 0.3], [0.2, 0.2]])
    np.testing.assert_allclose(lining.ceiling_area([0.0, 2.0], z, 1.0), [np.hypot(2.0, 0.2), 2.0])
    np.testing.assert_allclose(lining.cheeks_area([0.0, 2.0], z, 0.1), [0.4, 0.4])


def test_the_roof_of_laminate_and_foam() -> None:
    """ISO 6946 sum on typical conductivities (from memory), computed here from first principles."""
    assert lining.resistance([0.003, 0.020], [LAMINATE, FOAM]) == pytest.approx(0.726429, abs=1e-6)
    with pytest.raises(ValueError, match="conductivity"):
        lining.resistance([0.003], [])


def test_the_handbook_wall() -> None:
    """Chudley and Greeno, Building Construction Handbook: 0.46 m2 K/W (read in a public reproduction)."""
    assert lining.resistance([0.215, 0.013], [0.84, 0.50], inside=0.123, outside=0.055) == pytest.approx(
        0.45995, abs=1e-4
    )


def test_weight_and_centre() -> None:
    found = lining.together([[2.0, 1.0], [0.0, 0.0]], [0.5, 2.0], [0.1, 0.4])
    np.testing.assert_allclose(found.mass, [3.0, 0.0])
    np.testing.assert_allclose(found.x, [1.0, 1.25])
    np.testing.assert_allclose(found.z, [0.2, 0.25])
    x, z = lining.ceiling_centre([0.0, 3.0, 3.0], [0.0, 0.0, 1.0])
    assert (float(x), float(z)) == pytest.approx(((3 * 1.5 + 1 * 3.0) / 4, 0.5 / 4))


def test_room_for_the_fold() -> None:
    assert [one.verdict for one in checked(leaves_room([0.020, 0.045], 0.10, 0.055))] == [Verdict.HOLDS, Verdict.FAILS]
    assert leaves_room(0.02, None, 0.05).missing == "hollow"


def test_weight_against_the_plan() -> None:
    # 3.2 m2 of 600 kg/m3, 3 and 9 mm thick.
    mass = [5.76, 17.28]
    assert [one.verdict for one in checked(light_enough(mass, 8.0))] == [Verdict.HOLDS, Verdict.FAILS]


def test_routes() -> None:
    points = np.array([[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [2.0, 1.0, 0.0], [2.0, 1.0, 0.5]])
    assert lights.route_length(points) == pytest.approx(3.85)
    np.testing.assert_allclose(lights.route_length(np.stack([points, 2 * points]), 0.0), [3.5, 7.0])


def test_strip_is_cut_at_its_marks() -> None:
    assert lights.strip_length(2.0, 1.2, 0.05) == pytest.approx(6.0)
    assert lights.strip_length(2.0, 1.2, 0.05, 0.7) == pytest.approx(5.6)
    assert lights.strip_length(0.05, 0.05, 0.05) == 0


def test_what_lights_draw() -> None:
    found = lights.lights(4, 2.0, 6.0, [4.8, 9.6], 12.0, 3.0)
    np.testing.assert_allclose(found.power, [36.8, 65.6])
    np.testing.assert_allclose(found.current, [36.8 / 12, 65.6 / 12])
    np.testing.assert_allclose(found.energy, [110.4, 196.8])
