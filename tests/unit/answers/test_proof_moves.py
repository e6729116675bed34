"""Where the springs go after readings: constructed roofs whose best move is known, odds by a second way.

The roofs are a demo with readings played as a roof of known true values would show them, without noise.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from loftwright.answers.choose_roofs import fitted_with, own_entry
from loftwright.answers.moved_roof import judged_in, looked_in, ordered
from loftwright.answers.proof import Proof, columns, holding, prove
from loftwright.answers.proof_moves import JudgedMove, alike
from loftwright.answers.proof_numbers import proof_numbers
from loftwright.answers.proof_readings import Columns, inputs_with_readings, predicted, table
from loftwright.answers.proof_view import Proven, proof_page, proven
from loftwright.core.uncertain import exact, normal
from loftwright.documents.plain_text import Look
from loftwright.documents.proof_text import proof_text
from loftwright.project.choice_sections import HandReading, HandWay
from loftwright.project.demos import demo
from loftwright.project.model import Project
from loftwright.project.points import Point
from loftwright.project.spring_list import read_springs
from loftwright.project.zones import zones_of

FOUR: tuple[tuple[float, HandWay], ...] = ((0.2, "push up"), (0.2, "pull down"), (0.6, "pull down"), (0.9, "pull down"))


def built(delivered: float, *, drag: float = 0.0) -> Project:
    """Return the demo with what a scale shows of springs that push this share of their list [1] and drag [N]."""
    readings = tuple(
        HandReading(
            after=1,
            how_open=normal(share, 0.01),
            way=way,
            force=normal(50.0, 5.0),
            scale="luggage scale",
            temperature=normal(289.0, 2.0),
        )
        for share, way in FOUR
    )
    project = demo("fennimoor").model_copy(update={"reading": readings})
    inputs = inputs_with_readings(project)
    nominal = {path: q.value.nominal for path, q in inputs.items()}
    at = Columns(inputs, table(nominal, [{"spring.0.delivered": delivered}]))
    shown = predicted(project, at, None).force[1] + drag
    filled = (one.model_copy(update={"force": normal(float(f), 5.0)}) for one, f in zip(readings, shown, strict=True))
    return project.model_copy(update={"reading": tuple(filled)})


@cache
def weak() -> Proven:
    """Return what readings say of springs that push as little as their list allows for."""
    return proven(built(0.955), listed=read_springs())


def again(proof: Proof, move: JudgedMove) -> float:
    """Second way: the file written with its spring in the new holes, its draws with the errors of the brackets."""
    spring = proof.project.spring[0]
    fit = move.fit
    ends = {
        "foot": Point(x=exact(fit.foot_x), z=exact(fit.foot_z)),
        "head": Point(x=exact(fit.head_x), z=exact(fit.head_z)),
    }
    there = proof.project.model_copy(update={"spring": (spring.model_copy(update=ends),)})
    draws = proof.after[judged_in(proof)].copy()
    nominal = dict(proof.nominal)
    for end, point in ends.items():
        for axis in "xz":
            path = f"spring.0.{end}.{axis}"
            by = getattr(point, axis).nominal - nominal[path]
            nominal[path] += by
            draws[:, proof.paths.index(path)] += by
    at = columns(inputs_with_readings(there), nominal, proof.paths, draws)
    return float(holding(there, at, proof.sense)[1:].mean())


def test_springs_too_weak_go_to_a_stronger_place() -> None:
    found = weak()
    best, stay = found.moves[0], next(one for one in found.moves if one.kind == "stay")
    assert best.kind == "new hole"
    assert best.odds > stay.odds + 0.5
    assert stay.odds == found.odds.after
    # Within the zones of the file, to whole millimetres, no hole nearer to another than the file allows.
    project, spring = found.proof.project, found.proof.project.spring[0]
    pair = zones_of(project).pairs[best.fit.pair]
    for end in best.new:
        zone, here = getattr(pair, end), getattr(spring, end)
        x, z = getattr(best.fit, f"{end}_x"), getattr(best.fit, f"{end}_z")
        assert zone.x_low - 1e-9 <= x <= zone.x_high + 1e-9
        assert zone.z_low - 1e-9 <= z <= zone.z_high + 1e-9
        assert 1000 * x == pytest.approx(round(1000 * x), abs=1e-6)
        assert np.hypot(x - here.x.nominal, z - here.z.nominal) >= project.choice.hole_spacing.nominal - 1e-9
    # Stronger: with the springs of the list's own force the place would be too strong for such a roof.
    assert again(prove(built(1.03)), best) < 0.2


def test_odds_of_a_new_hole_are_those_of_a_file_written_so() -> None:
    best = weak().moves[0]
    assert best.odds == pytest.approx(again(weak().proof, best), abs=1e-9)


def test_odds_of_springs_to_order_are_those_of_counting() -> None:
    # Second way: the drawn delivered force of each roof, every rule judged, counted yes or no.
    found = weak()
    move = next(one for one in found.moves if one.kind == "other springs")
    proof, project = found.proof, found.proof.project
    # Stronger than what the fitted ones turned out to push.
    assert move.force_1 > 0.97 * project.spring[0].force.nominal
    entries = alike(read_springs().entries, own_entry(project))
    assert entries.names[move.fit.entry] == move.spring
    pairs = zones_of(project).pairs
    part = judged_in(proof)
    base, _ = ordered(proof, fitted_with(project, entries, pairs, move.fit), part)
    counted = float(base.meets.mean())
    assert move.odds == pytest.approx(counted, abs=3 * np.sqrt(counted * (1 - counted) / part.stop))
    # The roof is the one that was learnt, the springs are not.
    for path, same in (("shell.mass_by_area", True), ("linkage.friction", True), ("spring.0.delivered", False)):
        if path in proof.paths:
            column = proof.after[part, proof.paths.index(path)]
            assert np.array_equal(base.rows(path)[base.rows.draws], column) is same
    off = base.rows("spring.0.head.x")[base.rows.draws] - move.fit.head_x
    learnt = proof.after[part, proof.paths.index("spring.0.head.x")] - project.spring[0].head.x.nominal
    np.testing.assert_allclose(off, learnt, atol=1e-12)


def test_looked_for_and_judged_in_other_draws() -> None:
    proof = weak().proof
    assert looked_in(proof).start >= judged_in(proof).stop


def test_springs_that_are_right_stay() -> None:
    # The demo's own readings: they agree, and nearly all roofs like it are right as they are.
    found = proven(demo("fennimoor"), listed=read_springs())
    assert [one.kind for one in found.moves] == ["stay"]
    assert 0.9 < found.moves[0].odds < 0.98
    assert "promises so much more that the work pays" in proof_page(found).moves_note


def test_nothing_is_said_before_a_contradiction_is_cleared() -> None:
    listed = read_springs()
    assert proven(built(1.0, drag=30.0), listed=listed).moves == ()
    bare = demo("fennimoor").model_copy(update={"reading": ()})
    page = proof_page(proven(bare, listed=listed))
    assert page.moves == ()
    assert page.moves_note == ""


def test_faces_say_the_same() -> None:
    found = weak()
    page, said = proof_page(found), proof_numbers(found)
    text = " ".join(proof_text(page, Look()).split())
    assert len(page.moves) == len(said["moves"]) == len(found.moves)
    assert [fact.value for fact in page.moves] == [f"{round(100 * one['odds'])} of 100" for one in said["moves"]]
    worth = [one.worth for one in found.moves]
    assert worth == sorted(worth, reverse=True)
    first, best = page.moves[0], found.moves[0]
    assert first.label.startswith("Drill")
    for end in best.new:
        assert f"{end} {1000 * getattr(best.fit, f'{end}_x'):.0f} mm from the rear edge" in first.label
    assert f"{first.value}" in text
    ordered_one = next(one for one in said["moves"] if one["kind"] == "other springs")
    assert f'Order "{ordered_one["spring"]}"' in text


def test_the_list_s_springs_nearest_in_size_and_other_in_force() -> None:
    # Exact: by hand from three sizes; the own spring comes last.
    own = own_entry(demo("fennimoor"))
    listed = read_springs().entries
    found = alike(listed, own)
    assert found.names[-1] == own.names[0]
    size = np.abs(listed.extended - own.extended) + np.abs(listed.stroke - own.stroke)
    size += np.abs(listed.rod_diameter - own.rod_diameter) + np.abs(listed.tube_diameter - own.tube_diameter)
    assert set(found.names[:-1]) == {
        name for name, off in zip(listed.names, size, strict=True) if off < size.min() + 1e-6
    }
    same = alike(listed.pick(np.array([3])), listed.pick(np.array([3])))
    assert len(same.names) == 1
