"""Where the cloth goes, from the file to the judgements: constructed cases, computed here from first principles.

Depths follow from the geometry of the hinge; trends and limits from what the words of the file mean.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from loftwright.answers.draws import Nominal
from loftwright.answers.fold_found import PlaceFound
from loftwright.answers.fold_job import fold_job, read_fold, work_fold
from loftwright.answers.fold_quick import SURE_PULL
from loftwright.answers.fold_reach import hang_below
from loftwright.answers.held_basis import basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptWalls
from loftwright.answers.walled_fold import the_fold
from loftwright.answers.walled_lines import the_lines
from loftwright.answers.walled_panels import the_panels
from loftwright.answers.walled_windows import the_windows
from loftwright.cloth.fold import quick_depth
from loftwright.cloth.fold_rules import AIR, BUNDLE, CORNER, HANG, INWARD, PUSH, TIP
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.quantities import parse
from loftwright.core.units import Dimension
from loftwright.project.demos import DEMOS, demo
from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project

from .fold_roofs import CANVAS, CORDS, FLEECE, Worked, falls, roof, worked


@pytest.fixture(scope="module")
def plain() -> Worked:
    return worked(roof(**CORDS))


def check(found: Worked, rule: Rule, which: str = "") -> Check:
    (one,) = (j for j in found.fold.judged if j.rule is rule and which in ("", j.which.partition(", bed")[0]))
    return decide(one, found.rows, found.base.roof.possible)


def tip(found: Worked, wall: str) -> float:
    (one,) = (place for place in found.fold.places if place.at.name == f"{wall} wall")
    return float(one.tip[0])


def kept(way: str, project: Any, depth: float = 0.2) -> KeptWalls:
    """Return the slow answer of a stand-in for the chain."""
    return KeptWalls(read_fold(work_fold(fold_job(project), run=falls(way, depth))), "fresh")


def test_the_hinge_decides_how_high_each_wall_stands(plain: Worked) -> None:
    """Rigid turn about the hinge at (2.05, 0.05): the rear middle of the upper line from (0, 0.07) by 25 degrees."""
    turn = math.radians(25.0)
    x = 2.05 - 2.05 * math.cos(turn) + 0.02 * math.sin(turn)
    z = 0.05 + 2.05 * math.sin(turn) + 0.02 * math.cos(turn)
    rear = next(place for place in plain.fold.places if place.at.wall == "rear")
    assert float(rear.at.height[0]) == pytest.approx(math.hypot(x, z - 0.01), abs=2e-4)
    assert float(rear.at.gap[0]) == pytest.approx(0.06, abs=1e-6)
    assert float(rear.at.over[0]) == pytest.approx(0.0, abs=1e-6)
    assert float(rear.at.cloth[0] - rear.at.height[0]) == pytest.approx(0.008)
    assert rear.at.section.height == pytest.approx(float(rear.at.height[0]), abs=3e-4)
    low, high = quick_depth(rear.at.cloth[0], rear.at.gap[0])
    assert float(rear.tip[0]) == pytest.approx(float(low + high) / 2.0)
    names = [place.at.name for place in plain.fold.places]
    sides = ["right wall, high end", "right wall", "front wall", "left wall", "left wall, high end"]
    assert names == ["rear wall", *sides]
    low = worked(roof(opens="3 deg")).fold
    assert [one.wall for one in low.flat] == ["front"]


def test_each_place_owns_the_line_half_way_to_its_neighbours(plain: Worked) -> None:
    """On a 2 by 1.2 m rectangle: four middles a quarter of the line apart, the high ends 0.35 of 1.7 m off theirs.

    A straight of 1.7 m between corners of 150 mm is looked at 15 % from its end: 0.595 m from its middle.
    """
    around = float(plain.fold.perimeter[0])
    assert around == pytest.approx(6.4 - (8 - 2 * math.pi) * 0.15, abs=1e-3)
    off, quarter = 0.35 * 1.7, around / 4
    high, side = quarter / 2, (quarter + off) / 2
    assert plain.fold.lengths == pytest.approx([quarter - off, high, side, quarter, side, high], abs=2e-3)
    assert sum(plain.fold.lengths) == pytest.approx(around)


def test_a_deep_clear_inside_holds_and_a_bed_right_below_does_not(plain: Worked) -> None:
    assert check(plain, TIP, "rear wall").verdict is Verdict.HOLDS
    close = worked(roof(depth="300 mm, measured"))
    assert check(close, TIP, "rear wall").verdict is Verdict.FAILS
    assert check(close, TIP, "right wall").verdict is Verdict.HOLDS


def test_two_folds_reach_in_half_as_far(plain: Worked) -> None:
    """The rule of thumb over the number of folds."""
    two = worked(roof(hold_middle=True))
    assert tip(two, "rear") == pytest.approx(tip(plain, "rear") / 2.0)


def test_thin_canvas_fits_where_a_thick_wall_does_not() -> None:
    """The cavity's own figures: 40 mm of bending length loops 28 to 38 mm high; quilted fleece far higher."""
    thin = worked(roof(cavity="45 mm, measured"))
    assert check(thin, BUNDLE, "rear wall").verdict is Verdict.HOLDS
    thick = worked(roof(layers=CANVAS + FLEECE, cavity="12 mm, measured", quilted=True))
    assert check(thick, BUNDLE, "rear wall").verdict is Verdict.FAILS
    assert check(thin, PUSH, "rear wall").verdict is Verdict.HOLDS
    assert check(thick, PUSH, "rear wall").verdict is Verdict.FAILS


