"""Every point of a project that can be moved on the drawing, and what the file then says.

Points are given where they lie on the closed roof, in the plane in which the shell moves: hinged at a side, x counts
from the left edge of the opening.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from loftwright.answers.sheet import ORIGIN
from loftwright.core.board_views import Grip, GripKind
from loftwright.core.choices import BodyName, Units
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.quantities import parse
from loftwright.core.quantity_text import MARK, format_quantity, on_tape
from loftwright.core.uncertain import Provenance, Uncertain, even, exact, normal
from loftwright.core.units import Dimension
from loftwright.project.keys import Section, members
from loftwright.project.lifter_sections import Coil, Cord
from loftwright.project.linkage_section import PIVOTS
from loftwright.project.model import Project, key_of
from loftwright.project.plane import end_in_plane
from loftwright.project.points import Point
from loftwright.project.possible import impossible
from loftwright.project.possible_springs import ends
from loftwright.project.reading import place, quoted, say
from loftwright.project.shell_sections import Item

HANDLE: Final = "handle.at"
LEFT_OUT: Final = "left out: taken at the lip"
"""What is said of a handle that the file does not place."""
FARTHEST: Final = 1000.0
"""A place farther away than this is not said as a length [m]."""

_COARSE: Final[dict[Units, int]] = {"metric": 10, "imperial": 8}
"""How many marks of the tape a coarse step has: a centimetre, half an inch."""
_PIVOTS: Final[dict[str, tuple[str, BodyName]]] = {
    "hinge": ("hinge", "van"),
    "arm_a_van": ("lower pin of arm a", "van"),
    "arm_a_shell": ("upper pin of arm a", "shell"),
    "arm_b_van": ("lower pin of arm b", "van"),
    "arm_b_shell": ("upper pin of arm b", "shell"),
    "guide": ("middle of the shoes", "van"),
    "guide_far": ("middle of the far shoes", "van"),
}
_ALONG: Final = {
    "arm_a_van": ("arm_b_van", "arm b's lower pin goes along"),
    "arm_a_shell": ("arm_b_shell", "arm b's upper pin goes along"),
    "arm_b_van": ("arm_b_shell", "arm b moves as a whole"),
    "arm_b_shell": ("arm_b_van", "arm b moves as a whole"),
}
"""What goes along with a pin of parallel arms, so that they stay parallel."""


def steps(units: Units) -> tuple[float, float]:
    """Return the fine and the coarse step of the arrow keys [m]; the fine one is that to which a place is rounded.

    >>> steps("metric")
    (0.001, 0.01)
    """
    return float(MARK[units]), float(_COARSE[units] * MARK[units])


@dataclass(frozen=True, slots=True)
class _Held:
    """A point with the section that holds its x and z, and what a grip says of it."""

    path: str
    label: str
    kind: GripKind
    body: BodyName
    at: Point | Item
    note: str = ""


def grips(project: Project) -> tuple[Grip, ...]:
    """Return every point that can be moved: pivots, spring ends, handle, zones, holes and items, in this order.

    Left out are things that come off the shell, and the holes of a list of which the file leaves one unknown.
    """
    return tuple(_grip(project, held) for held in _held(project))


def moved(project: Project, path: str, x: float, z: float) -> dict[str, str]:
    """Return the changes for `project.file.edit` that put the point at `path` to (x, z) [m], closed.

    Places are rounded to whole millimetres, or sixteenths of an inch. An axis along which the point lies within half
    of that of where it was asked to go is not changed. A place that was read (measured, from a label), assumed,
    suggested or unknown becomes the builder's decision, without word and range: it is planned now, and what is known
    of the old place says nothing of the new one. A range that the builder gave a decision ("1.40 m +- 3 mm") is kept.
    A handle that was left out is written whole. Of parallel arms the pin that keeps them parallel goes along.
    Raises ProjectFault when there is no such point or it cannot be put there.
    """
    held = _find(project, path)
    changes = _shifted(project, held, x, z)
    if changes and project.linkage.kind == "parallel arms" and path.startswith("linkage."):
        other = _find(project, f"linkage.{_ALONG[path.removeprefix('linkage.')][0]}")
        for axis in ("x", "z"):
            if f"{path}.{axis}" in changes:
                there: Uncertain = getattr(other.at, axis)
                by = _read(changes[f"{path}.{axis}"]).nominal - getattr(held.at, axis).nominal
                changes[f"{other.path}.{axis}"] = _text(project, decided(there, there.nominal + by))
    return changes


def tried(project: Project, path: str, x: float, z: float) -> Project:
    """Return the project as the file would read with the point at `path` put to (x, z) [m], closed.

    Nothing is written. Raises ProjectFault as `moved` does, and where such a file would be refused.
    """
    for where, text in moved(project, path, x, z).items():
        project = _put(project, where.split("."), _read(text))
    if faults := impossible(project):
        raise ProjectFault(faults)
    return project


# --- which points there are ------------------------------------------------------------------------


def _held(project: Project) -> Iterator[_Held]:
    link = project.linkage
    written = (*PIVOTS[link.kind], *(("guide_far",) if link.guide_far is not None else ()))
    for name in written:
        label, body = _PIVOTS[name]
        if link.kind == "scissor" and name == "arm_a_shell":
            # No pin: it slides along the shell.
            label, body = "sliding end of arm a", "arm a"
        yield _Held(f"linkage.{name}", label, "pivot", body, getattr(link, name), _along(project, name))
    for i, spring in enumerate(project.spring):
        yield _Held(f"spring.{i}.foot", f"foot of {spring.name}", "spring", spring.foot_on, spring.foot)
        yield _Held(f"spring.{i}.head", f"head of {spring.name}", "spring", spring.head_on, spring.head)
    others: tuple[tuple[str, tuple[Coil | Cord, ...]], ...] = (("coil", project.coil), ("cord", project.cord))
    for kind, parts in others:
        for i, part in enumerate(parts):
            yield _Held(f"{kind}.{i}.foot", f"first end of {part.name}", "spring", part.foot_on, part.foot)
            yield _Held(f"{kind}.{i}.head", f"other end of {part.name}", "spring", part.head_on, part.head)
    yield _Held(HANDLE, "handle", "handle", "shell", project.handle.at, LEFT_OUT if _left_out(project) else "")
    for i, zone in enumerate(project.zone):
        yield _Held(f"zone.{i}.from", f"corner of {zone.name}", "zone", zone.on, zone.from_)
        yield _Held(f"zone.{i}.to", f"opposite corner of {zone.name}", "zone", zone.on, zone.to)
    for i, spring in enumerate(project.spring):
        for end, body, holes in (("foot", spring.foot_on, spring.feet), ("head", spring.head_on, spring.heads)):
            many = "feet" if end == "foot" else "heads"
            # With one of them unknown the list read is shorter than the one written.
            if any(said.startswith(f"{place('spring', i, many)} ") for said in project.taken):
                continue
            for k, hole in enumerate(holes):
                label = f"hole {k + 1} of {spring.name}'s {end}"
                yield _Held(f"spring.{i}.{many}.{k}", label, "hole", body, hole)
    for i, item in enumerate(project.item):
        if item.state != "remove":
            yield _Held(f"item.{i}", item.name, "item", "shell", item)


def _along(project: Project, name: str) -> str:
    return _ALONG[name][1] if project.linkage.kind == "parallel arms" else ""


def _left_out(project: Project) -> bool:
    """Whether the file does not place the handle; words that say just what is then taken mean the same."""
    rear, front = ends(project)
    lip = (rear if end_in_plane(project) == "front" else front, project.shell.rim_height.nominal)
    at = project.handle.at
    return all(
        value.provenance is Provenance.ASSUMED
        and value.shape == "even"
        and math.isclose(value.nominal, edge, abs_tol=1e-9)
        and math.isclose(value.spread, 0.02, abs_tol=1e-9)
        for value, edge in zip((at.x, at.z), lip, strict=True)
    )


def _grip(project: Project, held: _Held) -> Grip:
    x, z, note = held.at.x, held.at.z, held.note
    if held.note == LEFT_OUT:
        x, z = exact(x.nominal), exact(z.nominal)
    else:
        known = ORIGIN[max((x.provenance, z.provenance), key=list(ORIGIN).index)]
        note = f"{known}; {note}" if note else known
    return Grip(
        path=held.path,
        label=held.label,
        kind=held.kind,
        body=held.body,
        at=(x.nominal, z.nominal),
        x_path=f"{held.path}.x",
        z_path=f"{held.path}.z",
        x_text=_text(project, x),
        z_text=_text(project, z),
        note=note,
    )


def _find(project: Project, path: str) -> _Held:
    found = next((held for held in _held(project) if held.path == path), None)
    if found is None:
        raise ProjectFault(
            [Fault("What was moved", quoted(path), "no point of this roof is called that", "load the page again")]
        )
    return found


# --- what the file then says -----------------------------------------------------------------------


def _shifted(project: Project, held: _Held, x: float, z: float) -> dict[str, str]:
    """Return the changes of one point by itself."""
    units = project.settings.units
    changes: dict[str, str] = {}
    for axis, wanted in (("x", x), ("z", z)):
        here: Uncertain = getattr(held.at, axis)
        _within(project, f"{held.path}.{axis}", held.label, axis, wanted)
        if abs(wanted - here.nominal) > float(MARK[units]) / 2 * (1 + 1e-9):
            changes[f"{held.path}.{axis}"] = _text(project, decided(here, on_tape(wanted, units)))
    if changes and held.note == LEFT_OUT:
        whole = {f"{held.path}.{axis}": _text(project, exact(getattr(held.at, axis).nominal)) for axis in ("x", "z")}
        return whole | changes
    return changes


def _within(project: Project, path: str, label: str, axis: str, wanted: float) -> None:
    """Refuse a place that no file may hold, or that is no number."""
    key = key_of(path)
    if key.low <= wanted <= key.high:
        return
    units = project.settings.units
    given = "far away" if math.isfinite(wanted) else "no number"
    if abs(wanted) < FARTHEST:
        given = say(wanted, Dimension.LENGTH, units)
    least, most = (say(end, Dimension.LENGTH, units) for end in (key.low, key.high))
    where = f"{label[0].upper()}{label[1:]}, {axis}"
    raise ProjectFault([Fault(where, given, f"must lie within {least} to {most}", "put it nearer to the roof")])


def decided(value: Uncertain, to: float) -> Uncertain:
    """Return a place as the builder now plans it, with the range that a decision was given before."""
    if value.provenance is not Provenance.GIVEN or value.shape == "exact":
        return exact(to)
    if value.shape == "normal":
        return normal(to, value.spread, Provenance.GIVEN)
    return even(to - value.spread, to + value.spread, Provenance.GIVEN)


def _text(project: Project, value: Uncertain) -> str:
    return format_quantity(value, Dimension.LENGTH, project.settings.units)


def _read(text: str) -> Uncertain:
    return parse(text, Dimension.LENGTH, unknown=None)


def _put(part: Any, steps: list[str], value: Uncertain) -> Any:
    """Return a section, or a list of them, with the value at the end of `steps` replaced."""
    if not steps:
        return value
    step, rest = steps[0], steps[1:]
    if not isinstance(part, Section):
        return tuple(_put(one, rest, value) if i == int(step) else one for i, one in enumerate(part))
    name = next(member.attribute for member in members(type(part)) if member.key == step)
    return part.model_copy(update={name: _put(getattr(part, name), rest, value)})
