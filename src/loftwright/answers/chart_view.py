"""The hand force over the travel, ready to draw."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.key_figures import along_unit, curve_band, how_far_open
from loftwright.core.choices import Age, Temperature
from loftwright.core.motion import Array
from loftwright.core.views import Curve, ForceChart, LimitZone
from loftwright.core.wording import Wording
from loftwright.mechanics.feel import NEAR_CLOSED, NEAR_OPEN, STATES, push_limit

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


def force_chart(found: RoofNumbers, say: Wording) -> ForceChart:
    """Return the curves of push and pull with their limits, in the unit that scales show."""
    unit, factor = say.hand_force_unit()
    felt, limits = found.felt, found.roof.limits

    def numbers(values: Array) -> tuple[float, ...]:
        return tuple(round(float(v), 3) for v in shown(values) * factor)

    curves = []
    for kind, forces in (("push", felt.push_up), ("pull", felt.pull_down)):
        for heat, age in _ON_PAGE:
            rows = forces[STATES.index((heat, age))]
            banded = (kind, heat) in (("push", "cold"), ("pull", "hot"))
            low, high = curve_band(rows, found)
            curves.append(
                Curve(
                    label=_LABELS[heat, age],
                    kind="push" if kind == "push" else "pull",
                    state=heat,
                    age=age,
                    y=numbers(rows[0]),
                    low=numbers(low) if banded else None,
                    high=numbers(high) if banded else None,
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
