"""From what a shell is built from to how stiff it is and what its skin bears, for every row."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.core.motion import Array
from loftwright.plan.scout import Outline
from loftwright.project.assemble import STIFFNESS
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.project.plane import plane_of, size
from loftwright.project.shell_tested import bending_tested, twist_per_radian
from loftwright.reference.laminate import SKINS
from loftwright.reference.sheets import SHEETS
from loftwright.strength.plate_support import Field, sandwich_field, solid_field
from loftwright.strength.shell_stiffness import stiffness_by_layup

RIBS: Final = (0.4, 0.6)
"""Distances between ribs or battens of a thin skin, across and along [m]: judgement, none is written in the file."""
SHEET_OF: Final = {
    "foam-plywood": "plywood",
    "plywood": "plywood",
    "glass-fibre": "glass mat laminate",
    "aluminium-skin": "aluminium 5754 H22",
}
"""What bears bending in the skin of each kind of shell."""


@dataclass(frozen=True, slots=True)
class ShellStiffness:
    """Stiffness of the shell from its hinged end to its lip, [rows].

    `bending` EI and `twist` GJ [N m2]; `twist` is None where nobody measured it: trays of one build differ too much.
    """

    bending: Array
    twist: Array | None


def _between(ends: tuple[float, float], share: Array) -> Array:
    """Return what lies between a light and a sturdy build at `share` [1], [rows], even in the logarithm."""
    low, high = ends
    return np.asarray(low * (high / low) ** share)


def shell_stiffness(project: Project, at: Values, outline: Outline) -> ShellStiffness:
    """Return how stiff the shell is: along as tested, else between a light and a sturdy build of its kind.

    In twist only as measured.
    """
    per_radian, tested = twist_per_radian(project, at), bending_tested(project, at)
    length = np.asarray(outline.shell_length, dtype=np.float64)
    twist = None if per_radian is None else np.asarray(per_radian * length)
    if tested is not None:
        return ShellStiffness(tested, twist)
    plane = plane_of(project)
    lowest = min(size(project, plane.heights[0]), size(project, plane.heights[2]))
    found = stiffness_by_layup(project.shell.made_of, size(project, plane.shell_across), lowest)
    return ShellStiffness(_between(found.bending, at(STIFFNESS)), twist)


@dataclass(frozen=True, slots=True)
class TopSkin:
    """A field of the closed roof's skin and the bending stress that it bears with its safety taken off [Pa], [rows]."""

    field: Field
    strength: Array
    safety: Array


def top_skin(project: Project, at: Values, outline: Outline, thickness: Array) -> TopSkin | None:
    """Return the field of skin on which snow or a foot rests; None where nobody knows what the shell is built from.

    Two skins on a core reach from side to side, a single skin from rib to rib. `thickness` of the shell [m], [rows].
    """
    skins = SKINS.get(project.shell.made_of)
    if skins is None:
        return None
    share, sheet = at(STIFFNESS), SHEETS[SHEET_OF[project.shell.made_of]]
    modulus = _between(skins.modulus, share)
    outer = skins.outer[0] + (skins.outer[1] - skins.outer[0]) * share
    safety = at("safety.metal") if sheet.family == "aluminium" else at("safety.laminate")
    if skins.shears:
        inner = skins.inner[0] + (skins.inner[1] - skins.inner[0]) * share
        skin = (outer + inner) / 2
        sides = outline.shell_length, at(plane_of(project).shell_across)
        field = sandwich_field(
            np.minimum(*sides), np.maximum(*sides), np.maximum(thickness - outer - inner, 0.001), skin, modulus
        )
    else:
        skin = thickness if project.shell.made_of == "glass-fibre" else outer
        field = solid_field(RIBS[0] + 0 * skin, RIBS[1] + 0 * skin, skin, modulus)
    return TopSkin(field, sheet.bends + 0 * share, safety)
