"""The side view to scale: closed, half open and open, with dimensions; and the view that a slider moves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Protocol

from loftwright.core.errors import Bug
from loftwright.core.scene import AT_REST, PoseTable, Scene, Spot
from loftwright.drawing import parts
from loftwright.drawing.page import (
    XY,
    Circle,
    Drawing,
    Group,
    Line,
    Placer,
    Polyline,
    Primitive,
    Rect,
    Text,
    shortened,
    spread,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.parts import View
from loftwright.drawing.scene import State, at_fraction, placed, spring_ends


class Says(Protocol):
    """How numbers become text in the builder's units."""

    def length(self, value: float) -> str:
        """Return a length [m] as people say it."""

    def short_length(self, value: float) -> str:
        """Return a length [m] as drawings give it."""

    def angle(self, value: float) -> str:
        """Return an angle [rad] as text."""


SCALES = (5, 8, 10, 12, 15, 20, 25, 30, 35, 40, 45, 50, 60, 75, 100, 125, 150, 200, 300, 500)
"""The scales a drawing may have, 1 to so many."""

# Room for the dimensions at the left, a caption, between left and right, under the closed roof [mm].
_DIMS_LEFT, _CAPTION, _GAP, _UNDER = 15.0, 5.5, 6.0, 3.0
_LABEL = 2.4
_SMALL = 2.2
_NOTE = "along from the opening's rear edge; up (+) or down (-) from roof height"
_NOTE_SIZE = 2.1


@dataclass(frozen=True, slots=True)
class _Extent:
    """What a state needs to show [m]."""

    x0: float
    x1: float
    z0: float
    z1: float


def _extent(scene: Scene, state: State) -> _Extent:
    spots: list[Spot] = [placed(state.shell, spot) for spot in scene.shell]
    for item in scene.items:
        spots += [placed(state.shell, (x, z)) for x in (item.x0, item.x1) for z in (item.z0, item.z1)]
    for pivot in scene.pivots:
        spots.append(placed(state.body(pivot.body), pivot.at))
    for spring in scene.springs:
        spots += spring_ends(spring, state)
    if scene.bed is not None:
        spots += [(scene.bed.x0, scene.bed.z), (scene.bed.x1, scene.bed.z)]
    spots += [(x, parts.height_of(scene.roof_profile, x) - 0.06) for x in scene.opening]
    xs, zs = [s[0] for s in spots], [s[1] for s in spots]
    return _Extent(min(xs), max(xs), min(zs), max(zs))


@dataclass(frozen=True, slots=True)
class _Layout:
    """Sizes of the whole drawing, of its right column [mm], and the stretches of x that they show [m]."""

    ratio: int
    width: float
    height: float
    right: float
    tall: float
    air: float
    roof: tuple[float, float]
    open: tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Mark:
    """One labelled position under the closed roof."""

    name: str
    at: Spot
    lines: tuple[str, ...]


def _lettered(scene: Scene) -> tuple[str, ...]:
    """Return a letter for each spring, as used in the drawing."""
    return tuple(chr(ord("A") + i % 26) for i in range(len(scene.springs)))


def _called(word: str, letters: Sequence[str], many: str = "") -> str:
    """Return what springs (or their ends) at one place are called together."""
    if len(letters) == 1:
        return f"{word} {letters[0]}"
    return f"{many or word} {letters[0]}{', ' if len(letters) == 2 else ' to '}{letters[-1]}"


def _positions(scene: Scene, says: Says) -> list[_Mark]:
    def mark(name: str, at: Spot, *, height: bool = True) -> _Mark:
        lines = (
            (name, says.short_length(at[0]), says.short_length(at[1])) if height else (name, says.short_length(at[0]))
        )
        return _Mark(name, at, lines)

    rear, front = scene.opening
    marks = [
        mark("rear edge", (rear, parts.height_of(scene.roof_profile, rear)), height=False),
        mark("front edge", (front, parts.height_of(scene.roof_profile, front)), height=False),
    ]
    marks += [mark(p.name, p.at) for p in scene.pivots]
    ends: dict[tuple[str, float, float], tuple[Spot, list[str]]] = {}
    for letter, spring in zip(_lettered(scene), scene.springs, strict=True):
        for word, at in (("foot", spring.foot), ("head", spring.head)):
            ends.setdefault((word, round(at[0], 4), round(at[1], 4)), (at, []))[1].append(letter)
    marks += [mark(_called(word, letters), at) for (word, _, _), (at, letters) in ends.items()]
    return sorted(marks, key=lambda m: m.at[0])