def test_corners_pile_up_higher_than_straight_walls() -> None:
    wide = worked(roof(cavity="150 mm, measured"))
    assert check(wide, CORNER).verdict is Verdict.HOLDS
    tight = worked(roof(layers=CANVAS + FLEECE, cavity="20 mm, measured"))
    assert check(tight, CORNER).verdict is Verdict.FAILS
    corner = tight.fold.corner
    assert corner is not None
    middle = float(corner.low[0] + corner.high[0]) / 2.0
    assert middle > float(next(one.thick[0] for one in tight.fold.places if one.thick is not None))
    between = worked(roof(layers=CANVAS + FLEECE, cavity=f"{1000 * middle + 1:.1f} mm, measured"))
    found = check(between, CORNER)
    assert found.verdict is Verdict.NOT_KNOWN
    assert found.unknown is not None
    assert "scrap cloth" in found.unknown


def test_insulation_that_ends_off_the_corners_thins_them() -> None:
    """It helps from where the folds no longer cross, depth less radius, and not before."""
    first = worked(roof(layers=CANVAS + FLEECE)).fold.corner
    assert first is not None
    past = float(first.depth[0]) - 0.15

    def high(short: float) -> float:
        layers = CANVAS + FLEECE + f'stops_short = "{1000 * short:.0f} mm"\n'
        corner = worked(roof(layers=layers)).fold.corner
        assert corner is not None
        return float(corner.high[0])

    assert high(past - 0.02) == pytest.approx(float(first.high[0]))
    assert high(past + 0.02) < float(first.high[0])


def test_removable_layers_are_not_in_the_fold() -> None:
    removed = worked(roof(layers=CANVAS + FLEECE + "removable = true\n"))
    single = worked(roof())
    assert removed.fold.layers is not None
    assert removed.fold.layers.names == ("canvas",)
    assert tip(removed, "rear") == tip(single, "rear")
    assert any("fleece" in sentence for sentence in removed.fold.said)


def test_more_layers_never_shrink_the_bundle() -> None:
    thin, thick = (worked(roof(layers=layers)).fold for layers in (CANVAS, CANVAS + FLEECE))
    for one, other in zip(thin.places, thick.places, strict=True):
        assert one.thick is not None
        assert other.thick is not None
        assert float(other.thick[0]) >= float(one.thick[0])
    assert thin.corner is not None
    assert thick.corner is not None
    assert np.all(thick.corner.high[0] >= thin.corner.high[0])


def test_a_bar_further_back_never_takes_room_away() -> None:
    rooms = []
    for bar in ("30 mm", "250 mm", "560 mm"):
        rear = worked(roof(bar_in=f"{bar}, measured", bar_below="30 mm, measured")).fold.places[0]
        assert rear.room is not None
        rooms.append(float(rear.room[0]))
    assert rooms == sorted(rooms)
    # Underside 30 mm below an upper line that lies 60 mm above the lower one; then the whole cavity.
    assert rooms == pytest.approx([0.03, 0.03, 0.06])


def place(found: Worked, name: str) -> PlaceFound:
    return next(one for one in found.fold.places if one.at.name == name)


