"""Pieces, seams, windows and metres of cloth as plain numbers ready for JSON.

The keys are explained in docs/reference/json-walls.md.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers import numbers
from loftwright.answers.hold_said import nominal
from loftwright.answers.wall_sewing_view import UNDER_FOOT, work_of
from loftwright.answers.walled_metres import RollFound
from loftwright.answers.walled_roof import WallNumbers
from loftwright.answers.walled_windows import WindowFound
from loftwright.cloth.sewing_order import amounts
from loftwright.cloth.windows import Box
from loftwright.core.motion import Array
from loftwright.core.pattern import Layout, PatternPiece
from loftwright.project.assemble_sewing import EdgePlan

Numbers = numbers.Numbers

ENDS: Final = (5.0, 95.0)
"""Between these lie nine of ten drawn roofs [percent]."""


def finite(value: float | Array | None) -> float | None:
    """Return the planned number, its unit stays; None where there is none or it has no bound."""
    found = None if value is None else nominal(value)
    return found if found is not None and np.isfinite(found) else None


def _ends(value: Array, walls: WallNumbers) -> tuple[float, float]:
    drawn = value[walls.rows.draws]
    low, high = np.percentile(drawn if drawn.size else value[:1], ENDS)
    return float(low), float(high)


def sewing_numbers(walls: WallNumbers) -> Numbers:
    """Return edges, seams, what the sewing takes, and every piece with its contours and marks."""
    found = walls.found.pieces
    outer = next(layer for layer in found.layers if layer.role == "outer")
    whole = amounts(work_of(walls), UNDER_FOOT * outer.thickness)
    plan = found.plan
    return {
        "lower_edge_m": found.lower_edge,
        "upper_edge_m": found.upper_edge,
        "marks_m": plan.marks,
        "stitch_m": plan.stitch,
        "edges": [
            {"edge": name, **_edge(edge)}
            for name, edge in (
                ("lower", plan.lower),
                ("upper", plan.upper),
                ("left seam", plan.left),
                ("right seam", plan.right),
            )
        ],
        "seams": [
            {"number": one.number, "place": one.place, "left": one.left, "right": one.right, "length_m": one.length}
            for one in found.seams
        ],
        "layers": [
            {"role": one.role, "material": one.cloth.material, "inside_outer_m": one.before, "stops_short_m": one.short}
            for one in found.layers
        ],
        "amounts": {
            "seams_m": whole.seams,
            "stitched_m": whole.stitched,
            "thread_m": whole.thread,
            "tape_m": whole.tape,
            "track_m": whole.track,
            "zip_m": whole.zip,
            "staples_least": whole.staples[0],
            "staples_most": whole.staples[1],
        },
        "pieces": [_piece(piece) for piece in found.pieces],
    }


def _edge(edge: EdgePlan) -> Numbers:
    return {
        "finish": edge.words,
        "allowance_m": nominal(edge.given),
        "needs_m": nominal(edge.needs),
        "turns_m": edge.finish.turns,
    }


def _piece(piece: PatternPiece) -> Numbers:
    return {
        "number": piece.number,
        "name": piece.name,
        "material": piece.material,
        "count": piece.count,
        "side": piece.side,
        "nap": piece.nap,
        "grain_m": piece.grain,
        "contours": [
            {"kind": one.kind, "name": one.name, "closed": one.closed, "vertices": one.vertices}
            for one in piece.contours
        ],
        "notches": [{"sign": one.sign, "at_m": one.at, "out": one.out, "arc_m": one.arc} for one in piece.notches],
        "ordinates_m": piece.ordinates,
        "edges": [{"edge": edge, "finish": finish, "allowance": allowance} for edge, finish, allowance in piece.edges],
    }


def window_numbers(walls: WallNumbers) -> Numbers:
    """Return where each window lies, the outlines of its layers, and what it keeps clear of."""
    panels = walls.found.panels.panels
    return {"windows": [_window(one, panels[one.panel].number) for one in walls.found.pieces.windows.windows]}


def _window(one: WindowFound, panel: str) -> Numbers:
    return {
        "name": one.name,
        "entry": one.entry,
        "wall": one.wall,
        "panel": panel,
        "along_m": one.along,
        "bottom_m": one.bottom,
        "arc_m": one.arc,
        "outlines": [{"layer": name, **_box(box)} for name, box in one.layers],
        "largest": _box(one.largest),
        "clear": [{"edge": edge, "clear_m": clear} for edge, clear in one.clear],
        "crease_m": finite(one.crease),
        "tape_m": one.tape,
        "stitched_m": one.stitched,
        "cut_out": one.holed,
        "fits": one.fits,
    }


def _box(box: Box) -> Numbers:
    return {
        "left_m": box.left,
        "bottom_m": box.bottom,
        "right_m": box.right,
        "top_m": box.top,
        "radius_m": box.radius,
    }


def metres_numbers(walls: WallNumbers) -> Numbers:
    """Return what is bought of every cloth, how its pieces lie, and other ways of cutting."""
    metres = walls.found.metres
    return {
        "rolls": [_roll(one, walls) for one in (*metres.rolls, *metres.sheets)],
        "mass_kg": finite(metres.mass),
        "moving_kg": None if metres.moving is None else [nominal(one) for one in metres.moving],
        "file_mass_kg": nominal(metres.file_mass),
        "price": finite(metres.price),
        "currency": walls.project.settings.currency,
    }


def _roll(roll: RollFound, walls: WallNumbers) -> Numbers:
    metres, price = roll.metres, roll.price
    low, high = (None, None) if price is None else _ends(price, walls)
    return {
        "material": roll.asked.material,
        "layer": roll.asked.layer,
        "roll_m": metres.width,
        "usable_m": roll.asked.width,
        "laid_m": metres.laid,
        "buy_m": metres.buy,
        "inside_stitch_lines_m2": roll.net,
        "inside_cut_lines_m2": roll.cut,
        "waste": metres.waste,
        "price": finite(price),
        "price_low": low,
        "price_high": high,
        "kept": roll.freshness,
        "joined": roll.asked.joined,
        "layout": _layout(roll.layout),
        "others": [
            {"name": one.name, "usable_m": one.width, "buy_m": one.buy, "saved_m": one.saved} for one in roll.others
        ],
    }


def _layout(layout: Layout) -> Numbers:
    return {
        "how": layout.how,
        "length_m": layout.length,
        "pieces": [{"number": one.number, "turned_rad": one.turned, "outline_m": one.outline} for one in layout.pieces],
    }
