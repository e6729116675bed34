"""Key figures of the nominal roof, and what eight or nine of ten roofs like it lie between: worked out once for all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.shown_roof import ShownRoof
from loftwright.core.motion import Array, opening_of
from loftwright.core.wording import Wording
from loftwright.mechanics import figures
from loftwright.mechanics.feel import cloth_pull, state, takes_over
from loftwright.project.plane import plane_of, size

LOWEST, HIGHEST = 0.05, 0.95
"""Between these shares of the drawn roofs lies the band of a figure: nine of ten."""
CURVE_LOWEST, CURVE_HIGHEST = 0.1, 0.9
"""The same for a curve over the travel: eight of ten."""
OPEN: Final = -1
ABOVE_MIDDLE: Final = 0.03
"""How far the top of a thing that rides on the shell stands above its middle [m]: judgement."""


@dataclass(frozen=True, slots=True)
class Band:
    """A number of the nominal roof, and between what nine of ten like it lie; the nominal one is always within."""

    nominal: float
    low: float
    high: float


def band(values: object, found: RoofNumbers) -> Band:
    """Return the band of a number [rows]; one that is the same for every row may come alone."""
    rows: Array = np.broadcast_to(np.asarray(values, dtype=np.float64), found.rows.count)
    nominal = float(rows[0])
    low, high = (float(v) for v in np.quantile(rows[found.likely], (LOWEST, HIGHEST)))
    return Band(nominal, min(low, nominal), max(high, nominal))


def curve_band(values: Array, found: RoofNumbers) -> tuple[Array, Array]:
    """Return between what eight of ten roofs lie at each station, [travel] each, for `values` [rows, travel]."""
    low, high = np.quantile(values[found.likely], (CURVE_LOWEST, CURVE_HIGHEST), axis=0)
    return low, high


def how_far_open(found: ShownRoof) -> Array:
    """Return how far the nominal roof is open [rad], [travel]: the shell's turn for a hinge, arm a's swing for arms.

    Where it slides in guides, how far it has slid [m].
    """
    return np.asarray(opening_of(found.roof.travel)[0] if found.roof.travel.hinged else found.roof.travel.q[0])


def along_unit(found: ShownRoof) -> tuple[float, str]:
    """Return how many of the unit written beside percentages go into one radian, or metre where it slides; the unit."""
    if not found.roof.travel.slides:
        return float(np.degrees(1.0)), "°"
    return (1000.0, " mm") if found.project.settings.units == "metric" else (1 / 0.0254, " in")


def far_open(found: ShownRoof, say: Wording, far: float) -> str:
    """Return in words how far it is open, an angle [rad] or where it slides a length [m]."""
    return say.length(far) if found.roof.travel.slides else say.angle(far)


@dataclass(frozen=True, slots=True)
class KeyFigures:
    """What a builder asks first, of the nominal roof; lengths [m], forces [N], `mass` [kg].

    `closed_top`: highest point of the closed shell with all that rides on it, above the old roof; `opens` [rad];
    `standing_area` [m2]; `handle_height` above the feet, `strap_needed` to reach it (0: none);
    `rises_from`: share of the travel from which it rises by itself, mild and new, above 1 where it never does;
    `latch_hold`: what latches hold down at the handle's place, in the sun; `cloth_pull` [N/m of rim], least and most
    over the states; `rests_at`: how far the lip stands up on the seal when unlatched (0: on its stops);
    `prop_required`: without one the open roof comes down when a spring fails, or has no springs; `prop_load`: what a
    prop at the handle carries (None without springs); `true_to`: how far left and right may differ;
    `unequal`: what unequal springs add to each hinge (None: not reckoned); `most_on_pin`: greatest on one hinge or pin.
    """

    standing_height: float
    closed_top: float
    standing_height_won: float
    standing_area: float
    lip_rise: float
    opens: float
    handle_height: float
    strap_needed: float
    mass: Band
    rises_from: float
    latch_hold: float
    cloth_pull: tuple[float, float]
    rests_at: float
    prop_required: bool
    prop_load: float | None
    true_to: float
    unequal: float | None
    most_on_pin: float


def closed_top(found: RoofNumbers) -> float:
    """Return the height of the closed shell's highest point above the roof at the opening [m]."""
    project = found.project
    heights = [size(project, path) for path in plane_of(project).heights]
    riding = [item.z.nominal + ABOVE_MIDDLE for item in project.item if item.state != "remove"]
    return max([project.shell.rim_height.nominal + max(heights), *riding])


def key_figures(found: RoofNumbers) -> KeyFigures:
    """Return the key figures of the nominal roof."""
    roof, felt, stand = found.roof, found.felt, found.stand
    pull = cloth_pull(roof, felt)[:, 0]
    holds = [float(failure.holds_with[0]) for failure in found.failures]
    return KeyFigures(
        standing_height=float(stand.best[0]),
        closed_top=closed_top(found),
        standing_height_won=float(stand.won[0]),
        standing_area=float(stand.floor_area[0]),
        lip_rise=float(figures.lip_rise(felt)[0]),
        opens=float(how_far_open(found)[OPEN]),
        handle_height=float(figures.handle_height(roof, felt)[0]),
        strap_needed=float(figures.strap_needed(roof, felt, found.around.reach)[0]),
        mass=band(roof.body.mass, found),
        rises_from=float(takes_over(felt.push_up[state("mild", "new"), 0], roof.travel.fraction)),
        latch_hold=float(figures.latch_hold(felt)[0]),
        cloth_pull=(float(pull.min()), float(pull.max())),
        rests_at=float(figures.resting_height(roof, felt)[0]),
        prop_required=min(holds) < 0 if holds else True,
        prop_load=float(found.failures[0].prop_load[0]) if found.failures else None,
        true_to=float(found.space.reading[0]),
        unequal=found.unequal,
        most_on_pin=found.most_on_pin,
    )
