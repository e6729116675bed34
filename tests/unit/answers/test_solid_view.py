"""The roof in three dimensions: constructed exact cases, mirror images, and agreement with the side view."""

from __future__ import annotations

import json
import math
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise

import pytest

from loftwright.answers.judged_roof import RoofNumbers, judged_roof
from loftwright.answers.side_view import scene
from loftwright.answers.solid_shapes import Sheet, bar, box, hollow, prism, slab
from loftwright.answers.solid_view import solid
from loftwright.core.solid import Part, Solid, Swing
from loftwright.core.wording import Wording
from loftwright.documents.solid_picture import solid_picture
from loftwright.project.file import loads

HEAD = """format = 1
name = "solid"
[settings]
draws = 50
[person]
height = "1.7 m"
[van]
floor_to_roof = "1.4 m"
[opening]
length = "2.0 m"
width = "1.2 m"
[shell]
length = "2.14 m"
width = "1.33 m"
height_middle = "190 mm"
thickness = "30 mm"
"""
REAR_LIP = (
    HEAD
    + """overhang_rear = "60 mm"
height_rear = "150 mm"
height_front = "110 mm"
rim_height = "12 mm"
mass = "45 kg, measured"
[[item]]
name = "panel"
kind = "panel"
mass = "9 kg"
x = "1.0 m"
z = "210 mm"
[linkage]
kind = "hinge"
end = "front"
opens = "30 deg"
hinge = ["2.05 m", "30 mm"]
spacing = "1.1 m"
[[spring]]
per_side = 2
foot = ["1.6 m", "-60 mm"]
head = ["1.2 m", "40 mm"]
place = "550 mm"
sideways = "10 mm"
force = "400 N"
stroke = "250 mm"
extended_length = "560 mm"
tube_diameter = "20 mm"
"""
)
RIGHT = (
    HEAD
    + """overhang_left = "60 mm"
rim_height = "12 mm"
height_left = "110 mm"
height_right = "150 mm"
mass = "45 kg, measured"
[linkage]
kind = "hinge"
end = "right"
opens = "38 deg"
hinge = ["1.25 m", "30 mm"]
spacing = "1.8 m"
"""
)
CROSSING = (
    HEAD
    + """overhang_rear = "60 mm"
height_rear = "150 mm"
height_front = "110 mm"
rim_height = "12 mm"
mass = "45 kg, measured"
[linkage]
kind = "scissor"
end = "front"
opens = "30 deg"
arm_a_van = ["1.8 m", "-100 mm"]
arm_a_shell = ["0.9 m", "-40 mm"]
spacing = "1.1 m"
"""
)
ROOFS = {"hinged at the front": REAR_LIP, "hinged at the right": RIGHT, "crossing arms": CROSSING}


@pytest.fixture(scope="module", params=ROOFS)
def found(request: pytest.FixtureRequest) -> RoofNumbers:
    return judged_roof(loads(ROOFS[request.param])).numbers


def volume(faces: Iterable[Sequence[tuple[float, float, float]]]) -> float:
    """Return the volume inside faces by the divergence theorem, each cut into triangles from its first corner."""
    six = 0.0
    for (ax, ay, az), *rest in faces:
        for (bx, by, bz), (cx, cy, cz) in pairwise(rest):
            six += ax * (by * cz - bz * cy) - ay * (bx * cz - bz * cx) + az * (bx * cy - by * cx)
    return six / 6


def edges(faces: Iterable[Sheet]) -> Counter[tuple[object, object]]:
    return Counter(pair for face in faces for pair in pairwise((*face, face[0])))


def is_closed(faces: Iterable[Sheet]) -> bool:
    """Whether every edge is run through exactly once each way."""
    used = edges(faces)
    return all(n == 1 and used[b, a] == 1 for (a, b), n in used.items())


def test_a_box_has_the_volume_of_its_sides() -> None:
    # Sixteenths, so that every product is exact.
    faces = box((-0.25, 1.75), (-0.5, 0.75), (0.125, 0.5))
    assert volume(faces) == 2.0 * 1.25 * 0.375
    assert is_closed(faces)
    # Whichever way round its outline is given.
    assert volume(prism(((0, 0), (0, 1), (1, 1), (1, 0)), 0.0, 1.0)) == 1.0


