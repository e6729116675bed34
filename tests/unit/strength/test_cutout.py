"""Corners of the hole: what is judged, what is refused. Exact constructed cases."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Verdict
from loftwright.strength.cutout import (
    SMALL_RADIUS,
    corner_factor,
    judge_corner_radius,
    judge_corner_stress,
)


def checked(judged):
    return judged.rule.judge(float(judged.value), float(judged.limit))


def test_a_round_corner_holds_and_a_sharp_one_fails():
    assert checked(judge_corner_radius(0.08)).verdict is Verdict.HOLDS
    assert checked(judge_corner_radius(0.03)).verdict is Verdict.FAILS


def test_a_corner_without_radius_fails_at_any_setting():
    assert checked(judge_corner_radius(0.0, least=0.0)).verdict is Verdict.FAILS


def test_peak_stress_on_both_sides_of_its_limit():
    factor = corner_factor(0.5, 0.4, 0.1)
    assert factor.published
    assert checked(judge_corner_stress(10e6, factor, 100e6)).verdict is Verdict.HOLDS
    assert checked(judge_corner_stress(-40e6, factor, 100e6)).verdict is Verdict.FAILS
    peak = judge_corner_stress(10e6, factor, 100e6).value
    assert peak == pytest.approx(10e6 * float(factor.factor))


def test_no_verdict_without_a_published_figure_or_a_stress():
    tight = judge_corner_stress(10e6, corner_factor(0.5, 0.4, 0.05), 100e6)
    assert (tight.value, tight.limit) == (None, None)
    assert SMALL_RADIUS in tight.unknown
    open_question = judge_corner_stress(None, corner_factor(0.5, 0.4, 0.1), 100e6)
    assert open_question.value is None
    assert open_question.missing == "roof_stress"


def test_rows_partly_outside_are_not_known():
    radii = np.array([0.1, 0.07])
    found = corner_factor(0.5, 0.4, radii)
    assert found.published.tolist() == [True, False]
    assert np.isnan(found.factor).tolist() == [False, True]
    assert judge_corner_stress(10e6, found, 100e6).value is None


def test_a_hole_needs_sides():
    with pytest.raises(ValueError, match="sides above zero"):
        corner_factor(0.0, 0.4, 0.1)
