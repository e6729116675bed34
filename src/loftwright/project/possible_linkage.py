"""What no hinge, arm or guide can be, whatever the numbers say one by one."""

from __future__ import annotations

import math
from collections.abc import Iterator

from loftwright.core.errors import Fault
from loftwright.core.uncertain import Provenance
from loftwright.core.units import Dimension
from loftwright.project.linkage_section import ARM_PINS, PIVOTS
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, end_in_plane, plane_of, size
from loftwright.project.possible_springs import CHECK, TOUCH, distance, ends, said, said_place, written_ends

HINGE_REACH = 0.3
"""How far a hinge axis may lie beyond the shell's end [m]: the length of a stout bracket."""

WIDEST_TURN = math.radians(95)
"""The furthest that a hinged shell may turn [rad]: upright and a little over."""

PARALLEL = 0.005
"""How far parallel arms may differ from each other [m]."""

LEAST_ACROSS = 0.05
"""Least length of crossing arms along the van, and distance between two pairs of shoes [m]."""

LEAST_UP = 0.02
"""How far the upper end of a crossing arm lies above the lower at least when closed [m]."""

MOST_UPRIGHT_DEG = 85.0
"""The steepest that crossing arms may stand [degrees]: a little before they are upright."""

ALL_POINTS = ("hinge", *ARM_PINS, "guide")
OF_GUIDES = ("rise", "guide_far", "guide_length", "guide_friction", "leans")
"""Keys of straight guides besides their place; the first must be written, the next may be left out."""
NEEDED = {
    "rise": "how far the shell slides",
    "guide_length": "how much of a post a shoe holds",
    "guide_friction": "how hard a post rubs in its shoe",
}
HAS = {"hinge": "a hinge has", "scissor": "crossing arms have", "guides": "guides have"}
WRITE_POINT = 'write it like ["1.9 m", "20 mm"], or "unknown"'


def linkage_faults(project: Project) -> Iterator[Fault]:
    """Yield the faults of what carries the shell."""
    linkage = project.linkage
    plane = plane_of(project)
    if plane is CROSSWISE and linkage.kind != "hinge":
        yield Fault(
            "[linkage] end",
            f'"{linkage.end}"',
            "only hinges may sit at a side of the van",
            'write kind = "hinge", or end = "front" or "rear"',
        )
    needed = PIVOTS[linkage.kind]
    whole = True
    for name in (*ALL_POINTS, *OF_GUIDES, "opens"):
        there = getattr(linkage, name) is not None
        of_guides = name in OF_GUIDES or name == "guide"
        if name == "opens":
            fits = wanted = linkage.kind != "guides"
        elif of_guides:
            fits, wanted = linkage.kind == "guides", linkage.kind == "guides" and name in ("guide", *NEEDED)
        else:
            fits = wanted = name in needed
        if there and not fits:
            yield _out_of_place(project, name)
        elif wanted and not there:
            whole = False
            yield _missing(project, name)
    if whole:
        checks = {"hinge": _hinge, "scissor": _crossing, "guides": _guides}
        yield from checks.get(linkage.kind, _arms)(project)
    across = plane.shell_across
    if linkage.spacing.nominal > size(project, across) + TOUCH:
        yield Fault(
            "[linkage] spacing",
            said(project, linkage.spacing.nominal),
            f"is {'wider' if across == 'shell.width' else 'longer'} than the shell at "
            f"{said(project, size(project, across))}",
            CHECK,
        )


def _out_of_place(project: Project, name: str) -> Fault:
    kind = project.linkage.kind
    do = 'take it out or choose another "kind"'
    if kind == "scissor" and name in ARM_PINS:
        return Fault(
            f"[linkage] {name}", "written", "of crossing arms, arm b mirrors arm a and is not written", "take it out"
        )
    if kind == "guides" and name == "opens":
        return Fault("[linkage] opens", "written", "guides do not turn the shell", 'take it out and write "rise"')
    if name == "hinge":
        return Fault(
            "[linkage] hinge",
            "written",
            f'a linkage of the kind "{kind}" has no hinge',
            'take it out or write kind = "hinge"',
        )
    what = "arms" if name in ARM_PINS else "guides"
    return Fault(f"[linkage] {name}", "written", f"{HAS.get(kind, 'arms have')} no {what}", do)


def _missing(project: Project, name: str) -> Fault:
    if name in NEEDED:
        return Fault(f"[linkage] {name}", "missing", NEEDED[name], 'write it, or "unknown"')
    what = {
        "hinge": "where the hinge axis lies",
        "guide": "where the shoes sit on the van",
    }.get(
        name,
        "crossing arms need arm a's two ends" if project.linkage.kind == "scissor" else "arms need all four pivots",
    )
    return Fault(f"[linkage] {name}", "missing", what, WRITE_POINT)


