"""The hand-over of a finished roof: first lift and first road, service, the driver's card, the inspector's folder.

Numbers come from the answers on movement, strength, walls and what rides on the roof; the words are common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from loftwright.answers.fitted_roof import FittedNumbers, fitted_roof
from loftwright.answers.held_roof import HeldNumbers, held_roof
from loftwright.answers.hold_road_view import enough_up_to
from loftwright.answers.hold_said import nominal
from loftwright.answers.hold_wind_view import lower_above
from loftwright.answers.judged_roof import RoofNumbers, judged_roof
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptWalls
from loftwright.answers.key_figures import Band, KeyFigures, band, how_far_open, key_figures
from loftwright.answers.walled_roof import walled_roof
from loftwright.core.checks import Check, worst_first
from loftwright.mechanics.feel import state
from loftwright.project.model import Project

READ_AT: Final = (0.1, 0.5, 0.9)
"""Shares of the travel at which the hand force is read [1]."""


@dataclass(frozen=True, slots=True)
class ReadAt:
    """What to expect at one opening: `share` of the travel [1], `opens` [rad] or [m], `push` and `pull` by hand [N]."""

    share: float
    opens: float
    push: Band
    pull: Band


@dataclass(frozen=True, slots=True, eq=False)
class HandOver:
    """What the cards are made of; every figure is of the nominal roof unless it is a band.

    `road` [m/s] up to which latches of nine of ten roofs have enough; `wanted` [m/s] that is asked for; `lower` [m/s],
    the gust above which it is lowered.
    """

    project: Project
    moved: RoofNumbers
    held: HeldNumbers
    fitted: FittedNumbers
    checks: tuple[Check, ...]
    held_checks: tuple[Check, ...]
    key: KeyFigures
    readings: tuple[ReadAt, ...]
    road: float
    wanted: float
    lower: float


def read_at(found: RoofNumbers, share: float) -> ReadAt:
    """Return what the hand feels at a `share` of the travel [1], mild and with new springs, moved slowly."""
    fraction = found.roof.travel.fraction
    at = int(np.argmin(np.abs(fraction - share)))
    row = state("mild", "new")
    return ReadAt(
        share,
        float(how_far_open(found)[at]),
        band(found.felt.push_up[row, :, at], found),
        band(found.felt.pull_down[row, :, at], found),
    )


@lru_cache(maxsize=2)
def hand_over(project: Project, kept: KeptWalls = NOTHING_KEPT) -> HandOver:
    """Return all that the hand-over is made of.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    moved, held, fitted = judged_roof(project), held_roof(project), fitted_roof(project)
    checks = (*moved.checks, *held.checks, *walled_roof(project, kept).checks, *fitted.checks)
    return HandOver(
        project=project,
        moved=moved.numbers,
        held=held.numbers,
        fitted=fitted.numbers,
        checks=worst_first(checks),
        held_checks=held.checks,
        key=key_figures(moved.numbers),
        readings=tuple(read_at(moved.numbers, share) for share in READ_AT),
        road=enough_up_to(held.numbers),
        wanted=nominal(held.numbers.found.road.wanted),
        lower=lower_above(held.numbers),
    )
