"""The measuring sheet's boxes: for everything that can be measured, what is known of it, what is not known first."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from loftwright.answers.views import wording
from loftwright.core.quantities import Dimension
from loftwright.core.uncertain import Provenance, Uncertain, normal
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Box, Caution, SheetPage, Units
from loftwright.core.wording import Wording
from loftwright.mechanics import weigh
from loftwright.project import assemble
from loftwright.project.model import Project, Spring, key_of, walk
from loftwright.reference.cautions import ALWAYS

MEASURED: Final = (
    "shell.length",
    "shell.width",
    "shell.height_rear",
    "shell.height_middle",
    "shell.height_front",
    "roof.crown",
    "roof.camber",
    "roof.upstand",
    "opening.length",
    "opening.width",
    "linkage.spacing",
    "van.floor_to_roof",
    "van.roof_build",
    "person.height",
    "person.reach",
)
"""Single lengths that every sheet asks for."""
POINTS: Final = {
    "linkage.hinge": "hinge: along, up",
    "linkage.arm_a_van": "arm a on the van: along, up",
    "linkage.arm_a_shell": "arm a on the shell: along, up",
    "linkage.arm_b_van": "arm b on the van: along, up",
    "linkage.arm_b_shell": "arm b on the shell: along, up",
    "handle.at": "handle: along, up",
}
"""Points and what the sheet calls them."""
WHEN_OPEN: Final = {
    "linkage.play": "play of a hinge pin",
    "linkage.plate_stiffness": "hinge plate: stiffness sideways",
    "linkage.friction": "friction of the hinges",
    "forces.seal_line": "seal: push per metre",
    "forces.seal_height": "seal: squeezed by",
    "forces.cloth_mass": "weight of the cloth",
    "forces.wet_extra": "water in the wet cloth",
    "forces.cloth_tension": "tight cloth, per metre",
    "forces.fold_push": "folded cloth, per metre",
    "forces.trapped_air": "push of air, doors shut",
}
"""What is asked only while nothing but a guess is known, and what the sheet calls it."""
OF_SPRING: Final = {
    "force": "force on the label, and which",
    "extended_length": "length, rod out",
    "stroke": "stroke",
    "rod_diameter": "rod, tube: diameters",
}
SPRING_WHEN_OPEN: Final = {
    "ratio": "force in over force out",
    "friction": "friction, in less out",
    "end_limit": "load its end fittings carry",
}
ORIGIN: Final = {
    Provenance.GIVEN: "your decision",
    Provenance.MEASURED: "measured",
    Provenance.LABEL: "from a label",
    Provenance.ASSUMED: "assumed",
    Provenance.UNKNOWN: "guess",
}
"""How a number is known, the surest first."""
NOT_NEEDED: Final = "not needed"
"""What stands in a box of the weighing once weight and centre are known."""


def sheet_page(project: Project) -> SheetPage:
    """Return the boxes of the measuring sheet, those of which nothing but a guess is known first."""
    say = wording(project)
    boxes = (
        *_weighing(project, say),
        *_known(project, say, MEASURED),
        *_shell(project, say),
        *_points(project, say),
        *_bed(project, say),
        *_items(project, say),
        *_springs(project, say),
        *(box for box in _known(project, say, WHEN_OPEN) if box.value is None),
    )
    return SheetPage(
        name=project.name,
        subtitle="Fill the boxes, then write them into the project file",
        boxes=tuple(sorted(boxes, key=lambda box: box.value is not None)),
        cautions=_cautions(),
        units=project.settings.units,
        made_with=MADE_WITH,
    )


def blank_page(units: Units = "metric") -> SheetPage:
    """Return a measuring sheet of which nothing is known yet."""
    return SheetPage(
        name="nothing known yet",
        subtitle="Fill the boxes, then write them into a project file",
        boxes=(),
        cautions=_cautions(),
        units=units,
        made_with=MADE_WITH,
    )


def _cautions() -> tuple[Caution, ...]:
    return tuple(Caution(text) for text in ALWAYS)


def _box(key: str, says: Iterable[tuple[Uncertain, Dimension]], say: Wording, label: str = "", after: str = "") -> Box:
    """Return the box of one or several numbers written side by side; a guess among them leaves it empty."""
    values = tuple(says)
    text = ", ".join(say.ranged(value, dimension) for value, dimension in values) + after
    origin = ORIGIN[max((value.provenance for value, _ in values), key=list(ORIGIN).index)]
    if any(value.is_open for value, _ in values):
        return Box(key, None, f"{origin} {text}", label)
    return Box(key, text, origin, label)


def _known(project: Project, say: Wording, keys: Iterable[str]) -> Iterable[Box]:
    found = walk(project)
    for key in keys:
        yield _box(key, [(found[key], key_of(key).dimension)], say, WHEN_OPEN.get(key, ""))


def _weighing(project: Project, say: Wording) -> Iterable[Box]:
    """Yield the boxes of the weighing: what the scales read, else the weight and centre that the file states."""
    readings = project.weighing.reading if project.weighing is not None else ()
    lines = [r for r in readings if r.at is not None and r.reads is not None]
    shell = project.shell
    whole = next((r.whole for r in readings if r.whole is not None), shell.mass)
    balance = next((r.balance for r in readings if r.balance is not None), None)
    if balance is None and shell.centre is not None:
        behind, centre = shell.overhang_rear.nominal, shell.centre
        balance = normal(centre.nominal + behind, centre.spread, centre.provenance)
    found: dict[str, tuple[Uncertain | None, Dimension]] = {}
    for i, name in enumerate(("first", "second")):
        line = lines[i] if i < len(lines) else None
        found[f"weighing.{name}_at"] = (line.at if line else None, Dimension.LENGTH)
        found[f"weighing.{name}_reads"] = (line.reads if line else None, Dimension.MASS)
    found["weighing.whole"] = (whole, Dimension.MASS)
    found["weighing.balance"] = (balance, Dimension.LENGTH)
    stated = all(v is not None and not v.is_open for v in (whole, balance))
    settled = stated or isinstance(assemble.weighing(project), weigh.Weighed)
    for key, (value, dimension) in found.items():
        if value is not None:
            yield _box(key, [(value, dimension)], say)
        else:
            yield Box(key, NOT_NEEDED if settled else None)


def _shell(project: Project, say: Wording) -> Iterable[Box]:
    """Yield what the shell is made of and how thick it is."""
    made_of = project.shell.made_of
    yield Box("shell.made_of", None if made_of == "unknown" else made_of)
    guess = assemble.quantities(project)[assemble.BY_MATERIAL].value
    written = project.shell.thickness
    yield _box("shell.thickness", [(guess if written is None else written, Dimension.LENGTH)], say, "thickness")


def _points(project: Project, say: Wording) -> Iterable[Box]:
    found = walk(project)
    for key, label in POINTS.items():
        if f"{key}.x" in found:
            yield _box(key, [(found[f"{key}.{axis}"], Dimension.LENGTH) for axis in ("x", "z")], say, label)


def _bed(project: Project, say: Wording) -> Iterable[Box]:
    bed = project.bed
    if bed is None:
        yield Box("bed.from", None, "only if there is one")
        yield Box("bed.height", None, "only if there is one")
        return
    yield _box("bed.from", [(bed.from_, Dimension.LENGTH), (bed.to, Dimension.LENGTH)], say)
    yield _box("bed.height", [(bed.height, Dimension.LENGTH)], say)


def _items(project: Project, say: Wording) -> Iterable[Box]:
    """Yield the weight of each thing on the shell that is only guessed."""
    for i, item in enumerate(project.item):
        box = _box(f"item.{i}.mass", [(item.mass, Dimension.MASS)], say, f"{item.name}: weight")
        if box.value is None:
            yield box


def _springs(project: Project, say: Wording) -> Iterable[Box]:
    """Yield the boxes of the springs: one set of them under plain names for one kind or none, else one a kind."""
    springs = project.spring
    if not springs:
        yield from (Box(f"spring.{key}", None) for key in OF_SPRING)
    if len(springs) == 1:
        yield from _spring("spring", "", springs[0], say)
    else:
        for i, spring in enumerate(springs):
            yield from _spring(f"spring.{i}", f"{spring.name}: ", spring, say)


def _spring(path: str, named: str, spring: Spring, say: Wording) -> Iterable[Box]:
    for key, label in OF_SPRING.items():
        values = [(getattr(spring, key), key_of(f"spring.0.{key}").dimension)]
        if key == "rod_diameter":
            values.append((spring.tube_diameter, Dimension.LENGTH))
        yield _box(f"{path}.{key}", values, say, named + label, f", {spring.force_is}" if key == "force" else "")
    for key, label in SPRING_WHEN_OPEN.items():
        box = _box(f"{path}.{key}", [(getattr(spring, key), key_of(f"spring.0.{key}").dimension)], say, named + label)
        if box.value is None:
            yield box