def test_a_hollow_lid_is_the_box_less_the_room_in_it() -> None:
    def outline(t: float) -> tuple[tuple[float, float], ...]:
        return (t, 0.0), (t, 0.5 - t), (1.0, 0.5 - t), (2.0 - t, 0.5 - t), (2.0 - t, 0.0)

    outside, inside, rim = hollow(outline(0.0), outline(0.125), 0.75, 0.625)
    whole = (*outside, *inside, *rim)
    assert volume(whole) == 2.0 * 1.5 * 0.5 - 1.75 * 1.25 * 0.375
    assert is_closed(whole)
    assert not is_closed(outside)
    # The rim looks down.
    for (ax, ay, _), (bx, by, _), (cx, cy, _), _ in rim:
        assert (bx - ax) * (cy - by) - (by - ay) * (cx - bx) < 0


def test_a_plate_with_a_hole() -> None:
    faces = slab((0.0, 0.25, 1.0, 1.5), (-0.5, -0.25, 0.25, 0.5), {(1, 1)}, lambda u: 0.0, lambda u: 0.125)
    assert volume(faces) == (1.5 * 1.0 - 0.75 * 0.5) * 0.125
    assert is_closed(faces)


def test_a_slanting_bar() -> None:
    # Along a 3-4-5 triangle, half a unit beyond each end.
    faces = bar((0.0, 0.0), (3.0, 4.0), 0.5, -0.25, 0.25, beyond=0.5)
    assert volume(faces) == pytest.approx(6.0 * 0.5 * 0.5, rel=1e-12)
    assert is_closed(faces)


def bodies(view: Solid) -> dict[str, list[Part]]:
    found: dict[str, list[Part]] = {}
    for part in view.parts:
        found.setdefault(part.name, []).append(part)
    return found


def test_every_body_but_the_floor_is_closed_and_the_right_way_out(found: RoofNumbers) -> None:
    for name, parts in bodies(solid(found)).items():
        faces = [face for part in parts for face in part.faces]
        if name == "floor":
            continue
        assert is_closed(faces), name
        assert volume(faces) > 0, name


def rounded(view: Swing, point: tuple[float, float, float], side: float) -> tuple[float, float, float]:
    u, v, z = view.out_of(point)
    return round(u, 9) + 0.0, round(side * v, 9) + 0.0, round(z, 9) + 0.0


def started(loop: list[tuple[float, float, float]]) -> tuple[tuple[float, float, float], ...]:
    """Return a loop from its least corner on, so that loops that differ only in where they start are the same."""
    least = loop.index(min(loop))
    return (*loop[least:], *loop[:least])


def test_every_face_has_its_mirror_image(found: RoofNumbers) -> None:
    view = solid(found)

    def loops(side: float) -> Counter[object]:
        # A mirror turns the other way round what it shows.
        return Counter(
            (
                part.body,
                part.tone,
                started([rounded(view.swing, p, side) for p in (face if side > 0 else reversed(face))]),
            )
            for part in view.parts
            for face in part.faces
        )

    assert loops(1.0) == loops(-1.0)

    def ends(side: float) -> Counter[object]:
        lines = [(b.body, b.tone, frozenset(rounded(view.swing, p, side) for p in (b.a, b.b))) for b in view.bars]
        springs = [
            (s.foot_on, s.head_on, *(rounded(view.swing, p, side) for p in (s.foot, s.head))) for s in view.lifters
        ]
        return Counter([*lines, *springs])

    assert ends(1.0) == ends(-1.0)


def test_the_right_side_is_the_side_view(found: RoofNumbers) -> None:
    view, seen = solid(found), scene(found)
    outside = next(part for part in view.parts if part.tone == "shell")
    placed = [[view.swing.out_of(p) for p in face] for face in outside.faces]
    furthest = min(v for face in placed for _, v, _ in face)
    (near,) = [face for face in placed if all(v == pytest.approx(furthest) for _, v, _ in face)]
    assert {(round(u, 9), round(z, 9)) for u, _, z in near} == {(round(x, 9), round(z, 9)) for x, z in seen.shell}
    assert len(near) == len(seen.shell)
    arms = {part.name for part in view.parts if part.tone == "arm"}
    assert arms == {f"{arm.body} {side}" for arm in seen.arms for side in ("left", "right")}


def test_a_project_and_its_judged_roof_are_the_same_solid(found: RoofNumbers) -> None:
    assert solid(found.project) == solid(found)


def test_the_lip_turns_by_the_opening_angle_about_the_hinge() -> None:
    view = solid(loads(REAR_LIP))
    lip = (-0.06, 0.665, 0.012)
    assert any(lip == pytest.approx(p) for part in view.parts if part.body == "shell" for f in part.faces for p in f)
    x, y, z = view.swing.moved(lip, view.poses.shell[-1])
    # Hinged at the front: the rear end goes up, that is from x towards z the other way round.
    dx, dz, turn = -0.06 - 2.05, 0.012 - 0.030, math.radians(-30)
    assert x == pytest.approx(2.05 + dx * math.cos(turn) - dz * math.sin(turn), abs=1e-9)
    assert z == pytest.approx(0.030 + dx * math.sin(turn) + dz * math.cos(turn), abs=1e-9)
    assert z > 0.9
    assert y == 0.665


