"""What a builder writes changes an answer, or the file says that it does not."""

from __future__ import annotations

import pytest

from loftwright.answers.judged_roof import draw_rows
from loftwright.project import assemble
from loftwright.project.demos import DEMOS, demo
from loftwright.project.file import loads
from loftwright.project.model import Project, key_of, walk
from loftwright.project.newfile import FiveAnswers, new_project

ELSEWHERE = {
    "settings.mounting_tolerance": "spreads the places of the spring ends before they are drawn",
    "roof.crown": "kept for the fit, and its meaning says so",
    "roof.camber": "kept for the fit, and its meaning says so",
}
"""Keys that the rows of a judged roof do not ask for, and why."""

PROJECTS = {
    **{name: demo(name) for name in DEMOS},
    **{
        f"a new file, {lifts}": loads(new_project(FiveAnswers(lifts)))
        for lifts in ("hinge front", "hinge rear", "arms")
    },
}


def left_over(project: Project) -> set[str]:
    """Return the quantities that no answer about this roof asks for; the weighing is settled before."""
    asked = set(draw_rows(project)[0].columns)
    quantities = assemble.quantities(project)

    def counts(path: str) -> bool:
        # A key that was left out follows another one, and the two are drawn as one.
        return path in asked or (path in quantities and quantities[path].same_as in asked)

    return {path for path in walk(project) if not path.startswith("weighing.") and not counts(path)}


@pytest.mark.parametrize("name", PROJECTS)
def test_every_quantity_is_asked_for(name: str) -> None:
    assert left_over(PROJECTS[name]) == set(ELSEWHERE)


def test_keys_that_change_nothing_say_so() -> None:
    for path in ("roof.crown", "roof.camber"):
        assert key_of(path).meaning.endswith("changes no answer yet")
