"""The fit-out as plain numbers ready for JSON: SI units, radians, watt-hours, months and headings by name.

The keys are explained in docs/reference/json-fitout.md.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from loftwright.answers import numbers
from loftwright.answers.fitted_lift import DAYS
from loftwright.answers.fitted_roof import FittedNumbers
from loftwright.answers.fitting_panel_view import COMPASS, short
from loftwright.answers.fitting_said import band, first, part_of
from loftwright.answers.taken_fit import taken_fit
from loftwright.answers.views import provenance_of
from loftwright.core.checks import Outcome, tally_of
from loftwright.core.fitting_pages import FITTING_PARTS, FittingPart
from loftwright.core.motion import Array
from loftwright.fitout.sun import MONTHS
from loftwright.reference.cautions import FITTING

Numbers = numbers.Numbers


def fitted_out(outcome: Outcome[FittedNumbers], parts: Iterable[FittingPart] = FITTING_PARTS) -> Numbers:
    """Return what `fitout` says: verdicts worst first, then the figures of each question of `parts`."""
    fitted, wanted = outcome.numbers, tuple(parts)
    figures = {"seal": _seal, "standing": _standing, "panel": _panel, "lift": _lift, "lining": _lining}
    checks = tuple(check for check in outcome.checks if part_of(check) in wanted)
    counted = tally_of(check.verdict for check in checks)
    return {
        **numbers.head(fitted.project),
        "tally": {"fails": counted.fails, "not_known": counted.not_known, "holds": counted.holds},
        "checks": [{"question": part_of(check), **numbers.check_numbers(check)} for check in checks],
        **{part: figures[part](fitted) for part in FITTING_PARTS if part in wanted},
        "offered": [{"key": one.path, "value": one.text, "says": one.sentence} for one in taken_fit(fitted)],
        "assumptions": list(outcome.assumptions),
        "provenance": provenance_of(fitted.rows),
        "cautions": list(FITTING),
    }


def _seal(fitted: FittedNumbers) -> Numbers:
    seal = fitted.found.seal
    return {
        "length_m": first(seal.length),
        "corner_radius_m": first(seal.radius),
        "gap_least_m": first(seal.gaps.least),
        "gap_most_m": first(seal.gaps.most),
        "free_height_m": first(seal.free),
        "squeeze_m": first(seal.squeeze),
        "line_n_m": first(seal.line),
        "by_sample": seal.sampled,
        "force_n": first(seal.force),
        "latch_n": first(seal.latch),
        "wet_m": first(seal.wet_length),
        "leaning": seal.lean,
        "path": [{"x_m": x, "y_m": y, "wet": wet} for x, y, wet in zip(seal.x[0], seal.y[0], seal.wet[0], strict=True)],
        "joint": {"x_m": seal.x[0, seal.joint], "y_m": seal.y[0, seal.joint]},
    }


def _standing(fitted: FittedNumbers) -> Numbers:
    found = fitted.found.standing
    return {
        "need_m": first(found.need),
        "area_m2": first(found.area),
        "area_closed_m2": first(found.area_closed),
        "wanted_m2": first(found.wanted),
        "walk_along_m": first(found.walk.along),
        "walk_across_m": first(found.walk.across),
        "highest_m": first(found.highest),
        "on_area_m": first(found.on_area),
        "men": first(found.upright.men),
        "women": first(found.upright.women),
        "over_bed_m": None if found.over_bed is None else first(found.over_bed),
        "height_closed_m": first(found.height_closed),
        "height_open_m": first(found.height_open),
        "map": {"x_m": found.x, "y_m": found.y, "open_m": found.opened[0], "closed_m": found.closed[0]},
    }


def _panel(fitted: FittedNumbers) -> Numbers | None:
    panel = fitted.found.panel
    if panel is None:
        return None
    wire, loop = panel.wire, panel.wire.loop
    flat, raised = panel.flat.min(axis=-1), panel.raised[..., panel.best]
    dark = list(panel.winter)
    return {
        "tilt_flat_rad": first(panel.flat_tilt),
        "tilt_raised_rad": first(panel.raised_tilt),
        "use_wh": first(panel.use),
        "months": [
            {"month": name, **_month(flat, fitted, k), **_month(raised, fitted, k, "raised_")}
            for k, name in enumerate(MONTHS)
        ],
        "uncovered_flat": list(short(panel, flat)),
        "uncovered_raised": list(short(panel, raised)),
        "winter": [MONTHS[k] for k in panel.winter],
        "headings": [
            {
                "cab_to": name,
                "flat_wh": panel.flat[0, dark, k].mean(),
                "raised_wh": panel.raised[0, dark, k].mean(),
            }
            for k, name in enumerate(COMPASS)
        ],
        "best_heading": COMPASS[panel.best],
        "best_over_worst": panel.gains,
        "current_a": first(wire.current),
        "lost_v": first(wire.lost),
        "cable_bears_a": first(wire.borne),
        "thinnest": wire.thinnest,
        "next_fuse_a": wire.next_fuse,
        "loop": {
            "placed": wire.placed,
            "van_m": list(wire.van),
            "shell_m": list(wire.shell),
            "free_m": first(loop.free),
            "longest_m": first(loop.longest),
            "shortest_m": first(loop.shortest),
            "bend_m": first(loop.bend),
        },
        "foot_road_n": first(panel.pull_road),
        "foot_gust_n": first(panel.pull_gust),
        "lift_road_n": first(panel.lift),
        "latches_n": first(panel.latches),
    }


def _month(given: Array, fitted: FittedNumbers, k: int, prefix: str = "flat_") -> Numbers:
    low, high = band(given[:, k], fitted.rows.draws)
    return {f"{prefix}wh": given[0, k], f"{prefix}low_wh": float(low), f"{prefix}high_wh": float(high)}


def _lift(fitted: FittedNumbers) -> Numbers:
    power = fitted.found.lift
    lift, instead = power.lift, power.instead
    return {
        "planned": None
        if lift is None
        else {
            "count": lift.count,
            "days": [
                {"day": name, "push_n": first(one.push), "pull_n": first(one.pull)}
                for (name, _, _), one in zip(DAYS, lift.worst, strict=True)
            ],
            "stroke_used_m": first(lift.spare.used),
            "spare_in_m": first(lift.spare.inward),
            "spare_out_m": first(lift.spare.outward),
            "opens_s": first(lift.opening.time),
            "current_a": first(lift.opening.current),
            "cycle_wh": first(np.asarray(lift.opening.energy + lift.closing.energy)),
            "rod_bends_n": first(lift.buckles),
            "lip_n": lift.closing_edge[0].max(),
            "twist_rad": first(lift.twisted),
            "by_hand_n": first(lift.by_hand),
        },
        "in_place_of_springs": None
        if instead is None
        else {
            "spring": instead.name,
            "count": instead.count,
            "force_n": first(instead.force),
            "stroke_m": first(instead.used),
        },
    }


def _lining(fitted: FittedNumbers) -> Numbers | None:
    lining = fitted.found.lining
    if lining is None:
        return None
    return {
        "ceiling_m2": first(lining.ceiling),
        "cheeks_m2": first(lining.cheeks),
        "edge_m2": first(lining.edge),
        "thickness_m": first(lining.given.thickness),
        "mass_kg": first(lining.weight.mass),
        "x_m": first(lining.weight.x),
        "z_m": first(lining.weight.z),
        "resistance_m2k_w": first(lining.warm),
        "bare_m2k_w": first(lining.bare),
        "lamps_w": first(lining.power),
        "lamps_a": first(lining.current),
        "evening_wh": first(lining.evening),
        "strip_m": first(lining.strip),
        "cable_m": first(lining.cable),
        "hollow_m": first(lining.hollow),
        "cavity_m": first(lining.cavity),
    }
