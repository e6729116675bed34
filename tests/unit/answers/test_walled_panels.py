"""Flat panels from the file to the judgements: exact constructed cases and second ways, computed here.

A level lift of two equal lines over a flat roof rolls out into rectangles; whatever moves outlines is worked out once
from the rows of the answer and once more from a file that says so.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest

from loftwright.answers.draws import Nominal, Rows, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.walled_lines import LinesFound, the_lines
from loftwright.answers.walled_panels import POINTS_KEY, PanelsFound, is_strip, the_panels
from loftwright.cloth.develop_rules import RIMS_UNSURE, SHARP, TOO_TIGHT, TOO_WIDE, TWO_WAYS
from loftwright.cloth.unfold import edge_length, misfit
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project

GUIDES = (
    'kind = "guides"\nend = "rear"\nrise = "{rise}"\nguide = ["0.2 m", "0 mm"]\nguide_length = "0.3 m"\n'
    'guide_friction = "0.2"\n'
)
HINGE = 'kind = "hinge"\nend = "front"\nopens = "{opens}"\nhinge = ["2.1 m", "30 mm"]\n'
EXACT = 'lower_outset = "0 mm"\nlower_height = "25 mm"\nupper_inset = "{inset}"\nupper_height = "15 mm"\n'
FULL_WALLS = {"fennimoor": 3, "larkenmoor": 4, "ottergate": 4, "quellmere": 3}
"""Panels of each demo that are no strips."""
LAYER = '[[layer]]\nname = "canvas"\nroll_width = "{wide}"\nselvedge = "0 mm"\nshrink_across = "{shrinks}"\n' + (
    'shrink_along = "0 %"\ngrain = "{grain}"\n'
)


def box(
    walls: str = "",
    *,
    linkage: str = GUIDES.format(rise="0.5 m"),
    more: str = "",
    stop: str = "strap",
    prop: bool = False,
    inset: str = "50 mm",
) -> Project:
    """Return a roof of round sizes whose two lines lie alike, seen from above; all sizes exact but those told."""
    return loads(
        'format = 1\nname = "box"\n[settings]\ndraws = 50\n[roof]\ncrown = "0 mm"\ncamber = "0 mm"\n'
        '[opening]\nlength = "2 m"\nwidth = "1.2 m"\n'
        '[shell]\nlength = "2.1 m"\nwidth = "1.3 m"\noverhang_rear = "50 mm"\nrim_height = "10 mm"\nmass = "40 kg"\n'
        f"[linkage]\n{linkage}"
        f'[stop]\nkind = "{stop}"\n[requirements]\nprop_fitted = {"true" if prop else "false"}\n'
        '[fit]\nrim_front = "0 mm"\nrim_rear = "0 mm"\nrim_sides = "0 mm"\nrim_twist = "0 mm"\n'
        f'corner_radius = "150 mm"\n[cut]\ncorner_radius = "100 mm"\n[walls]\n{EXACT.format(inset=inset)}{walls}{more}'
    )


def found(project: Project, *, every: bool = False) -> tuple[LinesFound, PanelsFound, Basis]:
    """Return lines and panels of the planned row, or of every row."""
    plan = Nominal(inputs_of(project))
    base, sense = basis(project, plan)
    lines = the_lines(base)
    panels = the_panels(base, lines)
    if not every:
        return lines, panels, base
    at = rows(plan.inputs, plan.asked, project.settings.draws, project.settings.seed)
    base = basis(project, at, sense)[0]
    lines = the_lines(base)
    return lines, the_panels(base, lines), base


def checks(project: Project, rule: Rule) -> tuple[Check, ...]:
    """Return every judgement of one rule."""
    lines, panels, base = found(project, every=True)
    assert isinstance(base.at, Rows)
    every = (*lines.judged, *panels.judged)
    return tuple(decide(one, base.at, base.roof.possible) for one in every if one.rule is rule)


def planned(project: Project, rule: Rule) -> list[tuple[float, float]]:
    """Return value and limit of every judgement of one rule in the planned row."""
    every = [one for one in found(project)[1].judged if one.rule is rule]
    return [(float(np.ravel(one.value)[0]), float(np.ravel(one.limit)[0])) for one in every]  # type: ignore[arg-type]


@lru_cache(maxsize=1)
def fennimoor() -> tuple[LinesFound, PanelsFound, Basis]:
    return found(demo("fennimoor"), every=True)


def test_equal_lines_and_a_level_lift_roll_out_into_rectangles() -> None:
    lines, panels, _ = found(box('seams = "mid corner"\n'))
    quarter = 0.1 * np.pi / 4.0
    for panel, length in zip(panels.panels, (1.0, 1.8, 1.0, 1.8), strict=True):
        # Half a corner at either end; of a round corner's chords a little is missing.
        assert float(panel.flat.lower[0, -1, 0]) == pytest.approx(length + 2.0 * quarter, abs=2e-4)
        assert float(panel.height[0]) == pytest.approx(0.5, abs=1e-9)
        assert float(panel.flat.straight.miss[0]) < 1e-9
        assert panel.flat.two_ways < 1e-9
    assert sum(float(panel.flat.area[0]) for panel in panels.panels) == pytest.approx(
        0.5 * float(lines.lower.perimeter[0]), rel=2e-4
    )
    assert [panel.wall for panel in panels.panels] == ["rear", "right", "front", "left"]
    assert [panel.number for panel in panels.panels] == ["W1", "W2", "W3", "W4"]


def test_neighbours_have_seams_of_one_length_in_every_row() -> None:
    _, panels, _ = fennimoor()
    for one, other in zip(panels.panels, (*panels.panels[1:], panels.panels[0]), strict=True):
        assert one.right == other.left
        np.testing.assert_allclose(one.flat.right_seam, other.flat.left_seam, atol=1e-9)


def test_edges_are_as_long_as_the_lines_and_panels_go_once_round() -> None:
    lines, panels, _ = fennimoor()
    for loop, edge in ((lines.lower, "lower"), (lines.upper, "upper")):
        whole = np.sum([edge_length(getattr(panel.flat, edge)) for panel in panels.panels], axis=0)
        # Chords of round corners, some 5 mm apart, miss a few parts in ten thousand.
        np.testing.assert_allclose(whole[0], loop.perimeter[0], rtol=3e-4)
    first = panels.panels[0]
    around = float(lines.lower.perimeter[0])
    # The first one hangs over the middle of the rear end.
    assert first.wall == "rear"
    assert first.lower_arc[0] < around < first.lower_arc[-1]
    for panel in panels.panels:
        np.testing.assert_allclose(np.diff(panel.lower_arc).sum(), edge_length(panel.flat.lower[0]), rtol=1e-3)


@pytest.mark.parametrize(
    ("linkage", "more", "within"),
    [
        (GUIDES.format(rise="0.5 m"), GUIDES.format(rise="0.51 m"), 1e-6),
        (HINGE.format(opens="25 deg"), HINGE.format(opens="26 deg"), 1e-5),
    ],
)
def test_opening_by_more_is_what_a_file_that_opens_more_gives(linkage: str, more: str, within: float) -> None:
    _, panels, _ = found(box(linkage=linkage))
    _, wider, _ = found(box(linkage=more))
    again = [
        float(misfit(one.flat.outline[0], other.flat.outline[0]))
        for one, other in zip(panels.panels, wider.panels, strict=True)
        if one.wall != "front"
    ]
    told = [v for v, panel in zip(panels.opening, panels.panels, strict=True) if panel.wall != "front"]
    # The other file may roll out by another word: some hundredths of a millimetre.
    np.testing.assert_allclose(told, again, atol=max(within, 5e-4))
    if linkage.startswith('kind = "guides"'):
        # Half of 10 mm either way, along both long edges, after the fit.
        np.testing.assert_allclose(panels.opening, 0.005, rtol=0.05)


def test_what_moves_an_outline_is_its_row_alone() -> None:
    _, panels, base = fennimoor()
    assert isinstance(base.at, Rows)
    rear = panels.panels[0]
    moves = dict(rear.moves)
    path = "walls.upper_inset"
    low, high = base.at.alone[path]
    each = misfit(rear.flat.outline[:1], rear.flat.outline)
    assert moves[path] == max(each[low], each[high])
    assert list(moves.values()) == sorted(moves.values(), reverse=True)
    assert POINTS_KEY in moves


def test_errors_of_the_points_move_outlines_in_proportion() -> None:
    moves = [dict(found(box(f'rim_error = "{size} mm"\n'))[1].panels[1].moves)[POINTS_KEY] for size in (1, 2)]
    # Small errors: the outline follows them to first order.
    assert moves[1] == pytest.approx(2.0 * moves[0], rel=0.05)


def test_without_draws_nothing_is_said_of_how_sure_an_outline_is() -> None:
    _, panels, _ = found(box())
    assert all(panel.error is None for panel in panels.panels)
    assert not [one for one in panels.judged if one.rule is RIMS_UNSURE]


def test_well_measured_lines_are_sure_enough_and_rough_ones_are_not() -> None:
    good = checks(box('rim_error = "1 mm"\nerror_limit = "10 mm"\n'), RIMS_UNSURE)
    rough = checks(box('rim_error = "10 mm"\nerror_limit = "10 mm"\n'), RIMS_UNSURE)
    assert {check.verdict for check in good} == {Verdict.HOLDS}
    assert {check.verdict for check in rough} == {Verdict.FAILS}


def test_one_input_that_spoils_an_outline_is_asked_for() -> None:
    one_open = 'rim_error = "1 mm"\nerror_limit = "10 mm"\n'
    wide = box(one_open, inset="10 .. 90 mm, assumed")
    rear = next(check for check in checks(wide, RIMS_UNSURE) if check.part == "rear wall")
    assert rear.verdict is Verdict.NOT_KNOWN
    assert rear.inputs[0] == "walls.upper_inset"


def test_a_wall_fits_across_the_roll_by_its_height_but_not_by_its_length() -> None:
    along = LAYER.format(wide="1.5 m", shrinks="0 %", grain="along the wall")
    up = LAYER.format(wide="1.5 m", shrinks="0 %", grain="up the wall")
    either = LAYER.format(wide="1.5 m", shrinks="0 %", grain="either way")
    fits, long, best = (planned(box(more=layer), TOO_WIDE) for layer in (along, up, either))
    # Height with ease and both edges' allowances.
    assert fits[0][0] == pytest.approx(0.5 + 0.008 + 0.035 + 0.040, abs=1e-6)
    assert {TOO_WIDE.judge(*pair).verdict for pair in fits} == {Verdict.HOLDS}
    assert Verdict.FAILS in {TOO_WIDE.judge(*pair).verdict for pair in long}
    assert {TOO_WIDE.judge(*pair).verdict for pair in best} == {Verdict.HOLDS}
    unwritten = checks(box(), TOO_WIDE)
    assert {check.verdict for check in unwritten} == {Verdict.NOT_KNOWN}
    assert "[[layer]]" in (unwritten[0].unknown or "")


def test_cloth_that_shrinks_more_than_it_was_cut_for_is_too_tight_against_a_prop() -> None:
    shrinks = LAYER.format(wide="1.5 m", shrinks="{}", grain="along the wall")
    steady, loose = (
        checks(box(more=shrinks.format(how), prop=True), TOO_TIGHT)[0]
        for how in ("5 %, measured", "5 .. 15 %, measured")
    )
    # Whatever it surely shrinks by was cut for.
    assert steady.verdict is Verdict.HOLDS
    assert steady.value == pytest.approx(0.0, abs=1e-6)
    assert (loose.holding or 0.0) < 0.8
    tight = checks(box('ease = "-25 mm"\n', more=shrinks.format("5 %"), prop=True), TOO_TIGHT)[0]
    assert tight.verdict is Verdict.FAILS
    # 475 mm of cloth drawn out to the gap of 500 mm.
    _, panels, base = found(box('ease = "-25 mm"\n', more=shrinks.format("5 %"), prop=True))
    stretch = float(base.at("wind.cloth_stretch")[0])
    assert float(panels.tension.pull.dry[0]) == pytest.approx(stretch * 25.0 / 475.0, rel=1e-6)


def test_one_cloth_hangs_in_every_built_gap() -> None:
    """Cut 500 mm high without ease: a gap of 500 + d draws it by K d / 500, by hand from each row's own lines."""
    text = box(
        'ease = "0 mm"\nrim_error = "4 mm"\n',
        more=LAYER.format(wide="1.5 m", shrinks="0 %", grain="up the wall"),
        prop=True,
    )
    lines, panels, base = found(text, every=True)
    assert isinstance(base.at, Rows)
    gap = lines.heights[:, int(np.argmax(lines.heights[0]))]
    pulled = np.maximum(gap / 0.5 - 1.0, 0.0) * base.at("wind.cloth_stretch")
    np.testing.assert_allclose(panels.tension.pull.dry, pulled, rtol=1e-6, atol=1e-6)
    # Half of all roofs come out wider than planned.
    assert 0.3 < float(np.mean(panels.tension.pull.dry[base.at.draws] > 1.0)) < 0.7


