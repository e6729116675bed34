"""Every key of readings of the built roof changes what is said of them. Exact constructed cases."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.answers import choose_together
from loftwright.answers import proof as proving
from loftwright.answers.choose_holes import METRIC
from loftwright.answers.choose_roofs import fitted_with
from loftwright.answers.choose_search import judged_exactly
from loftwright.answers.choose_together import choose_forces, choose_holes
from loftwright.answers.proof import prove
from loftwright.answers.proof_numbers import proof_numbers
from loftwright.answers.proof_view import proven
from loftwright.choice.search import Level
from loftwright.core.lifting import Fit
from loftwright.core.uncertain import exact
from loftwright.project.choice_sections import Choice, HandReading, Tape
from loftwright.project.demos import demo
from loftwright.project.keys import members
from loftwright.project.model import Project
from loftwright.project.points import Point
from loftwright.project.possible_choice import catalogue_path
from loftwright.project.spring_list import read_springs
from loftwright.project.zones import zones_of


@pytest.fixture(autouse=True)
def _fewer_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    # Whether a key counts does not hang on how many roofs are drawn.
    monkeypatch.setattr(proving, "DRAWS", 200)


def two_springs() -> Project:
    """Return a demo with a second entry in its spring list, weaker than the first."""
    project = demo("fennimoor")
    first = project.spring[0]
    other = first.model_copy(update={"name": "helper", "force": exact(60.0)})
    return project.model_copy(update={"spring": (first, other), "reading": (), "tape": ()})


def test_every_key_of_a_reading_counts() -> None:
    project = two_springs()
    spring = project.spring[0]
    other = Point(x=exact(spring.foot.x.nominal - 0.05), z=spring.foot.z)
    plain = HandReading(
        after=1,
        how_open=exact(0.3),
        way="push up",
        force=exact(60.0),
        scale="luggage scale",
        temperature=exact(288.0),
        foot=other,
    )
    changes: dict[str, Any] = {
        "after": 2,
        "how_open": exact(0.5),
        "way": "pull down",
        "force": exact(80.0),
        "scale": "bathroom scales",
        "temperature": exact(303.0),
        "spring": "helper",
        "foot": None,
        "head": Point(x=exact(spring.head.x.nominal + 0.05), z=spring.head.z),
    }

    def said(reading: HandReading) -> tuple[Any, ...]:
        found = prove(project.model_copy(update={"reading": (reading,)}))
        (only,) = found.sets
        return only.after, *(
            np.round(v, 6).tolist() for v in (found.read, found.noise, found.force_before.mean(axis=0))
        )

    before = said(plain)
    assert {member.key for member in members(HandReading)} == set(changes)
    same = [key for key, value in changes.items() if said(plain.model_copy(update={key: value})) == before]
    assert same == []


def test_every_key_of_the_tape_counts() -> None:
    project = demo("fennimoor").model_copy(update={"reading": ()})
    plain = Tape(step="hinges", what="lip height", how_open=exact(1.0), reads=exact(1.0))
    changes: dict[str, Any] = {
        "step": "springs",
        "what": "diagonal",
        "how_open": exact(0.5),
        "reads": exact(1.02),
    }

    def said(tape: Tape) -> Any:
        return proof_numbers(proven(project.model_copy(update={"tape": (tape,)})))["tape"]

    before = said(plain)
    assert {member.key for member in members(Tape)} == set(changes)
    assert [key for key, value in changes.items() if said(plain.model_copy(update={key: value})) == before] == []


def test_every_key_of_the_choice_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(choose_together, "EFFORT", (Level(12, 20, 1, 1, 0.08), Level(3, 30, 1, 3, 0.05)))
    monkeypatch.setattr(choose_together, "FORCES", (Level(6, 30, 2, 8, 0.05),))
    project = demo("ottergate")
    springs = read_springs()
    listed = springs.entries
    entry = listed.names.index("8/18-280-450")
    fit = Fit(0, entry, 1.19, -0.16, 1.491, 0.019)
    pair = zones_of(project).pairs[0]
    best = judged_exactly(fitted_with(project, listed, [pair], fit), listed, pair, fit, 60, 5)
    changes: dict[str, Any] = {
        "catalogue": "own.csv",
        "per_side_most": 1,
        "ratings": 3,
        "holes": 2,
        "hole_spacing": exact(0.06),
    }

    def said(of: Project) -> tuple[Any, ...]:
        row = choose_holes(of, best.drawn, best, springs, [pair], [fit], 60, METRIC)
        forces = choose_forces(of, best.drawn, springs, [pair], [fit], 60, row, METRIC)
        assert row is not None
        assert forces is not None
        where = catalogue_path(of, Path("here"))
        return where, len(zones_of(of).pairs), forces.names, row.feet.tolist(), row.heads.tolist()

    before = said(project)
    for member in members(Choice):
        chosen = project.choice.model_copy(update={member.attribute: changes[member.attribute]})
        assert said(project.model_copy(update={"choice": chosen})) != before, member.key
