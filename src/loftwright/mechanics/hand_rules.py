"""Every rule on hand forces as one line of a table, and all that springs and hands are judged by.

A `HandRule` says at which openings, in which state and way of moving, and against which limit a hand force is
judged. Those who judge a roof with its springs and those who ask what springs it needs both read this table.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from loftwright.core.checks import Rule, Sense
from loftwright.core.errors import Bug
from loftwright.core.judged import Judged
from loftwright.core.lifting import Moving
from loftwright.core.motion import Array, Flags, column
from loftwright.mechanics.balance import Drive, weight_share
from loftwright.mechanics.feel import (
    END_FITTING_LENGTH,
    HELD_OPEN,
    NEAR_CLOSED,
    NEAR_OPEN,
    TUBE_WALL,
    Feel,
    Fitted,
    Roof,
    arrival,
    clear_of_seal,
    cloth_path,
    gust_share,
    push_limit,
    side_moment,
    state,
    takes_over,
)
from loftwright.mechanics.gas_spring import charge_pressure
from loftwright.mechanics.lifter_rules import judge_lifters
from loftwright.mechanics.rules import (
    BRACKET,
    CLOSED_LENGTH,
    END_FITTING,
    FRICTION,
    LATCH,
    ON_THE_WAY,
    ONE_LOST,
    OPEN_LENGTH,
    PANEL_OFF,
    PRESSURE,
    PULL_AFTER_SUN,
    PULL_ON,
    PULL_START,
    ROD_BENDS,
    SINKS,
    START,
    STAYS_SHUT,
    STAYS_UP,
    TAKES_OVER,
    TIGHT_CLOTH_RULE,
    TOP_SPEED,
    TWIST,
)
from loftwright.mechanics.strut import CAUTION_FACTOR, spring_critical_load
from loftwright.reference.rods import TOP_PRESSURE, greatest_friction


@dataclass(frozen=True, slots=True)
class HandRule:
    """One rule on a force that is the roof's drive Q [N m/rad] over a path [m/rad], wherever `where` holds.

    The value is `sign` Q / `path` (1): +1 where the force holds the roof down or pulls it (a pull), -1 where it
    raises it (a push). `limit` [N] is [draws] or [draws, travel], `where` [travel] or [draws, travel]. Q is that of
    `state` moving as `moving` says, with `extra` [N m/rad] on top (None: nothing), without what can be taken off
    (`bare`), and with one spring of mount `lost` gone (None: none; -1, -2, ...: one of the first, second, ... lifter).
    `path` None: that of the hand.
    """

    rule: Rule
    moving: Moving
    state: int
    sign: int
    limit: Array
    where: Flags
    extra: Array | None = None
    bare: bool = False
    lost: int | None = None
    path: Array | None = None

    @property
    def sense_of_drive(self) -> Sense:
        """Whether the drive Q must be at least or at most something for the rule to hold."""
        if self.sign > 0:
            return self.rule.sense
        return "at least" if self.rule.sense == "at most" else "at most"

    def path_of(self, drive: Drive) -> Array:
        """Return the path over which Q is a force [m/rad], [..., travel]."""
        return drive.hand_path if self.path is None else self.path


def hand_rules(roof: Roof, felt: Feel) -> tuple[HandRule, ...]:
    """Return every rule on hand forces that a roof is held to, in the order in which they are judged."""
    fraction = roof.travel.fraction
    limits, sizes = roof.limits, roof.sizes
    cold, hot, sun = state("cold", "aged"), state("hot", "new"), state("sun", "new")
    start, opened, held = fraction <= NEAR_CLOSED, fraction >= NEAR_OPEN, fraction >= HELD_OPEN
    way = (fraction >= NEAR_CLOSED) & (fraction < NEAR_OPEN)
    risen = felt.lip.z - felt.lip.z[..., :1]
    squeeze = column(sizes.seal_squeeze)
    free = ((fraction < NEAR_OPEN) & (risen >= squeeze)) | (fraction == fraction[fraction < NEAR_OPEN][-1])
    # From the seal's first touch down to the stops the roof is squeezed shut.
    squeezing = (risen <= squeeze) & (fraction < NEAR_OPEN)
    # Wind and footsteps shake friction off a roof at rest: what must stay put is judged without it.
    off_seal = clear_of_seal(roof, felt, NEAR_CLOSED)
    none = np.zeros_like(limits.stays_up_margin)
    found = [
        HandRule(STAYS_SHUT, "at rest", sun, -1, limits.stays_shut_margin, off_seal),
        HandRule(START, "raising", cold, -1, limits.push_to_start, start),
        HandRule(ON_THE_WAY, "raising", cold, -1, push_limit(roof, felt), way),
        # No push is needed from there on.
        HandRule(TAKES_OVER, "raising", cold, -1, none, fraction >= column(limits.rises_from)),
        HandRule(SINKS, "at rest", cold, 1, limits.stays_up_margin, held),
    ]
    if not limits.prop_fitted:
        gust = gust_share(roof, felt) * felt.drive.hand_path
        found.append(HandRule(STAYS_UP, "at rest", cold, 1, limits.stays_up_margin, held, extra=gust))
    found += [
        HandRule(PULL_START, "lowering", hot, 1, limits.pull_to_start_down, opened),
        HandRule(PULL_AFTER_SUN, "lowering", sun, 1, limits.pull_after_hot, opened),
        HandRule(PULL_ON, "lowering", hot, 1, limits.pull_to_start_down, free),
        HandRule(LATCH, "lowering", hot, 1, limits.pull_to_latch, squeezing),
    ]
    if not limits.prop_fitted:
        found += [one_lost(roof, index) for index in (*range(len(roof.fitted)), *lifters_lost(roof))]
    if roof.body_without is not None:
        found.append(panel_off(roof, felt))
    # At the top stop the drive takes the rim up against the pull of the cloth all round it.
    top, path = fraction == fraction[-1], column(cloth_path(roof))
    found.append(HandRule(TIGHT_CLOTH_RULE, "raising", cold, 1, sizes.cloth_tension, top, path=path))
    return tuple(found)


def one_lost(roof: Roof, index: int) -> HandRule:
    """Return the rule that the open roof stays up with one of mount `index` gone, below nought of a lifter."""
    held = roof.travel.fraction >= HELD_OPEN
    none = np.zeros_like(roof.limits.stays_up_margin)
    return HandRule(ONE_LOST, "at rest", state("cold", "aged"), 1, none, held, lost=index)


def lifters_lost(roof: Roof) -> range:
    """Return the places that `HandRule.lost` has for the lifters: -1, -2, ..."""
    return range(-1, -1 - len(roof.gear), -1)


def panel_off(roof: Roof, felt: Feel) -> HandRule:
    """Return the rule that the unlatched roof stays shut with everything removable off."""
    off_seal = clear_of_seal(roof, felt, NEAR_CLOSED)
    margin = roof.limits.stays_shut_margin
    return HandRule(PANEL_OFF, "at rest", state("sun", "new"), -1, margin, off_seal, bare=True)


def drive_of(asked: HandRule, roof: Roof, felt: Feel) -> Drive:
    """Return the balance that a rule looks at, in its one state."""
    drive = felt.drive.at(asked.state)
    if asked.lost is not None and asked.lost < 0:
        drive = drive.without_one_lifter(roof.gear[-1 - asked.lost].count, -1 - asked.lost)
    elif asked.lost is not None:
        drive = drive.without_one_spring(roof.fitted[asked.lost].mount.count, asked.lost)
    if asked.bare:
        if roof.body_without is None:
            raise Bug("nothing can be taken off this roof")
        drive = replace(drive, weight=weight_share(roof.body_without, roof.travel))
    return drive


def total_of(asked: HandRule, drive: Drive) -> Array:
    """Return the drive Q [N m/rad] that a rule looks at, over the travel."""
    if asked.moving == "raising":
        total = drive.rising
    elif asked.moving == "lowering":
        total = drive.falling
    else:
        total = drive.at_rest
    return total if asked.extra is None else total + asked.extra


def force_of(asked: HandRule, roof: Roof, felt: Feel) -> Array:
    """Return the force that a rule judges [N], or [N/m] for cloth, over the travel: eq. (1) of `HandRule`."""
    if asked.path is None and asked.extra is None and asked.lost is None and not asked.bare:
        # Worked out already for every state.
        if (asked.moving, asked.sign) == ("raising", -1):
            return np.asarray(felt.push_up[asked.state])
        if (asked.moving, asked.sign) == ("lowering", 1):
            return np.asarray(felt.pull_down[asked.state])
    drive = drive_of(asked, roof, felt)
    return np.asarray(asked.sign * total_of(asked, drive) / asked.path_of(drive))


@dataclass(frozen=True, slots=True)
class HandForce:
    """A rule with the force that it judges over the travel, [draws, travel] [N] (cloth: [N/m])."""

    asked: HandRule
    force: Array


def hand_forces(roof: Roof, felt: Feel) -> tuple[HandForce, ...]:
    """Return every rule on hand forces with the force that it judges."""
    return tuple(HandForce(asked, force_of(asked, roof, felt)) for asked in hand_rules(roof, felt))


def worst_of(asked: HandRule, force: Array) -> tuple[Array, Array]:
    """Return the force [N] where it is nearest its limit or furthest beyond, and the limit [N] there, each [draws]."""
    limit = asked.limit if asked.limit.ndim > 1 else column(asked.limit)
    at_most = asked.rule.sense == "at most"
    margin = np.where(asked.where, limit - force if at_most else force - limit, np.inf)
    place = margin.argmin(axis=-1)[..., None]
    value, against = (
        np.take_along_axis(np.broadcast_to(a, margin.shape), place, axis=-1)[..., 0] for a in (force, limit)
    )
    return np.asarray(value), np.asarray(against)


def judge_feel(roof: Roof, felt: Feel, hand: tuple[HandForce, ...] | None = None) -> tuple[Judged, ...]:
    """Return every judgement on springs and hand forces, value and limit [draws] each.

    `hand` are the `hand_forces` where they are known already.
    """
    found: list[Judged] = []
    lost: list[Array] = []
    for one in hand_forces(roof, felt) if hand is None else hand:
        asked, force = one.asked, one.force
        if asked.rule is TAKES_OVER:
            found.append(Judged(TAKES_OVER, takes_over(force, roof.travel.fraction), roof.limits.rises_from))
            continue
        value, limit = worst_of(asked, force)
        if asked.rule is ONE_LOST:
            lost.append(value)
            if len(lost) < len(roof.fitted) + len(roof.gear):
                continue
            value = np.min(lost, axis=0)
        if asked.rule is TIGHT_CLOTH_RULE:
            found.append(Judged(TOP_SPEED, _top_speed(roof, felt), roof.limits.stop_speed))
        found.append(Judged(asked.rule, value, limit))
    for index, fitted in enumerate(roof.fitted):
        found.extend(judge_spring(roof, felt, index, fitted))
    return (*found, *judge_lifters(felt))


def _top_speed(roof: Roof, felt: Feel) -> Array:
    """Return how fast the lip meets the top stop, springs new and hot from the sun, [draws] [m/s]."""
    return arrival(roof, felt, felt.drive.at(state("sun", "new")), roof.body)


def judge_spring(roof: Roof, felt: Feel, index: int, fitted: Fitted) -> list[Judged]:
    """Return every judgement on mount `index` by itself, value and limit [draws] each."""
    limits = roof.limits
    squeezed, force = felt.compressions[index], felt.end_force[index]
    spring = fitted.mount.spring
    which = fitted.name
    most = force.max(axis=-1)
    # Most rod is out, and the strut longest, where the spring is least squeezed; it is judged there with its greatest
    # force, which is on the safe side.
    critical = spring_critical_load(
        rod_diameter=spring.rod_diameter,
        tube_diameter=fitted.tube_diameter,
        tube_wall=TUBE_WALL,
        length=felt.springs[index].line.length.max(axis=-1),
        rod_out=spring.stroke - squeezed.min(axis=-1) + END_FITTING_LENGTH,
    )
    found = [
        Judged(CLOSED_LENGTH, spring.stroke - squeezed.max(axis=-1), fitted.end_margin, which),
        Judged(
            OPEN_LENGTH,
            squeezed.min(axis=-1),
            np.zeros_like(fitted.end_margin) if limits.spring_is_stop else fitted.end_margin,
            which,
        ),
        Judged(ROD_BENDS, critical / np.maximum(most, 1e-9), CAUTION_FACTOR + 0 * most, which),
        Judged(END_FITTING, most, fitted.end_limit, which),
        Judged(
            PRESSURE,
            charge_pressure(spring.force_1 * spring.ratio + spring.loop / 2, spring.rod_diameter),
            np.full_like(most, TOP_PRESSURE),
            which,
        ),
        Judged(FRICTION, spring.loop, 2 * greatest_friction(spring.force_1), which),
        Judged(
            BRACKET,
            most,
            fitted.bracket_limit,
            which,
            unknown=f"what the brackets of {which} carry",
            missing="bracket_limit",
            index=index,
        ),
    ]
    if not roof.travel.hinged:
        # How unequal pushes share out between two pairs of arms or shoes is not reckoned yet.
        return found
    # Left and right differ by sqrt(2) of each one's tolerance; two standard deviations.
    moment = side_moment(roof, felt, index, np.sqrt(2.0) * fitted.tolerance).max(axis=-1)
    turn = None if roof.twist_stiffness is None else moment / roof.twist_stiffness
    found.append(
        Judged(
            TWIST,
            turn,
            limits.twist,
            which,
            unknown="how far the shell twists under a known weight at one corner",
            missing="twist_moment",
        )
    )
    return found
