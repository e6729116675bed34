"""Walls for tests of their pieces: a new roof with layers and windows, planned row and all rows."""

from __future__ import annotations

import re
from functools import cache
from types import SimpleNamespace
from typing import Any

from loftwright.answers.draws import Nominal, rows
from loftwright.answers.held_basis import basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.walled_lines import the_lines
from loftwright.answers.walled_panels import the_panels
from loftwright.answers.walled_pieces import the_pieces
from loftwright.core.checks import Check, worst_first
from loftwright.project.file import loads
from loftwright.project.newfile import FiveAnswers, new_project

LAYERS = """
[[layer]]
name = "canvas"
role = "outer"
thickness = "0.6 mm"
shrink_along = "3 %"
shrink_across = "1 %"
[[layer]]
name = "fleece"
role = "insulation"
thickness = "8 mm"
stops_short = "100 mm"
shrink_along = "0 %"
shrink_across = "0 %"
[[layer]]
name = "cotton"
role = "lining"
thickness = "0.3 mm"
shrink_along = "0 %"
shrink_across = "0 %"
"""


def window(wall: str = "rear", **keys: str) -> str:
    """Return one [[window]] as text."""
    given = {"width": "500 mm", "height": "200 mm", "bottom": "120 mm", **keys}
    body = "".join(
        f"{key} = {value if value in ('true', 'false') else chr(34) + value + chr(34)}\n"
        for key, value in given.items()
    )
    return f'[[window]]\nname = "{given.get("name", wall + " window")}"\nwall = "{wall}"\n' + re.sub(
        r"name = .*\n", "", body
    )


def written(lifts: str = "hinge front", **changes: str) -> str:
    """Return a new file; changes are "section__key" and their values as TOML."""
    text = new_project(FiveAnswers(lifts=lifts, opening_length="1.9 m", opening_width="1.1 m"))
    for path, value in {"settings__draws": "50", **changes}.items():
        section, key = path.split("__")
        head, _, rest = text.partition(f"\n[{section}]\n")
        body, mark, after = rest.partition("\n[")
        body = re.sub(rf"(?m)^(# )?{key} = .*$", f"{key} = {value}", body, count=1)
        assert f"{key} = {value}" in body
        text = f"{head}\n[{section}]\n{body}{mark}{after}"
    return text


@cache
def planned(text: str) -> Any:
    """Return lines, panels and pieces of the planned row."""
    base = basis(loads(text), Nominal(inputs_of(loads(text))))[0]
    lines = the_lines(base)
    panels = the_panels(base, lines)
    return SimpleNamespace(base=base, lines=lines, panels=panels, pieces=the_pieces(base, lines, panels))


@cache
def judged(text: str) -> tuple[Any, tuple[Check, ...]]:
    """Return the walls in all rows as views take them, and their checks, worst first."""
    project = loads(text)
    nominal = Nominal(inputs_of(project))
    base, sense = basis(project, nominal)
    lines = the_lines(base)
    the_pieces(base, lines, the_panels(base, lines))
    drawn = rows(nominal.inputs, nominal.asked, project.settings.draws, project.settings.seed)
    base = basis(project, drawn, sense)[0]
    lines = the_lines(base)
    panels = the_panels(base, lines)
    found = SimpleNamespace(basis=base, lines=lines, panels=panels, pieces=the_pieces(base, lines, panels))
    checks = tuple(decide(one, drawn, base.roof.possible) for one in found.pieces.judged)
    return SimpleNamespace(project=project, rows=drawn, found=found), worst_first(checks)


FULL = written(stow__pull='"cords"') + LAYERS + window() + window("left", bottom="60 mm", height="150 mm")
"""All layers and two windows, one of them in a crease; the cavity is unknown."""
BOUND = written("level arms", sewing__lower_edge='"binding"', sewing__upper_edge='"track"')
"""Bound below and on a track above, no layer and no window."""
INSULATED = written("scissor") + LAYERS.partition('[[layer]]\nname = "cotton"')[0]
"""Insulation and no lining."""
