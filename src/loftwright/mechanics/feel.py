"""How a roof feels and what it does when something fails: the balance put to the questions a builder asks.

All arrays carry [states, draws, travel]; states are pairs of temperature and age.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from loftwright.core.motion import Array, Flags, PointPath, Travel, column, thinned
from loftwright.mechanics.balance import Drive, Lifter, Load, Mount, Push, balance, lever, push_of
from loftwright.mechanics.gas_spring import at_temperature, compression, quick_in, quick_out
from loftwright.mechanics.guides import Shoes
from loftwright.mechanics.lifters import Gear, lifters
from loftwright.mechanics.masses import Body
from loftwright.mechanics.other_forces import TIGHT_CLOTH, WET, Rim, Sizes, gust_on_top, loads
from loftwright.mechanics.reactions import Pins
from loftwright.mechanics.release import behaviour, fastest_arrival

Temperature = Literal["cold", "mild", "hot", "sun"]
Age = Literal["new", "aged"]

STATES: Final[tuple[tuple[Temperature, Age], ...]] = (
    ("cold", "new"),
    ("cold", "aged"),
    ("mild", "new"),
    ("mild", "aged"),
    ("hot", "new"),
    ("hot", "aged"),
    ("sun", "new"),
)
"""Temperature of the spring and its age; "sun" is a spring heated under the closed shell."""

NEAR_CLOSED: Final = 0.10
NEAR_OPEN: Final = 0.90
HELD_OPEN: Final = 0.95
"""Shares of the travel that count as starting, as open, and as resting open: judgement."""

SHOULDER: Final = 0.82
OVERHEAD: Final = 1.15
"""Handle heights, in shares of body height, up to which legs drive and from which only arms reach: judgement."""


END_FITTING_LENGTH: Final = 0.03
"""End fitting on the rod's side, as slender as the rod [m]: judgement."""
NEVER: Final = 1.01
"""Share of the travel that stands for "not within it"."""
TUBE_WALL: Final = 0.0015
"""Wall of a spring's tube [m]; not under 1 mm by the design standard: judgement."""


def state(temperature: Temperature, age: Age) -> int:
    """Return the place of a state on the first axis."""
    return STATES.index((temperature, age))


@dataclass(frozen=True, slots=True)
class Climate:
    """Spring temperatures [K], each [draws]."""

    cold: Array
    mild: Array
    hot: Array
    sun: Array


@dataclass(frozen=True, slots=True)
class Fitted:
    """A mount with what its list leaves open; every field but `mount` and `name` is [draws].

    `delivered`: force as delivered over the listed one; `tolerance`: the listed band as a ratio (two
    standard deviations); `place`: distance from the middle plane [m]; `tube_diameter` [m]; `end_limit`
    and `bracket_limit` [N] (None: nobody knows yet); `aged`: force left after ageing over the new one;
    `end_margin`: stroke to keep at both ends [m]; `own_speed`: how fast the spring extends at most by
    itself [m/s].
    """

    name: str
    mount: Mount
    delivered: Array
    tolerance: Array
    place: Array
    tube_diameter: Array
    end_limit: Array
    bracket_limit: Array | None
    aged: Array
    end_margin: Array
    own_speed: Array


@dataclass(frozen=True, slots=True)
class Limits:
    """What the builder asks for; forces [N], speed [m/s], lengths [m], angle [rad], each [draws]."""

    push_to_start: Array
    push_on_the_way: Array
    pull_to_start_down: Array
    pull_after_hot: Array
    pull_to_latch: Array
    stays_shut_margin: Array
    stays_up_margin: Array
    rises_from: Array
    stop_speed: Array
    twist: Array
    prop_fitted: bool
    spring_is_stop: bool


