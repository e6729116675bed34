"""The way from a hinge plate to the bows."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.motion import Array
from loftwright.strength.hinge_path import PathToBows, path_to_bows, push_of_plate, skin_alone
from loftwright.strength.ring_rules import CHANNEL_BENDS, MOMENT_LEFT, NOTHING_TO_PUSH_ON, SKIN_DENTS, judge_path

BOWS = np.array([0.3, 0.9, 1.5])
LIFT, TURNING = np.array([100.0, -400.0]), np.array([0.0, 60.0])


@pytest.mark.parametrize(("end", "count"), [(1.0, 2), (1.5, 3)])
def test_bows_hold_the_channel(end: float, count: int) -> None:
    found = path_to_bows(0.0, end, BOWS, 0.1, LIFT, TURNING)
    assert found.count == count
    assert found.bow_force.sum(axis=-1) == pytest.approx(-LIFT)
    assert (found.bow_force * BOWS).sum(axis=-1) == pytest.approx(-(TURNING + LIFT * 0.1))
    assert found.left_over == pytest.approx([0.0, 0.0])


def test_two_bows_by_levers() -> None:
    """A push of 100 N 0.2 m behind the first bow, 0.8 m behind the second: -133.3 and +33.3 N; 20 N m at the first."""
    found = path_to_bows(0.0, 1.0, BOWS, 0.1, LIFT, TURNING)
    assert found.bow_force[0] == pytest.approx([-400 / 3, 100 / 3, 0.0])
    assert found.moment[0] == pytest.approx(20.0)


def test_hinge_between_two_bows() -> None:
    """A push P in the middle of a span: P L / 4; a turning M alone: M / 2 on either side."""
    pushed = path_to_bows(0.2, 1.0, BOWS, 0.6, np.array([100.0]), np.array([0.0]))
    turned = path_to_bows(0.2, 1.0, BOWS, 0.6, np.array([0.0]), np.array([50.0]))
    assert (pushed.moment[0], turned.moment[0]) == pytest.approx((15.0, 25.0))


def test_one_bow_takes_no_turning() -> None:
    found = path_to_bows(0.0, 0.35, BOWS, 0.1, LIFT, TURNING)
    assert found.bow_force[:, 0] == pytest.approx(-LIFT)
    assert found.left_over == pytest.approx(np.abs(TURNING + LIFT * (0.1 - 0.3)))


def test_skin_alone_by_the_series() -> None:
    """Second way: w = 0.01160 F s^2 / D from the double sine series of a square panel, summed here."""
    m = np.arange(1, 400, 2)
    series = (1.0 / (m[:, None] ** 2 + m[None, :] ** 2) ** 2).sum() * 4 / np.pi**4
    thick, young, spacing = 0.0008, 210e9, 0.5
    plate = young * thick**3 / (12 * (1 - 0.3**2))
    one = np.ones(1)
    dent, stress = skin_alone(20.0 * one, 0.03 * one, spacing * one, thick * one, young * one)
    assert dent[0] == pytest.approx(series * 20.0 * spacing**2 / plate, rel=0.002)
    smaller = skin_alone(20.0 * one, 0.02 * one, spacing * one, thick * one, young * one)[1]
    assert smaller[0] > stress[0] > 0


def test_push_of_a_plate() -> None:
    assert push_of_plate(np.array([-100.0]), np.array([12.0]), np.array([0.12]))[0] == pytest.approx(150.0)


def judged(path: PathToBows, skin: Array) -> list[Check]:
    judgements = judge_path(
        path,
        which="left hinge",
        modulus=np.array(1.3e-6),
        channel_yielding=np.array(235e6),
        skin_stress=skin,
        skin_yielding=np.array(140e6),
        safety=np.array(1.5),
        free_moment=np.array(10.0),
    )
    found = []
    for one in judgements:
        assert one.value is not None
        assert one.limit is not None
        assert one.which == "left hinge"
        found.append(one.rule.judge(float(one.value[0]), float(one.limit[0])))
    return found


def test_channel_over_two_bows_holds() -> None:
    path = path_to_bows(0.0, 1.0, BOWS, 0.1, LIFT, TURNING)
    found = judged(path, np.array(0.0))
    assert [one.rule for one in found] == [NOTHING_TO_PUSH_ON, CHANNEL_BENDS, MOMENT_LEFT]
    assert [one.verdict for one in found] == [Verdict.HOLDS] * 3


def test_heavy_load_on_one_bow_fails() -> None:
    path = path_to_bows(0.0, 0.35, BOWS, 0.1, 20 * LIFT, 20 * TURNING)
    found = judged(path, np.array(0.0))
    assert [one.rule for one in found] == [NOTHING_TO_PUSH_ON, CHANNEL_BENDS, MOMENT_LEFT]
    assert [one.verdict for one in found] == [Verdict.HOLDS, Verdict.FAILS, Verdict.FAILS]


@pytest.mark.parametrize(("force", "verdict"), [(10.0, Verdict.HOLDS), (300.0, Verdict.FAILS)])
def test_skin_without_a_bow(force: float, verdict: Verdict) -> None:
    path = path_to_bows(0.0, 0.2, BOWS, 0.1, LIFT, TURNING)
    one = np.ones(1)
    _, stress = skin_alone(force * one, 0.03 * one, 0.5 * one, 0.0008 * one, 210e9 * one)
    assert path.count == 0
    assert path.left_over == pytest.approx(np.abs(TURNING))
    found = judged(path, stress)
    assert [one.rule for one in found] == [NOTHING_TO_PUSH_ON, SKIN_DENTS]
    assert [one.verdict for one in found] == [Verdict.FAILS, verdict]


def test_rows_of_unlike_channels_are_each_their_own() -> None:
    """Second way: every row alone, by the cases above."""
    end, hinge = np.array([0.2, 0.35, 1.0]), np.array([0.1, 0.1, 0.2])
    lift, turning = np.array([100.0, -50.0, 80.0]), np.array([5.0, 7.0, -9.0])
    bows = np.stack([BOWS, BOWS + 0.01, BOWS - 0.02])
    every = path_to_bows(0.0, end, bows, hinge, lift, turning)
    assert every.counts.tolist() == [0.0, 1.0, 2.0]
    for row in range(3):
        one = path_to_bows(
            0.0, float(end[row]), bows[row], float(hinge[row]), lift[row : row + 1], turning[row : row + 1]
        )
        assert one.moment[0] == pytest.approx(every.moment[row])
        assert one.left_over[0] == pytest.approx(every.left_over[row])
        assert one.bow_force[0] == pytest.approx(every.bow_force[row])
