"""Pictures of the cloth walls for paper and screens: strip, fold, cutting layout, lower edge, and an illustration."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from loftwright.core.pattern import XY
from loftwright.core.spelling import own_words
from loftwright.core.wall_views import EdgeWater, FoldPlace, RollNeed, WallPage
from loftwright.core.wording import Wording
from loftwright.documents.chapters import WIDTH
from loftwright.documents.respelled import respelled_page
from loftwright.documents.roof_sheet import cut
from loftwright.documents.typeset import printable
from loftwright.drawing.fold_section import FoldSection, fold_section
from loftwright.drawing.layout_view import RollWords, cutting_layout
from loftwright.drawing.page import Drawing
from loftwright.drawing.strip_view import unrolled_walls
from loftwright.drawing.svg import svg
from loftwright.drawing.walls_in_space import walls_in_space
from loftwright.drawing.water_section import Measure, WaterSection, water_sections

_ROLL_TALLEST, _SHORT_ROLL_TALLEST = 96.0, 55.0
"""Most height of a roll's cloth [mm]: in general, and where it is shorter than wide."""
_GHOSTS = (0.30, 0.15, 0.05)
"""Shares open [1] at which the fold on its way is drawn beside the closed one."""
_OUTSIDE = 0.06
"""How much of the roof is drawn outside of the ring [m]."""
_MM = 1000.0


def strip_picture(page: WallPage, *, width: float = WIDTH, height: float = 110.0) -> Drawing | None:
    """Return the walls unrolled in the order of sewing; None where there is no panel."""
    by_number = {piece.number: piece for piece in page.pieces}
    pieces = [by_number[panel.number] for panel in page.strip.panels if panel.number in by_number]
    if not pieces:
        return None
    names = [seam.name for seam in sorted(page.strip.seams, key=lambda seam: seam.low[0])]
    if len(names) == len(pieces):
        # The strip closes: the seam at its left end is sewn to its right end.
        names.append(names[0])
    if len(names) != len(pieces) + 1:
        names = [""] * (len(pieces) + 1)
    return unrolled_walls(pieces, names, width=width, height=height)


def fold_picture(page: WallPage, place: FoldPlace, *, width: float, height: float) -> Drawing | None:
    """Return the fold at one place with the roof closed; None where it was not worked out.

    Its dimensions are those of the ending that is drawn; what all starts come to stands in words beside it.
    """
    if not place.poses or len(place.poses[-1].cloth) < 3:
        return None
    last = place.poses[-1]
    ghosts = [min(place.poses, key=lambda pose: abs(pose.open - share)) for share in _GHOSTS]
    kept = [pose for pose in dict.fromkeys(ghosts) if pose is not last and len(pose.cloth) > 2]
    below = _van(place)
    say = Wording(page.units).short_length
    tip, heights = max((u for u, _ in last.cloth), key=abs), [z for _, z in last.cloth]
    section = FoldSection(
        place.name[:1].upper() + place.name[1:],
        tuple(_mm(pose.cloth) for pose in (*kept, last)),
        below.ring,
        _mm(last.shell),
        f"{say(abs(tip))} {'inward' if tip > 0.0 else 'outward'}",
        f"{say(max(heights) - min(heights))} from top to bottom",
        () if last.bar is None else _round(*last.bar),
        below.board,
        below.room,
    )
    return fold_section(section, width=width, height=height)


@dataclass(frozen=True, slots=True)
class _Van:
    """What stands in the van at one place, each a closed shape [mm] or nothing."""

    ring: tuple[XY, ...]
    board: tuple[XY, ...]
    room: tuple[XY, ...]