def test_rims_that_are_measured_well_do_not_pull_the_cloth_too_tight() -> None:
    layer = LAYER.format(wide="1.5 m", shrinks="0 %", grain="up the wall")
    staples = '[wind]\nstaple_limit = "20 N"\nstaple_pitch = "50 mm"\ncloth_stretch = "250 kN/m"\n'
    good, rough = (
        checks(box(f'ease = "2 mm"\nrim_error = "{error}"\n', more=layer + staples, prop=True), TOO_TIGHT)[0]
        for error in ("0.2 mm", "6 mm")
    )
    assert (good.verdict, good.holding) == (Verdict.HOLDS, 1.0)
    assert (rough.holding or 0.0) < 0.8


def test_cloth_that_ends_the_opening_takes_the_surplus_of_the_springs() -> None:
    text = demo_text("fennimoor").replace('[stop]\nkind = "strap"', '[stop]\nkind = "cloth"')
    _, panels, _ = found(loads(text))
    assert float(panels.tension.pull.dry[0]) == pytest.approx(float(panels.tension.most[0]))
    assert float(panels.tension.most[0]) > 0.0
    assert panels.tension.wall == "rear wall"


def test_a_wall_that_hardly_stands_is_not_judged_as_a_surface() -> None:
    lines, panels, _ = fennimoor()
    front = next(panel for panel in panels.panels if panel.wall == "front")
    assert is_strip(lines, front)
    assert not [one for one in panels.judged if one.which == front.name and one.rule in (TWO_WAYS, SHARP, RIMS_UNSURE)]
    assert any("In folds" in one for one in panels.said)


