"""What cannot be built, whatever the numbers say one by one: faults of a file that reads well.

Judged at the nominal values, and what a draw must not meet also at the ends of the ranges that were written;
what is unknown is judged at its middle alone. A spring too long or too short for its place is no fault of the
file but an answer, and is not looked at here.
"""

from __future__ import annotations

from collections.abc import Iterator

from loftwright.core.errors import Fault
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.model import Project
from loftwright.project.plane import plane_of, size
from loftwright.project.possible_choice import choice_faults
from loftwright.project.possible_hold import hold_faults
from loftwright.project.possible_lifters import lifter_faults
from loftwright.project.possible_linkage import linkage_faults
from loftwright.project.possible_links import links_faults
from loftwright.project.possible_plan import plan_faults
from loftwright.project.possible_springs import (
    CHECK,
    HAND_REACH,
    SAME_PLACE,
    TOUCH,
    distance,
    ends,
    said,
    said_place,
    spring_faults,
    written_ends,
)
from loftwright.project.possible_walls import wall_faults
from loftwright.project.shell_sections import Reading, Tilt

LEAST_LEVERAGE = 0.05
"""How close the hand may act to the axis about which a hinged shell turns [m]."""


def impossible(project: Project) -> list[Fault]:
    """Return every fault of geometry, in the order of the file."""
    return [
        *_person(project),
        *_roof(project),
        *_bed(project),
        *_shell(project),
        *_weighing(project),
        *_items(project),
        *linkage_faults(project),
        *_handle(project),
        *spring_faults(project),
        *lifter_faults(project),
        *links_faults(project),
        *_temperatures(project),
        *choice_faults(project),
        *hold_faults(project),
        *wall_faults(project),
        *plan_faults(project),
    ]


def _person(project: Project) -> Iterator[Fault]:
    person = project.person
    if person.reach.nominal < person.height.nominal - TOUCH:
        yield Fault(
            "[person] reach",
            said(project, person.reach.nominal),
            f"a stretched arm reaches above the head, at {said(project, person.height.nominal)}",
            CHECK,
        )


def _roof(project: Project) -> Iterator[Fault]:
    profile, plane = project.roof.profile, plane_of(project)
    if len(profile) == 1:
        yield Fault(
            "[roof] profile", "one point", "a profile has at least two", "add a point or leave it out for a flat roof"
        )
    for number in range(1, len(profile)):
        before, here = profile[number - 1].x.nominal, profile[number].x.nominal
        if here <= before + SAME_PLACE:
            yield Fault(
                f"[roof] profile {number + 1} x",
                said(project, here),
                f"x must rise from point to point and the one before lies at {said(project, before)}",
                f"put the points in order from {plane.near} to {plane.far}",
            )


def _bed(project: Project) -> Iterator[Fault]:
    bed, plane = project.bed, plane_of(project)
    toward = "the cab" if plane.far == "front" else "the right side"
    if bed is not None and bed.to.nominal <= bed.from_.nominal + SAME_PLACE:
        yield Fault(
            "[bed] to",
            said(project, bed.to.nominal),
            f'must lie nearer {toward} than "from" at {said(project, bed.from_.nominal)}',
            "swap them or correct one",
        )


def _shell(project: Project) -> Iterator[Fault]:
    shell, plane = project.shell, plane_of(project)
    rear, front = ends(project)
    beyond = "behind the opening" if plane.near == "rear" else "left of the opening"
    resize = {"length": "shorten the opening or lengthen the shell", "width": "narrow the opening or widen the shell"}
    if front < size(project, plane.opening) - TOUCH:
        yield Fault(
            plane.said(plane.shell),
            said(project, size(project, plane.shell)),
            f"with {said(project, -rear)} {beyond} it ends at {said(project, front)} and does not cover "
            f"an opening of {said(project, size(project, plane.opening))}",
            resize[plane.shell.split(".")[1]],
        )
    if size(project, plane.shell_across) < size(project, plane.opening_across) - TOUCH:
        across = plane.shell_across.split(".")[1]
        yield Fault(
            plane.said(plane.shell_across),
            said(project, size(project, plane.shell_across)),
            f"does not cover an opening {said(project, size(project, plane.opening_across))} "
            f"{'wide' if across == 'width' else 'long'}",
            resize[across],
        )
    if shell.centre is not None and not rear <= shell.centre.nominal <= front:
        yield Fault(
            "[shell] centre",
            said(project, shell.centre.nominal),
            f"the shell reaches from {said(project, rear)} to {said(project, front)} and its centre lies within",
            CHECK,
        )