def test_what_hangs_below_the_ring_does_not_make_the_room_above_it_higher() -> None:
    """Room for the bundle is the cavity, whatever lies below; a bar past the ring's top has that room beneath it."""
    rooms = []
    for keys in (
        {"drop": "300 mm, measured"},
        {"drop": "0 mm, measured"},
        {"drop": "300 mm, measured", "bar_in": "60 mm, measured", "bar_below": "30 mm, measured"},
        {"drop": "0 mm, measured", "bar_in": "60 mm, measured", "bar_below": "30 mm, measured"},
    ):
        rear = worked(roof(**keys)).fold.places[0]
        assert rear.room is not None
        rooms.append(float(rear.room[0]))
    assert rooms == pytest.approx([0.06, 0.06, 0.06, 0.03])


def test_the_quick_hang_goes_from_a_full_ledge_to_a_taut_loop() -> None:
    """The rear wall's cloth goes over the ring's edge, down and up again: b + 2 h + sqrt(b2 + g2) is its length."""
    rear = place(worked(roof(drop="600 mm, measured")), "rear wall")
    low, high = (float(end[0]) for end in rear.reach.hang)
    assert low == 0.0
    assert 0.02 + 2 * high + math.hypot(0.02, 0.06) == pytest.approx(float(rear.at.cloth[0]))
    # It need reach in no further than the ring's top then, and at most as on a level.
    assert float(rear.reach.depth[0][0]) == pytest.approx(0.02)
    assert float(rear.reach.depth[1][0]) == pytest.approx((float(rear.at.cloth[0]) - 0.06) / 2 + 0.025)


def test_a_bed_far_below_is_clear_of_the_hanging_cloth_and_one_near_is_not_known() -> None:
    deep = worked(roof(drop="600 mm, measured"))
    assert check(deep, HANG, "rear wall").verdict is Verdict.HOLDS
    near = worked(roof(drop="200 mm, measured"))
    found = check(near, HANG, "rear wall")
    assert found.verdict is Verdict.NOT_KNOWN
    assert found.unknown == "work out the fold"
    # Boards level with the ring carry the cloth: nothing hangs.
    level = worked(roof(drop="0 mm, measured"))
    assert check(level, HANG, "rear wall").verdict is Verdict.HOLDS
    assert float(place(level, "rear wall").reach.hang[1][0]) == 0.0


def hung(project: Project, lowest: float) -> KeptWalls:
    """Return a slow answer whose cloth hangs from the ring's top by `lowest` [m] at every start."""
    full = kept("in", project)
    end = ((0.0, 0.0), (0.03, 0.01), (0.1, -lowest), (0.05, 0.02), (0.0, 0.06))
    return KeptWalls(tuple(replace(one, ends=(end,) * len(one.ends)) for one in full.fold), "fresh")


def test_a_worked_out_fold_hangs_as_low_as_its_cloth_lies() -> None:
    """213 mm below the ring is clear of a bed 300 mm below; cloth within 5 mm of a bed lies on it."""
    project = roof(drop="300 mm, measured")
    found = worked(project, hung(project, 0.213))
    assert [float(end[0]) for end in place(found, "rear wall").reach.hang] == pytest.approx([0.213, 0.213])
    holds = check(found, HANG, "rear wall")
    assert holds.verdict is Verdict.HOLDS
    assert holds.value == pytest.approx(0.213)
    lying = worked(project, hung(project, 0.298))
    assert check(lying, HANG, "rear wall").verdict is Verdict.FAILS
    assert place(lying, "rear wall").reach.lies


def test_cloth_that_falls_outside_does_not_hang_in_the_van() -> None:
    assert hang_below(((0.0, 0.0), (-0.2, -0.03), (0.0, 0.06))) == 0.0
    assert hang_below(((0.0, 0.0), (0.2, -0.03), (0.0, 0.06))) == 0.03


def test_both_ends_of_the_worked_out_depth_are_kept_and_the_greater_is_judged() -> None:
    """Of 24 stand-ins the shallowest reaches in 201 mm, the deepest 224 mm; 10 mm off what stands inside are wanted."""
    project = roof(depth="230 mm, measured")
    found = worked(project, kept("in", project))
    assert [float(end[0]) for end in place(found, "rear wall").reach.depth] == pytest.approx([0.201, 0.224], abs=2e-4)
    assert check(found, TIP, "rear wall").verdict is Verdict.FAILS
    wider = roof(depth="240 mm, measured")
    assert check(worked(wider, kept("in", wider)), TIP, "rear wall").verdict is Verdict.HOLDS


