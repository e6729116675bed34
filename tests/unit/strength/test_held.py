"""Gusts at the limit, sway and the weakest link, on roofs that can be worked out by hand (labelled "exact")."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.strength import held_rules as rules
from loftwright.strength.held import (
    FREE_END,
    WHOLE_ROOF,
    Job,
    Limit,
    SwayLimit,
    first_crossing,
    gust_at_limit,
    judge_brace,
    judge_gusts,
    share_of_limit,
    steadied,
    sway,
)
from loftwright.strength.support_parts import HingeStiffness, hinge, link, strap
from loftwright.strength.supports import Support, hold, wrench_at

X, Y, Z = np.eye(3)
LIP = np.array([2.0, 0.0, 0.6])
REST = wrench_at(150 * Z, 2 * X)
LIFT = wrench_at(1.0 * Z, 2 * X)
"""One newton a pascal at the lip, upwards."""


def hinges(factor: float = 1.0) -> list[Support]:
    stiff = HingeStiffness(*(np.asarray(v * factor) for v in (4e5, 2e5, 3e5, 2e3, 3e3)))
    return [*hinge("left hinge", [0, 0.5, 0], stiff), *hinge("right hinge", [0, -0.5, 0], stiff)]


def roof(brace: float = 1e5) -> list[Support]:
    """Return hinges at the rear, a strap on either side and a bar across the free end."""
    bar = link("brace", [2.0, -0.6, 0.0], [2.0, 0.5, 0.6], stiffness=brace)
    return [*hinges(), *straps(), *bar]


def straps() -> list[Support]:
    found: list[Support] = []
    for name, y in (("left strap", 0.5), ("right strap", -0.5)):
        found += strap(name, [2.0, y, 0.0], [2.0, y, 0.6], stiffness=2e5)
    return found


def limit(part: str, job: Job, force: float | None, moment: float | None = None) -> Limit:
    return Limit(part, job, *(None if v is None else np.asarray(v) for v in (force, moment)))


def test_gust_at_which_a_strap_reaches_its_limit() -> None:
    """Exact: 150 N on a still day, one newton a pascal: 400 N at q = 250 Pa, which is 20 m/s."""
    one = [*hinges(), *strap("strap", [2, 0, -1], [2, 0, 0], stiffness=1e5)]
    found = gust_at_limit(one, LIFT[None], REST, [limit("strap", "stop", 400.0)])
    assert found.of("strap") == pytest.approx([20.0], rel=1e-6)
    assert found.above.tolist() == [[False, True]]
    assert found.of(WHOLE_ROOF) == pytest.approx([45.0])
    assert found.weakest_name() == "strap"
    high = gust_at_limit(one, LIFT[None], REST, [limit("strap", "stop", 1e5)])
    assert (high.of("strap").tolist(), high.above.tolist()) == ([45.0], [[True, True]])
    assert (high.weakest_name(), high.weakest()[0].tolist()) == ("", -1)
    none = gust_at_limit(one, LIFT[None], REST, [limit("strap", "stop", 100.0)])
    assert none.of("strap").tolist() == [0.0], "broken on a still day"


def test_a_wind_that_slams_leaves_nothing_to_hold_the_roof() -> None:
    """Exact: pressed down by a newton a pascal, the strap is slack above 150 Pa, 15.5 m/s: the gust before counts."""
    one = [*hinges(), *strap("strap", [2, 0, -1], [2, 0, 0], stiffness=1e5)]
    limits = [limit("strap", "stop", 400.0), limit("left hinge", "hinge", 1e5, 1e4)]
    found = gust_at_limit(one, np.stack([LIFT, -LIFT]), REST, limits)
    assert 13.0 < found.of(WHOLE_ROOF)[1] < 15.5
    assert found.least(WHOLE_ROOF) == pytest.approx(found.of(WHOLE_ROOF)[1])
    assert found.weakest_name() == WHOLE_ROOF
    assert found.of("strap")[1] == 45.0, "a slack strap does not break"


def test_limits_by_row_and_direction() -> None:
    """Exact: rows that bear 400 and 775 N; half the wind from the other side."""
    one = [*hinges(), *strap("strap", [2, 0, -1], [2, 0, 0], stiffness=np.array([1e5, 2e5]))]
    bears = Limit("strap", "stop", np.array([400.0, 775.0]))
    wind = np.broadcast_to(np.stack([LIFT, LIFT / 2]), (2, 2, 6))
    found = gust_at_limit(one, wind, np.broadcast_to(REST, (2, 6)), [bears])
    exact = np.sqrt(np.array([[250.0, 500.0], [625.0, 1250.0]]) * 2 / 1.25)
    assert found.of("strap") == pytest.approx(exact, rel=1e-6)
    which, gust = found.weakest()
    assert which.tolist() == [0, 0]
    assert gust == pytest.approx([20.0, np.sqrt(1000.0)], rel=1e-6)


def test_crossing_between_two_slopes() -> None:
    """Exact: used 0.5, 0.5, 0.9, 1.3 at 0, 100, 200, 300 Pa reaches one at 225 Pa; not if loose from 300 Pa on."""
    used, q = np.array([0.5, 0.5, 0.9, 1.3]), np.array([0.0, 100.0, 200.0, 300.0])
    sound = np.ones(4, dtype=np.bool_)
    reached, never = first_crossing(used, q, sound)
    assert (float(reached), bool(never)) == (pytest.approx(225.0), False)
    sound[3] = False
    assert bool(first_crossing(used, q, sound)[1])


def test_force_and_moment_use_a_limit_together() -> None:
    found = hold(roof(), wrench_at(200 * Y, LIP), REST)
    force, moment = float(found.force("left hinge")), float(found.moment("left hinge"))
    assert force > 0
    assert moment > 0
    assert share_of_limit(found, limit("left hinge", "hinge", 2 * force)) == pytest.approx(0.5)
    assert share_of_limit(found, limit("left hinge", "hinge", 2 * force, 4 * moment)) == pytest.approx(0.75)
    with pytest.raises(ValueError, match="not known"):
        share_of_limit(found, limit("left hinge", "hinge", None))
    with pytest.raises(ValueError, match="nothing of that name"):
        share_of_limit(found, limit("left hnge", "hinge", 1.0))


def test_sway_counts_from_a_still_day() -> None:
    """Exact: half a still day's load of sideways push more sways the lip by half of what that push does."""
    parts, side = [*hinges(), *link("stop", [2, 0, -1], [2, 0, 0], stiffness=1e5)], wrench_at(100 * Y, 2 * X)
    rest = hold(parts, np.zeros(6), side)
    moved = sway(hold(parts, np.stack([0.5 * side, 0 * side]), side), rest, 2 * X)
    whole = rest.motion[1] + 2 * rest.motion[5]
    assert moved.sideways.tolist() == pytest.approx([0.5 * whole, 0.0])
    assert moved.shift[0] >= abs(moved.sideways[0])
    assert moved.twist.tolist() == pytest.approx([0.5 * rest.motion[3], 0.0])


