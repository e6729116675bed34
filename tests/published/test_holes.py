"""Stress at holes in plain skin, against handbook figures.

W. C. Young and R. G. Budynas, Roark's Formulas for Stress and Strain, Table 17.1.
    Round hole, oval hole, round hole in a strip, rectangular hole with round corners (coefficients): read in a public
    reproduction. One stored page prints 4 for equal pulls both ways; superposition gives 3 - 1 = 2.
Howland's figures for a round hole in a strip: read in a public reproduction.
Values of the fit for rectangles: computed here from the coefficients, not printed anywhere.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.cutout import (
    LARGE_RADIUS,
    LONG_HOLE,
    NARROW_HOLE,
    NO_RADIUS,
    SMALL_RADIUS,
    corner_factor,
    oval_hole_factor,
    round_hole_peak,
    strip_hole_factor,
)

HOWLAND = ((0.1, 3.03), (0.2, 3.14), (0.3, 3.36), (0.4, 3.74), (0.5, 4.32))
ROARK_STRIP = ((0.1, 3.0245), (0.2, 3.1352), (0.3, 3.3558), (0.4, 3.7261), (0.5, 4.3175))

# r/b, b/a, factor.
RECTANGLES = (
    (1.0, 1.0, 3.0410),
    (0.5, 1.0, 3.0016),
    (0.3, 1.0, 3.4024),
    (0.2, 1.0, 3.8081),
    (0.5, 0.5, 3.8898),
    (0.2, 0.5, 5.0793),
    (0.2, 0.3, 6.2727),
)


@pytest.mark.parametrize(
    ("along", "across", "shear", "peak"),
    [(1.0, 0.0, 0.0, 3.0), (0.0, -1.0, 0.0, 3.0), (1.0, 1.0, 0.0, 2.0), (0.0, 0.0, 1.0, 4.0), (1.0, -1.0, 0.0, 4.0)],
)
def test_round_hole(along, across, shear, peak):
    assert float(round_hole_peak(along, across, shear)) == pytest.approx(peak)


def test_oval_hole_two_to_one_across_the_pull():
    assert float(oval_hole_factor(2.0, 1.0)) == pytest.approx(5.0)
    assert float(oval_hole_factor(1.0, 1.0)) == pytest.approx(3.0)


@pytest.mark.parametrize(("ratio", "factor"), HOWLAND)
def test_round_hole_in_a_strip_by_howland(ratio, factor):
    assert float(strip_hole_factor(ratio, 1.0).factor) == pytest.approx(factor, rel=5e-3)


@pytest.mark.parametrize(("ratio", "factor"), ROARK_STRIP)
def test_round_hole_in_a_strip_by_roark(ratio, factor):
    assert float(strip_hole_factor(ratio, 1.0).factor) == pytest.approx(factor, rel=1e-4)


@pytest.mark.parametrize(("radius", "side", "factor"), RECTANGLES)
def test_rectangle_with_round_corners(radius, side, factor):
    found = corner_factor(1.0, side, radius * side)
    assert float(found.factor) == pytest.approx(factor, rel=1e-4)
    assert found.why == ""


def test_the_fit_is_a_little_high_for_a_circle():
    assert float(corner_factor(1.0, 1.0, 1.0).factor) / 3.0 == pytest.approx(1.014, abs=1e-3)


def test_the_long_side_lies_across_the_pull():
    # Which side carries the load is settled here from first principles: a slot with round ends has the factor of the
    # ellipse of the same length and end radius, 1 + 2 sqrt(a / r), only when its length 2 a lies across the pull.
    for side in (0.5, 0.7):
        equivalent = 1.0 + 2.0 * np.sqrt(1.0 / side)
        assert float(corner_factor(1.0, side, side).factor) == pytest.approx(equivalent, rel=0.02)


@pytest.mark.parametrize(
    ("across", "along", "radius", "why"),
    [
        (1.0, 0.5, 0.0, NO_RADIUS),
        (1.0, 0.5, 0.09, SMALL_RADIUS),
        (1.0, 0.25, 0.1, NARROW_HOLE),
        (0.5, 1.0, 0.3, LONG_HOLE),
        (1.0, 0.5, 0.6, LARGE_RADIUS),
    ],
)
def test_outside_the_published_range_there_is_no_figure(across, along, radius, why):
    found = corner_factor(across, along, radius)
    assert np.isnan(found.factor)
    assert not found.published
    assert found.why == why


def test_the_ends_of_the_published_range_belong_to_it():
    assert bool(corner_factor(0.55, 0.55 * 0.3, 0.2 * 0.3 * 0.55).published)
    assert bool(strip_hole_factor(0.05, 0.1).published)
    assert not bool(strip_hole_factor(0.06, 0.1).published)
