"""Tables on the fold: what helps at the corners, where seams lie in it, what to open and how slow to go."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from loftwright.answers.fold_quick import CornerFound
from loftwright.answers.hold_said import capital, nominal
from loftwright.answers.walled_fold import FoldFound
from loftwright.cloth.fold_corners import Remedy, remedies, seam_default, seams_compared
from loftwright.core.motion import Array
from loftwright.core.units import Dimension
from loftwright.core.views import Grid
from loftwright.core.wording import Wording

if TYPE_CHECKING:
    from loftwright.answers.walled_roof import WallNumbers

STOP: Final = 0.175
"""How far past the corner's round insulation ends, as a remedy [m]."""
BAR_MOVED: Final = 0.05
"""How far inward the latches' bar is moved, as a remedy [m]."""


def remedy_grid(corner: CornerFound, say: Wording) -> Grid:
    """Return what each way of helping the corner gains, planned."""
    every = remedies(corner.planned, corner.cavity, stop=STOP, bar_moved=BAR_MOVED)
    rows = tuple(
        (
            capital(one.name),
            f"{_short(one.low, say)} to {_short(one.high, say)}",
            _short(one.gain, say),
            _short(one.depth_gain, say),
            _words(one, say),
        )
        for one in every
    )
    return Grid(
        "What helps at the corners",
        ("Way", "Bundle", "Height gained", "Depth gained", "How"),
        rows,
        "Heights at corners are an order of magnitude, from trials; gains are against the wall as it is with one fold.",
    )


def _short(value: Array, say: Wording) -> str:
    return say.short_length(nominal(value))


def _words(one: Remedy, say: Wording) -> str:
    if one.name == "insulation stopped short":
        return f"End the insulation {say.short_length(STOP)} past each corner's round; outer cloth and lining go on."
    if one.name == "latch bar further back":
        return f"Move the latch bar {say.short_length(BAR_MOVED)} inward."
    return one.words


def seam_grid(fold: FoldFound, say: Wording) -> Grid:
    """Return how thick the cloth lies where a flat-felled seam stands, at mid-corner and past it, planned."""
    corner = fold.corner
    if corner is None:
        raise ValueError("no corner yet")
    depth, radius = nominal(corner.depth), nominal(corner.radius)
    outer = nominal(corner.planned.outer)
    every = seams_compared(depth, radius, nominal(corner.planned.thickness), outer)
    best = seam_default(depth, radius)
    rows = tuple(
        (
            "mid-corner" if one.past <= 0.0 else f"{say.short_length(one.past)} past the corner",
            f"{_short(one.low, say)} to {_short(one.high, say)}",
            "yes" if bool(one.crowded) else "no",
        )
        for one in every
    )
    where = "mid-corner" if best <= 0.0 else f"{say.short_length(best)} past the corner"
    return Grid(
        "Where seams lie in the fold",
        ("Seam", "Cloth there", "Folds cross"),
        rows,
        f"Flat-felled seams, loops not counted. Best here: {where}.",
    )


def air_grid(walls: WallNumbers, say: Wording) -> Grid:
    """Return what opening one thing does for the air, planned, and how slow and how strong a fan would do."""
    air = walls.found.fold.air
    rows = [
        (
            capital(one.name),
            say.area(nominal(one.area)),
            say.quantity(nominal(one.pressure), Dimension.PRESSURE),
            _enough(bool(one.is_enough[0])),
        )
        for one in air.doors
    ]
    low, high = (max(nominal(v), 0.0) for v in air.shut)
    least = nominal(air.seconds)
    if least <= nominal(walls.found.fold.lower.seconds):
        now = "With what is open now the air does not limit how fast you lower it as planned. "
    else:
        now = (
            f"With what is open now, take {say.time(least)} or let a vent blow out "
            f"{3600 * nominal(air.fan):.0f} cubic metres an hour. "
        )
    return Grid(
        "What to open before lowering",
        ("Opened", "Free area", "Air on the cloth", "Enough"),
        tuple(rows),
        f"Enough is at most {say.quantity(nominal(air.allowed), Dimension.PRESSURE)}, for which "
        f"{say.area(nominal(air.area))} must be open in all. "
        f"{now}All doors shut, the air lifts the shell with {say.force(low)} to {say.force(high)}. "
        "Free areas are those of common vans.",
    )


def _enough(enough: bool) -> str:
    return "yes" if enough else "no"