def test_a_roof_hinged_at_the_right_lifts_its_left_side() -> None:
    view = solid(loads(RIGHT))
    # 1.25 m to the right of the opening's left edge, which lies 0.6 m left of the middle.
    hinges = [b for b in view.bars if b.tone == "hinge"]
    assert {round(p[1], 9) for b in hinges for p in (b.a, b.b)} == {-0.65}
    assert sorted(round((b.a[0] + b.b[0]) / 2, 9) for b in hinges) == [0.1, 1.9]
    corners = {
        tuple(round(c, 9) for c in p) for part in view.parts if part.tone == "rim" for f in part.faces for p in f
    }
    # The rim from 60 mm beyond the left edge, 1.33 m to the right; 2.14 m along, over the middle of 2 m.
    assert {(-0.07, 0.66, 0.012), (2.07, 0.66, 0.012), (-0.07, -0.67, 0.012), (2.07, -0.67, 0.012)} <= corners
    x, y, z = view.swing.moved((2.07, 0.66, 0.012), view.poses.shell[-1])
    # In the plane with y to the left and z up the left side turns from y towards z by 38 degrees.
    dy, dz, turn = 0.66 + 0.65, 0.012 - 0.030, math.radians(38)
    assert x == 2.07
    assert y == pytest.approx(-0.65 + dy * math.cos(turn) - dz * math.sin(turn), abs=1e-9)
    assert z == pytest.approx(0.030 + dy * math.sin(turn) + dz * math.cos(turn), abs=1e-9)


def test_springs_stand_side_by_side_at_their_place() -> None:
    view = solid(loads(REAR_LIP))
    # Two a side, 12 mm of air between tubes of 20 mm, their middle at 550 mm; heads 10 mm further out.
    assert sorted(round(s.foot[1], 9) for s in view.lifters) == [-0.566, -0.534, 0.534, 0.566]
    assert sorted(round(s.head[1], 9) for s in view.lifters) == [-0.576, -0.544, 0.544, 0.576]
    assert {(s.foot[0], s.foot[2]) for s in view.lifters} == {(1.6, -0.06)}


def test_the_person_stands_only_where_the_shell_is_clear_of_the_head() -> None:
    view = solid(loads(REAR_LIP))
    person = view.figure
    assert person is not None
    assert person.fits_from is not None
    # The head is 0.3 m above the roof; the skin over it is a straight line between two corners of the outline.
    x, top = person.at[0], person.at[2] + person.height
    assert (person.at[1], top) == (0.0, pytest.approx(0.3))

    def skin(pose_at: int) -> float:
        pose = view.poses.shell[pose_at]
        (ax, _, az), (bx, _, bz) = (
            view.swing.moved((u, 0.0, z), pose) for u, z in ((-0.06, 0.012 + 0.150), (1.01, 0.012 + 0.190))
        )
        return az + (bz - az) * (x - ax) / (bx - ax)

    first = view.poses.fraction.index(person.fits_from)
    assert skin(first) > top >= skin(first - 1)


def test_the_picture_is_plain_data_in_whole_millimetres(found: RoofNumbers) -> None:
    view = solid(found)
    picture = solid_picture(view, Wording("metric"), name="solid")
    assert json.loads(json.dumps(picture))["name"] == "solid"
    assert len(json.dumps(picture, separators=(",", ":"))) < 40_000
    points = picture["points"]
    for part, written in zip(view.parts, picture["parts"], strict=True):
        for face, numbers in zip(part.faces, written["faces"], strict=True):
            for corner, number in zip(face, numbers, strict=True):
                assert all(isinstance(c, int) for c in points[number])
                assert points[number] == pytest.approx([1000 * c for c in corner], abs=0.5000001)
    low, high = picture["box"]
    for part in view.parts:
        if part.body == "shell":
            for pose in (view.poses.shell[0], view.poses.shell[-1]):
                for face in part.faces:
                    for corner in face:
                        x, y, z = (1000 * c for c in view.swing.moved(corner, pose))
                        assert low[0] - 1 <= x <= high[0] + 1
                        assert low[1] - 1 <= y <= high[1] + 1
                        assert low[2] - 1 <= z <= high[2] + 1
    assert len(picture["opening"]) == 101
    says = Wording("metric")
    assert picture["opening"][0] == says.angle(0.0)
    assert picture["opening"][100] == says.angle(view.poses.opening[-1])
