"""The powered lift: whether the actuators are strong, quick and long enough, hold, and give up before it hurts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, cast

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.fitout.actuator import (
    LEAST_LEVER,
    Hardest,
    Spare,
    apart,
    edge_force,
    hardest,
    needed_force,
    rod_bends_at,
    spare_stroke,
    twist,
)
from loftwright.fitout.actuator_power import Motor, Run, hand_without, run
from loftwright.fitout.actuator_rules import (
    in_step,
    pinches,
    quick_enough,
    rod_straight,
    stays_up,
    stroke_fits,
    strong_enough,
)
from loftwright.mechanics.feel import state
from loftwright.project.assemble_riding import LiftLine, lift_line, line_between
from loftwright.project.assemble_wind import sound

if TYPE_CHECKING:
    from loftwright.core.choices import BodyName
    from loftwright.mechanics.feel import Age, Temperature

DAYS: Final[tuple[tuple[str, Temperature, Age], ...]] = (
    ("on a cold wet day, springs aged", "cold", "aged"),
    ("on a mild day", "mild", "new"),
    ("on a hot day", "hot", "new"),
)
"""Days on which the lift must be strong enough: in words, temperature and age of the springs."""
COLD, MILD, HOT = 0, 1, 2
SPREAD: Final = 0.05
"""By how much each of two motors may be faster or slower than the middle one [1]: judgement."""
OVER_NEED: Final = 1.3
"""A current limit is set so far over the greatest force needed [1]: judgement, or it trips on a cold morning."""

NO_LIFT: Final = "There is no [lift] in the file: no actuator is judged."
NO_ARM: Final = "This roof has no such arm as [lift] is bolted to: the lift is not judged."
ONE_SPEED: Final = "The motor is taken to run at its full-load speed all the way: it is quicker where it pushes less."
ROD: Final = "The rod is taken as a solid bar of its diameter all the way from pin to pin."
STALL: Final = (
    "Without a current limit an actuator is taken to push as hard as its label says before it stalls; many push harder."
)
CUT: Final = "The current limit is taken to be set 1.3 times above the greatest force that is needed."
LIP: Final = "What is caught is taken at the lip; near the hinge every edge shears: guard it."
SCREW: Final = (
    "Whether its screw locks itself, how long the motor may run and what its emergency crank takes are in no key: its "
    "sheet says so."
)
NO_CURRENT: Final = (
    "Without current nothing moves a roof that cannot be undone or cranked by hand: plan a second way before the first "
    "flat battery."
)
PROP: Final = "A powered roof is no held roof: prop it, keep heads and hands out, hold the switch by hand."


@dataclass(frozen=True, slots=True)
class LiftFound:
    """The actuators, arrays [rows] unless said otherwise.

    `count` in all. `line`: length and leverage over the travel [rows, n]; `force` of one over the travel, raising and
    lowering, for each of `DAYS` [N], 2 x [days][rows, n]; `worst` of each day; `spare` stroke; `opening` and `closing`
    runs; `buckles` [N]; `closing_edge` [N] at the lip, [rows, n]; `twisted` [rad]; `by_hand`: greatest push of a hand
    with the actuators undone [N].
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    count: int
    line: LiftLine
    raising: tuple[Array, ...]
    lowering: tuple[Array, ...]
    worst: tuple[Hardest, ...]
    spare: Spare
    opening: Run
    closing: Run
    buckles: Array
    closing_edge: Array
    twisted: Array
    by_hand: Array


@dataclass(frozen=True, slots=True)
class InPlaceOfSprings:
    """What actuators in place of the first springs would need, arrays [rows]: `force` of one [N], `used` stroke [m]."""

    name: str
    count: int
    force: Array
    used: Array


@dataclass(frozen=True, slots=True)
class PowerFound:
    """The powered lift, or what one in place of the springs would need; `lift` and `instead` may both be None."""

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    lift: LiftFound | None
    instead: InPlaceOfSprings | None


def powered(base: Basis) -> PowerFound:
    """Return the powered lift with its judgements, or an alternative in a sentence where there is none."""
    project, at = base.project, base.at
    if project.lift is None:
        instead = _instead(base)
        return PowerFound((), (NO_LIFT, *_alternative(base, instead)), None, instead)
    line = lift_line(project, at, base.roof.travel)
    if line is None:
        return PowerFound((), (NO_ARM,), None, None)
    found = _lift(base, line)
    return PowerFound(found.judged, found.said, found, None)


def _steady(base: Basis, line: LiftLine) -> LiftLine:
    """Return the line with the planned roof's in rows that cannot be put together, [rows, n] each."""
    length, rate = (_wide(base, v) for v in (line.length, line.rate))
    return LiftLine(length, rate)


def _wide(base: Basis, value: Array) -> Array:
    """Return a value over the travel for every row, [rows, n]; its unit stays."""
    return sound(np.broadcast_to(value, (base.rows, base.roof.travel.fraction.size)), base.roof)


def _needed(base: Basis, heat: Temperature, age: Age) -> tuple[Array, Array]:
    """Return the push still needed about the driving angle, raising, and lowering [N m/rad], [rows, n] each."""
    drive = base.felt.drive.at(state(heat, age))
    return _wide(base, -drive.rising), _wide(base, -drive.falling)


