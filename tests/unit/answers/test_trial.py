"""The roof while it is moved: the very numbers of the full answer, and figures worked out by hand."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from loftwright.answers.chart_view import curve_of, shown
from loftwright.answers.judged_roof import RoofNumbers, judged_roof
from loftwright.answers.trial import trial
from loftwright.answers.views import roof_page
from loftwright.core.board_views import Trial
from loftwright.core.errors import CannotAssemble
from loftwright.core.motion import first_row
from loftwright.core.views import Curve, RoofPage
from loftwright.core.wording import Wording
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import edited, loads

GUIDES = """kind = "guides"
rise = "0.4 m"
guide = ["1.9 m", "-0.2 m"]
guide_length = "0.4 m"
guide_friction = "0.1"
"""
# Hinge, spring ends, lip and handle all lie at one height, so that every length is a side of a triangle at the hinge.
LID = """format = 1
name = "lid"
[settings]
draws = 50
[person]
height = "1.7 m"
reach = "2.1 m"
stands_on_height = "100 mm"
[van]
floor_to_roof = "1.4 m"
roof_build = "20 mm"
[opening]
length = "2.0 m"
width = "1.2 m"
[shell]
length = "2.1 m"
width = "1.3 m"
overhang_rear = "100 mm"
rim_height = "10 mm"
height_rear = "200 mm"
height_middle = "200 mm"
height_front = "200 mm"
thickness = "20 mm"
mass = "45 kg"
[linkage]
kind = "hinge"
end = "front"
opens = "30 deg"
hinge = ["2.0 m", "10 mm"]
[handle]
at = ["0 mm", "10 mm"]
[[spring]]
name = "side spring"
foot = ["1.5 m", "10 mm"]
head = ["1.2 m", "10 mm"]
sideways = "40 mm"
force = "600 N"
stroke = "220 mm"
extended_length = "500 mm"
[requirements]
spring_margin = "10 mm"
"""


@cache
def tried(name: str) -> Trial:
    return trial(demo(name))


@cache
def full(name: str) -> tuple[RoofNumbers, RoofPage]:
    found = judged_roof(demo(name))
    return found.numbers, roof_page(found)


def texts(found: Trial, label: str) -> tuple[str, ...]:
    (read,) = (one for one in found.readouts if one.label == label)
    return read.texts


@pytest.mark.parametrize("name", DEMOS)
def test_the_nominal_roof_is_that_of_the_full_answer(name: str) -> None:
    found, (_, page) = tried(name), full(name)
    assert found.scene == page.scene
    assert found.poses == page.poses
    assert found.chart.x == page.chart.x
    assert found.chart.degrees == page.chart.degrees
    assert found.chart.limits == page.chart.limits
    assert len(found.chart.curves) == len(page.chart.curves)
    for ours, theirs in zip(found.chart.curves, page.chart.curves, strict=True):
        assert (ours.label, ours.kind, ours.state, ours.age) == (theirs.label, theirs.kind, theirs.state, theirs.age)
        assert ours.y == pytest.approx(theirs.y, abs=1.1e-3)


@pytest.mark.parametrize("name", DEMOS)
def test_with_all_draws_the_bands_are_those_of_the_full_answer(name: str) -> None:
    project = demo(name)
    ours = banded(trial(project, draws=project.settings.draws).chart.curves)
    theirs = banded(full(name)[1].chart.curves)
    assert list(ours) == list(theirs)
    assert len(ours) == 2
    for label, (low, high) in ours.items():
        assert low == pytest.approx(theirs[label][0], abs=2e-3)
        assert high == pytest.approx(theirs[label][1], abs=2e-3)


@pytest.mark.parametrize("name", DEMOS)
def test_with_few_draws_the_bands_lie_among_the_roofs_of_the_full_answer(name: str) -> None:
    numbers = full(name)[0]
    _, factor = Wording(numbers.project.settings.units).hand_force_unit()
    for curve in tried(name).chart.curves:
        if curve.low is None or curve.high is None:
            continue
        every = shown(curve_of(numbers.felt, (curve.kind, curve.state, curve.age))[numbers.likely]) * factor
        low, high = np.array(curve.low), np.array(curve.high)
        assert np.all(every.min(axis=0) <= low + 2e-3)
        assert np.all(low <= high)
        assert np.all(high <= every.max(axis=0) + 2e-3)
        # Wide enough to be seen for what it is: at least half as wide as with all draws, on the whole.
        whole = np.quantile(every, 0.9, axis=0) - np.quantile(every, 0.1, axis=0)
        assert 0.5 * whole.mean() < (high - low).mean() < 1.5 * whole.mean()


def banded(curves: tuple[Curve, ...]) -> dict[str, tuple[tuple[float, ...], tuple[float, ...]]]:
    return {f"{c.kind} {c.label}": (c.low, c.high) for c in curves if c.low is not None and c.high is not None}


def test_more_draws_than_the_file_asks_for_are_not_made() -> None:
    project = loads(LID)
    assert trial(project, draws=1000) == trial(project, draws=50)


def test_lip_handle_and_angle_are_those_of_a_triangle_at_the_hinge() -> None:
    found = trial(loads(LID))
    # 2.1 m and 2.0 m from the hinge, turned by 30 degrees: half of that up; feet stand 1.3 m below the roof.
    assert texts(found, "how far open")[0] == "0°"
    assert texts(found, "how far open")[-1] == "30.0°"
    assert texts(found, "lip above the roof")[0] == "10 mm"
    assert texts(found, "lip above the roof")[-1] == "1.06 m"
    assert texts(found, "handle above where you stand")[0] == "1.31 m"
    assert texts(found, "handle above where you stand")[-1] == "2.31 m"
    # Half-way in the stations is half-way in the angle.
    half = len(found.poses.fraction) // 2
    assert found.poses.fraction[half] == pytest.approx(0.5)
    assert texts(found, "lip above the roof")[half] == Wording().length(0.01 + 2.1 * math.sin(math.radians(15)))
    assert {len(read.texts) for read in found.readouts} == {len(found.poses.fraction)} == {61}


def test_headroom_of_the_closed_lid_is_floor_to_lining_and_of_the_open_one_that_of_the_full_answer() -> None:
    found = trial(loads(LID))
    # 1.4 m to the roof, 10 mm of rim and a shell of 200 mm less 20 mm of thickness.
    assert texts(found, "headroom")[0] == "1.59 m"
    assert texts(found, "headroom")[-1] == Wording().length(found.scene.measured.headroom)
    # The lining's rear corner, 2.1 m less the rear wall's 20 mm behind the hinge and 180 mm above it, still lies over
    # the opening when turned by 30 degrees, and is the highest place.
    turn = math.radians(30)
    assert 2.0 - 2.08 * math.cos(turn) + 0.18 * math.sin(turn) > 0
    top = 0.01 + 2.08 * math.sin(turn) + 0.18 * math.cos(turn)
    assert found.scene.measured.headroom == pytest.approx(1.4 + top, abs=1e-9)


def test_a_spring_is_as_long_as_the_law_of_cosines_says() -> None:
    (strip,) = trial(loads(LID)).strips
    # 0.5 m and 0.8 m from the hinge, 40 mm apart sideways.
    turns = np.radians(30.0) * np.array(strip.x) / 100
    length = np.sqrt(0.5**2 + 0.8**2 - 2 * 0.5 * 0.8 * np.cos(turns) + 0.04**2)
    assert strip.y == pytest.approx(1000 * length, abs=1e-3)
    assert (strip.name, strip.unit) == ("side spring", "mm")
    assert (strip.low, strip.high) == (280.0, 500.0)
    assert (strip.margin_low, strip.margin_high) == (290.0, 490.0)
    assert texts(trial(loads(LID)), "length of side spring")[-1] == f"{1000 * length[-1]:.0f} mm"


def test_a_spring_that_is_the_stop_needs_no_reserve_at_its_long_end() -> None:
    (strip,) = trial(loads(LID.replace("[handle]", '[stop]\nkind = "spring end"\n[handle]'))).strips
    assert (strip.margin_low, strip.margin_high) == (290.0, 500.0)


def test_a_spring_with_a_margin_of_its_own_is_shown_with_it() -> None:
    (strip,) = trial(loads(LID.replace('sideways = "40 mm"', 'sideways = "40 mm"\nend_margin = "25 mm"'))).strips
    assert (strip.margin_low, strip.margin_high) == (305.0, 475.0)


@pytest.mark.parametrize("name", DEMOS)
def test_lengths_are_those_of_the_full_answer_in_the_unit_that_people_read(name: str) -> None:
    numbers, found = full(name)[0], tried(name)
    size = {"mm": 0.001, "in": 0.0254}
    assert {strip.unit for strip in found.strips} == {"in" if name == "ottergate" else "mm"}
    for strip, spring, push in zip(found.strips, numbers.project.spring, numbers.felt.springs, strict=True):
        assert strip.x == found.chart.x
        assert np.array(strip.y) * size[strip.unit] == pytest.approx(shown(first_row(push.line.length)), abs=2e-5)
        assert strip.high * size[strip.unit] == pytest.approx(spring.extended_length.nominal, abs=2e-5)
        assert (strip.high - strip.low) * size[strip.unit] == pytest.approx(spring.stroke.nominal, abs=2e-5)


def test_what_slides_in_guides_is_open_by_a_length_and_rises_by_it() -> None:
    text = LID.replace('kind = "hinge"\n', GUIDES).replace('opens = "30 deg"\nhinge = ["2.0 m", "10 mm"]\n', "")
    found = trial(loads(text))
    assert texts(found, "how far open")[-1] == "400 mm"
    assert texts(found, "lip above the roof")[-1] == "410 mm"
    # The head lies 0.3 m behind the foot, 40 mm sideways, and rises 0.4 m.
    assert found.strips[0].y[-1] == pytest.approx(1000 * math.sqrt(0.3**2 + 0.4**2 + 0.04**2), abs=1e-3)


def test_a_roof_without_springs_has_no_strip() -> None:
    text = LID[: LID.index("[[spring]]")] + LID[LID.index("[requirements]") :]
    assert trial(loads(text)).strips == ()


def test_arms_that_do_not_reach_are_refused_as_by_the_full_answer() -> None:
    project = loads(
        edited(demo_text("ottergate"), {"linkage.arm_b_shell.x": "62 in", "linkage.arm_b_shell.z": "-3 in"})
    )
    with pytest.raises(CannotAssemble) as ours:
        trial(project)
    with pytest.raises(CannotAssemble) as theirs:
        judged_roof(project)
    assert str(ours.value) == str(theirs.value)
    assert str(ours.value).endswith(".")


def test_bands_say_from_how_many_roofs_they_are_while_these_are_few() -> None:
    project = demo("fennimoor")
    whole = trial(project, draws=project.settings.draws).chart.band_note
    assert whole == full("fennimoor")[1].chart.band_note
    assert trial(project, draws=20).chart.band_note == f"{whole}, from 20 roofs while you move it"
