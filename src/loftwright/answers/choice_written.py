"""The chosen springs as changes of the project file."""

from __future__ import annotations

from loftwright.answers.choose import Chosen
from loftwright.answers.choose_search import Candidate
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Uncertain
from loftwright.project.model import key_of, walk

ENDS = ("foot.x", "foot.z", "head.x", "head.z")


def as_changes(chosen: Chosen) -> dict[str, str | int | bool | None]:
    """Return what `project.file.edit` is to write so that the file has the chosen springs in their holes.

    Errors: ProjectFault where nothing was found, or the file has several kinds of springs.
    """
    best = chosen.best
    if best is None:
        raise ProjectFault([Fault("--write", "asked for", "no springs were found", "change the zones or the list")])
    before = chosen.project
    if len(before.spring) > 1:
        kinds = f"{len(before.spring)} kinds of springs"
        do = "take all but one [[spring]] out first"
        raise ProjectFault([Fault("--write", kinds, "the choice is of one kind", do)])
    spring = best.drawn.project.spring[0]
    if before.spring and spring.name == before.spring[0].name:
        # The file's own springs only move.
        return {f"spring.0.{end}": _text(best, f"spring.0.{end}") for end in ENDS}
    words: dict[str, str | int | bool | None] = {
        "spring.0.name": spring.name,
        "spring.0.per_side": spring.per_side,
        "spring.0.foot_on": spring.foot_on,
        "spring.0.head_on": spring.head_on,
        "spring.0.force_is": spring.force_is,
        "spring.0.friction_is": spring.friction_is,
    }
    written = [path for path in walk(best.drawn.project) if path.startswith("spring.0.")]
    same = ("end_margin", "bracket_limit", "own_speed")
    return words | {path: _text(best, path) for path in written if path.split(".")[2] not in same}


def _text(best: Candidate, path: str) -> str:
    project = best.drawn.project
    value: Uncertain = walk(project)[path]
    return format_quantity(value, key_of(path).dimension, project.settings.units, digits=6)
