"""Latches and keepers: exact sums, and a verdict on each side."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.strength.brace_rules import judge_latches
from loftwright.strength.latch_alignment import Offset, catch_room, latch_offset, shove_down

CALM = {
    "askew": 0.0,
    "side_slop": 0.0,
    "radial_slop": 0.0,
    "hinges_apart": 1.0,
    "reach": 2.0,
    "twist": 0.0,
    "height": 0.1,
    "latches_apart": 1.1,
    "sideways": 0.0,
    "stiffness": 5000.0,
}


def offset(**changed: float) -> Offset:
    return latch_offset(**(CALM | changed))


def test_true_hinges_set_the_lip_down_in_place() -> None:
    found = offset()
    assert (found.to_left, found.to_right, found.worst, found.uneven) == (0.0, 0.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("changed", "each_way"),
    [
        ({"side_slop": 0.004}, 0.002),
        ({"radial_slop": 0.0005}, 0.001),
        ({"twist": -0.02}, 0.002),
        ({"sideways": 25.0}, 0.005),
    ],
)
def test_each_cause_by_itself(changed: dict[str, float], each_way: float) -> None:
    found = offset(**changed)
    assert found.to_left == pytest.approx(each_way)
    assert found.to_right == pytest.approx(-each_way)


def test_askew_moves_the_whole_range() -> None:
    found = offset(askew=-0.003, side_slop=0.004)
    assert found.to_left == pytest.approx(-0.001)
    assert found.worst == pytest.approx(0.005)


def test_wedge_without_rub_keeps_the_work() -> None:
    # Down by d shoves aside by d tan a: F d = S d tan a.
    assert shove_down(0.008, 0.003, 2000.0, 0.5, 0.0) == pytest.approx(10.0 * np.tan(0.5))
    assert shove_down(0.002, 0.003, 2000.0, 0.5, 0.3) == 0.0
    assert np.isfinite(shove_down(0.008, 0.003, 2000.0, 1.4, 0.3))


def judged(found: Offset, *, catch: float = 0.034, stiffness: float = 5000.0) -> list[Check]:
    clear, room = catch_room(catch, 0.020), catch_room(catch, 0.020, 0.006)
    shove = shove_down(found.worst, clear, stiffness, np.radians(30.0), 0.25)
    said = []
    for one in judge_latches(found.worst, room, shove, found.uneven, 0.012):
        assert one.value is not None
        assert one.limit is not None
        said.append(one.rule.judge(float(one.value), float(one.limit)))
    return said


def test_latches_that_meet_and_latches_that_do_not() -> None:
    meet = judged(offset(side_slop=0.004, radial_slop=0.001, twist=0.005))
    assert [each.verdict for each in meet] == [Verdict.HOLDS] * 3
    assert judged(offset(askew=0.010, side_slop=0.008))[0].verdict is Verdict.FAILS
    # 5 mm to shove against 20 kN/m is 100 N, and the mouth asks for almost as much.
    assert judged(offset(askew=0.012), stiffness=20e3)[1].verdict is Verdict.FAILS
    # 0.02 rad over 1.1 m is 22 mm, the latches draw 12 mm.
    assert judged(offset(twist=0.02))[2].verdict is Verdict.FAILS
