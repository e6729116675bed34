"""What cannot be in the sections on the choice of springs: places, springs at hand, readings of the built roof."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from loftwright.core.errors import Fault
from loftwright.core.units import Dimension
from loftwright.project.choice_sections import AtHand, HandReading
from loftwright.project.model import Project
from loftwright.project.plane import plane_of, size
from loftwright.project.possible_springs import HAND_REACH, TOUCH, ends, gas_spring_faults, said
from loftwright.project.reading import quoted

FEET = ("van", "arm a", "arm b")
"""Bodies that carry feet of springs."""

HEADS = ("shell", "arm a", "arm b")
"""Bodies that carry heads of springs."""


def choice_faults(project: Project) -> Iterator[Fault]:
    """Yield the faults of zones, springs at hand and readings, in the order of the file."""
    yield from _zones(project)
    for number, part in enumerate(project.at_hand):
        yield from _at_hand(project, f"[[at_hand]] {number + 1}", part)
    for number, reading in enumerate(project.reading):
        yield from _reading(project, f"[[reading]] {number + 1}", reading)
    yield from _tape(project)


def catalogue_path(project: Project, folder: Path) -> Path | None:
    """Return where the project's own list of springs lies, seen from the project file's `folder`; None without one."""
    return None if project.choice.catalogue is None else folder / Path(project.choice.catalogue).expanduser()


def catalogue_faults(project: Project, folder: Path) -> list[Fault]:
    """Return the fault of a list of springs that is named in the project file but not there."""
    path = catalogue_path(project, folder)
    if path is None or path.is_file():
        return []
    do = "correct its name, counted from the project file's folder, or take the key out"
    return [Fault("[choice] catalogue", quoted(project.choice.catalogue), "there is no such file", do)]


def _zones(project: Project) -> Iterator[Fault]:
    rear, front = ends(project)
    plane = plane_of(project)
    side = size(project, plane.shell_across) / 2
    names: dict[str, int] = {}
    for number, zone in enumerate(project.zone):
        where = f"[[zone]] {number + 1}"
        first = names.setdefault(zone.name, number + 1)
        if first != number + 1:
            yield Fault(
                f"{where} name", f'"{zone.name}"', f"[[zone]] {first} has this name already", "give each its own name"
            )
        if project.linkage.kind in ("hinge", "guides") and zone.on.startswith("arm"):
            none = "a hinged roof has no arms" if project.linkage.kind == "hinge" else "guides have no arms"
            yield Fault(f"{where} on", f'"{zone.on}"', none, 'write "van" or "shell"')
        for name, corner in (("from", zone.from_), ("to", zone.to)):
            if not rear - HAND_REACH <= corner.x.nominal <= front + HAND_REACH:
                yield Fault(
                    f"{where} {name} x",
                    said(project, corner.x.nominal),
                    f"the shell reaches from {said(project, rear)} to {said(project, front)} and no spring reaches "
                    "far beyond",
                    plane.measure,
                )
        if zone.place.nominal > side + TOUCH:
            yield Fault(
                f"{where} place",
                said(project, zone.place.nominal),
                f"lies outside the shell, whose side is {said(project, side)} from the middle",
                "measure from the middle of the roof",
            )
    bodies = list(dict.fromkeys(zone.on for zone in project.zone))
    if bodies and not any(foot != head for foot in bodies if foot in FEET for head in bodies if head in HEADS):
        yield Fault(
            "[[zone]]",
            "only on " + " and ".join(quoted(body) for body in bodies),
            "a spring needs a place for its foot (van or arm) and, on another part, one for its head (shell or arm)",
            "add a zone for the other end",
        )


def _at_hand(project: Project, where: str, part: AtHand) -> Iterator[Fault]:
    yield from gas_spring_faults(project.settings.units, where, part)
    test = part.home_test
    if test is None:
        return
    if test.reads_out.nominal > test.reads_in.nominal:
        yield Fault(
            f"{where} home_test reads_out",
            said(project, test.reads_out.nominal, Dimension.FORCE),
            f"a spring pushes less while it is let out than while it is pressed in, "
            f"{said(project, test.reads_in.nominal, Dimension.FORCE)}",
            "swap them or read again",
        )
    if (test.plank is None) != (test.spring_at is None):
        missing, there = ("plank", "spring_at") if test.plank is None else ("spring_at", "plank")
        yield Fault(
            f"{where} home_test {missing}",
            "missing",
            f"a lever has two lengths, and {there} alone is written",
            "write it, or take both out where the spring stood on the scales",
        )
    elif test.plank is not None and test.spring_at is not None and test.spring_at.nominal > test.plank.nominal:
        yield Fault(
            f"{where} home_test spring_at",
            said(project, test.spring_at.nominal),
            f"the spring stands between the plank's edge and the scales, which are {said(project, test.plank.nominal)} "
            "from it",
            "swap them or measure again",
        )


def _reading(project: Project, where: str, reading: HandReading) -> Iterator[Fault]:
    names = [spring.name for spring in project.spring]
    if reading.spring is not None and reading.spring not in names:
        there = ", ".join(f'"{name}"' for name in names) or "none"
        yield Fault(
            f"{where} spring", f'"{reading.spring}"', f"springs of the file: {there}", "write one of their names"
        )
    for name in ("foot", "head"):
        if getattr(reading, name) is None or reading.spring is not None or len(names) == 1:
            continue
        yield Fault(
            f"{where} {name}",
            "written",
            f"the file has {len(names)} [[spring]] sections and it is not said whose hole this is"
            if names
            else "the file has no [[spring]] whose hole this could be",
            'write its name as "spring"' if names else "take it out or add the spring",
        )


def _tape(project: Project) -> Iterator[Fault]:
    for number, tape in enumerate(project.tape):
        if tape.what != "spring length":
            continue
        where = f"[[tape]] {number + 1} what"
        if tape.step == "hinges":
            yield Fault(
                where,
                '"spring length"',
                'no springs are fitted yet after the step "hinges"',
                'write step = "springs", or "lip height" or "diagonal" here',
            )
        elif not project.spring:
            yield Fault(
                where, '"spring length"', "the file has no [[spring]]", "add the spring or take the reading out"
            )
