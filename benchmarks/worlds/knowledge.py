"""What the builder knows of a world: the middle of it, and the product's `Lift` with draws of all that is unknown."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace
from itertools import product as combinations

import numpy as np
from numpy.typing import NDArray

from loftwright.core.lifting import Chances, Demand, Entries, Formulas, Lift, Spread, SpringState
from loftwright.core.motion import Array, Motion, Travel, turning
from loftwright.mechanics import rules
from loftwright.mechanics.balance import span
from loftwright.reference.nitrogen import AIR_PRESSURE, FILLED_AT, FIT_PRESSURE, HEATING, HIGHEST_PRESSURE
from worlds.draw import (
    BATCH,
    CENTRE_HEIGHT,
    DRAG,
    EACH,
    LEAN,
    LIMITS,
    MOUNT,
    ROD_LENGTH,
    SCALES,
    SPRINGS,
    TAPE,
    TILT,
    Limits,
    Roof,
    World,
    hand_path,
    lip_reading,
)
from worlds.judge import COLD, GRAVITY, HOT, MILD, STARTED, stations

SHARES = stations(20)


def middle(world: World) -> Roof:
    """Return the roof as the middle of all that is known; the height of the centre is the middle of its range."""
    survey = world.survey
    mass = survey.at_hinge + survey.at_lip
    return Roof(
        lip=survey.lip,
        mass=mass,
        centre_x=survey.at_lip * survey.lip / mass,
        centre_z=float(np.mean(CENTRE_HEIGHT)),
        drag=float(np.mean(DRAG)),
        opening=math.asin(survey.rise / survey.lip),
        mount=np.zeros(4),
        upright=world.roof.upright,
    )


def delivered_spread() -> Spread:
    """Return the distribution of the mean delivered force of both springs, in units of the whole tolerance.

    A sum of n even chances with half widths a_i has P(sum < x) = sum over signs e of prod(e) (x + e.a)_+^n over
    n! prod(2 a_i).
    """
    halves = np.array([BATCH, *(SPRINGS * [EACH / SPRINGS])]) / (BATCH + EACH)
    x = np.linspace(-1.0, 1.0, 401)
    total = np.zeros_like(x)
    for signs in combinations((1.0, -1.0), repeat=halves.size):
        total += np.prod(signs) * np.maximum(x + np.dot(signs, halves), 0.0) ** halves.size
    cumulative = total / (math.factorial(halves.size) * np.prod(2 * halves))
    return Spread(x, np.clip(cumulative, 0.0, 1.0))


SPREAD = delivered_spread()


def centre_height(world: World, mass: Array, lip: Array, centre: Array, random: np.random.Generator) -> Array:
    """Return draws of the centre's height that agree with the raised reading [m], [draws].

    A height is drawn from its range until it would read within the scales' and the level's doubt.
    """
    height = random.uniform(*CENTRE_HEIGHT, mass.size)
    for _ in range(60):
        lean = LEAN + random.uniform(-TILT, TILT, mass.size)
        off = np.abs(lip_reading(mass, centre, height, lip, lean) - world.survey.raised) > SCALES
        if not off.any():
            break
        height = np.where(off, random.uniform(*CENTRE_HEIGHT, mass.size), height)
    return np.asarray(height)


def lever_of(
    foot: Motion, head: Motion, foot_x: Array, foot_z: Array, head_x: Array, head_z: Array, sideways: Array
) -> tuple[Array, Array]:
    """Return length and rate of a spring between two bodies, by the product's own formula."""
    return span(foot.point(foot_x, foot_z), head.point(head_x, head_z), sideways)


