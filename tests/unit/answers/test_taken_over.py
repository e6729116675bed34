"""What the walls offer for the other forces of the file: constructed cases, and what is left as the file has it."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from loftwright.answers.fold_job import fold_job, read_fold, work_fold
from loftwright.answers.kept_walls import KeptWalls
from loftwright.answers.taken_over import as_changes, left_alone, taken_over
from loftwright.answers.walled_roof import WallNumbers
from loftwright.cloth.tightness import Tightness
from loftwright.core.quantities import parse
from loftwright.project.model import Project, key_of

from .fold_roofs import CANVAS, CORDS, FLEECE, Worked, falls, roof, worked

FORCES = {"forces.cloth_mass", "forces.fold_push", "forces.trapped_air", "forces.cloth_tension"}


def kept(project: Project) -> KeptWalls:
    return KeptWalls(read_fold(work_fold(fold_job(project), run=falls("in"))), "fresh")


def slow_roof(more: str = "") -> Project:
    return roof(layers=CANVAS + FLEECE, more=more, bar_in="80 mm", bar_below="10 mm", **CORDS)


@pytest.fixture(scope="module")
def slow() -> Worked:
    project = slow_roof()
    return worked(project, kept(project))


def walls_of(found: Worked, *, most: float = 500.0) -> WallNumbers:
    """Return walls with 2.1 to 2.3 kg of cloth that moves, a pull of 3 to 9 N/m, and what springs can keep up [N/m]."""
    count = found.rows.count
    pull = Tightness(np.full(count, 3.0), np.full(count, 9.0))
    panels = SimpleNamespace(tension=SimpleNamespace(pull=pull, most=np.full(count, most)))
    return found.numbers(panels=panels, metres=SimpleNamespace(moving=(np.full(count, 2.1), np.full(count, 2.3))))


def read(path: str, text: Any) -> Any:
    return parse(str(text), key_of(path).dimension, unknown=None)


def test_what_the_walls_say_can_be_written_into_the_file(slow: Worked) -> None:
    walls = walls_of(slow)
    texts = as_changes(walls)
    assert set(texts) == FORCES
    values = {path: read(path, text) for path, text in texts.items()}
    assert (values["forces.cloth_mass"].low, values["forces.cloth_mass"].high) == pytest.approx((2.1, 2.3))
    # 1 N/m on every wall, spread over the whole line: 1 N/m.
    assert values["forces.fold_push"].low <= 1.0 <= values["forces.fold_push"].high
    assert (values["forces.cloth_tension"].low, values["forces.cloth_tension"].high) == (3.0, 9.0)
    assert values["forces.trapped_air"].high >= float(slow.fold.air.lift[0])
    assert all(one.sentence.endswith(".") and "replaces" in one.sentence for one in taken_over(walls))
    assert left_alone(walls) == ()


def test_springs_pull_no_harder_than_they_can(slow: Worked) -> None:
    """A prop may hold the roof up against a pull of 9 N/m: springs that keep up 5 N/m do not."""
    tension = read("forces.cloth_tension", as_changes(walls_of(slow, most=5.0))["forces.cloth_tension"])
    assert (tension.low, tension.high) == (3.0, 5.0)


@pytest.mark.parametrize(("word", "offered"), [("measured", False), ("label", False), ("assumed", True)])
def test_what_was_measured_is_not_replaced_by_what_is_reckoned(word: str, offered: bool) -> None:
    weighed = worked(slow_roof(f'[forces]\ncloth_mass = "3.2 kg, {word}"\n'))
    walls = walls_of(weighed)
    assert ("forces.cloth_mass" in as_changes(walls)) is offered
    assert ("forces.cloth_tension" in as_changes(walls)) is True
    told = [sentence for sentence in left_alone(walls) if sentence.startswith("The cloth as cut")]
    assert [word in sentence and "3.2" in sentence for sentence in told] == ([] if offered else [True])


def test_the_quick_estimate_of_the_push_is_not_offered(slow: Worked) -> None:
    quick = worked(slow_roof())
    assert all(one.quick is not None and one.push is not None for one in quick.fold.places)
    assert "forces.fold_push" not in as_changes(walls_of(quick))
    # One that was kept of an earlier state does not count either.
    stale = KeptWalls(slow.kept.fold, "stale")
    assert "forces.fold_push" not in as_changes(walls_of(worked(slow_roof(), stale)))


def test_without_cloth_only_air_and_tension_are_offered() -> None:
    bare = worked(roof(layers=""))
    pull = Tightness(np.zeros(1), np.full(1, np.inf))
    panels = SimpleNamespace(tension=SimpleNamespace(pull=pull, most=np.full(1, np.inf)))
    walls = bare.numbers(panels=panels, metres=SimpleNamespace(moving=None))
    assert set(as_changes(walls)) == {"forces.trapped_air"}
