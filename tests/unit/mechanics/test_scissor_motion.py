"""The motion of crossing arms: exact constructed cases and laws over random ones, computed from first principles."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.mechanics.scissor import crossing_ends, scissor_travel


def some(count: int = 60) -> tuple[np.ndarray, ...]:
    rng = np.random.default_rng(5)
    length, closed = rng.uniform(0.4, 1.4, count), rng.uniform(0.05, 0.6, count)
    way = rng.choice([-1.0, 1.0], count)
    px, pz = rng.uniform(-0.2, 2.2, count), rng.uniform(-0.3, 0.1, count)
    opens = rng.uniform(0.1, 0.85, count)
    return px, pz, px + way * length * np.cos(closed), pz + length * np.sin(closed), opens


def test_arms_stay_pinned_in_the_middle_and_end_where_they_slide() -> None:
    px, pz, sx, sz, opens = some()
    found = scissor_travel(px, pz, sx, sz, opens)
    assert np.all(found.possible)
    travel = found.travel
    arm_a, arm_b = travel.arms
    (bx, bz), (dx, dz) = crossing_ends(px, pz, sx, sz)
    middle = ((px + sx) / 2, (pz + sz) / 2)
    on_a, on_b = arm_a.point(*middle), arm_b.point(*middle)
    for name in ("x", "z", "dx", "dz", "ddx", "ddz"):
        np.testing.assert_allclose(getattr(on_a, name), getattr(on_b, name), atol=1e-12)
    # Arm b's upper end is fixed to the shell, its lower end and arm a's upper end slide level.
    fixed, on_shell = arm_b.point(dx, dz), travel.shell.point(dx, dz)
    for name in ("x", "z", "dx", "dz", "ddx", "ddz"):
        np.testing.assert_allclose(getattr(fixed, name), getattr(on_shell, name), atol=1e-12)
    np.testing.assert_allclose(fixed.x, np.broadcast_to(px[:, None], fixed.x.shape), atol=1e-12)
    low, high = arm_b.point(bx, bz), arm_a.point(sx, sz)
    np.testing.assert_allclose(low.z, np.broadcast_to(pz[:, None], low.z.shape), atol=1e-12)
    np.testing.assert_allclose(high.z, travel.shell.point(sx, sz).z, atol=1e-12)
    np.testing.assert_allclose(low.x, high.x, atol=1e-12)
    assert np.all(travel.shell.phi == 0)
    assert np.all(np.diff(travel.shell.z) > 0)


def test_derivatives_agree_with_differences_to_second_order() -> None:
    errors = []
    for stations in (81, 161):
        travel = scissor_travel(*some(), stations=stations).travel
        before, after = np.diff(travel.q)[:, :-1], np.diff(travel.q)[:, 1:]
        now = []
        for body in (travel.shell, *travel.arms):
            path = body.point(0.9, 0.2)
            for value, rate in ((path.x, path.dx), (path.z, path.dz), (path.dx, path.ddx), (path.dz, path.ddz)):
                steps = np.diff(value)
                slope = (steps[:, :-1] / before * after + steps[:, 1:] / after * before) / (before + after)
                now.append(np.abs(slope - rate[:, 1:-1]).max())
        errors.append(np.array(now))
    coarse, fine = errors
    moving = fine > 1e-12
    assert moving.sum() >= 9
    np.testing.assert_allclose(np.log2(coarse[moving] / fine[moving]), 2.0, atol=0.05)


def test_a_mirror_image_moves_alike() -> None:
    px, pz, sx, sz, opens = some()
    one, other = scissor_travel(px, pz, sx, sz, opens).travel, scissor_travel(-px, pz, -sx, sz, opens).travel
    np.testing.assert_array_equal(one.shell.z, other.shell.z)
    for left, right in zip(one.arms, other.arms, strict=True):
        here, there = left.point(0.4, 0.1), right.point(-0.4, 0.1)
        np.testing.assert_allclose(here.x, -there.x, atol=1e-12)
        np.testing.assert_allclose(here.dz, there.dz, atol=1e-12)


@pytest.mark.parametrize(("height", "opens"), [(0.0, 0.5), (-0.1, 0.5), (0.2, 1.4)])
def test_arms_flat_or_past_upright_are_said(height: float, opens: float) -> None:
    assert not scissor_travel(0.0, 0.0, 0.8, height, opens).possible
    assert scissor_travel(0.0, 0.0, 0.8, 0.2, 0.5).possible
