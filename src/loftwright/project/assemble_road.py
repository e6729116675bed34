"""From the keys on latches, road, hinges and shell to what strength asks of the closed roof on the road."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.core.motion import Array, Wrench, thinned
from loftwright.mechanics.balance import Lifter, Load, Push, lever, push_of
from loftwright.mechanics.feel import Roof
from loftwright.mechanics.lifters import lifters
from loftwright.mechanics.masses import Body
from loftwright.mechanics.reactions import reactions
from loftwright.plan.scout import Outline
from loftwright.project.assemble_panel import panel_load
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.project.plane import LENGTHWISE, end_in_plane, plane_of
from loftwright.reference.metals import bar_metal
from loftwright.reference.wind import AIR_DENSITY
from loftwright.strength.latch_bar import Bar
from loftwright.strength.latched import Held
from loftwright.strength.road import STRIP_LENGTH, Cap, RoadAir, air_per_pressure, push_at, tossed_up
from loftwright.strength.road import Push as SideLoad
from loftwright.strength.road_forces import Catch, Drive, HeldCases, Rated, Shut
from loftwright.strength.road_rules import RoadLimits

STRIP_MORE: Final = 0.6
"""How much more the air sucks just behind the front edge than over the rest [1]: judgement, about -1.2 there."""
CENTRE: Final = 0.425
"""Where the suction behind that strip acts, as a share of its length from the front [1]: judgement, its middle."""
STOP_STIFFNESS: Final = 3.0e6
"""Stiffness of a solid stop with what it stands on [N/m]: judgement, hard plastic on a ring of sheet."""
PRESSED: Final = 10.0
"""Least push with which a stop counts as pressed [N]: judgement."""
CATCH_SLACK: Final = 0.010
"""How far the shell rises before a safety catch bites [m]: judgement."""
NEAREST: Final = 0.2
"""Latches lie at least this share of the shell's length from its hinged end [1]: judgement, else they hold nothing."""
LEAST_SEAL: Final = 0.1
"""Share of a free seal's height by which it is squeezed when it just seals [1], as `fit.seal_most` says."""
MOST_FORCE: Final = 1.0e6
"""Forces beyond this [N] are written as this: near a dead point of the arms they grow without bound."""


def seal_room(at: Values) -> Array:
    """Return how far the rim may rise before its seal only just seals [m], [rows].

    The squeeze on the stops less a tenth of the free height, of which `fit.seal_most` is nine tenths.
    """
    return np.asarray(at("forces.seal_height") - at("fit.seal_most") * LEAST_SEAL / (1 - LEAST_SEAL))


def latch_line(project: Project, at: Values, roof: Roof) -> tuple[Array, Array]:
    """Return where the latches hold the closed shell, (x, z) [m], [rows]."""
    towards = 1.0 if end_in_plane(project) == "front" else -1.0
    inset = np.minimum(at("latches.inset"), (1 - NEAREST) * roof.rim.length)
    return np.asarray(roof.lip[0] + towards * inset), np.asarray(roof.lip[1])


def cap(roof: Roof, outline: Outline) -> Cap:
    """Return the closed shell as the air meets it, in the plane of motion."""
    highest = np.maximum(np.maximum(outline.rear, outline.middle), outline.front)
    return Cap(roof.rim.rear, roof.rim.length, roof.rim.width, roof.rim.z, np.asarray(highest))


def road_air(project: Project, at: Values) -> RoadAir:
    """Return the coefficients of the air; of a roof hinged at a side the drag is no part of the plane of motion."""
    mean, under = -at("road.suction"), at("road.under")
    one = np.ones_like(mean)
    if plane_of(project) is LENGTHWISE:
        return RoadAir(mean, mean - STRIP_MORE, STRIP_LENGTH * one, CENTRE * one, at("road.drag"), under, one)
    return RoadAir(mean, mean, 0 * one, 0.5 * one, 0 * one, under, one)