@dataclass(frozen=True, slots=True)
class Roof:
    """One roof in as many draws as there are rows; every array is [draws] or [draws, travel].

    `possible`: it can be put together and moved at all; `reaches`: its arms do. `transmission` [rad] and
    `lines_up` (share of the travel at which equal arms first lie in line with the shell, above 1 when they
    never do) are None for a hinge. `stands` [rad], [draws, travel]: how far crossing arms stand from level; `shoes` of
    straight guides; None without. `gear`: what lifts beside gas springs.
    """

    travel: Travel
    possible: Flags
    reaches: Flags
    transmission: Array | None
    lines_up: Array | None
    body: Body
    body_without: Body | None
    fitted: tuple[Fitted, ...]
    climate: Climate
    rim: Rim
    sizes: Sizes
    pin_moment: Array
    pins: Pins
    handle: tuple[Array, Array]
    lip: tuple[Array, Array]
    strap_length: Array
    feet_z: Array
    person_height: Array
    spacing: Array
    twist_stiffness: Array | None
    limits: Limits
    stands: Array | None = None
    shoes: Shoes | None = None
    gear: tuple[Gear, ...] = ()


@dataclass(frozen=True, slots=True)
class Feel:
    """Forces over the travel, [states, draws, travel] unless said otherwise.

    `loads` act all the time, `wet` on cold days only; `cloth` is the pull of the cloth as it goes tight at
    the top, kept apart: it vanishes as soon as the roof comes down a little and is judged by itself. `push_up` and
    `pull_down` [N] are at the handle. `end_force` [N] is the greatest push of one spring of each mount, sun and new,
    [draws, travel]. `lifters` are what lifts beside gas springs.
    """

    loads: tuple[Load, ...]
    wet: tuple[Load, ...]
    cloth: Load
    springs: tuple[Push, ...]
    drive: Drive
    lip: PointPath
    hand: PointPath
    push_up: Array
    pull_down: Array
    end_force: tuple[Array, ...]
    compressions: tuple[Array, ...]
    lifters: tuple[Lifter, ...] = ()


def pushes(roof: Roof, fitted: Fitted) -> Push:
    """Return one spring's push in every state, [states, draws, travel]: temperature, age, delivery."""
    kelvin = np.stack([np.broadcast_to(getattr(roof.climate, heat), fitted.delivered.shape) for heat, _ in STATES])
    factor = np.stack([fitted.delivered * (fitted.aged if age == "aged" else 1.0) for _, age in STATES])
    return push_of(fitted.mount, lever(fitted.mount, roof.travel), kelvin=kelvin, factor=factor)


def is_wet(heat: Temperature) -> bool:
    """Whether cloth and top are wet in a state: cold days are wet ones, the others dry."""
    return heat == "cold"


def feel(roof: Roof) -> Feel:
    """Return all forces of a roof over the travel."""
    travel = roof.travel
    springs = tuple(pushes(roof, f) for f in roof.fitted)
    lip = travel.shell.point(*roof.lip)
    every = loads(travel, roof.rim, roof.sizes, lip=lip)
    acting = tuple(load for load in every if load.name not in (TIGHT_CLOTH, *WET))
    wet = tuple(load for load in every if load.name in WET)
    gear = lifters(roof.gear, travel)
    drive = balance(travel, roof.body, springs, acting, roof.pin_moment, roof.handle, gear)
    # [states, 1, 1] in front of draws and travel.
    wetness = np.array([float(is_wet(heat)) for heat, _ in STATES])[:, None, None]
    drive = replace(
        drive,
        loads_raising=drive.loads_raising + wetness * sum(load.raising.work_rate(travel.shell) for load in wet),
        loads_lowering=drive.loads_lowering + wetness * sum(load.lowering.work_rate(travel.shell) for load in wet),
    )
    if not springs:
        # Without springs all states are alike; the first axis stays.
        none = np.zeros((len(STATES), 1, travel.fraction.size))
        drive = replace(drive, springs_raising=(none,), springs_lowering=(none,))
    sun = state("sun", "new")
    return Feel(
        loads=acting,
        wet=wet,
        cloth=next(load for load in every if load.name == TIGHT_CLOTH),
        springs=springs,
        drive=drive,
        lip=lip,
        hand=travel.shell.point(*roof.handle),
        push_up=drive.push_up,
        pull_down=drive.pull_down,
        end_force=tuple(np.maximum(s.raising[sun], s.lowering[sun]) for s in springs),
        compressions=tuple(compression(s.mount.spring, s.line.length) for s in springs),
        lifters=gear,
    )


