"""Layers to one strip, and the quick estimates.

Figures of a trial with an elastic chain lowered between two clamps (500 mm and 960 mm walls, gap 60 mm, canvas of 40 mm
and insulated walls of 45 mm bending length, quilted 70 mm) are used as an independent second way of the rules of thumb;
they were computed, not measured on cloth. The rest are exact constructed cases, computed here from first principles.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.cloth import fold
from loftwright.cloth.fold import Layer

CANVAS = Layer("canvas", 0.35, 0.0006, 0.040)
FLEECE = Layer("fleece", 0.15, 0.003, 0.030)
LINING = Layer("lining", 0.08, 0.0003, 0.020)


def test_peirce_unit_chain() -> None:
    """ASTM D1388, G = W c3 (formula derived): 500 g/m2, 45 mm gives 446.8 uN m."""
    assert float(fold.stiffness_of(0.5, 0.045)) == pytest.approx(4.46815e-4, rel=1e-5)
    assert float(fold.bending_length_of(0.5, 4.46815e-4)) == pytest.approx(0.045, rel=1e-5)


def test_free_layers_add_and_equal_glued_ones_count_cubed() -> None:
    """Exact: n equal sheets glued are one of n times the thickness, n3 times as stiff."""
    free, glued = fold.stiffness_ends((CANVAS,) * 3)
    assert free == pytest.approx(3 * CANVAS.stiffness)
    assert glued == pytest.approx(27 * CANVAS.stiffness)


def test_a_strip_takes_the_sums_and_lies_between_both_ends() -> None:
    layers = (CANVAS, FLEECE, LINING)
    free, glued = fold.stiffness_ends(layers)
    strip = fold.strand_of(layers, 0.508, bond=fold.QUILTED_BOND)
    assert (strip.length, strip.mass, strip.thickness) == pytest.approx((0.508, 0.58, 0.0039))
    assert free < strip.stiffness < glued
    assert fold.strand_of(layers, 0.5).stiffness == pytest.approx(free)
    assert fold.strand_of(layers, 0.5, bond=1.0).stiffness == pytest.approx(glued)


def test_a_measured_bending_length_overrides_and_thin_cloth_never_lies_flat() -> None:
    strip = fold.strand_of((CANVAS,), 0.5, measured=0.05)
    assert strip.stiffness == pytest.approx(0.35 * 9.80665 * 0.05**3)
    assert strip.thickness == fold.CONTACT_LEAST


def test_a_wall_needs_a_layer() -> None:
    with pytest.raises(ValueError, match="layer"):
        fold.stiffness_ends(())
    with pytest.raises(ValueError, match="layer"):
        fold.loop_length(())


@pytest.mark.parametrize(
    ("height", "folds", "low", "high"),
    [(0.5, 1, 0.219, 0.236), (0.96, 1, 0.463, 0.472), (0.5, 2, 0.116, 0.116)],
)
def test_wide_depth_holds_what_the_chain_found(height: float, folds: int, low: float, high: float) -> None:
    least, most = fold.quick_depth(height, 0.06, folds, fold.TIP_WIDE)
    assert float(least) <= low
    assert high <= float(most)


def test_rule_of_thumb_of_depth() -> None:
    """(500 - 60) / 2 + 10 .. 15 = 230 .. 235; two folds half of it; nothing to fold, nothing deep."""
    assert [float(v) for v in fold.quick_depth(0.5, 0.06)] == pytest.approx([0.230, 0.235])
    assert np.mean(fold.quick_depth(0.5, 0.06, 2)) == pytest.approx(0.116, abs=0.0005)
    assert float(fold.quick_depth(0.05, 0.06, over=fold.TIP_WIDE)[0]) == 0.0


@pytest.mark.parametrize(
    ("bending", "thickness", "low", "high"),
    [(0.040, 0.002, 0.028, 0.037), (0.045, 0.0039, 0.031, 0.042), (0.070, 0.0039, 0.052, 0.052)],
)
def test_quick_bundle_holds_what_the_chain_found(bending: float, thickness: float, low: float, high: float) -> None:
    least, most = fold.quick_bundle(bending, thickness)
    assert float(least) <= low + 0.0006
    assert high <= float(most) + 0.0009


def test_flat_layers_are_the_least_height() -> None:
    least, most = fold.quick_bundle(0.010, 0.010, 2)
    assert (float(least), float(most)) == pytest.approx((0.060, 0.060))


def test_plate_push_by_integrating_the_curve() -> None:
    """Second way: the elastica along its arc with k = sqrt(2 P sin(theta) / B) until it has turned half round."""
    push, stiffness = 0.702, 0.35 * 9.80665 * 0.04**3
    angle = np.linspace(0.0, math.pi, 200_001)
    middle = (angle[1:] + angle[:-1]) / 2
    curvature = np.sqrt(2 * push * np.sin(middle) / stiffness)
    gap = float(np.sum(np.sin(middle) / curvature) * (angle[1] - angle[0]))
    assert float(fold.plate_push(stiffness, gap)) == pytest.approx(push, rel=1e-4)
    assert float(fold.crease_radius(gap)) == pytest.approx(1 / float(curvature.max()), rel=1e-4)
    assert pytest.approx(2.3963, abs=1e-4) == gap / float(fold.crease_radius(gap))


@pytest.mark.parametrize(("gap", "chain"), [(0.030, (0.691, 0.717)), (0.050, (0.261, 0.262))])
def test_plate_push_against_the_chain(gap: float, chain: tuple[float, float]) -> None:
    """Within 5 % of what a chain between two plates gave in the trial."""
    push = float(fold.plate_push(0.35 * 9.80665 * 0.04**3, gap))
    assert push == pytest.approx(np.mean(chain), rel=0.05)