@pytest.mark.parametrize(("lifts", "seams"), [("hinge rear", "mid corner"), ("arms", "one strip")])
def test_new_roofs_have_finite_panels_in_every_row(lifts: str, seams: str) -> None:
    text = new_project(FiveAnswers(lifts))
    project = loads(text)
    walls = project.walls.model_copy(update={"seams": seams})
    settings = project.settings.model_copy(update={"draws": 30})
    lines, panels, base = found(project.model_copy(update={"walls": walls, "settings": settings}), every=True)
    assert len(panels.panels) == len(lines.seams.names)
    for panel in panels.panels:
        assert panel.flat.outline.shape[0] == base.rows
        assert np.all(np.isfinite(panel.flat.outline))
    for one in (*lines.judged, *panels.judged):
        if one.value is not None and one.limit is not None:
            assert np.all(np.isfinite(one.value))
            assert np.all(np.isfinite(one.limit))


@pytest.mark.parametrize("name", DEMOS)
def test_demos_have_panels_that_two_ways_agree_on(name: str) -> None:
    lines, panels, _ = found(demo(name))
    compared = [panel for panel in panels.panels if not is_strip(lines, panel)]
    assert len(compared) == FULL_WALLS[name]
    for panel in compared:
        assert TWO_WAYS.judge(panel.flat.two_ways, 0.002).verdict is Verdict.HOLDS
