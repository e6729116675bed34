"""Points that can be moved: where they lie, what the file says after a move, and that it reads as it was put."""

from __future__ import annotations

import math
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loftwright.answers.grips import grips, moved, steps, tried
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.side_view import scene
from loftwright.answers.trial import trial
from loftwright.core.board_views import Grip
from loftwright.core.errors import ProjectFault
from loftwright.core.scene import Scene
from loftwright.project.demos import DEMOS, demo_text
from loftwright.project.file import edited, loads
from loftwright.project.model import Project

LID = """format = 1
name = "lid"
[settings]
units = "metric"
draws = 50
[opening]
length = "2.0 m"
width = "1.2 m"
[shell]
length = "2.1 m"
width = "1.3 m"
overhang_rear = "60 mm"
rim_height = "10 mm"
mass = "45 kg"
[[item]]
name = "panel"
kind = "panel"
mass = "5 kg"
x = "0.9 m"
z = "250 mm"
[[item]]
name = "rail"
mass = "1 kg"
x = "0.3 m"
z = "250 mm"
state = "remove"
[linkage]
kind = "hinge"
end = "front"
opens = "30 deg"
hinge = ["2.0 m", "30 mm"]
[[spring]]
name = "side spring"
foot = ["1.5 m", "-40 mm"]
head = ["1.1 m", "60 mm"]
force = "600 N"
stroke = "250 mm"
extended_length = "600 mm"
feet = [["1.45 m", "-40 mm"], ["1.5 m", "-40 mm"], ["1.55 m", "-40 mm"]]
heads = [["1.1 m", "60 mm"]]
[[coil]]
name = "helper"
foot = ["0.9 m", "-100 mm"]
head = ["1.9 m", "-50 mm"]
rate = "1 N/mm"
free_length = "0.5 m"
[[cord]]
name = "bungee"
foot = ["0.8 m", "-100 mm"]
head = ["1.8 m", "-50 mm"]
slack_length = "0.4 m"
point = [{ length = "1.0 m", force = "60 N" }]
[[zone]]
name = "ring"
on = "van"
from = ["1.3 m", "-70 mm"]
to = ["1.7 m", "-20 mm"]
[[zone]]
name = "side of the lid"
on = "shell"
from = ["0.9 m", "40 mm"]
to = ["1.3 m", "100 mm"]
"""
SIDE = """format = 1
name = "side"
[settings]
draws = 50
[opening]
length = "2.0 m"
width = "1.2 m"
[shell]
length = "2.14 m"
width = "1.33 m"
overhang_left = "60 mm"
mass = "45 kg"
[linkage]
kind = "hinge"
end = "right"
opens = "38 deg"
hinge = ["1.25 m", "30 mm"]
[[spring]]
name = "side spring"
foot = ["0.9 m", "-40 mm"]
head = ["0.6 m", "60 mm"]
force = "600 N"
stroke = "200 mm"
extended_length = "480 mm"
"""
OF_HINGE = 'kind = "hinge"\nend = "front"\nopens = "30 deg"\nhinge = ["2.0 m", "30 mm"]\n'
SCISSOR = """kind = "scissor"
end = "front"
opens = "30 deg"
arm_a_van = ["1.8 m", "-0.1 m"]
arm_a_shell = ["0.8 m", "0.1 m"]
"""
GUIDES = """kind = "guides"
end = "front"
rise = "0.4 m"
guide = ["1.9 m", "-0.2 m"]
guide_far = ["0.1 m", "-0.2 m"]
guide_length = "0.4 m"
guide_friction = "0.1"
"""
TEXTS = {
    **{name: demo_text(name) for name in DEMOS},
    "lid": LID,
    "side": SIDE,
    "scissor": LID.replace(OF_HINGE, SCISSOR),
    "guides": LID.replace(OF_HINGE, GUIDES),
}


@cache
def project(name: str) -> Project:
    return loads(TEXTS[name])


@cache
def held(name: str) -> dict[str, Grip]:
    found = {grip.path: grip for grip in grips(project(name))}
    assert len(found) == len(grips(project(name)))
    return found


@cache
def drawn(name: str) -> Scene:
    return scene(judged_roof(project(name)).numbers)


