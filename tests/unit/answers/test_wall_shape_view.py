"""What is shown of lines and panels: exact constructed cases; every number drawn is one of the answer's own."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import cast

import numpy as np
import pytest

from loftwright.answers.draws import Nominal, Rows, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.wall_shape_view import RULER, rulings, shape_section, space_lines, strip
from loftwright.answers.walled_lines import LinesFound, the_lines
from loftwright.answers.walled_panels import PanelsFound, the_panels
from loftwright.answers.walled_roof import WallNumbers
from loftwright.cloth.develop_rules import RIMS_UNSURE
from loftwright.core.checks import Check, Verdict
from loftwright.core.pattern import area_of
from loftwright.core.views import Grid
from loftwright.core.wording import Wording
from loftwright.project.demos import demo
from loftwright.project.file import loads
from loftwright.project.model import Project

SAY = Wording()


@dataclass(frozen=True)
class Found:
    """The parts of the answer that this face looks at."""

    basis: Basis
    lines: LinesFound
    panels: PanelsFound


@dataclass(frozen=True)
class Walls:
    """The answer as far as this face looks at it."""

    project: Project
    rows: Rows
    found: Found


def shown(project: Project) -> tuple[WallNumbers, tuple[Check, ...]]:
    """Return the answer for every row, and its judgements."""
    plan = Nominal(inputs_of(project))
    base, sense = basis(project, plan)
    the_panels(base, the_lines(base))
    drawn = rows(plan.inputs, plan.asked, project.settings.draws, project.settings.seed)
    base = basis(project, drawn, sense)[0]
    lines = the_lines(base)
    panels = the_panels(base, lines)
    checks = tuple(decide(one, drawn, base.roof.possible) for one in (*lines.judged, *panels.judged))
    return cast(WallNumbers, Walls(project, drawn, Found(base, lines, panels))), checks


def box(more: str = "", units: str = "metric") -> Project:
    """Return a level lift of two equal lines over a flat roof."""
    return loads(
        f'format = 1\nname = "box"\n[settings]\ndraws = 50\nunits = "{units}"\n'
        '[roof]\ncrown = "0 mm"\ncamber = "0 mm"\n[opening]\nlength = "2 m"\nwidth = "1.2 m"\n'
        '[shell]\nlength = "2.1 m"\nwidth = "1.3 m"\noverhang_rear = "50 mm"\nrim_height = "10 mm"\nmass = "40 kg"\n'
        '[linkage]\nkind = "guides"\nend = "rear"\nrise = "0.5 m"\nguide = ["0.2 m", "0 mm"]\n'
        'guide_length = "0.3 m"\nguide_friction = "0.2"\n'
        '[fit]\nrim_front = "0 mm"\nrim_rear = "0 mm"\nrim_sides = "0 mm"\nrim_twist = "0 mm"\n'
        'corner_radius = "150 mm"\n[cut]\ncorner_radius = "100 mm"\n[walls]\nseams = "mid corner"\n'
        'lower_outset = "0 mm"\nlower_height = "25 mm"\nupper_inset = "50 mm"\nupper_height = "15 mm"\n'
        f'rim_error = "1 mm"\nease = "10 mm"\n{more}'
    )


@lru_cache(maxsize=1)
def fennimoor() -> tuple[WallNumbers, tuple[Check, ...]]:
    return shown(demo("fennimoor"))


@lru_cache(maxsize=1)
def plain() -> tuple[WallNumbers, tuple[Check, ...]]:
    window = '[[window]]\nname = "{}"\nwall = "{}"\nalong = "{}"\nbottom = "{}"\nwidth = "400 mm"\nheight = "200 mm"\n'
    return shown(
        box(window.format("side light", "left", "100 mm", "120 mm") + window.format("low", "rear", "0 mm", "20 mm"))
    )


def grid(grids: tuple[Grid, ...], title: str) -> Grid:
    return next(one for one in grids if one.title == title)


def test_a_ruler_is_enough_for_equal_lines_and_a_level_lift() -> None:
    walls, checks = plain()
    section = shape_section(walls, checks, SAY)
    assert {row[-1] for row in grid(section.grids, "Panels").rows} == {RULER}
    assert {row[0] for row in grid(section.grids, "Panels").rows} == {"W1", "W2", "W3", "W4"}
    tilted, judged = fennimoor()
    rows_of = grid(shape_section(tilted, judged, SAY).grids, "Panels").rows
    assert all(row[-1].startswith("would miss by") for row in rows_of)
    assert [row[3] for row in rows_of if row[1] == "front wall"] == ["in folds"]


def test_the_section_answers_by_its_own_judgements() -> None:
    walls, checks = plain()
    section = shape_section(walls, checks, SAY)
    assert section.part == "shape"
    assert len(section.rows) == len(checks)
    assert section.says.endswith(".")
    assert {row.id.split("-")[0] for row in section.rows} == {"WALL"}
    sure = tuple(check for check in checks if check.verdict is Verdict.HOLDS)
    assert shape_section(walls, sure, SAY).says.startswith("The walls can be cut by these lines")
    facts = {fact.label: fact.value for fact in section.facts}
    # Half a metre of lift, and 2 (2.0 + 1.2) - (8 - 2 pi) 0.1 m all round.
    assert facts["Rear wall"] == "500 mm"
    assert facts["Lower line"] == SAY.length(6.4 - (8.0 - 2.0 * np.pi) * 0.1)
    assert facts["Ease"] == "10 mm"


def test_a_side_wall_is_told_as_high_as_it_stands_square_to_the_rim() -> None:
    """Fennimoor's side walls, by hand from its file: 541 mm upright in the middle, 558 mm along the slanted cloth."""
    section = shape_section(*fennimoor(), SAY)
    facts = {fact.label: (fact.value, fact.note) for fact in section.facts}
    for side in ("Right wall", "Left wall"):
        assert facts[side][0] == "541 mm"
        assert "square to the rim" in facts[side][1]


