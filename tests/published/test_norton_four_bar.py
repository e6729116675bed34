"""Four-bar positions, Grashof classes and transmission angles.

Source: R. L. Norton, Design of Machinery, McGraw-Hill, ch. 2 (Grashof condition) and ch. 4 (position
analysis): example 4-1, Table P4-1 rows a, c and e, and the problem on Grashof classes.

How confirmed. Example 4-1: from memory; its figures computed here from first principles. Table P4-1:
that the table and its wording exist was read in a public reproduction; the rows and the answers at the
back of the book are from memory, their four-digit figures computed here from first principles. Grashof
inputs: read in a public reproduction; classes computed here from first principles. Formula of the
transmission angle: read in a public reproduction; figures computed here from first principles.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.mechanics.linkage import (
    FourBar,
    Grashof,
    four_bar_travel,
    grashof,
    solve_four_bar,
    transmission_limits,
)

PRINTED = 0.1
"""Degrees: the book prints one decimal, and row a crossed is cut, not rounded (-143.66 as -143.6)."""

ROWS = [
    # links d, a, b, c; theta2; crossed; printed theta3, theta4; four-digit theta3, theta4; R_PA; delta3; point P; mu
    ((6, 2, 7, 9), 30, False, (88.8, 117.3), (88.8372, 117.2861), 6, 30, (-1.1619, 6.2560), 28.4488),
    ((6, 2, 7, 9), 30, True, (-115.2, -143.6), (-115.2108, -143.6596), 6, 30, (2.2330, -4.9791), 28.4488),
    ((3, 10, 6, 8), 45, False, (-53.1, 16.5), (-53.1320, 16.4912), 10, 80, (15.9916, 11.5904), 69.6232),
    ((3, 10, 6, 8), 45, True, (173.3, 103.6), (173.2709, 103.6476), 10, 80, (4.1926, -2.5057), 69.6232),
    ((8, 5, 8, 6), 75, False, (7.5, 78.2), (7.4973, 78.2124), 9, 300, (6.7726, -2.3108), 70.7151),
    ((8, 5, 8, 6), 75, True, (-79.0, -149.7), (-79.0206, -149.7357), 9, 300, (-5.5004, -1.0725), 70.7151),
]


@pytest.mark.parametrize(
    ("crossed", "theta3", "theta4", "pin"),
    [
        (False, 20.2979, 57.3249, (143.1900, 67.3396)),
        (True, -60.9780, -98.0050, (88.8593, -79.2205)),
    ],
)
def test_example_4_1(crossed: bool, theta3: float, theta4: float, pin: tuple[float, float]) -> None:
    t3, t4 = solve_four_bar(100, 40, 120, 80, np.radians(40), crossed)
    assert np.degrees(t3) == pytest.approx(theta3, abs=1e-4)
    assert np.degrees(t4) == pytest.approx(theta4, abs=1e-4)
    x, z = 100 + 80 * np.cos(t4), 80 * np.sin(t4)
    assert (float(x), float(z)) == pytest.approx(pin, abs=1e-3)
    assert np.degrees(np.arccos(abs(np.cos(t3 - t4)))) == pytest.approx(37.0270, abs=1e-4)


@pytest.mark.parametrize("row", ROWS)
def test_table_p4_1(row: tuple) -> None:
    links, theta2, crossed, printed, exact, reach, delta, point, mu = row
    t3, t4 = (float(np.degrees(t)) for t in solve_four_bar(*links, np.radians(theta2), crossed))
    assert (t3, t4) == pytest.approx(printed, abs=PRINTED)
    assert (t3, t4) == pytest.approx(exact, abs=1e-4)
    ahead = np.radians(t3 + delta)
    x = links[1] * np.cos(np.radians(theta2)) + reach * np.cos(ahead)
    z = links[1] * np.sin(np.radians(theta2)) + reach * np.sin(ahead)
    assert (x, z) == pytest.approx(point, abs=1e-4)
    assert np.degrees(np.arccos(abs(np.cos(np.radians(t3 - t4))))) == pytest.approx(mu, abs=1e-4)


@pytest.mark.parametrize("row", ROWS)
def test_travel_passes_through_the_printed_positions(row: tuple) -> None:
    """The shell's travel, started 12 degrees before the printed crank angle, stands there on its last station."""
    (d, a, b, c), theta2, crossed, _, exact, reach, delta, point, mu = row
    before = np.radians(theta2 - 12)
    t3, t4 = solve_four_bar(d, a, b, c, before, crossed)
    tip = (a * np.cos(before), a * np.sin(before))
    bar = FourBar(0, 0, *tip, d, 0, d + c * np.cos(t4), c * np.sin(t4))
    found = four_bar_travel(bar, np.radians(12), sense=1.0)
    assert found.possible
    assert np.degrees(t3 + found.travel.shell.phi[-1]) == pytest.approx(exact[0], abs=1e-4)
    assert np.degrees(t4 + found.travel.arms[1].phi[-1]) == pytest.approx(exact[1], abs=1e-4)
    assert np.degrees(found.transmission[-1]) == pytest.approx(mu, abs=1e-4)
    closed = tip + reach * np.array([np.cos(t3 + np.radians(delta)), np.sin(t3 + np.radians(delta))])
    path = found.travel.shell.point(*closed)
    assert (path.x[-1], path.z[-1]) == pytest.approx(point, abs=1e-4)


@pytest.mark.parametrize(
    ("lengths", "expected"),
    [
        ((2, 4.5, 7, 9), Grashof.TURNS),
        ((2, 3.5, 7, 9), Grashof.ROCKS),
        ((2, 4.0, 6, 8), Grashof.CHANGE_POINT),
    ],
)
def test_grashof_classes(lengths: tuple[float, float, float, float], expected: Grashof) -> None:
    assert grashof(lengths) is expected
    assert grashof(lengths[::-1]) is expected


def test_transmission_angle_at_both_extremes() -> None:
    least, most = transmission_limits(100, 40, 120, 80)
    assert np.degrees(least) == pytest.approx(26.3843, abs=1e-4)
    assert np.degrees(most) == pytest.approx(86.4167, abs=1e-4)


def test_transmission_extremes_bound_a_whole_turn() -> None:
    theta2 = np.linspace(0, 2 * np.pi, 3601)
    t3, t4 = solve_four_bar(100, 40, 120, 80, theta2)
    acute = np.degrees(np.arccos(np.abs(np.cos(t3 - t4))))
    assert acute.min() == pytest.approx(26.3843, abs=1e-4)
    assert np.degrees(np.arccos(np.cos(t4 - t3)[1800])) == pytest.approx(86.4167, abs=1e-4)