def test_a_quick_depth_is_not_known_where_only_a_hanging_fold_is_clear() -> None:
    """On a level it would reach in by about 450 mm, hanging from the ring's top hardly beyond it."""
    hanging = worked(roof(depth="300 mm, measured", drop="600 mm, measured"))
    assert check(hanging, TIP, "rear wall").verdict is Verdict.NOT_KNOWN
    level = worked(roof(depth="300 mm, measured", drop="0 mm, measured"))
    assert check(level, TIP, "rear wall").verdict is Verdict.FAILS


def test_side_walls_are_looked_at_near_their_high_end(plain: Worked) -> None:
    """A turn by 25 degrees lifts a point r from the hinge by r sin 25: 15 % of the straight past the rear corner.

    The straight of the lower line runs from 150 mm to 1850 mm; the hinge stands at 2.05 m, 40 mm over the line.
    """
    middle, high = place(plain, "right wall"), place(plain, "right wall, high end")
    turn = math.radians(25.0)
    for one, x in ((middle, 1.0), (high, 0.15 + 0.15 * 1.7)):
        z = 0.04 + (2.05 - x) * math.sin(turn) + 0.02 * math.cos(turn)
        assert float(one.at.height[0]) == pytest.approx(z, abs=1e-3)
    assert high.at.arc == pytest.approx(middle.at.arc - 0.35 * 1.7, abs=2e-3)
    assert tip(plain, "right") < float(high.tip[0])
    assert high.at.section.height == pytest.approx(float(high.at.height[0]), abs=1e-3)
    close = worked(roof(depth="330 mm, measured"))
    assert check(close, TIP, "right wall").verdict is Verdict.HOLDS
    assert check(close, TIP, "right wall, high end").verdict is Verdict.FAILS


def test_walls_of_a_roof_that_stays_level_have_no_high_end() -> None:
    """On parallel arms and a scissor every wall stands as high at its ends as in its middle."""
    for lifts in ("level arms", "scissor"):
        found = worked(loads(new_project(FiveAnswers(lifts=lifts)), "new.toml"))
        names = [one.at.name for one in found.fold.places] + [one.name for one in found.fold.flat]
        assert not any("high end" in name for name in names)


@pytest.fixture(scope="module")
def arms() -> Worked:
    return worked(demo("larkenmoor"))


def test_a_wall_along_which_the_shell_runs_is_not_known(arms: Worked) -> None:
    """Parallel arms 0.85 m long carry the shell 0.47 m along a side wall that stands 0.41 m high.

    The depth lies between that of a fold square to the rim and half of the cloth's own slanted line.
    """
    right = place(arms, "right wall")
    assert right.at.drift == pytest.approx(0.473, abs=2e-3)
    assert right.at.sheared
    low, high = (float(end[0]) for end in right.reach.depth)
    slant = math.hypot(float(right.at.height[0]), right.at.drift) + 0.01
    assert high == pytest.approx((slant - float(right.at.gap[0])) / 2 + 0.025, abs=5e-3)
    assert low < high
    for rule in (INWARD, TIP):
        found = check(arms, rule, "right wall")
        assert found.verdict is Verdict.NOT_KNOWN
        assert "try it in cheap cloth" in (found.unknown or "")
    assert not place(arms, "rear wall").at.sheared
    hinged = worked(roof())
    assert not any(one.at.sheared for one in hinged.fold.places)


def test_a_worked_out_fold_does_not_settle_a_wall_that_shears(arms: Worked) -> None:
    project = demo("larkenmoor")
    found = worked(project, kept("in", project))
    right = place(found, "right wall")
    assert check(found, INWARD, "right wall").verdict is Verdict.NOT_KNOWN
    assert check(found, INWARD, "rear wall").verdict is Verdict.HOLDS
    assert float(right.reach.depth[1][0]) == pytest.approx(float(place(arms, "right wall").reach.depth[1][0]))
    # What is not known may crowd the corners at its greatest, and is not told as the deepest that is known.
    assert found.fold.corner is not None
    assert float(found.fold.corner.depth[0]) == pytest.approx(float(right.reach.depth[1][0]), rel=0.01)
    assert found.fold.deepest is not None
    assert not found.fold.deepest.at.sheared


