"""The two lines of the walls, from the file to every row: exact constructed cases, computed here from first principles.

Perimeters from straights and quarter circles, rigid moves, and a second way through the raised roof in wind.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.answers.draws import Nominal, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.walled_lines import LinesFound, side_middles, the_lines
from loftwright.cloth.rim_places import points_at
from loftwright.cloth.rim_rules import WRONG_POINT
from loftwright.cloth.rims import SIDES
from loftwright.core.motion import Array
from loftwright.project.assemble_wind import raised
from loftwright.project.demos import DEMOS, demo
from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.strength.raised_shape import WALLS

KINDS = ("hinge front", "hinge rear", "arms", "level arms", "scissor")


def box(
    walls: str = "",
    *,
    linkage: str = 'kind = "guides"\nend = "rear"\nrise = "0.5 m"\nguide = ["0.2 m", "0 mm"]\n'
    'guide_length = "0.3 m"\nguide_friction = "0.2"\n',
    crown: str = "0 mm",
    roof: str = "",
    units: str = "metric",
    more: str = "",
    length: str = "2 m",
    width: str = "1.2 m",
    shell: str = "2.1 m",
    overhang: str = "overhang_rear",
) -> Project:
    """Return a roof of round sizes whose shell's rim is flat; both lines lie alike from above unless told else."""
    return loads(
        f'format = 1\nname = "box"\n[settings]\ndraws = 50\nunits = "{units}"\n'
        f'[roof]\ncrown = "{crown}"\ncamber = "0 mm"\n{roof}'
        f'[opening]\nlength = "{length}"\nwidth = "{width}"\n'
        f'[shell]\nlength = "{shell}"\nwidth = "1.3 m"\n{overhang} = "50 mm"\nrim_height = "10 mm"\n'
        f"[linkage]\n{linkage}"
        '[fit]\nrim_front = "0 mm"\nrim_rear = "0 mm"\nrim_sides = "0 mm"\nrim_twist = "0 mm"\n'
        'corner_radius = "150 mm"\n[cut]\ncorner_radius = "100 mm"\n'
        '[walls]\nlower_outset = "0 mm"\nlower_height = "25 mm"\nupper_inset = "50 mm"\nupper_height = "15 mm"\n'
        f"{walls}{more}"
    )


def found(project: Project, *, every: bool = False) -> tuple[LinesFound, Basis]:
    """Return the lines of the planned row, or of every row."""
    plan = Nominal(inputs_of(project))
    base, sense = basis(project, plan)
    lines = the_lines(base)
    if not every:
        return lines, base
    base = basis(project, rows(plan.inputs, plan.asked, project.settings.draws, project.settings.seed), sense)[0]
    return the_lines(base), base


def test_lines_on_a_flat_roof_have_the_lengths_of_straights_and_quarter_circles() -> None:
    lines, _ = found(box())
    # 2 (2.0 + 1.2) - (8 - 2 pi) 0.1 all round, both lines alike.
    whole = 6.4 - (8.0 - 2.0 * np.pi) * 0.1
    for loop in (lines.lower, lines.closed, lines.upper):
        assert loop.perimeter[0] == pytest.approx(whole, abs=1e-9)
    np.testing.assert_allclose(lines.lower.points[0, :, 2], 0.025, atol=1e-12)
    np.testing.assert_allclose(lines.closed.points[0, :, 2], 0.025, atol=1e-12)
    np.testing.assert_allclose(lines.skin, 0.0, atol=1e-12)
    # Guides lift straight up by half a metre.
    np.testing.assert_allclose(lines.heights[0], 0.5, atol=1e-9)
    np.testing.assert_allclose(lines.square[0], 0.5, atol=1e-9)


