"""Rules of measured rims, on both sides of each limit; constructed cases, no printed source."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth.rim_fit import RimFit, fitted
from loftwright.cloth.rim_rules import ROUGH, WRONG_POINT, judge_fit, overhang
from loftwright.cloth.rims import Heights, moved, rounded
from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged


def measured(sd: float, wrong: float = 0.0) -> RimFit:
    p = rounded(0.0, 2.0, 1.2, 0.15, Heights(0.0, 0.02, 0.01)).points[3::14]
    p = p + np.random.default_rng(4).normal(0.0, sd, p.shape)
    p[17, 0] += wrong
    return fitted(p)


def checked(found: Judged) -> Check:
    assert found.value is not None
    assert found.limit is not None
    return found.rule.judge(float(found.value[0]), float(found.limit[0]))


def test_a_wrong_point_is_refused_by_its_name() -> None:
    good, bad = (judge_fit(measured(0.003, wrong), "upper rim") for wrong in (0.0, -0.08))
    assert (good[0].rule, good[1].rule) == (WRONG_POINT, ROUGH)
    assert checked(good[0]).verdict is Verdict.HOLDS
    assert checked(bad[0]).verdict is Verdict.FAILS
    assert bad[0].which.startswith("upper rim, point 18, ")
    assert bad[0].which.endswith("mm off the others")
    # The others are as good as before: one wrong point does not make the rest rough.
    assert checked(bad[1]).verdict is Verdict.HOLDS


def test_a_roughly_measured_rim_is_refused() -> None:
    fine, rough = (judge_fit(measured(sd), "lower rim")[1] for sd in (0.003, 0.009))
    assert checked(fine).verdict is Verdict.HOLDS
    assert checked(rough).verdict is Verdict.FAILS
    # Rough all over is no wrong point.
    assert checked(judge_fit(measured(0.009), "lower rim")[0]).verdict is Verdict.HOLDS


def test_with_no_point_to_spare_nothing_is_known() -> None:
    x, y = [0.0, 2.0, 1.0, 1.2, 0.5], [0.1, -0.1, -0.6, 0.6, -0.6]
    found = judge_fit(fitted(np.stack([x, y, np.zeros(5)], axis=-1), radius=0.0), "lower rim")
    assert [item.value for item in found] == [None, None]
    assert found[0].unknown == "more points of the lower rim"


def test_overhang_of_equal_offset_is_that_offset() -> None:
    lower = rounded(0.0, 2.0, 1.2, 0.15)
    found = overhang(lower, moved(rounded(-0.03, 2.06, 1.26, 0.18), 0.0, 0.5, 0.0))
    assert (float(found.least), float(found.most)) == pytest.approx((0.03, 0.03), abs=5e-5)
    assert found.crossing() is None


def test_rims_that_cross_are_told_with_places() -> None:
    lower = rounded([0.0, 0.0], 2.0, 1.2, 0.15)
    found = overhang(lower, rounded([-0.03, -0.05], 2.01, 1.26, 0.18))
    np.testing.assert_allclose(found.least, [-0.02, -0.04], atol=1e-4)
    np.testing.assert_allclose(found.most, [0.03, 0.05], atol=1e-4)
    assert found.crossing() == pytest.approx((0.03, 0.02), abs=1e-4)
    assert found.least_at == "front"
    assert found.crossing(close=0.025) is None