def test_a_wall_that_leans_outward_is_expected_outside_unless_drawn_in(arms: Worked) -> None:
    """The arms carry the shell forward: the front wall leans out, the rear wall in."""
    front = place(arms, "front wall")
    assert front.falls_out
    assert not place(arms, "rear wall").falls_out
    assert "leans outward" in (check(arms, INWARD, "front wall").unknown or "")
    deepest = arms.fold.deepest
    assert deepest is not None
    assert deepest is not front
    cords = arms.project.model_copy(update={"stow": arms.project.stow.model_copy(update={"pull": "cords"})})
    assert not place(worked(cords), "front wall").falls_out


def test_a_slight_lean_outward_leaves_the_way_to_chance() -> None:
    """An upper line 16 mm outside of side walls half a metre high leans by 0.03, one 50 mm outside by 0.1."""
    for inset, falls_out in (("34 mm", False), ("0 mm", True)):
        text = loads_with_inset(inset)
        assert place(worked(text), "right wall").falls_out is falls_out


def loads_with_inset(inset: str) -> Project:
    """Return the plain roof with its upper line so far within the shell, 50 mm of which puts it over the lower one."""
    project = roof()
    walls = project.walls.model_copy(update={"upper_inset": parse(inset, Dimension.LENGTH, unknown=None)})
    return project.model_copy(update={"walls": walls})


LAKE = (
    '[[window]]\nname = "lake"\nwall = "right"\nalong = "ALONG"\nbottom = "350 mm"\nwidth = "150 mm"\n'
    'height = "60 mm"\ncorner_radius = "20 mm"\nfilm_bends = "30 mm, measured"\n'
)


def test_windows_are_held_against_the_crease_at_their_own_place() -> None:
    """A side wall is not everywhere as high as in its middle, and so creases half-way up at another height.

    The open upper edge of a side is a straight line at 25 degrees: over the lower line, 10 mm up, it stands
    0.04 + 0.02 cos 25 + (2.05 + 0.02 sin 25 - x) tan 25 [m] at x, and 8 mm of ease come on top. Margins are 40 mm.
    """
    turn = math.radians(25.0)

    def high(x: float) -> float:
        return 0.04 + 0.02 * math.cos(turn) + (2.05 + 0.02 * math.sin(turn) - x) * math.tan(turn) + 0.008

    # Seen from outside, the right wall's left is the rear: to the left it is higher.
    (rear,) = worked(roof(more=LAKE.replace("ALONG", "-500 mm"))).fold.panes
    (middle,) = worked(roof(more=LAKE.replace("ALONG", "0 mm"))).fold.panes
    assert 0.31 / rear.low == pytest.approx(high(0.425), abs=3e-3)
    assert 0.45 / rear.high == pytest.approx(high(0.575), abs=3e-3)
    assert rear.low < 0.5 < rear.high
    assert middle.low > 0.5


@pytest.mark.parametrize("along", ["-500 mm", "0 mm", "300 mm"])
def test_the_card_and_the_windows_agree_on_the_crease(along: str) -> None:
    """Two ways to the same: the wall's height in space over the window, and that of the flat panel there."""
    project = roof(more=LAKE.replace("ALONG", along))
    base = basis(project, Nominal(inputs_of(project)))[0]
    lines = the_lines(base)
    panels = the_panels(base, lines)
    (flat,) = the_windows(base, lines, panels, 0.01).windows
    (pane,) = the_fold(base, lines, panels, NOTHING_KEPT).panes
    assert (pane.low < 0.5 < pane.high) is (flat.crease < 0.0)


def test_which_way_is_not_known_without_a_pull_and_sure_with_a_strong_one(plain: Worked) -> None:
    """3 N/m against a wall of 0.35 kg/m2 and about 0.93 m: 3.2 N/m of weight."""
    none = worked(roof())
    assert check(none, INWARD, "rear wall").verdict is Verdict.NOT_KNOWN
    assert "work out the fold" in (check(none, INWARD, "rear wall").unknown or "")
    assert check(plain, INWARD, "rear wall").verdict is Verdict.HOLDS
    weak = worked(roof(pull="cords", pull_force=f"{SURE_PULL * 3.0:.2f} N/m, measured"))
    assert check(weak, INWARD, "rear wall").verdict is Verdict.NOT_KNOWN
    assert check(weak, INWARD, "right wall").verdict is Verdict.HOLDS
    loop = worked(roof(pull="elastic", pull_force="10 N/m, measured"))
    assert check(loop, INWARD, "rear wall").verdict is Verdict.NOT_KNOWN
    assert any("corners only" in sentence for sentence in loop.fold.said)