def _mark_width(mark: _Mark) -> float:
    return max(text_width(line, _SMALL, bold=i == 0) for i, line in enumerate(mark.lines)) + 0.6


def _rows_needed(marks: Sequence[_Mark], width: float) -> int:
    for rows in range(1, len(marks) + 1):
        if all(sum(_mark_width(m) + 1.2 for m in marks[k::rows]) <= width for k in range(rows)):
            return rows
    raise Bug("a label under the drawing is wider than the drawing")


_ROW = 3 * _SMALL * 1.14 + 1.6


def _in_turn(wishes: Sequence[float], gaps: Sequence[tuple[float, float]]) -> list[float]:
    """Return for each wish, in order, a place in its own gap: the nearest that leaves gaps for those still to come."""
    chosen: list[float] = []
    first = 0

    def place(j: int, wish: float) -> float:
        low, high = gaps[min(j, len(gaps) - 1)]
        return min(max(wish, low), high)

    for i, wish in enumerate(wishes):
        last = len(gaps) - (len(wishes) - i)
        k = min(range(first, max(first, last) + 1), key=lambda j, w=wish: abs(place(j, w) - w))  # type: ignore[misc]
        chosen.append(place(k, wish))
        first = k + 1
    return chosen


def _positions_under(marks: Sequence[_Mark], view: View, y: float, x0: float, x1: float) -> list[Primitive]:
    """Return the row (or rows) of positions under the closed roof, with leaders up to the points."""
    lines: list[Primitive] = []
    words: list[Primitive] = []
    rows = _rows_needed(marks, x1 - x0)
    gaps: list[tuple[float, float]] = []
    for k in range(rows):
        chosen = marks[k::rows]
        widths = [_mark_width(m) for m in chosen]
        # Where a row lies below, its leaders pass at the right, too.
        end = x1 if rows == 1 else min(x1, max(x1 - 1.6, x0 + sum(widths) + 1.2 * (len(widths) - 1)))
        centres = spread([view.at(m.at)[0] for m in chosen], widths, x0, end, 1.2)
        top = y + 4.0 + k * _ROW
        ways = spread([view.at(m.at)[0] for m in chosen], [0.0] * len(chosen), x0, x1, 0.8)
        if gaps:
            ways = _in_turn(ways, gaps)
        for mark, cx, way in zip(chosen, centres, ways, strict=True):
            px, py = view.at(mark.at)
            lines.append(Line((px, py), (px, y), "leader"))
            if k == 0:
                lines.append(Line((px, y), (cx, top - 0.4), "leader"))
            else:
                lines.append(Polyline(((px, y), (way, y + 4.0), (way, top - 2.0), (cx, top - 0.4)), "leader"))
            words += [
                Text(
                    (cx, top + _SMALL * (0.85 + 1.14 * i)),
                    line,
                    _SMALL,
                    "middle",
                    "note" if i else "ink",
                    i == 0,
                    0.0,
                    True,
                )
                for i, line in enumerate(mark.lines)
            ]
        sides = [(c - w / 2, c + w / 2) for c, w in zip(centres, widths, strict=True)]
        within = [(a[1] + 0.6, b[0] - 0.6) for a, b in pairwise(sides)]
        gaps = [(x0 - 1.0, sides[0][0] - 0.6), *within, (min(sides[-1][1] + 0.6, x1), x1)]
    return [*lines, *words]


def _whole(scene: Scene, view: View, state: State, x0: float, x1: float, *, inside: bool) -> list[Primitive]:
    marks = parts.van(scene, view, x0, x1, floor=inside)
    if inside:
        marks += parts.person(scene, view)
    return [
        *marks,
        *parts.shell(scene, view, state.shell),
        *parts.arms(scene, view, state),
        *parts.springs(scene, view, state),
        *parts.pivots(scene, view, state),
        *parts.handle(scene if state.fraction == 1 else replace(scene, strap_length=0.0), view, state.shell),
    ]


class _NoRoom(Exception):
    """A label found no free place at this scale."""


