"""Faults of what is written on fit, wind, road, opening and joints, at the nominal values."""

from __future__ import annotations

from collections.abc import Iterator

from loftwright.core.errors import Fault
from loftwright.core.uncertain import Provenance, Uncertain, is_known
from loftwright.core.units import Dimension
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, plane_of, size
from loftwright.project.possible_springs import CHECK, SAME_PLACE, TOUCH, said
from loftwright.reference.bolts import BOLTS

LEAST_RADIUS = 0.005
"""A corner below this is no corner but the end of a saw cut [m]: judgement."""

BESIDE_RIM = 0.03
"""How far beyond the shell's written size a point of its rim may lie [m]: judgement, a flange and its doubt."""


def hold_faults(project: Project) -> list[Fault]:
    """Return every fault of these sections, in the order of the file."""
    parts = (_together, _fit, _roof_points, _rim_points, _brace, _latches, _body, _bows, _cut, _ring, _joints)
    return [fault for part in parts for fault in part(project)]


def _said_so(value: Uncertain) -> bool:
    """Whether somebody wrote or found a value, and it is not taken for want of one."""
    return value.provenance not in (Provenance.UNKNOWN, Provenance.ASSUMED)


def _outside(
    project: Project, where: str, value: Uncertain, ends: tuple[float, float], what: str, room: float = TOUCH
) -> Iterator[Fault]:
    """Yield the fault of a place that lies outside of what reaches between two ends."""
    if is_known(value) and not ends[0] - room <= value.nominal <= ends[1] + room:
        yield Fault(
            where,
            said(project, value.nominal),
            f"{what} reaches from {said(project, ends[0])} to {said(project, ends[1])}",
            CHECK,
        )


def _along(project: Project) -> tuple[float, float] | None:
    """Return x of the roof's rear and front end [m], None where nobody has measured them."""
    body = project.body
    if not (is_known(body.roof_length) and is_known(body.rear_edge)):
        return None
    return -body.rear_edge.nominal, body.roof_length.nominal - body.rear_edge.nominal


TOGETHER = (
    ("shell", ("bend_weight", "bend_span", "bend_sinks"), "a test of the shell"),
    ("shell", ("twist_weight", "twist_sinks"), "a test of the shell"),
    ("wind", ("screw_pitch", "screw_limit"), "a strip on screws"),
)
"""Section, keys that say something only together, and what they say."""


def _together(project: Project) -> Iterator[Fault]:
    for section, names, what in TOGETHER:
        missing = [name for name in names if getattr(getattr(project, section), name) is None]
        if 0 < len(missing) < len(names):
            yield Fault(
                f"[{section}] {missing[0]}",
                "left out",
                f"{what} is written with {' and '.join(names)}",
                "write what is missing, or leave all of them out",
            )
    shell = project.shell
    if shell.twist_moment is not None and shell.twist_weight is not None:
        yield Fault(
            "[shell] twist_weight",
            said(project, shell.twist_weight.nominal, Dimension.MASS),
            "twist_moment is written too, and one of them is enough",
            "leave one of them out",
        )


def _fit(project: Project) -> Iterator[Fault]:
    fit = project.fit
    both = is_known(fit.seal_least) and is_known(fit.seal_most)
    if both and fit.seal_most.nominal <= fit.seal_least.nominal:
        yield Fault(
            "[fit] seal_most",
            said(project, fit.seal_most.nominal),
            f"a seal fills more when it is loose than squeezed, at {said(project, fit.seal_least.nominal)}",
            "swap them or correct one",
        )


def _roof_points(project: Project) -> Iterator[Fault]:
    along, body = _along(project), project.body
    for number, point in enumerate(project.roof_point, 1):
        where = f"[[roof_point]] {number}"
        if along is not None:
            yield from _outside(project, f"{where} x", point.x, along, "the roof")
        if is_known(body.roof_width):
            half = body.roof_width.nominal / 2
            yield from _outside(project, f"{where} y", point.y, (-half, half), "the roof")