@dataclass(frozen=True, slots=True)
class OnRoad:
    """Everything that the closed roof's strength on the road is reckoned from; arrays [rows].

    `latch_x`, `latch_z` [m]; `panel`: what the air adds at a panel per pressure [m2]; `catch` and what
    holds it are None where there is none.
    """

    shut: Shut
    cases: HeldCases
    bar: Bar
    drive: Drive
    rated: Rated
    limits: RoadLimits
    catch: Catch | None
    latch_x: Array
    latch_z: Array
    bounded: bool
    panel: SideLoad | None


def on_road(project: Project, at: Values, roof: Roof, outline: Outline, twist: Array | None) -> OnRoad:
    """Return what the closed roof's strength on the road is reckoned from.

    `twist` is the shell's stiffness in twist from hinge line to latches [N m/rad], [rows]; None, where nobody knows it,
    takes the shell as stiff.
    """
    latch_x, latch_z = latch_line(project, at, roof)
    shell, drive = _shut(project, at, roof, outline), _drive(at)
    panel = panel_load(project, at, outline)
    cases, bounded = _cases(project, at, roof, shell, drive, (latch_x, latch_z), panel)
    safety = at("safety.parts") * at("safety.load")
    latch, hinge = at("latches.limit"), at("hinges.pull_limit")
    one = np.ones_like(latch)
    bar = _bar(project, at, twist)
    has = project.latches.catch
    given = project.latches.catch_limit is not None
    return OnRoad(
        shut=shell,
        cases=cases,
        bar=bar,
        drive=drive,
        rated=Rated(latch / safety, hinge / safety, PRESSED * one),
        limits=RoadLimits(
            latch=latch,
            hinge=hinge,
            catch=at("latches.catch_limit") if has and given else latch,
            safety=safety,
            stop=PRESSED * one,
            follow=seal_room(at),
            rare=at("safety.parts"),
        ),
        catch=_catch(at, bar) if has else None,
        latch_x=latch_x,
        latch_z=latch_z,
        bounded=bounded,
        panel=panel,
    )


def _drive(at: Values) -> Drive:
    speed = at("road.speed")
    return Drive(speed, at("road.head_wind"), 0 * speed, AIR_DENSITY + 0 * speed, at("road.bump"))


def _shut(project: Project, at: Values, roof: Roof, outline: Outline) -> Shut:
    """Return the closed shell; where no stops stand, its seal takes their place under the latches."""
    around = cap(roof, outline)
    line, none = at("forces.seal_line"), np.zeros_like(roof.rim.z)
    seal = np.maximum(line, 1.0) * around.perimeter / at("forces.seal_height") / project.latches.count
    stops = project.latches.stops
    return Shut(
        around,
        road_air(project, at),
        roof.body.mass,
        roof.body.x,
        roof.body.z,
        line if stops else none,
        push_at(none, none, up=none),
        at("latches.preload"),
        STOP_STIFFNESS + none if stops else seal,
        none,
    )


def _catch(at: Values, bar: Bar) -> Catch:
    """Return a catch like a latch, in the middle of the bar, which bends: 48 EI / b^3 as a beam on its two ends."""
    middle = 48 * bar.bending / bar.width**3
    return Catch(CATCH_SLACK + 0 * middle, 1 / (1 / at("latches.stiffness") + 1 / middle))


def _bar(project: Project, at: Values, twist: Array | None) -> Bar:
    """Return the latch bar; hinges and shell together resist being lifted at one side."""
    latches, width = project.latches, at(plane_of(project).shell_across)
    outer, wall = at("latches.bar_size"), at("latches.bar_wall")
    inner = np.maximum(outer - 2 * wall, 0.0)
    bending = bar_metal(latches.bar_metal).young * (outer**4 - inner**4) / 12
    spread = np.minimum(at("latches.spread"), width) if latches.count > 1 else 0 * width
    places = np.linspace(-0.5, 0.5, latches.count) if latches.count > 1 else np.zeros(1)
    hinges = at("hinges.upright") * at("linkage.spacing") ** 2 / 2
    roll = hinges if twist is None else 1 / (1 / hinges + 1 / twist)
    return Bar(np.asarray(spread[..., None] * places), width, bending, at("latches.stiffness"), roll)


