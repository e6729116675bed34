"""Where the cloth goes, from the file to the judgements: constructed cases, computed here from first principles.

Depths follow from the geometry of the hinge; trends and limits from what the words of the file mean.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from loftwright.answers.fold_job import fold_job, read_fold, work_fold
from loftwright.answers.fold_quick import SURE_PULL
from loftwright.answers.judging import decide
from loftwright.answers.kept_walls import KeptWalls
from loftwright.cloth.fold import quick_depth
from loftwright.cloth.fold_rules import AIR, BUNDLE, CORNER, INWARD, PUSH, TIP
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.project.demos import DEMOS, demo
from loftwright.project.file import loads
from loftwright.project.newfile import FiveAnswers, new_project

from .fold_roofs import CANVAS, CORDS, FLEECE, Worked, falls, roof, worked


@pytest.fixture(scope="module")
def plain() -> Worked:
    return worked(roof(**CORDS))


def check(found: Worked, rule: Rule, which: str = "") -> Check:
    (one,) = (j for j in found.fold.judged if j.rule is rule and which in ("", j.which.partition(",")[0]))
    return decide(one, found.rows, found.base.roof.possible)


def tip(found: Worked, wall: str) -> float:
    (one,) = (place for place in found.fold.places if place.at.wall == wall)
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
    assert [place.at.wall for place in plain.fold.places] == ["rear", "right", "front", "left"]
    low = worked(roof(opens="3 deg")).fold
    assert [one.wall for one in low.flat] == ["front"]


def test_each_place_owns_the_line_half_way_to_its_neighbours(plain: Worked) -> None:
    """Four middles a quarter of the line apart on a 2 by 1.2 m rectangle: each owns a quarter."""
    around = float(plain.fold.perimeter[0])
    assert around == pytest.approx(6.4 - (8 - 2 * math.pi) * 0.15, abs=1e-3)
    assert plain.fold.lengths == pytest.approx([around / 4] * 4, abs=2e-3)


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


def test_loops_past_the_ledge_may_hang_down() -> None:
    """Room is the cavity, and the drop below the ring where the loop lies wholly past the ledge."""
    rooms = []
    for ledge, drop in (("20 mm", "80 mm"), ("390 mm", "80 mm"), ("20 mm", "0 mm")):
        right = worked(roof(ledge=f"{ledge}, measured", drop=f"{drop}, measured")).fold.places[1]
        assert right.room is not None
        rooms.append(float(right.room[0]))
    assert rooms == pytest.approx([0.14, 0.06, 0.06])


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
