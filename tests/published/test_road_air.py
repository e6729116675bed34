"""Air on the road, seal force, continuous beams.

Sources
- EN 1991-1-4:2005, expression (4.10), for the pressure; read in a public reproduction. Its figures at road speeds,
  uplift and resultant are computed here from first principles; the pressure coefficients are illustrative.
- T. G. Hicks, Civil Engineering Formulas, Table 2.1, uniformly loaded continuous beams over equal spans.

Beside each check stands how it was confirmed: "read in a public reproduction", "from memory" or
"computed here from first principles".
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.strength.latch_bar import Bar, bar_shares
from loftwright.strength.road import Cap, RoadAir, air_per_pressure, apparent_wind, seal_push
from loftwright.strength.wind import velocity_pressure

RHO = 1.225


def shell(**changes: float) -> tuple[Cap, RoadAir]:
    """Return a shell of 2.4 x 1.4 m with suction of 0.6 all over and neither drag nor air below."""
    cap = Cap(*(np.array(value) for value in (0.0, 2.4, 1.4, 0.0, 0.2)))
    names = ("mean", "strip", "strip_length", "centre", "drag", "under", "under_share")
    values = dict(zip(names, (-0.6, 0.0, 0.0, 0.5, 0.0, 0.0, 0.0), strict=True)) | changes
    return cap, RoadAir(**{name: np.array(value) for name, value in values.items()})


@pytest.mark.parametrize(
    ("kmh", "dense", "light"),
    [
        (80, 308.642, 302.469),
        (100, 482.253, 472.608),
        (110, 583.526, 571.856),
        (120, 694.444, 680.556),
        (130, 815.008, 798.708),
    ],
)
def test_pressure_at_road_speeds(kmh: float, dense: float, light: float) -> None:
    # Expression read in a public reproduction; figures computed here from first principles.
    assert float(velocity_pressure(kmh / 3.6)) == pytest.approx(dense, abs=1e-3)
    assert float(velocity_pressure(kmh / 3.6, RHO)) == pytest.approx(light, abs=1e-3)


def test_uplift_at_110_kmh() -> None:
    # 571.856 Pa x 0.6 x 3.36 m2; front strip 0.3 x 1.4 m at -1.2. Computed here from first principles; the
    # coefficients are illustrative, no source gives any for a shell on a van.
    q = velocity_pressure(110 / 3.6, RHO)
    assert float(air_per_pressure(*shell()).times(q).up) == pytest.approx(1152.86, abs=0.01)
    strip = air_per_pressure(*shell(mean=0.0, strip=-1.2, strip_length=0.3)).times(q)
    assert float(strip.up) == pytest.approx(288.22, abs=0.01)


def test_cross_wind() -> None:
    # 120 km/h with 15 m/s square to it. Computed here from first principles.
    wind = apparent_wind(120 / 3.6, 0.0, 15.0)
    assert float(wind.speed) == pytest.approx(36.5529, abs=1e-4)
    assert math.degrees(float(wind.yaw)) == pytest.approx(24.2277, abs=1e-4)
    assert float(velocity_pressure(wind.speed, RHO)) == pytest.approx(818.368, abs=1e-3)


@pytest.mark.parametrize(("line", "total"), [(50.0, 380.0), (100.0, 760.0), (200.0, 1520.0)])
def test_seal_force_round_a_rim(line: float, total: float) -> None:
    # Rim of 2 (2.4 + 1.4) = 7.6 m. Computed here from first principles.
    assert float(seal_push(shell()[0], line).up) == pytest.approx(total)


def test_four_latches_share_the_seal() -> None:
    # 760 N on four latches, 190 N each. Computed here from first principles.
    bar = Bar((-0.6, -0.2, 0.2, 0.6), *(np.array(value) for value in (1.4, 1e12, 1e6, 1.0)))
    assert bar_shares(bar).share * 760.0 == pytest.approx([190.0] * 4, rel=1e-6)


@pytest.mark.parametrize(
    ("shears", "spans"),
    [
        ([[0, 3], [5, 5], [3, 0]], 8),
        ([[0, 4], [6, 5], [5, 6], [4, 0]], 10),
        ([[0, 11], [17, 15], [13, 13], [15, 17], [11, 0]], 28),
        ([[0, 15], [23, 20], [18, 19], [19, 18], [20, 23], [15, 0]], 38),
    ],
)
def test_continuous_beams_over_equal_spans(shears: list[list[int]], spans: int) -> None:
    # Table 2.1: shears left and right of each support as shares of one span's load. Read in a public reproduction.
    # A very limp bar on stiff latches is such a beam; its ends carry no overhang.
    count = len(shears)
    at = tuple(np.linspace(-0.7, 0.7, count))
    bar = Bar(at, *(np.array(value) for value in (1.4, 1e-3, 1e6, 1e-6)))
    printed = np.array(shears).sum(axis=1) / spans
    assert bar_shares(bar).share * (count - 1) == pytest.approx(printed, rel=1e-5)
