"""Forces of actuators in scissor lifts, by the package's own virtual work.

Source: H. M. Spackman, Mathematical Analysis of Scissor Lifts, Naval Ocean Systems Center TD 1550 (1989), and
A. Saxena (2016), F = (W + B/2) dh/dl with B the arms' weight: formulas read in public reproductions; the figures are
computed from them by hand. W = 400 N on top, arms of 60 N together; half of the arms' weight acts on top. A spring
between the points named stands for the actuator: what it must push is the weight's share over its own leverage.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.motion import Travel
from loftwright.mechanics.balance import G0, Mount, lever, weight_share
from loftwright.mechanics.gas_spring import GasSpring
from loftwright.mechanics.masses import Body
from loftwright.mechanics.scissor import scissor_travel

ARM = 0.9
TOP = 400.0 + 60.0 / 2
Place = tuple[float, float]


def lift(degrees: float, stages: int = 1) -> Travel:
    """Return a travel that starts at this angle of the arms."""
    angle = np.radians(degrees)
    return scissor_travel(0.0, 0.0, ARM * np.cos(angle), ARM * np.sin(angle), 0.1, stages=stages).travel


def needed(travel: Travel, foot_on: str, foot: Place, head_on: str, head: Place) -> float:
    """Return the pull (positive) or push between two points that holds the weight at the start [N]."""
    one = np.ones(1)
    spring = GasSpring(one, one, 0 * one, one, one, one)
    ends = (np.array([v]) for v in (*foot, *head))
    line = lever(Mount(spring, 1, foot_on, head_on, *ends, np.zeros(1)), travel)
    weight = weight_share(Body(np.array([TOP / G0]), np.array([0.3]), np.array([0.2]), one), travel)
    return float(weight[..., 0].item() / line.rate[..., 0].item())


def pins(degrees: float) -> tuple[Place, Place]:
    """Return where the lower sliding end and the arms' crossing lie."""
    angle = np.radians(degrees)
    across, up = ARM * np.cos(angle), ARM * np.sin(angle)
    return (float(across), 0.0), (float(across) / 2, float(up) / 2)


@pytest.mark.parametrize(("degrees", "force"), [(10, 2438.65), (20, 1181.42), (45, 430.00)])
def test_actuator_between_the_lower_pins(degrees: float, force: float) -> None:
    slide, _ = pins(degrees)
    assert needed(lift(degrees), "van", (0.0, 0.0), "arm b", slide) == pytest.approx(force, abs=0.005)


@pytest.mark.parametrize("arm", ["arm a", "arm b"])
def test_level_actuator_at_the_centre_pin(arm: str) -> None:
    _, centre = pins(20)
    assert needed(lift(20), "van", (-0.5, centre[1]), arm, centre) == pytest.approx(2362.83, abs=0.005)


@pytest.mark.parametrize(("stages", "force"), [(1, 744.782), (2, 1489.564), (3, 2234.346)])
def test_like_stages_on_top_of_each_other(stages: int, force: float) -> None:
    slide, _ = pins(30)
    assert needed(lift(30, stages), "van", (0.0, 0.0), "arm b", slide) == pytest.approx(force, abs=5e-4)


def test_force_grows_without_bound_towards_level() -> None:
    forces = [needed(lift(degrees), "van", (0.0, 0.0), "arm b", pins(degrees)[0]) for degrees in (4.0, 2.0, 1.0, 0.1)]
    assert forces == pytest.approx([TOP / np.tan(np.radians(d)) for d in (4.0, 2.0, 1.0, 0.1)])
    assert not scissor_travel(0.0, 0.0, ARM, 0.0, 0.1).possible


def test_any_actuator_carries_the_load_times_height_over_length() -> None:
    """F = (W + B/2) dh/dl for an actuator between two points anywhere, with dh/dl by difference."""
    angle, step = np.radians(35), 1e-5
    foot, along = (0.1, -0.05), 0.6

    def length_and_height(theta: float) -> tuple[float, float]:
        head = (along * ARM * np.cos(theta), along * ARM * np.sin(theta))
        return float(np.hypot(head[0] - foot[0], head[1] - foot[1])), ARM * float(np.sin(theta))

    (l0, h0), (l1, h1) = (length_and_height(angle + k * step) for k in (-1, 1))
    head = (along * ARM * np.cos(angle), along * ARM * np.sin(angle))
    held = needed(lift(35), "van", foot, "arm a", head)
    assert -held == pytest.approx(TOP * (h1 - h0) / (l1 - l0), rel=1e-8)
