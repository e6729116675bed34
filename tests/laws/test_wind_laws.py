"""What holds for the wind on every raised roof: mirror images, the square of the gust, nothing raised, nothing caught.

Exact constructed laws: no number is taken from elsewhere.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.strength.cloth_tension import Panel, tension
from loftwright.strength.raised_shape import DIRECTIONS, RaisedShape
from loftwright.strength.wind_loads import CASES, WindCase, parts, wrenches

MIRROR = np.array([1.0, -1.0, 1.0, -1.0, 1.0, -1.0])
"""Signs of a wrench seen in a mirror along the van: forces are vectors, moments axial."""


@pytest.fixture(scope="module")
def roofs() -> RaisedShape:
    """Return sixty roofs of random size and pose, hinged at either end or level."""
    rng = np.random.default_rng(7)

    def between(low: float, high: float) -> np.ndarray:
        return rng.uniform(low, high, 60)

    return RaisedShape(
        between(-0.2, 0.2),
        between(1.5, 3.0),
        between(1.0, 1.7),
        between(-0.2, 0.2),
        between(0.0, 1.2),
        between(1.5, 3.0),
        between(1.0, 1.7),
        between(0.05, 0.2),
        between(0.0, 0.5),
        between(-0.1, 2.0),
        between(-0.1, 0.2),
        between(1.8, 2.6),
    )


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.way)
def test_wind_from_the_right_is_wind_from_the_left_in_a_mirror(roofs: RaisedShape, case: WindCase) -> None:
    found = wrenches(roofs, 17.0, ("left", "right"), case=case)
    assert found[:, 1] == pytest.approx(found[:, 0] * MIRROR, abs=1e-9)
    ends = wrenches(roofs, 17.0, ("front", "rear"), case=case)
    assert ends == pytest.approx(ends * MIRROR, abs=1e-9)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.way)
def test_twice_the_pressure_is_twice_the_load(roofs: RaisedShape, case: WindCase) -> None:
    one = wrenches(roofs, 12.0, case=case)
    assert wrenches(roofs, 12.0 * np.sqrt(2.0), case=case) == pytest.approx(2 * one)
    assert wrenches(roofs, 12.0, factor=2.0, case=case) == pytest.approx(2 * one)


def test_nothing_raised_catches_no_wind_with_its_walls(roofs: RaisedShape) -> None:
    flat = replace(
        roofs,
        shell_x=roofs.rear,
        shell_z=np.zeros(60),
        tilt=np.zeros(60),
        shell_length=roofs.length,
        shell_width=roofs.width,
    )
    for direction in DIRECTIONS:
        walls = [part for part in parts(flat, 20.0, direction) if part.name.endswith("wall")]
        assert len(walls) == 4
        assert all(np.all(part.force == 0.0) for part in walls)


def test_an_even_pressure_inside_pushes_the_roof_off_by_the_opening_alone(roofs: RaisedShape) -> None:
    # Outward areas of walls and shell are those of the opening: pressure inside lifts by p A and no more.
    q, inside = 0.5 * 1.25 * 10.0**2, 0.4
    with_it, without = (parts(roofs, 10.0, "front", case=WindCase("up", value)) for value in (inside, 0.0))
    pushed: np.ndarray = sum(
        (a.force - b.force for a, b in zip(with_it, without, strict=True) if a.name.endswith("wall")), np.zeros((60, 3))
    )
    normal = np.stack([-np.sin(roofs.tilt), np.zeros(60), np.cos(roofs.tilt)], axis=-1)
    shell = (inside * q * roofs.shell_length * roofs.shell_width)[:, None] * normal
    expected = np.zeros((60, 3))
    expected[:, 2] = inside * q * roofs.length * roofs.width
    assert pushed + shell == pytest.approx(expected, abs=1e-9)


def test_more_pressure_never_means_less_pull_and_twice_never_twice() -> None:
    rng = np.random.default_rng(3)
    panels = Panel(rng.uniform(0.3, 1.2, 200), rng.uniform(0.0, 0.03, 200), rng.uniform(2e4, 5e5, 200))
    pull = np.stack([tension(panels, p) for p in np.linspace(20.0, 900.0, 45)])
    assert np.all(np.diff(pull, axis=0) > 0)
    # Slack cloth that hardly stretches comes near to twice.
    assert np.all(tension(panels, 600.0) < 2 * tension(panels, 300.0))


def test_slacker_cloth_pulls_less() -> None:
    slack = np.linspace(-0.002, 0.04, 30)
    pull = tension(Panel(np.full(30, 0.9), slack, np.full(30, 1e5)), 300.0)
    assert np.all(np.diff(pull) < 0)
