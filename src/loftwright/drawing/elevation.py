"""The side view to scale: closed, half open and open, with dimensions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from loftwright.core.errors import Bug
from loftwright.core.scene import AT_REST, PoseTable, Scene
from loftwright.core.wording import Wording
from loftwright.drawing import parts
from loftwright.drawing.page import (
    Drawing,
    Line,
    Placer,
    Primitive,
    Rect,
    Text,
    shortened,
    text_width,
    unpatched,
)
from loftwright.drawing.panel import LABEL, Extent, NoRoom, Panel, extent, keep_off, spring_lengths
from loftwright.drawing.parts import View
from loftwright.drawing.positions import ROW, Mark, lettered, positions_of, positions_under, rows_needed
from loftwright.drawing.scene import State, at_fraction, far, placed, spring_ends

SCALES = (5, 8, 10, 12, 15, 20, 25, 30, 35, 40, 45, 50, 60, 75, 100, 125, 150, 200, 300, 500)
"""The scales a drawing may have, 1 to so many."""

# Room for the dimensions at the left, a caption, between left and right, under the closed roof [mm].
_DIMS_LEFT, _CAPTION, _GAP, _UNDER = 15.0, 5.5, 6.0, 3.0
_NOTE_SIZE = 2.1


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


def _whole(scene: Scene, view: View, state: State, x0: float, x1: float, *, inside: bool) -> list[Primitive]:
    marks = parts.van(scene, view, x0, x1, floor=inside)
    if inside:
        marks += parts.person(scene, view)
    return [
        *marks,
        *parts.shell(scene, view, state.shell),
        *parts.rails(scene, view, state),
        *parts.arms(scene, view, state),
        *parts.springs(scene, view, state),
        *parts.pivots(scene, view, state),
        *parts.handle(scene if state.fraction == 1 else replace(scene, strap_length=0.0), view, state.shell),
    ]


def _note(scene: Scene) -> str:
    """Return from where positions count."""
    along = "to the right from the opening's left edge" if scene.seen else "along from the opening's rear edge"
    return f"{along}; up (+) or down (-) from roof height"


def _caption(text: str, x: float, y: float) -> Text:
    return Text((x, y), text, 2.9, "start", "ink", True)


def side_views(
    scene: Scene, poses: PoseTable, says: Wording, *, width: float = 186.0, height: float = 94.0, bar: float = 1.0
) -> Drawing:
    """Return open (with floor and person), half open and closed side by side at one scale, with dimensions.

    The scale is the largest of `SCALES` at which everything fits into width x height [mm]; the drawing is then no
    higher than it need be. `bar` [m] is the length of the scale bar.
    """
    states = {name: at_fraction(poses, f) for name, f in (("closed", 0.0), ("half", 0.5), ("open", 1.0))}
    extents = {name: extent(scene, state) for name, state in states.items()}
    around = 0.16
    x0 = min(extents["closed"].x0, extents["half"].x0) - around
    x1 = max(extents["closed"].x1, extents["half"].x1) + around
    o0, o1 = min(x0, extents["open"].x0), max(x1, extents["open"].x1)
    positions = positions_of(scene, says)
    dims_left, caption, gap, under = _DIMS_LEFT, _CAPTION, _GAP, _UNDER
    note_wide = text_width(_note(scene), _NOTE_SIZE)
    # The rise stands at the side of the lip; at the rear there is room for it with the other dimensions.
    beyond = 2.0 if _lip_at_rear(scene) else 6.0

    def room(s: float) -> tuple[float, float, float]:
        """Return the widths of the left view and of the right column, and the height that the column needs."""
        left, right = dims_left + s * (o1 - o0) + beyond, max(s * (x1 - x0), min(note_wide, 0.4 * width))
        # The column starts in the middle of the page where that is free.
        right = max(right, width - max(left + gap, width / 2 + 2.0))
        rows = rows_needed(positions, right)
        upper = caption + s * (extents["half"].z1 - extents["half"].z0) + 5.0
        lower = caption + 5.0 + s * (extents["closed"].z1 - extents["closed"].z0) + under + 4.0 + rows * ROW + 4.0
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
            except NoRoom:
                continue
    raise Bug("the roof fits the drawing at no scale")


def _at_scale(
    scene: Scene,
    states: dict[str, State],
    extents: dict[str, Extent],
    positions: Sequence[Mark],
    says: Wording,
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
    panel = Panel(Placer(bounds), [], [])
    _draw_open(scene, states, view, panel, says, o0, o1)
    marks += [*_whole(scene, view, open_, o0, o1, inside=True), *panel.marks]
    labels += panel.labels
    labels.append(_caption("Open", left_x, 3.4))
    labels.append(
        Text(
            (left_x + 11.0, 3.4),
            ", ".join(filter(None, (f"by {far(open_, says)}", scene.seen))),
            LABEL,
            "start",
            "note",
        )
    )

    # Half open, at the top right, above the caption of the closed roof.
    ordinates_y = height - 4.0 - rows_needed(positions, right) * ROW - 4.0
    closed_y = ordinates_y - under + s * extents["closed"].z0
    caption_y = closed_y - s * extents["closed"].z1 - 6.6 - layout.air
    half = states["half"]
    slack = max(0.0, height - tall - layout.air)
    view_y = caption + 3.0 + slack * 0.35 + s * extents["half"].z1
    view = View(right_x - s * x0 + (right - s * (x1 - x0)) / 2, view_y, s)
    panel = Panel(
        Placer(
            Rect(width - right - 1.4, caption - 1.0, width, min(view_y - s * extents["half"].z0 + 5.0, caption_y - 2.8))
        ),
        [],
        [],
    )
    panel.marks += _whole(scene, view, half, x0, x1, inside=False)
    keep_off(scene, view, half, panel)
    spring_lengths(scene, view, half, panel, says)
    marks += panel.marks
    labels += panel.labels
    labels.append(_caption("Half open", right_x, 3.4))
    labels.append(Text((right_x + 18.0, 3.4), f"by {far(half, says)}", LABEL, "start", "note"))

    # Closed, below it, with the positions.
    closed = states["closed"]
    view = View(view.x, closed_y, s)
    panel = Panel(Placer(Rect(width - right - 1.4, caption_y + 0.8, width, ordinates_y)), [], [])
    panel.marks += _whole(scene, view, closed, x0, x1, inside=False)
    keep_off(scene, view, closed, panel)
    for mark in positions:
        x, y = view.at(mark.at)
        panel.placer.avoid_line([(x, y), (x, ordinates_y)], 0.2)
    _draw_closed(scene, view, panel, says)
    under_marks = positions_under(positions, view, ordinates_y, right_x, width)
    marks += [m for m in under_marks if not isinstance(m, Text)]
    marks += panel.marks
    labels += panel.labels
    labels += [m for m in under_marks if isinstance(m, Text)]
    labels.append(_caption("Closed", right_x, caption_y))
    labels.append(
        Text((right_x, height - 1.0), shortened(_note(scene), right, _NOTE_SIZE), _NOTE_SIZE, "start", "note")
    )

    bar_text = f"{says.length(bar)}; 1 : {layout.ratio} when printed at 100 %"
    labels += parts.scale_bar(View(0, 0, s), (left_x, height - 1.9), bar, bar_text)
    words = _describe(scene, states, says)
    title = f"{'Seen from behind' if scene.seen else 'Side view'}: open, half open and closed"
    return Drawing(width, height, title, words, (*marks, *unpatched(labels, marks)))


def _lip_at_rear(scene: Scene) -> bool:
    return scene.lip[0] < (scene.opening[0] + scene.opening[1]) / 2


def _draw_open(
    scene: Scene, states: dict[str, State], view: View, panel: Panel, says: Wording, x0: float, x1: float
) -> None:
    state = states["open"]
    panel.marks += parts.shell(scene, view, states["half"].shell, ghost=True)
    panel.marks += parts.shell(scene, view, states["closed"].shell, ghost=True)
    keep_off(scene, view, state, panel)
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
        text = f"rise {says.length(scene.measured.rise)}"
        panel.upright(at, closed_lip[1], open_lip[1], text, reach=(closed_lip[0], open_lip[0]))
    if scene.handle is not None:
        spot = placed(state.shell, scene.handle)
        place = view.at(spot)
        aside = xs[0] - 9.0
        feet_y = floor_y if person is None else view.at((0.0, person.stands_z))[1]
        text = f"handle {says.length(scene.measured.handle_height)}"
        panel.upright(aside, feet_y, place[1], text, reach=(xs[0], place[0]))
    if scene.headroom_at is not None:
        top = placed(state.shell, scene.headroom_at)
        place = view.at(top)
        x = place[0]
        if person is not None:
            # Beside the person, not through them.
            behind, before = (view.at((person.x + k * person.height, 0.0))[0] for k in (-0.10, 0.18))
            if behind < x < before:
                x = behind if x - behind < before - x else before
        text = f"headroom {says.length(scene.measured.headroom)}"
        panel.upright(x, floor_y, place[1], text, reach=(x, place[0]))
    roof = says.length(parts.height_of(scene.roof_profile, scene.opening[1]) - scene.floor_z)
    fx = xs[1] - 4.0
    roof_y = view.at((x1, parts.height_of(scene.roof_profile, scene.opening[1])))[1]
    panel.upright(fx, floor_y, roof_y, f"roof {roof}", reach=(fx, fx))
    if scene.handle is not None and scene.strap_length > 0:
        spot = placed(state.shell, scene.handle)
        end = view.at((spot[0], spot[1] - scene.strap_length))
        panel.placer.avoid_line([view.at(spot), end], 0.4)
    spring_lengths(scene, view, state, panel, says)
    if scene.handle is not None and scene.strap_length > 0:
        half = text_width(f"strap {says.short_length(scene.strap_length)}", LABEL) / 2 + 1.2
        places = [(end[0] + half, end[1] + 0.5), (end[0] - half, end[1] + 0.5), (end[0], end[1] + 3.2)]
        panel.label(f"strap {says.short_length(scene.strap_length)}", places, anchor_to=end)
    if person is not None:
        text = f"person {says.length(person.height)}"
        half = text_width(text, LABEL) / 2 + 1.2
        px, py = view.at((person.x, person.stands_z + 0.35 * person.height))
        r = 0.1 * person.height * view.scale
        panel.label(text, [(px + r + half, py), (px - r - half, py), (px + r + half, py + 4), (px + r + half, py - 4)])


def _draw_closed(scene: Scene, view: View, panel: Panel, says: Wording) -> None:
    state = State(0.0, 0.0, AT_REST)
    top = max(z for _, z in scene.shell)
    tops = [x for x, z in scene.shell if z == top]
    top_x = (min(tops) + max(tops)) / 2
    if len(scene.pivots) == 1 and not scene.rails:
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
            half = text_width(text, LABEL) / 2
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
    spring_lengths(scene, view, state, panel, says)


def _describe(scene: Scene, states: dict[str, State], says: Wording) -> str:
    words = [f"The lip rises by {says.length(scene.measured.rise)}."]
    if scene.headroom_at is not None:
        words.append(f"Headroom when open is {says.length(scene.measured.headroom)}.")
    words += [
        f"{p.name.capitalize()}: {says.short_length(p.at[0])} from the opening's {scene.edges[0]} edge."
        for p in scene.pivots
    ]
    for letter, spring in zip(lettered(scene), scene.springs, strict=True):
        lengths = [says.short_length(math.dist(*spring_ends(spring, states[n]))) for n in ("closed", "half", "open")]
        words.append(
            f"Spring {letter} ({spring.name}) is {lengths[0]} long closed, {lengths[1]} half open, {lengths[2]} open."
        )
    return " ".join(words)
