"""Four-bar positions, Grashof condition and transmission angles.

Source: R. L. Norton, Design of Machinery, McGraw-Hill, ch. 2 (Grashof condition) and ch. 4 (position
analysis): example 4-1, Table P4-1 rows a, c and e, and the problem on Grashof classes.

How confirmed. Example 4-1: from memory; its figures computed here from first principles. Table P4-1:
that the table and its wording exist was read in a public reproduction; the rows and the answers at the
back of the book are from memory, their four-digit figures computed here from first principles. Grashof
inputs: read in a public reproduction; classes computed here from first principles. Formula of the
transmission angle: read in a public reproduction; figures computed here from first principles.
"""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from loftwright.mechanics.four_bar import FourBar, FourBarTravel, four_bar_travel

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


Links = tuple[float, float, float, float]


def closed_roof(links: Links, theta2: float, crossed: bool = False) -> FourBar:
    """Return pins for ground d along x, crank a at theta2 [degrees], coupler b, rocker c: two circles meet."""
    d, a, b, c = links
    crank = a * np.exp(1j * np.radians(theta2))
    span = abs(d - crank)
    corner = np.arccos((span**2 + b**2 - c**2) / (2 * span * b))
    joint = crank + b * np.exp(1j * (np.angle(d - crank) + (-corner if crossed else corner)))
    return FourBar(0, 0, crank.real, crank.imag, d, 0, joint.real, joint.imag)


def standing_at(links: Links, theta2: float, crossed: bool) -> tuple[FourBarTravel, FourBar]:
    """Return the travel from 12 degrees before theta2 to 12 degrees beyond; its middle station stands at theta2."""
    bar = closed_roof(links, theta2 - 12, crossed)
    found = four_bar_travel(bar, np.radians(24), stations=3, sense=1.0)
    assert found.possible
    return found, bar


def angles(found: FourBarTravel, bar: FourBar) -> tuple[complex, complex, float, float]:
    """Return pins A and B as the moved shell carries them, and theta3 and theta4 [degrees], at the middle station."""
    shell = found.travel.shell
    path = [shell.point(bar.arm_a_shell_x, bar.arm_a_shell_z), shell.point(bar.arm_b_shell_x, bar.arm_b_shell_z)]
    a, b = (complex(pin.x[1], pin.z[1]) for pin in path)
    return a, b, float(np.degrees(np.angle(b - a))), float(np.degrees(np.angle(b - float(bar.arm_b_van_x))))


@pytest.mark.parametrize(
    ("crossed", "theta3", "theta4", "pin"),
    [
        (False, 20.2979, 57.3249, (143.1900, 67.3396)),
        (True, -60.9780, -98.0050, (88.8593, -79.2205)),
    ],
)
def test_example_4_1(crossed: bool, theta3: float, theta4: float, pin: tuple[float, float]) -> None:
    found, bar = standing_at((100, 40, 120, 80), 40, crossed)
    _, joint, t3, t4 = angles(found, bar)
    assert (t3, t4) == pytest.approx((theta3, theta4), abs=1e-4)
    assert (joint.real, joint.imag) == pytest.approx(pin, abs=1e-3)
    assert np.degrees(found.transmission[1]) == pytest.approx(37.0270, abs=1e-4)


@pytest.mark.parametrize("row", ROWS)
def test_table_p4_1(row: tuple) -> None:
    links, theta2, crossed, printed, exact, reach, delta, point, mu = row
    found, bar = standing_at(links, theta2, crossed)
    pin, _, t3, t4 = angles(found, bar)
    assert (t3, t4) == pytest.approx(printed, abs=PRINTED)
    assert (t3, t4) == pytest.approx(exact, abs=1e-4)
    assert abs(pin) == pytest.approx(links[1], rel=1e-12)
    assert np.degrees(found.transmission[1]) == pytest.approx(mu, abs=1e-4)
    # Point P of the coupler, set out on the closed roof and carried to theta2.
    start = complex(float(bar.arm_a_shell_x), float(bar.arm_a_shell_z))
    ahead = complex(float(bar.arm_b_shell_x), float(bar.arm_b_shell_z)) - start
    closed = start + reach * np.exp(1j * (np.angle(ahead) + np.radians(delta)))
    path = found.travel.shell.point(closed.real, closed.imag)
    assert (path.x[1], path.z[1]) == pytest.approx(point, abs=1e-4)


def whole_turn(links: Links) -> FourBarTravel:
    """Return the travel of a crank that is asked for all but the last millionth of a turn."""
    d, a, b, c = links
    span = (max(abs(b - c), abs(d - a)) + min(b + c, d + a)) / 2
    theta2 = np.degrees(np.arccos((a**2 + d**2 - span**2) / (2 * a * d)))
    return four_bar_travel(closed_roof(links, theta2), 2 * np.pi * (1 - 1e-6), stations=3601, sense=1.0)


@pytest.mark.parametrize("others", list(permutations((4.5, 7, 9))))
def test_the_shortest_link_of_a_grashof_four_bar_turns_right_round(others: tuple[float, float, float]) -> None:
    d, b, c = others
    assert whole_turn((d, 2, b, c)).possible


@pytest.mark.parametrize("links", list(permutations((2, 3.5, 7, 9))))
def test_no_link_of_a_non_grashof_four_bar_turns_right_round(links: Links) -> None:
    assert not whole_turn(links).possible


@pytest.mark.parametrize("others", list(permutations((4, 6, 8))))
def test_at_a_change_point_all_links_fall_in_one_line(others: tuple[float, float, float]) -> None:
    d, b, c = others
    found = whole_turn((d, 2, b, c))
    assert found.possible
    # Stations are 0.2 degrees apart or less; the angle between the links grows in step with the crank's.
    assert np.degrees(found.transmission.min()) < 0.1
    # A little shorter than shortest + longest = the other two, and the crank turns clear of the line; a little longer,
    # and it does not turn.
    shorter, longer = (tuple(v + by if v == 8 else v for v in (d, 2, b, c)) for by in (-0.1, 0.1))
    assert np.degrees(whole_turn(shorter).transmission.min()) > 5
    assert not whole_turn(longer).possible


def test_transmission_angle_at_both_extremes() -> None:
    found = four_bar_travel(closed_roof((100, 40, 120, 80), 0), np.pi, stations=201, sense=1.0)
    acute = np.degrees(found.transmission)
    assert acute.min() == acute[0] == pytest.approx(26.3843, abs=1e-4)
    # Beyond a right angle the obtuse angle shrinks again: 93.5833 counts as 86.4167.
    assert acute[-1] == pytest.approx(86.4167, abs=1e-4)
