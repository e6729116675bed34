"""Fasteners in thin sheet against AISI S100-16 section J4.

Formulas and rounded table values read in a public reproduction (printed tables round to 5 lb); the cap on washers from
memory. Inches, pounds and pounds per square inch are used as they stand: the formulas carry no constants with a unit.
"""

from __future__ import annotations

import pytest

from loftwright.strength import thin_sheet


@pytest.mark.parametrize(
    ("thick", "pounds"),
    [(0.030, 1012.5), (0.036, 1215), (0.048, 1620), (0.060, 2025), (0.075, 2531.25), (0.105, 3543.75)],
)
def test_pull_over(thick: float, pounds: float) -> None:
    assert thin_sheet.pull_over(0.5, thick, 45000, cap=0.75) == pytest.approx(pounds, rel=0.001)


@pytest.mark.parametrize(
    ("size", "thick", "pounds", "allowed"), [(0.19, 0.048, 348.84, 116.28), (0.25, 0.06, 573.75, 191.25)]
)
def test_pull_out(size: float, thick: float, pounds: float, allowed: float) -> None:
    strength = thin_sheet.pull_out(size, thick, 45000)
    assert strength == pytest.approx(pounds, rel=0.001)
    assert strength / thin_sheet.SAFETY == pytest.approx(allowed, rel=0.001)


def test_metric_pull_over() -> None:
    strength = thin_sheet.pull_over(0.016, 0.0008, 270e6)
    assert (strength, strength / thin_sheet.SAFETY) == pytest.approx((5184, 1728), rel=0.001)


def test_washers_beyond_the_cap_add_nothing() -> None:
    assert thin_sheet.pull_over(0.030, 0.0008, 270e6) == thin_sheet.pull_over(0.01905, 0.0008, 270e6)


def test_shear_and_pull_over_at_once() -> None:
    """Q / (2.7 t d Fu) + 0.71 T / (1.5 t dw Fu) <= 1.1 / 2.35; figures computed here from it."""
    t, d, wide, fu = 0.0008, 0.006, 0.016, 270e6
    shear = 0.5 * 1.1 / 2.35 * 2.7 * t * d * fu
    pull = 0.5 * 1.1 / 2.35 * 1.5 * t * wide * fu / 0.71
    assert thin_sheet.shear_and_pull_over(shear, pull, d, wide, t, fu) == pytest.approx(1.0)
    assert thin_sheet.shear_and_pull_over(2 * shear, 0.0, d, wide, t, fu) == pytest.approx(1.0)
