"""The side view of the drawing board: one roof to scale, its parts in groups that a page moves, its dimensions.

A window on the van, in metres, fixes the scale; it is kept while the roof fits into it, so that nothing jumps while
a point is dragged.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from loftwright.core.scene import PoseTable, Scene, Spot
from loftwright.core.wording import Wording
from loftwright.drawing import parts
from loftwright.drawing.board_dimensions import UNDER_FLOOR, dimensions
from loftwright.drawing.moving import moving_parts
from loftwright.drawing.page import Drawing, Group, Primitive
from loftwright.drawing.parts import View
from loftwright.drawing.scene import State, at_fraction, placed

WIDE = 110.0
"""From this width on there is room for all dimensions [mm]."""
_TOP, _SIDE, _COLUMNS = 3.0, 3.0, 13.0
# Ends of gas springs and pins are drawn this large [mm].
_FEW = 16


@dataclass(frozen=True, slots=True)
class Window:
    """What of the van a drawing shows [m]."""

    x0: float
    x1: float
    z0: float
    z1: float


@dataclass(frozen=True, slots=True)
class BoardView:
    """The drawing, the view from metres to its millimetres, and the window that it shows.

    In the groups "shell", "arm a", "arm b" and "pivot ..." the van's origin lies at (0, 0) and the roof is closed.
    Groups "spring 0", "spring 1", ... hold rod, tube and two ends; "handle" lies about its own place.
    """

    drawing: Drawing
    view: View
    window: Window


def needed(scene: Scene, poses: PoseTable, marks: Iterable[tuple[str, Spot]] = ()) -> Window:
    """Return the least window [m] that holds the roof in every pose, the person, the floor and `marks`.

    `marks` are points with the body that carries them, where they lie [m] when the roof is closed.
    """
    bodies: dict[str, list[Spot]] = {"van": [], "shell": [scene.lip, *scene.shell], "arm a": [], "arm b": []}
    for item in scene.items:
        bodies["shell"] += [(x, z) for x in (item.x0, item.x1) for z in (item.z0, item.z1)]
    for pivot in scene.pivots:
        bodies[pivot.body].append(pivot.at)
    for rail in scene.rails:
        bodies[rail.body] += rail.ends
    for spring in scene.springs:
        bodies[spring.foot_on].append(spring.foot)
        bodies[spring.head_on].append(spring.head)
    for body, spot in marks:
        bodies[body].append(spot)
    still = bodies.pop("van")
    still += [(x, parts.height_of(scene.roof_profile, x) - scene.roof_build) for x in scene.opening]
    if scene.bed is not None:
        still += [(scene.bed.x0, scene.bed.z), (scene.bed.x1, scene.bed.z)]
    if scene.person is not None:
        wide = 0.11 * scene.person.height
        top = scene.person.stands_z + scene.person.height
        still += [(scene.person.x - wide, top), (scene.person.x + wide, top)]
    # The travel is smooth: a station in so many shows how far the roof comes.
    every = max(1, (len(poses.fraction) - 1) // _FEW)
    for i in {*range(0, len(poses.fraction), every), len(poses.fraction) - 1}:
        state = State(poses.fraction[i], poses.opening[i], poses.shell[i])
        if poses.arm_a:
            state = replace(state, arm_a=poses.arm_a[i])
        if poses.arm_b:
            state = replace(state, arm_b=poses.arm_b[i])
        for body, spots in bodies.items():
            if spots:
                pose = state.body(body)  # type: ignore[arg-type]
                still += [placed(pose, spot) for spot in spots]
    xs, zs = [s[0] for s in still], [s[1] for s in still]
    return Window(min(xs), max(xs), min(scene.floor_z, *zs), max(zs))


def _fitted(need: Window, columns: tuple[float, float], width: float, height: float) -> Window:
    """Return a window round `need` for a drawing of width x height [mm] at most, with `columns` free at the sides."""
    left, right = columns
    across, tall = need.x1 - need.x0, need.z1 - need.z0
    s = min((width - left - right) / across, (height - _TOP - UNDER_FLOOR) / tall)
    spare = (width / s - across - (left + right) / s) / 2
    x0 = need.x0 - left / s - spare
    return Window(x0, x0 + width / s, need.z0 - UNDER_FLOOR / s, need.z1 + _TOP / s)


def _grown(window: Window, need: Window, width: float) -> Window:
    """Return `window` as it is while `need` lies in it, else as much larger, in the same shape, as it must be."""
    s = width / (window.x1 - window.x0)
    low = need.z0 - UNDER_FLOOR / s
    # A hair, for the rounding of a window that went through text.
    hair = 1e-6
    if (
        window.x0 - hair <= need.x0
        and need.x1 <= window.x1 + hair
        and window.z0 - hair <= low
        and need.z1 <= window.z1 + hair
    ):
        return window
    around = 2.0 * _SIDE / s
    x0 = window.x0 if window.x0 <= need.x0 else need.x0 - around
    x1 = window.x1 if need.x1 <= window.x1 else need.x1 + around
    z0 = window.z0 if window.z0 <= low else low - around
    z1 = window.z1 if need.z1 <= window.z1 else need.z1 + around
    across, tall = window.x1 - window.x0, window.z1 - window.z0
    larger = max((x1 - x0) / across, (z1 - z0) / tall)
    # The rows under the floor keep their size on paper, so they take more metres on a smaller scale.
    more_x, more_z = larger * across - (x1 - x0), larger * tall - (z1 - z0)
    return Window(x0 - more_x / 2, x1 + more_x / 2, z0 - more_z / 2, z1 + more_z / 2)


def board_view(
    scene: Scene,
    poses: PoseTable,
    says: Wording,
    *,
    width: float,
    height: float | None = None,
    window: Window | None = None,
    marks: Sequence[tuple[str, Spot]] = (),
    bar: float = 1.0,
) -> BoardView:
    """Return the closed roof over the floor, `width` [mm] wide and no higher than `height` [mm].

    With `window` [m] its scale is held while the roof in every pose and `marks` (points with the body that carries
    them, closed, [m]) stay inside. `bar` [m] is the length of the scale bar.
    """
    wide = width >= WIDE
    need = needed(scene, poses, marks)
    at_rear = scene.lip[0] < (scene.opening[0] + scene.opening[1]) / 2
    if window is None:
        column = _COLUMNS if wide else _COLUMNS - 4.5
        columns = (column, _SIDE) if at_rear else (_SIDE, column)
        window = _fitted(need, columns, width, height or (0.62 * width if wide else 1.15 * width))
    else:
        # Twice: a smaller scale needs more metres for the rows under the floor.
        window = _grown(_grown(window, need, width), need, width)
    # As it is sent, so that the same window gives the same drawing.
    window = Window(*(round(v, 6) for v in (window.x0, window.x1, window.z0, window.z1)))
    s = width / (window.x1 - window.x0)
    view = View(-s * window.x0, s * window.z1, s)
    rest, opened = at_fraction(poses, 0.0), at_fraction(poses, 1.0)
    page = (width, s * (window.z1 - window.z0))
    drawn: list[Primitive] = [
        Group("van", (*parts.van(scene, view, window.x0, window.x1, floor=True), *parts.person(scene, view))),
        Group(
            "ghost",
            (*parts.shell(scene, view, opened.shell, ghost=True), *parts.shell(scene, view, rest.shell, ghost=True)),
        ),
        *moving_parts(scene, view, rest),
        Group("dimensions", tuple(dimensions(scene, opened, view, page, says, bar=bar, wide=wide, at_rear=at_rear))),
    ]
    title = "The roof seen from behind" if scene.seen else "The roof from the side"
    return BoardView(Drawing(*page, title, _describe(scene, says), tuple(drawn)), view, window)


def _describe(scene: Scene, says: Wording) -> str:
    words = [f"Fully open the lip rises by {says.length(scene.measured.rise)}."]
    if scene.headroom_at is not None:
        words.append(f"Headroom is {says.length(scene.measured.headroom)}.")
    if scene.handle is not None:
        words.append(f"The handle is then {says.length(scene.measured.handle_height)} above the feet.")
    return " ".join(words)