def test_parallel_arms_slant_the_side_walls_and_the_height_is_square_to_the_rim() -> None:
    """All of the upper line moves by one way (x, z): at the ends both are across the rim, at the sides only z is."""
    lines, _ = found(demo("larkenmoor"))
    way = (lines.upper.points - lines.closed.points)[0]
    np.testing.assert_allclose(way, np.broadcast_to(way[0], way.shape), atol=1e-9)
    shut = [points_at(loop.row(), side_middles(loop.row())) for loop in (lines.lower, lines.closed)]
    rise = shut[1][:, 2] - shut[0][:, 2] + way[0, 2]
    assert way[0, 0] > way[0, 2] > 0.3
    sides, ends = [SIDES.index(side) for side in ("right", "left")], [SIDES.index(side) for side in ("rear", "front")]
    np.testing.assert_allclose(lines.square[0, sides], rise[sides], rtol=1e-2)
    assert np.all(lines.heights[0, sides] > 1.4 * lines.square[0, sides])
    np.testing.assert_allclose(lines.square[0, ends], lines.heights[0, ends], rtol=1e-3)


def test_the_lower_line_follows_the_crown() -> None:
    lines, _ = found(box(crown="24 mm"))
    # A parabola over the opening's width: nothing off in the middle of the ends, 24 mm at the sides.
    ends = points_at(lines.lower.row(), np.array([0.0, float(lines.lower.perimeter[0]) / 2.0]))[:, 2]
    np.testing.assert_allclose(ends, 0.025, atol=1e-9)
    low = lines.lower.points[0]
    at_side = np.abs(np.abs(low[:, 1]) - 0.6) < 1e-9
    np.testing.assert_allclose(low[at_side, 2], 0.001, atol=1e-9)


def test_a_radius_that_is_not_written_is_said() -> None:
    told = found(box())[0]
    bare = found(loads(new_project(FiveAnswers("hinge front"))))[0]
    assert not any("hole saw" in one for one in told.said)
    assert any("hole saw" in one for one in bare.said)


@pytest.mark.parametrize("name", DEMOS)
def test_the_open_line_moves_rigidly_and_walls_stand_as_high_as_in_the_wind(name: str) -> None:
    lines, base = found(demo(name))
    for step in (1, 40, 111):
        apart = [
            np.linalg.norm(np.roll(p, step, axis=-2) - p, axis=-1) for p in (lines.closed.points, lines.upper.points)
        ]
        np.testing.assert_allclose(apart[0], apart[1], atol=1e-12)
    # Second way: flat walls between the rims of opening and shell.
    shape = raised(base.project, base.at, base.roof, (-1,))
    for wall in WALLS:
        a, b, c, d = (corner[0, 0] for corner in shape.corners(wall))
        flat = float(np.linalg.norm(b - a) + np.linalg.norm(c - d)) / 2.0
        # Lines lie a few centimetres above the rims and inside them.
        assert lines.heights[0, SIDES.index(wall)] == pytest.approx(flat, abs=0.08)


def test_points_beyond_the_hole_bend_the_skin_at_it_and_that_is_said() -> None:
    """A profile that drops 10 mm half a metre before the hole: what is laid through all leaves the hole."""
    spots = '["0 m", "0 mm"], ["1 m", "0 mm"], ["2 m", "0 mm"]'
    flat, bent = (box(roof=f"profile = [{spots}{more}]\n") for more in ("", ', ["2.5 m", "-10 mm"]'))
    told = [one for one in found(bent)[0].said if one.startswith("One smooth skin")]
    assert len(told) == 1
    assert not any(one.startswith("One smooth skin") for one in found(flat)[0].said)
    # Second way: least squares by hand through the four points, the plane that so few points bear.
    x, z = np.array([0.0, 1.0, 2.0, 2.5]), np.array([0.0, 0.0, 0.0, -0.010])
    off = z - np.polyval(np.polyfit(x, z, 1), x)
    assert f"{1000 * np.abs(off[:3]).max():.1f} mm" in told[0]


