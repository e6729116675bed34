"""The side view that a slider moves."""

from __future__ import annotations

from dataclasses import dataclass, replace

from loftwright.core.scene import PoseTable, Scene
from loftwright.drawing import parts
from loftwright.drawing.page import Circle, Drawing, Group, Line, Polyline, Primitive
from loftwright.drawing.panel import extent
from loftwright.drawing.parts import View
from loftwright.drawing.scene import State, at_fraction, spring_ends

_END, _PIN = 0.7, 0.9


@dataclass(frozen=True, slots=True)
class MovingView:
    """A drawing whose parts a page can move: groups "shell", "arm a", "arm b", "handle" and "spring 0", "spring 1", ...

    In the groups of the bodies the van's origin lies at (0, 0) and the roof is closed; `view` says where they belong.
    """

    drawing: Drawing
    view: View


def moving_view(scene: Scene, poses: PoseTable, *, width: float = 180.0) -> MovingView:
    """Return the closed roof over the floor, drawn large enough for every pose of the table."""
    rest = at_fraction(poses, 0.0)
    extents = [extent(scene, at_fraction(poses, f)) for f in poses.fraction]
    x0, x1 = min(e.x0 for e in extents) - 0.2, max(e.x1 for e in extents) + 0.2
    z1 = max(e.z1 for e in extents) + 0.08
    s = width / (x1 - x0)
    height = s * (z1 - scene.floor_z) + 4.0
    view = View(-s * x0, s * z1, s)
    marks: list[Primitive] = [
        Group("van", (*parts.van(scene, view, x0, x1, floor=True), *parts.person(scene, view))),
        Group("ghost", tuple(parts.shell(scene, view, at_fraction(poses, 1.0).shell, ghost=True))),
        *moving_parts(scene, view, rest),
    ]
    return MovingView(
        Drawing(
            width,
            height,
            "Seen from behind" if scene.seen else "Side view",
            "The roof moves with the slider.",
            tuple(marks),
        ),
        view,
    )


def moving_parts(scene: Scene, view: View, rest: State) -> list[Primitive]:
    """Return shell, rails, arms, springs, pins and handle, each in its group; `rest` is the closed roof."""
    local, shift = View(0.0, 0.0, view.scale), (view.x, view.y)
    marks: list[Primitive] = [Group("shell", tuple(parts.shell(scene, local)), shift)]
    for rail in scene.rails:
        marks.append(Group(rail.body, tuple(parts.rails(replace(scene, rails=(rail,)), local, rest)), shift))
    for arm in scene.arms:
        marks.append(Group(arm.body, tuple(parts.arms(replace(scene, arms=(arm,)), local, rest)), shift))
    for i, spring in enumerate(scene.springs):
        tube, rod = parts.spring_lines(spring, rest)
        ends = [Circle(view.at(end), _END, "pivot") for end in spring_ends(spring, rest)]
        lines = [Line(view.at(rod[0]), view.at(rod[1]), "rod"), Line(view.at(tube[0]), view.at(tube[1]), "tube")]
        marks.append(Group(f"spring {i}", (*lines, *ends)))
    for pivot in scene.pivots:
        marks.append(Group(f"pivot {pivot.body}", (Circle(local.at(pivot.at), _PIN, "pivot"),), shift))
    if scene.handle is not None:
        grip = Polyline(((-1.3, 0.0), (-1.3, 0.9), (1.3, 0.9), (1.3, 0.0)), "rim")
        strap = (Line((0.0, 0.9), (0.0, view.scale * scene.strap_length), "strap"),) if scene.strap_length > 0 else ()
        marks.append(Group("handle", (*strap, grip), view.at(scene.handle)))
    return marks