def test_gust_at_which_the_free_end_sways_too_far() -> None:
    """Exact: all supports two-way, so that sway grows with q; the limit is set to the sway at 18 m/s."""
    parts = [*hinges(), *link("stop", [2, 0, -1], [2, 0, 0], stiffness=1e5)]
    side = wrench_at(1.2 * Y, [1.3, 0.0, 0.4])
    q = 0.5 * 1.25 * 18.0**2
    there = sway(hold(parts, q * side, REST), hold(parts, 0 * side, REST), LIP).sideways
    found = gust_at_limit(parts, side[None], REST, [], sway_limit=SwayLimit(LIP, np.abs(there)))
    assert found.of(FREE_END) == pytest.approx([18.0], rel=1e-9)


def test_braced_roofs_stand_still_in_18_metres_a_second() -> None:
    """Common practice, no source: well braced roofs stand still in gusts of about 18 m/s.

    Side wind on 0.9 m2 of wall at a coefficient of 1.3; "still" is read as under 5 mm, judgement.
    """
    push = 0.5 * 1.25 * 18.0**2 * 0.9 * 1.3
    load = wrench_at(push * Y, [1.3, 0.0, 0.4])
    parts = roof(brace=2e6)
    found = steadied(parts, ["brace"], load, REST, LIP)
    assert found.braced < 0.005
    assert found.braced < found.unbraced
    assert found.ratio == pytest.approx(found.braced / found.unbraced)


