"""Cloth as the circle that pressure really makes, and a level shell as the flat roof of a closed house.

Computed here from first principles; the root by the general-purpose library SciPy. The tables compared are those of
EN 1991-1-4:2005, read in public reproductions.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from loftwright.reference.wind import COEFFICIENT, INSIDE
from loftwright.strength.cloth_tension import Holding, Panel, edge_tension, gusts_at_limit, sag
from loftwright.strength.wind import velocity_pressure
from loftwright.strength.wind_coefficients import canopy_coefficient, flat_roof_coefficient


def circle(pressure: float, span: float, slack: float, stiffness: float) -> tuple[float, float]:
    """Return tension and sag of an arc of half angle t: T = p L / (2 sin t), stretched length L t / sin t."""

    def excess(t: float) -> float:
        pull = pressure * span / (2 * math.sin(t))
        return t / math.sin(t) - (1 + slack) * (1 + pull / stiffness)

    t = float(brentq(excess, 1e-4, math.pi / 2, xtol=1e-14))
    return pressure * span / (2 * math.sin(t)), span / 2 * math.tan(t / 2)


@pytest.mark.parametrize("slack", [0.0, 0.005, 0.01, 0.02])
@pytest.mark.parametrize("pressure", [50.0, 300.0, 900.0])
def test_parabola_against_circle(slack: float, pressure: float) -> None:
    panel = Panel(np.array(0.9), np.array(slack), np.array(1e5))
    pull, deep = circle(pressure, 0.9, slack, 1e5)
    assert float(sag(panel, pressure)) == pytest.approx(deep, rel=0.015)
    assert float(edge_tension(panel, pressure)) == pytest.approx(pull, rel=0.015)


def test_gust_at_the_limit_by_search() -> None:
    panel = Panel(np.array(0.9), np.array(0.01), np.array(1e5))
    holding = Holding(np.array(20e3), safety=2.0)

    def spare(gust: float) -> float:
        return float(edge_tension(panel, 1.3 * velocity_pressure(gust))) - 20e3 * 0.6 / 1.5 / 2.0

    searched = float(brentq(spare, 1.0, 200.0, xtol=1e-10))
    assert float(gusts_at_limit(panel, holding, 1.3)["cloth"]) == pytest.approx(searched, rel=1e-9)


@pytest.mark.parametrize(("width", "depth"), [(1.4, 2.2), (2.2, 1.4), (1.2, 3.0)])
def test_a_level_shell_as_a_house(width: float, depth: float) -> None:
    # Two tables for one lift: a blocked canopy, and a flat roof with the greatest pressure inside. The canopy
    # lifts more than the closed house; with a window open in the wind the two agree within the factor's range.
    canopy = -float(canopy_coefficient(0.0, "up"))
    closed = INSIDE[1] - float(flat_roof_coefficient(2.9, width, depth))
    window = 0.9 * 0.8 - float(flat_roof_coefficient(2.9, width, depth))
    assert closed < canopy * COEFFICIENT[1]
    assert canopy * COEFFICIENT[0] < window < canopy * COEFFICIENT[1]
