from __future__ import annotations

import importlib.util
import math
import random
from itertools import combinations
from pathlib import Path
from typing import Literal

import pytest

from loftwright.core.scene import Board, Item, Measured, Person, Pivot, PoseTable, Scene, SpringShape
from loftwright.core.wording import Wording
from loftwright.drawing.elevation import SCALES, side_views
from loftwright.drawing.moving import moving_view
from loftwright.drawing.page import Circle, Drawing, Group, Line, Polygon, Rect, text_box, texts
from loftwright.drawing.scene import at_fraction, placed, spring_ends

_SPEC = importlib.util.spec_from_file_location(
    "sample_page", Path(__file__).parents[1] / "documents" / "sample_page.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

Units = Literal["metric", "imperial"]


def some_roof(seed: int) -> tuple[Scene, PoseTable]:
    """Return a roof of random size, hinged at a random end, with up to three springs."""
    r = random.Random(seed)
    length, over = r.uniform(0.5, 4), r.uniform(0, 0.15)
    heights = [r.uniform(0.08, 0.6) for _ in range(3)]
    front = r.random() < 0.5
    inward = -1 if front else 1
    hinge = (length + r.uniform(-0.02, 0.2) if front else -r.uniform(-0.02, 0.2), r.uniform(0, 0.12))
    turn = math.radians(r.uniform(10, 80)) * inward
    springs = tuple(
        SpringShape(
            f"spring {i}",
            "van",
            (hinge[0] + inward * r.uniform(0.1, 0.6) * length, -r.uniform(0, 0.15)),
            "shell",
            (hinge[0] + inward * r.uniform(0.1, 0.8) * length, r.uniform(0, 0.2)),
            r.uniform(0.1, 0.5),
        )
        for i in range(r.randrange(4))
    )
    floor = -r.uniform(0.9, 2.2)
    rear, fore = (-over, 0.01), (length + over, 0.01)
    scene = Scene(
        roof_profile=((-0.5, 0), (length / 2, r.uniform(-0.05, 0.1)), (length + 0.5, 0)),
        roof_build=0.03,
        opening=(0, length),
        upstand=0.04,
        floor_z=floor,
        shell=(rear, (-over, heights[0]), (length / 2, heights[1]), (length + over, heights[2]), fore),
        rim=(rear, fore),
        lip=rear if front else fore,
        measured=Measured(r.uniform(0, 1.5), r.uniform(1.5, 3), r.uniform(1, 3)),
        pivots=(Pivot("hinge", "van", hinge),),
        springs=springs,
        handle=r.choice([None, (r.uniform(0, length), 0.03)]),
        strap_length=r.choice([0, 0.3, 0.8]),
        items=r.choice([(), (Item("panel", "panel", length * 0.2, length * 0.5, heights[1], heights[1] + 0.04),)]),
        bed=r.choice([None, Board(length * 0.4, length * 0.9, -0.2)]),
        person=r.choice([None, Person(r.uniform(1.2, 2.2), length * r.random(), floor)]),
        headroom_at=r.choice([None, (length * r.random(), heights[1] * 0.8)]),
    )
    return scene, sample.poses(21, hinge, turn)


def assert_labels_are_clear(drawing: Drawing) -> None:
    page = Rect(-0.01, -0.01, drawing.width + 0.01, drawing.height + 0.01)
    boxes = [(text.text, text_box(text)) for text in texts(drawing.marks)]
    assert len(boxes) > 5
    for text, box in boxes:
        assert box.within(page), f"{text!r} is clipped"
    for (a, box_a), (b, box_b) in combinations(boxes, 2):
        assert not box_a.overlaps(box_b), f"{a!r} lies on {b!r}"


@pytest.mark.slow
@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("first", range(0, 80, 20))
def test_labels_never_overlap_nor_leave_the_page(units: Units, first: int) -> None:
    for seed in range(first + (units == "imperial"), first + 20, 2):
        assert_labels_are_clear(side_views(*some_roof(seed), Wording(units)))


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_labels_of_lifting_arms_are_clear_too(units: Units) -> None:
    drawing = side_views(*sample.arms_scene(), Wording(units))
    assert_labels_are_clear(drawing)
    written = [text.text for text in texts(drawing.marks)]
    for name in ("arm a, van", "arm a, shell", "arm b, van", "arm b, shell", "foot A", "head A", "foot B", "head B"):
        assert name in written


def test_dimensions_say_what_the_roof_measures() -> None:
    scene, poses = sample.scene(), sample.poses()
    written = " | ".join(text.text for text in texts(side_views(scene, poses, Wording()).marks))
    # A lip 2.36 m from a hinge that turns by 28 degrees: rise = 2.36 sin 28 - 0.035 (cos 28 - 1) = 1.112 m.
    assert "rise 1.11 m" in written
    state = at_fraction(poses, 1.0)
    for fraction in (0.0, 0.5, 1.0):
        foot, head = spring_ends(scene.springs[0], at_fraction(poses, fraction))
        assert f"spring A: {1000 * math.dist(foot, head):.0f} mm" in written
    # Measured off the drawing, the rise, headroom and handle would read the same.
    said = scene.measured
    assert said.rise == pytest.approx(placed(state.shell, scene.lip)[1] - scene.lip[1], abs=1e-4)
    assert said.headroom == pytest.approx(placed(state.shell, scene.headroom_at)[1] - scene.floor_z, abs=1e-4)
    assert said.handle_height == pytest.approx(placed(state.shell, scene.handle)[1] - scene.floor_z, abs=1e-4)
    assert f"headroom {said.headroom:.2f} m" in written
    assert f"handle {said.handle_height:.2f} m" in written
    assert "hinge to edge 70 mm" in written
    assert "foot A | 1840 mm | -45 mm" in written
    assert "strap 450 mm" in written
    assert "person 1.78 m" in written


def test_the_drawing_is_to_the_scale_it_states() -> None:
    scene, poses = sample.scene(), sample.poses()
    drawing = side_views(scene, poses, Wording())
    ratio = int(next(t.text for t in texts(drawing.marks) if "1 : " in t.text).split("1 : ")[1].split(" ")[0])
    assert ratio in SCALES
    rim = 1000 * math.dist(*scene.rim) / ratio
    rims = [math.dist(m.a, m.b) for m in drawing.marks if isinstance(m, Line) and m.pen == "rim"]
    assert rims == pytest.approx([rim] * 3)


def test_a_larger_page_never_brings_a_smaller_scale() -> None:
    scene, poses = sample.scene(), sample.poses()

    def rim(width: float, height: float) -> float:
        drawing = side_views(scene, poses, Wording(), width=width, height=height)
        return max(math.dist(m.a, m.b) for m in drawing.marks if isinstance(m, Line) and m.pen == "rim")

    assert rim(260, 140) >= rim(186, 92) >= rim(150, 80)


def test_the_drawing_describes_itself() -> None:
    drawing = side_views(sample.scene(), sample.poses(), Wording())
    assert "The lip rises by 1.11 m." in drawing.description
    assert "Spring A (lift 900)" in drawing.description


def test_the_moving_view_has_a_part_for_every_body_and_room_for_every_pose() -> None:
    scene, poses = sample.arms_scene()
    moving = moving_view(scene, poses)
    names = [mark.name for mark in moving.drawing.marks if isinstance(mark, Group)]
    for name in ("van", "shell", "arm a", "arm b", "spring 0", "spring 1", "handle"):
        assert name in names
    for fraction in poses.fraction:
        state = at_fraction(poses, fraction)
        for spot in scene.shell:
            x, y = moving.view.at(placed(state.shell, spot))
            assert 0 <= x <= moving.drawing.width
            assert 0 <= y <= moving.drawing.height


def test_a_person_is_as_tall_as_said() -> None:
    scene, poses = sample.scene(), sample.poses()
    moving = moving_view(scene, poses)
    van = next(mark for mark in moving.drawing.marks if isinstance(mark, Group) and mark.name == "van")
    head = next(mark for mark in van.marks if isinstance(mark, Circle) and mark.pen == "person")
    body = next(mark for mark in van.marks if isinstance(mark, Polygon) and mark.pen == "person")
    tall = (max(y for _, y in body.points) - (head.centre[1] - head.r)) / moving.view.scale
    assert tall == pytest.approx(1.78)
