"""Latches and keepers: exact sums, and a verdict on each side."""

from __future__ import annotations

import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.strength.brace_rules import judge_latches
from loftwright.strength.latch_alignment import Offset, latch_offset

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


def judged(found: Offset, *, room: float = 0.013) -> list[Check]:
    said = []
    for one in judge_latches(found.worst, room, found.uneven, 0.012):
        assert one.value is not None
        assert one.limit is not None
        said.append(one.rule.judge(float(one.value), float(one.limit)))
    return said


def test_latches_that_meet_and_latches_that_do_not() -> None:
    meet = judged(offset(side_slop=0.004, radial_slop=0.001, twist=0.005))
    assert [each.verdict for each in meet] == [Verdict.HOLDS] * 2
    assert judged(offset(askew=0.010, side_slop=0.008))[0].verdict is Verdict.FAILS
    # 0.02 rad over 1.1 m is 22 mm, the latches draw 12 mm.
    assert judged(offset(twist=0.02))[1].verdict is Verdict.FAILS
