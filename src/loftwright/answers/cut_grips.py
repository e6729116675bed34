"""The opening seen from above, at once and without judgement: what its plan shows, and what moving a corner writes.

Everything in the file counts from the opening's rear edge, so that edge stays: a front corner changes the length and
the width, a rear corner the width alone, both sides alike; the corner's radius has a point of its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, isfinite
from typing import Final

from loftwright.answers.draws import Nominal
from loftwright.answers.grips import decided, steps
from loftwright.answers.judged_roof import inputs_of
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.hold_views import CutPlan, Flat, HoldPage, PlanBow
from loftwright.core.quantity_text import MARK, format_quantity, on_tape
from loftwright.core.uncertain import Uncertain, exact
from loftwright.core.units import Dimension
from loftwright.core.wording import Wording
from loftwright.project.assemble_opening import ring_sizes
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, plane_of
from loftwright.project.reading import quoted

LENGTH, WIDTH, RADIUS = "opening.length", "opening.width", "cut.corner_radius"
FIRST_RADIUS: Final = 0.06
"""Where the point of a radius lies that is not decided yet: so far from both edges [m]."""


@dataclass(frozen=True, slots=True)
class CutGrip:
    """A point of the cut line that can be moved: its name, what it is called and where it lies, x and y [m].

    `ways` are the keys that it changes.
    """

    name: str
    label: str
    at: Flat
    ways: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CutBoard:
    """The plan of the cut with its points; `steps` are those of the arrow keys [m], `figures` what the file has."""

    plan: CutPlan
    grips: tuple[CutGrip, ...]
    steps: tuple[float, float]
    figures: tuple[tuple[str, str, str], ...]
    """What it is called, its key, and its value as text."""


def cut_board(project: Project, judged: HoldPage | None = None) -> CutBoard:
    """Return the opening from above with the points that move it; plates are those of `judged`, where it is there."""
    plan = _plan(project, judged)
    _, half, length, _ = plan.opening
    radius = FIRST_RADIUS if plan.radius is None else plan.radius
    both, across = (LENGTH, WIDTH), (WIDTH,)
    grips = (
        CutGrip("rear left", "rear left corner", (0.0, half), across),
        CutGrip("front left", "front left corner", (length, half), both),
        CutGrip("front right", "front right corner", (length, -half), both),
        CutGrip("rear right", "rear right corner", (0.0, -half), across),
        CutGrip("radius", "corner radius", (length - radius, half - radius), (RADIUS,)),
    )
    say = Wording(project.settings.units)
    figures = (
        ("Length of the opening", LENGTH, say.short_length(project.opening.length.nominal)),
        ("Width of the opening", WIDTH, say.short_length(project.opening.width.nominal)),
        ("Radius of its corners", RADIUS, _radius_text(project, say)),
        ("Roof behind the opening", "body.rear_edge", say.ranged(project.body.rear_edge, Dimension.LENGTH)),
    )
    return CutBoard(plan, grips, steps(project.settings.units), figures)


def _radius_text(project: Project, say: Wording) -> str:
    radius = project.cut.corner_radius
    return "not decided yet" if radius is None else say.short_length(radius.nominal)


def _plan(project: Project, judged: HoldPage | None) -> CutPlan:
    at = Nominal(inputs_of(project))

    def first(path: str) -> float:
        return float(at(path)[0])

    length, half = first(LENGTH), first(WIDTH) / 2
    rear, roof_long, roof_half = first("body.rear_edge"), first("body.roof_length"), first("body.roof_width") / 2
    radius = None if project.cut.corner_radius is None else first(RADIUS)
    plane = plane_of(project)
    shell_long, shell_wide, over = first("shell.length"), first("shell.width"), first(plane.overhang)
    if plane is CROSSWISE:
        behind = (length - shell_long) / 2
        shell = (behind, shell_wide - half - over, behind + shell_long, half + over)
    else:
        shell = (-over, shell_wide / 2, shell_long - over, shell_wide / 2)
    say = Wording(project.settings.units)
    # A roof whose end is not measured reaches at least to the opening.
    front = max(roof_long - rear, length)
    side = max(roof_half, half)
    return CutPlan(
        roof=(-rear, side, front, side),
        opening=(0.0, half, length, half),
        shell=shell,
        radius=radius,
        ring=float(ring_sizes(project, at)[0][0]),
        bows=tuple(
            PlanBow(place, first(f"bow.{i}.width") / 2, bow.kept or not 0.0 < place < length, f"bow {i + 1}")
            for i, (bow, place) in enumerate((bow, first(f"bow.{i}.at")) for i, bow in enumerate(project.bow))
        ),
        plates=() if judged is None else judged.plan.plates,
        starts=(),
        sizes=(
            ((0.0, -half), (length, -half), say.short_length(length)),
            ((length, -half), (length, half), say.short_length(2 * half)),
            ((-rear, -side), (0.0, -side), say.short_length(rear)),
        ),
        diagonal=say.short_length(hypot(length, 2 * half)),
    )


def cut_moved(project: Project, name: str, x: float, y: float) -> dict[str, str]:
    """Return the changes of the file that put the point called `name` to (x, y) [m], rounded to marks of the tape.

    Errors: ProjectFault where there is no such point or that is no place.
    """
    grip = next((grip for grip in cut_board(project).grips if grip.name == name), None)
    if grip is None or not (isfinite(x) and isfinite(y)):
        raise ProjectFault([Fault("What was moved", quoted(name), "no place of the cut line", "load the page again")])
    opening = project.opening
    length, width = opening.length.nominal, opening.width.nominal
    wanted = {LENGTH: x, WIDTH: 2 * abs(y), RADIUS: (length - x + width / 2 - y) / 2}
    now = {LENGTH: opening.length, WIDTH: opening.width, RADIUS: project.cut.corner_radius}
    return {path: text for path in grip.ways if (text := _text(project, now[path], wanted[path]))}


def _text(project: Project, now: Uncertain | None, wanted: float) -> str:
    """Return what the file then says; nothing where the value stays within half a mark of the tape."""
    units = project.settings.units
    if now is not None and abs(wanted - now.nominal) <= float(MARK[units]) / 2 * (1 + 1e-9):
        return ""
    to = on_tape(wanted, units)
    return format_quantity(exact(to) if now is None else decided(now, to), Dimension.LENGTH, units)
