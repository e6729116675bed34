"""The cloth walls as plain numbers ready for JSON: SI units, radians, panels, seams and places by name.

The keys are explained in docs/reference/json-walls.md.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import numpy as np

from loftwright.answers import numbers
from loftwright.answers.hold_said import nominal
from loftwright.answers.taken_over import left_alone, taken_over
from loftwright.answers.views import provenance_of
from loftwright.answers.wall_fold_numbers import fold_numbers
from loftwright.answers.wall_piece_numbers import finite, metres_numbers, sewing_numbers, window_numbers
from loftwright.answers.walled_panels import LIFT_STEP, TURN_STEP, PanelsFound, WallPanel
from loftwright.answers.walled_roof import WallNumbers
from loftwright.cloth.rim_fit import RimFit
from loftwright.cloth.rims import SIDES, Loop
from loftwright.core.checks import Check, Outcome, tally_of
from loftwright.core.wall_views import WALL_PARTS, WallPart
from loftwright.reference.cautions import WALLS

Numbers = numbers.Numbers

PART_OF: Final[dict[str, WallPart]] = {
    "WALL": "shape",
    "WATER": "water",
    "SEW": "sewing",
    "WINDOW": "windows",
    "ROLL": "metres",
    "WARM": "warmth",
    "STOW": "fold",
}
"""The question under which a judgement stands, by the beginning of its rule's id."""


def walled(outcome: Outcome[WallNumbers], parts: Iterable[WallPart] = WALL_PARTS) -> Numbers:
    """Return what `walls` says: verdicts worst first, then the figures of each question of `parts`."""
    walls, wanted = outcome.numbers, tuple(parts)
    figures = {
        "shape": _shape,
        "water": _water,
        "sewing": sewing_numbers,
        "windows": window_numbers,
        "metres": metres_numbers,
        "warmth": _warmth,
        "fold": fold_numbers,
    }
    checks = tuple(check for check in outcome.checks if _part_of(check) in wanted)
    counted = tally_of(check.verdict for check in checks)
    return {
        **numbers.head(walls.project),
        "tally": {"fails": counted.fails, "not_known": counted.not_known, "holds": counted.holds},
        "checks": [{"question": _part_of(check), **numbers.check_numbers(check)} for check in checks],
        **{part: figures[part](walls) for part in WALL_PARTS if part in wanted},
        "taken_over": [{"key": one.path, "value": one.text, "says": one.sentence} for one in taken_over(walls)],
        "left_alone": list(left_alone(walls)),
        "assumptions": list(outcome.assumptions),
        "provenance": provenance_of(walls.rows),
        "cautions": list(WALLS),
    }


def _part_of(check: Check) -> WallPart:
    return PART_OF[check.rule.id.partition("-")[0]]


# --- lines and panels ------------------------------------------------------------------------------


def _shape(walls: WallNumbers) -> Numbers:
    lines, panels = walls.found.lines, walls.found.panels
    tension = panels.tension
    return {
        "lower_line": _line(lines.lower, lines.lower_fit),
        "upper_line": _line(lines.upper, lines.upper_fit),
        "heights_m": dict(zip(SIDES, (float(v) for v in lines.heights[0]), strict=True)),
        "overhang": {
            "least_m": nominal(lines.over.least),
            "least_at": lines.over.least_at,
            "most_m": nominal(lines.over.most),
            "most_at": lines.over.most_at,
        },
        "seams": [
            {"number": k + 1, "place": name, "lower_arc_m": lines.seams.lower[0, k], "upper_arc_m": upper}
            for k, (name, upper) in enumerate(zip(lines.seams.names, lines.seams.upper[0], strict=True))
        ],
        "ease_m": nominal(panels.ease),
        "opened_further_rad": None if walls.found.basis.roof.travel.slides else TURN_STEP,
        "opened_further_m": LIFT_STEP if walls.found.basis.roof.travel.slides else None,
        "panels": [_panel(panels, k, one) for k, one in enumerate(panels.panels)],
        "tension": {
            "wall": tension.wall,
            "dry_n_per_m": finite(tension.pull.dry),
            "wet_n_per_m": finite(tension.pull.wet),
            "springs_n_per_m": finite(tension.most),
            "bears_n_per_m": nominal(tension.bears),
            "weakest": tension.weakest,
        },
    }


