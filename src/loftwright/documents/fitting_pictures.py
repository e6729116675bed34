"""Pictures of the fit-out for paper and screens: seal, headroom, sun, the best way to park, cable, lift."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from loftwright.core.fitting_pages import FittingPage, RoomMap, SealDrawn, Spot
from loftwright.core.wording import Wording
from loftwright.documents.chapters import WIDTH
from loftwright.drawing.chart import steps
from loftwright.drawing.loop_view import LoopPose, LoopView, loop_view
from loftwright.drawing.page import Drawing
from loftwright.drawing.room_map import Furniture, HeightClass, room_map
from loftwright.drawing.room_map import RoomMap as DrawnRoom
from loftwright.drawing.seal_path import LowPlace, SealPath, seal_path
from loftwright.drawing.sun_chart import HeadingsRose, MonthSun, Ray, SunYear, headings_rose, sun_chart
from loftwright.drawing.wiring_view import Thing, ThingKind, Wiring, wiring_view

_MM: Final = 1000.0
_CLASS: Final = 0.3
"""How far apart steps of headroom are drawn below the height that is wanted [m]."""
_KINDS: Final[dict[str, ThingKind]] = {
    "Panel": "panel",
    "Gland": "gland",
    "Controller": "controller",
    "Fuse": "fuse",
    "Battery": "battery",
}
_LINES: Final = ("Cable", "Loop")
"""What is written beside a line, not at a thing."""


def _mm(spot: Spot) -> Spot:
    return spot[0] * _MM, spot[1] * _MM


# --- seal ------------------------------------------------------------------------------------------


def seal_picture(page: FittingPage, *, width: float = WIDTH, height: float = 116.0) -> Drawing | None:
    """Return the seal from above with low places and joint; None where its path is not known."""
    seal = page.seal
    if len(seal.path) < 3:
        return None
    wet = _wet_runs(seal)
    said = f"Water is looked for with the van level and parked {seal.lean}." if seal.lean else ""
    dry = "" if wet else "No water stands along it."
    return seal_path(
        SealPath(
            title="The seal from above",
            line=tuple(_mm(spot) for spot in seal.path),
            length=f"{seal.length} round",
            joint=_mm(seal.joint),
            joint_text="its ends meet here",
            low=tuple(LowPlace(tuple(_mm(spot) for spot in run), "water stands here") for run in wet),
            said=tuple(filter(None, (said, dry))),
        ),
        width=width,
        height=height,
    )


def _wet_runs(seal: SealDrawn) -> list[list[Spot]]:
    """Return stretches of the path in standing water, those over its first point in one piece."""
    n = len(seal.path)
    if all(seal.wet):
        return [list(seal.path)]
    if not any(seal.wet):
        return []
    start = seal.wet.index(False)
    runs: list[list[Spot]] = []
    before = False
    for k in range(start, start + n):
        if seal.wet[k % n]:
            if not before:
                runs.append([])
            runs[-1].append(seal.path[k % n])
        before = seal.wet[k % n]
    return [run for run in runs if len(run) > 1]


# --- headroom --------------------------------------------------------------------------------------


def room_picture(
    page: FittingPage, *, closed: bool = False, width: float = WIDTH, height: float = math.inf
) -> Drawing | None:
    """Return headroom from above with the roof open, or `closed`; None where the floor is not known."""
    room = page.room
    heights = room.closed if closed else room.opened
    if len(room.x) < 2 or len(room.y) < 2 or not heights:
        return None
    dx, dy = ((line[-1] - line[0]) / (len(line) - 1) for line in (room.x, room.y))
    return room_map(
        DrawnRoom(
            title="Headroom, roof closed" if closed else "Headroom, roof open",
            heights=tuple(tuple(max(value, 0.0) * _MM for value in row) for row in heights),
            x0=(room.x[0] - dx / 2) * _MM,
            y0=(room.y[0] - dy / 2) * _MM,
            dx=dx * _MM,
            dy=dy * _MM,
            classes=_classes(room),
            need=room.need * _MM,
            need_text=f"{room.need_text} and more: you stand",
            figures=_figures(page, heights),
            furniture=_bed(room),
        ),
        width=width,
        height=height,
    )


def _bed(room: RoomMap) -> tuple[Furniture, ...]:
    if room.bed is None:
        return ()
    rear, right, front, left = room.bed
    x0, x1 = (min(max(v, room.x[0]), room.x[-1]) for v in (rear, front))
    return (Furniture(x0 * _MM, right * _MM, x1 * _MM, left * _MM, "bed"),)


def _classes(room: RoomMap) -> tuple[HeightClass, ...]:
    """Return steps of height up to the one that is wanted; each is one of the steps with a ready text."""
    wanted = [room.need - 2 * _CLASS, room.need - _CLASS]
    below = [level for level in room.levels if level[0] < room.need - _CLASS / 3]
    chosen = list(dict.fromkeys(min(below, key=lambda level: abs(level[0] - w)) for w in wanted)) if below else []
    marks = [*chosen, (room.need, room.need_text)]
    made = [HeightClass(0.0, f"lower than {marks[0][1]}")]
    made += [HeightClass(a[0] * _MM, f"{a[1]} to {b[1]}") for a, b in pairwise(marks)]
    return (*made, HeightClass(room.need * _MM, f"{room.need_text} and more"))


def _figures(page: FittingPage, heights: Sequence[Sequence[float]]) -> tuple[tuple[Spot, str], ...]:
    """Return the height at five places along the middle of the floor."""
    room, say = page.room, Wording(page.units)
    row = min(range(len(room.y)), key=lambda k: abs(room.y[k]))
    at = sorted({round(k * (len(room.x) - 1) / 10) for k in (1, 3, 5, 7, 9)})
    return tuple(((room.x[k] * _MM, room.y[row] * _MM), say.length(heights[row][k])) for k in at)


# --- sun and cable ---------------------------------------------------------------------------------


def sun_picture(page: FittingPage, *, width: float = WIDTH, height: float = 66.0) -> Drawing | None:
    """Return what the panel gives by the month; None without a panel."""
    sun = page.sun
    if sun is None:
        return None
    months = tuple(
        MonthSun(name, flat, raised, f"{flat:.0f}", f"{raised:.0f}", wanted and max(flat, raised) < sun.use)
        for name, flat, raised, wanted in zip(sun.months, sun.flat, sun.raised, sun.wanted, strict=True)
    )
    most = max(*sun.flat, *sun.raised, sun.use)
    return sun_chart(
        SunYear(
            title="What the panel gives by the month",
            unit="W h a day under a clear sky, weather taken off; flat at its worst heading, raised at the best one",
            months=months,
            ticks=tuple((value, f"{value:g}") for value in steps(0.0, most, 6)),
            use=sun.use,
            use_text=sun.use_text,
        ),
        width=width,
        height=height,
    )


def rose_picture(page: FittingPage, *, width: float = WIDTH) -> Drawing | None:
    """Return what every heading gives in the dark months, roof raised; None without a panel."""
    sun = page.sun
    if sun is None or len(sun.by_heading) < 4 or max(sun.by_heading) <= 0.0:
        return None
    n = len(sun.headings)
    return headings_rose(
        HeadingsRose(
            title="Which way the cab points in winter",
            rays=tuple(Ray(2 * math.pi * k / n, value) for k, value in enumerate(sun.by_heading)),
            best=sun.best_text,
            worst=sun.worst_text,
            flat=sun.flat_best,
            flat_text=sun.flat_text,
        ),
        width=width,
    )


def loop_picture(page: FittingPage, *, width: float = WIDTH, height: float = 90.0) -> Drawing | None:
    """Return the cable's loop closed, half-way and open; None without a panel."""
    loop = page.loop
    if loop is None or not loop.path:
        return None
    names = ("closed", "half-way", "open")
    at = (0, (len(loop.path) - 1) // 2, len(loop.path) - 1)
    said = () if loop.placed else ("The clips' places are proposed: they do not stand in the file yet.",)
    return loop_view(
        LoopView(
            title="The cable's free loop",
            free=loop.free * _MM,
            free_text=f"{loop.free_text} of cable free between the clips",
            van_clip=_mm(loop.van),
            poses=tuple(LoopPose(name, _mm(loop.path[k])) for name, k in zip(names, at, strict=True)),
            least_radius=loop.bend * _MM,
            least_text=f"tightest bend: radius {loop.bend_text}",
            said=said,
        ),
        width=width,
        height=height,
    )


def wiring_picture(page: FittingPage, *, width: float = WIDTH) -> Drawing | None:
    """Return the way of the current from the panel down to the battery; None without a panel."""
    if page.wire is None:
        return None
    things: list[Thing] = []
    cable: list[str] = []
    for what, size in page.wire.parts:
        if what in _LINES:
            cable.append(size)
        else:
            things.append(Thing(_KINDS.get(what, "other"), what, (size,), "; ".join(cable)))
            cable = []
    return None if not things else wiring_view(Wiring("The way of the current", tuple(things)), width=width)


# --- lift ------------------------------------------------------------------------------------------


def lift_table(page: FittingPage, parts: int = 10) -> tuple[tuple[str, str, str], ...]:
    """Return share open and force of one actuator, raising and lowering, at even steps; none without a lift."""
    lift = page.lift
    if lift is None:
        return ()
    say = Wording(page.units)
    n = len(lift.share) - 1
    at: Iterable[int] = sorted({round(k * n / parts) for k in range(parts + 1)})
    return tuple((say.fraction(lift.share[k]), say.force(lift.raising[k]), say.force(lift.lowering[k])) for k in at)