@dataclass(slots=True)
class _Panel:
    """One of the three views: where it may draw, and the labels it holds."""

    placer: Placer
    marks: list[Primitive]
    labels: list[Primitive]

    def label(self, text: str, places: Sequence[XY], *, size: float = _LABEL, anchor_to: XY | None = None) -> None:
        """Write `text` centred at the first free place, with a leader to `anchor_to` where it lands away from it."""
        found = self.placer.place(Text(places[0], text, size, "middle", "ink", halo=True), places)
        if found is None:
            raise _NoRoom(text)
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
        if bottom - top >= text_width(text, _LABEL) + 3:
            play = (bottom - top - text_width(text, _LABEL) - 2) / 2
            label = Text((x - 0.7, middle), text, _LABEL, "middle", "ink", False, -math.pi / 2, True)
            found = self.placer.place(label, [(x - 0.7, middle + k * play) for k in (0, 0.5, -0.5, 1, -1)], near=False)
            if found is not None:
                self.labels.append(found)
                return
        half = text_width(text, _LABEL) / 2
        self.label(
            text,
            [(x - half - 1.2, middle + 0.8), (x + half + 1.2, middle + 0.8), (x, bottom + 3.2), (x, top - 1.4)],
            anchor_to=(x, middle),
        )


def _caption(text: str, x: float, y: float) -> Text:
    return Text((x, y), text, 2.9, "start", "ink", True)


def side_views(
    scene: Scene, poses: PoseTable, says: Says, *, width: float = 186.0, height: float = 94.0, bar: float = 1.0
) -> Drawing:
    """Return open (with floor and person), half open and closed side by side at one scale, with dimensions.

    The scale is the largest of `SCALES` at which everything fits into width x height [mm]; the drawing is then no
    higher than it need be. `bar` [m] is the length of the scale bar.
    """
    states = {name: at_fraction(poses, f) for name, f in (("closed", 0.0), ("half", 0.5), ("open", 1.0))}
    extents = {name: _extent(scene, state) for name, state in states.items()}
    around = 0.16
    x0 = min(extents["closed"].x0, extents["half"].x0) - around
    x1 = max(extents["closed"].x1, extents["half"].x1) + around
    o0, o1 = min(x0, extents["open"].x0), max(x1, extents["open"].x1)
    positions = _positions(scene, says)
    dims_left, caption, gap, under = _DIMS_LEFT, _CAPTION, _GAP, _UNDER
    note_wide = text_width(_NOTE, _NOTE_SIZE)
    # The rise stands at the side of the lip; at the rear there is room for it with the other dimensions.
    beyond = 2.0 if _lip_at_rear(scene) else 6.0

    def room(s: float) -> tuple[float, float, float]:
        """Return the widths of the left view and of the right column, and the height that the column needs."""
        left, right = dims_left + s * (o1 - o0) + beyond, max(s * (x1 - x0), min(note_wide, 0.4 * width))
        # The column starts in the middle of the page where that is free.
        right = max(right, width - max(left + gap, width / 2 + 2.0))
        rows = _rows_needed(positions, right)
        upper = caption + s * (extents["half"].z1 - extents["half"].z0) + 5.0
        lower = caption + 5.0 + s * (extents["closed"].z1 - extents["closed"].z0) + under + 4.0 + rows * _ROW + 4.0
        return left, right, upper + lower

    def whole(s: float) -> float:
        return caption + s * (extents["open"].z1 - scene.floor_z) + 8.0

    def fits(s: float) -> bool:
        left, right, tall = room(s)
        return left + gap + right <= width and tall <= height and whole(s) <= height

    # The largest scale first; where a label finds no place, more air above the closed roof, then a smaller scale.
    for ratio in SCALES:
        _, right, tall = room(1000 / ratio)
        for air in (0.0, 4.0, 8.0, 16.0):
            if not fits(1000 / ratio) or tall + air > height:
                break
            needed = max(tall + air, whole(1000 / ratio))
            layout = _Layout(ratio, width, needed, right, tall, air, (x0, x1), (o0, o1))
            try:
                return _at_scale(scene, states, extents, positions, says, layout, bar)
            except _NoRoom:
                continue
    raise Bug("the roof fits the drawing at no scale")


