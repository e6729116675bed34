"""What no gas spring can be, mounted or at hand; and how faults of geometry are put into words."""

from __future__ import annotations

import math
from collections.abc import Iterator

from loftwright.core.choices import Units
from loftwright.core.errors import Fault
from loftwright.core.uncertain import Provenance, Uncertain
from loftwright.core.units import Dimension
from loftwright.project.choice_sections import AtHand
from loftwright.project.model import Project
from loftwright.project.motion_sections import Spring
from loftwright.project.plane import plane_of, size
from loftwright.project.points import Point
from loftwright.project.reading import say
from loftwright.project.spring_doubt import LEAST_FIRST_FORCE, first_force

TOUCH = 1e-4
"""Lengths closer than this [m] count as equal."""

SAME_PLACE = 0.001
"""Points closer than this [m] count as one."""

HAND_REACH = 0.3
"""How far a handle or what is bolted on may lie beyond the shell's ends [m]."""

CHECK = "measure again and correct one of the two"


def said(project: Project, value: float, dimension: Dimension = Dimension.LENGTH) -> str:
    """Return a value [SI] as messages say it, in the builder's units."""
    return say(value, dimension, project.settings.units)


def said_place(project: Project, point: Point) -> str:
    """Return a point as the file writes it."""
    return f'["{said(project, point.x.nominal)}", "{said(project, point.z.nominal)}"]'


def distance(one: Point, other: Point) -> float:
    """Return the distance between two points [m]."""
    return math.hypot(one.x.nominal - other.x.nominal, one.z.nominal - other.z.nominal)


def ends(project: Project) -> tuple[float, float]:
    """Return x of the closed shell's rear and front end, of one hinged at a side its left and right [m]."""
    plane = plane_of(project)
    rear = -size(project, plane.overhang)
    return rear, rear + size(project, plane.shell)


def written_ends(value: Uncertain) -> tuple[float, float]:
    """Return the ends of a range that was written [SI], or the middle twice where the value is unknown."""
    return (value.nominal, value.nominal) if value.provenance is Provenance.UNKNOWN else (value.low, value.high)


def spring_faults(project: Project) -> Iterator[Fault]:
    """Yield the faults of the springs that are mounted."""
    for number, spring in enumerate(project.spring):
        yield from _spring(project, f"[[spring]] {number + 1}", spring)


def _spring(project: Project, where: str, spring: Spring) -> Iterator[Fault]:
    if project.linkage.kind in ("hinge", "guides"):
        for name in ("foot_on", "head_on"):
            body = getattr(spring, name)
            if body.startswith("arm"):
                yield Fault(
                    f"{where} {name}",
                    f'"{body}"',
                    "a hinged roof has no arms" if project.linkage.kind == "hinge" else "guides have no arms",
                    f'write "{"van" if name == "foot_on" else "shell"}"',
                )
    if spring.foot_on == spring.head_on:
        yield Fault(
            f"{where} head_on",
            f'"{spring.head_on}"',
            "both ends are on the same part and nothing is pushed",
            "put one end on another part",
        )
    if distance(spring.foot, spring.head) < SAME_PLACE:
        yield Fault(
            f"{where} head",
            said_place(project, spring.head),
            "it lies on the foot",
            "write where the head's ball stud sits on the closed shell",
        )
    yield from gas_spring_faults(project.settings.units, where, spring)
    if 2 * spring.end_margin.nominal >= spring.stroke.nominal - TOUCH:
        yield Fault(
            f"{where} end_margin",
            said(project, spring.end_margin.nominal),
            f"two of them leave nothing of a stroke of {said(project, spring.stroke.nominal)}",
            "write a smaller margin",
        )
    side = size(project, plane_of(project).shell_across) / 2
    if spring.place.nominal > side + TOUCH:
        yield Fault(
            f"{where} place",
            said(project, spring.place.nominal),
            f"lies outside the shell, whose side is {said(project, side)} from the middle",
            "measure from the middle of the roof",
        )


def gas_spring_faults(units: Units, where: str, spring: Spring | AtHand) -> Iterator[Fault]:
    """Yield the faults of a gas spring by itself; a force that was tested at home counts instead of the listed one."""
    tested = isinstance(spring, AtHand) and spring.home_test is not None
    if not tested and (left := first_force(spring)) < LEAST_FIRST_FORCE:
        yield Fault(
            f"{where} friction",
            _span(spring.friction, units),
            f"more than the force listed: {_span(spring.force, units)} listed as {spring.force_is} leave "
            f"{say(left, Dimension.FORCE, units)} to push with",
            "check force, force_is, friction and friction_is",
        )
    if spring.rod_diameter.nominal >= spring.tube_diameter.nominal:
        yield Fault(
            f"{where} rod_diameter",
            say(spring.rod_diameter.nominal, Dimension.LENGTH, units),
            f"the rod does not fit a tube of {say(spring.tube_diameter.nominal, Dimension.LENGTH, units)}",
            "swap them or measure again",
        )
    if spring.extended_length.nominal < 2 * spring.stroke.nominal - TOUCH:
        yield Fault(
            f"{where} extended_length",
            say(spring.extended_length.nominal, Dimension.LENGTH, units),
            f"a tube that takes in a stroke of {say(spring.stroke.nominal, Dimension.LENGTH, units)} makes the spring "
            f"at least {say(2 * spring.stroke.nominal, Dimension.LENGTH, units)} long",
            CHECK,
        )


def _span(force: Uncertain, units: Units) -> str:
    """Return a force as messages say it, with the ends of its range where it was written with one."""
    low, high = written_ends(force)
    if low == high:
        return say(force.nominal, Dimension.FORCE, units)
    return f"{say(low, Dimension.FORCE, units)} to {say(high, Dimension.FORCE, units)}"