def _springs(roof: Roof, still: Array) -> tuple[tuple[Push, ...], tuple[Lifter, ...]]:
    """Return what lifts the closed roof, hot and new, for the cases that are `still` [cases, 1]."""
    ends = thinned(roof.travel, roof.travel.fraction.size - 1)
    mask = still[..., None]
    found = []
    for fitted in roof.fitted:
        push = push_of(fitted.mount, lever(fitted.mount, ends), kelvin=roof.climate.sun, factor=fitted.delivered)
        most = np.maximum(push.raising, push.lowering) * mask
        found.append(replace(push, raising=most, lowering=most))
    others = tuple(
        replace(
            one,
            parts=tuple(
                replace(part, raising=part.raising.scaled(still), lowering=part.raising.scaled(still))
                for part in one.parts
            ),
        )
        for one in lifters(roof.gear, ends)
    )
    return tuple(found), others


def _cases(
    project: Project,
    at: Values,
    roof: Roof,
    shell: Shut,
    drive: Drive,
    latch: tuple[Array, Array],
    panel: SideLoad | None,
) -> tuple[HeldCases, bool]:
    """Return what holds the closed shell in each case, by equilibrium of shell and arms, and whether it is bounded.

    Pins of arms count at both ends: at the van's end they also bear what a spring does to the arm.
    """
    ends = thinned(roof.travel, roof.travel.fraction.size - 1)
    loads = [shell.still(bump) for bump in (0 * drive.bump, -tossed_up(drive.bump), drive.bump)]
    blown = air_per_pressure(shell.cap, shell.air)
    loads.append(blown if panel is None else blown + panel)
    load = _as_load(loads)
    still = np.array([1.0, 1.0, 1.0, 0.0])[:, None]
    pushes, others = _springs(roof, still)
    zero = np.zeros_like(shell.mass)
    found = reactions(
        ends, Body(zero, zero, zero, zero), pushes, (load,), zero, latch, roof.pins, going="up", lifters=others
    )
    rows = (4, np.size(zero))

    def closed(value: Array) -> Array:
        whole = np.broadcast_to(value[..., 0], rows)
        return np.asarray(np.clip(whole, -MOST_FORCE, MOST_FORCE))

    line = -closed(found.hand)
    pins = found.on_shell if roof.travel.hinged else (*found.on_shell, *found.at_van)
    forward, up = (np.stack([closed(pin[axis]) for pin in pins], axis=-1) for axis in (0, 1))
    held = [Held(line[case], forward[case], up[case]) for case in range(4)]
    across = zero if plane_of(project) is LENGTHWISE else _across(at, roof, shell)
    rest, tossed, pressed, air = held
    return HeldCases(rest, tossed, pressed, air, across, zero), bool(np.all(found.bounded[..., 0]))


def _across(at: Values, roof: Roof, shell: Shut) -> Array:
    """Return what one hinge along a side takes of the drag for one pascal [m2]: along its pin, and for the yaw."""
    drag = at("road.drag") * shell.cap.length * shell.cap.step
    arm = np.abs(shell.cap.rear + shell.cap.length / 2 - roof.pins.shell[0][0])
    return np.asarray(drag * np.hypot(0.5, arm / at("linkage.spacing")))


def _as_load(loads: list[SideLoad]) -> Load:
    """Return loads in the side view as one load of as many cases, [cases, rows, 1]."""
    shares = [np.broadcast_arrays(load.forward, load.up, load.moment) for load in loads]
    wrench = Wrench(*(np.stack([one[axis] for one in shares])[..., None] for axis in range(3)))
    return Load("closed shell on the road", wrench, wrench)
