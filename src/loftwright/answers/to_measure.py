"""What a builder could still measure on this roof, and what would be read in each of its draws."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.draws import Rows, joint
from loftwright.core.motion import Array
from loftwright.core.uncertain import Provenance, normal
from loftwright.core.units import MEASURED_DOUBT, MEASURED_SHARE, Dimension
from loftwright.project import assemble
from loftwright.project.model import Project, key_of
from loftwright.project.plane import plane_of, size
from loftwright.reference.measuring import MEASUREMENTS, Measurement, measurement

MOST_READINGS: Final = 3
"""Readings of one task that count: the draws cannot be split finer."""
WORTH_READING: Final = 0.7
"""A reading whose doubt is more than this share of what is known already is not worth taking [1]: judgement."""

_WEIGHT = ("shell.mass", "shell.mass_by_area", "shell.centre", "shell.centre_from_rear_rim")
_HEIGHT = ("shell.centre_above_rim", "shell.centre_height")
_NEAR, _FAR = 0.05, 0.95
"""Where the battens lie under a shell that is weighed, as shares of its length: judgement."""
_STEEP = np.radians(30.0)
"""How steeply the shell stands when it is weighed for its height: judgement."""


@dataclass(frozen=True, slots=True)
class Task:
    """Something to measure: how, which inputs it settles, and what is read [readings, draws] in any unit."""

    how: Measurement
    paths: tuple[str, ...]
    readings: Array


def doubt_of(path: str, nominal: float) -> float:
    """Return two standard deviations of a household reading of the input at `path` [its unit], as the file takes it."""
    dimension = key_of(path).dimension
    if dimension in MEASURED_DOUBT:
        return float(MEASURED_DOUBT[dimension])
    return float(MEASURED_SHARE) * abs(nominal)


def tasks(project: Project, rows: Rows, seed: int) -> tuple[Task, ...]:
    """Return every measurement worth taking, with what would be read in each joint draw, the tool's error added.

    Decisions are not measured, nor is what is known better than a household reading would tell.
    """
    grouped: dict[Measurement, list[tuple[str, Array]]] = {}
    count = rows.draws.stop - rows.draws.start

    def error(name: str, two_sd: float) -> Array:
        return joint(normal(0.0, two_sd), f"reading.{name}", count, seed)

    for path in rows.columns:
        known, how = rows.inputs[path].value, measurement(path)
        if how is None or known.spread <= 0 or known.provenance in (Provenance.GIVEN, Provenance.SUGGESTED):
            continue
        if path in (*_WEIGHT, *_HEIGHT):
            continue
        doubt = doubt_of(path, known.nominal)
        if doubt < WORTH_READING * known.spread:
            grouped.setdefault(how, []).append((path, rows(path)[rows.draws] + error(path, doubt)))
    found = [
        Task(how, tuple(path for path, _ in some), np.array([reading for _, reading in some]))
        for how, some in ((how, _widest(rows, some)) for how, some in grouped.items())
    ]
    return (*_weighings(project, rows, error), *found)


def _widest(rows: Rows, some: list[tuple[str, Array]]) -> list[tuple[str, Array]]:
    """Return the readings that are most in doubt, few enough to be split by."""

    def doubt(pair: tuple[str, Array]) -> float:
        known = rows.inputs[pair[0]].value
        return known.spread / max(abs(known.nominal), 1e-9)

    return sorted(some, key=doubt, reverse=True)[:MOST_READINGS]


def _weighings(project: Project, rows: Rows, error: Callable[[str, float], Array]) -> list[Task]:
    """Return weighing both ends, balancing, and weighing steeply, where that is worth it.

    On battens l apart, of which the scales are under one, R = m (x - a) / l (1); standing steeply at an angle, the
    height follows from the reading with the doubt dR l / (m tan angle) (2). Derived here by moments.
    """
    asked = [path for path in (*_WEIGHT, *_HEIGHT) if path in rows.columns and rows.inputs[path].value.spread > 0]
    shell = assemble.bare_shell(project, rows)
    mass, along, height = (np.broadcast_to(v, rows.count)[rows.draws] for v in (shell.mass, shell.x, shell.z))
    plane = plane_of(project)
    length, behind = size(project, plane.shell), size(project, plane.overhang)
    scales = float(MEASURED_DOUBT[Dimension.MASS])
    apart = (_FAR - _NEAR) * length
    share = (along + behind - _NEAR * length) / apart
    found = []
    weight = tuple(path for path in asked if path in _WEIGHT)
    if weight:
        ends = np.array([mass * (1 - share) + error("rear", scales), mass * share + error("front", scales)])
        found.append(Task(MEASUREMENTS["shell.mass"], weight, ends))
        place = tuple(path for path in weight if path.startswith("shell.centre"))
        # Rolling a pipe to where neither end drops is good to a centimetre: judgement.
        if place and rows.inputs[place[0]].value.spread > BALANCED / WORTH_READING:
            found.append(Task(MEASUREMENTS["shell.centre"], place, (along + error("pipe", BALANCED))[None]))
    upright = tuple(path for path in asked if path in _HEIGHT)
    doubt = scales * apart / (float(mass.mean()) * float(np.tan(_STEEP)))
    if upright and doubt < WORTH_READING * rows.inputs[upright[0]].value.spread:
        found.append(Task(MEASUREMENTS[_HEIGHT[0]], upright, (height + error("steep", doubt))[None]))
    return found


BALANCED: Final = 0.01
"""Doubt of a shell's balance point found with a pipe, two standard deviations [m]: judgement."""