def test_only_drawn_rows_carry_errors_of_the_points() -> None:
    lines, base = found(box('rim_error = "3 mm"\n'), every=True)
    first = base.rows - base.project.settings.draws
    still = lines.lower.points[:first]
    np.testing.assert_array_equal(still, np.broadcast_to(still[:1], still.shape))
    off = lines.rims_only.lower.points - lines.rims_only.lower.points[:1]
    # 48 draws of about a dozen waves each: the deviation is known to some per cent.
    assert float(np.sqrt(np.mean(off[1:] ** 2))) == pytest.approx(0.003, rel=0.1)
    twice = found(box('rim_error = "6 mm"\n'), every=True)[0].rims_only.lower.points
    np.testing.assert_allclose(twice - twice[:1], 2.0 * off, atol=1e-12)


def test_a_drawn_row_has_the_same_errors_whatever_else_is_unsure() -> None:
    one, base = found(box('rim_error = "3 mm"\n'), every=True)
    # With one more unsure input there are two more rows before the draws.
    other, wider = found(
        box('rim_error = "3 mm"\n', more='ease = "4 .. 12 mm"\nlower_radius = "99 .. 101 mm"\n'), every=True
    )
    assert wider.rows > base.rows
    draws = base.project.settings.draws
    np.testing.assert_allclose(one.closed.points[-draws:], other.closed.points[-draws:], atol=1e-12)


def measured(name: str, points: Array) -> str:
    return "".join(f'\n[[{name}_point]]\nx = "{x:.6f} m"\ny = "{y:.6f} m"\nz = "{z:.6f} m"\n' for x, y, z in points)


def spots(count: int, crown: str = "20 mm") -> Array:
    loop = found(box(crown=crown))[0].lower.row()
    return points_at(loop, (np.arange(count) + 0.5) / count * float(loop.perimeter))


def test_a_line_is_fitted_to_points_that_lie_on_it() -> None:
    built = found(box(crown="20 mm"))[0]
    # The file's own roof is flat: crown and all else come from the points.
    lines = found(box(more=measured("lower", spots(40))))[0]
    assert lines.lower_fit is not None
    assert lines.upper_fit is None
    assert lines.lower.perimeter[0] == pytest.approx(built.lower.perimeter[0], abs=5e-4)
    assert float(np.abs(lines.lower_fit.off).max()) < 5e-4
    assert any("fitted to its 40 measured points" in one for one in lines.said)


def test_too_few_points_are_left_aside_and_so_are_points_on_one_line() -> None:
    plain = found(box())[0]
    few = found(box(more=measured("lower", spots(7))))[0]
    row = found(box(more=measured("upper", np.array([[0.1 * k, 0.0, 0.0] for k in range(9)]))))[0]
    for lines in (few, row):
        assert lines.lower_fit is None
        assert lines.upper_fit is None
        np.testing.assert_array_equal(lines.lower.points, plain.lower.points)
    assert any("7 measured points of the lower line are not used" in one for one in few.said)
    assert any("upper line are not used" in one for one in row.said)


def test_a_point_measured_wrong_is_named() -> None:
    good, bad = spots(24), spots(24)
    bad[5, 2] += 0.040
    verdicts = []
    for points in (good, bad):
        one = next(j for j in found(box(more=measured("lower", points)))[0].judged if j.rule is WRONG_POINT)
        assert one.value is not None
        assert one.limit is not None
        verdicts.append((WRONG_POINT.judge(float(one.value[0]), float(one.limit[0])).verdict.value, one.which))
    assert verdicts[0][0] == "holds"
    assert verdicts[1][0] == "fails"
    assert "point 6" in verdicts[1][1]


def test_points_that_move_take_the_fitted_line_with_them() -> None:
    # All x alike unsure would be one input each; here one row moves every point 5 mm up.
    text = box(more=measured("lower", spots(12)))
    plan = Nominal(inputs_of(text))
    base, _ = basis(text, plan)

    def higher(path: str) -> Array:
        value = plan(path)
        move = 0.005 if path.startswith("lower_point") and path.endswith(".z") else 0.0
        return np.array([value[0], value[0] + move])

    lines = the_lines(basis(text, higher)[0])
    rise = lines.lower.points[1] - lines.lower.points[0]
    np.testing.assert_allclose(rise, np.broadcast_to([0.0, 0.0, 0.005], rise.shape), atol=1e-6)
    assert base.rows == 1