# --- which points there are ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "pins"),
    [
        ("lid", {"linkage.hinge": "hinge"}),
        ("side", {"linkage.hinge": "hinge"}),
        ("scissor", {"linkage.arm_a_van": "arm a, van", "linkage.arm_a_shell": "arm a, slide"}),
        ("guides", {"linkage.guide": "guide", "linkage.guide_far": "far guide"}),
        (
            "ottergate",
            {f"linkage.arm_{arm}_{end}": f"arm {arm}, {end}" for arm in ("a", "b") for end in ("van", "shell")},
        ),
    ],
)
def test_pivots_lie_where_the_drawing_puts_them_on_the_part_that_carries_them(name: str, pins: dict[str, str]) -> None:
    found = {path: grip for path, grip in held(name).items() if grip.kind == "pivot"}
    assert set(found) == set(pins)
    pivots = {pivot.name: pivot for pivot in drawn(name).pivots}
    for path, grip in found.items():
        assert grip.at == pytest.approx(pivots[pins[path]].at, abs=1e-12)
        assert grip.body == pivots[pins[path]].body


@pytest.mark.parametrize("name", TEXTS)
def test_spring_ends_handle_and_things_lie_where_the_drawing_puts_them(name: str) -> None:
    found, picture, there = held(name), drawn(name), project(name)
    paths = [f"{kind}.{i}" for kind in ("spring", "coil", "cord") for i in range(len(getattr(there, kind)))]
    assert len(paths) == len(picture.springs)
    for path, spring in zip(paths, picture.springs, strict=True):
        foot, head = found[f"{path}.foot"], found[f"{path}.head"]
        assert (foot.at, foot.body, head.at, head.body) == (spring.foot, spring.foot_on, spring.head, spring.head_on)
        assert spring.name in foot.label
        assert spring.name in head.label
    assert found["handle.at"].at == picture.handle
    assert found["handle.at"].body == "shell"
    things = [grip for grip in found.values() if grip.kind == "item"]
    assert [grip.label for grip in things] == [item.name for item in picture.items]
    for grip, item in zip(things, picture.items, strict=True):
        assert grip.at == pytest.approx(((item.x0 + item.x1) / 2, (item.z0 + item.z1) / 2))


def test_holes_and_zones_are_on_the_part_that_they_are_drilled_in() -> None:
    found = held("lid")
    assert {p: (g.kind, g.label, g.body, g.at) for p, g in found.items() if g.kind in ("hole", "zone")} == {
        "zone.0.from": ("zone", "corner of ring", "van", (1.3, -0.07)),
        "zone.0.to": ("zone", "opposite corner of ring", "van", (1.7, -0.02)),
        "zone.1.from": ("zone", "corner of side of the lid", "shell", (0.9, 0.04)),
        "zone.1.to": ("zone", "opposite corner of side of the lid", "shell", (1.3, 0.1)),
        "spring.0.feet.0": ("hole", "hole 1 of side spring's foot", "van", (1.45, -0.04)),
        "spring.0.feet.1": ("hole", "hole 2 of side spring's foot", "van", (1.5, -0.04)),
        "spring.0.feet.2": ("hole", "hole 3 of side spring's foot", "van", (1.55, -0.04)),
        "spring.0.heads.0": ("hole", "hole 1 of side spring's head", "shell", (1.1, 0.06)),
    }


def test_what_comes_off_the_shell_is_not_moved() -> None:
    assert "item.0" in held("lid")
    assert "item.1" not in held("lid")


def test_holes_that_cannot_be_counted_are_left_alone() -> None:
    text = LID.replace('feet = [["1.45 m", "-40 mm"]', 'feet = ["unknown"')
    paths = [grip.path for grip in grips(loads(text))]
    assert not any(path.startswith("spring.0.feet") for path in paths)
    assert "spring.0.heads.0" in paths


@pytest.mark.parametrize(
    ("written", "x_text", "note"),
    [
        ('["1.5 m", "-40 mm"]', "1.5 m", "your decision"),
        ('["1.50 m +- 3 mm", "-40 mm"]', "1.5 m +- 3 mm", "your decision"),
        ('["1.5 m, measured", "-40 mm"]', "1.5 m, measured", "measured"),
        ('["1.4 .. 1.6 m, assumed", "-40 mm, measured"]', "1.4 .. 1.6 m, assumed", "assumed"),
    ],
)
def test_a_grip_says_what_stands_in_the_file_and_how_it_is_known(written: str, x_text: str, note: str) -> None:
    found = loads(LID.replace('foot = ["1.5 m", "-40 mm"]\nhead = ["1.1', f'foot = {written}\nhead = ["1.1'))
    grip = next(grip for grip in grips(found) if grip.path == "spring.0.foot")
    assert (grip.x_text, grip.note) == (x_text, note)
    assert (grip.x_path, grip.z_path) == ("spring.0.foot.x", "spring.0.foot.z")


