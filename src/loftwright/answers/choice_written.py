"""The chosen springs as changes of the project file."""

from __future__ import annotations

from loftwright.answers.choose import Chosen
from loftwright.answers.choose_holes import HoleNumbers, drilled_holes
from loftwright.answers.choose_roofs import fitted_with
from loftwright.answers.choose_search import NOTHING_WORKS, Candidate
from loftwright.answers.odds_words import of_100
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Uncertain, exact
from loftwright.core.units import Dimension
from loftwright.project.model import Project, key_of, walk

ENDS = ("foot.x", "foot.z", "head.x", "head.z")
WORDS = ("name", "per_side", "foot_on", "head_on", "force_is", "friction_is")
SAME = ("end_margin", "bracket_limit", "own_speed", "feet", "heads")
"""Keys that stay as the file has them."""


def as_changes(
    chosen: Chosen, candidate: Candidate | None = None, *, asked: str = "--write"
) -> dict[str, str | int | bool | None]:
    """Return what `project.file.edit` is to write so that the file has the chosen springs in their holes.

    Where a row of holes insures them, it is written too, with the spring in the place to start with. With a
    `candidate`, one of the choices, its springs are written in the place that they have alone, without a row. `asked`
    is what faults call the wish to write.

    Errors: ProjectFault where nothing was found, or the file has several kinds of springs.
    """
    best = chosen.best if candidate is None else candidate
    if best is None:
        raise ProjectFault([Fault(asked, "asked for", "no springs were found", "change the zones or the list")])
    if best.odds < NOTHING_WORKS:
        allowed = "so few are not worth drilling for, and nothing was written"
        do = "look at what stands in the way, measure or change that, and choose again"
        raise ProjectFault(
            [Fault(asked, f"asked for with springs that work in {of_100(best.odds)} roofs", allowed, do)]
        )
    before = chosen.project
    if len(before.spring) > 1:
        kinds = f"{len(before.spring)} kinds of springs"
        do = "take all but one [[spring]] out first"
        raise ProjectFault([Fault(asked, kinds, "the choice is of one kind", do)])
    if drilled_holes(before) is not None:
        do = "take feet and heads out of [[spring]] to choose anew"
        raise ProjectFault([Fault(asked, "asked for where holes are drilled", "the file says where they are", do)])
    holes = chosen.holes if candidate is None else None
    fit = best.fit if holes is None else holes.fit
    after = fitted_with(chosen.project, chosen.listed.entries, chosen.pairs, fit)
    spring = after.spring[0]
    written: dict[str, str | int | bool | None] = {}
    if chosen.prop_needed:
        # The odds are those of a roof with a prop.
        written["requirements.prop_fitted"] = True
    if fit.entry == chosen.own:
        # The file's own springs only move.
        written |= {f"spring.0.{end}": _text(after, f"spring.0.{end}") for end in ENDS}
    else:
        written |= {f"spring.0.{key}": getattr(spring, key) for key in WORDS}
        paths = [path for path in walk(after) if path.startswith("spring.0.")]
        written |= {path: _text(after, path) for path in paths if path.split(".")[2] not in SAME}
    return written if holes is None else written | _drilled(holes, project=after)


def _drilled(holes: HoleNumbers, project: Project) -> dict[str, str | int | bool | None]:
    """Return all holes of a row, so that every later answer and paper means these."""
    units = project.settings.units
    return {
        f"spring.0.{name}.{number}.{axis}": format_quantity(exact(float(value)), Dimension.LENGTH, units, digits=6)
        for name, row in (("feet", holes.feet), ("heads", holes.heads))
        for number, point in enumerate(row)
        for axis, value in zip("xz", point, strict=True)
    }


def _text(project: Project, path: str) -> str:
    value: Uncertain = walk(project)[path]
    return format_quantity(value, key_of(path).dimension, project.settings.units, digits=6)
