"""The measuring sheet's boxes: for everything that can be measured, what is known of it, what is not known first."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from loftwright.answers.views import wording
from loftwright.core.choices import Units
from loftwright.core.uncertain import Provenance, Uncertain, normal
from loftwright.core.units import Dimension
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Box, Caution, SheetPage
from loftwright.core.wording import Wording
from loftwright.mechanics import weigh
from loftwright.project import assemble
from loftwright.project.model import Project, key_of, walk
from loftwright.project.motion_sections import Spring
from loftwright.project.plane import lengthwise_only
from loftwright.reference.cautions import ALWAYS
from loftwright.reference.sheet_labels import LABELS

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
POINTS: Final = (
    "linkage.hinge",
    "linkage.arm_a_van",
    "linkage.arm_a_shell",
    "linkage.arm_b_van",
    "linkage.arm_b_shell",
    "linkage.guide",
    "linkage.guide_far",
    "handle.at",
)
"""Points: along and up."""
OF_GUIDES: Final = ("linkage.rise", "linkage.guide_length", "linkage.guide_friction", "linkage.leans")
WHEN_OPEN: Final = (
    "shell.overhang_rear",
    "shell.rim_height",
    "linkage.play",
    "linkage.plate_stiffness",
    "linkage.friction",
    "forces.seal_line",
    "forces.seal_height",
    "forces.cloth_mass",
    "forces.wet_extra",
    "forces.cloth_tension",
    "forces.fold_push",
    "forces.trapped_air",
)
"""What is asked only while nothing but a guess is known."""
OF_SPRING: Final = (
    "force",
    "extended_length",
    "stroke",
    "rod_diameter",
    "tube_diameter",
)
SPRING_WHEN_OPEN: Final = (
    "place",
    "ratio",
    "friction",
    "end_limit",
)
ORIGIN: Final = {
    Provenance.GIVEN: "your decision",
    Provenance.MEASURED: "measured",
    Provenance.LABEL: "from a label",
    Provenance.SUGGESTED: "suggested by the program",
    Provenance.ASSUMED: "assumed",
    Provenance.UNKNOWN: "guess",
}
"""How a number is known, the surest first."""
NOT_NEEDED: Final = "not needed"
"""What stands in a box of the weighing once weight and centre are known."""


def sheet_page(project: Project) -> SheetPage:
    """Return the boxes of the measuring sheet, those of which nothing but a guess is known first.

    Raises ProjectFault for a roof hinged at a side: the sheet's pictures are of one hinged at an end.
    """
    lengthwise_only(project, "a filled measuring sheet is")
    say = wording(project)
    boxes = (
        *_weighing(project, say),
        *_known(project, say, MEASURED),
        *_shell(project, say),
        *_points(project, say),
        *_guides(project, say),
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
        words=project.settings.words,
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
    return Box(key, text, origin, label, light=any(v.provenance is Provenance.SUGGESTED for v, _ in values))


def _known(project: Project, say: Wording, keys: Iterable[str]) -> Iterable[Box]:
    found = walk(project)
    for key in keys:
        yield _box(key, [(found[key], key_of(key).dimension)], say)


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
    yield _box("shell.thickness", [(guess if written is None else written, Dimension.LENGTH)], say)
    twist = project.shell.twist_moment
    if twist is None:
        yield Box("shell.twist_moment", None, "else not judged")
    elif twist.is_open:
        yield _box("shell.twist_moment", [(twist, Dimension.MOMENT)], say)


def _points(project: Project, say: Wording) -> Iterable[Box]:
    found = walk(project)
    for key in POINTS:
        if f"{key}.x" in found:
            yield _box(key, [(found[f"{key}.{axis}"], Dimension.LENGTH) for axis in ("x", "z")], say)


def _guides(project: Project, say: Wording) -> Iterable[Box]:
    """Yield what of straight guides is a guess."""
    found = walk(project)
    for key in OF_GUIDES:
        if key in found and found[key].is_open:
            yield _box(key, [(found[key], key_of(key).dimension)], say)


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
    """Yield the boxes of one spring; `named` stands before their labels where there are several."""

    def asked(key: str, after: str = "") -> Box:
        whole = f"spring.{key}"
        values = [(getattr(spring, key), key_of(f"spring.0.{key}").dimension)]
        return _box(f"{path}.{key}", values, say, named + LABELS[whole] if named else "", after)

    for key in OF_SPRING:
        yield asked(key, after=f", {spring.force_is}" if key == "force" else "")
    yield from (box for box in map(asked, SPRING_WHEN_OPEN) if box.value is None)
    limit = spring.bracket_limit
    if limit is None:
        label = named + LABELS["spring.bracket_limit"] if named else ""
        yield Box(f"{path}.bracket_limit", None, "else not judged", label)
    elif limit.is_open:
        yield asked("bracket_limit")
