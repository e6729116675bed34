"""What a builder writes changes an answer, or the file says that it does not."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from loftwright.answers.judged_roof import draw_rows
from loftwright.core.choices import SIDES
from loftwright.project import assemble
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import loads
from loftwright.project.keys import members
from loftwright.project.model import Project, walk
from loftwright.project.newfile import FiveAnswers, new_project

ELSEWHERE = {
    "settings.mounting_tolerance": "spreads the places of the spring ends before they are drawn",
}
"""Keys that neither the rows on movement and feel nor those on fit and strength ask for, and why."""

PROVED_IN = {
    "zone": ("project/test_choice_sections.py", "test_every_key_of_a_zone_counts"),
    "at_hand": ("project/test_choice_sections.py", "test_every_key_of_a_spring_at_hand_counts"),
    "choice": ("answers/test_choice_keys.py", "test_every_key_of_the_choice_counts"),
    "reading": ("answers/test_choice_keys.py", "test_every_key_of_a_reading_counts"),
    "links": ("answers/test_linking.py", "test_every_key_of_the_arms_at_hand_counts"),
    "tape": ("answers/test_choice_keys.py", "test_every_key_of_the_tape_counts"),
    "plan": ("answers/test_work_plan.py", "test_every_key_of_the_plan_counts"),
    "todo": ("answers/test_work_plan.py", "test_every_key_of_a_task_counts"),
    "bought": ("answers/test_part_list.py", "test_every_key_of_what_is_bought_counts"),
}
"""Sections that rows do not ask for, as they are evidence or concern the choice of springs alone: the unit test, and
its file, that changes each of their keys and sees what comes of it."""

PROJECTS = {
    **{name: demo(name) for name in DEMOS},
    **{
        f"a new file, {lifts}": loads(new_project(FiveAnswers(lifts)))
        for lifts in ("hinge front", "hinge rear", "arms", "level arms", "scissor")
    },
    "hinged at a side": loads(
        'format = 1\nname = "side"\n[opening]\nlength = "2 m"\nwidth = "1.2 m"\n[shell]\n'
        '[linkage]\nkind = "hinge"\nend = "left"\nopens = "35 deg"\n'
        'hinge = ["-50 mm", "30 mm"]\n[[spring]]\nforce = "500 N"\nstroke = "0.3 m"\nextended_length = "0.64 m"\n'
        'foot = ["0.45 m", "-60 mm"]\nhead = ["0.7 m", "60 mm"]\n'
    ),
    "in guides": loads(
        re.sub(
            r"(?s)\[linkage\].*?\n\n",
            '[linkage]\nkind = "guides"\nend = "rear"\nrise = "0.4 m"\nleans = "2 deg"\nguide = ["1.9 m", "-0.2 m"]\n'
            'guide_far = ["0.1 m", "-0.2 m"]\nguide_length = "0.3 m"\nguide_friction = "unknown"\n\n',
            demo_text("quellmere"),
        )
    ),
    "with all that may be left out": loads(
        demo_text("fennimoor")
        .replace(
            "[shell]\n",
            '[shell]\nbend_weight = "20 kg"\nbend_span = "1.8 m"\nbend_sinks = "12 mm"\n'
            'twist_weight = "5 kg"\ntwist_sinks = "20 mm"\n',
        )
        .replace("[wind]\n", '[wind]\nscrew_pitch = "150 mm"\nscrew_limit = "600 N"\ncloth_steadies = true\n')
        .replace("[body]\n", '[body]\ngross_mass = "2800 kg"\n')
        .replace("[water]\n", '[water]\nend_lap = "60 mm"\n')
        + '\n[lift]\nfoot = ["1.496 m", "-36 mm"]\nhead = ["1.086 m", "67 mm"]\n'
    ),
    "on other springs too": loads(
        f"{demo_text('quellmere')}\n"
        '[[coil]]\nfoot = ["0.4 m", "-0.2 m"]\nhead = ["0 m", "-0.1 m"]\nrate = "1 N/mm"\nfree_length = "0.3 m"\n'
        'limit_length = "0.6 m"\n[[torsion]]\nmoment = "9 N m"\nper_degree = "0.1 N m"\n[[cord]]\n'
        'foot = ["0.4 m", "-0.2 m"]\nhead = ["0 m", "-0.1 m"]\nslack_length = "0.3 m"\n'
        'point = [{ length = "0.5 m", force = "90 N" }]\n'
    ),
}


ALONG = {"shell.height_rear", "shell.height_front", "shell.overhang_rear"}
"""Sizes along the van: a file that writes one for a roof hinged at a side is refused (project/test_faults.py)."""


OF_HINGES = {"fit.axis_height", "fit.packer_least"}
"""Sizes of a hinge and of what lies under it, as their meanings say."""


def not_of_this_roof(project: Project) -> set[str]:
    """Return the keys that a roof of this kind does not have; their meanings say so, and forms fold them away."""
    gone = ALONG if project.linkage.end in SIDES else set()
    if project.linkage.kind != "hinge":
        gone = gone | OF_HINGES
    if project.linkage.kind not in ("hinge", "four-bar"):
        # Pivots far below the roof, and guides, push on no plate in the ring.
        gone = gone | {"fit.plate_width"}
    if project.ring.shape == "flat":
        gone = gone | {"ring.upright"}
    if project.brace is not None and project.brace.kind != "bar":
        gone = gone | {"brace.track_to"}
    if not project.window:
        gone = gone | {"sewing.keep_out"}
    if not project.layer:
        gone = gone | {"stow.bar_below"}
    gone = gone | {f"layer.{number}.bends" for number, layer in enumerate(project.layer) if layer.removable}
    return gone


def left_over(project: Project) -> set[str]:
    """Return the quantities that no answer about this roof asks for; the weighing is settled before."""
    from loftwright.answers.fitted_roof import fitted_rows
    from loftwright.answers.held_roof import held_rows
    from loftwright.answers.walled_roof import walled_rows

    answers = (draw_rows(project)[0], held_rows(project)[0], walled_rows(project)[0], fitted_rows(project)[0])
    asked = {path for rows in answers for path in rows.columns}
    quantities = assemble.quantities(project)

    def counts(path: str) -> bool:
        # A key that was left out follows another one, and the two are drawn as one.
        return path in asked or (path in quantities and quantities[path].same_as in asked)

    elsewhere = {"weighing", *PROVED_IN}
    return {path for path in walk(project) if path.split(".")[0] not in elsewhere and not counts(path)}


@pytest.mark.parametrize("name", PROJECTS)
def test_every_quantity_is_asked_for(name: str) -> None:
    project = PROJECTS[name]
    assert left_over(project) == set(ELSEWHERE) | not_of_this_roof(project)


@pytest.mark.parametrize("section", PROVED_IN)
def test_keys_that_count_elsewhere_are_proved_there(section: str) -> None:
    file, name = PROVED_IN[section]
    path = Path(__file__).parents[1] / "unit" / file
    tree = ast.parse(path.read_text(encoding="utf-8"))
    (proof,) = (node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name == name)
    # A proof that names every key of its section cannot pass over one that is added.
    table = next(m.table for m in members(Project) if m.key == section)
    assert table is not None
    assert f"members({table.__name__})" in ast.unparse(proof)
