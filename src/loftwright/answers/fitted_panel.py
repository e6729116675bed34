"""The panel on the shell: what it yields, its cable, and what the wind pulls at its feet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.fitted_seal import held_at
from loftwright.answers.fitted_sun import HEADINGS, light
from loftwright.answers.fitted_wire import WireFound, the_wire
from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.fitout.panel_frame import (
    DRAG_EDGE,
    LIFT_BONDED,
    LIFT_GAP,
    canopy_suction,
    latch_pull,
    panel_air,
    pull_of_worst_foot,
)
from loftwright.fitout.sun_energy import best_heading, energy, winter
from loftwright.fitout.sun_rules import feet_hold, use_covered
from loftwright.project.assemble_panel import frame_of, middle_disagrees, panel_load
from loftwright.project.assemble_riding import LEAST_USE, PanelGiven, flat_slope, panel_given, slopes
from loftwright.project.assemble_road import latch_line
from loftwright.project.assemble_walls import open_pose
from loftwright.project.plane import LENGTHWISE
from loftwright.strength.road import tossed_up
from loftwright.strength.wind import velocity_pressure

UNEVEN: Final = 2.0
"""Pull of the worst foot over the mean one [1]: judgement."""
ROAD, GUST = "on the road", "raised, in the gust"

CLEAR_SKY: Final = (
    "Light is that of clear days, less what clouds take: [panel] cloud is your range, wide on purpose; no tree, house "
    "or snow shades the panel, and one shaded corner can halve it."
)
FLAT_JUDGED: Final = (
    "The use is judged on the flat panel, at its worst heading: nobody turns the van to the sun every day."
)
LEVEL: Final = "The van is taken to stand level for the sun."
AIR: Final = (
    "Air under a panel on a vehicle is nowhere published: for its feet the upper end of a wide range by judgement is "
    "taken, and one foot to pull twice the mean; for the latches the range goes with [road] suction."
)
NO_WEIGHT: Final = "No [[item]] of kind panel says what the panel weighs: its weight is then in no balance either."


@dataclass(frozen=True, slots=True)
class PanelFound:
    """The panel, arrays [rows] unless said otherwise.

    `flat` and `raised`: energy a day of each month [W h], [rows, 12, headings], with the slopes `flat_tilt` and
    `raised_tilt` [rad]; `use` a day [W h]; `months` that count and the dark ones, `winter`, from nought. `best`: index
    of the best heading in winter, raised, planned, and `gains` over the worst one [1]. `pull` of the worst foot on the
    road and raised [N], `lift` that the panel adds to the shell's own on the road, and `latches`, the part of it that
    all latches carry [N], as the closed roof on the road is reckoned with.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    given: PanelGiven
    flat: Array
    raised: Array
    flat_tilt: Array
    raised_tilt: Array
    use: Array
    months: tuple[int, ...]
    winter: tuple[int, ...]
    best: int
    gains: float
    wire: WireFound
    pull_road: Array
    pull_gust: Array
    lift: Array
    latches: Array


def months_of(first: int, last: int) -> tuple[int, ...]:
    """Return the months from `first` to `last`, 1 to 12, over the turn of the year if need be, counted from nought.

    >>> months_of(4, 9), months_of(11, 2)
    ((3, 4, 5, 6, 7, 8), (10, 11, 0, 1))
    """
    return tuple((first - 1 + k) % 12 for k in range((last - first) % 12 + 1))


def the_panel(base: Basis) -> PanelFound | None:
    """Return the panel with its judgements; None without [panel]."""
    project, at = base.project, base.at
    if project.panel is None:
        return None
    given = panel_given(project, at)
    latitude = base.full(at("panel.latitude"))
    closed = base.full(flat_slope(project, at))
    raised = closed + open_pose(base.roof)[2]
    share, left = 1.0 - base.full(at("panel.cloud")), 1.0 - base.full(at("panel.losses"))
    power = base.full(given.power)
    flat_light, raised_light = (light(latitude, *slopes(project, turned)) for turned in (closed, raised))
    low, high = (energy(one.under(share), power, left) for one in (flat_light, raised_light))
    use = np.maximum(base.full(at("panel.use")), LEAST_USE)
    months = months_of(project.panel.first_month, project.panel.last_month)
    dark = winter(float(latitude[0]))
    best, gains = best_heading(high[:1], dark)
    wire = the_wire(base)
    road, gust, lift, pull = _wind(base, given, np.abs(raised))
    limit = base.full(at("panel.fixing_limit"))
    return PanelFound(
        judged=(
            use_covered(low, use, months),
            *(_named(feet_hold(one, limit), which) for one, which in ((road, ROAD), (gust, GUST))),
            *wire.judged,
        ),
        said=(
            CLEAR_SKY,
            FLAT_JUDGED,
            LEVEL,
            AIR,
            *(() if given.weighed else (NO_WEIGHT,)),
            *middle_disagrees(project, at, base.outline),
            *wire.said,
        ),
        given=given,
        flat=low,
        raised=high,
        flat_tilt=np.abs(closed),
        raised_tilt=np.abs(raised),
        use=use,
        months=months,
        winter=dark,
        best=int(best[0]) % HEADINGS,
        gains=float(gains[0]),
        wire=wire,
        pull_road=road,
        pull_gust=gust,
        lift=lift,
        latches=pull,
    )


def _named(one: Judged, which: str) -> Judged:
    return Judged(one.rule, one.value, one.limit, which, one.unknown, one.missing)


def _wind(base: Basis, given: PanelGiven, tilt: Array) -> tuple[Array, Array, Array, Array]:
    """Return the worst foot's pull on the road and raised [N], the lift on the road [N] and the latches' part of it."""
    project, at = base.project, base.at
    count = 4 if project.panel is None else project.panel.fixings
    edge = frame_of(given.gap)
    bonded = edge <= 0.0
    road = velocity_pressure(at("road.speed") + at("road.head_wind"))
    gust = velocity_pressure(at("wind.gust")) * at("wind.coefficient")
    upward = np.where(bonded, LIFT_BONDED[1], LIFT_GAP[1])
    across = given.width if base.plane is LENGTHWISE else given.length
    moving = panel_air(road, given.area, upward, edge * given.width, DRAG_EDGE[1])
    standing = panel_air(gust, given.area, canopy_suction(tilt, 1.0), edge * across, DRAG_EDGE[1])
    height, long, tossed = given.gap + edge / 2, np.maximum(given.length, 0.1), tossed_up(at("road.bump"))
    pulls = [
        base.full(pull_of_worst_foot(air, count, given.mass, uneven=UNEVEN, height=height, length=long, tossed=bump))
        for air, bump in ((moving, tossed), (standing, 0.0 * tossed))
    ]
    added = panel_load(project, at, base.outline)
    lift = base.full(0.0 * road if added is None else added.up * road)
    latch = latch_pull(lift, given.x, held_at(base), latch_line(project, at, base.roof)[0])
    return pulls[0], pulls[1], lift, base.full(latch)