def _crossing(project: Project) -> Iterator[Fault]:
    linkage = project.linkage
    low, high, opens = linkage.arm_a_van, linkage.arm_a_shell, linkage.opens
    assert low is not None
    assert high is not None
    assert opens is not None
    across, up = abs(high.x.nominal - low.x.nominal), high.z.nominal - low.z.nominal
    if across < LEAST_ACROSS:
        yield Fault(
            "[linkage] arm_a_shell",
            said_place(project, high),
            "the arms stand upright when closed and cannot rise",
            "write where arm a's upper end slides when the roof is closed",
        )
        return
    if up < LEAST_UP:
        yield Fault(
            "[linkage] arm_a_shell",
            said_place(project, high),
            "crossing arms that lie flat cannot start; their upper end lies at least "
            f"{said(project, LEAST_UP)} above the lower",
            "raise it or lower arm_a_van",
        )
        return
    most = math.radians(MOST_UPRIGHT_DEG) - math.atan2(up, across)
    if written_ends(opens)[1] > most:
        yield Fault(
            "[linkage] opens",
            said(project, written_ends(opens)[1], Dimension.ANGLE),
            f"beyond {said(project, most, Dimension.ANGLE)} the arms stand upright and the shell rises no further",
            "write less or make the arms longer",
        )
    rear, front = ends(project)
    if not rear - TOUCH <= high.x.nominal <= front + TOUCH:
        yield Fault(
            "[linkage] arm_a_shell",
            said_place(project, high),
            f"it slides along the shell, which reaches from {said(project, rear)} to {said(project, front)}",
            "write where arm a's upper end slides when the roof is closed",
        )


def _guides(project: Project) -> Iterator[Fault]:
    linkage = project.linkage
    near, far = linkage.guide, linkage.guide_far
    assert near is not None
    rear, front = ends(project)
    for name, point in (("guide", near), ("guide_far", far)):
        if point is not None and not rear - HINGE_REACH <= point.x.nominal <= front + HINGE_REACH:
            yield Fault(
                f"[linkage] {name} x",
                said(project, point.x.nominal),
                f"the shell reaches from {said(project, rear)} to {said(project, front)} and no post that far out",
                "measure from the rear edge of the opening towards the cab",
            )
    if far is not None and distance(near, far) < LEAST_ACROSS:
        yield Fault(
            "[linkage] guide_far",
            said_place(project, far),
            "it is one and the same pair of shoes as guide",
            "write where the second pair sits or take it out",
        )


def _hinge(project: Project) -> Iterator[Fault]:
    linkage = project.linkage
    hinge, opens = linkage.hinge, linkage.opens
    assert hinge is not None
    assert opens is not None
    rear, front = ends(project)
    x = hinge.x.nominal
    if not rear - HINGE_REACH <= x <= front + HINGE_REACH:
        yield Fault(
            "[linkage] hinge x",
            said(project, x),
            f"the shell reaches from {said(project, rear)} to {said(project, front)} and no bracket reaches that far",
            plane_of(project).measure,
        )
    elif (x > (rear + front) / 2) != (end_in_plane(project) == "front"):
        plane = plane_of(project)
        other = plane.near if end_in_plane(project) == "front" else plane.far
        yield Fault(
            "[linkage] hinge x",
            said(project, x),
            f'lies in the {other} half of the shell while end is "{linkage.end}"',
            f'write end = "{other}" or move the hinge',
        )
    if opens.nominal > WIDEST_TURN:
        yield Fault(
            "[linkage] opens",
            said(project, opens.nominal, Dimension.ANGLE),
            f"a hinged shell stands upright before {said(project, WIDEST_TURN, Dimension.ANGLE)}",
            "write how far the shell turns from closed",
        )


def _arms(project: Project) -> Iterator[Fault]:
    linkage = project.linkage
    a_van, a_shell, b_van, b_shell = (getattr(linkage, name) for name in ARM_PINS)
    for one, other, name, what in (
        (a_van, a_shell, "arm_a_shell", "arm a has no length"),
        (b_van, b_shell, "arm_b_shell", "arm b has no length"),
        (a_van, b_van, "arm_b_van", "both arms turn on one pivot on the van"),
        (a_shell, b_shell, "arm_b_shell", "both arms end in one pivot on the shell"),
    ):
        if distance(one, other) < 0.01:
            yield Fault(f"[linkage] {name}", said_place(project, other), what, "measure both pivots again")
    if linkage.kind == "parallel arms":
        corners = (a_van, a_shell, b_van, b_shell)
        known = all(c.provenance is not Provenance.UNKNOWN for point in corners for c in (point.x, point.z))
        dx = (a_shell.x.nominal - a_van.x.nominal) - (b_shell.x.nominal - b_van.x.nominal)
        dz = (a_shell.z.nominal - a_van.z.nominal) - (b_shell.z.nominal - b_van.z.nominal)
        if known and math.hypot(dx, dz) > PARALLEL:
            yield Fault(
                "[linkage] arm_b_shell",
                said_place(project, b_shell),
                f"the arms differ by {said(project, math.hypot(dx, dz))} and are not parallel",
                'write kind = "four-bar" or correct a pivot',
            )
