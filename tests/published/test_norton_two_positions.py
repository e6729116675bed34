"""Two-position motion synthesis by the perpendicular bisector of a moving pivot's two places.

Source: R. L. Norton, Design of Machinery, McGraw-Hill, ch. 5, the first analytical two-position motion synthesis
example: P21 = 2.416 at 165.2 degrees, alpha2 = 43.3 degrees; free choices z = 1.298 at 26.5, beta2 = 38.4 and
s = 1.035 at 104.1, gamma2 = 85.6 degrees; answers w = 2.467 at 71.6 and u = 1.486 at 15.4 degrees.

How confirmed: from memory; data and answers put into the book's own equation W (e^(j beta) - 1) + Z (e^(j alpha) - 1)
= P21 agree to the printed digits (computed here from first principles, and below).
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from loftwright.mechanics.two_positions import Displacement, other_pivot, swing

P21, ALPHA = cmath.rect(2.416, math.radians(165.2)), math.radians(43.3)
DYADS = [
    # z, its angle, beta, and the answer: w, its angle [degrees]
    (1.298, 26.5, 38.4, 2.467, 71.6),
    (1.035, 104.1, 85.6, 1.486, 15.4),
]
PRINTED = 0.003
"""Three decimals and a tenth of a degree at arms of two or three units."""


def _move() -> Displacement:
    # The coupler point lies at the origin first.
    return Displacement(np.array(P21.real), np.array(P21.imag), np.array(ALPHA))


@pytest.mark.parametrize("dyad", DYADS)
def test_data_and_answer_satisfy_the_equation_of_the_book(dyad: tuple[float, ...]) -> None:
    z, phi, beta, w, theta = dyad
    grip, arm = cmath.rect(z, math.radians(phi)), cmath.rect(w, math.radians(theta))
    closing = arm * (cmath.exp(1j * math.radians(beta)) - 1) + grip * (cmath.exp(1j * ALPHA) - 1)
    assert abs(closing - P21) < PRINTED * 2


@pytest.mark.parametrize("dyad", DYADS)
def test_fixed_pivot_and_swing(dyad: tuple[float, ...]) -> None:
    z, phi, beta, w, theta = dyad
    pin = -cmath.rect(z, math.radians(phi))
    wanted = pin - cmath.rect(w, math.radians(theta))
    px, pz = np.array(pin.real), np.array(pin.imag)
    found = []
    for side in (1.0, -1.0):
        x, y, reach = other_pivot(px, pz, _move(), np.array(w), np.array(side))
        assert bool(reach)
        found.append((complex(float(x), float(y)), math.degrees(float(swing(x, y, px, pz, _move())))))
    near = min(found, key=lambda pair: abs(pair[0] - wanted))
    assert abs(near[0] - wanted) < PRINTED * 2
    assert near[1] == pytest.approx(beta, abs=0.1)