def _at_scale(
    scene: Scene,
    states: dict[str, State],
    extents: dict[str, _Extent],
    positions: Sequence[_Mark],
    says: Says,
    layout: _Layout,
    bar: float,
) -> Drawing:
    width, height, right, tall = layout.width, layout.height, layout.right, layout.tall
    (x0, x1), (o0, o1), s = layout.roof, layout.open, 1000 / layout.ratio
    dims_left, caption, under = _DIMS_LEFT, _CAPTION, _UNDER
    left_x, right_x = 0.0, width - right
    marks: list[Primitive] = []
    labels: list[Primitive] = []

    # Open, on the left, standing on the floor.
    open_ = states["open"]
    floor_y = height - 6.5
    view = View(left_x + dims_left - s * o0, floor_y + s * scene.floor_z, s)
    bounds = Rect(0.0, caption, width - right - 2.0, height - 4.4)
    panel = _Panel(Placer(bounds), [], [])
    _draw_open(scene, states, view, panel, says, o0, o1)
    marks += [*_whole(scene, view, open_, o0, o1, inside=True), *panel.marks]
    labels += panel.labels
    labels.append(_caption("Open", left_x, 3.4))
    labels.append(Text((left_x + 11.0, 3.4), f"by {says.angle(open_.opening)}", _LABEL, "start", "note"))

    # Half open, at the top right, above the caption of the closed roof.
    ordinates_y = height - 4.0 - _rows_needed(positions, right) * _ROW - 4.0
    closed_y = ordinates_y - under + s * extents["closed"].z0
    caption_y = closed_y - s * extents["closed"].z1 - 6.6 - layout.air
    half = states["half"]
    slack = max(0.0, height - tall - layout.air)
    view_y = caption + 3.0 + slack * 0.35 + s * extents["half"].z1
    view = View(right_x - s * x0 + (right - s * (x1 - x0)) / 2, view_y, s)
    panel = _Panel(
        Placer(
            Rect(width - right - 1.4, caption - 1.0, width, min(view_y - s * extents["half"].z0 + 5.0, caption_y - 2.8))
        ),
        [],
        [],
    )
    panel.marks += _whole(scene, view, half, x0, x1, inside=False)
    _avoid(scene, view, half, panel)
    _spring_lengths(scene, view, half, panel, says)
    marks += panel.marks
    labels += panel.labels
    labels.append(_caption("Half open", right_x, 3.4))
    labels.append(Text((right_x + 18.0, 3.4), f"by {says.angle(half.opening)}", _LABEL, "start", "note"))

    # Closed, below it, with the positions.
    closed = states["closed"]
    view = View(view.x, closed_y, s)
    panel = _Panel(Placer(Rect(width - right - 1.4, caption_y + 0.8, width, ordinates_y)), [], [])
    panel.marks += _whole(scene, view, closed, x0, x1, inside=False)
    _avoid(scene, view, closed, panel)
    for mark in positions:
        x, y = view.at(mark.at)
        panel.placer.avoid_line([(x, y), (x, ordinates_y)], 0.2)
    _draw_closed(scene, view, panel, says)
    under_marks = _positions_under(positions, view, ordinates_y, right_x, width)
    marks += [m for m in under_marks if not isinstance(m, Text)]
    marks += panel.marks
    labels += panel.labels
    labels += [m for m in under_marks if isinstance(m, Text)]
    labels.append(_caption("Closed", right_x, caption_y))
    labels.append(Text((right_x, height - 1.0), shortened(_NOTE, right, _NOTE_SIZE), _NOTE_SIZE, "start", "note"))

    bar_text = f"{says.length(bar)}; 1 : {layout.ratio} when printed at 100 %"
    labels += parts.scale_bar(View(0, 0, s), (left_x, height - 1.9), bar, bar_text)
    words = _describe(scene, states, says)
    return Drawing(width, height, "Side view: open, half open and closed", words, (*marks, *unpatched(labels, marks)))


def _avoid(scene: Scene, view: View, state: State, panel: _Panel) -> None:
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
    for a, b in ((view.x - 1e3, scene.opening[0]), (scene.opening[1], view.x + 1e3)):
        xs = [max(a, scene.opening[0] - 0.5), min(b, scene.opening[1] + 0.5)]
        panel.placer.avoid_line(view.all(parts.stretch(scene.roof_profile, xs[0], xs[1])), 1.0)
    for pivot in scene.pivots:
        x, y = view.at(placed(state.body(pivot.body), pivot.at))
        panel.placer.avoided.append(Rect(x - 1, y - 1, x + 1, y + 1))


def _spring_lengths(scene: Scene, view: View, state: State, panel: _Panel, says: Says) -> None:
    """Write each spring's length beside it; springs that lie on each other share one label."""
    groups: dict[tuple[float, ...], list[str]] = {}
    for letter, spring in zip(_lettered(scene), scene.springs, strict=True):
        foot, head = spring_ends(spring, state)
        groups.setdefault(tuple(round(v, 4) for v in (*foot, *head)), []).append(letter)
    for (fx, fz, hx, hz), letters in groups.items():
        a, b = view.at((fx, fz)), view.at((hx, hz))
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        text = f"{_called('spring', letters, 'springs')}: {says.short_length(math.dist((fx, fz), (hx, hz)))}"
        half = text_width(text, _LABEL) / 2 + 1.4
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


