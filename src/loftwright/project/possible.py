"""What cannot be built, whatever the numbers say one by one: faults of a file that reads well.

Judged at the nominal values, and what a draw must not meet also at the ends of the ranges that were written;
what is unknown is judged at its middle alone. A spring too long or too short for its place is no fault of the
file but an answer, and is not looked at here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from loftwright.core.errors import Fault
from loftwright.core.uncertain import Provenance, Uncertain
from loftwright.core.units import Dimension
from loftwright.project.model import Project
from loftwright.project.motion_sections import Spring
from loftwright.project.points import Point
from loftwright.project.reading import say
from loftwright.project.shell_sections import Reading, Tilt
from loftwright.project.spring_doubt import LEAST_FIRST_FORCE, first_force

TOUCH = 1e-4
"""Lengths closer than this [m] count as equal."""

SAME_PLACE = 0.001
"""Points closer than this [m] count as one."""

HINGE_REACH = 0.3
"""How far a hinge axis may lie beyond the shell's end [m]: the length of a stout bracket."""

WIDEST_TURN = math.radians(95)
"""The furthest that a hinged shell may turn [rad]: upright and a little over."""

PARALLEL = 0.005
"""How far parallel arms may differ from each other [m]."""

HAND_REACH = 0.3
"""How far a handle may lie beyond the shell's ends [m]."""

LEAST_LEVERAGE = 0.05
"""How close the hand may act to the axis about which a hinged shell turns [m]."""

CHECK = "measure again and correct one of the two"


def impossible(project: Project) -> list[Fault]:
    """Return every fault of geometry, in the order of the file."""
    return [
        *_person(project),
        *_roof(project),
        *_bed(project),
        *_shell(project),
        *_weighing(project),
        *_items(project),
        *_linkage(project),
        *_handle(project),
        *_springs(project),
        *_temperatures(project),
    ]


def _say(project: Project, value: float, dimension: Dimension = Dimension.LENGTH) -> str:
    return say(value, dimension, project.settings.units)


def _distance(one: Point, other: Point) -> float:
    return math.hypot(one.x.nominal - other.x.nominal, one.z.nominal - other.z.nominal)


def _ends(project: Project) -> tuple[float, float]:
    """Return x of the closed shell's rear and front end [m]."""
    rear = -project.shell.overhang_rear.nominal
    return rear, rear + project.shell.length.nominal


def _person(project: Project) -> Iterator[Fault]:
    person = project.person
    if person.reach.nominal < person.height.nominal - TOUCH:
        yield Fault(
            "[person] reach",
            _say(project, person.reach.nominal),
            f"a stretched arm reaches above the head, at {_say(project, person.height.nominal)}",
            CHECK,
        )


def _roof(project: Project) -> Iterator[Fault]:
    profile = project.roof.profile
    if len(profile) == 1:
        yield Fault(
            "[roof] profile", "one point", "a profile has at least two", "add a point or leave it out for a flat roof"
        )
    for number in range(1, len(profile)):
        before, here = profile[number - 1].x.nominal, profile[number].x.nominal
        if here <= before + SAME_PLACE:
            yield Fault(
                f"[roof] profile {number + 1} x",
                _say(project, here),
                f"x must rise from point to point and the one before lies at {_say(project, before)}",
                "put the points in order from rear to front",
            )


def _bed(project: Project) -> Iterator[Fault]:
    bed = project.bed
    if bed is not None and bed.to.nominal <= bed.from_.nominal + SAME_PLACE:
        yield Fault(
            "[bed] to",
            _say(project, bed.to.nominal),
            f'must lie nearer the cab than "from" at {_say(project, bed.from_.nominal)}',
            "swap them or correct one",
        )


