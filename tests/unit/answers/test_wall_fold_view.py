"""The fold ready to show: constructed cases; what stands in tables and pictures is what the numbers say."""

from __future__ import annotations

import math

import pytest

from loftwright.answers.fold_job import fold_job, read_fold, work_fold
from loftwright.answers.judging import decide
from loftwright.answers.kept_walls import KeptWalls
from loftwright.answers.wall_fold_view import fold_note, fold_places, fold_section, tucking
from loftwright.core.views import Grid
from loftwright.core.wall_views import WallSection
from loftwright.core.wording import Wording
from loftwright.project.demos import demo
from loftwright.project.model import Project

from .fold_roofs import CANVAS, CORDS, FLEECE, Worked, falls, roof, worked

SAY = Wording()
WINDOW = (
    '[[window]]\nname = "harbour"\nwall = "rear"\nbottom = "350 mm"\nwidth = "500 mm"\nheight = "200 mm"\n'
    'film_bends = "30 mm, measured"\n'
)


def kept(project: Project, way: str = "in") -> KeptWalls:
    return KeptWalls(read_fold(work_fold(fold_job(project), run=falls(way))), "fresh")


@pytest.fixture(scope="module")
def quick() -> Worked:
    return worked(roof(layers=CANVAS + FLEECE, more=WINDOW))


@pytest.fixture(scope="module")
def slow() -> Worked:
    project = roof(layers=CANVAS + FLEECE, bar_in="80 mm", bar_below="10 mm", **CORDS)
    return worked(project, kept(project))


def section(found: Worked, say: Wording = SAY) -> WallSection:
    checks = tuple(decide(one, found.rows, found.base.roof.possible) for one in found.fold.judged)
    return fold_section(found.numbers(), checks, say)


def grid(found: WallSection, title: str) -> Grid:
    return next(one for one in found.grids if one.title == title)


def test_the_section_says_answer_facts_and_tables(quick: Worked) -> None:
    found = section(quick)
    assert found.says.startswith("Not known yet")
    assert "the rear wall reaches in by" in found.says
    walls = grid(found, "The fold at each wall")
    names = [row[0] for row in walls.rows]
    assert names[:3] == ["Rear wall", "Right wall, high end", "Right wall"]
    assert names[3:] == ["Front wall", "Left wall", "Left wall, high end"]
    assert all(len(row) == len(walls.headings) for row in walls.rows)
    assert {row[-1] for row in walls.rows} == {"not known yet"}
    assert len(found.rows) == len(quick.fold.judged)


def test_remedies_stand_side_by_side(quick: Worked) -> None:
    table = grid(section(quick), "What helps at the corners")
    names = [row[0] for row in table.rows]
    assert names[0] == "As it is"
    assert {"Two folds", "Removable lining", "Latch bar further back", "Insulation stopped short"} <= set(names)
    assert table.rows[0][2] == "0 mm"
    two = table.rows[names.index("Two folds")]
    assert float(two[3].split()[0]) == pytest.approx(1000 * quick.fold.corner.depth[0] / 2, abs=1.0)  # type: ignore[union-attr]


def test_air_tells_what_to_open(quick: Worked) -> None:
    table = grid(section(quick), "What to open before lowering")
    enough = [row[3] for row in table.rows]
    assert enough == sorted(enough)
    # 1.5 m2 are open and 10 s are taken: less would do.
    assert "the air does not limit how fast" in table.note
    facts = {fact.label: (fact.value, fact.note) for fact in section(quick).facts}
    assert facts["Lower it over"] == (SAY.time(10.0), "as planned; the air does not limit it")
    shut = section(worked(roof(vent="0 m2, measured", seconds="2 s", **CORDS)))
    assert "cubic metres an hour" in grid(shut, "What to open before lowering").note
    least = next(fact for fact in shut.facts if fact.label == "Lower it over")
    assert least.note.startswith("at least")


def test_the_card_opens_what_the_file_has_open(quick: Worked) -> None:
    """1.5 m2 are written, which is enough; with all shut the least that is enough is named instead."""
    assert any("with 1.50 m² free in all, as planned" in step for step in tucking(quick.numbers(), SAY))
    shut = worked(roof(vent="0 m2, measured", seconds="8 s", **CORDS))
    assert shut.fold.air.door is not None
    assert any(shut.fold.air.door.name in step for step in tucking(shut.numbers(), SAY))


def test_cloth_that_can_hang_is_not_said_to_stand() -> None:
    hanging = worked(roof(drop="600 mm, measured"))
    found = section(hanging)
    assert "stands about" not in found.says
    assert "may hang below the ring by up to about" in found.says
    rear = fold_places(hanging.numbers(), SAY)[0]
    most = SAY.short_length(float(hanging.fold.places[0].reach.hang[1][0]))
    assert rear.hang == f"up to about {most}"
    assert rear.tip.startswith("up to about ")
    lying = section(worked(roof(drop="0 mm, measured")))
    assert "stands about" in lying.says
    assert "hang" not in lying.says


def test_a_quick_depth_is_no_narrow_range(quick: Worked) -> None:
    """The trials of every build lay within 30 mm."""
    low, high = (float(part.split()[0]) for part in fold_places(quick.numbers(), SAY)[0].tip.split(" to "))
    assert high - low == pytest.approx(30.0, abs=1.1)