def test_seams_stand_where_they_are_asked_for() -> None:
    straight = 1.2 / 2.0 - 0.1
    corner = 0.1 * np.pi / 2.0
    past = found(box('seam_past = "90 mm"\n'))[0].seams
    np.testing.assert_allclose(past.lower[0, 0], straight + corner + 0.09, atol=1e-9)
    middle = found(box('seams = "mid corner"\n'))[0].seams
    np.testing.assert_allclose(middle.lower[0, 0], straight + corner / 2.0, atol=1e-9)
    strip = found(box('seams = "one strip"\n'))[0].seams
    assert strip.names == ("rear middle",)
    split = found(box("split_sides = true\n"))[0].seams
    assert len(split.panels) == 6
    given = found(box(more='[[seam]]\nat = "1 m"\n[[seam]]\nat = "4 m"\n'))[0].seams
    np.testing.assert_allclose(given.lower[0], [1.0, 4.0], atol=1e-9)


def test_seams_for_which_there_is_no_room_go_to_the_corners_and_that_is_said() -> None:
    fits = found(box('seam_past = "600 mm"\n'))[0]
    assert "past the rear right corner" in fits.seams.names
    # A straight of 0.8 m has no room for 0.6 m from either end.
    short = box('seam_past = "600 mm"\n', length="1 m")
    far = found(short)[0]
    assert far.seams.names == ("rear right corner", "front right corner", "front left corner", "rear left corner")
    assert any("no room for a seam" in one for one in far.said)


def test_unsure_seams_move_along_both_lines() -> None:
    lines, base = found(box('seam_past = "70 .. 100 mm"\n'), every=True)
    assert lines.seams.lower.shape == (base.rows, 4)
    assert np.ptp(lines.seams.lower[:, 0]) > 0.02
    # Behind the rear right corner farther on, before the front right one farther back.
    both = lines.seams.lower[:, 0] + lines.seams.lower[:, 1]
    first = base.rows - base.project.settings.draws
    np.testing.assert_allclose(both[:first], both[0], atol=1e-9)


@pytest.mark.parametrize("lifts", KINDS)
def test_every_kind_of_new_roof_has_lines_in_every_row(lifts: str) -> None:
    lines, base = found(loads(new_project(FiveAnswers(lifts))), every=True)
    assert lines.heights.shape == (base.rows, 4)
    for loop in (lines.lower, lines.closed, lines.upper):
        assert loop.points.shape[0] == base.rows
        assert np.all(np.isfinite(loop.points))
        assert np.all(np.diff(loop.arc, axis=-1) > 0.0)


@pytest.mark.parametrize(("units", "out", "inside"), [("metric", "10 mm", "20 mm"), ("imperial", "3/8 in", "13/16 in")])
def test_lines_that_cross_are_told_in_the_units_of_the_file(units: str, out: str, inside: str) -> None:
    """A shell 2.08 by 1.3 m, 50 mm beyond the rear edge; 50 mm inside its rim the line is 20 mm short at the front.

    The opening is 1.18 m wide: there the line stands 10 mm out. In inches to the sixteenth (computed here).
    """
    text = box(units=units, width="1.18 m", shell="2.08 m")
    (told,) = (one for one in found(text)[0].said if one.startswith("Seen from above"))
    assert f"lies {out} outside at the" in told
    assert f"{inside} inside at the front" in told
    assert not any("cross" in one for one in found(box(units=units))[0].said)


def test_hinged_at_a_side_both_ends_stand_alike() -> None:
    hinge = 'kind = "hinge"\nend = "left"\nopens = "25 deg"\nhinge = ["-45 mm", "35 mm"]\n'
    lines, _ = found(box(linkage=hinge, overhang="overhang_left"))
    heights = dict(zip(SIDES, lines.heights[0], strict=True))
    assert heights["rear"] == pytest.approx(heights["front"], abs=1e-9)
    assert heights["right"] > 0.4 > 0.08 > heights["left"]
    assert any("left wall is only" in one for one in lines.said)