def _lip_at_rear(scene: Scene) -> bool:
    return scene.lip[0] < (scene.opening[0] + scene.opening[1]) / 2


def _draw_open(
    scene: Scene, states: dict[str, State], view: View, panel: _Panel, says: Says, x0: float, x1: float
) -> None:
    state = states["open"]
    panel.marks += parts.shell(scene, view, states["half"].shell, ghost=True)
    panel.marks += parts.shell(scene, view, states["closed"].shell, ghost=True)
    _avoid(scene, view, state, panel)
    for name in ("closed", "half"):
        outline = [view.at(placed(states[name].shell, spot)) for spot in scene.shell]
        panel.placer.avoid_line([*outline, outline[0]], faint=True)
    floor_y = view.at((0.0, scene.floor_z))[1]
    person = scene.person
    if person is not None:
        (ax, ay), (bx, by) = (
            view.at((person.x - 0.09 * person.height, person.stands_z + person.height)),
            view.at((person.x + 0.11 * person.height, person.stands_z)),
        )
        panel.placer.avoided.append(Rect(ax, ay, bx, by))

    # The rise, at the side where the lip is.
    closed_lip, open_lip = view.at(scene.lip), view.at(placed(state.shell, scene.lip))
    xs = [view.at((x, 0.0))[0] for x in (x0, x1)]
    lip_rear = _lip_at_rear(scene)
    side = -1.0 if lip_rear else 1.0
    edge = xs[0] if lip_rear else xs[1]
    if abs(open_lip[1] - closed_lip[1]) > 0.5:
        at = edge + side * 2.5
        rise = placed(state.shell, scene.lip)[1] - scene.lip[1]
        panel.upright(at, closed_lip[1], open_lip[1], f"rise {says.length(rise)}", reach=(closed_lip[0], open_lip[0]))
    if scene.handle is not None:
        spot = placed(state.shell, scene.handle)
        place = view.at(spot)
        far = xs[0] - 9.0
        text = f"handle {says.length(spot[1] - scene.floor_z)}"
        panel.upright(far, floor_y, place[1], text, reach=(xs[0], place[0]))
    if scene.headroom_at is not None:
        top = placed(state.shell, scene.headroom_at)
        place = view.at(top)
        x = place[0]
        if person is not None:
            # Beside the person, not through them.
            behind, before = (view.at((person.x + k * person.height, 0.0))[0] for k in (-0.10, 0.18))
            if behind < x < before:
                x = behind if x - behind < before - x else before
        text = f"headroom {says.length(top[1] - scene.floor_z)}"
        panel.upright(x, floor_y, place[1], text, reach=(x, place[0]))
    roof = says.length(parts.height_of(scene.roof_profile, scene.opening[1]) - scene.floor_z)
    fx = xs[1] - 4.0
    roof_y = view.at((x1, parts.height_of(scene.roof_profile, scene.opening[1])))[1]
    panel.upright(fx, floor_y, roof_y, f"roof {roof}", reach=(fx, fx))
    if scene.handle is not None and scene.strap_length > 0:
        spot = placed(state.shell, scene.handle)
        end = view.at((spot[0], spot[1] - scene.strap_length))
        panel.placer.avoid_line([view.at(spot), end], 0.4)
    _spring_lengths(scene, view, state, panel, says)
    if scene.handle is not None and scene.strap_length > 0:
        half = text_width(f"strap {says.short_length(scene.strap_length)}", _LABEL) / 2 + 1.2
        places = [(end[0] + half, end[1] + 0.5), (end[0] - half, end[1] + 0.5), (end[0], end[1] + 3.2)]
        panel.label(f"strap {says.short_length(scene.strap_length)}", places, anchor_to=end)
    if person is not None:
        text = f"person {says.length(person.height)}"
        half = text_width(text, _LABEL) / 2 + 1.2
        px, py = view.at((person.x, person.stands_z + 0.35 * person.height))
        r = 0.1 * person.height * view.scale
        panel.label(text, [(px + r + half, py), (px - r - half, py), (px + r + half, py + 4), (px + r + half, py - 4)])


