"""Skin and height by shape: exact constructed cases, numeric integration, both sides of the rule."""

from __future__ import annotations

import importlib.util
import math
from pathlib import Path

import numpy as np
import pytest

from loftwright.core.checks import Verdict
from loftwright.core.uncertain import exact, normal
from loftwright.mechanics.by_shape import SHAPE_HEIGHT_DOUBT, centre_height, skin
from loftwright.mechanics.weigh import (
    Line,
    NotEnough,
    Tilted,
)

_SPEC = importlib.util.spec_from_file_location("weighings", Path(__file__).with_name("weighings.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
weighings = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(weighings)
REAR, FRONT = weighings.REAR, weighings.FRONT
kilograms, settled, readings_of = weighings.kilograms, weighings.settled, weighings.readings_of


@pytest.mark.parametrize(
    ("box", "area", "x", "z"),
    [
        # A flat lid: all skin in the rim plane.
        ((2.0, 1.0, 0.0, 0.0, 0.0), 2.0, 1.0, 0.0),
        # An open box: lid 2 at 0.5, sides 2 and ends 1 at 0.25.
        ((2.0, 1.0, 0.5, 0.5, 0.5), 5.0, 1.0, 0.35),
        # A wedge 3 long, 4 high at the front, 1 wide: top 5 at (1.5, 2), two triangles 6 each at (2, 4/3), front end 4
        # at (3, 2).
        ((3.0, 1.0, 0.0, 2.0, 4.0), 21.0, (7.5 + 24.0 + 12.0) / 21.0, (10.0 + 16.0 + 8.0) / 21.0),
    ],
)
def test_skin_of_simple_bodies(box: tuple[float, ...], area: float, x: float, z: float) -> None:
    got = skin(*box)
    assert float(got.area) == pytest.approx(area)
    assert (float(got.x), float(got.z)) == pytest.approx((x, z))


def test_inertia_of_a_flat_lid_and_an_open_box() -> None:
    assert float(skin(2.0, 1.0, 0.0, 0.0, 0.0).gyration2) == pytest.approx(4.0 / 12)
    # Open box: lid 2 (L^2/12), sides 2 (L^2/12 + H^2/12), ends 1 (L^2/4 + H^2/12) about their own heights.
    lid = 2.0 * (4 / 12 + 0.15**2)
    sides = 2.0 * (4 / 12 + 0.25 / 12 + 0.1**2)
    ends = 1.0 * (1.0 + 0.25 / 12 + 0.1**2)
    assert float(skin(2.0, 1.0, 0.5, 0.5, 0.5).gyration2) == pytest.approx((lid + sides + ends) / 5)


def test_skin_by_numeric_integration() -> None:
    length, width, heights = 2.4, 1.5, (0.22, 0.36, 0.31)
    n = 4000
    edges = np.linspace(0.0, length, n + 1)
    top = np.interp(edges, [0.0, length / 2, length], heights)
    x, h, dx = (edges[1:] + edges[:-1]) / 2, (top[1:] + top[:-1]) / 2, length / n
    strips = width * np.hypot(dx, np.diff(top))
    walls = 2 * h * dx
    pieces = [(strips, x, h, 0 * h), (walls, x, h / 2, h**2 / 12)]
    for place, tall in ((0.0, heights[0]), (length, heights[2])):
        pieces.append(tuple(np.array([v]) for v in (width * tall, place, tall / 2, tall**2 / 12)))
    area = sum(float(np.sum(a)) for a, *_ in pieces)
    cx = sum(float(np.sum(a * px)) for a, px, _, _ in pieces) / area
    cz = sum(float(np.sum(a * pz)) for a, _, pz, _ in pieces) / area
    second = sum(float(np.sum(a * ((px - cx) ** 2 + (pz - cz) ** 2 + own))) for a, px, pz, own in pieces) / area
    got = skin(length, width, *heights)
    assert (float(got.area), float(got.x), float(got.z), float(got.gyration2)) == pytest.approx(
        (area, cx, cz, second), rel=1e-6
    )


def test_skin_broadcasts_over_draws() -> None:
    got = skin(np.array([2.0, 2.4]), 1.5, 0.3, np.array([[0.3], [0.4]]), 0.3)
    assert got.area.shape == got.x.shape == got.z.shape == got.gyration2.shape == (2, 2)
    assert float(got.z[1, 1]) == float(skin(2.4, 1.5, 0.3, 0.4, 0.3).z)


@pytest.mark.parametrize(("degrees", "by", "verdict"), [(10.0, "shape", Verdict.FAILS), (35.0, "tilt", Verdict.HOLDS)])
def test_a_slight_tilt_leaves_the_height_to_the_shape(degrees: float, by: str, verdict: Verdict) -> None:
    angle, h, mass, centre = math.radians(degrees), 0.21, 60.0, 1.1
    level = readings_of(mass, centre)[:2]
    reads = mass * ((FRONT.nominal - centre) + h * math.tan(angle)) / (FRONT.nominal - REAR.nominal)
    tilted = Tilted(normal(angle, math.radians(0.5)), REAR, FRONT, kilograms(reads))
    got = settled([*level, tilted])
    assert got.height == pytest.approx(h)
    found = centre_height(0.24, 0.35, got)
    assert found.check is not None
    assert found.check.verdict is verdict
    assert found.check.value == pytest.approx(got.two_sd[2])
    assert found.by == by
    assert found.height == pytest.approx(h if by == "tilt" else 0.24)


def test_doubt_of_the_tilt_itself_reaches_the_height() -> None:
    # Constructed: h = (R L / m - (L - a)) / tan t, so dh/dt = -h / (sin t cos t); with sure scales only t counts.
    angle, h, mass = math.radians(40.0), 0.25, 46.0
    rear, front = exact(0.0), exact(2.0)
    level = [Line(rear, front, kilograms(mass / 2, 0.05)), Line(front, rear, kilograms(mass / 2, 0.05))]
    reads = kilograms(mass * (1.0 + h * math.tan(angle)) / 2.0, 0.05)
    got = settled([*level, Tilted(normal(angle, math.radians(3.0)), rear, front, reads)])
    by_angle = math.radians(3.0) * h / (math.sin(angle) * math.cos(angle))
    by_scales = 2.0 / (mass * math.tan(angle)) * 0.05 * math.sqrt(2.0)
    assert by_angle > 5 * by_scales
    assert got.two_sd[2] == pytest.approx(by_angle, rel=0.03)


def test_without_a_tilt_the_shape_gives_the_height() -> None:
    for weighed in (None, NotEnough("two readings"), settled(readings_of(46.0, 1.3))):
        found = centre_height(0.24, 0.35, weighed)
        assert (found.height, found.two_sd, found.by, found.check) == (0.24, SHAPE_HEIGHT_DOUBT * 0.35, "shape", None)
