"""What every question about fit and strength starts from: one project's roof in as many rows as are asked for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.motion import Array
from loftwright.mechanics.feel import Feel, Roof, feel
from loftwright.plan.scout import Outline
from loftwright.project import assemble
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.project.plane import Plane, plane_of

STATIONS = 25
"""Stations over the travel: loads on parts change slowly."""


@dataclass(frozen=True, slots=True)
class Basis:
    """One project's roof, moved and felt, for every row of `at`.

    `roof` and `felt` are the mechanics' own, [rows, travel]; `outline` is the shell's. Nothing in here is judged.
    """

    project: Project
    at: Values
    roof: Roof
    felt: Feel
    outline: Outline

    @property
    def plane(self) -> Plane:
        """The plane in which the shell moves."""
        return plane_of(self.project)

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return int(self.roof.possible.size)

    def full(self, value: Array | float) -> Array:
        """Return a value for every row, [rows]; its unit stays."""
        return np.broadcast_to(np.asarray(value, dtype=np.float64), (self.rows,))


def basis(project: Project, at: Values, sense: Array | None = None) -> tuple[Basis, Array]:
    """Return the roof for every row, and the turning sense of arm a to hand to further rows.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    roof, turning = assemble.roof(project, at, stations=STATIONS, sense=sense)
    return Basis(project, at, roof, feel(roof), assemble.outline(project, at)), turning