def _line(loop: Loop, fit: RimFit | None) -> Numbers:
    first = loop.row()
    return {"length_m": nominal(first.perimeter), "points_m": first.points, "fit": None if fit is None else _fit(fit)}


def _fit(fit: RimFit) -> Numbers:
    return {
        "points": len(fit.out),
        "scatter_m": finite(fit.scatter),
        "spare": fit.freedom,
        "worst_point": fit.worst + 1,
        "worst_off_m": finite(fit.worst_off),
        "outward_m": fit.out,
        "upward_m": fit.up,
        "sizes": [
            {"name": name, "value_m": float(value), "sd_m": float(np.sqrt(max(spread, 0.0)))}
            for name, value, spread in zip(fit.names, fit.values, np.diag(fit.covariance), strict=True)
        ],
    }


def _panel(panels: PanelsFound, k: int, one: WallPanel) -> Numbers:
    flat = one.flat
    lower, upper = (np.reshape(edge, (-1, *edge.shape[-2:]))[0] for edge in (flat.lower, flat.upper))
    return {
        "number": one.number,
        "name": one.name,
        "wall": one.wall,
        "left": one.left + 1,
        "right": one.right + 1,
        "lower_m": lower,
        "upper_m": upper,
        "lower_arc_m": one.lower_arc,
        "upper_arc_m": one.upper_arc,
        "area_m2": nominal(flat.area),
        "height_m": nominal(one.height),
        "left_seam_m": nominal(flat.left_seam),
        "right_seam_m": nominal(flat.right_seam),
        "error_m": one.error,
        "moves": [{"key": key, "by_m": by} for key, by in one.moves],
        "opening_moves_m": float(panels.opening[k]),
        "two_ways_m": flat.two_ways,
        "refined_m": flat.refined,
        "sharpest_rad": nominal(flat.sharpest),
        "ruler": {
            "square_top_m": nominal(flat.straight.square_top),
            "bow_lower_m": nominal(flat.straight.bow_lower),
            "bow_upper_m": nominal(flat.straight.bow_upper),
            "slack_m": nominal(flat.straight.slack),
            "shortage_m": nominal(flat.straight.shortage),
        },
    }


def _water(walls: WallNumbers) -> Numbers:
    water = walls.found.water
    return {
        "above_upstand": water.over_top,
        "edges": [
            {
                "place": edge.place,
                "upstand_m": nominal(edge.upstand),
                "staples_m": nominal(edge.staples),
                "hem_m": nominal(edge.hem),
                "lap_m": nominal(edge.lap),
                "lap_most_m": nominal(most),
                "end_lap_m": None if edge.end_lap is None else nominal(edge.end_lap),
                "standing_m": nominal(edge.standing),
                "running_m": nominal(edge.running),
                "water_m": nominal(edge.water),
                "splash_m": nominal(edge.splash),
                "driven_m": nominal(edge.driven),
            }
            for edge, most in zip(water.sections, water.fitting, strict=True)
        ],
    }


def _warmth(walls: WallNumbers) -> Numbers:
    warmth = walls.found.warmth
    return {
        "inside_k": nominal(warmth.inside),
        "outside_k": nominal(warmth.outside),
        "humidity": nominal(warmth.humidity),
        "dew_point_k": nominal(warmth.dew),
        "settles_from": nominal(warmth.driest),
        "lost_w": nominal(warmth.all_lost),
        "fresh_air_m3_s": finite(warmth.air),
        "parts": [
            {
                "part": part.name,
                "area_m2": nominal(part.area),
                "u_w_per_m2_k": nominal(part.transmits),
                "face_k": nominal(face),
                "lost_w": nominal(lost),
            }
            for part, face, lost in zip(warmth.parts, warmth.faces, warmth.lost, strict=True)
        ],
    }