def _shell(project: Project) -> Iterator[Fault]:
    shell, opening = project.shell, project.opening
    rear, front = _ends(project)
    if front < opening.length.nominal - TOUCH:
        yield Fault(
            "[shell] length",
            _say(project, shell.length.nominal),
            f"with {_say(project, -rear)} behind the opening it ends at {_say(project, front)} and does not cover "
            f"an opening of {_say(project, opening.length.nominal)}",
            "shorten the opening or lengthen the shell",
        )
    if shell.width.nominal < opening.width.nominal - TOUCH:
        yield Fault(
            "[shell] width",
            _say(project, shell.width.nominal),
            f"does not cover an opening {_say(project, opening.width.nominal)} wide",
            "narrow the opening or widen the shell",
        )
    if shell.centre is not None and not rear <= shell.centre.nominal <= front:
        yield Fault(
            "[shell] centre",
            _say(project, shell.centre.nominal),
            f"the shell reaches from {_say(project, rear)} to {_say(project, front)} and its centre lies within",
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
    length = project.shell.length.nominal
    names = ("at", "other") if isinstance(reading, Tilt) else ("at", "other", "balance")
    for name in names:
        spot: Uncertain | None = getattr(reading, name)
        if spot is not None and not -TOUCH <= spot.nominal <= length + TOUCH:
            yield Fault(
                f"{where} {name}",
                _say(project, spot.nominal),
                f"must lie on the shell, between 0 and {_say(project, length)} from its rear rim edge",
                "measure it along the shell",
            )
    if reading.at is not None and reading.other is not None and abs(reading.at.nominal - reading.other.nominal) < 0.05:
        yield Fault(
            f"{where} other",
            _say(project, reading.other.nominal),
            f"is one and the same line as at, {_say(project, reading.at.nominal)}",
            "write where the other support stood",
        )


def _items(project: Project) -> Iterator[Fault]:
    rear, front = _ends(project)
    for number, item in enumerate(project.item):
        if not rear - HAND_REACH <= item.x.nominal <= front + HAND_REACH:
            yield Fault(
                f"[[item]] {number + 1} x",
                _say(project, item.x.nominal),
                f"the shell reaches from {_say(project, rear)} to {_say(project, front)}",
                "measure from the rear edge of the opening towards the cab",
            )
    yield from _taken_off(project)


def _taken_off(project: Project) -> Iterator[Fault]:
    """Yield the fault of items that outweigh what they come off from."""
    removed = [item.mass for item in project.item if item.state == "remove"]
    loose = [item.mass for item in project.item if item.removable and item.state == "weighed"]
    whole = _weighed(project)
    for masses, what in ((removed, 'with state "remove"'), (loose, 'with state "weighed" and removable')):
        most = sum(_written(mass)[1] for mass in masses)
        if whole is None or not masses or most < _written(whole)[0]:
            continue
        upto = "" if most == sum(mass.nominal for mass in masses) else "up to "
        least = _say(project, _written(whole)[0], Dimension.MASS)
        yield Fault(
            f"[[item]] {what}",
            f"{upto}{_say(project, most, Dimension.MASS)} altogether",
            f"the shell weighed {least if _written(whole)[0] == whole.nominal else f'{least} at least'} with it",
            CHECK,
        )


def _written(value: Uncertain) -> tuple[float, float]:
    """Return the ends of a range that was written, or the middle twice where the value is unknown."""
    return (value.nominal, value.nominal) if value.provenance is Provenance.UNKNOWN else (value.low, value.high)


def _weighed(project: Project) -> Uncertain | None:
    """Return the shell's weight as written or weighed at once [kg], None when it was not."""
    readings = project.weighing.reading if project.weighing is not None else ()
    return next((r.whole for r in readings if r.whole is not None), project.shell.mass)


_ARMS = ("arm_a_van", "arm_a_shell", "arm_b_van", "arm_b_shell")


def _linkage(project: Project) -> Iterator[Fault]:
    linkage = project.linkage
    if linkage.kind == "hinge":
        for name in _ARMS:
            if getattr(linkage, name) is not None:
                yield Fault(
                    f"[linkage] {name}", "written", "a hinge has no arms", 'take it out or choose another "kind"'
                )
        if linkage.hinge is None:
            yield Fault(
                "[linkage] hinge",
                "missing",
                "where the hinge axis lies",
                'write it like ["1.9 m", "20 mm"], or "unknown"',
            )
        else:
            yield from _hinge(project, linkage.hinge)
    else:
        if linkage.hinge is not None:
            yield Fault(
                "[linkage] hinge",
                "written",
                f'a linkage of the kind "{linkage.kind}" has no hinge',
                'take it out or write kind = "hinge"',
            )
        for name in _ARMS:
            if getattr(linkage, name) is None:
                yield Fault(
                    f"[linkage] {name}",
                    "missing",
                    "arms need all four pivots",
                    'write it like ["1.9 m", "20 mm"], or "unknown"',
                )
        if all(getattr(linkage, name) is not None for name in _ARMS):
            yield from _arms(project)
    if linkage.spacing.nominal > project.shell.width.nominal + TOUCH:
        yield Fault(
            "[linkage] spacing",
            _say(project, linkage.spacing.nominal),
            f"is wider than the shell at {_say(project, project.shell.width.nominal)}",
            CHECK,
        )


def _hinge(project: Project, hinge: Point) -> Iterator[Fault]:
    linkage = project.linkage
    rear, front = _ends(project)
    x = hinge.x.nominal
    if not rear - HINGE_REACH <= x <= front + HINGE_REACH:
        yield Fault(
            "[linkage] hinge x",
            _say(project, x),
            f"the shell reaches from {_say(project, rear)} to {_say(project, front)} and no bracket reaches that far",
            "measure from the rear edge of the opening towards the cab",
        )
    elif (x > (rear + front) / 2) != (linkage.end == "front"):
        other = "rear" if linkage.end == "front" else "front"
        yield Fault(
            "[linkage] hinge x",
            _say(project, x),
            f'lies in the {other} half of the shell while end is "{linkage.end}"',
            f'write end = "{other}" or move the hinge',
        )
    if linkage.opens.nominal > WIDEST_TURN:
        yield Fault(
            "[linkage] opens",
            _say(project, linkage.opens.nominal, Dimension.ANGLE),
            f"a hinged shell stands upright before {_say(project, WIDEST_TURN, Dimension.ANGLE)}",
            "write how far the shell turns from closed",
        )


def _arms(project: Project) -> Iterator[Fault]:
    linkage = project.linkage
    a_van, a_shell, b_van, b_shell = (getattr(linkage, name) for name in _ARMS)
    for one, other, name, what in (
        (a_van, a_shell, "arm_a_shell", "arm a has no length"),
        (b_van, b_shell, "arm_b_shell", "arm b has no length"),
        (a_van, b_van, "arm_b_van", "both arms turn on one pivot on the van"),
        (a_shell, b_shell, "arm_b_shell", "both arms end in one pivot on the shell"),
    ):
        if _distance(one, other) < 0.01:
            yield Fault(f"[linkage] {name}", _place(project, other), what, "measure both pivots again")
    if linkage.kind == "parallel arms":
        corners = (a_van, a_shell, b_van, b_shell)
        known = all(c.provenance is not Provenance.UNKNOWN for point in corners for c in (point.x, point.z))
        dx = (a_shell.x.nominal - a_van.x.nominal) - (b_shell.x.nominal - b_van.x.nominal)
        dz = (a_shell.z.nominal - a_van.z.nominal) - (b_shell.z.nominal - b_van.z.nominal)
        if known and math.hypot(dx, dz) > PARALLEL:
            yield Fault(
                "[linkage] arm_b_shell",
                _place(project, b_shell),
                f"the arms differ by {_say(project, math.hypot(dx, dz))} and are not parallel",
                'write kind = "four-bar" or correct a pivot',
            )


def _place(project: Project, point: Point) -> str:
    return f'["{_say(project, point.x.nominal)}", "{_say(project, point.z.nominal)}"]'


def _handle(project: Project) -> Iterator[Fault]:
    at, linkage = project.handle.at, project.linkage
    rear, front = _ends(project)
    if not rear - HAND_REACH <= at.x.nominal <= front + HAND_REACH:
        yield Fault(
            "[handle] at",
            _place(project, at),
            f"the shell reaches from {_say(project, rear)} to {_say(project, front)}",
            "write where the hand holds the closed shell",
        )
    if linkage.kind == "hinge" and linkage.hinge is not None and _distance(at, linkage.hinge) < LEAST_LEVERAGE:
        yield Fault(
            "[handle] at",
            _place(project, at),
            "it lies on the hinge axis, where no hand can lift",
            "write where the hand holds the closed shell",
        )


def _springs(project: Project) -> Iterator[Fault]:
    for number, spring in enumerate(project.spring):
        yield from _spring(project, f"[[spring]] {number + 1}", spring)


def _spring(project: Project, where: str, spring: Spring) -> Iterator[Fault]:
    if project.linkage.kind == "hinge":
        for name in ("foot_on", "head_on"):
            body = getattr(spring, name)
            if body.startswith("arm"):
                yield Fault(
                    f"{where} {name}",
                    f'"{body}"',
                    "a hinged roof has no arms",
                    f'write "{"van" if name == "foot_on" else "shell"}"',
                )
    if spring.foot_on == spring.head_on:
        yield Fault(
            f"{where} head_on",
            f'"{spring.head_on}"',
            "both ends are on the same part and nothing is pushed",
            "put one end on another part",
        )
    if _distance(spring.foot, spring.head) < SAME_PLACE:
        yield Fault(
            f"{where} head",
            _place(project, spring.head),
            "it lies on the foot",
            "write where the head's ball stud sits on the closed shell",
        )
    if (left := first_force(spring)) < LEAST_FIRST_FORCE:
        yield Fault(
            f"{where} friction",
            _span(project, spring.friction),
            f"more than the force listed: {_span(project, spring.force)} listed as {spring.force_is} leave "
            f"{_say(project, left, Dimension.FORCE)} to push with",
            "check force, force_is, friction and friction_is",
        )
    if spring.rod_diameter.nominal >= spring.tube_diameter.nominal:
        yield Fault(
            f"{where} rod_diameter",
            _say(project, spring.rod_diameter.nominal),
            f"the rod does not fit a tube of {_say(project, spring.tube_diameter.nominal)}",
            "swap them or measure again",
        )
    if spring.extended_length.nominal < 2 * spring.stroke.nominal - TOUCH:
        yield Fault(
            f"{where} extended_length",
            _say(project, spring.extended_length.nominal),
            f"a tube that takes in a stroke of {_say(project, spring.stroke.nominal)} makes the spring at least "
            f"{_say(project, 2 * spring.stroke.nominal)} long",
            CHECK,
        )
    if 2 * spring.end_margin.nominal >= spring.stroke.nominal - TOUCH:
        yield Fault(
            f"{where} end_margin",
            _say(project, spring.end_margin.nominal),
            f"two of them leave nothing of a stroke of {_say(project, spring.stroke.nominal)}",
            "write a smaller margin",
        )
    if spring.place.nominal > project.shell.width.nominal / 2 + TOUCH:
        yield Fault(
            f"{where} place",
            _say(project, spring.place.nominal),
            f"lies outside the shell, whose side is {_say(project, project.shell.width.nominal / 2)} from the middle",
            "measure from the middle of the roof",
        )


def _span(project: Project, force: Uncertain) -> str:
    """Return a force as messages say it, with the ends of its range where it was written with one."""
    low, high = _written(force)
    if low == high:
        return _say(project, force.nominal, Dimension.FORCE)
    return f"{_say(project, low, Dimension.FORCE)} to {_say(project, high, Dimension.FORCE)}"


def _temperatures(project: Project) -> Iterator[Fault]:
    air = project.temperatures
    for cooler, warmer in (("cold", "mild"), ("mild", "hot"), ("hot", "sun")):
        low, high = getattr(air, cooler).nominal, getattr(air, warmer).nominal
        if low > high + 1e-6:
            yield Fault(
                f"[temperatures] {cooler}",
                _say(project, low, Dimension.TEMPERATURE),
                f'must not be warmer than "{warmer}" at {_say(project, high, Dimension.TEMPERATURE)}',
                "swap them or correct one",
            )
