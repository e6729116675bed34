"""Faults of what is written on cloth walls, at the nominal values."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from loftwright.core.errors import Fault
from loftwright.core.uncertain import Uncertain, is_known
from loftwright.project.model import Project
from loftwright.project.possible_springs import CHECK, TOUCH, said

LEAST_ROLL = 0.2
"""A roll of which less is left between its edges is no roll [m]: judgement."""


def wall_faults(project: Project) -> list[Fault]:
    """Return every fault of these sections, in the order of the file."""
    parts = (_lines, _seams, _layers, _windows)
    return [fault for part in parts for fault in part(project)]


def _lines(project: Project) -> Iterator[Fault]:
    walls = project.walls
    wide, long = project.opening.width.nominal, project.opening.length.nominal
    low = (min(wide, long) / 2 + walls.lower_outset.nominal, walls.lower_radius, "lower_radius", "the lower line")
    up = (
        min(project.shell.width.nominal, project.shell.length.nominal) / 2 - walls.upper_inset.nominal,
        walls.upper_radius,
        "upper_radius",
        "the upper line",
    )
    for half, radius, key, line in (low, up):
        if radius is not None and is_known(radius) and radius.nominal > half + TOUCH:
            yield Fault(
                f"[walls] {key}",
                said(project, radius.nominal),
                f"half of {line}'s shorter side is {said(project, half)}",
                CHECK,
            )


def _seams(project: Project) -> Iterator[Fault]:
    places = sorted((seam.at.nominal, number) for number, seam in enumerate(project.seam, 1))
    for (one, _), (other, number) in pairwise(places):
        if other - one < LEAST_ROLL / 2:
            yield Fault(
                f"[[seam]] {number} at",
                said(project, other),
                f"another seam runs at {said(project, one)}, and a panel has some width",
                "take one of them out",
            )
    round_it = 2 * (project.opening.width.nominal + project.opening.length.nominal) + 8 * max(
        project.walls.lower_outset.nominal, 0.0
    )
    for place, number in places:
        if place > round_it:
            yield Fault(
                f"[[seam]] {number} at",
                said(project, place),
                f"the lower line is at most {said(project, round_it)} long",
                CHECK,
            )


def _layers(project: Project) -> Iterator[Fault]:
    outer = [number for number, layer in enumerate(project.layer, 1) if layer.role == "outer"]
    if project.layer and not outer:
        yield Fault("[[layer]]", "no outer cloth", "a wall has one", 'write role = "outer" for one of them')
    for number in outer[1:]:
        yield Fault(
            f"[[layer]] {number} role",
            '"outer"',
            f"number {outer[0]} is the outer cloth already",
            "write lining or insulation, or take one out",
        )
    for number, layer in enumerate(project.layer, 1):
        usable = layer.roll_width.nominal - 2 * layer.selvedge.nominal
        if usable < LEAST_ROLL:
            yield Fault(
                f"[[layer]] {number} selvedge",
                said(project, layer.selvedge.nominal),
                f"both edges leave {said(project, max(usable, 0.0))} of the roll",
                CHECK,
            )


def _windows(project: Project) -> Iterator[Fault]:
    for number, window in enumerate(project.window, 1):
        half: float = min(window.width.nominal, window.height.nominal) / 2
        radius: Uncertain = window.corner_radius
        if radius.nominal > half + TOUCH:
            yield Fault(
                f"[[window]] {number} corner_radius",
                said(project, radius.nominal),
                f"half of its shorter side is {said(project, half)}",
                CHECK,
            )