def warmed(force_1: Array, ratio: Array, loop: Array, rod: Array, kelvin: Array) -> tuple[Array, Array]:
    """Return F1 and F2/F1 at a temperature: the product's `at_temperature` with its fit in nested form."""
    half, area, t = loop / 2, np.pi / 4 * rod**2, np.asarray(kelvin) / FILLED_AT - 1
    by_pressure = [t * (HEATING[0, j] + t * HEATING[1, j]) for j in range(HEATING.shape[1])]

    def at(force: Array) -> Array:
        absolute = (force + half) / area + AIR_PRESSURE
        v = np.minimum(absolute, HIGHEST_PRESSURE) / FIT_PRESSURE
        more = v * (by_pressure[0] + v * (by_pressure[1] + v * (by_pressure[2] + v * by_pressure[3])))
        return np.asarray(area * (absolute * (1 + t + more) - AIR_PRESSURE) - half)

    first, second = at(force_1), at(force_1 * ratio)
    return first, second / first


def growth(ratio: Array, stroke: Array, c: Array) -> Array:
    """Return the gas force over that at full extension, by Boyle's law."""
    return np.asarray(1.0 / np.maximum(1.0 - (1.0 - 1.0 / ratio) / stroke * c, 0.1))


def bending_load(rod: Array, tube: Array, length: Array, bare: Array) -> Array:
    """Return a load beyond every push: bending is not among the rules here."""
    return np.full(np.broadcast_shapes(*(np.shape(v) for v in (rod, tube, length, bare))), 1e9)


FORMULAS = Formulas(lever_of, warmed, growth, bending_load)


@dataclass(frozen=True)
class Drawn:
    """Draws of all that the builder does not know, [draws]: the roof, the springs of one order, and the brackets.

    `delivered`, `ratio`, `loop`, `length` as in `Chances`; `apart` [m]: how far both springs' lengths lie from their
    mean; `foot_x` ... `head_z` [m].
    """

    lip: Array
    opening: Array
    mass: Array
    centre_x: Array
    centre_z: Array
    drag: Array
    delivered: Array
    ratio: Array
    loop: Array
    length: Array
    apart: Array
    foot_x: Array
    foot_z: Array
    head_x: Array
    head_z: Array

    @property
    def count(self) -> int:
        """Number of draws."""
        return int(self.lip.size)

    def only(self, rows: NDArray[np.intp]) -> Drawn:
        """Return some of the draws."""
        return Drawn(*(getattr(self, f.name)[rows] for f in fields(self)))

    def other_springs(self, random: np.random.Generator) -> Drawn:
        """Return the same roofs with springs of another order and the same body, of which nothing is known yet."""
        fresh = order(self.count, random)
        return replace(self, **fresh)


def order(draws: int, random: np.random.Generator) -> dict[str, Array]:
    """Return draws of one order of two springs."""
    each = random.uniform(-1, 1, (draws, SPRINGS)) * EACH
    loops, lengths = random.uniform(-1, 1, (2, draws, SPRINGS))
    return {
        "delivered": (random.uniform(-BATCH, BATCH, draws) + each.mean(axis=1)) / (BATCH + EACH),
        "loop": loops.mean(axis=1),
        "length": lengths.mean(axis=1),
        "apart": ROD_LENGTH * np.abs(np.diff(lengths, axis=1)[:, 0]) / 2,
    }


def drawn(world: World, draws: int, random: np.random.Generator) -> Drawn:
    """Return roofs as they may be, as far as the builder knows."""
    survey = world.survey
    at_hinge = survey.at_hinge + random.uniform(-SCALES, SCALES, draws)
    at_lip = survey.at_lip + random.uniform(-SCALES, SCALES, draws)
    lip = survey.lip + random.uniform(-TAPE, TAPE, draws)
    rise = survey.rise + random.uniform(-TAPE, TAPE, draws)
    mass = at_hinge + at_lip
    centre = at_lip * lip / mass
    off = random.uniform(-MOUNT, MOUNT, (4, draws))
    return Drawn(
        lip=lip,
        opening=np.arcsin(rise / lip),
        mass=mass,
        centre_x=centre,
        centre_z=centre_height(world, mass, lip, centre, random),
        drag=random.uniform(*DRAG, draws),
        ratio=random.uniform(-1, 1, draws),
        foot_x=off[0],
        foot_z=off[1],
        head_x=off[2],
        head_z=off[3],
        **order(draws, random),
    )


def lift(world: World, draws: int, random: np.random.Generator) -> Lift:
    """Return the roof as the builder knows it, in draws."""
    return lift_of(drawn(world, draws, random), upright=world.roof.upright, limits=world.limits)