def _rim_points(project: Project) -> Iterator[Fault]:
    shell, opening = project.shell, project.opening
    length, width = shell.length.nominal, shell.width.nominal
    rear, left = -shell.overhang_rear.nominal, width / 2
    certain = is_known(shell.overhang_rear)
    if plane_of(project) is CROSSWISE:
        # Across the van the overhang is written, along it the shell is taken to lie evenly over the opening.
        rear, certain = (opening.length.nominal - length) / 2, True
        if is_known(shell.overhang_left):
            left = opening.width.nominal / 2 + size(project, CROSSWISE.overhang)
    for number, point in enumerate(project.rim_point, 1):
        where = f"[[rim_point]] {number}"
        if certain and is_known(shell.length):
            yield from _outside(project, f"{where} x", point.x, (rear, rear + length), "the shell", BESIDE_RIM)
        if is_known(shell.width):
            yield from _outside(project, f"{where} y", point.y, (left - width, left), "the shell", BESIDE_RIM)


def _brace(project: Project) -> Iterator[Fault]:
    brace = project.brace
    if brace is None:
        return
    if brace.kind == "bar" and brace.track_to.nominal < brace.track_from.nominal:
        yield Fault(
            "[brace] track_to",
            said(project, brace.track_to.nominal),
            f"the track ends beyond where it begins, at {said(project, brace.track_from.nominal)}",
            "swap them or correct one",
        )
    yield from _hollow(project, "[brace] wall", brace.wall, brace.size, "size", solid=True)
    yield from _lies_along(project, "[brace] inset", brace.inset)
    half = size(project, plane_of(project).shell_across) / 2
    for name, place in (("pivot", brace.pivot), ("track_to", brace.track_to)):
        if _said_so(place) and place.nominal > half + TOUCH:
            yield Fault(
                f"[brace] {name}",
                said(project, place.nominal),
                f"the shell reaches {said(project, half)} to each side of its middle",
                CHECK,
            )


def _lies_along(project: Project, where: str, inset: Uncertain) -> Iterator[Fault]:
    """Yield the fault of a part that lies further from the lip than the hinge does."""
    long = size(project, plane_of(project).shell)
    if is_known(inset) and inset.nominal > long + TOUCH:
        yield Fault(where, said(project, inset.nominal), f"the shell is {said(project, long)} long there", CHECK)


def _hollow(
    project: Project, where: str, wall: Uncertain, size_of_it: Uncertain, name: str, *, solid: bool
) -> Iterator[Fault]:
    """Yield the fault of a wall that does not fit into its size; a solid bar's walls may meet."""
    room = size_of_it.nominal / 2 if solid else size_of_it.nominal
    if wall.nominal > room + TOUCH:
        most = f"half of {name}" if solid else f"all of {name}"
        yield Fault(where, said(project, wall.nominal), f"at most {said(project, room)}, {most}", CHECK)


def _latches(project: Project) -> Iterator[Fault]:
    latches = project.latches
    yield from _hollow(project, "[latches] bar_wall", latches.bar_wall, latches.bar_size, "bar_size", solid=True)
    lip = size(project, plane_of(project).shell_across)
    if is_known(latches.spread) and latches.spread.nominal > lip + TOUCH:
        yield Fault(
            "[latches] spread",
            said(project, latches.spread.nominal),
            f"the shell's lip is {said(project, lip)} long",
            CHECK,
        )
    yield from _lies_along(project, "[latches] inset", latches.inset)
    if latches.catch_limit is not None and not latches.catch:
        yield Fault(
            "[latches] catch_limit",
            said(project, latches.catch_limit.nominal, Dimension.FORCE),
            "there is no safety catch",
            "write catch = true or take the limit out",
        )