def test_a_brace_that_alone_holds_the_roof() -> None:
    """Without the bar nothing carries the side force: the ratio is nought and that is said."""
    free = [s for s in hinges() if "pin" not in s.what]
    bar = link("brace", [2, -1, 0], [2, 0, 0], stiffness=1e5) + link("tie", [0, -1, 0], [0, 0, 0], stiffness=1e5)
    top = link("stop", [2, 0, -1], [2, 0, 0], stiffness=1e5)
    found = steadied([*free, *bar, *top], ["brace", "tie"], wrench_at(50 * Y, X), np.zeros(6), 2 * X)
    assert not bool(found.held_unbraced)
    assert float(found.ratio) == 0.0
    still = steadied([*hinges(), *top, *bar], ["brace"], wrench_at(0 * Y, X), np.zeros(6), 2 * X)
    assert float(still.ratio) == 1.0


def checked(judged: Judged, row: int = 0) -> Check:
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value[row]), float(judged.limit[row]), part=judged.which)


def judgements(limits: Sequence[Limit], sway_limit: float, wanted: float) -> dict[str, Check]:
    """Return the checks of the braced roof in wind from the left and from the rear, by rule."""
    wind = np.stack([wrench_at(-1.2 * Y, [1.3, 0.0, 0.4]), wrench_at(1.0 * Z, [1.2, 0.0, 0.4])])
    found = gust_at_limit(roof(), wind[None], REST[None], limits, sway_limit=SwayLimit(LIP, np.asarray([sway_limit])))
    made = judge_gusts(found, limits, np.array([wanted]))
    return {judged.rule.id: checked(judged) for judged in made if judged.value is not None}


def limits_of(size: float) -> list[Limit]:
    return [
        limit("left hinge", "hinge", 600 * size, 60 * size),
        limit("right hinge", "arm", 600 * size, 60 * size),
        limit("brace", "brace", 300 * size),
        limit("left strap", "stop", 300 * size),
    ]


def test_a_stout_roof_holds() -> None:
    checks = judgements(limits_of(8.0), 0.05, 18.0)
    assert sorted(checks) == [f"HOLD-70{i}" for i in range(1, 7)]
    assert all(check.verdict is Verdict.HOLDS for check in checks.values())
    assert checks["HOLD-703"].part == "brace"


def test_a_slight_roof_fails() -> None:
    checks = judgements(limits_of(0.2), 0.0005, 18.0)
    failing = [checks[f"HOLD-70{i}"] for i in range(1, 6)]
    assert all(check.verdict is Verdict.FAILS for check in failing)


def test_a_roof_that_comes_loose_fails() -> None:
    one = [*hinges(), *strap("strap", [2, 0, -1], [2, 0, 0], stiffness=1e5)]
    down = judge_gusts(gust_at_limit(one, -LIFT[None, None], REST[None], []), [], 18.0)
    assert down[-1].rule is rules.LOOSE
    assert checked(down[-1]).verdict is Verdict.FAILS
    up = judge_gusts(gust_at_limit(one, LIFT[None, None], REST[None], []), [], 18.0)
    assert checked(up[-1]).verdict is Verdict.HOLDS


def test_what_a_part_bears_may_be_unknown() -> None:
    limits = [Limit("brace", "brace", None, measure="load the brace with a known weight", missing="brace_limit")]
    found = gust_at_limit(roof(), LIFT[None, None], REST[None], limits)
    first = judge_gusts(found, limits, 18.0)[0]
    assert (first.value, first.unknown, first.missing) == (None, limits[0].measure, "brace_limit")
    bare = [limit("brace", "brace", None)]
    assert "brace" in judge_gusts(found, bare, 18.0)[0].unknown


def test_a_brace_is_worth_its_weight_or_not() -> None:
    load = np.broadcast_to(wrench_at(200 * Y, LIP), (1, 2, 6)) * np.array([1.0, 0.5])[:, None]
    good = steadied(roof(brace=2e6), ["brace"], load, REST[None], LIP)
    assert checked(judge_brace(good, "brace")).verdict is Verdict.HOLDS
    upright = [*hinges(), *straps(), *link("brace", [2.0, 0.0, 0.0], [2.0, 0.0, 0.6], stiffness=2e6)]
    poor = steadied(upright, ["brace"], load, REST[None], LIP)
    assert checked(judge_brace(poor, "brace")).verdict is Verdict.FAILS


def test_gusts_must_rise_from_nought() -> None:
    for gusts in ((1.0, 2.0), (0.0, 2.0, 2.0), (0.0,)):
        with pytest.raises(ValueError, match="rise"):
            gust_at_limit(hinges(), LIFT[None], REST, [], gusts=gusts)
