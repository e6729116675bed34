"""What happens when something is gone: a spring lost, or everything that can be taken off the shell."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from loftwright.core.motion import Array
from loftwright.mechanics.feel import Feel, Roof, arrival, gust_share, side_moment, state
from loftwright.mechanics.hand_rules import drive_of, force_of, one_lost, panel_off, worst_of
from loftwright.mechanics.release import Release, fall


def holds_without(roof: Roof, felt: Feel, index: int) -> Array:
    """Return the least pull [N], [draws], still needed to bring down the open roof, one spring of mount `index` lost.

    Below nought: one of a lifter, as `HandRule.lost` has it. Cold and aged, friction shaken off; negative: it falls.
    """
    asked = one_lost(roof, index)
    return worst_of(asked, force_of(asked, roof, felt))[0]


def panel_off_push(roof: Roof, felt: Feel) -> Array:
    """Return the least push [N] needed near closed with everything removable off, sun and new, friction shaken off.

    Shape [draws].
    """
    asked = panel_off(roof, felt)
    return worst_of(asked, force_of(asked, roof, felt))[0]


@dataclass(frozen=True, slots=True)
class Failure:
    """What happens when something is gone: hand force open and how the roof runs, each [draws].

    `holds_with` [N] is the pull still needed to bring the open roof down (negative: it falls);
    `release` is what it does when let go. `twist_moment` [N m] about the shell's long axis is None on arms and
    in guides, where it is not reckoned.
    """

    what: str
    holds_with: Array
    release: Release
    twist_moment: Array | None
    prop_load: Array


def failures(roof: Roof, felt: Feel) -> tuple[Failure, ...]:
    """Return the roof's fall from open with one spring of each mount and lifter lost, cold and aged.

    `prop_load` [N] is what a prop at the handle must carry when all springs are gone and the stated gust presses,
    friction shaken off.
    The twist is that of the greatest force, sun and new, which is on the safe side.
    """
    cold = state("cold", "aged")
    bare = replace(
        felt.drive,
        springs_raising=tuple(np.zeros_like(s) for s in felt.drive.springs_raising),
        springs_lowering=tuple(np.zeros_like(s) for s in felt.drive.springs_lowering),
        lifters_raising=(),
        lifters_lowering=(),
    )
    prop = -((bare.at_rest / bare.hand_path)[cold] + gust_share(roof, felt))[..., -1]
    found = []
    for index, fitted in enumerate(roof.fitted):
        left = felt.drive.without_one_spring(fitted.mount.count, index).at(cold)
        lost = np.full_like(fitted.place, 2.0 / fitted.mount.count)
        found.append(
            Failure(
                f"one spring of {fitted.name} lost",
                holds_without(roof, felt, index),
                fall(left, roof.body, roof.travel, felt.lip),
                None if not roof.travel.hinged else side_moment(roof, felt, index, lost)[..., -1],
                prop,
            )
        )
    for index, lifter in enumerate(felt.lifters):
        left = felt.drive.without_one_lifter(lifter.count, index).at(cold)
        run = fall(left, roof.body, roof.travel, felt.lip)
        # The twist of one side alone is reckoned for gas springs only.
        found.append(Failure(f"one {lifter.name} lost", holds_without(roof, felt, -1 - index), run, None, prop))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Flight:
    """The roof with everything removable off, sun and new, each [draws].

    `push` [N] is what it still needs near closed (negative: it flies up by itself), `speed` [m/s] how fast its lip
    meets the top stop when it is let go where that is worst.
    """

    push: Array
    speed: Array


def panel_flight(roof: Roof, felt: Feel) -> Flight | None:
    """Return what a roof with everything removable off does; None when nothing can be taken off."""
    if roof.body_without is None:
        return None
    drive = drive_of(panel_off(roof, felt), roof, felt)
    return Flight(panel_off_push(roof, felt), arrival(roof, felt, drive, roof.body_without))
