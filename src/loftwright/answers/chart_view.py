"""The hand force over the travel, ready to draw."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Final

import numpy as np

from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.key_figures import along_unit, curve_band, how_far_open
from loftwright.answers.shown_roof import ShownRoof
from loftwright.core.choices import Age, Temperature
from loftwright.core.motion import Array
from loftwright.core.views import Curve, ForceChart, LimitZone, Way
from loftwright.core.wording import Wording
from loftwright.mechanics.feel import NEAR_CLOSED, NEAR_OPEN, Feel, push_limit, state

SHOWN = 61
"""Stations on a page or in a table."""
STEPS = 8
"""Steps in which a limit that changes over the travel is drawn."""


def shown(values: Array) -> Array:
    """Return `SHOWN` stations of an array whose last axis is the travel."""
    picked = np.linspace(0, values.shape[-1] - 1, SHOWN).round().astype(int)
    return np.asarray(np.take(values, picked, axis=-1), dtype=np.float64)


_LABELS = {
    ("cold", "aged"): "cold, aged springs",
    ("cold", "new"): "cold, new springs",
    ("mild", "new"): "mild, new springs",
    ("mild", "aged"): "mild, aged springs",
    ("hot", "new"): "hot, new springs",
    ("hot", "aged"): "hot, aged springs",
    ("sun", "new"): "springs hot from the sun",
}
_ON_PAGE: tuple[tuple[Temperature, Age], ...] = (("cold", "aged"), ("mild", "new"), ("hot", "new"))

CurveOf = tuple[Way, Temperature, Age]
"""Which curve of the chart."""
BANDED: Final[tuple[CurveOf, ...]] = (("push", "cold", "aged"), ("pull", "hot", "new"))
"""The curves that show how far roofs alike differ: the hardest to raise and to lower."""
Bands = Mapping[CurveOf, tuple[Array, Array]]
"""Between what eight of ten roofs lie [N], low and high, each at the stations shown, [shown]."""


def curve_of(felt: Feel, which: CurveOf) -> Array:
    """Return the hand force of one curve for every row [N], [rows, travel]."""
    way, heat, age = which
    return np.asarray((felt.push_up if way == "push" else felt.pull_down)[state(heat, age)])


def force_chart(found: RoofNumbers, say: Wording) -> ForceChart:
    """Return the curves of push and pull with their limits, in the unit that scales show."""
    bands = {which: curve_band(curve_of(found.felt, which), found) for which in BANDED}
    return chart_with(found, say, {which: (shown(low), shown(high)) for which, (low, high) in bands.items()})


def chart_with(found: ShownRoof, say: Wording, bands: Bands) -> ForceChart:
    """Return the chart of the nominal roof with the `bands` of some of its curves [N], in the unit of scales."""
    unit, factor = say.hand_force_unit()
    felt, limits = found.felt, found.roof.limits

    def numbers(values: Array) -> tuple[float, ...]:
        return tuple(round(float(v), 3) for v in values * factor)

    ways: tuple[Way, ...] = ("push", "pull")
    curves = []
    for kind in ways:
        for heat, age in _ON_PAGE:
            which: CurveOf = (kind, heat, age)
            low, high = bands.get(which, (None, None))
            curves.append(
                Curve(
                    label=_LABELS[heat, age],
                    kind=kind,
                    state=heat,
                    age=age,
                    y=numbers(shown(curve_of(felt, which)[0])),
                    low=None if low is None else numbers(low),
                    high=None if high is None else numbers(high),
                )
            )
    allowed = push_limit(found.roof, felt)[0]
    fraction = found.roof.travel.fraction
    start, on = 100 * NEAR_CLOSED, 100 * NEAR_OPEN
    ends = np.linspace(start, on, STEPS + 1)
    least = [allowed[(100 * fraction >= a - 1e-9) & (100 * fraction <= b + 1e-9)].min() for a, b in pairwise(ends)]
    way = [
        LimitZone("too hard on the way" if i == STEPS // 2 else "", "push", float(a), float(b), y * factor, "at most")
        for i, ((a, b), y) in enumerate(zip(pairwise(ends), map(float, least), strict=True))
    ]
    zones = (
        LimitZone("too hard to start", "push", 0.0, start, float(limits.push_to_start[0]) * factor, "at most"),
        *way,
        LimitZone("too hard to pull down", "pull", on, 100.0, float(limits.pull_to_start_down[0]) * factor, "at most"),
    )
    size, beside = along_unit(found)
    return ForceChart(
        x=tuple(float(v) for v in shown(100 * fraction)),
        degrees=tuple(float(v) for v in shown(how_far_open(found)) * size),
        x_label="how far open",
        y_label="force at the handle",
        unit=unit,
        decimals=1,
        curves=tuple(curves),
        limits=zones,
        band_note="shaded: 8 of 10 roofs like yours",
        beside=beside,
    )