@dataclass(frozen=True, slots=True)
class Quick:
    """Hand forces moved too fast for the gas to keep its temperature, mild and new, [draws, travel] [N].

    `push_up` from closed at rest: the gas cools and pushes less. `pull_down` from open at rest: it warms
    and pushes more. A real movement lies between these and the slow curves.
    """

    push_up: Array
    pull_down: Array


def quick(roof: Roof, felt: Feel) -> Quick:
    """Return the bounding curves for quick movement."""
    mild = state("mild", "new")
    found = []
    for fitted, slow in zip(roof.fitted, felt.springs, strict=True):
        spring = at_temperature(fitted.mount.spring, roof.climate.mild)
        squeezed = compression(fitted.mount.spring, slow.line.length)
        growing = slow.line.rate > 0
        closed, opened = squeezed[..., 0], squeezed[..., -1]
        rest = (fitted.delivered, roof.climate.mild)
        raising = np.where(
            growing, quick_out(spring, squeezed, closed, *rest), quick_in(spring, squeezed, closed, *rest)
        )
        lowering = np.where(
            growing, quick_in(spring, squeezed, opened, *rest), quick_out(spring, squeezed, opened, *rest)
        )
        found.append(replace(slow, raising=raising, lowering=lowering))
    drive = replace(
        felt.drive.at(mild),
        springs_raising=tuple(p.mount.count * p.raising * p.line.rate for p in found),
        springs_lowering=tuple(p.mount.count * p.lowering * p.line.rate for p in found),
    )
    return Quick(drive.push_up, drive.pull_down)


def push_limit(roof: Roof, felt: Feel) -> Array:
    """Return the most one should have to push at each opening [N], [draws, travel].

    Up to shoulder height the legs drive (`push_to_start`); from overhead on only the arms
    (`push_on_the_way`); straight in between. Judgement.
    """
    height = felt.hand.z - column(roof.feet_z)
    body = column(roof.person_height)
    share = np.clip((height / body - SHOULDER) / (OVERHEAD - SHOULDER), 0.0, 1.0)
    low, high = column(roof.limits.push_to_start), column(roof.limits.push_on_the_way)
    return low + (high - low) * share


def clear_of_seal(roof: Roof, felt: Feel, upto: float) -> Flags:
    """Return where the lip has left the seal but the roof is still nearly closed, [draws, travel]; never empty.

    `upto` [1] is the share of the travel that counts as nearly closed.
    """
    risen = felt.lip.z - felt.lip.z[..., :1]
    fraction = roof.travel.fraction
    edge = fraction == fraction[fraction <= upto][-1]
    return np.asarray(((risen >= column(roof.sizes.seal_squeeze)) & (fraction <= upto)) | edge)


def arrival(roof: Roof, felt: Feel, drive: Drive, body: Body) -> Array:
    """Return how fast the lip meets the top stop when the roof is let go where that is worst, [draws] [m/s].

    `drive` is the balance of one state of the springs and `body` what rides on them.

    The lesser of what work and kinetic energy allow without damping and of what the springs'
    own damping allows: v_lip = v_spring |dp_lip/dq| / |dL/dq| at fully open, the slowest spring ruling (1).
    """
    free = fastest_arrival(drive, body, roof.travel, felt.lip)
    path = np.hypot(felt.lip.dx, felt.lip.dz)[..., -1]
    for fitted, push in zip(roof.fitted, felt.springs, strict=True):
        free = np.minimum(free, fitted.own_speed * path / np.maximum(np.abs(push.line.rate[..., -1]), 1e-6))
    return free