def lift_of(d: Drawn, *, upright: bool, limits: Limits = LIMITS) -> Lift:
    """Return drawn roofs in the form in which the product chooses springs, with the benchmark's rules alone."""
    shares, draws = SHARES, d.count
    q = d.opening[:, None] * shares
    zero = np.zeros(draws)
    travel = Travel(shares, q, turning(zero, zero, q, np.ones_like(q), np.zeros_like(q)), ())
    weight = -GRAVITY * d.mass[:, None] * (d.centre_x[:, None] * np.cos(q) - d.centre_z[:, None] * np.sin(q))
    hand = hand_path(d.lip[:, None], q, upright)
    drag = d.drag[:, None]

    def where(asked: Array, bound: Array, nothing: float) -> Array:
        return np.asarray(np.where(asked, bound, nothing))

    top = shares == 1
    never, always = np.inf, -np.inf
    shut = where(shares == 0, -limits.shut * hand - weight, never)
    start = where(shares <= STARTED + 1e-9, -limits.start * hand - weight + drag, always)
    rises = where(shares >= limits.rises - 1e-9, drag - weight, always)
    stays = where(top, limits.stays * hand - weight, always)
    pull = limits.pull * hand - weight - drag
    cold, mild, hot = 0, 1, 2
    return Lift(
        travel=travel,
        demands=(
            Demand(rules.STAYS_SHUT, "at most", "at rest", hot, 0, shut),
            Demand(rules.START, "at least", "raising", cold, 0, start),
            Demand(rules.TAKES_OVER, "at least", "raising", mild, 0, rises),
            Demand(rules.SINKS, "at least", "at rest", cold, 0, stays),
            Demand(rules.PULL_START, "at most", "lowering", hot, 0, pull),
        ),
        states=tuple(
            SpringState(name, np.full(draws, kelvin), np.ones(draws))
            for name, kelvin in (("cold", COLD), ("mild", MILD), ("hot", HOT))
        ),
        hottest=hot,
        chances=Chances(d.delivered, d.ratio, d.loop, d.length, d.foot_x, d.foot_z, d.head_x, d.head_z, SPREAD),
        holding=np.ones(draws, dtype=bool),
        # The longer and the shorter of the two springs must both keep within their stroke.
        closed_margin=d.apart,
        open_margin=d.apart,
        bracket_limit=None,
        bending_factor=1.0,
        top_pressure=np.inf,
        formulas=FORMULAS,
    )


def expected(d: Drawn, spring: Entries, fits: Array, q: Array, kelvin: Array, moving: float, *, upright: bool) -> Array:
    """Return the force at the handle [N] that raises (moving 1) or lowers (-1) the roof in each draw, [fits, draws].

    `spring` is one entry, in all `fits`; `q` [rad] and `kelvin` [K] are [draws].
    """
    x, z = fits[:, 1, None] + d.foot_x, fits[:, 2, None] + d.foot_z
    hx, hz = fits[:, 3, None] + d.head_x, fits[:, 4, None] + d.head_z
    cos, sin = np.cos(q), np.sin(q)
    px, pz = hx * cos - hz * sin, hx * sin + hz * cos
    length = np.hypot(px - x, pz - z)
    arm = (x * pz - z * px) / length
    loop = np.maximum(spring.loop + spring.loop_doubt * d.loop, 0.0)
    ratio = spring.ratio + spring.ratio_doubt * d.ratio
    force, ratio = warmed(spring.force_1, ratio, loop, spring.rod_diameter, kelvin)
    squeezed = spring.extended + spring.length_doubt * d.length - length
    gas = force * (1 + spring.tolerance * d.delivered) * growth(ratio, spring.stroke, squeezed)
    push = SPRINGS * arm * (gas + np.where(moving * arm < 0, loop, 0.0))
    weight = GRAVITY * d.mass * (d.centre_x * cos - d.centre_z * sin)
    return np.asarray(-moving * (push - weight - moving * d.drag) / hand_path(d.lip, q, upright))