# --- moving them -----------------------------------------------------------------------------------


@settings(max_examples=150)
@given(st.data())
def test_a_moved_point_lies_where_it_was_put_and_the_file_still_reads(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(list(TEXTS)))
    grip = held(name)[data.draw(st.sampled_from(list(held(name))))]
    shift = st.floats(-0.03, 0.03)
    x, z = grip.at[0] + data.draw(shift), grip.at[1] + data.draw(shift)
    before = project(name)
    changes = moved(before, grip.path, x, z)
    after = loads(edited(TEXTS[name], changes))
    fine = steps(before.settings.units)[0]
    there = {one.path: one for one in grips(after)}
    assert set(there) == set(held(name))
    for found, asked, old in zip(there[grip.path].at, (x, z), grip.at, strict=True):
        assert abs(found - asked) <= fine / 2 * (1 + 1e-6)
        # On the marks of a tape, unless it stayed.
        assert found == pytest.approx(old, abs=1e-9) or found / fine == pytest.approx(round(found / fine), abs=1e-6)
    # Nothing else moves but what goes along with it.
    touched = {path.rpartition(".")[0] for path in changes}
    for path, one in there.items():
        if path not in touched:
            assert one == held(name)[path]
    # Tried without the file it is the same project.
    assert tried(before, grip.path, x, z) == after


@pytest.mark.parametrize("name", TEXTS)
def test_moving_by_nought_changes_nothing(name: str) -> None:
    for path, grip in held(name).items():
        assert moved(project(name), path, *grip.at) == {}
        assert tried(project(name), path, *grip.at) is project(name)


def test_places_are_rounded_to_the_marks_of_the_tape() -> None:
    assert moved(project("lid"), "spring.0.foot", 1.5034, -0.0406) == {
        "spring.0.foot.x": "1.503 m",
        "spring.0.foot.z": "-41 mm",
    }
    # 41 3/8 in and 0.03 m more is 42.556 in; -8 5/8 in and a sixteenth.
    x, z = held("ottergate")["spring.0.foot"].at
    assert moved(project("ottergate"), "spring.0.foot", x + 0.03, z + 0.0254 / 16) == {
        "spring.0.foot.x": "3 ft 6 9/16 in",
        "spring.0.foot.z": "-8 9/16 in",
    }


def test_an_axis_along_which_it_did_not_move_keeps_its_text() -> None:
    assert moved(project("lid"), "linkage.hinge", 2.02, 0.0304) == {"linkage.hinge.x": "2.02 m"}
    off = loads(LID.replace('["2.0 m", "30 mm"]', '["2.0 m", "30.4 mm"]'))
    # Between two marks: half a mark away is not moved, one mark further is.
    assert moved(off, "linkage.hinge", 2.0, 0.0306) == {}
    assert moved(off, "linkage.hinge", 2.0, 0.0314) == {"linkage.hinge.z": "31 mm"}


@pytest.mark.parametrize(
    ("written", "then"),
    [
        ("1.50 m", "1.52 m"),
        ("1.50 m +- 3 mm", "1.52 m +- 3 mm"),
        ("1.48 .. 1.52 m", "1.5 .. 1.54 m"),
        ("1.50 m, measured", "1.52 m"),
        ("1.50 m +- 5 mm, measured", "1.52 m"),
        ("1.50 m, label", "1.52 m"),
        ("1.50 m, suggested", "1.52 m"),
        ("1.4 .. 1.6 m, assumed", "1.52 m"),
        ("1.4 .. 1.6 m, unknown", "1.52 m"),
        ("unknown", "1.52 m"),
    ],
)
def test_what_was_planned_keeps_its_range_and_what_was_read_becomes_a_plan(written: str, then: str) -> None:
    found = loads(
        LID.replace('foot = ["1.5 m", "-40 mm"]\nhead = ["1.1', f'foot = ["{written}", "-40 mm"]\nhead = ["1.1')
    )
    assert moved(found, "spring.0.foot", 1.52, -0.04) == {"spring.0.foot.x": then}


