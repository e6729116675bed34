"""The walls as data for the drawing board's scripts: the strip, the fold's poses, the walls in space."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from string import ascii_uppercase
from typing import Any, Final, TypeVar

from loftwright.core.choices import Units
from loftwright.core.wall_views import FoldPlace, FoldPose, RollNeed, StripSeam, WallPage
from loftwright.documents.board_picture import length_unit
from loftwright.documents.hold_board import ROOMY_MM, drawn_width
from loftwright.documents.wall_pictures import roll_picture, screen_svg, space_picture, water_pictures

T = TypeVar("T")
PER: Final = 10_000
"""Places are sent as whole tenths of a millimetre."""
SCALE_BAR: Final[dict[Units, tuple[str, float, str]]] = {"metric": ("mm", 0.1, "100"), "imperial": ("in", 0.1016, "4")}
"""The bar beside the fold: its unit, its length [m], that length as text."""
SHORT: Final = 0.75
"""On so little of a roll only small pieces lie [m]: judgement."""
MOST_POSES, MOST_SPOTS = 32, 80
"""So many poses of a place, and points of a cloth, are sent: more are not seen."""
MOST_RULINGS: Final = 160
"""So many lines from below to above are drawn of the walls in space."""


def _t(value: float) -> int:
    return round(value * PER)


def _flat(points: Sequence[Sequence[float]]) -> list[int]:
    """Return places one coordinate after the other."""
    return [_t(value) for point in points for value in point]


def _some(items: Sequence[T], most: int) -> Sequence[T]:
    """Return at most so many of the items, evenly, the first and the last among them."""
    if len(items) <= most:
        return items
    return [items[round(k * (len(items) - 1) / (most - 1))] for k in range(most)]


def letters(count: int) -> tuple[str, ...]:
    """Return short signs for so many seams: A, B, ... Z, A2, ..."""
    every = len(ascii_uppercase)
    return tuple(f"{ascii_uppercase[k % every]}{k // every + 1 if k >= every else ''}" for k in range(count))


def wall_strip(page: WallPage, seams: Sequence[StripSeam], steps: tuple[float, float]) -> dict[str, Any]:
    """Return the strip for its script, places in tenths of a millimetre: panels, windows, seams, places of the fold.

    `seams` are those of the strip once each; `steps` are those of the arrow keys, coarse and fine [m].
    """
    strip = page.strip
    signs = dict(zip((seam.name for seam in seams), letters(len(seams)), strict=True))
    return {
        "length": length_unit(page.units),
        "steps": [_t(step) for step in steps],
        "around": _t(strip.around),
        "size": [_t(strip.length), _t(strip.height)],
        "panels": [
            {
                "number": panel.number,
                "name": panel.name,
                "outline": _flat(panel.outline),
                "lower": _flat(panel.lower),
                "arcs": [_t(arc) for arc in panel.arcs],
            }
            for panel in strip.panels
        ],
        "windows": [
            {
                "name": window.name,
                "entry": window.entry,
                "sight": _flat(window.sight),
                "largest": _flat(window.largest),
                "move": _t(window.move),
                "rise": _t(window.rise),
                "fits": window.fits,
            }
            for window in strip.windows
        ],
        "seams": [
            {
                "sign": signs.get(seam.name, ""),
                "name": seam.name,
                "low": _flat((seam.low,)),
                "high": _flat((seam.high,)),
                "arc": _t(seam.arc),
            }
            for seam in strip.seams
        ],
        "places": [{"name": place.name, "arc": _t(place.arc)} for place in page.places],
    }


def counts_text(counts: tuple[int, int, int]) -> str:
    """Return in words how the starts of one place ended.

    >>> counts_text((18, 1, 1)), counts_text((20, 0, 0)), counts_text((0, 0, 0))
    ('Of 20 starts 18 end inside, 1 ends outside, 1 lies both ways.', 'All 20 starts end inside.', '')
    """
    whole = sum(counts)
    if not whole:
        return ""
    words = (("ends inside", "end inside"), ("ends outside", "end outside"), ("lies both ways", "lie both ways"))
    named = [(count, one if count == 1 else more) for count, (one, more) in zip(counts, words, strict=True) if count]
    if len(named) == 1:
        return f"All {whole} starts {named[0][1]}." if whole > 1 else f"The one start {named[0][1]}."
    return f"Of {whole} starts " + ", ".join(f"{count} {said}" for count, said in named) + "."


def fold_play(page: WallPage) -> dict[str, Any] | None:
    """Return the fold at every place for its script, without poses where there are none; None without a place."""
    if not page.places:
        return None
    unit, long, text = SCALE_BAR[page.units]
    return {
        "bar": {"unit": unit, "long": _t(long), "text": text},
        "places": [_place(place) for place in page.places],
    }


def _place(place: FoldPlace) -> dict[str, Any]:
    return {
        "name": place.name,
        "says": place.says,
        "counts": counts_text(place.counts),
        "facts": [
            [label, text]
            for label, text in (
                ("Tip", place.tip),
                ("Hangs below the ring", place.hang),
                ("Bundle", place.bundle),
                ("Push on the shell", place.push),
            )
            if text
        ],
        "poses": [_pose(pose) for pose in _some(sorted(place.poses, key=lambda pose: pose.open), MOST_POSES)],
        "ends": [_flat(_some(end, MOST_SPOTS)) for end in place.ends],
        "boxes": [[_t(value) for value in box] for box in place.boxes],
        "room": None if place.room is None else [_t(value) for value in place.room],
    }


def _pose(pose: FoldPose) -> dict[str, Any]:
    return {
        "open": round(pose.open, 4),
        "cloth": _flat(_some(pose.cloth, MOST_SPOTS)),
        "shell": _flat(pose.shell),
        "bar": None if pose.bar is None else [_t(value) for value in pose.bar],
    }


def roll_drawings(page: WallPage, *, width_px: float) -> tuple[tuple[RollNeed, str, bool], ...]:
    """Return each roll with its layout as SVG for a column of `width_px` CSS pixels, and whether little lies on it."""
    width = drawn_width(width_px)
    return tuple(
        (
            roll,
            screen_svg(page, roll_picture(page, roll, width=width), ids=f"roll-{number}"),
            0.0 < roll.layout.length < SHORT,
        )
        for number, roll in enumerate(page.rolls)
    )


def water_drawings(page: WallPage, *, width_px: float) -> tuple[str, ...]:
    """Return the lower edge in section as SVG for a column of `width_px` CSS pixels, one by one where it is narrow."""
    width = drawn_width(width_px)
    pages = [replace(page, water=(edge,)) for edge in page.water] if width < ROOMY_MM else [page]
    made = [drawing for one in pages for drawing in water_pictures(one, width=width)]
    return tuple(screen_svg(page, drawing, ids=f"water-{number}") for number, drawing in enumerate(made))


def space_drawing(page: WallPage, *, width_px: float) -> str:
    """Return the walls in space as SVG, for those without the script that turns them."""
    return screen_svg(page, space_picture(page, width=drawn_width(width_px)), ids="space")


def walls_in_space(page: WallPage) -> dict[str, Any] | None:
    """Return both lines and the lines between them for an illustration; None without walls."""
    if not page.lower or not page.upper:
        return None
    step = max(1, len(page.rulings) // MOST_RULINGS)
    return {
        "lower": _flat(page.lower),
        "upper": _flat(page.upper),
        "rulings": [_flat(pair) for pair in page.rulings[::step]],
    }
