"""Parts as supports: stiffness against handbook beams, and which way each part acts."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength import support_parts as parts

CROSS = ([2.0, 0.6, 0.0], [2.0, -0.6, 0.0]), ([2.0, 0.5, 0.6], [2.0, -0.5, 0.6])


def test_diagonal_bar_of_the_handbook() -> None:
    """EA/L cos^2: E 200 000 MPa, A 10 mm2, L 1 m at 45 degrees: 1000 N/mm along the panel. Computed here by hand."""
    k = parts.bar_stiffness(area=10e-6, length=1.0, modulus=200e9)
    (bar,) = parts.link("brace", [0, 0, 0], [0, 1, 1], stiffness=k)
    assert float(bar.stiffness * bar.direction[1] ** 2) == pytest.approx(1000e3)
    soft = parts.bar_stiffness(area=10e-6, length=1.0, modulus=200e9, ends=2e6)
    assert float(soft) == pytest.approx(1e6)


def test_shear_panel_of_the_handbook() -> None:
    """k = G t b / h: G 2750 MPa, t 2.5 mm, b 1400, h 600 mm: 16 041.67 N/mm. Derived, figure by hand."""
    low, high = ([0.0, 0.7, 0.0], [1.4, 0.7, 0.0]), ([0.0, 0.7, 0.6], [1.4, 0.7, 0.6])
    ends = parts.cloth_wall("wall", low, high, stretch=3e4, shear=2750e6 * 2.5e-3)
    shear = ends[-1]
    assert float(shear.stiffness) == pytest.approx(16041.67e3, rel=1e-6)
    assert shear.kind == "both"
    assert shear.direction.tolist() == [1.0, 0.0, 0.0]
    assert [e.kind for e in ends[:2]] == ["pull", "pull"]
    assert sum(float(e.stiffness) for e in ends[:2]) == pytest.approx(3e4 * 1.4 / 0.6)


def test_leaf_against_hand_figures() -> None:
    """Computed here from first principles, in mm and N: a steel leaf 4 x 60 x 50, pin 8, grip 4."""
    stiff = parts.hinge_stiffness(thickness=0.004, width=0.06, length=0.05, pin_diameter=0.008, grip=0.004)
    e, g = 210e3, 210e3 / 2.6
    pin = 4 / (0.9 * g * 50.26548)
    slide = 50 / (5 / 6 * g * 240)
    assert float(stiff.along_leaf) == pytest.approx(1e3 / (50 / (e * 240) + pin), rel=1e-6)
    assert float(stiff.along_pin) == pytest.approx(1e3 / (50**3 / (3 * e * 72000) + slide), rel=1e-6)
    assert float(stiff.off_leaf) == pytest.approx(1e3 / (50**3 / (3 * e * 320) + slide + pin), rel=1e-6)
    assert float(stiff.turn_leaf) == pytest.approx(g * 1280 / 50 * 1e-3, rel=1e-6)
    assert float(stiff.turn_off) == pytest.approx(e * 72000 / 50 * 1e-3, rel=1e-6)


def test_thin_roof_skin_decides() -> None:
    """A foot that turns at k gives way by L^2 / k at the pin, whatever the leaf."""
    rigid = parts.hinge_stiffness(thickness=0.004, width=0.06, length=0.05, pin_diameter=0.008, grip=0.004)
    soft = parts.hinge_stiffness(
        thickness=0.004, width=0.06, length=0.05, pin_diameter=0.008, grip=0.004, foot_over=1e3, foot_aside=2e3
    )
    assert float(1 / soft.off_leaf - 1 / rigid.off_leaf) == pytest.approx(0.05**2 / 1e3)
    assert float(1 / soft.along_pin - 1 / rigid.along_pin) == pytest.approx(0.05**2 / 2e3)
    assert float(1 / soft.turn_off - 1 / rigid.turn_off) == pytest.approx(1 / 2e3)


def test_a_hinge_turns_freely_about_its_pin() -> None:
    stiff = parts.HingeStiffness(*(np.asarray(1.0 + i) for i in range(5)))
    lying, upright = parts.hinge("h", [0, 0, 0], stiff), parts.hinge("h", [0, 0, 0], stiff, leaf=(0, 0, 1))
    for found in (lying, upright):
        assert [s.turning for s in found] == [False, False, False, True, True]
        assert all(abs(float(s.direction[1])) < 1e-12 for s in found if s.turning)
    assert lying[0].direction.tolist() == [1, 0, 0]
    assert upright[0].direction.tolist() == [0, 0, 1]
    assert abs(float(upright[2].direction[0])) == 1.0


def test_ways_of_the_parts() -> None:
    along, side = parts.arm("arm", [0, 0.5, 0], [0.3, 0.5, 0.4], along=1e7, sideways=1e4)
    assert along.direction == pytest.approx([0.6, 0.0, 0.8])
    assert side.direction.tolist() == [0.0, 1.0, 0.0]
    assert along.kind == side.kind == "both"
    (spring,) = parts.gas_spring("gas", [0, 0, 0], [0.3, 0, 0.4], rate=500.0)
    assert (spring.kind, float(spring.stiffness)) == ("both", 500.0)
    shoes = parts.guide("post", ([0, 0.5, 0.1], [0, 0.5, 0.5]), across=1e6, sideways=2e5, play=0.0005)
    assert [s.what for s in shoes] == [f"{n} shoe {w}" for n in ("lower", "upper") for w in ("across", "sideways")]
    assert all(abs(float(s.direction[2])) < 1e-12 for s in shoes)
    assert [
        s.kind
        for s in (*parts.strap("s", *CROSS[0], stiffness=1.0), *parts.latch("l", [0, 0, 0], [0, 0, 1], stiffness=1.0))
    ] == ["pull"] * 2
    assert parts.stop("s", [0, 0, 0], [0, 0, 1], stiffness=1.0)[0].kind == "push"
    left, right = parts.crossed_straps("straps", *CROSS, stiffness=1e5)
    assert (left.part, right.part) == ("straps, left foot", "straps, right foot")
    assert left.direction[1] == pytest.approx(-right.direction[1])