def side_moment(roof: Roof, felt: Feel, index: int, share: Array) -> Array:
    """Return the moment that twists the shell about its long axis [N m], [draws, travel].

    One side of mount `index` pushes more than the other by `share` of one side's force, at `place`
    from the middle plane: M = (share F N/2) place (upward part of the line).
    """
    fitted = roof.fitted[index]
    per_side = fitted.mount.count / 2
    return np.asarray(
        column(share * per_side * fitted.place) * felt.end_force[index] * np.abs(felt.springs[index].line.along_z)
    )


def cloth_path(roof: Roof) -> Array:
    """Return by how much the cloth all round the rim gives way per radian at fully open [m2/rad], [draws].

    The rim of length U rises by dz/dq at its middle: a pull t [N/m] of the cloth takes up Q = t U dz/dq (1).
    """
    ends = thinned(roof.travel, roof.travel.fraction.size - 1)
    return np.asarray(roof.rim.perimeter * np.maximum(roof.rim.middle(ends).dz[..., -1], 1e-6))


def cloth_pull(roof: Roof, felt: Feel) -> Array:
    """Return what the springs have left at the top stop to pull the cloth tight [N/m of rim], [states, draws].

    The rising drive Q at fully open lifts the rim's middle by dz/dq; a pull t all round the rim of length U takes
    it up where t U dz/dq = Q (1). Negative: the roof does not even reach the top by itself. Derived here.
    """
    return np.asarray(felt.drive.rising[..., -1] / cloth_path(roof))


def unequal_load(roof: Roof, felt: Feel) -> Array:
    """Return what unequal springs add to each of two hinges [N], [draws, travel]; not meant for arms or guides.

    The stronger side pushes dF = sqrt(2) tolerance F N/2 more at `place` y; a rigid shell passes the roll moment
    dF_z y and the yaw moment dF_x y to the hinge pair, `spacing` s apart: R = sqrt(dF_x^2 + dF_z^2) y / s (1).
    Two standard deviations, sun and new. Derived here.
    """
    found = np.zeros_like(felt.hand.x)
    for fitted, push, force in zip(roof.fitted, felt.springs, felt.end_force, strict=True):
        more = column(np.sqrt(2.0) * fitted.tolerance * fitted.mount.count / 2) * force
        flat = np.hypot(push.line.along_x, push.line.along_z)
        found = found + more * flat * column(fitted.place / roof.spacing)
    return found


def gust_share(roof: Roof, felt: Feel) -> Array:
    """Return what the stated gust adds to the pull at the handle [N], [draws, travel]; negative: it presses down."""
    return gust_on_top(roof.travel, roof.rim, roof.sizes.gust).work_rate(roof.travel.shell) / felt.drive.hand_path


def takes_over(push: Array, fraction: Array) -> Array:
    """Return the share of the travel from which no `push` [N], [..., n], is needed any more, [...].

    `fraction` [1] are the stations, [n].
    Straight between stations; `NEVER` where the roof must be pushed to the top, nought where it need not be pushed.
    """
    needs = push > 0
    last = fraction.size - 1 - np.argmax(needs[..., ::-1], axis=-1)
    after = np.minimum(last + 1, fraction.size - 1)
    here, there = (np.take_along_axis(push, i[..., None], axis=-1)[..., 0] for i in (last, after))
    drop = np.maximum(here - there, 1e-12)
    place = fraction[last] + (fraction[after] - fraction[last]) * np.clip(here / drop, 0.0, 1.0)
    place = np.where(last == fraction.size - 1, NEVER, place)
    return np.asarray(np.where(needs.any(axis=-1), place, 0.0))


def let_go(felt: Feel, temperature: Temperature, age: Age) -> Array:
    """Return +1 rises, 0 stays, -1 falls at every opening, [draws, travel]."""
    return behaviour(felt.drive.at(state(temperature, age)))
