"""What no coil spring, torsion spring or cord can be."""

from __future__ import annotations

from collections.abc import Iterator

from loftwright.core.errors import Fault
from loftwright.core.units import Dimension
from loftwright.project.lifter_sections import Coil, Cord
from loftwright.project.model import Project
from loftwright.project.possible_springs import SAME_PLACE, TOUCH, distance, said, said_place

MORE = "write the points in the order of their lengths, or correct one"


def lifter_faults(project: Project) -> Iterator[Fault]:
    """Yield the faults of [[coil]], [[torsion]] and [[cord]]."""
    for number, coil in enumerate(project.coil):
        where = f"[[coil]] {number + 1}"
        yield from _ends(project, where, coil)
        yield from _coil(project, where, coil)
    for number, torsion in enumerate(project.torsion):
        kind = project.linkage.kind
        if not (kind == "hinge" if torsion.at == "hinge" else _has_arms(project)):
            yield Fault(
                f"[[torsion]] {number + 1} at",
                f'"{torsion.at}"',
                f'a linkage of the kind "{kind}" has no such pivot',
                'write "hinge", "arm a" or "arm b", whichever is there',
            )
    for number, cord in enumerate(project.cord):
        where = f"[[cord]] {number + 1}"
        yield from _ends(project, where, cord)
        yield from _cord(project, where, cord)


def _has_arms(project: Project) -> bool:
    return project.linkage.kind not in ("hinge", "guides")


def _ends(project: Project, where: str, part: Coil | Cord) -> Iterator[Fault]:
    for name in ("foot_on", "head_on"):
        body: str = getattr(part, name)
        if body.startswith("arm") and not _has_arms(project):
            yield Fault(
                f"{where} {name}",
                f'"{body}"',
                "there are no arms",
                f'write "{"van" if name == "foot_on" else "shell"}"',
            )
    if part.foot_on == part.head_on:
        yield Fault(
            f"{where} head_on",
            f'"{part.head_on}"',
            "both ends are on the same part and nothing is moved",
            "put one end on another part",
        )
    if distance(part.foot, part.head) < SAME_PLACE:
        yield Fault(
            f"{where} head", said_place(project, part.head), "it lies on the foot", "write where its other end sits"
        )


def _coil(project: Project, where: str, coil: Coil) -> Iterator[Fault]:
    if coil.kind == "pushes" and coil.initial.nominal > 0:
        yield Fault(
            f"{where} initial",
            said(project, coil.initial.nominal, Dimension.FORCE),
            "only a spring that pulls is wound so tight",
            'take it out, or write kind = "pulls"',
        )
    limit = coil.limit_length
    if limit is None:
        return
    pulls = coil.kind == "pulls"
    if (limit.nominal <= coil.free_length.nominal) if pulls else (limit.nominal >= coil.free_length.nominal):
        yield Fault(
            f"{where} limit_length",
            said(project, limit.nominal),
            f"a spring that {coil.kind} gets {'longer' if pulls else 'shorter'} than its free length of "
            f"{said(project, coil.free_length.nominal)}",
            "correct one of the two",
        )


def _cord(project: Project, where: str, cord: Cord) -> Iterator[Fault]:
    if not cord.point:
        yield Fault(
            f"{where} point",
            "missing",
            "how hard the cord pulls at one length at least",
            'write it like point = [{ length = "600 mm", force = "8 kg" }]',
        )
    before, pull = cord.slack_length.nominal, 0.0
    for number, point in enumerate(cord.point):
        if point.length.nominal <= before + TOUCH:
            yield Fault(
                f"{where} point {number + 1} length",
                said(project, point.length.nominal),
                f"must be more than {said(project, before)}, the length before it",
                MORE,
            )
        if point.force.nominal < pull:
            yield Fault(
                f"{where} point {number + 1} force",
                said(project, point.force.nominal, Dimension.FORCE),
                f"a cord that is drawn further pulls no less than {said(project, pull, Dimension.FORCE)}",
                MORE,
            )
        before, pull = point.length.nominal, point.force.nominal
