"""One of the views side by side: where it may draw, what its labels keep off, and the labels it holds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loftwright.core.scene import Scene, Spot
from loftwright.core.wording import Wording
from loftwright.drawing import parts
from loftwright.drawing.page import XY, Line, Placer, Primitive, Rect, Text, text_box, text_width
from loftwright.drawing.parts import View
from loftwright.drawing.positions import called, lettered
from loftwright.drawing.scene import State, placed, spring_ends

LABEL = 2.4
"""Size of a label [mm]."""


@dataclass(frozen=True, slots=True)
class Extent:
    """What a state needs to show [m]."""

    x0: float
    x1: float
    z0: float
    z1: float


def extent(scene: Scene, state: State) -> Extent:
    """Return what a roof in one state needs to show."""
    spots: list[Spot] = [placed(state.shell, spot) for spot in scene.shell]
    for item in scene.items:
        spots += [placed(state.shell, (x, z)) for x in (item.x0, item.x1) for z in (item.z0, item.z1)]
    for pivot in scene.pivots:
        spots.append(placed(state.body(pivot.body), pivot.at))
    for rail in scene.rails:
        spots += [placed(state.body(rail.body), end) for end in rail.ends]
    for spring in scene.springs:
        spots += spring_ends(spring, state)
    if scene.bed is not None:
        spots += [(scene.bed.x0, scene.bed.z), (scene.bed.x1, scene.bed.z)]
    spots += [(x, parts.height_of(scene.roof_profile, x) - 0.06) for x in scene.opening]
    xs, zs = [s[0] for s in spots], [s[1] for s in spots]
    return Extent(min(xs), max(xs), min(zs), max(zs))


class NoRoom(Exception):
    """A label found no free place at this scale."""


@dataclass(slots=True)
class Panel:
    """One of the three views: where it may draw, and the labels it holds."""

    placer: Placer
    marks: list[Primitive]
    labels: list[Primitive]

    def label(self, text: str, places: Sequence[XY], *, size: float = LABEL, anchor_to: XY | None = None) -> None:
        """Write `text` centred at the first free place, with a leader to `anchor_to` where it lands away from it."""
        found = self.placer.place(Text(places[0], text, size, "middle", "ink", halo=True), places)
        if found is None:
            raise NoRoom(text)
        self.labels.append(found)
        if anchor_to is not None:
            box = text_box(found)
            nx, ny = min(max(anchor_to[0], box.x0), box.x1), min(max(anchor_to[1], box.y0), box.y1)
            if math.dist((nx, ny), anchor_to) > 2.5:
                self.marks.append(Line((nx, ny), anchor_to, "leader"))

    def upright(self, x: float, y0: float, y1: float, text: str, *, reach: tuple[float, float]) -> None:
        """Draw an upright dimension at x between y0 and y1, extension lines from the x values in `reach`."""
        top, bottom = min(y0, y1), max(y0, y1)
        for y, start in ((y0, reach[0]), (y1, reach[1])):
            if abs(start - x) > 1.5:
                side = 1.0 if x > start else -1.0
                self.marks.append(Line((start + side * 0.8, y), (x + side * 1.0, y), "dim"))
        self.marks += parts.dimension((x, top), (x, bottom))
        self.placer.avoid_line([(x, top), (x, bottom)])
        middle = (top + bottom) / 2
        if bottom - top >= text_width(text, LABEL) + 3:
            play = (bottom - top - text_width(text, LABEL) - 2) / 2
            label = Text((x - 0.7, middle), text, LABEL, "middle", "ink", False, -math.pi / 2, True)
            found = self.placer.place(label, [(x - 0.7, middle + k * play) for k in (0, 0.5, -0.5, 1, -1)], near=False)
            if found is not None:
                self.labels.append(found)
                return
        half = text_width(text, LABEL) / 2
        self.label(
            text,
            [(x - half - 1.2, middle + 0.8), (x + half + 1.2, middle + 0.8), (x, bottom + 3.2), (x, top - 1.4)],
            anchor_to=(x, middle),
        )


def keep_off(scene: Scene, view: View, state: State, panel: Panel) -> None:
    """Keep labels off the lines of the roof where there is room elsewhere."""
    outline = [view.at(placed(state.shell, spot)) for spot in scene.shell]
    panel.placer.avoid_line([*outline, outline[0]])
    for item in scene.items:
        box = [(item.x0, item.z0), (item.x1, item.z0), (item.x1, item.z1), (item.x0, item.z1), (item.x0, item.z0)]
        panel.placer.avoid_line([view.at(placed(state.shell, spot)) for spot in box])
    if scene.bed is not None:
        panel.placer.avoid_line([view.at((x, scene.bed.z - 0.01)) for x in (scene.bed.x0, scene.bed.x1)], 0.8)
    for spring in scene.springs:
        panel.placer.avoid_line([view.at(end) for end in spring_ends(spring, state)], 0.7)
    for arm in scene.arms:
        ends = [view.at(placed(state.body(arm.body), end)) for end in (arm.van_end, arm.shell_end)]
        panel.placer.avoid_line(ends, 0.7)
    for rail in scene.rails:
        panel.placer.avoid_line([view.at(placed(state.body(rail.body), end)) for end in rail.ends], 0.7)
    for a, b in ((view.x - 1e3, scene.opening[0]), (scene.opening[1], view.x + 1e3)):
        xs = [max(a, scene.opening[0] - 0.5), min(b, scene.opening[1] + 0.5)]
        panel.placer.avoid_line(view.all(parts.stretch(scene.roof_profile, xs[0], xs[1])), 1.0)
    for pivot in scene.pivots:
        x, y = view.at(placed(state.body(pivot.body), pivot.at))
        panel.placer.avoided.append(Rect(x - 1, y - 1, x + 1, y + 1))


def spring_lengths(scene: Scene, view: View, state: State, panel: Panel, says: Wording) -> None:
    """Write each spring's length beside it; springs that lie on each other share one label."""
    groups: dict[tuple[float, ...], list[str]] = {}
    for letter, spring in zip(lettered(scene), scene.springs, strict=True):
        foot, head = spring_ends(spring, state)
        groups.setdefault(tuple(round(v, 4) for v in (*foot, *head)), []).append(letter)
    for (fx, fz, hx, hz), letters in groups.items():
        a, b = view.at((fx, fz)), view.at((hx, hz))
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        text = f"{called('spring', letters, 'springs')}: {says.short_length(math.dist((fx, fz), (hx, hz)))}"
        half = text_width(text, LABEL) / 2 + 1.4
        low = max(a[1], b[1])
        places = [
            (middle[0] - half, middle[1] + 2.5),
            (middle[0] + half, middle[1] + 2.5),
            (middle[0], low + 3.4),
            (middle[0] - half, middle[1] - 1.5),
            (middle[0] + half, middle[1] - 1.5),
            (middle[0], low + 6.6),
            (middle[0], min(a[1], b[1]) - 2.0),
        ]
        panel.label(text, places, anchor_to=middle)