def _van(place: FoldPlace) -> _Van:
    """Return ring with the roof's edge outside of it, the boards inside, and the room over them.

    Boxes are told apart by where they lie: outside of the lower line, beginning at it, or further in.
    """
    outer = [box for box in place.boxes if box[2] <= 0.0]
    rings = [box for box in place.boxes if box not in outer and box[0] <= 0.0]
    inside = [box for box in place.boxes if box not in outer and box not in rings]
    ring: list[XY] = []
    if rings:
        u0, z0, u1, z1 = rings[0]
        ring = [(u0, z0), (u1, z0), (u1, z1), (u0, z1)]
    if outer:
        _, low, _, high = outer[0]
        ring = [*(ring or [(0.0, low), (0.0, high)]), (0.0, high), (-_OUTSIDE, high), (-_OUTSIDE, low), (0.0, low)]
    standing = max(inside, key=lambda box: box[3], default=None)
    floor = next((box for box in inside if box is not standing), None)
    board: list[XY] = []
    if standing is not None:
        u0, z0, u1, z1 = standing
        board = [(u0, z0), (u1, z0), (u1, z1), (u0, z1)]
        if floor is not None and floor[0] < u0 and floor[1] == z0:
            # One shape of both: a bed board with what stands on it.
            board = [(floor[0], z0), (u1, z0), (u1, z1), (u0, z1), (u0, floor[3]), (floor[0], floor[3])]
    room: list[XY] = []
    if place.room is not None:
        depth, height = place.room
        # It ends above at the shell's inside.
        top = min(z for _, z in place.poses[-1].shell)
        left = 0.0 if floor is None else floor[0]
        room = [(left, top - height), (depth, top - height), (depth, top), (left, top)]
    return _Van(_mm(tuple(ring)), _mm(tuple(board)), _mm(tuple(room)))


def _mm(spots: tuple[XY, ...]) -> tuple[XY, ...]:
    return tuple((_MM * u, _MM * z) for u, z in spots)


def _round(u: float, z: float, radius: float) -> tuple[XY, ...]:
    turns = [2.0 * math.pi * k / 24 for k in range(24)]
    return _mm(tuple((u + radius * math.cos(t), z + radius * math.sin(t)) for t in turns))


def roll_picture(page: WallPage, roll: RollNeed, *, width: float = WIDTH) -> Drawing | None:
    """Return how the pieces lie on one roll; None where nothing is laid on it."""
    layout = roll.layout
    if not layout.pieces or layout.length <= 0.0:
        return None
    say = Wording(page.units)
    step = 1.0 if page.units == "metric" else 3 * 0.3048
    ticks = [step * k for k in range(math.floor(layout.length / step) + 1)]
    words = RollWords(
        say.length(layout.length),
        say.length(layout.width),
        "",
        tuple((along, "0" if along == 0.0 else say.length(along)) for along in ticks),
    )
    # A short, wide roll would be taller than its page: it is drawn smaller, and leaves the rest of the width empty.
    tallest = _ROLL_TALLEST if layout.length >= layout.width else _SHORT_ROLL_TALLEST
    wide = min(width, 15.0 + layout.length * tallest / layout.width)
    # What is bought, left over and paid stands in words beneath it.
    plain = replace(layout, material=cut(layout.material, 30), how="")
    return replace(cutting_layout((plain,), (words,), page.pieces, width=wide), width=width)


def water_pictures(page: WallPage, *, width: float = WIDTH) -> list[Drawing]:
    """Return the lower edge in section, two places on each picture, none where it is not known."""
    made = [_water(edge, Wording(page.units)) for edge in page.water]
    return [water_sections(made[k : k + 2], width=width) for k in range(0, len(made), 2)]


def _water(edge: EdgeWater, say: Wording) -> WaterSection:
    texts = {what: text for what, _, _, text in edge.sizes}
    end_lap = next(
        (Measure(_MM * (high - low), text) for what, low, high, text in edge.sizes if what == "end lap"), None
    )

    def measure(metres: float, what: str = "") -> Measure:
        return Measure(_MM * metres, texts.get(what, say.short_length(metres)))

    # What water can reach, standing, running or splashed up, is what the staples are held against.
    return WaterSection(
        edge.place,
        measure(edge.upstand, "upstand"),
        measure(edge.line, "staples"),
        measure(edge.splash),
        measure(edge.lap, "lap"),
        measure(edge.hem, "hem"),
        end_lap,
    )


def space_picture(page: WallPage, *, width: float = WIDTH, height: float = 110.0) -> Drawing | None:
    """Return the walls in space as an illustration; None where their lines are not known."""
    if min(len(page.lower), len(page.upper), len(page.rulings)) < 3:
        return None
    return walls_in_space(page.lower, page.upper, page.rulings, width=width, height=height)


def screen_svg(page: WallPage, drawing: Drawing | None, *, ids: str) -> str:
    """Return a drawing for a screen, as wide as its column and in the page's spelling; nothing for none.

    `ids` starts the ids of its title and description.
    """
    if drawing is None:
        return ""
    made = svg(drawing, ids=ids, responsive=True, joined=True)
    return respelled_page(str(printable(made.replace("\n", " "))), page.words, own_words([page.name]))
