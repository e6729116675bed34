"""Packers and how true they must be: exact constructed cases and exact rotations in space (scipy's Rotation).

Computed here from first principles; no printed source but for the slope of taper washers (a setting).
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.strength.fit_rules import AXES, HINGE_HEIGHT, PACKER_THIN, ROCKS, WEDGE
from loftwright.strength.fit_surfaces import Points, Surface, measured_surface
from loftwright.strength.packers import (
    PROFILE,
    judge_axes,
    judge_made,
    judge_packers,
    least_height,
    packer_error,
    packers,
    pin_allowance,
    pin_heights,
    plates,
    profiles,
    rod_reading,
)

HINGE = plates(x=-0.08, spacing=1.0, length=0.1, width=0.06, pin=0.012)
ROOF = measured_surface(crown=0.05, width=1.6, camber=0.02, length=2.4, middle=1.0)


def check(judged: Judged) -> Check:
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(np.ravel(judged.value)[0]), float(np.ravel(judged.limit)[0]), part=judged.which)


def checks(found: tuple[Judged, ...], rule: object) -> list[Check]:
    return [check(judged) for judged in found if judged.rule is rule]


def test_a_barrel_roof_wedges_its_packers_by_its_slope() -> None:
    barrel = measured_surface(crown=0.05, width=1.6, length=2.4, middle=1.0)
    made = packers(barrel, HINGE, 0.03)
    slope = 8 * 0.05 * 0.5 / 1.6**2
    np.testing.assert_allclose(made.wedge_across, np.arctan([slope, -slope]), atol=1e-15)
    np.testing.assert_allclose(made.wedge_along, 0.0, atol=1e-15)
    np.testing.assert_allclose(made.middle, 0.03 - 0.012 + 0.05 * (0.5 / 0.8) ** 2, atol=1e-15)
    # Inner and outer edges of both: the outer is thicker by the parabola's fall, exactly slope x width.
    assert made.corners[0, 1] - made.corners[0, 0] == pytest.approx(slope * 0.06, abs=1e-15)
    np.testing.assert_allclose(made.corners[0], made.corners[1], atol=1e-15)
    np.testing.assert_allclose(made.rock, 0.05 * (0.03 / 0.8) ** 2, atol=1e-15)


def test_a_roof_bent_to_a_circle_wedges_them_by_the_circles_slope() -> None:
    # Measured points on a true cylinder of 4 m radius; slope at y is y / sqrt(R^2 - y^2).
    x, y = np.tile([0.0, 1.0, 2.0], 7), np.repeat(np.linspace(-0.75, 0.75, 7), 3)
    points = Points(x, y, np.sqrt(16.0 - y**2) - 4.0)
    roof = measured_surface(crown=0.07, width=1.5, length=2.0, middle=1.0, points=points)
    made = packers(roof, HINGE, 0.03)
    np.testing.assert_allclose(made.slope_across, np.array([1, -1]) * 0.5 / np.sqrt(16 - 0.25), rtol=0.01)


def test_a_plane_roof_gives_flat_sided_wedges() -> None:
    points = Points(np.array([0.0, 2.0, 0.0]), np.array([0.0, 0.0, 0.5]), np.array([0.0, 0.06, 0.01]))
    roof = measured_surface(width=1.4, length=2.0, middle=1.0, points=points)
    made = packers(roof, HINGE, 0.05)
    np.testing.assert_allclose(made.slope_along, 0.03, atol=1e-14)
    np.testing.assert_allclose(made.slope_across, 0.02, atol=1e-14)
    np.testing.assert_allclose(made.rock, 0.0, atol=1e-14)
    np.testing.assert_allclose(made.steepness, np.hypot(0.03, 0.02), atol=1e-14)
    x, y = np.array([-0.13, -0.03]), np.array([-0.47, -0.53])
    # Right packer: rear inner, rear outer, front inner, front outer.
    expected = [0.05 - 0.012 - 0.03 * x[i] - 0.02 * y[j] for i, j in ((0, 0), (0, 1), (1, 0), (1, 1))]
    np.testing.assert_allclose(made.corners[0], expected, atol=1e-14)
    assert made.thinnest[0] == pytest.approx(min(expected), abs=1e-14)


def test_packers_bring_both_pins_to_the_height_asked_for() -> None:
    lopsided = measured_surface(crown=0.05, width=1.6, camber=0.02, length=2.4, twist=0.02, middle=1.0)
    height = np.array([0.03, 0.045])
    made = packers(lopsided, HINGE, height)
    assert made.middle[0, 0] != pytest.approx(made.middle[0, 1], abs=1e-4)
    pins = pin_heights(lopsided, HINGE, made.middle[:, 0], made.middle[:, 1])
    np.testing.assert_allclose(pins, np.stack([height, height], axis=-1), atol=1e-15)


def test_thicker_packers_raise_the_pins_by_as_much() -> None:
    low, high = pin_heights(ROOF, HINGE, 0.02, 0.02), pin_heights(ROOF, HINGE, 0.025, 0.03)
    np.testing.assert_allclose(high - low, [0.005, 0.01], atol=1e-15)


def test_the_lowest_height_leaves_just_the_thinnest_packer() -> None:
    height = least_height(ROOF, HINGE, 0.004)
    assert packers(ROOF, HINGE, height).thinnest.min() == pytest.approx(0.004, abs=1e-15)


@pytest.mark.parametrize(("higher", "verdict"), [(0.0001, Verdict.HOLDS), (-0.0001, Verdict.FAILS)])
def test_a_packer_may_not_be_too_thin(higher: float, verdict: Verdict) -> None:
    made = packers(ROOF, HINGE, least_height(ROOF, HINGE) + higher)
    assert [each.verdict for each in checks(judge_packers(made), PACKER_THIN)] == [verdict, verdict]


@pytest.mark.parametrize(("crown", "verdict"), [(0.089, Verdict.HOLDS), (0.09, Verdict.FAILS)])
def test_a_packer_may_not_be_too_steep(crown: float, verdict: Verdict) -> None:
    # Slope 4 crown / 1.6^2 at 0.5 m: 0.14 at a crown of 89.6 mm.
    barrel = measured_surface(crown=crown, width=1.6, length=2.4, middle=1.0)
    assert [each.verdict for each in checks(judge_packers(packers(barrel, HINGE, 0.05)), WEDGE)] == [verdict, verdict]


@pytest.mark.parametrize(("length", "verdict"), [(0.1, Verdict.HOLDS), (0.8, Verdict.FAILS)])
def test_a_flat_packer_may_not_rock(length: float, verdict: Verdict) -> None:
    long = plates(x=-0.08, spacing=1.0, length=length, width=0.06, pin=0.012)
    assert [each.verdict for each in checks(judge_packers(packers(ROOF, long, 0.05)), ROCKS)] == [verdict, verdict]


def test_rows_go_through() -> None:
    crown = np.linspace(0.03, 0.06, 5)
    roof = measured_surface(crown=crown, width=1.6, camber=0.02, length=2.4, middle=1.0)
    hinge = plates(x=np.linspace(-0.1, 0.0, 5), spacing=1.0, length=0.1, width=0.06, pin=0.012)
    made = packers(roof, hinge, 0.04)
    assert made.middle.shape == (5, 2)
    assert made.corners.shape == (5, 2, 4)
    assert least_height(roof, hinge).shape == (5,)
    assert profiles(roof, hinge, 0.04, "along").shape == (5, 2, PROFILE + 2, 2)
    found = judge_packers(made)
    assert all(judged.value is not None and judged.value.shape == (5,) for judged in found)


def area(outline: np.ndarray) -> float:
    u, v = outline[:, 0], outline[:, 1]
    return float((u * np.roll(v, -1) - v * np.roll(u, -1)).sum() / 2)


@pytest.mark.parametrize(("view", "reach", "bend"), [("along", 0.1, 0.02 / 1.2**2), ("across", 0.06, 0.05 / 0.8**2)])
def test_templates_have_the_packers_own_outline(view: str, reach: float, bend: float) -> None:
    made = packers(ROOF, HINGE, 0.04)
    drawn = profiles(ROOF, HINGE, 0.04, view)
    for side in (0, 1):
        outline = drawn[side]
        assert outline[PROFILE // 2] == pytest.approx([0.0, 0.0], abs=1e-15)
        assert outline[-1, 1] == outline[-2, 1] == pytest.approx(made.middle[side], abs=1e-15)
        assert outline[-1, 0] == outline[0, 0] == pytest.approx(-reach / 2)
        # Under a parabola of second coefficient -bend: thickness x reach plus the parabola's fall.
        assert area(outline) == pytest.approx(made.middle[side] * reach + bend * reach**3 / 12, rel=1e-4)
        first = (outline[1] - outline[0]) / reach * 20
        last = (outline[PROFILE - 1] - outline[PROFILE - 2]) / reach * 20
        slope = made.slope_along if view == "along" else made.slope_across
        assert (first[1] + last[1]) / 2 == pytest.approx(slope[side], abs=1e-12)


def test_another_view_is_refused() -> None:
    with pytest.raises(ValueError, match="view"):
        profiles(ROOF, HINGE, 0.04, "above")


@pytest.mark.parametrize("opens", [0.3, 0.9, 1.5, np.pi])
def test_a_pin_at_its_allowance_tilts_by_its_play_in_the_bearing(opens: float) -> None:
    play, length = 0.0004, 0.05
    allowed = float(pin_allowance(play, length, opens))
    pin = Rotation.from_euler("x", allowed).apply([0.0, 1.0, 0.0])
    bearing = Rotation.from_euler("y", np.linspace(0, opens, 50)[:, None]).apply(pin)
    turned = np.arctan2(np.linalg.norm(np.cross(bearing, pin), axis=1), bearing @ pin).max()
    assert max(turned, allowed) == pytest.approx(play / length, rel=1e-4)


def test_a_rod_along_one_pin_reads_unlike_heights_too() -> None:
    # Pins parallel but one 3 mm higher: the line through both is off each by atan(3 mm / spacing).
    off = np.arctan(0.003 / 1.1)
    assert float(rod_reading(1.1, off)) == pytest.approx(0.003, rel=1e-12)
    assert float(packer_error(0.06, off)) == pytest.approx(0.003 * 0.06 / 1.1, rel=1e-12)


@pytest.mark.parametrize(("play", "verdict"), [(0.00005, Verdict.HOLDS), (0.00004, Verdict.FAILS)])
def test_pins_can_be_set_true_enough_or_not(play: float, verdict: Verdict) -> None:
    # 1 mm over 1.1 m against play over 50 mm: even at 0.045 mm.
    judged = judge_axes(spacing=1.1, play=play, pin_length=0.05, opens=0.5)
    assert judged.rule is AXES
    assert check(judged).verdict is verdict


def test_play_not_known_waits_for_a_measurement() -> None:
    judged = judge_axes(spacing=1.1, play=None, pin_length=0.05, opens=0.5)
    assert judged.missing == "hinge_play"
    assert judged.rule.not_known(judged.unknown).verdict is Verdict.NOT_KNOWN


def test_a_roof_without_points_is_a_surface() -> None:
    assert isinstance(ROOF, Surface)
    assert ROOF.residuals().size == 0


@pytest.mark.parametrize(("off", "verdict"), [(0.0029, Verdict.HOLDS), (0.0031, Verdict.FAILS)])
def test_packers_as_made_give_the_planned_height(off: float, verdict: Verdict) -> None:
    """Packers made as the plan asks give its height; one of them thicker lifts its pin by just that."""
    right, left = packers(ROOF, HINGE, 0.06).middle
    pins = pin_heights(ROOF, HINGE, right, left + off)
    judged = judge_made(pins[None], np.array([0.06]))
    assert judged.rule is HINGE_HEIGHT
    assert judged.value is not None
    assert float(judged.value[0]) == pytest.approx(off, abs=1e-12)
    assert check(judged).verdict is verdict
