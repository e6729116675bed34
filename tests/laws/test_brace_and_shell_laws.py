"""What holds for every brace and every shell."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from loftwright.strength.brace import arm_path, bar_path, strap_path
from loftwright.strength.brace_load import euler_load, round_section, strut_load
from loftwright.strength.latch_alignment import latch_offset
from loftwright.strength.shell_hung import side_rise
from loftwright.strength.shell_stiffness import closed_constant, open_constant

RISE = np.linspace(0.0, 0.7, 15)


def some(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


@given(some(0.3, 1.5), some(0.0, 0.5), some(-0.1, 0.1))
def test_a_longer_bar_never_stands_steeper_and_never_reaches_less(length: float, more: float, track: float) -> None:
    short, long = (
        bar_path(
            RISE,
            pivot_y=-0.5,
            pivot_z=0.0,
            length=bar,
            track_z=track,
            track_from=-0.6,
            track_to=0.6,
            pivot_on="van",
            leans="left",
        )
        for bar in (length, length + more)
    )
    assert np.all(long.slope <= short.slope + 1e-12)
    assert np.all(long.spare >= short.spare)
    assert np.all(long.slider >= short.slider)


@given(some(-0.7, 0.7), some(-0.7, 0.7), some(0.0, 0.2))
def test_straps_and_their_mirror_images_are_equally_long(foot: float, head: float, up: float) -> None:
    one = strap_path(RISE, foot_y=foot, foot_z=0.0, head_y=head, head_z=up)
    other = strap_path(RISE, foot_y=-foot, foot_z=0.0, head_y=-head, head_z=up)
    assert np.array_equal(one.distance, other.distance)
    assert one.to_stow >= 0
    assert one.loose_open >= 0


@given(some(0.3, 0.8), some(0.3, 0.8), some(-0.4, 0.4))
def test_a_knee_that_reaches_stays_on_both_links(lower: float, upper: float, head: float) -> None:
    path = arm_path(RISE, foot_y=0.0, foot_z=0.0, head_y=head, head_z=0.3, lower=lower, upper=upper, knee="left")
    reaches = path.spare > 1e-6
    assert np.allclose(np.hypot(path.knee_y, path.knee_z)[reaches], lower)
    assert np.allclose(np.hypot(path.knee_y - head, path.knee_z - 0.3 - RISE)[reaches], upper)


@given(some(0.006, 0.04), some(0.2, 2.0), some(0.0, 0.02), some(0.0, 0.02))
def test_crooked_never_holds_more(outer: float, length: float, bow: float, more: float) -> None:
    rod = round_section(outer)
    euler = euler_load(70e9, rod.inertia, length)
    straight, bent, worse = (
        float(strut_load(euler, 160e6, rod.area, rod.inertia, rod.edge, e)) for e in (0.0, bow, bow + more)
    )
    assert worse <= bent * (1 + 1e-9)
    assert bent <= straight * (1 + 1e-9)
    assert straight <= float(euler) * (1 + 1e-9)


@given(some(0.0, 0.01), some(0.0, 0.002), some(0.0, 0.05), some(0.0, 50.0))
def test_slop_never_narrows_the_range_and_left_is_right_mirrored(
    slop: float, radial: float, twist: float, push: float
) -> None:
    def range_of(askew: float, side: float, hole: float, turn: float, wind: float) -> tuple[float, float]:
        found = latch_offset(
            askew=askew,
            side_slop=side,
            radial_slop=hole,
            hinges_apart=1.0,
            reach=2.0,
            twist=turn,
            height=0.1,
            latches_apart=1.1,
            sideways=wind,
            stiffness=5000.0,
        )
        return float(found.to_right), float(found.to_left)

    calm, loose = range_of(0.003, 0.0, 0.0, 0.0, 0.0), range_of(0.003, slop, radial, twist, push)
    assert loose[0] <= calm[0] <= calm[1] <= loose[1]
    mirrored = range_of(-0.003, slop, radial, -twist, -push)
    assert np.allclose(mirrored, (-loose[1], -loose[0]))


@given(some(1.0, 500.0), some(1.0, 3.0), some(500.0, 5e4), some(0.0, 1e5), some(1.0, 5.0))
def test_stiffer_shells_and_stiffer_seals_never_rise_more(
    lifting: float, length: float, bending: float, seal: float, factor: float
) -> None:
    rise = float(side_rise(lifting, length, bending, seal_stiffness=seal))
    assert side_rise(lifting, length, bending * factor, seal_stiffness=seal) <= rise * (1 + 1e-12)
    assert side_rise(lifting, length, bending, seal_stiffness=seal * factor) <= rise * (1 + 1e-12)
    assert np.isclose(side_rise(2 * lifting, length, bending, seal_stiffness=seal), 2 * rise)


@given(some(0.3, 2.0), some(0.02, 0.3), some(0.0005, 0.006))
def test_closing_a_thin_box_never_softens_it(width: float, depth: float, thickness: float) -> None:
    walls = [(width, thickness), (depth, thickness)] * 2
    assert closed_constant(width * depth, walls) > open_constant(walls)
