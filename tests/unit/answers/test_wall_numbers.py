"""The cloth walls as JSON: it agrees with itself, and every key is explained."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.answers import numbers
from loftwright.answers.draws import Nominal
from loftwright.answers.fold_job import fold_job, work_fold
from loftwright.answers.fold_read import read_fold
from loftwright.answers.held_basis import basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.kept_walls import KeptWalls
from loftwright.answers.wall_numbers import walled
from loftwright.answers.walled_lines import the_lines
from loftwright.answers.walled_roof import WallNumbers, walled_roof
from loftwright.core.checks import Outcome
from loftwright.core.pattern import area_of
from loftwright.core.wall_views import WALL_PARTS
from loftwright.project.demos import demo, demo_text
from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project

from .fold_roofs import falls
from .json_keys import assert_alone, assert_explained, assert_tallied, keys_of, without_direction


def measured() -> Project:
    """Return a made-up roof whose lines are written as points, every 23rd of those that it had before."""
    known = demo("fennimoor")
    lines = the_lines(basis(known, Nominal(inputs_of(known)))[0])
    points = "".join(
        f'[[{name}_point]]\nx = "{x:.3f} m"\ny = "{y:.3f} m"\nz = "{z:.3f} m"\n'
        for name, loop in (("lower", lines.lower), ("upper", lines.closed))
        for x, y, z in loop.row().points[::23]
    )
    found = loads(f"{demo_text('fennimoor')}\n{points}")
    return found.model_copy(update={"settings": found.settings.model_copy(update={"draws": 30})})


@pytest.fixture(scope="module")
def outcome() -> Outcome[WallNumbers]:
    project = measured()
    answer = work_fold(fold_job(project), run=falls("in"))
    return walled_roof(project, KeptWalls(read_fold(answer), "fresh"))


@pytest.fixture(scope="module")
def told(outcome: Outcome[WallNumbers]) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(numbers.as_json(walled(outcome)))
    return found


def test_every_key_is_explained_and_no_other(told: dict[str, Any], root: Path) -> None:
    keys = {without_direction(key) if key.startswith("shape.heights_m") else key for key in keys_of(told)}
    assert_explained(keys, root / "docs" / "reference" / "json-walls.md")
    assert set(told) >= set(WALL_PARTS)


def test_tally_and_questions_agree(told: dict[str, Any]) -> None:
    assert_tallied(told, WALL_PARTS)


def test_one_question_alone(outcome: Outcome[WallNumbers]) -> None:
    assert_alone(walled(outcome, ("water",)), "water", WALL_PARTS, len(outcome.checks))


def length(points: Any, closed: bool = False) -> float:
    line = np.array([*points, points[0]] if closed else points)
    return float(np.sum(np.linalg.norm(np.diff(line, axis=0), axis=-1)))


def test_flat_panels_are_as_long_as_their_lines(told: dict[str, Any]) -> None:
    """The lines by their points in space, the panels by their flat edges: two ways to the same lengths."""
    shape = told["shape"]
    assert len(shape["panels"]) == len(shape["seams"]) == 4
    for edge in ("lower", "upper"):
        around = length(shape[f"{edge}_line"]["points_m"], closed=True)
        assert around == pytest.approx(shape[f"{edge}_line"]["length_m"], rel=1e-4)
        assert sum(length(panel[f"{edge}_m"]) for panel in shape["panels"]) == pytest.approx(around, rel=1e-3)
    for panel, following in zip(shape["panels"], [*shape["panels"][1:], shape["panels"][0]], strict=True):
        outline = [*panel["lower_m"], *reversed(panel["upper_m"])]
        assert area_of(tuple((x, y) for x, y in outline)) == pytest.approx(panel["area_m2"], rel=1e-6)
        # Seen from outside, the next panel stands at the right.
        assert panel["right"] == following["left"]
        assert panel["right_seam_m"] == pytest.approx(following["left_seam_m"], abs=1e-4)
        assert panel["moves"] == sorted(panel["moves"], key=lambda one: -one["by_m"])


def test_pieces_lie_on_their_rolls(told: dict[str, Any]) -> None:
    pieces = {piece["number"]: piece for piece in told["sewing"]["pieces"]}
    rolls = [one for one in told["metres"]["rolls"] if one["layer"] is not None]
    assert len(rolls) == 2
    for roll in rolls:
        laid = {piece["number"] for piece in roll["layout"]["pieces"]}
        assert laid, roll["material"]
        assert {pieces[number]["material"] for number in laid} == {roll["material"]}
        assert roll["laid_m"] < roll["buy_m"]
        for piece in roll["layout"]["pieces"]:
            xs, ys = zip(*piece["outline_m"], strict=True)
            assert min(ys) >= -1e-6
            assert max(ys) <= roll["usable_m"] + 1e-6
            assert max(xs) <= roll["layout"]["length_m"] + 1e-6


def test_the_slow_answer_stands_in_the_figures(told: dict[str, Any]) -> None:
    fold = told["fold"]
    assert fold["kept"] == "fresh"
    for place in fold["places"]:
        slow = place["slow"]
        assert slow["counts"] is True
        assert slow["starts"] == slow["in"] + slow["out"] + slow["both"] == len(slow["ways"]) == len(slow["ends_m"])
        # Of the starts that went in, the deepest is told.
        assert place["tip_m"] == pytest.approx(max(slow["tip_m"]), rel=1e-9)
    assert sum(place["stands_for_m"] for place in fold["places"]) <= told["shape"]["lower_line"]["length_m"] * (
        1 + 1e-9
    )


def test_what_is_taken_over_is_what_the_file_does_not_know(told: dict[str, Any]) -> None:
    """The made-up roof has weighed its cloth; the other three are assumed."""
    keys = [one["key"] for one in told["taken_over"]]
    assert sorted(keys) == ["forces.cloth_tension", "forces.fold_push", "forces.trapped_air"]
    assert all("assumed" in one["value"] for one in told["taken_over"])
    assert len(told["left_alone"]) == 1
    assert "measured" in told["left_alone"][0]


def test_a_new_file_says_what_is_missing() -> None:
    project = loads(new_project(FiveAnswers(lifts="scissor")))
    told = walled(
        walled_roof(project.model_copy(update={"settings": project.settings.model_copy(update={"draws": 5})}))
    )
    assert told["metres"]["mass_kg"] is None
    assert told["fold"]["wall"] is None
    assert all(place["quick"] is None and place["slow"] is None for place in told["fold"]["places"])
    assert told["windows"]["windows"] == []
    json.loads(numbers.as_json(told))
