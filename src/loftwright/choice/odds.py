"""The odds that a spring in its holes meets everything, and what fails in the other roofs.

In each draw a spring works where low <= g <= high (its `Window`), its lengths fit and everything else holds. With the
drawn delivered factor g this is yes or no. The odds need less: g does not depend on the other chances, so that its
part is averaged in closed form,

    odds = mean over draws of [G((high - 1)/tolerance) - G((low - 1)/tolerance)]+ where lengths fit,      (1)

with G the cumulative probability of the delivered chance. This has the same mean as counting yes and no and never a
larger scatter (Rao and Blackwell). Source: Blackwell, Annals of Mathematical Statistics 18 (1947) 105.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.choice.window import CEILINGS, Window
from loftwright.core.lifting import Entries, Lift, Spread
from loftwright.core.motion import Array, Flags

CLOSED_LENGTH = "closed length"
OPEN_LENGTH = "open length"
OTHER = "other"
"""Causes beside the demands' rules and `window.CEILINGS`; "other" is what no spring can change."""

SPARE_SCALE, MISSING_SCALE = 0.1, 0.02
"""Spare and missing stroke [m] that count as much as a spring e times stronger than needed, or e times too weak.

10 mm to spare are worth 10 % of force, 2 mm missing are as bad as 10 % too weak: moving a bracket mends it. Judgement.
"""
MOST_MARGIN, LEAST_MARGIN = 0.3, -6.0
"""Log margins of single draws are held between these [1], so that no draw rules the mean."""
_LEAST_FACTOR = 1e-6


def _column(values: Array) -> Array:
    return values[:, None]


def probability(spread: Spread, tolerance: Array, low: Array, high: Array) -> Array:
    """Return the probability [1] of a delivered factor between `low` and `high` [1], any shape.

    `tolerance` [1] broadcasts against them; where it is nought the factor is 1 for certain.
    """
    scale = np.maximum(tolerance, 1e-12)
    found = np.maximum(spread.below((high - 1.0) / scale) - spread.below((low - 1.0) / scale), 0.0)
    return np.asarray(np.where(tolerance > 0, found, (low <= 1.0) & (high >= 1.0)))


def odds_of(lift: Lift, entries: Entries, window: Window) -> Array:
    """Return the odds [1] of eq. (1), [mounts]; `entries` one for each mount, or one for all."""
    return np.asarray(chance_of(lift, entries, window).mean(axis=-1))


def chance_of(lift: Lift, entries: Entries, window: Window) -> Array:
    """Return the chance [1] that all holds in each draw, its own delivered force averaged, [mounts, draws].

    These are the terms of eq. (1).
    """
    inside = probability(lift.chances.spread, _column(entries.tolerance), window.low, window.high)
    return np.asarray(inside * (window.fits & lift.holding))


def holds(lift: Lift, entries: Entries, window: Window) -> Flags:
    """Return whether each mount works in each draw with the drawn delivered factor, [mounts, draws]."""
    factor = 1.0 + _column(entries.tolerance) * lift.chances.delivered
    return np.asarray((window.low <= factor) & (factor <= window.high) & window.fits & lift.holding)


def log_margin(log_low: Array, log_high: Array, spare: Array) -> Array:
    """Return the margin [1] of each draw, any shape: the least of log high, -log low and the worth of spare stroke.

    `log_low`, `log_high` are logarithms of the window [1]; `spare` [m] is negative where stroke is missing.
    """
    worth = np.minimum(spare / SPARE_SCALE, spare / MISSING_SCALE)
    return np.asarray(np.clip(np.minimum(np.minimum(log_high, -log_low), worth), LEAST_MARGIN, MOST_MARGIN))


def margins(window: Window) -> Array:
    """Return the log margin [1] in each draw, [mounts, draws]: how much room a spring as listed has."""
    log_low, log_high = (np.log(np.maximum(edge, _LEAST_FACTOR)) for edge in (window.low, window.high))
    return log_margin(log_low, log_high, np.minimum(window.closed_spare, window.open_spare))


def margin_of(window: Window) -> Array:
    """Return the mean log margin [1], [mounts]: the mean of `margins` over the draws.

    It has a slope where odds are 0 or 1.
    """
    return np.asarray(margins(window).mean(axis=-1))


@dataclass(frozen=True, slots=True)
class Share:
    """In what share of the roofs [1] one thing fails, whatever else does.

    `rule` is the id of a demand's rule, one of `window.CEILINGS`, `CLOSED_LENGTH`, `OPEN_LENGTH` or `OTHER`.
    """

    rule: str
    fails: float


def shares(lift: Lift, entries: Entries, window: Window) -> tuple[tuple[Share, ...], ...]:
    """Return for each mount what fails in which share of the roofs [1], most often first; of equals lengths first.

    Demands of one rule count once; the delivered chance is averaged as in (1); what fails in less than one roof of
    ten thousand is left out.
    """
    causes = [demand.rule.id for demand in lift.demands] + list(CEILINGS)
    tolerance, spread = _column(entries.tolerance), lift.chances.spread
    failing: dict[str, Array] = {
        CLOSED_LENGTH: (window.closed_spare < 0).mean(axis=-1),
        OPEN_LENGTH: (window.open_spare < 0).mean(axis=-1),
    }
    for rule in dict.fromkeys(causes):
        rows = [i for i, cause in enumerate(causes) if cause == rule]
        low, high = window.lows[rows].max(axis=0), window.highs[rows].min(axis=0)
        failing[rule] = 1.0 - probability(spread, tolerance, low, high).mean(axis=-1)
    failing[OTHER] = np.full(window.closed_spare.shape[0], np.mean(~lift.holding))
    return tuple(
        tuple(
            sorted(
                (Share(rule, float(share[mount])) for rule, share in failing.items() if share[mount] >= 1e-4),
                key=lambda each: -each.fails,
            )
        )
        for mount in range(window.closed_spare.shape[0])
    )