def test_a_handle_that_was_left_out_lies_at_the_lip_and_is_written_whole() -> None:
    grip = held("lid")["handle.at"]
    assert grip.at == pytest.approx((-0.06, 0.01))
    assert (grip.x_text, grip.z_text, grip.note) == ("-60 mm", "10 mm", "left out: taken at the lip")
    changes = moved(project("lid"), "handle.at", -0.02, 0.01)
    assert changes == {"handle.at.x": "-20 mm", "handle.at.z": "10 mm"}
    after = loads(edited(LID, changes))
    grip = next(one for one in grips(after) if one.path == "handle.at")
    assert (grip.at, grip.note) == ((-0.02, 0.01), "your decision")


def test_parallel_arms_stay_parallel() -> None:
    there = project("larkenmoor")
    assert there.linkage.kind == "parallel arms"
    # The van's pins go together, the shell's too, and arm b as a whole; each by 20 mm to the cab.
    for pin, other in (("arm_a_van", "arm_b_van"), ("arm_a_shell", "arm_b_shell"), ("arm_b_van", "arm_b_shell")):
        x, z = held("larkenmoor")[f"linkage.{pin}"].at
        after = loads(edited(TEXTS["larkenmoor"], moved(there, f"linkage.{pin}", x + 0.02, z)))
        now = {one.path: one.at for one in grips(after)}
        for name in (pin, other):
            was = held("larkenmoor")[f"linkage.{name}"].at
            assert now[f"linkage.{name}"] == pytest.approx((was[0] + 0.02, was[1]))
    assert held("larkenmoor")["linkage.arm_a_van"].note == "your decision; arm b's lower pin goes along"


def test_points_of_a_roof_hinged_at_a_side_count_across_the_van() -> None:
    found = held("side")
    assert found["linkage.hinge"].at == (1.25, 0.03)
    # The lip is the left edge of the shell, which reaches 60 mm beyond the opening.
    assert found["handle.at"].at[0] == pytest.approx(-0.06)
    changes = moved(project("side"), "linkage.hinge", 1.24, 0.03)
    assert changes == {"linkage.hinge.x": "1.24 m"}
    after = loads(edited(SIDE, changes))
    assert scene(judged_roof(after).numbers).pivots[0].at == pytest.approx((1.24, 0.03))


def test_a_roof_may_be_tried_before_anything_is_written() -> None:
    before = project("lid")
    after = trial(tried(before, "spring.0.head", 1.15, 0.06))
    closed = math.hypot(1.15 - 1.5, 0.06 + 0.04)
    assert after.strips[0].y[0] == pytest.approx(1000 * closed, abs=1e-3)
    assert before.spring[0].head.x.nominal == pytest.approx(1.1)


# --- what is refused -------------------------------------------------------------------------------


@pytest.mark.parametrize("path", ["linkage.arm_a_van", "spring.7.foot", "shell", "", "spring.0.foot.x"])
def test_a_point_that_is_not_there_is_refused(path: str) -> None:
    with pytest.raises(ProjectFault, match="no point of this roof is called that"):
        moved(project("lid"), path, 1.0, 0.0)


@pytest.mark.parametrize(
    ("x", "z", "said"),
    [
        (7.0, 0.0, "Hinge, x is 7 m: must lie within -3 m to 6 m; put it nearer to the roof."),
        (2.0, -2.5, "Hinge, z is -2.5 m: must lie within -2 m to 1.5 m; put it nearer to the roof."),
        (math.nan, 0.0, "Hinge, x is no number: must lie within -3 m to 6 m; put it nearer to the roof."),
        (2.0, math.inf, "Hinge, z is no number: must lie within -2 m to 1.5 m; put it nearer to the roof."),
    ],
)
def test_a_place_that_no_file_may_hold_is_refused_in_a_sentence(x: float, z: float, said: str) -> None:
    with pytest.raises(ProjectFault) as error:
        moved(project("lid"), "linkage.hinge", x, z)
    assert str(error.value) == said


def test_what_no_file_may_say_is_refused_when_it_is_tried() -> None:
    # The hinge in the rear half of a shell that is hinged at the front.
    with pytest.raises(ProjectFault) as ours:
        tried(project("lid"), "linkage.hinge", 0.5, 0.03)
    with pytest.raises(ProjectFault) as theirs:
        loads(edited(LID, moved(project("lid"), "linkage.hinge", 0.5, 0.03)))
    assert ours.value.faults == theirs.value.faults


def test_steps_are_marks_of_the_tape() -> None:
    assert steps("metric") == (0.001, 0.01)
    assert steps("imperial") == pytest.approx((0.0254 / 16, 0.0254 / 2))
