from __future__ import annotations

import importlib.util
import math
import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest

from loftwright.core.board_views import LengthStrip
from loftwright.core.choices import Units
from loftwright.core.errors import Bug
from loftwright.core.scene import PoseTable, Scene, Spot
from loftwright.core.wording import Wording
from loftwright.drawing.board_view import WIDE, BoardView, Window, board_view, needed
from loftwright.drawing.page import Circle, Drawing, Group, Line, Polygon, Rect, crosses, text_box, texts
from loftwright.drawing.scene import at_fraction, placed, spring_ends
from loftwright.drawing.strip import StripDrawing, length_strips
from loftwright.drawing.svg import svg

_SPEC = importlib.util.spec_from_file_location(
    "sample_page", Path(__file__).parents[1] / "documents" / "sample_page.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

_SPEC = importlib.util.spec_from_file_location("roofs", Path(__file__).with_name("test_elevation.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
roofs = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(roofs)

METRIC = Wording("metric")
WIDTHS = (60.0, 66.0, 88.0, 109.0, 120.0, 144.0, 180.0, 220.0)


def hinged() -> tuple[Scene, PoseTable]:
    return sample.scene(), sample.poses()


def view(width: float = 180.0, roof: tuple[Scene, PoseTable] | None = None, **more: object) -> BoardView:
    return board_view(*(roof or hinged()), METRIC, width=width, **more)  # type: ignore[arg-type]


def group(drawing: Drawing, name: str) -> Group:
    return next(m for m in drawing.marks if isinstance(m, Group) and m.name == name)


def assert_labels_are_clear(drawing: Drawing) -> None:
    page = Rect(-0.01, -0.01, drawing.width + 0.01, drawing.height + 0.01)
    boxes = [(text.text, text_box(text)) for text in texts(drawing.marks)]
    for text, box in boxes:
        assert box.within(page), f"{text!r} is clipped"
    for (a, box_a), (b, box_b) in combinations(boxes, 2):
        assert not box_a.overlaps(box_b), f"{a!r} lies on {b!r}"


def flat(spots: Iterable[Spot]) -> list[float]:
    return [v for spot in spots for v in spot]


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in texts(drawing.marks)]


# --- to scale --------------------------------------------------------------------------------------


def test_metres_become_millimetres_by_one_factor() -> None:
    scene, poses = hinged()
    found = view(200.0, window=Window(-2.0, 4.0, -2.0, 2.0))
    # 6 m on 200 mm: 100/3 mm to the metre; the origin 2 m from the left and 2 m below the top.
    s = 100 / 3
    assert found.view.scale == pytest.approx(s)
    assert (found.view.x, found.view.y) == pytest.approx((2 * s, 2 * s))
    assert (found.drawing.width, found.drawing.height) == pytest.approx((200.0, 4 * s))
    shell = group(found.drawing, "shell")
    outline = next(m for m in shell.marks if isinstance(m, Polygon))
    corners = [(shell.shift[0] + x, shell.shift[1] + y) for x, y in outline.points]
    assert flat(corners) == pytest.approx(flat((2 * s + s * x, 2 * s - s * z) for x, z in scene.shell))
    spring = group(found.drawing, "spring 0")
    ends = [m.centre for m in spring.marks if isinstance(m, Circle)]
    foot, head = spring_ends(scene.springs[0], at_fraction(poses, 0.0))
    assert flat(ends) == pytest.approx(flat((2 * s + s * x, 2 * s - s * z) for x, z in (foot, head)))
    floor = next(m for m in group(found.drawing, "van").marks if isinstance(m, Line) and m.pen == "floor")
    assert floor.a[1] == pytest.approx(2 * s - s * scene.floor_z)


def test_what_moves_has_its_group() -> None:
    roof = sample.arms_scene()
    names = {m.name for m in view(roof=roof).drawing.marks if isinstance(m, Group)}
    springs = {f"spring {i}" for i in range(len(roof[0].springs))}
    assert {"van", "ghost", "shell", "arm a", "arm b", "handle", "dimensions", *springs} <= names
    assert {"pivot van", "pivot shell"} & names


def test_closed_and_open_stay_as_ghosts() -> None:
    scene, poses = hinged()
    found = view()
    ghosts = group(found.drawing, "ghost").marks
    assert len(ghosts) == 2
    wanted = [
        found.view.at(placed(at_fraction(poses, f).shell, spot)) for f in (1.0, 0.0) for spot in (scene.shell[0],)
    ]
    assert flat(g.points[0] for g in ghosts) == pytest.approx(flat(wanted))  # type: ignore[union-attr]


def test_every_pose_is_in_the_window() -> None:
    for scene, poses in (hinged(), sample.arms_scene()):
        for width in WIDTHS:
            shown = view(width, (scene, poses)).window
            for fraction in poses.fraction:
                for spot in scene.shell:
                    x, z = placed(at_fraction(poses, fraction).shell, spot)
                    assert shown.x0 < x < shown.x1
                    assert shown.z0 < z < shown.z1
            assert shown.z0 < scene.floor_z


# --- a held scale ----------------------------------------------------------------------------------


def test_the_window_is_kept_while_the_roof_stays_inside() -> None:
    scene, poses = hinged()
    first = view()
    spring = scene.springs[0]
    moved = replace(scene, springs=(replace(spring, foot=(spring.foot[0] - 0.3, spring.foot[1] - 0.2)),))
    after = view(roof=(moved, poses), window=first.window)
    assert after.window == first.window
    assert after.view == first.view
    assert (after.drawing.width, after.drawing.height) == (first.drawing.width, first.drawing.height)


@pytest.mark.parametrize("spot", [(-2.5, 0.0), (5.0, 0.0), (1.0, 4.0), (1.0, -3.0)])
def test_the_window_grows_where_a_point_would_leave_it(spot: Spot) -> None:
    first = view()
    grown = view(window=first.window, marks=[("van", spot)])
    assert grown.window.x0 < spot[0] < grown.window.x1
    assert grown.window.z0 < spot[1] < grown.window.z1
    assert grown.view.scale < first.view.scale
    # The page does not jump: the drawing keeps its size, and its floor with the rows below.
    assert (grown.drawing.width, grown.drawing.height) == pytest.approx(
        (first.drawing.width, first.drawing.height), abs=0.01
    )
    assert grown.drawing.height - grown.view.at((0.0, hinged()[0].floor_z))[1] >= 10.6
    assert view(window=grown.window, marks=[("van", spot)]).window == grown.window


def test_a_point_on_the_shell_is_kept_in_sight_when_open() -> None:
    _, poses = hinged()
    spot = (-0.6, 0.1)
    shown = needed(*hinged(), [("shell", spot)])
    x, z = placed(at_fraction(poses, 1.0).shell, spot)
    assert shown.x0 <= min(x, spot[0])
    assert shown.z1 >= z


# --- words -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("width", WIDTHS)
def test_labels_never_overlap_nor_leave_the_page(width: float, units: Units) -> None:
    for roof in (hinged(), sample.arms_scene()):
        drawing = board_view(*roof, Wording(units), width=width).drawing
        assert_labels_are_clear(drawing)
        assert len(written(drawing)) >= 2


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("first", range(0, 80, 20))
def test_labels_of_any_roof_are_clear(first: int, units: Units) -> None:
    for seed in range(first, first + 20):
        for width in (60.0, 115.0, 180.0):
            drawing = board_view(*roofs.some_roof(seed), Wording(units), width=width).drawing
            assert_labels_are_clear(drawing)
            assert drawing.width == width


@pytest.mark.parametrize("width", WIDTHS)
def test_no_dimension_line_runs_through_a_text(width: float) -> None:
    for roof in (hinged(), sample.arms_scene()):
        drawing = view(width, roof).drawing
        lines = [m for m in group(drawing, "dimensions").marks if isinstance(m, Line)]
        upright = [m for m in lines if m.a[0] == m.b[0]]
        for text in texts(drawing.marks):
            assert not any(crosses(text_box(text), m.a, m.b) for m in upright), text.text


def test_a_wide_drawing_has_four_dimensions_and_a_narrow_one_two() -> None:
    wide, narrow = written(view(180.0).drawing), written(view(66.0).drawing)
    assert wide == ["1.00 m", "rise 1.11 m", "headroom 2.67 m", "opening 2.20 m", "handle 2.57 m"]
    assert narrow == ["1.00 m", "rise 1.11 m", "headroom 2.67 m"]
    assert view(WIDE).drawing != view(WIDE - 0.5).drawing


def test_dimensions_are_as_long_as_they_say() -> None:
    scene, poses = hinged()
    found = view(180.0)
    lines = [m for m in group(found.drawing, "dimensions").marks if isinstance(m, Line)]
    lengths = [math.dist(m.a, m.b) / found.view.scale for m in lines]
    lip = placed(at_fraction(poses, 1.0).shell, scene.lip)[1] - scene.lip[1]
    for metres in (lip, 2.20):
        assert any(length == pytest.approx(metres, abs=1e-6) for length in lengths)


def test_a_small_rise_leaves_its_text_out_and_says_the_opening_instead() -> None:
    scene, _ = hinged()
    low = sample.poses(turn=math.radians(-2.0))
    narrow = written(view(66.0, (scene, low)).drawing)
    assert not any(text.startswith("rise") for text in narrow)
    assert "opening 2.20 m" in narrow


def test_the_scale_bar_is_a_metre_long() -> None:
    found = view(180.0)
    bar = next(m for m in group(found.drawing, "dimensions").marks if isinstance(m, Polygon) and m.pen == "upstand")
    assert max(x for x, _ in bar.points) - min(x for x, _ in bar.points) == pytest.approx(found.view.scale / 2)


def test_the_same_roof_gives_the_same_text() -> None:
    assert svg(view().drawing) == svg(view().drawing)
    kept = view(window=view().window)
    assert svg(kept.drawing) == svg(view().drawing)
    assert not re.search(r"nan|inf\b", svg(kept.drawing))


# --- lengths of springs ----------------------------------------------------------------------------


def strip(name: str = "side spring", **more: object) -> LengthStrip:
    plain = LengthStrip(name, "mm", 0, (0.0, 50.0, 100.0), (400.0, 500.0, 600.0), 390.0, 640.0, 400.0, 620.0)
    return replace(plain, **more)  # type: ignore[arg-type]


def found_strips(*strips: LengthStrip, width: float = 150.0) -> StripDrawing:
    return length_strips(strips, width=width)


def test_a_length_is_drawn_where_its_panel_says() -> None:
    found = found_strips(strip())
    panel = found.panels[0]
    run = next(m for m in found.drawing.marks if getattr(m, "pen", "") == "mild")
    wanted = [(panel.x(0), panel.y(400)), (panel.x(50), panel.y(500)), (panel.x(100), panel.y(600))]
    assert flat(run.points) == pytest.approx(flat(wanted))  # type: ignore[union-attr]
    limits = [m.a[1] for m in found.drawing.marks if isinstance(m, Line) and m.pen == "limit"]
    assert sorted(limits) == pytest.approx([panel.y(640), panel.y(390)])
    shaded = [m.points for m in found.drawing.marks if isinstance(m, Polygon) and m.pen == "band-hot"]
    wanted = [(panel.y(390), panel.y(400)), (panel.y(640), panel.y(620))]
    assert flat((a[0][1], a[2][1]) for a in shaded) == pytest.approx(flat(wanted))


def test_a_length_beyond_its_limits_stays_on_the_panel() -> None:
    found = found_strips(strip(y=(300.0, 500.0, 700.0)))
    panel = found.panels[0]
    assert panel.top < panel.y(700) < panel.y(300) < panel.bottom


@pytest.mark.parametrize("width", [52.0, 76.0, 109.0, 124.0, 190.0])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_strips_stand_clear_of_each_other(width: float, count: int) -> None:
    found = found_strips(*(strip(f"spring with a rather long name {i}") for i in range(count)), width=width)
    assert len(found.panels) == count
    assert_labels_are_clear(found.drawing)
    names = {m.name for m in found.drawing.marks if isinstance(m, Group)}
    assert names == {f"marker length {i}" for i in range(count)}


def test_a_strip_that_cannot_be_drawn_is_a_bug() -> None:
    for wrong in (strip(low=700.0), strip(y=(400.0,))):
        with pytest.raises(Bug):
            found_strips(wrong)
    with pytest.raises(Bug):
        length_strips([], width=100.0)
