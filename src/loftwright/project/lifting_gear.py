"""Coil springs, torsion springs and cords of a project as the mechanics takes them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from loftwright.core.motion import Array
from loftwright.mechanics.lifters import Between, Coil, Cord, Gear, Torsion
from loftwright.project.lifter_sections import Coil as CoilSection
from loftwright.project.lifter_sections import Cord as CordSection
from loftwright.project.model import Project

Values = Callable[[str], Array]

ALIKE = (
    "Coil springs, torsion springs and cords lift alike in cold, heat and age; whether they come near anything, and "
    "the twist when one is lost, is not reckoned."
)
"""What is taken for granted where there is any of them."""


def _between(part: CoilSection | CordSection, path: str, at: Values) -> Between:
    foot_x, foot_z, head_x, head_z = (at(f"{path}.{end}.{axis}") for end in ("foot", "head") for axis in "xz")
    return Between(part.foot_on, part.head_on, foot_x, foot_z, head_x, head_z, at(f"{path}.sideways"))


def gear(project: Project, at: Values) -> tuple[Gear, ...]:
    """Return every entry of [[coil]], [[torsion]] and [[cord]] as mounted, for every row."""
    found: list[Gear] = []
    for i, coil in enumerate(project.coil):
        path = f"coil.{i}"
        found.append(
            Coil(
                coil.name,
                2 * coil.per_side,
                _between(coil, path, at),
                coil.kind == "pulls",
                at(f"{path}.rate"),
                at(f"{path}.free_length"),
                at(f"{path}.initial"),
                None if coil.limit_length is None else at(f"{path}.limit_length"),
            )
        )
    for i, torsion in enumerate(project.torsion):
        path = f"torsion.{i}"
        on = "shell" if torsion.at == "hinge" else torsion.at
        moment, lost = at(f"{path}.moment"), at(f"{path}.per_degree") / np.radians(1.0)
        found.append(Torsion(torsion.name, 2 * torsion.per_side, on, moment, lost))
    for i, cord in enumerate(project.cord):
        path = f"cord.{i}"
        spots = range(len(cord.point))
        length = np.stack([at(f"{path}.slack_length"), *(at(f"{path}.point.{k}.length") for k in spots)], axis=-1)
        force = np.stack([np.zeros_like(length[..., 0]), *(at(f"{path}.point.{k}.force") for k in spots)], axis=-1)
        found.append(Cord(cord.name, 2 * cord.per_side, _between(cord, path, at), length, force, at(f"{path}.lost")))
    return tuple(found)
