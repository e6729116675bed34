"""How long each gas spring is over the travel, against what it can be."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.chart_view import shown
from loftwright.answers.shown_roof import ShownRoof
from loftwright.core.board_views import LengthStrip
from loftwright.core.choices import Units
from loftwright.core.motion import Array, first_row
from loftwright.core.units import size_of

UNIT: Final[dict[Units, tuple[str, int]]] = {"metric": ("mm", 0), "imperial": ("in", 2)}
"""Unit of a spring's length and the decimals worth reading."""


def spring_lengths(found: ShownRoof) -> tuple[tuple[str, Array], ...]:
    """Return name and length of each gas spring of the nominal roof over the whole travel [m], [travel]."""
    return tuple(
        (fitted.name, first_row(push.line.length))
        for fitted, push in zip(found.roof.fitted, found.felt.springs, strict=True)
    )


def spring_ends(found: ShownRoof) -> tuple[tuple[float, float], ...]:
    """Return the shortest and the longest that each gas spring of the nominal roof can be [m]."""
    ends = []
    for fitted in found.roof.fitted:
        gas = fitted.mount.spring
        high, stroke = (float(np.ravel(v)[0]) for v in (gas.extended, gas.stroke))
        ends.append((high - stroke, high))
    return tuple(ends)


def strips(found: ShownRoof) -> tuple[LengthStrip, ...]:
    """Return one strip for each gas spring of the nominal roof, at the stations that are shown.

    The stroke wanted in reserve is asked for as the judgements ask for it: none at the long end where the spring
    itself is the stop.
    """
    unit, decimals = UNIT[found.project.settings.units]
    factor = 1 / size_of(unit)
    x = tuple(float(v) for v in shown(100 * found.roof.travel.fraction))
    strips = []
    ends = spring_ends(found)
    for fitted, (name, length), (low, high) in zip(found.roof.fitted, spring_lengths(found), ends, strict=True):
        margin = float(np.ravel(fitted.end_margin)[0])
        kept = 0.0 if found.roof.limits.spring_is_stop else margin
        strips.append(
            LengthStrip(
                name=name,
                unit=unit,
                decimals=decimals,
                x=x,
                y=tuple(round(float(v), 3) for v in shown(length) * factor),
                low=round(low * factor, 3),
                high=round(high * factor, 3),
                margin_low=round((low + margin) * factor, 3),
                margin_high=round((high - kept) * factor, 3),
            )
        )
    return tuple(strips)
