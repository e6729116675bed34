"""Headroom and floor to stand on: triangles and boxes worked out by hand, and a fine grid as a second way."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import ArrayLike

from loftwright.core.checks import Verdict
from loftwright.core.motion import turning
from loftwright.plan.cost import cost_band
from loftwright.plan.scout import (
    CLOTH_EXTRA,
    LEAST_FLOOR,
    ROOM,
    STAND,
    Outline,
    Pose,
    ceiling,
    clear_at,
    headroom,
    highest,
    parts_needed,
    standing_length,
    wall_area,
)
from loftwright.project.catalogues import read_prices
from loftwright.reference.layups import LAYUPS

NEAR = 1e-5
LID = Outline(2.0, 1.2, 2.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
"""A flat lid over an opening 2.0 m by 1.2 m."""
BOX = replace(LID, rear=0.33, middle=0.33, front=0.33, thickness=0.03)
"""The same with walls: 0.30 m deep inside."""
HALF = math.radians(30.0)


def hinged(x: ArrayLike, z: ArrayLike, end: str, opens: ArrayLike) -> Pose:
    """Return the pose of a shell turned about a hinge at (x, z): clockwise at the front, the other way at the rear."""
    phi = np.asarray(opens, dtype=np.float64)[..., None] * (-1.0 if end == "front" else 1.0)
    still = np.zeros_like(phi)
    moved = turning(x, z, phi, still, still)
    return Pose(moved.x[..., 0], moved.z[..., 0], phi[..., 0])


@pytest.mark.parametrize("end", ["front", "rear"])
def test_a_flat_lid_makes_a_triangle(end: str) -> None:
    # 3 4 5: a lid of 2.0 m opened until its lip is 1.2 m up has moved its lip to 1.6 m from the hinge. Over the
    # triangle the ceiling is 3/4 of the distance from the hinge; beyond the lip the cloth comes straight down.
    hinge, away = (2.0, -1.0) if end == "front" else (0.0, 1.0)
    pose = hinged(hinge, 0.0, end, math.asin(0.6))
    line = ceiling(LID, pose)
    assert float(clear_at(line, hinge + away * 0.8)) == pytest.approx(0.6)
    assert float(clear_at(line, hinge + away * 1.6)) == pytest.approx(1.2)
    assert float(clear_at(line, hinge + away * 1.8)) == pytest.approx(0.6)
    got = headroom(LID, pose, 1.4, 0.025, 1.4 + 0.6)
    assert float(got.best) == pytest.approx(1.4 + 1.2)
    assert float(got.best_x) == pytest.approx(hinge + away * 1.6)
    assert float(got.won) == pytest.approx(1.2 + 0.025)
    # 0.6 m of ceiling: from 0.8 m to the lip at 1.6 m, then half-way down the cloth, 0.2 m more.
    assert float(got.floor_length) == pytest.approx(0.8 + 0.2)
    assert float(got.floor_area) == pytest.approx(1.0 * 1.2)


def test_a_box_lifted_level_is_the_same_height_everywhere() -> None:
    upright = Pose(0.0, 0.5, 0.0)
    line = ceiling(BOX, upright)
    for x in (0.04, 1.0, 1.96):
        assert float(clear_at(line, x)) == pytest.approx(0.5 + 0.3)
    assert float(headroom(BOX, upright, 1.4, 0.03, 2.19).best) == pytest.approx(1.4 + 0.5 + 0.3)
    # Between the edge and the wall, one thickness further in, the cloth leans over the floor: 0.5 m up on 0.03 m.
    assert float(headroom(BOX, upright, 1.4, 0.03, 2.19).floor_length) == pytest.approx(2.0 - 2 * 0.03)
    assert float(headroom(BOX, upright, 1.4, 0.03, 2.21).floor_length) == 0.0


def test_a_shifted_box_loses_the_floor_under_its_leaning_wall() -> None:
    # Shifted 0.37 m forward and 0.5 m up: the cloth leans from (0, 0) to the inside of the rim at (0.4, 0.5). A
    # ceiling of 0.25 m is passed half-way, at 0.2 m; one of 0.6 m only inside the shell, from 0.4 m on. In front
    # the shell hangs over the edge.
    line = ceiling(BOX, Pose(0.37, 0.5, 0.0))
    assert float(standing_length(line, 2.0, 0.25)) == pytest.approx(1.8)
    assert float(standing_length(line, 2.0, 0.6)) == pytest.approx(1.6)
    assert float(clear_at(line, 0.2)) == pytest.approx(0.25)
    assert float(clear_at(line, 1.0)) == pytest.approx(0.8)


def test_a_closed_shell_keeps_its_own_depth() -> None:
    got = headroom(BOX, hinged(2.0, 0.0, "front", 0.0), 1.4, 0.025, 1.69)
    assert float(got.best) == pytest.approx(1.7)
    # The walls stand 0.03 m inside the edges of the opening.
    assert float(got.floor_length) == pytest.approx(2.0 - 2 * 0.03, abs=1e-3)


def test_a_hinged_box_adds_its_depth_square_to_the_lid() -> None:
    # Depth 0.3 m turned by 30 degrees: the inside runs parallel to the lid, 0.3 / cos 30 higher at every x.
    pose = hinged(2.0, 0.0, "front", HALF)
    lid, box = ceiling(LID, pose), ceiling(BOX, pose)
    for x in (0.6, 1.0, 1.9):
        assert float(clear_at(box, x) - clear_at(lid, x)) == pytest.approx(0.3 / math.cos(HALF))
    # Highest corner: the inside of the rear wall, 1.97 m from the hinge, and 0.3 cos 30 above it.
    got = headroom(BOX, pose, 1.4, 0.025, 2.0)
    assert float(got.best) == pytest.approx(1.4 + 1.97 * math.sin(HALF) + 0.3 * math.cos(HALF))


def test_a_bed_takes_floor_away_once() -> None:
    line = ceiling(LID, hinged(2.0, 0.0, "front", math.asin(0.6)))
    # Without a bed standing reaches from x = 0.2 to 1.2 m.
    free = float(standing_length(line, 2.0, 0.6))
    assert free == pytest.approx(1.0)
    assert float(standing_length(line, 2.0, 0.6, [(1.0, 3.0)])) == pytest.approx(0.8)
    assert float(standing_length(line, 2.0, 0.6, [(1.3, 1.9), (-1.0, 0.1)])) == pytest.approx(free)
    assert float(standing_length(line, 2.0, 0.6, [(0.5, 0.7), (0.6, 0.8)])) == pytest.approx(0.7)


def random_outlines(n: int, seed: int) -> tuple[Outline, np.ndarray, np.ndarray]:
    rng = np.random.default_rng(seed)
    opening = rng.uniform(1.2, 2.4, n)
    behind, ahead = rng.uniform(0.0, 0.1, (2, n))
    shape = rng.uniform(0.1, 0.5, (3, n))
    outline = Outline(
        opening, rng.uniform(1.0, 1.6, n), opening + behind + ahead, behind, rng.uniform(0.0, 0.03, n), *shape, 0.02
    )
    return outline, opening, rng.uniform(0.1, 1.0, n)


@pytest.mark.parametrize("end", ["front", "rear"])
def test_second_way_by_a_fine_grid(end: str) -> None:
    outline, opening, opens = random_outlines(60, 5)
    hinge = opening + 0.02 if end == "front" else np.full(60, -0.02)
    line = ceiling(outline, hinged(hinge, 0.01, end, opens))
    need = np.random.default_rng(6).uniform(0.1, 1.2, 60)
    bed = (0.2, 0.5)
    steps = (np.arange(4000) + 0.5) / 4000
    at = opening[:, None] * steps
    over = clear_at((line[0][:, None, :], line[1][:, None, :]), at)
    stands = (over >= need[:, None]) & ((at < bed[0]) | (at > bed[1]))
    # Every end of a standing interval costs at most one step of the grid.
    assert standing_length(line, opening, need, [bed]) == pytest.approx(
        stands.mean(axis=1) * opening, abs=4 * 2.4 / 4000
    )
    tops = np.max(np.where(np.isfinite(over), over, 0.0), axis=1)
    found, place = highest(line, opening)
    np.testing.assert_allclose(clear_at(line, place), found)
    assert np.all(found >= tops - 1e-9)
    assert found == pytest.approx(tops, abs=2e-3)


def test_mirror_image() -> None:
    outline, opening, opens = random_outlines(40, 8)
    ahead = np.asarray(outline.shell_length) - opening - np.asarray(outline.overhang)
    turned = replace(outline, overhang=ahead, rear=outline.front, front=outline.rear)
    front = headroom(outline, hinged(opening, 0.0, "front", opens), 1.4, 0.02, 1.9)
    rear = headroom(turned, hinged(0.0, 0.0, "rear", opens), 1.4, 0.02, 1.9)
    for name in ("best", "won", "floor_length", "floor_area"):
        assert getattr(front, name) == pytest.approx(getattr(rear, name), abs=1e-9)


def test_draws_broadcast_and_equal_single_answers() -> None:
    floor, opens = np.array([1.3, 1.4, 1.5]), np.array([[0.3], [0.5]])
    got = headroom(BOX, hinged(2.0, 0.0, "front", opens), floor, 0.025, 1.8)
    one = headroom(BOX, hinged(2.0, 0.0, "front", 0.5), 1.4, 0.025, 1.8)
    for name in ("best", "won", "floor_length", "floor_area"):
        assert getattr(got, name).shape == (2, 3)
        assert getattr(got, name)[1, 1] == pytest.approx(float(getattr(one, name)))


def test_walls_of_a_triangle_and_of_a_box() -> None:
    # 3 4 5 triangle of 2.0, 1.2 and 0.4 m: two sides 1.2 each, one end hypot(0.4, 1.2) by 1.2 wide.
    triangle = wall_area(LID, hinged(2.0, 0.0, "front", math.asin(0.6)))
    assert float(triangle) == pytest.approx(2 * 1.2 + 1.2 * math.hypot(0.4, 1.2))
    # Raised level by 0.5 m, the cloth runs from the edges to the inside of the rim, 0.03 m further in.
    raised = wall_area(BOX, Pose(0.0, 0.5, 0.0))
    assert float(raised) == pytest.approx(2 * (2.0 + 1.94) / 2 * 0.5 + 2 * 1.2 * math.hypot(0.03, 0.5))


def needed(**changes: object) -> dict[str, float]:
    plain: dict[str, object] = {
        "kind": "hinge",
        "end": "front",
        "opening_length": 2.0,
        "opening_width": 1.2,
        "shell_length": 2.1,
        "shell_width": 1.3,
        "skin_area": 5.0,
        "cloth_area": 4.0,
        "made_of": "glass-fibre",
    }
    return parts_needed(**(plain | changes))  # type: ignore[arg-type]


def test_parts_of_a_hinged_roof() -> None:
    counts = needed()
    assert counts["shell skin of glass-fibre"] == 5.0
    assert counts["wall cloth"] == 4.0 * CLOTH_EXTRA
    assert counts["ring section"] == pytest.approx(6.4)
    assert counts["rim seal"] == pytest.approx(6.8)
    assert (counts["hinge pair"], counts["gas spring pair"], counts["spring bracket"]) == (1.0, 1.0, 4.0)
    assert "lifting arm set" not in counts
    assert "safety catch" not in counts


def test_a_rear_hinge_needs_a_safety_catch_and_arms_need_arms() -> None:
    assert needed(end="rear")["safety catch"] == 1.0
    arms = needed(kind="parallel arms")
    assert arms["lifting arm set"] == 1.0
    assert "hinge pair" not in arms


def test_what_is_at_hand_need_not_be_got() -> None:
    whole, part = needed(), needed(at_hand={"shell", "hinges", "springs"})
    assert set(whole) - set(part) == {"shell skin of glass-fibre", "hinge pair", "gas spring pair"}


@pytest.mark.parametrize("made_of", LAYUPS)
@pytest.mark.parametrize("kind", ["hinge", "four-bar", "parallel arms"])
def test_every_part_has_a_price(made_of: str, kind: str) -> None:
    prices = read_prices()
    band = cost_band(needed(made_of=made_of, kind=kind, end="rear"), prices)
    assert band.unpriced == ()
    assert 0 < band.low < band.high
    less = cost_band(needed(made_of=made_of, kind=kind, end="rear", at_hand={"shell"}), prices)
    assert less.high < band.high


@pytest.mark.parametrize(("need", "verdict"), [(1.72, Verdict.HOLDS), (2.92, Verdict.FAILS)])
def test_both_sides_of_standing_upright(need: float, verdict: Verdict) -> None:
    got = headroom(BOX, hinged(2.0, 0.0, "front", HALF), 1.4, 0.025, need)
    assert STAND.judge(float(got.best), need).verdict is verdict
    assert (float(got.floor_length) > 0) == (verdict is Verdict.HOLDS)
    assert ROOM.judge(float(got.floor_length), LEAST_FLOOR).verdict is verdict