def _weighing(project: Project) -> Iterator[Fault]:
    weighing = project.weighing
    if weighing is None:
        return
    if not weighing.reading:
        yield Fault(
            "[weighing] reading",
            "missing",
            "a weighing holds at least one reading",
            "add a reading or take the section out",
        )
    for number, reading in enumerate(weighing.reading):
        where = f"[weighing] reading {number + 1}"
        written = {name for name in ("at", "other", "reads", "whole", "balance") if getattr(reading, name) is not None}
        if written not in ({"at", "other", "reads"}, {"whole"}, {"balance"}):
            yield Fault(
                where,
                "made of " + ", ".join(sorted(written)) if written else "empty",
                "a reading has at, other and reads, or whole alone, or balance alone",
                "split it into readings of these kinds",
            )
            continue
        yield from _supports(project, where, reading)
    if weighing.tilt is not None:
        yield from _supports(project, "[weighing] tilt", weighing.tilt)


def _supports(project: Project, where: str, reading: Reading | Tilt) -> Iterator[Fault]:
    plane = plane_of(project)
    length = size(project, plane.shell)
    names = ("at", "other") if isinstance(reading, Tilt) else ("at", "other", "balance")
    for name in names:
        spot: Uncertain | None = getattr(reading, name)
        if spot is not None and not -TOUCH <= spot.nominal <= length + TOUCH:
            yield Fault(
                f"{where} {name}",
                said(project, spot.nominal),
                f"must lie on the shell, between 0 and {said(project, length)} from its {plane.near} rim edge",
                f"measure it {'along' if plane.near == 'rear' else 'across'} the shell",
            )
    if reading.at is not None and reading.other is not None and abs(reading.at.nominal - reading.other.nominal) < 0.05:
        yield Fault(
            f"{where} other",
            said(project, reading.other.nominal),
            f"is one and the same line as at, {said(project, reading.at.nominal)}",
            "write where the other support stood",
        )


def _items(project: Project) -> Iterator[Fault]:
    rear, front = ends(project)
    for number, item in enumerate(project.item):
        if not rear - HAND_REACH <= item.x.nominal <= front + HAND_REACH:
            yield Fault(
                f"[[item]] {number + 1} x",
                said(project, item.x.nominal),
                f"the shell reaches from {said(project, rear)} to {said(project, front)}",
                plane_of(project).measure,
            )
    yield from _taken_off(project)


def _taken_off(project: Project) -> Iterator[Fault]:
    """Yield the fault of items that outweigh what they come off from."""
    removed = [item.mass for item in project.item if item.state == "remove"]
    loose = [item.mass for item in project.item if item.removable and item.state == "weighed"]
    whole = _weighed(project)
    for masses, what in ((removed, 'with state "remove"'), (loose, 'with state "weighed" and removable')):
        most = sum(written_ends(mass)[1] for mass in masses)
        if whole is None or not masses or most < written_ends(whole)[0]:
            continue
        upto = "" if most == sum(mass.nominal for mass in masses) else "up to "
        least = said(project, written_ends(whole)[0], Dimension.MASS)
        yield Fault(
            f"[[item]] {what}",
            f"{upto}{said(project, most, Dimension.MASS)} altogether",
            f"the shell weighed {least if written_ends(whole)[0] == whole.nominal else f'{least} at least'} with it",
            CHECK,
        )


def _weighed(project: Project) -> Uncertain | None:
    """Return the shell's weight as written or weighed at once [kg], None when it was not."""
    readings = project.weighing.reading if project.weighing is not None else ()
    return next((r.whole for r in readings if r.whole is not None), project.shell.mass)


def _handle(project: Project) -> Iterator[Fault]:
    at, linkage = project.handle.at, project.linkage
    rear, front = ends(project)
    if not rear - HAND_REACH <= at.x.nominal <= front + HAND_REACH:
        yield Fault(
            "[handle] at",
            said_place(project, at),
            f"the shell reaches from {said(project, rear)} to {said(project, front)}",
            "write where the hand holds the closed shell",
        )
    if linkage.kind == "hinge" and linkage.hinge is not None and distance(at, linkage.hinge) < LEAST_LEVERAGE:
        yield Fault(
            "[handle] at",
            said_place(project, at),
            "it lies on the hinge axis, where no hand can lift",
            "write where the hand holds the closed shell",
        )


def _temperatures(project: Project) -> Iterator[Fault]:
    air = project.temperatures
    for cooler, warmer in (("cold", "mild"), ("mild", "hot"), ("hot", "sun")):
        low, high = getattr(air, cooler).nominal, getattr(air, warmer).nominal
        if low > high + 1e-6:
            yield Fault(
                f"[temperatures] {cooler}",
                said(project, low, Dimension.TEMPERATURE),
                f'must not be warmer than "{warmer}" at {said(project, high, Dimension.TEMPERATURE)}',
                "swap them or correct one",
            )
