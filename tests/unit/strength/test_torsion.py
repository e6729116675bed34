"""Twist of the body as a range, and the tape across the door openings. Exact constructed cases."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Verdict
from loftwright.strength.torsion import (
    MEASURE,
    MEASURE_AGAIN,
    BodyWall,
    closed_constant,
    diagonal_change,
    judge_twist,
    tape_test,
    torsion_range,
    wrinkled_share,
)

WALLS = (
    BodyWall("left side", 1.6, 0.8e-3, 0.1, 0.5),
    BodyWall("right side", 1.6, 0.8e-3, 0.05, 0.4),
    BodyWall("floor", 1.6, 1.2e-3, 0.5, 1.0),
)


def body(kept_cut=(0.01, 0.03), kept_ring=(0.02, 0.06), walls=WALLS):
    return torsion_range(
        walls, roof_length=1.6, roof_thickness=0.8e-3, poisson=0.3, kept_cut=kept_cut, kept_ring=kept_ring
    )


def test_the_range_covers_every_tube_between_its_ends():
    # Second way: the closed tube itself, wall by wall, at random places between the ends.
    found = body()
    rng = np.random.default_rng(3)
    for _ in range(200):
        shares = [rng.uniform(float(w.share_low), float(w.share_high)) for w in WALLS]
        flat = rng.uniform(float(wrinkled_share(0.3)), 1.0)
        kappa, ringed = rng.uniform(0.01, 0.03), rng.uniform(0.02, 0.06)

        def tube(kept, shares=shares, flat=flat):
            walls = [float(w.thickness) * s for w, s in zip(WALLS, shares, strict=True)]
            return float(closed_constant(3.0, [1.6] * 4, [*walls, 0.8e-3 * flat * kept]))

        cut, ring = tube(kappa) / tube(1.0), tube(ringed) / tube(1.0)
        assert float(found.kept_cut_low) <= cut <= float(found.kept_cut_high)
        assert float(found.kept_ring_low) <= ring <= float(found.kept_ring_high)
    assert float(found.lost_high) - float(found.lost_low) > 0.1
    assert len(found.reasons) == 4


def test_one_even_tube():
    # Four like walls, the roof halved: (3 + 1) / (3 + 2) when flat, (3 + r) / (3 + 2 r) when wrinkled, r = 1 / 0.65.
    walls = tuple(BodyWall(name, 1.6, 0.8e-3, 1.0, 1.0) for name in ("left", "right", "floor"))
    found = body((0.5, 0.5), (1.0, 1.0), walls)
    r = 1 / 0.65
    assert float(found.kept_cut_high) == pytest.approx(0.8)
    assert float(found.kept_cut_low) == pytest.approx((3 + r) / (3 + 2 * r))
    assert (float(found.kept_ring_low), float(found.kept_ring_high)) == pytest.approx((1.0, 1.0))
    assert float(found.given_back_low) == pytest.approx(0.2)


def test_rows_and_a_ring_stiffer_than_the_skin():
    found = body(kept_ring=(np.array([0.02, 1.2]), np.array([0.06, 1.5])))
    assert found.kept_ring_low.shape == (2,)
    assert np.all(found.given_back_low > 0)
    assert float(found.kept_ring_low[1]) > 1.0


def test_a_body_has_walls():
    with pytest.raises(ValueError, match="walls"):
        body(walls=())


def test_change_of_the_diagonals():
    # 1 mm out of square on the level, 5 mm on the kerb: 4 mm by the kerb.
    assert float(diagonal_change(1.801, 1.800, 1.803, 1.798)) == pytest.approx(0.004)


def test_tape_test_and_its_error():
    # Second way: many noisy readings.
    found = tape_test(0.008, 0.010, plus_minus=0.0004)
    rng = np.random.default_rng(5)
    before, after = (v + 0.0002 * rng.standard_normal(20_000) for v in (0.008, 0.010))
    assert float(found.kept) == pytest.approx(0.8)
    assert float(found.growth) == pytest.approx(1.25)
    assert float(found.plus_minus) == pytest.approx(2 * np.std(before / after), rel=0.03)


def test_another_kerb_is_allowed_for():
    found = tape_test(0.008, 0.004, plus_minus=0.0004, kerb_before=0.10, kerb_after=0.05)
    assert float(found.growth) == pytest.approx(1.0)


def test_twist_is_not_known_until_the_tape_has_spoken():
    assert judge_twist(None).unknown == MEASURE
    vague = judge_twist(tape_test(0.001, 0.002, plus_minus=0.003))
    assert (vague.value, vague.unknown) == (None, MEASURE_AGAIN)
    assert judge_twist(tape_test(0.008, -0.008, plus_minus=0.001)).value is None


def test_twist_on_both_sides_of_its_limit():
    little = judge_twist(tape_test(0.008, 0.009, plus_minus=0.0005), which="after the ring")
    much = judge_twist(tape_test(0.008, 0.012, plus_minus=0.0005), which="after the cut")
    assert little.rule.judge(float(little.value), float(little.limit)).verdict is Verdict.HOLDS
    assert much.rule.judge(float(much.value), float(much.limit)).verdict is Verdict.FAILS