def test_shut_doors_blow_the_cloth_out_and_an_open_one_does_not(plain: Worked) -> None:
    assert check(plain, AIR).verdict is Verdict.HOLDS
    shut = worked(roof(vent="0 m2, measured", seconds="2 s", **CORDS))
    assert check(shut, AIR).verdict is Verdict.FAILS
    assert check(shut, INWARD, "rear wall").verdict is Verdict.NOT_KNOWN
    air = shut.fold.air
    # A shell that turns by 25 degrees about its front end: half of R2 sin over the width, a little more for its height.
    assert float(air.volume[0]) == pytest.approx(0.5 * 2.05**2 * math.radians(25) * 1.2, rel=0.08)
    assert float(air.seconds[0]) > 2.0
    assert float(air.area[0]) > float(shut.fold.lower.area[0])
    assert air.door is not None
    fan = worked(roof(vent="0 m2, measured", seconds="2 s", fan="2900", **CORDS)).fold.air
    assert float(fan.pressure[0]) < float(air.pressure[0])


def test_without_a_layer_only_what_hangs_on_it_waits() -> None:
    bare = worked(roof(layers=""))
    assert check(bare, TIP, "rear wall").verdict is Verdict.HOLDS
    for rule, which in ((INWARD, "rear wall"), (BUNDLE, "rear wall"), (PUSH, "rear wall"), (CORNER, "")):
        found = check(bare, rule, which)
        assert found.verdict is Verdict.NOT_KNOWN
        assert "[[layer]]" in (found.unknown or "")
    assert bare.fold.jobs == ()


def test_a_fresh_slow_answer_replaces_the_quick_one() -> None:
    project = roof()
    inside, outside, turns = (worked(project, kept(way, project)) for way in ("in", "out", "by turns"))
    # 24 starts with seeds 1 to 24: the deepest reaches 0.224 m.
    assert tip(inside, "rear") == pytest.approx(0.224, abs=2e-4)
    assert check(inside, INWARD, "rear wall").verdict is Verdict.HOLDS
    assert check(outside, INWARD, "rear wall").verdict is Verdict.FAILS
    mixed = check(turns, INWARD, "rear wall")
    assert mixed.verdict is Verdict.FAILS
    assert mixed.value == 0.5
    rear = inside.fold.places[0]
    quick = worked(project).fold.places[0]
    assert rear.tip / rear.tip[0] == pytest.approx(quick.tip / quick.tip[0])
    assert rear.push is not None
    assert float(rear.push[0]) == pytest.approx(1.0)


def test_a_stale_one_and_one_stopped_early_decide_nothing() -> None:
    project = roof()
    full = kept("in", project)
    stale = worked(project, KeptWalls(full.fold, "stale"))
    assert tip(stale, "rear") == tip(worked(project), "rear")
    few = tuple(read_fold(work_fold(fold_job(project), run=falls("in"), stopped=_after(7))))
    early = worked(project, KeptWalls(few, "fresh"))
    found = check(early, INWARD, "rear wall")
    assert found.verdict is Verdict.NOT_KNOWN
    assert "7 of 20" in (found.unknown or "")


def _after(count: int) -> Any:
    asked = iter(range(1000))
    return lambda: next(asked) >= count


def test_a_shell_hinged_at_the_other_end_mirrors_the_walls(plain: Worked) -> None:
    other = worked(roof(end="rear", **CORDS))
    assert tip(other, "front") == pytest.approx(tip(plain, "rear"), abs=1e-4)
    assert tip(other, "rear") == pytest.approx(tip(plain, "front"), abs=1e-4)


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_is_judged_in_every_row(name: str) -> None:
    found = worked(demo(name))
    for one in found.fold.judged:
        if one.value is not None and one.limit is not None:
            assert one.value.shape == (found.rows.count,) == one.limit.shape
            assert np.all(np.isfinite(one.value))
            assert np.all(np.isfinite(one.limit))
    asked = {path for path in found.rows.columns if path.startswith("stow.")}
    assert {"stow.cavity", "stow.depth", "stow.drop", "stow.ledge", "stow.pull_force", "stow.friction"} <= asked


@pytest.mark.parametrize("lifts", ["hinge rear", "arms", "level arms", "scissor"])
def test_a_new_file_of_any_kind_is_answered(lifts: str) -> None:
    found = worked(loads(new_project(FiveAnswers(lifts=lifts)), "new.toml"))
    assert found.fold.judged
    assert all(one.value is None or np.all(np.isfinite(one.value)) for one in found.fold.judged)