def _body(project: Project) -> Iterator[Fault]:
    body, opening = project.body, project.opening
    for name, roof, hole in (
        ("roof_length", body.roof_length, opening.length.nominal + body.rear_edge.nominal),
        ("roof_width", body.roof_width, opening.width.nominal),
    ):
        if is_known(roof) and (name == "roof_width" or is_known(body.rear_edge)) and roof.nominal <= hole + TOUCH:
            yield Fault(
                f"[body] {name}",
                said(project, roof.nominal),
                f"the opening reaches to {said(project, hole)} and roof stays beyond it",
                "correct the roof or the opening",
            )


def _bows(project: Project) -> Iterator[Fault]:
    along = _along(project)
    for number, bow in enumerate(project.bow, 1):
        where = f"[[bow]] {number} at"
        if along is not None:
            yield from _outside(project, where, bow.at, along, "the roof")
        for before, other in enumerate(project.bow[: number - 1], 1):
            both = is_known(bow.at) and is_known(other.at)
            if both and abs(bow.at.nominal - other.at.nominal) <= SAME_PLACE:
                yield Fault(
                    where,
                    said(project, bow.at.nominal),
                    f"bow {before} lies there",
                    "correct one of the two or take it out",
                )
                break


def _cut(project: Project) -> Iterator[Fault]:
    cut, opening = project.cut, project.opening
    for name, after in (("door_cut", cut.door_cut), ("door_ring", cut.door_ring)):
        if after is not None and cut.door_before is None:
            yield Fault(
                f"[cut] {name}",
                said(project, after.nominal),
                "it is compared with door_before, which is not written",
                'write door_before, "unknown" where nobody measured it before the cut',
            )
    radius = cut.corner_radius
    half = min(opening.length.nominal, opening.width.nominal) / 2
    if radius is None:
        return
    if radius.nominal < LEAST_RADIUS:
        yield Fault(
            "[cut] corner_radius",
            said(project, radius.nominal),
            f"a corner cut square tears; at least {said(project, LEAST_RADIUS)}",
            "write the radius of the hole saw for the corners",
        )
    elif radius.nominal > half + TOUCH:
        yield Fault(
            "[cut] corner_radius",
            said(project, radius.nominal),
            f"half of the opening's shorter side is {said(project, half)}",
            CHECK,
        )


def _ring(project: Project) -> Iterator[Fault]:
    ring = project.ring
    for name, thick in (("upright", ring.upright), ("flat", ring.flat)):
        if ring.shape == "flat" and name == "upright":
            continue
        yield from _hollow(project, "[ring] wall", ring.wall, thick, name, solid=ring.shape == "square tube")


def _joints(project: Project) -> Iterator[Fault]:
    for number, joint in enumerate(project.joint, 1):
        where = f"[[joint]] {number}"
        if joint.at.startswith("brace") and project.brace is None:
            yield Fault(
                f"{where} at", f'"{joint.at}"', "there is no brace", "add the section [brace] or take the joint out"
            )
        for name, spread in (("along", joint.along), ("across", joint.across)):
            if joint.count == 1 and _said_so(spread) and spread.nominal > TOUCH:
                yield Fault(
                    f"{where} {name}",
                    said(project, spread.nominal),
                    "one bolt has no distance to another",
                    "correct count or take the distance out",
                )
        if joint.count > 1 and max(joint.along.nominal, joint.across.nominal) <= SAME_PLACE:
            yield Fault(
                f"{where} count",
                str(joint.count),
                "along and across put all of its bolts in one place",
                "write how far the outer ones are apart, or one bolt",
            )
        bolt = _diameter(joint.bolt)
        if joint.washer.nominal <= bolt + TOUCH:
            yield Fault(
                f"{where} washer",
                said(project, joint.washer.nominal),
                f"a washer is wider than its bolt, which is {said(project, bolt)} thick",
                CHECK,
            )


def _diameter(size_of_bolt: str) -> float:
    """Return the diameter of a bolt of the file's words [m]: "1/4" is the coarse thread of that size."""
    return next(bolt.diameter for name, bolt in BOLTS.items() if name.split("-")[0] == size_of_bolt)
