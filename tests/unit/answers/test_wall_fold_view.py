"""The fold ready to show: constructed cases; what stands in tables and pictures is what the numbers say."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from loftwright.answers.fold_job import fold_job, read_fold, work_fold
from loftwright.answers.judging import decide
from loftwright.answers.kept_walls import KeptWalls
from loftwright.answers.taken_over import as_changes, taken_over
from loftwright.answers.wall_fold_view import fold_note, fold_places, fold_section, tucking
from loftwright.answers.walled_roof import WallNumbers
from loftwright.cloth.tightness import Tightness
from loftwright.core.quantities import parse
from loftwright.core.views import Grid
from loftwright.core.wall_views import WallSection
from loftwright.core.wording import Wording
from loftwright.project.model import Project, key_of

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
    assert "the rear wall reaches in by about" in found.says
    walls = grid(found, "The fold in the middle of each wall")
    assert [row[0] for row in walls.rows] == ["Rear wall", "Right wall", "Front wall", "Left wall"]
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
    assert "cubic metres an hour" in table.note


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
    assert [one.wall for one in places] == ["rear", "right", "front", "left"]
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
    early = KeptWalls(slow.kept.fold[:2], "fresh")
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


# --- numbers for the other forces -----------------------------------------------------------------------


def with_cloth(found: Worked) -> WallNumbers:
    """Return the walls with 4 m2 of the outer cloth cut and a pull of 3 to 9 N/m."""
    count = found.rows.count
    rolls = tuple(SimpleNamespace(asked=SimpleNamespace(layer=k), cut=4.0) for k in range(len(found.project.layer)))
    mass = sum(4.0 * found.base.at(f"layer.{k}.mass") for k in range(len(found.project.layer)))
    panels = SimpleNamespace(tension=SimpleNamespace(pull=Tightness(np.full(count, 3.0), np.full(count, 9.0))))
    return found.numbers(panels=panels, metres=SimpleNamespace(mass=mass, rolls=rolls))


def read(path: str, text: str) -> Any:
    return parse(text, key_of(path).dimension, unknown=None)


def test_what_the_walls_say_can_be_written_into_the_file(slow: Worked) -> None:
    walls = with_cloth(slow)
    texts = as_changes(walls)
    assert set(texts) == {"forces.cloth_mass", "forces.fold_push", "forces.trapped_air", "forces.cloth_tension"}
    values = {path: read(path, str(text)) for path, text in texts.items()}
    assert values["forces.cloth_mass"].low <= 4.0 * 0.55 <= values["forces.cloth_mass"].high
    # 1 N/m on every wall, spread over the whole line: 1 N/m.
    assert values["forces.fold_push"].low <= 1.0 <= values["forces.fold_push"].high
    assert (values["forces.cloth_tension"].low, values["forces.cloth_tension"].high) == (3.0, 9.0)
    assert values["forces.trapped_air"].high >= float(slow.fold.air.lift[0])
    assert all(one.sentence.endswith(".") and "replaces" in one.sentence for one in taken_over(walls))


def test_layers_taken_down_do_not_weigh_on_the_moving_roof() -> None:
    removed = worked(roof(layers=CANVAS + FLEECE + "removable = true\n"))
    mass = read("forces.cloth_mass", str(as_changes(with_cloth(removed))["forces.cloth_mass"]))
    assert mass.low <= 4.0 * 0.35 <= mass.high < 4.0 * 0.45


def test_without_cloth_only_air_and_tension_are_offered() -> None:
    bare = worked(roof(layers=""))
    panels = SimpleNamespace(tension=SimpleNamespace(pull=Tightness(np.zeros(1), np.full(1, np.inf))))
    walls = bare.numbers(panels=panels, metres=SimpleNamespace(mass=None, rolls=()))
    assert set(as_changes(walls)) == {"forces.trapped_air"}