def _draw_closed(scene: Scene, view: View, panel: _Panel, says: Says) -> None:
    state = State(0.0, 0.0, AT_REST)
    top = max(z for _, z in scene.shell)
    tops = [x for x, z in scene.shell if z == top]
    top_x = (min(tops) + max(tops)) / 2
    if len(scene.pivots) == 1:
        x, z = scene.pivots[0].at
        edge = min(scene.opening, key=lambda e: abs(e - x))
        (ax, y), (bx, _) = view.at((edge, z)), view.at((x, z))
        if abs(x - edge) > 1e-4:
            # Above the end of the shell there.
            high = max((pz for px, pz in scene.shell if abs(px - x) < 0.4), default=z)
            y = min(y - 4.0, view.at((x, high))[1] - 2.0)
            panel.marks.append(Line((ax, view.at((edge, z))[1]), (ax, y - 0.8), "dim"))
            panel.marks.append(Line((bx, view.at((edge, z))[1]), (bx, y - 0.8), "dim"))
            panel.marks += parts.dimension((min(ax, bx), y), (max(ax, bx), y))
            text = f"hinge to edge {says.short_length(abs(x - edge))}"
            half = text_width(text, _LABEL) / 2
            panel.label(
                text,
                [
                    (min(panel.placer.bounds.x1 - half - 0.3, (ax + bx) / 2), y - 1.4),
                    (bx - half - 3, y - 1.0),
                    (bx, y - 4),
                ],
                anchor_to=((ax + bx) / 2, y),
            )
    text = f"shell {says.short_length(top - parts.height_of(scene.roof_profile, top_x))} above the roof"
    px, py = view.at((top_x, top))
    panel.label(text, [(px + dx, py - dy) for dy in (1.2, 2.4) for dx in (0.0, -8.0, 8.0, -16.0, 16.0)])
    _spring_lengths(scene, view, state, panel, says)


def _describe(scene: Scene, states: dict[str, State], says: Says) -> str:
    open_lip = placed(states["open"].shell, scene.lip)
    words = [f"The lip rises by {says.length(open_lip[1] - scene.lip[1])}."]
    if scene.headroom_at is not None:
        top = placed(states["open"].shell, scene.headroom_at)
        words.append(f"Headroom when open is {says.length(top[1] - scene.floor_z)}.")
    words += [
        f"{p.name.capitalize()}: {says.short_length(p.at[0])} from the opening's rear edge." for p in scene.pivots
    ]
    for letter, spring in zip(_lettered(scene), scene.springs, strict=True):
        lengths = [says.short_length(math.dist(*spring_ends(spring, states[n]))) for n in ("closed", "half", "open")]
        words.append(
            f"Spring {letter} ({spring.name}) is {lengths[0]} long closed, {lengths[1]} half open, {lengths[2]} open."
        )
    return " ".join(words)


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
    extents = [_extent(scene, at_fraction(poses, f)) for f in poses.fraction]
    x0, x1 = min(e.x0 for e in extents) - 0.2, max(e.x1 for e in extents) + 0.2
    z1 = max(e.z1 for e in extents) + 0.08
    s = width / (x1 - x0)
    height = s * (z1 - scene.floor_z) + 4.0
    view, local = View(-s * x0, s * z1, s), View(0.0, 0.0, s)
    shift = (view.x, view.y)
    marks: list[Primitive] = [
        Group("van", (*parts.van(scene, view, x0, x1, floor=True), *parts.person(scene, view))),
        Group("ghost", tuple(parts.shell(scene, view, at_fraction(poses, 1.0).shell, ghost=True))),
        Group("shell", tuple(parts.shell(scene, local)), shift),
    ]
    for arm in scene.arms:
        marks.append(Group(arm.body, tuple(parts.arms(replace(scene, arms=(arm,)), local, rest)), shift))
    for i, spring in enumerate(scene.springs):
        tube, rod = parts.spring_lines(spring, rest)
        ends = [Circle(view.at(end), 0.9, "pivot") for end in spring_ends(spring, rest)]
        lines = [Line(view.at(rod[0]), view.at(rod[1]), "rod"), Line(view.at(tube[0]), view.at(tube[1]), "tube")]
        marks.append(Group(f"spring {i}", (*lines, *ends)))
    for pivot in scene.pivots:
        marks.append(Group(f"pivot {pivot.body}", (Circle(local.at(pivot.at), 1.1, "pivot"),), shift))
    if scene.handle is not None:
        x, z = view.at(scene.handle)
        strap = (Line((0.0, 0.0), (0.0, s * scene.strap_length), "strap"),) if scene.strap_length > 0 else ()
        marks.append(Group("handle", (*strap, Circle((0.0, 0.0), 1.0, "pivot")), (x, z)))
    return MovingView(Drawing(width, height, "Side view", "The roof moves with the slider.", tuple(marks)), view)
