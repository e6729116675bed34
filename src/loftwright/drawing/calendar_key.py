"""What the signs in the order of work mean, and how waits are hatched."""

from __future__ import annotations

from collections.abc import Sequence

from loftwright.core.work import Planned, WaitKind
from loftwright.drawing.legend import Sign, legend
from loftwright.drawing.page import Line, Polygon, Primitive
from loftwright.drawing.shadings import Shading, box, diamond, shaded, tick

WAITS: dict[WaitKind, tuple[Shading, str]] = {
    "curing": ("rising", "it cures or dries"),
    "delivery": ("falling", "it is on its way"),
    "weather": ("crossed", "wait for dry weather"),
    "answer": ("level", "wait for an answer"),
}
"""How waits are hatched, and what that means."""


def calendar_key(
    tasks: Sequence[Planned], worked: Sequence[int], top: float, width: float
) -> tuple[list[Primitive], float]:
    """Return what the signs mean, only those that are there, and where the next thing may begin [mm]."""
    bar = box(0.0, -2.3, 6.0, -0.1)
    signs = [Sign((Polygon(bar, "item"), Polygon(bar, "thin-outline")), 6.0, "work")]
    if any(p.critical and not p.done for p in tasks):
        signs.append(
            Sign((diamond(1.0, -1.2), *_moved_bar()), 9.0, "sets the finish: a day lost here is lost for good")
        )
    kinds = dict.fromkeys(p.task.wait_is for p in tasks if p.free_from > p.ends and p.task.wait_is in WAITS)
    for kind in kinds:
        how, words = WAITS[kind]
        signs.append(Sign((*shaded(bar, how, gap=0.9), Polygon(bar, "thin-outline")), 6.0, words))
    if any(p.latest_end > p.ends and not (p.done or p.critical) for p in tasks):
        late = (Line((0.0, -0.8), (6.0, -0.8), "fine"), Line((6.0, -1.8), (6.0, -0.6), "fine"))
        signs.append(Sign(late, 6.0, "may still end here"))
    if any(p.done for p in tasks):
        signs.append(Sign((tick(0.0, -0.2, 2.0),), 2.2, "done"))
    if len(worked) < 7:
        signs.append(Sign((Polygon(box(0.0, -2.4, 3.0, 0.0), "band-mild"),), 3.0, "no work on these days"))
    return legend(signs, 0.0, top, width)


def _moved_bar() -> tuple[Primitive, ...]:
    bar = box(3.0, -2.3, 9.0, -0.1)
    return Polygon(bar, "item"), Polygon(bar, "marker")