def test_walls_that_shear_or_lean_outward_are_not_told_to_reach_in() -> None:
    arms = worked(demo("larkenmoor"))
    places = {one.name: one for one in fold_places(arms.numbers(), SAY)}
    assert "leans outward: expect it to fall outside unless drawn in" in places["front wall"].says
    assert "reaches in" not in places["front wall"].says
    assert places["front wall"].tip == "outside, unless drawn in"
    assert "try it in cheap cloth" in places["right wall"].says
    assert "not known yet" in places["right wall"].tip


def test_the_excess_cloth_at_a_corner_is_told(quick: Worked) -> None:
    """A quarter turn of the radius and two straight ends: pi / 2 r + 2 (d - r)."""
    corner = quick.fold.corner
    assert corner is not None
    depth = float(corner.depth[0])
    fact = next(fact for fact in section(quick).facts if fact.label == "Too much cloth at a corner")
    assert fact.value == SAY.length(math.pi / 2 * 0.15 + 2 * (depth - 0.15))


def test_stiff_windows_are_said_to_be_left_out() -> None:
    project = roof(more=WINDOW, **CORDS)
    assert "harbour" in fold_note(worked(project, kept(project)).numbers(), SAY)


def test_seams_are_compared_in_the_fold(quick: Worked) -> None:
    table = grid(section(quick), "Where seams lie in the fold")
    assert [row[0] for row in table.rows] == ["mid-corner", "60 mm past the corner", "100 mm past the corner"]
    assert table.rows[0][2] == "yes"


def test_a_stiff_window_across_the_crease_is_seen_to_first(quick: Worked) -> None:
    """The crease at half of 0.95 m lies between 310 and 590 mm; 60 mm of room bends a sheet to 25 mm, it bears 30."""
    assert [one.pane.name for one in quick.fold.first] == ["harbour"]
    assert quick.fold.first[0].must
    assert any("harbour" in step for step in tucking(quick.numbers(), SAY))


def test_the_tucking_card_names_walls_whose_way_is_not_sure(quick: Worked, slow: Worked) -> None:
    card = tucking(quick.numbers(), SAY)
    assert card[0].startswith("Nobody")
    assert sum("by hand, its way is not sure" in step for step in card) == 4
    sure = tucking(slow.numbers(), SAY)
    assert not any("not sure" in step for step in sure)
    assert all(step[0].isupper() for step in card)


def test_places_without_a_slow_answer_have_a_sentence_and_no_poses(quick: Worked) -> None:
    places = fold_places(quick.numbers(), SAY)
    assert [one.wall for one in places] == ["rear", "right", "right", "front", "left", "left"]
    assert [one.arc for one in places] == sorted(one.arc for one in places)
    for one in places:
        assert one.poses == ()
        assert one.counts == (0, 0, 0)
        assert "quick estimate" in one.says
        assert len(one.boxes) == 4
        assert one.room == pytest.approx((0.6, 0.06))
    assert "Work out the fold" in fold_note(quick.numbers(), SAY)


def test_places_with_one_can_be_watched(slow: Worked) -> None:
    rear = fold_places(slow.numbers(), SAY)[0]
    assert rear.counts == (24, 0, 0)
    assert len(rear.ends) == 24
    opened = [pose.open for pose in rear.poses]
    assert opened == sorted(opened, reverse=True)
    assert "always in, 24 of 24" in rear.says
    assert fold_note(slow.numbers(), SAY) == ""
    assert section(slow).says.count("rear wall") == 1


def test_shell_and_bar_turn_with_the_linkage(slow: Worked) -> None:
    """At the rear of a roof hinged in front: 25 degrees down towards the cab when open, level when closed."""
    rear = fold_places(slow.numbers(), SAY)[0]
    for pose, angle in ((rear.poses[0], -math.radians(25.0)), (rear.poses[-1], 0.0)):
        (u0, z0), (u1, z1) = pose.shell
        assert math.atan2(z1 - z0, u1 - u0) == pytest.approx(angle, abs=1e-3)
    closed = rear.poses[-1]
    assert closed.bar is not None
    # Upper line 60 mm up, the bar's underside 10 mm below it, its middle 80 mm further in.
    assert closed.bar == pytest.approx((0.08, 0.06 - 0.01 + 0.0125, 0.0125), abs=1e-4)


def test_an_old_answer_is_shown_and_said_to_be_old(slow: Worked) -> None:
    old = KeptWalls(slow.kept.fold, "stale")
    found = worked(slow.project, old)
    assert fold_places(found.numbers(), SAY)[0].poses
    assert "before something was changed" in fold_note(found.numbers(), SAY)
    early = KeptWalls(slow.kept.fold[:3], "fresh")
    assert "front wall and the left wall" in fold_note(worked(slow.project, early).numbers(), SAY)


def test_inches_and_feet_reach_every_table(quick: Worked) -> None:
    found = section(quick, Wording("imperial"))
    texts = [cell for table in found.grids[:1] for row in table.rows for cell in row]
    assert not any(cell.endswith(" mm") for cell in texts)
    assert any(cell.endswith(" in") for cell in texts)


def test_a_low_roof_has_nothing_to_fold() -> None:
    low = worked(roof(opens="3 deg", line="100 mm"))
    assert any("below the lower one" in sentence for sentence in low.fold.said)
    found = section(low)
    assert "No wall is high enough" in found.says
    assert fold_places(low.numbers(), SAY) == ()
    assert tucking(low.numbers(), SAY) == ()
    assert fold_note(low.numbers(), SAY) == ""
