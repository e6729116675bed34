"""How stiff the shell is by a test at home, a known weight and a tape, and how much its readings tell, every row."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.core.motion import Array
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.project.plane import plane_of
from loftwright.strength.shell_stiffness import bending_from_test, reading_doubt, twist_from_test

TAPE: Final = 0.001
"""Least doubt of one reading [m]: judgement, a millimetre by tape or rule."""


def bending_tested(project: Project, at: Values) -> Array | None:
    """Return the shell's bending stiffness EI by its test [N m2], [rows]; None without a whole one."""
    shell = project.shell
    if shell.bend_weight is None or shell.bend_span is None or shell.bend_sinks is None:
        return None
    weight = at("shell.bend_weight") * STANDARD_GRAVITY
    return bending_from_test(weight, at("shell.bend_span"), at("shell.bend_sinks"))


def twist_tested(project: Project, at: Values) -> Array | None:
    """Return the shell's twist stiffness GJ by its test [N m2], [rows]; None without a whole one."""
    shell, plane = project.shell, plane_of(project)
    if shell.twist_weight is None or shell.twist_sinks is None:
        return None
    weight = at("shell.twist_weight") * STANDARD_GRAVITY
    return twist_from_test(weight, at(plane.shell_across), at(plane.shell), at("shell.twist_sinks"))


def twist_known(project: Project) -> bool:
    """Return whether the shell's stiffness in twist is written, or a whole test of it."""
    shell = project.shell
    return shell.twist_moment is not None or not (shell.twist_weight is None or shell.twist_sinks is None)


def twist_per_radian(project: Project, at: Values) -> Array | None:
    """Return the moment that twists the shell by one radian from end to end [N m], [rows].

    As it is written, else by the test; None where neither is known.
    """
    if project.shell.twist_moment is not None:
        return np.asarray(at("shell.twist_moment") / np.radians(1.0))
    tested = twist_tested(project, at)
    return None if tested is None else np.asarray(tested / at(plane_of(project).shell))


def _doubt(weight: Uncertain, sinks: Uncertain, lengths: float) -> Array:
    # What sinks is the difference of two readings.
    tape = max(sinks.spread / np.sqrt(2.0), TAPE)
    return reading_doubt(weight.nominal, weight.spread, sinks.nominal, tape, lengths=lengths)


def doubts_of_tests(project: Project) -> dict[str, Array]:
    """Return the doubt of each test's stiffness as a part of it [1], two standard deviations, as it was written."""
    shell, found = project.shell, {}
    across, along = shell.width, shell.length
    if plane_of(project).shell != "shell.length":
        across, along = along, across
    if shell.bend_weight is not None and shell.bend_span is not None and shell.bend_sinks is not None:
        span = shell.bend_span
        found["bending test"] = _doubt(shell.bend_weight, shell.bend_sinks, 3 * span.spread / span.nominal)
    if shell.twist_weight is not None and shell.twist_sinks is not None:
        lengths = np.hypot(2 * across.spread / across.nominal, along.spread / along.nominal)
        found["twist test"] = _doubt(shell.twist_weight, shell.twist_sinks, float(lengths))
    return found
