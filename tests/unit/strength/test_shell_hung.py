"""Sag, rise at mid-side and twist: exact beams, and a verdict on each side."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.strength.shell_hung import (
    lip_droop,
    panel_bulge,
    plate_rigidity,
    side_rise,
    twist_angle,
    upward_line,
)
from loftwright.strength.shell_rules import judge_sag, judge_sides, judge_twist


def check(one: Judged) -> Check:
    assert one.value is not None
    assert one.limit is not None
    return one.rule.judge(float(one.value), float(one.limit))


def beam(load: float, at_lip: float, a: float, c: float, bending: float) -> float:
    """Return droop at the lip by integrating the curvature twice, trapezia on 40 000 steps."""
    x = np.linspace(0.0, a + c, 40_001)
    h = x[1]
    hinge = (load * (a + c) * (a - c) / 2 - at_lip * c) / a
    springs = load * (a + c) + at_lip - hinge
    moment = hinge * x - load * x**2 / 2 + springs * np.maximum(x - a, 0.0)
    slope = np.concatenate([[0.0], np.cumsum((moment[1:] + moment[:-1]) * h / 2)]) / bending
    up = np.concatenate([[0.0], np.cumsum((slope[1:] + slope[:-1]) * h / 2)])
    up = up - x / a * np.interp(a, x, up)
    return -float(up[-1])


@pytest.mark.parametrize(("a", "c", "at_lip"), [(0.7, 1.4, 0.0), (1.5, 0.6, 30.0), (1.9, 0.2, 0.0)])
def test_droop_by_integration(a: float, c: float, at_lip: float) -> None:
    droop = beam(150.0, at_lip, a, c, 3000.0)
    assert lip_droop(150.0, at_lip, a, c, 3000.0) == pytest.approx(droop, rel=1e-5)


def test_short_overhang_stands_up() -> None:
    assert lip_droop(150.0, 0.0, 1.9, 0.2, 3000.0) < 0


@pytest.mark.parametrize("stiff", [100.0, 2000.0, 20_000.0])
def test_seal_gives_way_like_a_beam_on_springs(stiff: float) -> None:
    # Exact beam on springs, pinned ends: (q / k) (1 - 2 cosh cos / (cosh 2 + cos 2)) of half its length.
    length, bending, q = 2.0, 3000.0, 160.0
    u = (stiff / (4 * bending)) ** 0.25 * length
    exact = q / stiff * (1 - 2 * np.cosh(u / 2) * np.cos(u / 2) / (np.cosh(u) + np.cos(u)))
    assert side_rise(q, length, bending, seal_stiffness=stiff) == pytest.approx(exact, rel=0.03)


def test_weight_can_outdo_the_seal() -> None:
    assert side_rise(upward_line(30.0, 0.0, 1.2, 200.0), 2.0, 3000.0) < 0


def test_long_field_of_skin_bulges_like_a_strip() -> None:
    d = plate_rigidity(70e9, 0.001)
    assert panel_bulge(100.0, 5.0, 0.3, d) == pytest.approx(5 * 100.0 * 0.3**4 / (384 * d), rel=1e-3)
    assert panel_bulge(100.0, np.array([0.4, 0.6]), 0.3, d).shape == (2,)


def test_shell_that_droops_and_one_that_does_not() -> None:
    assert check(judge_sag(lip_droop(150.0, 0.0, 1.0, 1.1, 8000.0), 1.1)).verdict is Verdict.HOLDS
    assert check(judge_sag(lip_droop(150.0, 0.0, 0.7, 1.4, 2000.0), 1.4)).verdict is Verdict.FAILS


def test_sides_that_stay_down_and_sides_that_lift() -> None:
    reserve = 0.004
    lifting = upward_line(100.0, 60.0, 1.2, 120.0)
    assert check(judge_sides(side_rise(lifting, 2.0, 15_000.0), reserve)).verdict is Verdict.HOLDS
    assert check(judge_sides(side_rise(lifting, 2.0, 2500.0), reserve)).verdict is Verdict.FAILS


def test_twist_that_stays_small_twist_that_does_not_and_twist_not_known() -> None:
    assert check(judge_twist(twist_angle(30.0, 1.2, 3000.0))).verdict is Verdict.HOLDS
    assert check(judge_twist(twist_angle(-250.0, 1.2, 3000.0))).verdict is Verdict.FAILS
    unknown = judge_twist(None)
    assert unknown.value is None
    assert unknown.missing == "twist_moment"
    assert unknown.rule.not_known(unknown.unknown).verdict is Verdict.NOT_KNOWN
