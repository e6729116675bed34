"""Weighing and centres of mass against published worked examples.

Sources
- FAA-H-8083-1, Aircraft Weight and Balance Handbook, chapter 2 (weights on a lever) and chapter 3 (nosewheel
  and tailwheel formulas, three supports). In pounds and inches, as printed.
- Four-column method of the same handbook for equipment changes, and the tilted weighing of vehicles.

Beside each check stands how it was confirmed: "read in a public reproduction", "from memory" or
"computed here from first principles".
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.uncertain import exact, normal
from loftwright.mechanics.masses import body, combine
from loftwright.mechanics.weigh import Line, Tilted, Weighed, Whole, weigh


def centre_of(nose: float, nose_at: float, mains_at: float, total: float) -> float:
    got = weigh([Line(exact(nose_at), exact(mains_at), normal(nose, 1.0)), Whole(normal(total, 1.0))])
    assert isinstance(got, Weighed)
    assert got.mass == pytest.approx(total, rel=1e-9)
    return got.centre


def test_nosewheel_aircraft_with_the_datum_ahead() -> None:
    # Chapter 3: F = 340 lb on the nosewheel, L = 78 in, W = 2006 lb, datum 128 in ahead of the mains.
    # Printed 13.2 in ahead of the mains, 114.8 in aft of the datum. Read in a public reproduction.
    centre = centre_of(340.0, 128.0 - 78.0, 128.0, 2006.0)
    assert centre == pytest.approx(114.8, abs=0.05)
    assert 128.0 - centre == pytest.approx(13.2, abs=0.05)
    # 128 - 340 x 78 / 2006, computed here from first principles.
    assert centre == pytest.approx(114.7797, abs=1e-4)


def test_nosewheel_aircraft_with_the_datum_behind_the_mains() -> None:
    # Same aircraft, datum 75 in behind the mains: -(75 + 13.2) = -88.2 in. The figure without its sign was read in
    # a public reproduction; the sign convention is from memory.
    centre = centre_of(340.0, -75.0 - 78.0, -75.0, 2006.0)
    assert centre == pytest.approx(-88.2, abs=0.05)
    assert centre == pytest.approx(-88.2203, abs=1e-4)


def test_tailwheel_aircraft() -> None:
    # Chapter 3: D = 7.5 in, R = 67 lb, L = 222 in, W = 1218 lb: D + R L / W = 19.7118 in. From memory.
    assert centre_of(67.0, 7.5 + 222.0, 7.5, 1218.0) == pytest.approx(19.7118, abs=1e-4)
    # Datum 80 in behind the mains: -80 + 12.2118. From memory.
    assert centre_of(67.0, -80.0 + 222.0, -80.0, 1218.0) == pytest.approx(-67.7882, abs=1e-4)


def test_three_weights_on_a_lever() -> None:
    # Chapter 2: 100 lb at 50 in, 100 lb at 90 in, 200 lb at 150 in: moment 44 000 lb in, centre 110.0 in. From memory.
    total = combine([body(100.0, 50.0, 0.0), body(100.0, 90.0, 0.0), body(200.0, 150.0, 0.0)])
    assert float(total.mass * total.x) == 44000.0
    assert float(total.x) == 110.0


def test_three_supports_in_metric() -> None:
    # 1100 kg at 1.2 m, 2300 kg + 2300 kg at 3.5 m: printed 3.06 m. Read in a public reproduction.
    by_parts = combine([body(1100.0, 1.2, 0.0), body(2300.0, 3.5, 0.0), body(2300.0, 3.5, 0.0)])
    by_readings = weigh(
        [
            Line(exact(1.2), exact(3.5), normal(1100.0, 1.0)),
            Line(exact(3.5), exact(1.2), normal(4600.0, 1.0)),
        ]
    )
    assert isinstance(by_readings, Weighed)
    for centre in (float(by_parts.x), by_readings.centre):
        assert centre == pytest.approx(3.06, abs=0.005)
        # 17420 / 5700, computed here from first principles.
        assert centre == pytest.approx(3.05614, abs=1e-5)
    assert by_readings.mass == pytest.approx(5700.0, rel=1e-9)


def test_items_added_and_removed_in_two_directions() -> None:
    # Four-column method: removal has negative weight and so a moment of the other sign. The rule was read in a
    # public reproduction; the vehicle's figures are computed here from first principles.
    total = combine(
        [body(2450.0, 1.5, 0.78), body(38.0, 1.9, 2.45), body(22.0, 1.7, 2.52)],
        [body(14.0, 2.6, 2.3)],
    )
    assert float(total.mass) == pytest.approx(2496.0, rel=1e-12)
    assert float(total.x) == pytest.approx(1.501683, abs=1e-6)
    assert float(total.z) == pytest.approx(0.812236, abs=1e-6)


ANGLES = np.radians([5.0, 10.0, 15.0])
LEVEL = 1369.1176
NEAR_AXLE = np.array([1397.1719, 1425.6590, 1455.0387])


@pytest.mark.parametrize("number", range(3))
@pytest.mark.parametrize("mirrored", [False, True])
def test_height_of_the_centre_by_tilting(number: int, mirrored: bool) -> None:
    # m = 2450 kg, L = 3.4 m, centre 1.5 m from the near axle, axles 0.335 m high: the readings above belong to a
    # height of 0.780 m, so 0.780 - 0.335 m above the axles. Formula read in a public reproduction; readings computed
    # here from first principles. Readings to 4 places: 5e-5 kg at each is within 2e-6 m at 5 degrees.
    near, far = (3.4, 0.0) if mirrored else (0.0, 3.4)
    got = weigh(
        [
            Whole(normal(2450.0, 1.0)),
            Line(exact(near), exact(far), normal(LEVEL, 1.0)),
            Tilted(exact(ANGLES[number]), exact(near), exact(far), normal(NEAR_AXLE[number], 1.0)),
        ]
    )
    assert isinstance(got, Weighed)
    assert got.height == pytest.approx(0.445, abs=3e-6)
    assert abs(got.centre - near) == pytest.approx(1.5, abs=1e-6)


def height_with(mass: float, span: float, degrees: float, extra: float) -> float:
    """Return the height found for a centre half way along and 0.2 m up, the tilted scales reading `extra` kg more."""
    level, lean = mass / 2, np.tan(np.radians(degrees))
    got = weigh(
        [
            Whole(normal(mass, 1.0)),
            Line(exact(0.0), exact(span), normal(level, 1.0)),
            Tilted(
                exact(np.radians(degrees)),
                exact(0.0),
                exact(span),
                normal(level + mass * 0.2 * lean / span + extra, 1.0),
            ),
        ]
    )
    assert isinstance(got, Weighed)
    assert got.height is not None
    return got.height


def test_what_a_kilogram_of_error_does_to_the_height() -> None:
    # dh/dW = L / (m tan t) = 7.870 mm per kg at 10 degrees, so 5 kg are 39 mm. Computed here from first principles.
    assert height_with(2450.0, 3.4, 10.0, 0.0) == pytest.approx(0.2, abs=1e-9)
    assert 1e3 * (height_with(2450.0, 3.4, 10.0, 1.0) - 0.2) == pytest.approx(7.870, abs=1e-3)
    assert 1e3 * (height_with(2450.0, 3.4, 10.0, 5.0) - 0.2) == pytest.approx(39.0, abs=0.5)


@pytest.mark.parametrize(("degrees", "metres"), [(10.0, 0.189), (30.0, 0.0577)])
def test_a_household_shell_needs_a_steep_tilt(degrees: float, metres: float) -> None:
    # 60 kg over 2 m: one kilogram is about 0.19 m at 10 degrees and 0.06 m at 30 degrees.
    # Computed here from first principles.
    assert height_with(60.0, 2.0, degrees, 1.0) - 0.2 == pytest.approx(metres, abs=5e-4)
