"""The air under the shell as it comes down: how hard it blows, what the cords bear, what to open and how slow to go."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.fold_places import Standing, moves_in
from loftwright.answers.held_basis import Basis
from loftwright.answers.walled_lines import LinesFound
from loftwright.cloth.fold_stations import DRIVE_POINTS, pace, swept
from loftwright.cloth.trapped_air import (
    SHUT_LEAK,
    Opened,
    Opening,
    least_seconds,
    lift_of,
    needed_area,
    needed_fan,
    pressure_of,
    resisted_pressure,
    which_door,
)
from loftwright.core.motion import Array
from loftwright.project.assemble_stow import LEAK, Lowering

LEAST_PRESSURE: Final = 0.1
"""Pressure that no cloth minds [Pa]: a thirtieth of what thin canvas weighs; judgement."""
OPENINGS: Final = (
    ("a roof vent or one window a hand wide", 0.06),
    ("one window half open", 0.15),
    ("both front windows, all down", 0.40),
    ("one front door", 0.80),
    ("the sliding door or the rear doors", 1.40),
)
"""What can be opened, with its free area [m2]: sizes of common vans, judgement."""


@dataclass(frozen=True, slots=True)
class Air:
    """The air that the shell drives out, each [rows] but where it is said otherwise.

    `volume` [m3]; `flow`, greatest [m3/s]; `pressure` on the cloth, outward positive, and what is `allowed` [Pa];
    `lift` of that pressure on the shell [N] with what is opened, `shut` with all doors shut and no fan, least and
    greatest by what shut doors leak; `area` wanted in all [m2], `seconds` wanted with what is open [s], `fan` wanted
    [m3/s]. `doors`: what each opening by itself would do, planned. `blowing` [k]: pressure at the points of a drive
    [Pa], planned.
    """

    volume: Array
    flow: Array
    pressure: Array
    allowed: Array
    lift: Array
    shut: tuple[Array, Array]
    area: Array
    seconds: Array
    fan: Array
    doors: tuple[Opened, ...]
    blowing: Array

    @property
    def door(self) -> Opened | None:
        """The least that is enough by itself, None where nothing is."""
        return next((one for one in self.doors if bool(np.ravel(one.is_enough)[0])), None)


def the_air(base: Basis, lines: LinesFound, places: tuple[Standing, ...], drawn: Array, lower: Lowering) -> Air:
    """Return what the trapped air does; `drawn` [rows, pulls, 2]: what draws the walls inward, share and [N/m].

    The tallest wall minds pressure most. The greatest flow of the lowering counts, at an even rate of the opening.
    """
    plane, half = moves_in(base)
    rim = lines.closed.row().points
    shell, share = base.roof.travel.shell, base.roof.travel.fraction
    volume = np.abs(np.atleast_2d(swept(rim, shell, plane=plane, half_width=half)))
    whole = base.full(volume[:, -1])
    rate = np.max(np.diff(volume, axis=-1) / np.diff(share), axis=-1)
    flow = np.asarray(np.maximum(base.full(rate), 1e-6) / lower.seconds)
    tall = np.max([one.cloth for one in places], axis=0) if places else base.full(1.0)
    allowed = np.maximum(resisted_pressure(drawn, tall), LEAST_PRESSURE)
    pressure = pressure_of(flow, lower.area, lower.fan)
    rate_now, _ = pace(share, volume, max(float(lower.seconds[0]), 0.1), DRIVE_POINTS)
    area = area_of_loop(lines)
    peak = np.maximum(flow * lower.seconds / np.maximum(whole, 1e-9), 1.0)
    now = tuple(float(np.ravel(v)[0]) for v in (flow, allowed, lower.fan))
    doors = which_door(tuple(Opening(name, np.array([size])) for name, size in OPENINGS), LEAK, now[0], now[1], now[2])
    shut = [lift_of(pressure_of(flow, leak), area) for leak in reversed(SHUT_LEAK)]
    return Air(
        volume=whole,
        flow=flow,
        pressure=pressure,
        allowed=np.asarray(allowed),
        lift=lift_of(pressure, area),
        shut=(shut[0], shut[1]),
        area=needed_area(flow, allowed, lower.fan),
        seconds=least_seconds(whole, lower.area, allowed, lower.fan, peak=peak),
        fan=needed_fan(flow, lower.area, allowed),
        doors=doors,
        blowing=pressure_of(rate_now, float(np.ravel(lower.area)[0]), now[2]),
    )


def area_of_loop(lines: LinesFound) -> Array:
    """Return the area within the closed upper line seen from above [m2], [rows]."""
    points = lines.closed.points
    following = np.roll(points, -1, axis=-2)
    cross = points[..., 0] * following[..., 1] - following[..., 0] * points[..., 1]
    return np.asarray(np.abs(np.sum(cross, axis=-1)) / 2.0)