def _lift(base: Basis, raw: LiftLine) -> LiftFound:
    project, at = base.project, base.at
    lift = project.lift
    assert lift is not None
    count, line = 2 * lift.per_side, _steady(base, raw)
    rated, holds = base.full(at("lift.force")), base.full(at("lift.holds"))
    raising, lowering = [], []
    for _, heat, age in DAYS:
        up, down = _needed(base, heat, age)
        raising.append(needed_force(up, line.rate, count))
        lowering.append(needed_force(down, line.rate, count))
    worst = tuple(hardest(np.concatenate(pair, axis=-1)) for pair in zip(raising, lowering, strict=True))
    spare = spare_stroke(line.length, base.full(at("lift.shortest")), base.full(at("lift.stroke")))
    speed, idle = base.full(at("lift.speed")), base.full(at("lift.idle"))
    motor = Motor(rated, speed, speed, idle, np.maximum(base.full(at("lift.amps")), idle), base.full(at("lift.volts")))
    growing = np.sign(line.rate)
    opening = run(motor, line.length, raising[COLD] * growing, count)
    # The rod's own way turns round as the roof comes down.
    closing = run(motor, line.length, -lowering[HOT] * growing, count)
    most = np.max(np.stack([one.most for one in worst]), axis=0)
    whole = Hardest(np.max(np.stack([one.push for one in worst]), axis=0), most, most)
    buckles = rod_bends_at(base.full(at("lift.rod")), line.length.max(axis=-1))
    stop = np.minimum(OVER_NEED * most, rated) if lift.cut_off else rated
    lip = base.felt.lip
    rate = _wide(base, np.hypot(lip.dx, lip.dz))
    caught = edge_force(stop, line.rate, _needed(base, "mild", "new")[1], rate, count)
    used_rate = rate[:, -1] / np.maximum(np.abs(line.rate[:, -1]), LEAST_LEVER)
    twisted = twist(apart(spare.used, SPREAD), used_rate, at("linkage.spacing"))
    rest = _at_rest(base, line, count)
    hand = hand_without(_needed(base, "cold", "aged")[0], _wide(base, base.felt.drive.hand_path)).max(axis=-1)
    return LiftFound(
        judged=(
            *(strong_enough(one, rated, day[0]) for day, one in zip(DAYS, worst, strict=True)),
            quick_enough(opening.time, base.full(at("lift.seconds"))),
            stays_up(holds, rest),
            *stroke_fits(spare),
            rod_straight(whole, buckles),
            pinches(caught, base.full(at("lift.pinch")), "coming down"),
            in_step(twisted, base.full(at("requirements.twist_limit"))),
        ),
        said=(
            ONE_SPEED,
            ROD,
            CUT if lift.cut_off else STALL,
            LIP,
            SCREW,
            *(() if lift.by_hand else (NO_CURRENT,)),
            PROP,
        ),
        count=count,
        line=line,
        raising=tuple(raising),
        lowering=tuple(lowering),
        worst=worst,
        spare=spare,
        opening=opening,
        closing=closing,
        buckles=buckles,
        closing_edge=caught,
        twisted=base.full(twisted),
        by_hand=base.full(np.maximum(hand, 0.0)),
    )


def _at_rest(base: Basis, line: LiftLine, count: int) -> Hardest:
    """Return what one actuator holds without current, the hardest of all days and places: the roof falls or rises."""
    found = []
    for _, heat, age in DAYS:
        drive = base.felt.drive.at(state(heat, age))
        # Friction of the pins helps it to hold: what is left of falling alone, and of rising alone.
        falls, rises = np.minimum(drive.falling, 0.0), np.maximum(drive.rising, 0.0)
        found += [needed_force(_wide(base, -part), line.rate, count) for part in (falls, rises)]
    return hardest(np.concatenate(found, axis=-1))


def _instead(base: Basis) -> InPlaceOfSprings | None:
    """Return what actuators in place of the first springs of the list would need."""
    if not base.roof.fitted:
        return None
    fitted = base.roof.fitted[0]
    mount = fitted.mount
    line = _steady(
        base,
        line_between(
            base.roof.travel,
            cast("BodyName", mount.foot_on),
            (mount.foot_x, mount.foot_z),
            cast("BodyName", mount.head_on),
            (mount.head_x, mount.head_z),
        ),
    )
    most = np.zeros(base.rows)
    for _, heat, age in DAYS:
        drive = base.felt.drive.at(state(heat, age))
        gone = drive.rising - drive.springs_raising[0], drive.falling - drive.springs_lowering[0]
        for part in gone:
            most = np.maximum(most, hardest(needed_force(_wide(base, -part), line.rate, mount.count)).most)
    used = line.length.max(axis=-1) - line.length.min(axis=-1)
    return InPlaceOfSprings(fitted.name, mount.count, most, np.asarray(used))


def _alternative(base: Basis, found: InPlaceOfSprings | None) -> tuple[str, ...]:
    if found is None:
        return ()
    say = Wording(base.project.settings.units)
    return (
        f'Actuators in the places of "{found.name}" and without it would each have to push '
        f"{say.force(float(found.force[0]))} over a stroke of {say.short_length(float(found.used[0]))}, "
        f"{found.count} in all, half as much again to be sure.",
    )
