"""Dimension lines of the drawing board: the few figures that matter, left out where they would lie on each other."""

from __future__ import annotations

import math
from dataclasses import replace

from loftwright.core.scene import Scene
from loftwright.core.wording import Wording
from loftwright.drawing import parts
from loftwright.drawing.page import Line, Primitive, Rect, Text, text_box, text_width
from loftwright.drawing.parts import View
from loftwright.drawing.scene import State, placed

SIZE = 2.9
"""Size of every text [mm]."""
UNDER_FLOOR = 12.0
"""Height of the rows under the floor: the opening's length and the scale bar [mm]."""
_ROW, _BAR = 5.6, 9.6
_GAP = 0.8


class _Sheet:
    """What is already taken on the page."""

    def __init__(self, width: float, height: float) -> None:
        self.bounds = Rect(0.0, 0.0, width, height)
        self.taken: list[Rect] = []
        self.avoided: list[Rect] = []
        self.marks: list[Primitive] = []
        self.labels: list[Primitive] = []

    def free(self, box: Rect) -> bool:
        return box.within(self.bounds) and not any(box.overlaps(other, _GAP) for other in self.taken)

    def write(self, text: Text) -> bool:
        box = text_box(text)
        if not self.free(box):
            return False
        self.taken.append(box)
        self.labels.append(text)
        return True

    def upright(self, x: float, y0: float, y1: float, text: str, reach: tuple[float, float]) -> bool:
        """Draw an upright dimension at x, its text turned along it, where both find room."""
        top, bottom = min(y0, y1), max(y0, y1)
        half = text_width(text, SIZE) / 2
        line = Rect(x - 0.4, top, x + 0.4, bottom)
        if bottom - top < 2 * half + 1.0 or not self.free(line):
            return False
        play = max(0.0, (bottom - top) / 2 - half - 2.0)
        tries = [
            Text((x - 0.9, (top + bottom) / 2 + k * play), text, SIZE, "middle", "ink", False, -math.pi / 2, True)
            for k in (0.0, 0.5, -0.5, 1.0, -1.0)
        ]
        # Clear of the roof's own lines where that is possible.
        tries.sort(key=lambda one: any(text_box(one).overlaps(other) for other in self.avoided))
        if not any(self.write(one) for one in tries):
            return False
        for y, start in ((y0, reach[0]), (y1, reach[1])):
            if abs(start - x) > 1.5:
                side = 1.0 if x > start else -1.0
                self.marks.append(Line((start + side * 0.8, y), (x + side, y), "dim"))
        self.marks += parts.dimension((x, top), (x, bottom))
        self.taken.append(line)
        return True


def dimensions(
    scene: Scene,
    opened: State,
    view: View,
    page: tuple[float, float],
    says: Wording,
    *,
    bar: float,
    wide: bool,
    at_rear: bool,
) -> list[Primitive]:
    """Return the scale bar and the dimensions on a `page` [mm], of the open roof unless the text says otherwise.

    `bar` [m] is the bar's length. Two dimensions, or four where it is `wide`: the rise at the lip (`at_rear`: at the
    lesser x), the headroom, the opening's length and the handle's height.
    """
    width, height = page
    sheet = _Sheet(width, height)
    floor_y = view.at((0.0, scene.floor_z))[1]
    _scale_bar(scene, sheet, view, floor_y + _BAR, bar, says)
    roofs = [view.at(spot)[1] for spot in scene.roof_profile]
    sheet.avoided.append(Rect(0.0, min(roofs) - 1.0, width, max(roofs) + scene.roof_build * view.scale + 1.0))
    side = -1.0 if at_rear else 1.0
    edge = 0.0 if at_rear else width
    closed_lip, open_lip = view.at(scene.lip), view.at(placed(opened.shell, scene.lip))
    # The text of an upright dimension stands at its left.
    column = edge - side * ((4.2 if at_rear else 1.6) if not wide else (9.6 if at_rear else 7.0))
    text = f"rise {says.length(scene.measured.rise)}"
    rises = sheet.upright(column, closed_lip[1], open_lip[1], text, (closed_lip[0], open_lip[0]))
    if scene.headroom_at is not None:
        _headroom(scene, opened, sheet, view, floor_y, says)
    if wide or not rises:
        (ax, bx), y = (view.at((x, 0.0))[0] for x in scene.opening), floor_y + _ROW
        text = f"opening {says.length(scene.opening[1] - scene.opening[0])}"
        half = text_width(text, SIZE) / 2
        if bx - ax > 2 * half + 6 and sheet.write(Text(((ax + bx) / 2, y - 0.9), text, SIZE, "middle", "ink")):
            ends = [Line((x, y - 3.0), (x, y + 1.0), "dim") for x in (ax, bx)]
            sheet.marks += [*ends, *parts.dimension((ax, y), (bx, y))]
    if wide and scene.handle is not None:
        place = view.at(placed(opened.shell, scene.handle))
        feet = floor_y if scene.person is None else view.at((0.0, scene.person.stands_z))[1]
        text = f"handle {says.length(scene.measured.handle_height)}"
        outer = edge - side * (4.2 if at_rear else 1.6)
        sheet.upright(outer, feet, place[1], text, (edge - side * 12.0, place[0]))
    return [*sheet.marks, *sheet.labels]


def _headroom(scene: Scene, opened: State, sheet: _Sheet, view: View, floor_y: float, says: Wording) -> None:
    """Draw the headroom beside the person, its text where the shell never comes."""
    assert scene.headroom_at is not None
    place = view.at(placed(opened.shell, scene.headroom_at))
    x, person = place[0], scene.person
    if person is not None:
        behind, before = (view.at((person.x + k * person.height, 0.0))[0] for k in (-0.13, 0.17))
        if behind < x < before:
            x = behind if x - behind < before - x else before
    text = f"headroom {says.length(scene.measured.headroom)}"
    half = text_width(text, SIZE) / 2
    roof_y = view.at((0.0, 0.0))[1]
    line = Rect(x - 0.4, place[1], x + 0.4, floor_y)
    low = floor_y - half - 2.5
    spots = [low - k * max(0.0, low - roof_y - half - 6.0) for k in (0.15, 0.0, 0.5, 1.0)]
    if floor_y - place[1] < 2 * half + 4 or not sheet.free(line):
        return
    for at_y in spots:
        if sheet.write(Text((x - 0.9, at_y), text, SIZE, "middle", "ink", False, -math.pi / 2, True)):
            sheet.marks += parts.dimension((x, place[1]), (x, floor_y))
            if abs(x - place[0]) > 0.5:
                sheet.marks.append(Line(place, (x + (1.0 if x > place[0] else -1.0), place[1]), "dim"))
            sheet.taken.append(line)
            return


def _scale_bar(scene: Scene, sheet: _Sheet, view: View, y: float, bar: float, says: Wording) -> None:
    marks = parts.scale_bar(View(0.0, 0.0, view.scale), (1.0, y), bar, says.length(bar))
    for mark in marks:
        if isinstance(mark, Text):
            sheet.write(replace(mark, size=SIZE))
        else:
            sheet.marks.append(mark)
    sheet.taken.append(Rect(1.0, y, 1.0 + bar * view.scale, y + 0.9))
    if scene.seen:
        sheet.write(Text((sheet.bounds.x1 - 1.0, y + 1.1), scene.seen, SIZE, "end", "note"))
