"""One wall rolled out: which way is up, what is compared, and every rule on both sides of its limit.

Exact constructed cases: rectangles, quarter cylinders and one skewed wall.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.cloth import develop_rules as rules
from loftwright.cloth.develop import Panel, develop, judged, spread
from loftwright.cloth.naive import STRAIGHT_WILL_DO, straight
from loftwright.cloth.tightness import strain, tightness, wet_height
from loftwright.cloth.unfold import arcs, bow, breadth, creases, edge_length, misfit, unfold
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.judged import Judged
from loftwright.core.motion import Array


def corner(extra: float, lean: float = 0.0, points: int = 100) -> tuple[Array, Array]:
    """A side wall from mid-corner to mid-corner, 2 m long, shell `extra` larger all round and leant by `lean`."""

    def edge(grown: float) -> Array:
        a = np.linspace(1.25 * math.pi, 1.5 * math.pi, points // 4)
        r = 0.15 + grown
        arc = np.stack([-0.85 + r * np.cos(a), -0.45 + r * np.sin(a)], axis=-1)
        line = np.stack([np.linspace(-0.85, 0.85, points // 2)[1:-1], np.full(points // 2 - 2, -0.6 - grown)], axis=-1)
        return np.concatenate([arc, line, (arc * [-1, 1])[::-1]])

    low, high = edge(0.0), edge(extra)
    rise = 0.55 + math.tan(lean) * -high[:, 0]
    return np.column_stack([low, np.zeros(len(low))]), np.column_stack([high, rise])


@pytest.fixture(scope="module")
def level() -> Panel:
    return develop(*corner(0.0))


@pytest.fixture(scope="module")
def skewed() -> Panel:
    return develop(*corner(0.15, math.radians(25)))


def the(found: tuple[Judged, ...], rule: Rule) -> Check:
    (one,) = [each for each in found if each.rule is rule]
    assert one.value is not None
    if one.limit is None:
        return rule.not_known(one.unknown)
    return rule.judge(float(np.max(one.value)), float(np.min(one.limit)))


def test_a_rear_wall_lies_as_seen_from_outside() -> None:
    """At the rear, from outside, +y is on the left: the edges run to -y, the pattern to +x, with the high end right."""
    low = np.array([[0.0, 0.6, 0.0], [0.0, -0.6, 0.0]])
    high = np.array([[0.0, 0.6, 0.3], [0.0, -0.6, 0.5]])
    panel = develop(low, high)
    assert panel.lower == pytest.approx(np.array([[0, 0], [1.2, 0]]), abs=1e-12)
    assert panel.upper == pytest.approx(np.array([[0, 0.3], [1.2, 0.5]]), abs=1e-12)
    assert (float(panel.left_seam), float(panel.right_seam)) == pytest.approx((0.3, 0.5))
    assert float(panel.area) == pytest.approx(1.2 * 0.4)
    assert panel.outline.tolist()[0] == [0.0, 0.0]


def test_creases_are_positive_round_a_corner() -> None:
    low, high = corner(0.0)
    found = creases(low, high, develop(low, high).word)
    assert float(np.min(found)) > -1e-9
    # Two arcs of 24 steps: half a step is missing at each of their ends.
    assert float(np.sum(found)) == pytest.approx(math.pi / 2 - math.pi / 96, abs=1e-9)


def test_equal_level_rims_need_a_ruler_only(level: Panel) -> None:
    assert level.straight.will_do
    assert float(np.abs(bow(level.lower))) < 1e-5
    assert float(np.abs(bow(level.upper))) < 1e-5
    assert float(level.straight.miss) < 1e-5
    assert float(level.straight.square_top) == pytest.approx(0.0, abs=1e-9)


def test_a_leaning_shell_needs_a_pattern() -> None:
    panel = develop(*corner(0.03, math.radians(25)))
    assert not panel.straight.will_do
    assert float(panel.straight.miss) > STRAIGHT_WILL_DO
    assert abs(float(panel.straight.square_top)) > 0.03


def test_straight_edges_against_an_arch() -> None:
    """A true piece with an arched top of 20 mm over straight corners: 20 mm too low in the middle."""
    x = np.linspace(0.0, 1.0, 201)
    low = np.stack([x, 0 * x], axis=-1)
    high = np.stack([x, 0.5 + 0.08 * x * (1 - x)], axis=-1)
    found = straight(low, high)
    assert float(found.bow_upper) == pytest.approx(0.02, abs=1e-9)
    assert float(found.shortage) == pytest.approx(0.02, abs=1e-6)
    assert (float(found.slack), float(found.bow_lower)) == pytest.approx((0.0, 0.0), abs=1e-12)
    sunk = straight(low, np.stack([x, 0.5 - 0.08 * x * (1 - x)], axis=-1))
    assert float(sunk.slack) == pytest.approx(0.02, abs=1e-6)
    assert float(sunk.bow_upper) == pytest.approx(-0.02, abs=1e-9)


def test_square_corners_make_a_sloping_top_too_long() -> None:
    """Seams of 0.1 and 1.0 m square to a lower edge of 1.8 m, where the true top is as long as the lower edge."""
    x = np.linspace(0.0, 1.8, 3)
    low, high = np.stack([x, 0 * x], axis=-1), np.stack([x, 0.1 + 0 * x], axis=-1)
    high[-1] = [1.8, 1.0]
    found = straight(low, high)
    own = math.hypot(1.8, 0.9) - (0.9 + math.hypot(0.9, 0.9))
    assert float(found.square_top) == pytest.approx(own)


def test_edge_tools() -> None:
    edge = np.array([[0.0, 0], [3, 4], [6, 0]])
    assert float(edge_length(edge)) == 10.0
    assert arcs(edge).tolist() == [0.0, 5.0, 10.0]
    assert float(bow(edge)) == 4.0
    assert float(breadth(edge)) == 4.0
    assert float(breadth(edge, math.pi / 2)) == pytest.approx(6.0)
    with pytest.raises(ValueError, match="no chord"):
        bow(np.array([[0.0, 0], [1, 0], [0, 0]]))


def test_the_fit_does_not_turn_over() -> None:
    edge = np.array([[0.0, 0], [2, 0], [2, 1]])
    assert float(misfit(edge, edge[:, ::-1] * [-1, 1] + 3.0)) < 1e-12
    assert float(misfit(edge, edge * [1, -1])) > 0.3


def test_rows_share_a_word(level: Panel) -> None:
    """The first row is the measured wall; the others differ by their edges only."""
    low, high = corner(0.0)
    lifted = np.stack([high, high + np.array([0, 0, 0.01])])
    panel = develop(low, lifted)
    assert panel.upper.shape == (2, len(high), 2)
    assert panel.upper[0] == pytest.approx(level.upper, abs=1e-12)
    assert panel.left_seam == pytest.approx(np.array([0.55, 0.56]))
    again = unfold(low, lifted[1], panel.word)
    assert panel.upper[1] == pytest.approx(again[1], abs=1e-12)


def test_spread_counts_the_drawn_rows_only() -> None:
    """Pieces stretched about their middle by shares of a half diagonal of 1 m."""
    square = np.array([[-1.0, -1], [1, -1], [1, 1], [-1, 1]]) / math.sqrt(2)
    shares = np.arange(0, 101) / 10000
    found = spread(square * (1 + shares[:, None, None]))
    assert found.each == pytest.approx(shares, abs=1e-12)
    assert found.median == pytest.approx(0.00505)
    assert found.most == pytest.approx(float(np.quantile(shares[1:], 0.95)))
    with pytest.raises(ValueError, match="at least one more"):
        spread(square[None])


def test_two_ways(level: Panel, skewed: Panel) -> None:
    assert the(judged(level, "right wall"), rules.TWO_WAYS).verdict is Verdict.HOLDS
    assert the(judged(skewed, "right wall"), rules.TWO_WAYS).verdict is Verdict.FAILS
    assert skewed.two_ways > 0.005


def test_too_wide(level: Panel) -> None:
    """The wall is 0.55 m high and about 1.94 m long: along the roll it fits a roll of 1.47 m, across it does not."""
    along = judged(level, "right wall", roll=1.47, allowances=0.04)
    across = judged(level, "right wall", roll=1.47, allowances=0.04, grain=math.pi / 2)
    assert the(along, rules.TOO_WIDE).verdict is Verdict.HOLDS
    assert the(across, rules.TOO_WIDE).verdict is Verdict.FAILS
    assert the(judged(level, "right wall"), rules.TOO_WIDE).verdict is Verdict.NOT_KNOWN


def test_rims_unsure(level: Panel) -> None:
    """Openings of 1 and 20 mm more at one end, as two builders might read them."""
    low, high = corner(0.0)
    tip = np.linspace(0.0, 1.0, len(high))[:, None] * [0, 0, 1.0]
    for error, expected in ((0.001, Verdict.HOLDS), (0.02, Verdict.FAILS)):
        rows = develop(low, np.stack([high, high + error * tip, high - error * tip]))
        found = judged(level, "right wall", unsure=spread(rows.outline).most)
        assert the(found, rules.RIMS_UNSURE).verdict is expected


def test_sharp(level: Panel) -> None:
    """A rim with a right angle in the middle of a wall, square below and above."""
    low = np.array([[0.0, 0, 0], [1, 0, 0], [1, 1, 0]])
    sharp = develop(low, low + np.array([0, 0, 0.5]))
    assert float(sharp.sharpest) == pytest.approx(math.pi / 2)
    assert the(judged(sharp, "right wall"), rules.SHARP).verdict is Verdict.FAILS
    assert the(judged(level, "right wall"), rules.SHARP).verdict is Verdict.HOLDS


def test_strain_and_shrinkage() -> None:
    assert strain([0.5, 0.505], 0.5) == pytest.approx(np.array([0.0, 0.01]))
    assert float(strain(0.49, 0.5)) == 0.0
    assert float(wet_height(0.5, 0.03)) == pytest.approx(0.485)
    with pytest.raises(ValueError, match="share"):
        wet_height(0.5, 1.0)


def test_cloth_is_pulled_no_harder_than_the_springs_push() -> None:
    """20 kN/m cloth 500 mm high, 2 mm below a stop at 502: 80 N/m dry; 3 % shrunk: 20e3 (0.502 / 0.485 - 1)."""
    held = tightness(0.502, 0.5, stiffness=20e3, shrinkage=0.03)
    assert float(held.dry) == pytest.approx(80.0)
    assert float(held.wet) == pytest.approx(20e3 * (0.502 / 0.485 - 1))
    sprung = tightness(0.502, 0.5, stiffness=20e3, shrinkage=0.03, most=100.0)
    assert (float(sprung.dry), float(sprung.wet)) == pytest.approx((80.0, 100.0))
    stopped = tightness(math.inf, 0.5, stiffness=20e3, shrinkage=0.03, most=100.0)
    assert (float(stopped.dry), float(stopped.wet), float(stopped.worst)) == (100.0, 100.0, 100.0)
    with pytest.raises(ValueError, match="without end"):
        tightness(math.inf, 0.5, stiffness=20e3, shrinkage=0.0)


def test_too_tight() -> None:
    limit = 300.0
    slack = tightness(0.5, 0.51, stiffness=20e3, shrinkage=0.03)
    short = tightness(0.5, 0.5, stiffness=20e3, shrinkage=0.03)
    assert rules.TOO_TIGHT.judge(float(slack.worst), limit).verdict is Verdict.HOLDS
    assert rules.TOO_TIGHT.judge(float(short.worst), limit).verdict is Verdict.FAILS