def test_what_to_measure_again_begins_with_what_moves_most() -> None:
    walls, checks = fennimoor()
    again = grid(shape_section(walls, checks, SAY).grids, "What to measure again")
    most = max(move for panel in walls.found.panels.panels if panel.wall != "front" for _, move in panel.moves)
    assert again.rows[0][1] == SAY.short_length(most)
    assert any(row[0] == "The points of both lines" for row in again.rows)
    assert not any("." in row[0] and "_" in row[0] for row in again.rows)


def test_residuals_are_shown_where_a_line_is_fitted() -> None:
    walls, _ = plain()
    loop = walls.found.lines.lower.row()
    spots = loop.points[:: len(loop.points) // 20]
    points = "".join(f'[[lower_point]]\nx = "{x:.6f} m"\ny = "{y:.6f} m"\nz = "{z:.6f} m"\n' for x, y, z in spots)
    fitted, checks = shown(box(points))
    found = grid(shape_section(fitted, checks, SAY).grids, "What the points miss the lower line by")
    assert len(found.rows) == len(spots)


def test_the_strip_lays_panels_side_by_side_with_their_ease() -> None:
    walls, _ = plain()
    drawn = strip(walls, SAY)
    assert [panel.number for panel in drawn.panels] == ["W1", "W2", "W3", "W4"]
    last = -1.0
    for panel in drawn.panels:
        xs, ys = zip(*panel.outline, strict=True)
        assert min(xs) > last
        last = max(xs)
        # Half a metre and 10 mm of ease; the lower line lies along x.
        assert max(ys) == pytest.approx(0.51, abs=1e-9)
        assert [y for _, y in panel.lower] == pytest.approx([0.0] * len(panel.lower), abs=1e-9)
        assert len(panel.arcs) == len(panel.lower)
        assert area_of(panel.outline) == pytest.approx(0.51 * (max(xs) - min(xs)), rel=1e-9)
    assert drawn.length == pytest.approx(last)
    assert drawn.height == pytest.approx(0.51, abs=1e-9)
    assert drawn.around == pytest.approx(6.4 - (8.0 - 2.0 * np.pi) * 0.1)
    assert [seam.name for seam in drawn.seams] == [
        "rear left corner",
        "rear right corner",
        "front right corner",
        "front left corner",
    ]


def test_windows_lie_where_the_file_has_them_and_tell_whether_they_fit() -> None:
    walls, _ = plain()
    drawn = strip(walls, SAY)
    side, low = drawn.windows
    left = next(panel for panel in drawn.panels if panel.wall == "left")
    middle = (left.lower[0][0] + left.lower[-1][0]) / 2.0
    xs, ys = zip(*side.sight, strict=True)
    # The panel is symmetrical about the middle of its wall.
    assert (min(xs) + max(xs)) / 2.0 == pytest.approx(middle + 0.1, abs=1e-3)
    assert min(ys) == pytest.approx(0.12, abs=1e-9)
    assert max(xs) - min(xs) == pytest.approx(0.4, abs=1e-3)
    assert (side.move, side.rise, side.entry) == (0.1, 0.12, 0)
    assert side.fits
    # 20 mm over the lower line the curtain, 40 mm larger all round, is below it.
    assert not low.fits


def test_lines_and_rulings_in_space_join() -> None:
    walls, _ = fennimoor()
    lower, upper = space_lines(walls)
    for line in (lower, upper):
        assert line[0] == line[-1]
    ends = np.array(rulings(walls))
    for k, line in ((0, lower), (1, upper)):
        known = np.array(line)
        gap = np.linalg.norm(ends[:, k, None, :] - known, axis=-1).min(axis=-1)
        # Neighbouring points of a line are at most some 30 mm apart.
        assert gap.max() < 0.03
    assert len(ends) > 50


def test_imperial_words_show_no_metric_units() -> None:
    walls, checks = shown(box(units="imperial"))
    section = shape_section(walls, checks, Wording("imperial"))
    text = " ".join(
        [*(fact.value for fact in section.facts), *(cell for g in section.grids for r in g.rows for cell in r)]
    )
    assert " mm" not in text
    assert " m²" not in text


def test_walls_that_may_barely_be_cut_are_said_to() -> None:
    walls, _ = shown(demo("fennimoor"))
    for holding, words in (
        (0.58, "The walls can be cut by these lines, but barely (116 of 200 roofs like yours): "),
        (0.95, "The walls can be cut by these lines: "),
    ):
        odds = f"{round(200 * holding)} of 200 roofs like yours hold"
        check = RIMS_UNSURE.judge(0.0097, 0.010, basis=odds, holding=holding, part="right wall")
        assert shape_section(walls, (check,), SAY).says.startswith(words)
