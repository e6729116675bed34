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
from loftwright.core.motion import first_row
from loftwright.mechanics.balance import push_of
from loftwright.mechanics.feel import state
from loftwright.plan.go_no_go import before_first_road
from loftwright.project.model import Project

WORN: Final = 0.9
"""Share of the force at which gas springs are changed [1]: judgement."""
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
    the gust above which it is lowered; `tired` [N], the push half-way once gas springs have `WORN` of their force left.
    `still` are the gas springs on the open roof, `before_road` what fails and must hold before it is driven fast.
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
    tired: float
    still: tuple[StillPushes, ...]
    before_road: tuple[Check, ...]


@dataclass(frozen=True, slots=True)
class StillPushes:
    """What one spring does while the roof stands open on its stop: `force` [N] along it, `pushed_in` [m] still."""

    name: str
    force: float
    pushed_in: float


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


def still_pushes(found: RoofNumbers) -> tuple[StillPushes, ...]:
    """Return what each kind of gas spring does, one by itself, on the open roof: mild and new, as its rod moves out."""
    row = state("mild", "new")
    return tuple(
        StillPushes(
            fitted.name,
            min(float(push.raising[row, 0, -1]), float(push.lowering[row, 0, -1])),
            max(float(squeezed[0, -1]), 0.0),
        )
        for fitted, push, squeezed in zip(found.roof.fitted, found.felt.springs, found.felt.compressions, strict=True)
    )


def worn_push(found: RoofNumbers, share: float, left: float = WORN) -> float:
    """Return the push at the handle at a `share` of the travel [1] with `left` of the gas springs' force [1]; [N].

    Mild, moved slowly, nominal: push - (sum of N F' dL/dq - sum of N F dL/dq) / hand path       (1)
    """
    row, at = state("mild", "new"), int(np.argmin(np.abs(found.roof.travel.fraction - share)))
    lost = 0.0
    for fitted, new in zip(found.roof.fitted, found.felt.springs, strict=True):
        old = push_of(new.mount, new.line, kelvin=found.roof.climate.mild, factor=left * fitted.delivered)
        change = new.raising[row, 0, at] - first_row(old.raising)[at]
        lost += new.mount.count * float(change * first_row(new.line.rate)[at])
    return float(found.felt.push_up[row, 0, at]) + lost / float(first_row(found.felt.drive.hand_path)[at])


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
        tired=worn_push(moved.numbers, 0.5),
        still=still_pushes(moved.numbers),
        before_road=before_first_road(worst_first(checks)),
    )
