"""Fit and strength as plain numbers ready for JSON: SI units, radians, directions and parts by name.

The keys are explained in docs/reference/json-hold.md.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike

from loftwright.answers import numbers
from loftwright.answers.held_joints import JointFound
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_before import before_the_cut
from loftwright.answers.hold_fit_view import gap_chart
from loftwright.answers.hold_road_view import enough_up_to
from loftwright.answers.hold_said import nominal, part_of
from loftwright.answers.hold_wind_view import lower_above
from loftwright.answers.views import provenance_of
from loftwright.core.checks import Check, Outcome, tally_of
from loftwright.core.hold_views import HOLD_PARTS, HoldPart
from loftwright.core.units import size_of
from loftwright.core.wording import Wording
from loftwright.reference.cautions import STRENGTH
from loftwright.strength.raised_shape import DIRECTIONS

Numbers = numbers.Numbers


def held(outcome: Outcome[HeldNumbers], parts: Iterable[HoldPart] = HOLD_PARTS) -> Numbers:
    """Return what `hold` says: verdicts worst first, then the figures of each question of `parts`."""
    found, wanted = outcome.numbers, tuple(parts)
    figures = {"fit": _fit, "wind": _wind, "road": _road, "opening": _opening, "joints": _joints, "van": _van}
    checks = tuple(check for check in outcome.checks if part_of(check.rule.id) in wanted)
    return {
        **numbers.head(found.project),
        "tally": _tally(checks),
        "checks": [{"question": part_of(check.rule.id), **numbers.check_numbers(check)} for check in checks],
        **{part: figures[part](found) for part in HOLD_PARTS if part in wanted},
        "before_the_cut": [
            {"what": one.what, "verdict": one.verdict.value, "state": one.state, "do": one.do}
            for one in before_the_cut(found, outcome.checks)
        ],
        "assumptions": list(outcome.assumptions),
        "provenance": provenance_of(found.rows),
        "cautions": list(STRENGTH),
    }


def _tally(checks: Iterable[Check]) -> Numbers:
    counted = tally_of(check.verdict for check in checks)
    return {"fails": counted.fails, "not_known": counted.not_known, "holds": counted.holds}


def _first(value: ArrayLike | None) -> float | None:
    return None if value is None else nominal(value)


def _fit(found: HeldNumbers) -> Numbers:
    fit, chart = found.found.fit, gap_chart(found, Wording())
    mm, cm = size_of("mm"), size_of("cm")
    packers = fit.packers
    return {
        "seal_least_m": nominal(fit.shapes.seal_least),
        "seal_most_m": nominal(fit.shapes.seal_most),
        "gap_m": float(fit.seat.gap[0].max()),
        "shift_m": nominal(fit.seat.shift),
        "trim_m": nominal(fit.trim.largest),
        "rim_height_m": nominal(fit.rim_height),
        "lap_m": nominal(fit.lap),
        "round_the_rim": {
            "along_m": [v * cm for v in chart.along],
            "seal_m": [v * mm for v in chart.gap],
            "seal_low_m": [v * mm for v in chart.low],
            "seal_high_m": [v * mm for v in chart.high],
        },
        "stops": [
            {"name": name, "x_m": float(x), "y_m": float(y), "height_m": float(height)}
            for name, x, y, height in zip(
                fit.stops.names, fit.stops.x[0], fit.stops.y[0], fit.stops.height[0], strict=True
            )
        ],
        "packers": None
        if packers is None
        else [
            {
                "side": side,
                "middle_m": packers.made.middle[0, i],
                "corners_m": packers.made.corners[0, i],
                "wedge_along_rad": packers.made.wedge_along[0, i],
                "wedge_across_rad": packers.made.wedge_across[0, i],
            }
            for i, side in enumerate(packers.sides)
        ],
        "shells": [
            {"name": one.name, "gap_m": nominal(one.largest), "lap_m": nominal(one.lap)} for one in fit.candidates
        ],
    }


def _by_direction(values: ArrayLike) -> Numbers:
    return dict(zip(DIRECTIONS, (float(v) for v in np.asarray(values)), strict=True))


def _wind(found: HeldNumbers) -> Numbers:
    wind = found.found.wind
    brace = wind.brace
    return {
        "wanted_m_s": nominal(wind.wanted),
        "lower_above_m_s": lower_above(found),
        "planned_m_s": nominal(wind.lower_above),
        "weakest": wind.weakest,
        "weakest_from": wind.weakest_direction,
        "at_limit": [
            {"part": name, "gust_m_s": _by_direction(wind.gust[0, :, i])} for i, name in enumerate(wind.names)
        ],
        "in_the_wanted_gust": [
            {
                "part": name,
                "used": _by_direction(wind.share[0, :, i]),
                "force_n": _by_direction(wind.force[0, :, i]),
                "moment_n_m": _by_direction(wind.moment[0, :, i]),
            }
            for i, name in enumerate(wind.parts)
        ],
        "sway_m": _by_direction(wind.sway[0]),
        "twist_rad": _by_direction(wind.twist[0]),
        "sway_unbraced_m": None if brace is None else _by_direction(wind.unbraced_sway[0]),
        "footing": nominal(wind.footing),
        "brace": None
        if brace is None
        else {
            "kind": brace.kind,
            "sway_left": nominal(wind.sway_ratio),
            "along_n": nominal(brace.push),
            "bears_n": nominal(brace.holds),
            "play_m": nominal(brace.play),
            "room_m": nominal(brace.room),
        },
    }


def _road(found: HeldNumbers) -> Numbers:
    road = found.found.road
    shell = road.shell
    return {
        "wanted_m_s": nominal(road.wanted),
        "enough_up_to_m_s": enough_up_to(found),
        "planned_m_s": nominal(road.fastest),
        "lift_n": nominal(road.lift),
        "drag_n": nominal(road.drag),
        "latches_n": road.latch[0],
        "one_latch_lost_n": nominal(road.latch_lost),
        "gape_m": nominal(road.gape),
        "latch_offset_m": nominal(road.offset.worst),
        "parts": [
            {
                "part": part.name,
                "force_n": nominal(part.force),
                "bears_n": nominal(part.limit),
                "enough_up_to_m_s": _first(part.speed),
            }
            for part in road.parts
        ],
        "side_rise_m": nominal(shell.rise),
        "lip_droop_m": _first(shell.droop),
        "shell_twist_rad": _first(shell.twist),
    }


def _opening(found: HeldNumbers) -> Numbers:
    opening = found.found.opening
    cut, ring = opening.cut, opening.ring
    return {
        "length_m": cut.plan.length,
        "width_m": cut.plan.width,
        "corner_radius_m": cut.plan.radius,
        "diagonal_m": cut.plan.diagonal,
        "sawn_out_kg": nominal(opening.cut_mass),
        "ring_kg": nominal(opening.ring_mass),
        "racking": [
            {"edge": one.edge.value, "kept_cut": nominal(one.kept_cut), "kept_ring": nominal(one.kept_ring)}
            for one in cut.racking
        ],
        "twist": {
            "kept_cut_low": nominal(cut.torsion.kept_cut_low),
            "kept_cut_high": nominal(cut.torsion.kept_cut_high),
            "kept_ring_low": nominal(cut.torsion.kept_ring_low),
            "kept_ring_high": nominal(cut.torsion.kept_ring_high),
            "tape_cut": _first(cut.tape_cut),
            "tape_ring": _first(cut.tape_ring),
        },
        "ring": {
            "dip_m": nominal(ring.dip),
            "sag_m": nominal(ring.sag),
            "stress_pa": nominal(ring.stress),
            "tilt_rad": nominal(ring.tilt),
            "pieces": [
                {"name": piece.name, "count": piece.count, "length_m": piece.length, "mitre_rad": piece.mitre}
                for piece in ring.pieces
            ],
        },
        "stock": [
            {
                "name": one.row.stock.name,
                "kept": one.row.kept,
                "given_back": one.row.given_back,
                "racking_low": one.racking_low,
                "racking_high": one.racking_high,
                "dip_m": one.row.dip,
                "use": one.row.use,
                "mass_kg": one.row.mass,
                "price_low": one.row.price_low,
                "price_high": one.row.price_high,
            }
            for one in ring.stock
        ],
    }


def _joints(found: HeldNumbers) -> Numbers:
    joints = found.found.joints
    return {
        "joints": [_joint(one) for one in joints.joints],
        "seam": {"shear_n_per_m": nominal(joints.seam_shear), "pull_n_per_m": nominal(joints.seam_pull)},
        "buy": [{"what": what, "count": count} for what, count in joints.bolts.items()],
        "missing": list(joints.missing),
    }


def _joint(one: JointFound) -> Numbers:
    return {
        "name": one.name,
        "groups": one.groups,
        "bolts": one.joint.count,
        "used": nominal(one.use),
        "load_factor": nominal(one.load_factor),
        "gives": one.way,
        "in": one.layer,
        "under": one.load,
        "holes": [
            {
                "fastener": hole.fastener,
                "x_m": hole.x,
                "y_m": hole.y,
                "pilot_m": hole.pilot,
                "hole_m": hole.hole,
                "edge_m": hole.edge,
                "edge_least_m": hole.edge_least,
                "torque_n_m": hole.torque,
            }
            for hole in one.holes
        ],
    }


def _van(found: HeldNumbers) -> Numbers:
    van = found.found.van
    return {
        "added_kg": nominal(van.added),
        "added_height_m": nominal(van.added_height),
        "mass_before_kg": nominal(van.bare),
        "mass_after_kg": nominal(van.whole),
        "centre_before_m": nominal(van.before),
        "centre_after_m": nominal(van.after),
        "footing_before": nominal(van.footing_before),
        "footing_after": nominal(van.footing_after),
        "height_m": nominal(van.height),
        "sign_m": nominal(van.sign),
    }
