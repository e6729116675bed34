"""Wind while the roof is moved: how hard each direction lifts or slams the shell, and what holds against it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.mechanics.feel import state
from loftwright.project.assemble_wind import raised, sound
from loftwright.strength.cloth_rules import judge_lift, judge_slam
from loftwright.strength.raised_shape import Direction
from loftwright.strength.supports import about_origin
from loftwright.strength.wind import speed_for, velocity_pressure
from loftwright.strength.wind_loads import WindCase, wrenches

STATIONS: Final = (6, 12, 18, 24)
"""Stations of the travel that are looked at: the first quarter, half way, three quarters, open."""
HALF, OPEN = 1, 3
HALF_WAY: Final = "half way, held by hand"
STANDING: Final = "open, held by its springs"


@dataclass(frozen=True, slots=True)
class TravelFound:
    """Wind over the travel, positive where it opens the roof further, directions the van's.

    `opening` [1] of the stations; `lifts` [N m], [rows, stations, directions], what the gust in which the
    roof is still moved does about the hinge line (of arms: about the first arm's pivot); `spare_cold`
    [N m], [rows, stations], what springs have over weight, cold and aged; `hand_path` [m],
    [rows, stations], the handle's leverage. `slams` [N m], [rows, directions], on the open roof in the wanted gust.
    """

    judged: tuple[Judged, ...]
    opening: Array
    lifts: Array
    spare_cold: Array
    hand_path: Array
    slams: Array


def over_travel(
    base: Basis, order: tuple[Direction, ...], factor: Array, cases: tuple[WindCase, WindCase]
) -> TravelFound | None:
    """Return the wind over the travel; None for straight guides, where a push is no moment.

    `order` are the directions in the plane of motion; `factor` [1], [rows], on the wind's force; shares in `cases` are
    [rows, 1]. Half way the roof is held by springs and a hand that pulls or pushes as hard as it may, in the gust in
    which it is still moved (`forces.gust`). Open it stands on its springs alone in the wanted gust, unless a prop or a
    link holds it. Without factor: what tips over here is looked at once more, with it, among what holds the roof.
    """
    roof, felt, at = base.roof, base.felt, base.at
    if roof.travel.slides:
        return None
    picked = np.asarray(STATIONS)
    shape = raised(base.project, at, roof, STATIONS)
    shell = roof.travel.shell
    full = (base.rows, roof.travel.fraction.size)

    def here(value: Array) -> Array:
        return sound(np.broadcast_to(value, full), roof)[:, picked]

    x, z, dx, dz, dphi = (here(v) for v in (shell.x, shell.z, shell.dx, shell.dz, shell.dphi))
    # The shell's point at the origin moves so; a moment my turns z towards x.
    vx, vz = (dx + dphi * z)[..., None], (dz - dphi * x)[..., None]

    def drive(case: WindCase) -> Array:
        one = wrenches(shape, speed_for(1.0), order, factor[:, None], case=case)
        about = about_origin(one, shape.hinge)
        return np.asarray(about[..., 0] * vx + about[..., 2] * vz - about[..., 4] * dphi[..., None])

    up, down = drive(cases[0]), drive(cases[1])
    moved, wanted = (velocity_pressure(base.full(at(p))) for p in ("forces.gust", "wind.gust"))
    lifts, presses = up * moved[:, None, None], down * moved[:, None, None]
    mild = here(felt.drive.at(state("mild", "new")).at_rest)
    cold = here(felt.drive.at(state("cold", "aged")).at_rest)
    path = here(felt.drive.hand_path)
    held = base.full(roof.limits.pull_after_hot) * path[:, HALF] - mild[:, HALF]
    pushed = base.full(roof.limits.push_on_the_way) * path[:, HALF] + cold[:, HALF]
    slams = down[:, OPEN] * wanted[:, None]
    judged = [
        judge_lift(lifts[:, HALF].max(axis=-1), held, HALF_WAY),
        judge_slam(presses[:, HALF].min(axis=-1), pushed, HALF_WAY),
    ]
    if not (roof.limits.prop_fitted or base.project.stop.kind == "link"):
        judged.append(judge_slam(slams.min(axis=-1), cold[:, OPEN], STANDING))
    return TravelFound(tuple(judged), roof.travel.fraction[picked], lifts, cold, path, slams)
