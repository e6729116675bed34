"""Paths of bars, straps and folding arms over the travel; exact triangles."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.strength.brace import (
    BarPath,
    arm_path,
    bar_path,
    room_beside,
    room_between,
    rub_in_track,
    sideways_share,
    strap_path,
)
from loftwright.strength.brace_load import euler_load, force_along, free_play, round_section, strut_load
from loftwright.strength.brace_rules import NEVER_BENDS, judge_arm, judge_bar, judge_hold, judge_room, judge_straps

RISE = np.linspace(0.0, 0.6, 25)


def checks(found: tuple[Judged, ...]) -> list[Check]:
    """Return the first row of each judgement."""
    said = []
    for one in found:
        assert one.value is not None
        assert one.limit is not None
        said.append(one.rule.judge(float(np.ravel(one.value)[0]), float(np.ravel(one.limit)[0])))
    return said


def bar(length: float | Array, *, track: tuple[float, float] = (-0.6, 0.6), **changed: object) -> BarPath:
    given: dict[str, object] = {
        "pivot_y": -0.5,
        "pivot_z": 0.02,
        "length": length,
        "track_z": 0.02,
        "track_from": track[0],
        "track_to": track[1],
        "pivot_on": "van",
        "leans": "left",
    }
    return bar_path(RISE, **(given | changed))  # type: ignore[arg-type]


def test_ends_stay_a_bar_length_apart_while_it_reaches() -> None:
    shift = np.linspace(0.0, 0.05, 25)
    path = bar(0.9, track_z=0.05, shift=shift)
    apart = np.sqrt((path.slider + 0.5) ** 2 + (0.03 + RISE) ** 2 + shift**2)
    assert apart == pytest.approx(np.full(25, 0.9), rel=1e-12)


def test_three_four_five() -> None:
    path = bar(1.0)
    assert path.slider[-1] == pytest.approx(-0.5 + 0.8)
    assert path.across[-1] == pytest.approx(0.8)
    assert np.tan(path.slope[-1]) == pytest.approx(0.75)
    assert path.track_used == pytest.approx(0.2)


def test_pivot_on_the_shell_is_the_mirror_image_upside_down() -> None:
    below = bar(0.9, pivot_z=0.01, track_z=0.06)
    above = bar(0.9, pivot_z=0.06, track_z=0.01, pivot_on="shell")
    assert above.slider == pytest.approx(below.slider)
    assert above.spare == pytest.approx(below.spare)


def test_leaning_the_other_way_mirrors_about_the_pivot() -> None:
    left, right = bar(0.9), bar(0.9, leans="right")
    assert left.slider + right.slider == pytest.approx(np.full(25, -1.0))


def test_too_short_a_bar_jams_where_the_rise_passes_its_length() -> None:
    path = bar(0.5)
    assert np.array_equal(path.spare < 0, RISE > 0.5)
    assert np.all(np.isfinite(path.slider))
    assert path.across[-1] == 0.0


def test_rows_and_travel_broadcast() -> None:
    path = bar(np.array([0.9, 1.0, 1.1]))
    assert path.slider.shape == (3, 25)
    assert path.track_used.shape == (3,)


def test_bar_that_fits_and_bars_that_do_not() -> None:
    fits = bar(1.0)
    assert [each.verdict for each in checks(judge_bar(fits, rub_in_track(fits.slope, 0.25)))] == [Verdict.HOLDS] * 3
    short = bar(0.55)
    assert checks(judge_bar(short, rub_in_track(short.slope, 0.25)))[0].verdict is Verdict.FAILS
    # Track from -0.6 to 0.4 does not take the sliding end at 0.5.
    cut = bar(1.0, track=(-0.6, 0.4))
    assert checks(judge_bar(cut, rub_in_track(cut.slope, 0.25)))[1].verdict is Verdict.FAILS
    # At 0.62 the bar stands at 75 degrees: 0.25 tan 75 = 0.93.
    steep = bar(0.62)
    assert checks(judge_bar(steep, rub_in_track(steep.slope, 0.25)))[2].verdict is Verdict.FAILS


def test_a_free_slider_takes_no_share() -> None:
    assert sideways_share(0.8, held="not held") == 0.0
    assert sideways_share(0.8, held="one way") == sideways_share(0.8) == pytest.approx(0.64)


def test_straps() -> None:
    path = strap_path(RISE, foot_y=-0.6, foot_z=0.0, head_y=0.6, head_z=0.05)
    assert path.distance[0] == pytest.approx(np.hypot(1.2, 0.05))
    assert path.needed == pytest.approx(np.hypot(1.2, 0.65))
    assert path.to_stow == pytest.approx(np.hypot(1.2, 0.65) - np.hypot(1.2, 0.05))
    assert path.loose_open == 0.0
    assert [each.verdict for each in checks((judge_straps(path, 1.37),))] == [Verdict.HOLDS]
    assert [each.verdict for each in checks((judge_straps(path, 1.36),))] == [Verdict.FAILS]


def test_strap_is_loose_when_open_if_the_roof_passes_a_higher_point() -> None:
    over = np.array([0.0, 0.4, 0.7, 0.6])
    path = strap_path(over, foot_y=-0.6, foot_z=0.0, head_y=0.6, head_z=0.0)
    assert path.loose_open == pytest.approx(np.hypot(1.2, 0.7) - np.hypot(1.2, 0.6))


def test_knee_stays_a_link_from_both_ends() -> None:
    path = arm_path(RISE, foot_y=-0.4, foot_z=0.0, head_y=0.2, head_z=0.1, lower=0.5, upper=0.45, knee="right")
    assert np.hypot(path.knee_y + 0.4, path.knee_z) == pytest.approx(np.full(25, 0.5))
    assert np.hypot(path.knee_y - 0.2, path.knee_z - 0.1 - RISE) == pytest.approx(np.full(25, 0.45))


def test_knee_changes_sides_as_mirror_images_about_the_line() -> None:
    left, right = (
        arm_path(RISE, foot_y=0.0, foot_z=0.0, head_y=0.0, head_z=0.2, lower=0.5, upper=0.5, knee=knee)
        for knee in ("left", "right")
    )
    assert left.knee_y == pytest.approx(-right.knee_y)
    assert np.all(left.knee_y > 0)


def test_arm_that_reaches_and_arms_that_do_not() -> None:
    open_distance = float(np.hypot(0.6, 0.7))
    whole = arm_path(RISE, foot_y=-0.4, foot_z=0.0, head_y=0.2, head_z=0.1, lower=0.47, upper=0.47, knee="left")
    assert whole.distance[-1] == pytest.approx(open_distance)
    assert [each.verdict for each in checks((judge_arm(whole),))] == [Verdict.HOLDS]
    short = arm_path(RISE, foot_y=-0.4, foot_z=0.0, head_y=0.2, head_z=0.1, lower=0.45, upper=0.45, knee="left")
    assert checks((judge_arm(short),))[0].verdict is Verdict.FAILS
    # Unlike links cannot fold shorter than their difference: closed, the ends are 0.608 apart.
    unlike = arm_path(RISE, foot_y=-0.4, foot_z=0.0, head_y=0.2, head_z=0.1, lower=0.9, upper=0.2, knee="left")
    assert checks((judge_arm(unlike),))[0].verdict is Verdict.FAILS


def test_room_when_closed() -> None:
    # 60 mm between ring and shell, a 25 mm tube beside a latch bar of 30 mm.
    between = room_between(0.025, 0.035, 0.025, floor=0.0, ceiling=0.060)
    assert between == pytest.approx(0.0125)
    beside = room_beside(0.0, 0.03, 0.025, bar_x=0.04, bar_z=0.03, bar_wide=0.03, bar_high=0.03)
    assert beside == pytest.approx(0.0125)
    assert [each.verdict for each in checks((judge_room(np.minimum(between, beside)),))] == [Verdict.HOLDS]
    under = room_beside(0.0, 0.03, 0.025, bar_x=0.02, bar_z=0.03, bar_wide=0.03, bar_high=0.03)
    assert under == pytest.approx(-0.0075)
    assert [each.verdict for each in checks((judge_room(np.minimum(between, under)),))] == [Verdict.FAILS]


def held(outer: float, across: float, clearance: float) -> list[Check]:
    tube = round_section(outer, outer - 0.003)
    length = 0.6 / across
    holds = strut_load(euler_load(70e9, tube.inertia, length), 160e6, tube.area, tube.inertia, tube.edge, length / 500)
    play = free_play([clearance, clearance], across)
    return checks(judge_hold(holds, force_along(400.0, across), sideways_share(across), play))


def test_brace_that_holds_and_braces_that_do_not() -> None:
    assert [each.verdict for each in held(0.025, 0.8, 0.001)] == [Verdict.HOLDS] * 3
    assert held(0.008, 0.8, 0.001)[0].verdict is Verdict.FAILS
    never = judge_hold(5000.0, 0.0, 0.5, 0.0)[0]
    assert never.value == pytest.approx(NEVER_BENDS), "one that is only pulled"
    assert held(0.025, 0.4, 0.001)[1].verdict is Verdict.FAILS
    assert held(0.025, 0.8, 0.008)[2].verdict is Verdict.FAILS
