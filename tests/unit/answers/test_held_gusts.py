"""The gust at which parts, sway and the whole roof give, on roofs that can be worked out by hand ("exact")."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from loftwright.answers.held_gusts import HIGHEST, OpenRoof, gusts_of, judge_parts, solve
from loftwright.core.checks import Check, Verdict
from loftwright.core.motion import Array
from loftwright.project.assemble_wind import Bears
from loftwright.strength.held import FREE_END, WHOLE_ROOF, Job, Limit
from loftwright.strength.support_parts import HingeStiffness, hinge, link, strap
from loftwright.strength.supports import Support, hold, motion_at, wrench_at

X, Y, Z = np.eye(3)
LIP = np.array([2.0, 0.0, 0.6])
REST = wrench_at(150 * Z, 2 * X)
LIFT = wrench_at(1.0 * Z, 2 * X)
"""One newton a pascal at the lip, upwards."""


def hinges() -> list[Support]:
    stiff = HingeStiffness(*(np.asarray(v) for v in (4e5, 2e5, 3e5, 2e3, 3e3)))
    return [*hinge("left hinge", [0, 0.5, 0], stiff), *hinge("right hinge", [0, -0.5, 0], stiff)]


def roof() -> list[Support]:
    """Return hinges at the rear, a strap on either side and a bar across the free end."""
    found = hinges()
    for name, y in (("left strap", 0.5), ("right strap", -0.5)):
        found += strap(name, [2.0, y, 0.0], [2.0, y, 0.6], stiffness=2e5)
    return [*found, *link("brace", [2.0, -0.6, 0.0], [2.0, 0.5, 0.6], stiffness=1e5)]


def strapped(stiffness: Array | float = 1e5) -> list[Support]:
    return [*hinges(), *strap("strap", [2, 0, -1], [2, 0, 0], stiffness=stiffness)]


def limit(part: str, job: Job, force: float | Sequence[float], moment: float | None = None) -> Limit:
    return Limit(part, job, np.atleast_1d(force).astype(float), None if moment is None else np.atleast_1d(moment))


def opened(supports: Sequence[Support], winds: Array, limits: Sequence[Limit], sway_limit: float = 10.0) -> OpenRoof:
    """Return a roof in `winds`, [rows, directions, 6] for one pascal, in one case; 18 m/s is wanted."""
    rows = len(winds)

    def full(value: float) -> Array:
        return np.full(rows, value)

    bears = []
    for one in limits:
        assert one.force is not None
        bears.append(Bears(one.part, one.job, one.force, one.moment))
    return OpenRoof(
        supports=tuple(supports),
        bears=tuple(bears),
        limits=tuple(limits),
        unit=winds[:, None],
        still=np.broadcast_to(REST, (*winds[:, None].shape[:-1], 6)),
        load=full(1.0),
        wanted=full(18.0),
        sway_limit=full(sway_limit),
        lip=np.broadcast_to(LIP, (rows, 3)),
        rattle=full(0.0),
    )


def gusts(solved: OpenRoof) -> dict[str, Array]:
    """Return the gust at the limit of every thing [m/s], [rows, directions]."""
    names, found, _, _ = gusts_of(solved, solve(solved))
    return {name: found[..., i] for i, name in enumerate(names)}


def test_gust_at_which_a_strap_reaches_its_limit() -> None:
    """Exact: 150 N on a still day, one newton a pascal: 400 N at q = 250 Pa, which is 20 m/s."""
    wind = LIFT[None, None]
    found = gusts(opened(strapped(), wind, [limit("strap", "stop", 400.0)]))
    assert found["strap"] == pytest.approx(20.0, rel=1e-6)
    assert found[WHOLE_ROOF] == pytest.approx(HIGHEST)
    assert gusts(opened(strapped(), wind, [limit("strap", "stop", 1e5)]))["strap"] == HIGHEST
    broken = gusts(opened(strapped(), wind, [limit("strap", "stop", 100.0)]))
    assert broken["strap"] == 0.0, "broken on a still day"


def test_a_wind_that_slams_leaves_nothing_to_hold_the_roof() -> None:
    """Exact: pressed down by a newton a pascal, the strap is slack above 150 Pa, 15.5 m/s: up to there it is held."""
    limits = [limit("strap", "stop", 400.0), limit("left hinge", "hinge", 1e5, 1e4)]
    found = gusts(opened(strapped(), np.stack([LIFT, -LIFT])[None], limits))
    slack = np.sqrt(150.0 * 2 / 1.25)
    assert slack - 0.5 < found[WHOLE_ROOF][0, 1] <= slack
    assert found["strap"][0, 1] == HIGHEST, "a slack strap does not break"


def test_limits_by_row_and_direction() -> None:
    """Exact: rows that bear 400 and 775 N; half the wind from the other side."""
    wind = np.broadcast_to(np.stack([LIFT, LIFT / 2]), (2, 2, 6))
    rows = strapped(np.array([1e5, 2e5]))
    found = gusts(opened(rows, wind, [limit("strap", "stop", [400.0, 775.0])]))
    exact = np.sqrt(np.array([[250.0, 500.0], [625.0, 1250.0]]) * 2 / 1.25)
    assert found["strap"] == pytest.approx(np.minimum(exact, HIGHEST), rel=1e-6)


def test_gust_at_which_the_free_end_sways_too_far() -> None:
    """Exact: all supports two-way, so that sway grows with q; the limit is set to the sway at 21 m/s."""
    parts = [*hinges(), *link("stop", [2, 0, -1], [2, 0, 0], stiffness=1e5)]
    side = wrench_at(1.2 * Y, [1.3, 0.0, 0.4])
    q = 0.5 * 1.25 * 21.0**2
    there = hold(parts, q * side, REST).motion - hold(parts, 0 * side, REST).motion
    found = gusts(opened(parts, side[None, None], [], abs(float(motion_at(there, LIP)[1]))))
    assert found[FREE_END] == pytest.approx(21.0, rel=1e-9)


def checks(solved: OpenRoof) -> dict[str, Check]:
    names, found, _, _ = gusts_of(solved, solve(solved))
    made = {}
    for judged in judge_parts(solved, names, found):
        assert judged.value is not None
        assert judged.limit is not None
        made[judged.rule.id] = judged.rule.judge(float(judged.value[0]), float(judged.limit[0]), part=judged.which)
    return made


def braced(size: float, sway_limit: float) -> dict[str, Check]:
    """Return the checks of the braced roof in wind from the left and from the rear, by rule."""
    limits = [
        limit("left hinge", "hinge", 600 * size, 60 * size),
        limit("right hinge", "arm", 600 * size, 60 * size),
        limit("brace", "brace", 300 * size),
        limit("left strap", "stop", 300 * size),
    ]
    wind = np.stack([wrench_at(-1.2 * Y, [1.3, 0.0, 0.4]), wrench_at(1.0 * Z, [1.2, 0.0, 0.4])])
    return checks(opened(roof(), wind[None], limits, sway_limit))


def test_a_stout_roof_holds_and_a_slight_one_fails() -> None:
    stout, slight = braced(8.0, 0.05), braced(0.2, 0.0005)
    assert sorted(stout) == [f"HOLD-70{i}" for i in range(1, 7)]
    assert all(check.verdict is Verdict.HOLDS for check in stout.values())
    assert stout["HOLD-703"].part == "brace"
    assert all(slight[f"HOLD-70{i}"].verdict is Verdict.FAILS for i in range(1, 6))


def test_a_roof_that_comes_loose_fails() -> None:
    up = opened(strapped(), LIFT[None, None], [])
    down = replace(up, unit=-up.unit)
    assert checks(down)["HOLD-706"].verdict is Verdict.FAILS
    assert checks(up)["HOLD-706"].verdict is Verdict.HOLDS
