"""Shares of limits, where they are reached, and what is said of what is not known (exact cases labelled "exact")."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Verdict
from loftwright.strength.held import (
    WHOLE_ROOF,
    GustsAtLimit,
    Limit,
    first_crossing,
    judge_brace,
    judge_gusts,
    share_of_limit,
)
from loftwright.strength.support_parts import HingeStiffness, hinge, link
from loftwright.strength.supports import Support, hold, motion_at, wrench_at

X, Y, Z = np.eye(3)
LIP = np.array([2.0, 0.0, 0.6])


def roof(brace: float) -> list[Support]:
    """Return hinges at the rear and a bar across the free end; without it for a stiffness of nought."""
    stiff = HingeStiffness(*(np.asarray(v) for v in (4e5, 2e5, 3e5, 2e3, 3e3)))
    found = [*hinge("left hinge", [0, 0.5, 0], stiff), *hinge("right hinge", [0, -0.5, 0], stiff)]
    found += link("stop", [2, 0, -1], [2, 0, 0], stiffness=1e5)
    return [*found, *link("brace", [2.0, -0.6, 0.0], [2.0, 0.5, 0.6], stiffness=brace)] if brace > 0.0 else found


def limit(force: float | None, moment: float | None = None, part: str = "left hinge") -> Limit:
    return Limit(part, "hinge", *(None if v is None else np.asarray(v) for v in (force, moment)))


def sway(brace: float, push: float) -> float:
    """Return how far a push on the walls sways the free end [m]."""
    found = hold(roof(brace), wrench_at(push * Y, [1.3, 0.0, 0.4]))
    assert bool(found.held)
    return abs(float(motion_at(found.motion, LIP)[1]))


def test_crossing_between_two_slopes() -> None:
    """Exact: used 0.5, 0.5, 0.9, 1.3 at 0, 100, 200, 300 Pa reaches one at 225 Pa; not if loose from 300 Pa on."""
    used, q = np.array([0.5, 0.5, 0.9, 1.3]), np.array([0.0, 100.0, 200.0, 300.0])
    sound = np.ones(4, dtype=np.bool_)
    reached, never = first_crossing(used, q, sound)
    assert (float(reached), bool(never)) == (pytest.approx(225.0), False)
    sound[3] = False
    assert bool(first_crossing(used, q, sound)[1])


def test_force_and_moment_use_a_limit_together() -> None:
    found = hold(roof(1e5), wrench_at(200 * Y, LIP), wrench_at(150 * Z, 2 * X))
    force, moment = float(found.force("left hinge")), float(found.moment("left hinge"))
    assert force > 0
    assert moment > 0
    assert share_of_limit(found, limit(2 * force)) == pytest.approx(0.5)
    assert share_of_limit(found, limit(2 * force, 4 * moment)) == pytest.approx(0.75)
    with pytest.raises(ValueError, match="not known"):
        share_of_limit(found, limit(None))
    with pytest.raises(ValueError, match="nothing of that name"):
        share_of_limit(found, limit(1.0, part="left hnge"))


def test_what_a_part_bears_may_be_unknown() -> None:
    limits = [Limit("brace", "brace", None, measure="load the brace with a known weight", missing="brace_limit")]
    found = GustsAtLimit((WHOLE_ROOF,), np.full((1, 4, 1), 30.0))
    first = judge_gusts(found, limits, 18.0)[0]
    assert (first.value, first.unknown, first.missing) == (None, limits[0].measure, "brace_limit")
    assert "brace" in judge_gusts(found, [Limit("brace", "brace", None)], 18.0)[0].unknown


def test_braced_roofs_stand_still_in_18_metres_a_second() -> None:
    """Common practice, no source: well braced roofs stand still in gusts of about 18 m/s.

    Side wind on 0.9 m2 of wall at a coefficient of 1.3; "still" is read as under 5 mm, judgement.
    """
    push = 0.5 * 1.25 * 18.0**2 * 0.9 * 1.3
    assert sway(2e6, push) < 0.005
    assert sway(2e6, push) < sway(0.0, push)


@pytest.mark.parametrize(("brace", "verdict"), [(2e6, Verdict.HOLDS), (1e3, Verdict.FAILS)])
def test_a_brace_is_worth_its_weight_or_not(brace: float, verdict: Verdict) -> None:
    judged = judge_brace([sway(brace, 200.0) / sway(0.0, 200.0)], "brace")
    assert judged.value is not None
    assert judged.limit is not None
    assert judged.rule.judge(float(judged.value[0]), float(judged.limit[0])).verdict is verdict
