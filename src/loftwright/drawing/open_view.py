"""The open roof to scale, with floor and person, as small as a newcomer's first look."""

from __future__ import annotations

from loftwright.core.scene import PoseTable, Scene
from loftwright.core.wording import Wording
from loftwright.drawing import parts
from loftwright.drawing.board_dimensions import UNDER_FLOOR, dimensions
from loftwright.drawing.board_view import WIDE, needed
from loftwright.drawing.page import Drawing, Primitive
from loftwright.drawing.parts import View
from loftwright.drawing.scene import at_fraction

_TOP, _SIDE, _COLUMN = 3.0, 3.0, 13.0


def open_view(
    scene: Scene, poses: PoseTable, says: Wording, *, width: float, height: float, bar: float = 1.0
) -> Drawing:
    """Return the open roof over the floor, `width` [mm] wide and at most `height` [mm] high, dashed where it closes.

    `bar` [m] is the length of the scale bar.
    """
    need, opened = needed(scene, poses), at_fraction(poses, 1.0)
    at_rear = scene.lip[0] < (scene.opening[0] + scene.opening[1]) / 2
    left, right = (_COLUMN, _SIDE) if at_rear else (_SIDE, _COLUMN)
    s = min((width - left - right) / (need.x1 - need.x0), (height - _TOP - UNDER_FLOOR) / (need.z1 - need.z0))
    spare = (width - left - right - s * (need.x1 - need.x0)) / 2
    view = View(left + spare - s * need.x0, _TOP + s * need.z1, s)
    page = (width, _TOP + s * (need.z1 - need.z0) + UNDER_FLOOR)
    x0, x1 = -view.x / s, (width - view.x) / s
    marks: list[Primitive] = [
        *parts.van(scene, view, x0, x1, floor=True),
        *parts.person(scene, view),
        *parts.shell(scene, view, ghost=True),
        *parts.shell(scene, view, opened.shell),
        *parts.rails(scene, view, opened),
        *parts.arms(scene, view, opened),
        *parts.springs(scene, view, opened),
        *parts.pivots(scene, view, opened),
        *parts.handle(scene, view, opened.shell),
        *dimensions(scene, opened, view, page, says, bar=bar, wide=width >= WIDE, at_rear=at_rear),
    ]
    words = [f"Fully open the lip rises by {says.length(scene.measured.rise)}."]
    if scene.headroom_at is not None:
        words.append(f"Headroom is {says.length(scene.measured.headroom)}.")
    title = "The open roof seen from behind" if scene.seen else "The open roof from the side"
    return Drawing(*page, title, " ".join(words), tuple(marks))
