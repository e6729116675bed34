"""What holds for every four-bar: exact derivatives, rigid links, one circuit, mirror images.

Laws over random linkages, seeded; computed here from first principles, no printed source.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.motion import Array, Motion
from loftwright.mechanics.four_bar import FourBar, FourBarTravel, four_bar_travel
from loftwright.mechanics.hinge import hinge_travel

WANTED = 240


def _random_pins(count: int, seed: int) -> tuple[Array, Array]:
    """Return pins [8, count] and openings [count] of arms between 0.15 and 0.8 m on pivots 0.15 to 1.5 m apart."""
    rng = np.random.default_rng(seed)
    length_a, length_b = rng.uniform(0.15, 0.8, (2, count))
    lean_a, lean_b = rng.uniform(-np.pi, np.pi, (2, count))
    ax, az = rng.uniform(-0.3, 0.3, (2, count))
    bx, bz = ax + rng.uniform(0.15, 1.5, count), az + rng.uniform(-0.2, 0.2, count)
    pins = np.array(
        [
            ax,
            az,
            ax + length_a * np.cos(lean_a),
            az + length_a * np.sin(lean_a),
            bx,
            bz,
            bx + length_b * np.cos(lean_b),
            bz + length_b * np.sin(lean_b),
        ]
    )
    return pins, rng.uniform(np.radians(25), np.radians(110), count)


@pytest.fixture(scope="module")
def buildable() -> tuple[Array, Array]:
    pins, opens = _random_pins(1200, 20)
    found = four_bar_travel(FourBar(*pins), opens)
    good = found.possible & (found.transmission.min(axis=-1) > np.radians(25))
    assert good.sum() >= WANTED
    keep = np.flatnonzero(good)[:WANTED]
    return pins[:, keep], opens[keep]


def _rows(found: FourBarTravel) -> dict[str, tuple[Array, Array, Array]]:
    """Return value, first and second derivative of several curves, each [draws, n]."""
    shell, arm_b = found.travel.shell, found.travel.arms[1]
    path = shell.point(0.9, 0.2)
    return {
        "turn of the shell": (shell.phi, shell.dphi, shell.ddphi),
        "turn of arm b": (arm_b.phi, arm_b.dphi, arm_b.ddphi),
        "x of the shell": (shell.x, shell.dx, shell.ddx),
        "z of the shell": (shell.z, shell.dz, shell.ddz),
        "x of arm b": (arm_b.x, arm_b.dx, arm_b.ddx),
        "x of a shell point": (path.x, path.dx, path.ddx),
        "z of a shell point": (path.z, path.dz, path.ddz),
    }


def _difference_errors(value: Array, first: Array, second: Array, q: Array) -> tuple[Array, Array]:
    before, after = np.diff(q)[:, :-1], np.diff(q)[:, 1:]

    def slope(values: Array) -> Array:
        # Of the parabola through three neighbours, which need not stand evenly.
        back, ahead = np.diff(values)[:, :-1] / before, np.diff(values)[:, 1:] / after
        return (back * after + ahead * before) / (before + after)

    return np.abs(slope(value) - first[:, 1:-1]), np.abs(slope(first) - second[:, 1:-1])


@pytest.mark.parametrize("row", ["turn of the shell", "turn of arm b", "x of the shell", "z of the shell",
                                 "x of arm b", "x of a shell point", "z of a shell point"])  # fmt: skip
def test_derivatives_agree_with_differences_to_second_order(buildable: tuple[Array, Array], row: str) -> None:
    pins, opens = buildable
    errors = []
    for stations in (161, 321):
        found = four_bar_travel(FourBar(*pins), opens, stations=stations)
        errors.append(_difference_errors(*_rows(found)[row], found.travel.q))
    for coarse, fine in zip(errors[0], errors[1], strict=True):
        # Every second place of the fine grid is a place of the coarse one.
        order = np.log2(coarse.max(axis=1) / fine[:, 1::2].max(axis=1))
        worst = int(np.argmax(np.abs(order - 2)))
        assert abs(order[worst] - 2) < 0.02, (pins[:, worst], opens[worst])
        assert fine.max() < 0.1


def test_hinge_derivatives_agree_with_differences_to_second_order() -> None:
    rng = np.random.default_rng(3)
    x, z, opens = rng.uniform(-1, 3, 50), rng.uniform(-0.2, 0.2, 50), rng.uniform(0.2, 1.5, 50)
    errors = []
    for stations in (41, 81):
        travel = hinge_travel(x, z, opens, end="front", stations=stations)
        path = travel.shell.point(0.4, 0.3)
        errors.append(_difference_errors(path.z, path.dz, path.ddz, travel.q))
    for coarse, fine in zip(errors[0], errors[1], strict=True):
        order = np.log2(coarse.max(axis=1) / fine[:, 1::2].max(axis=1))
        np.testing.assert_allclose(order, 2, atol=0.01)


def test_links_stay_rigid_and_pins_stay_together(buildable: tuple[Array, Array]) -> None:
    pins, opens = buildable
    found = four_bar_travel(FourBar(*pins), opens)
    shell, (arm_a, arm_b) = found.travel.shell, found.travel.arms
    for px, pz, arm in ((pins[2], pins[3], arm_a), (pins[6], pins[7], arm_b)):
        on_shell, on_arm = shell.point(px, pz), arm.point(px, pz)
        for name in ("x", "z", "dx", "dz", "ddx", "ddz"):
            scale = 1 + np.abs(getattr(on_arm, name)).max(axis=1, keepdims=True)
            np.testing.assert_allclose(getattr(on_shell, name) / scale, getattr(on_arm, name) / scale, atol=1e-11)
    a, b = shell.point(pins[2], pins[3]), shell.point(pins[6], pins[7])
    van, length_a, coupler, length_b = found.bar.lengths()
    assert van.shape == (WANTED,)
    for x, z, length in (
        (a.x - pins[0][:, None], a.z - pins[1][:, None], length_a),
        (b.x - a.x, b.z - a.z, coupler),
        (b.x - pins[4][:, None], b.z - pins[5][:, None], length_b),
    ):
        np.testing.assert_allclose(np.hypot(x, z), np.broadcast_to(length[:, None], x.shape), atol=1e-12)


def test_the_circuit_of_the_closed_roof_is_kept(buildable: tuple[Array, Array]) -> None:
    pins, opens = buildable
    found = four_bar_travel(FourBar(*pins), opens)
    assert np.all(found.line_b * found.line_b[:, :1] > 0)
    shell = found.travel.shell
    assert np.abs(shell.phi[:, 0]).max() < 1e-12
    path = shell.point(pins[6], pins[7])
    assert np.abs(path.x[:, 0] - pins[6]).max() < 1e-12
    step = np.diff(found.travel.q)
    for value, first, second in _rows(found).values():
        allowed = np.maximum(np.abs(first[:, 1:]), np.abs(first[:, :-1])) * step
        allowed = allowed + 2 * np.abs(second).max(axis=1, keepdims=True) * step**2
        assert np.all(np.abs(np.diff(value, axis=1)) <= allowed)


def test_the_shell_starts_upwards(buildable: tuple[Array, Array]) -> None:
    pins, opens = buildable
    found = four_bar_travel(FourBar(*pins), opens)
    middle = found.travel.shell.point((pins[2] + pins[6]) / 2, (pins[3] + pins[7]) / 2)
    assert np.all(middle.dz[:, 0] > 0)


def _mirrored(motion: Motion) -> tuple[Array, ...]:
    return (
        -motion.x,
        motion.z,
        -motion.phi,
        -motion.dx,
        motion.dz,
        -motion.dphi,
        -motion.ddx,
        motion.ddz,
        -motion.ddphi,
    )


def _plain(motion: Motion) -> tuple[Array, ...]:
    return tuple(getattr(motion, name) for name in Motion.__slots__)


def test_mirror_image_moves_as_the_mirror_image() -> None:
    pins, opens = _random_pins(400, 21)
    other = pins.copy()
    other[0::2] *= -1
    found, image = four_bar_travel(FourBar(*pins), opens), four_bar_travel(FourBar(*other), opens)
    np.testing.assert_array_equal(found.possible, image.possible)
    assert 200 <= found.possible.sum() < 400
    np.testing.assert_array_equal(found.sense, -image.sense)
    np.testing.assert_allclose(found.jams_at, image.jams_at, atol=1e-9)
    ok = found.possible & (found.transmission.min(axis=-1) > np.radians(1))
    bodies = zip((found.travel.shell, *found.travel.arms), (image.travel.shell, *image.travel.arms), strict=True)
    for body, reflected in bodies:
        for left, right in zip(_mirrored(body), _plain(reflected), strict=True):
            here, there = (np.broadcast_to(array, (opens.size, 121))[ok] for array in (left, right))
            np.testing.assert_allclose(here, there, rtol=1e-9, atol=1e-9)


def test_size_does_not_matter() -> None:
    pins, opens = _random_pins(300, 22)
    small, large = four_bar_travel(FourBar(*pins), opens), four_bar_travel(FourBar(*(1000 * pins)), opens)
    np.testing.assert_array_equal(small.possible, large.possible)
    ok = small.possible & (small.transmission.min(axis=-1) > np.radians(1))
    np.testing.assert_allclose(small.travel.shell.phi[ok], large.travel.shell.phi[ok], atol=1e-9)
    np.testing.assert_allclose(1000 * small.travel.shell.ddx[ok], large.travel.shell.ddx[ok], rtol=1e-7, atol=1e-6)


def test_a_jam_lies_where_the_transmission_angle_vanishes() -> None:
    pins, opens = _random_pins(1200, 23)
    found = four_bar_travel(FourBar(*pins), opens)
    stuck = np.flatnonzero(~found.possible & (found.jams_at > 0.02))
    assert stuck.size >= 100
    bar = FourBar(*pins[:, stuck])
    just = four_bar_travel(bar, found.jams_at[stuck] - 1e-5, sense=found.sense[stuck])
    beyond = four_bar_travel(bar, found.jams_at[stuck] + 1e-5, sense=found.sense[stuck])
    assert np.all(just.possible)
    assert not np.any(beyond.possible)
    assert np.all(just.transmission[:, -1] < 0.05)
