"""Where the cloth goes as plain numbers ready for JSON: the quick estimate, the slow answer, corners, air.

The keys are explained in docs/reference/json-walls.md.
"""

from __future__ import annotations

import numpy as np

from loftwright.answers import numbers
from loftwright.answers.fold_air import Air
from loftwright.answers.fold_found import PlaceFound
from loftwright.answers.fold_quick import CornerFound, Estimate
from loftwright.answers.hold_said import nominal
from loftwright.answers.kept_walls import KeptPlace
from loftwright.answers.wall_fold_grids import BAR_MOVED, STOP
from loftwright.answers.walled_roof import WallNumbers
from loftwright.cloth.fold_corners import excess_cloth, remedies, seam_default, seams_compared
from loftwright.cloth.fold_ways import could_still

Numbers = numbers.Numbers


def fold_numbers(walls: WallNumbers) -> Numbers:
    """Return where the cloth goes: places that fold, with the slow answer where it is kept, corners, air, windows."""
    fold = walls.found.fold
    kept = {one.name: one for one in walls.kept.fold}
    return {
        "kept": walls.kept.fold_is,
        "layers": [] if fold.layers is None else fold.layers.names,
        "wall": None
        if fold.made is None
        else {
            "mass_kg_per_m2": nominal(fold.made.mass),
            "thickness_m": nominal(fold.made.thickness),
            "stiffness_n_m": nominal(fold.made.stiffness),
            "loop_m": nominal(fold.made.loop),
        },
        "places": [
            _place(one, length, kept.get(one.at.name)) for one, length in zip(fold.places, fold.lengths, strict=True)
        ],
        "too_low_to_fold": [one.name for one in fold.flat],
        "push_limit_n_per_m": nominal(fold.lower.push_limit),
        "corner": None if fold.corner is None else _corner(fold.corner),
        "air": _air(fold.air) if fold.places else None,
        "windows": [
            {"name": one.pane.name, "wall": one.pane.wall, "must": one.must, "why": one.why} for one in fold.first
        ],
    }


def _place(one: PlaceFound, length: float, kept: KeptPlace | None) -> Numbers:
    at = one.at
    return {
        "place": at.name,
        "wall": at.wall,
        "arc_m": at.arc,
        "stands_for_m": length,
        "height_m": nominal(at.height),
        "cloth_m": nominal(at.cloth),
        "gap_m": nominal(at.gap),
        "overhang_m": nominal(at.over),
        "tip_m": nominal(one.tip),
        "tip_low_m": nominal(one.reach.depth[0]),
        "tip_high_m": nominal(one.reach.depth[1]),
        "hang_low_m": nominal(one.reach.hang[0]),
        "hang_high_m": nominal(one.reach.hang[1]),
        "runs_along_m": at.drift,
        "can_be_reckoned": not at.sheared,
        "expected_outside": one.falls_out,
        "bundle_m": None if one.thick is None else nominal(one.thick),
        "room_m": None if one.room is None else nominal(one.room),
        "push_n_per_m": None if one.push is None else nominal(one.push),
        "surely_in": one.sure,
        "quick": None if one.quick is None else _quick(one.quick),
        "slow": None if kept is None else _slow(one, kept),
    }


def _quick(quick: Estimate) -> Numbers:
    found: Numbers = {}
    for name, (low, high) in (
        ("tip_{}_m", quick.depth),
        ("hang_{}_m", quick.hang),
        ("bundle_{}_m", quick.bundle),
        ("push_{}_n_per_m", quick.push),
    ):
        found |= {name.format("low"): nominal(low), name.format("high"): nominal(high)}
    return found


def _slow(one: PlaceFound, kept: KeptPlace) -> Numbers:
    total = len(kept.ways)
    return {
        "counts": one.kept is not None,
        "starts": total,
        "in": kept.ways.count("in"),
        "out": kept.ways.count("out"),
        "both": kept.ways.count("both"),
        "rested": kept.rested,
        "other_ways_left": could_still(total),
        "ways": kept.ways,
        "tip_m": kept.tip,
        "inward_m": kept.inward,
        "outward_m": kept.outward,
        "bundle_m": kept.bundle,
        "push_n_per_m": kept.push,
        "open": kept.open_at,
        "lifts_n_per_m": kept.lifts,
        "poses": [{"open": pose.open, "cloth_m": pose.cloth} for pose in kept.poses],
        "ends_m": kept.ends,
    }


def _corner(corner: CornerFound) -> Numbers:
    planned = corner.planned
    depth, radius = nominal(corner.depth), nominal(corner.radius)
    every = seams_compared(depth, radius, nominal(planned.thickness), nominal(planned.outer))
    return {
        "wall": corner.wall,
        "tip_m": depth,
        "radius_m": radius,
        "excess_m": nominal(excess_cloth(depth, radius)),
        "low_m": nominal(corner.low),
        "high_m": nominal(corner.high),
        "room_m": nominal(corner.room),
        "remedies": [
            {
                "name": one.name,
                "low_m": nominal(one.low),
                "high_m": nominal(one.high),
                "tip_m": nominal(one.depth),
                "room_m": nominal(one.room),
                "gain_m": nominal(one.gain),
                "tip_gain_m": nominal(one.depth_gain),
            }
            for one in remedies(planned, corner.cavity, stop=STOP, bar_moved=BAR_MOVED)
        ],
        "seams": [
            {
                "past_m": one.past,
                "crowded": bool(np.ravel(one.crowded)[0]),
                "low_m": nominal(one.low),
                "high_m": nominal(one.high),
            }
            for one in every
        ],
        "seam_best_past_m": seam_default(depth, radius),
    }


def _air(air: Air) -> Numbers:
    return {
        "volume_m3": nominal(air.volume),
        "flow_m3_s": nominal(air.flow),
        "pressure_pa": nominal(air.pressure),
        "allowed_pa": nominal(air.allowed),
        "lift_n": nominal(air.lift),
        "shut_low_n": nominal(air.shut[0]),
        "shut_high_n": nominal(air.shut[1]),
        "open_wanted_m2": nominal(air.area),
        "seconds_wanted_s": nominal(air.seconds),
        "fan_wanted_m3_s": nominal(air.fan),
        "doors": [
            {
                "opened": one.name,
                "area_m2": nominal(one.area),
                "pressure_pa": nominal(one.pressure),
                "enough": bool(np.ravel(one.is_enough)[0]),
            }
            for one in air.doors
        ],
    }
