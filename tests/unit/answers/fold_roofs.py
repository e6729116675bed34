"""A plain roof hinged in front, of round sizes, and the fold worked out for it without the rest of the walls."""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any, cast

import numpy as np

from loftwright.answers.draws import Nominal, Rows, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptWalls
from loftwright.answers.walled_fold import FoldFound, the_fold
from loftwright.answers.walled_lines import LinesFound, the_lines
from loftwright.answers.walled_panels import PanelsFound
from loftwright.answers.walled_roof import WallNumbers
from loftwright.cloth.chain import Drive, Folded, Room, Start, Strand
from loftwright.project.file import loads
from loftwright.project.model import Project

CANVAS = (
    '[[layer]]\nname = "canvas"\nrole = "outer"\nmass = "0.35 kg/m2"\nthickness = "0.6 mm"\nbends = "40 mm, measured"\n'
)
FLEECE = (
    '[[layer]]\nname = "fleece"\nrole = "insulation"\nmass = "0.2 kg/m2"\nthickness = "3 mm"\n'
    'bends = "45 mm, measured"\n'
)
STOW = {
    "cavity": "60 mm, measured",
    "depth": "600 mm, measured",
    "drop": "0 mm, measured",
    "ledge": "20 mm, measured",
    "vent": "1.5 m2, measured",
    "seconds": "10 s",
}
CORDS = {"pull": "cords", "pull_force": "3 N/m, measured"}


def roof(
    *, layers: str = CANVAS, more: str = "", opens: str = "25 deg", end: str = "front", line: str = "10 mm", **stow: Any
) -> Project:
    """Return a roof 2.0 by 1.2 m whose upper line lies above the lower one when closed."""
    keys = "".join(
        f"{name} = {str(value).lower() if isinstance(value, bool | int) else chr(34) + str(value) + chr(34)}\n"
        for name, value in {**STOW, **stow}.items()
    )
    hinge = '["2.05 m", "50 mm"]' if end == "front" else '["-50 mm", "50 mm"]'
    return loads(
        'format = 1\nname = "plain"\n[settings]\ndraws = 50\n[roof]\ncrown = "0 mm"\ncamber = "0 mm"\n'
        '[opening]\nlength = "2 m"\nwidth = "1.2 m"\n'
        '[shell]\nlength = "2.1 m"\nwidth = "1.3 m"\noverhang_rear = "50 mm"\nrim_height = "40 mm"\nmass = "45 kg"\n'
        f'[linkage]\nkind = "hinge"\nend = "{end}"\nopens = "{opens}"\nhinge = {hinge}\nspacing = "1 m"\n'
        f'[cut]\ncorner_radius = "150 mm"\n[walls]\nlower_outset = "0 mm"\nlower_height = "{line}"\n'
        f'upper_inset = "50 mm"\nupper_height = "30 mm"\nease = "8 mm"\n{layers}{more}'
        '[fit]\nrim_front = "0 mm"\nrim_rear = "0 mm"\nrim_sides = "0 mm"\nrim_twist = "0 mm"\n'
        f"[stow]\n{keys}"
    )


@dataclass(frozen=True, slots=True)
class Worked:
    """The fold with what it came from."""

    project: Project
    base: Basis
    rows: Rows
    lines: LinesFound
    fold: FoldFound
    kept: KeptWalls

    def numbers(self, **more: Any) -> WallNumbers:
        """Return it as the numbers of the walls, without the parts that the fold does not read."""
        found = SimpleNamespace(basis=self.base, lines=self.lines, fold=self.fold, **more)
        return cast(WallNumbers, SimpleNamespace(project=self.project, rows=self.rows, found=found, kept=self.kept))


def worked(project: Project, kept: KeptWalls = NOTHING_KEPT) -> Worked:
    """Return the fold for all rows of a project."""
    asked = Nominal(inputs_of(project))
    first, sense = basis(project, asked)
    the_fold(first, the_lines(first), panels(first), kept)
    for number in range(len(project.layer)):
        first.at(f"layer.{number}.mass")
    every = rows(asked.inputs, asked.asked, project.settings.draws, project.settings.seed)
    base = basis(project, every, sense)[0]
    lines = the_lines(base)
    return Worked(project, base, every, lines, the_fold(base, lines, panels(base), kept), kept)


def panels(base: Basis) -> PanelsFound:
    """Return of the panels what the fold reads."""
    return cast(PanelsFound, SimpleNamespace(ease=base.full(base.at("walls.ease"))))


def falls(way: str, depth: float = 0.2, lift: float = 1.0) -> Any:
    """Return what stands in for the chain: every strip falls straight to one side; "by turns" to both."""

    def run(strand: Strand, drive: Drive, room: Room, start: Start) -> Folded:
        side = {"in": 1.0, "out": -1.0}.get(way, 1.0 if start.seed % 2 else -1.0)
        reach = depth + 0.001 * start.seed
        line = np.linspace(0.0, 1.0, 85)
        points = np.stack([side * reach * np.sin(np.pi * line), drive.z[-1] * line], axis=-1)
        shares = np.linspace(0.0, 1.0, 61)
        frames = np.stack([np.stack([part * points[:, 0], points[:, 1] * (2.0 - part)], axis=-1) for part in shares])
        k = len(drive.u) - 1
        inward, outward = (reach, 0.0) if side > 0 else (0.0, reach)
        return Folded(
            points, inward, outward, 0.03, lift, 1e-9, 0.0, 10, 1e-4, frames, shares * k, np.full(61, lift / 2.0)
        )

    return run
