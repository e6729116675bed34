"""Worlds: roofs with hidden values, what a builder finds out about them, and the springs on offer.

Every figure is drawn evenly between its ends, and every +- is half the width of an even range. Frame: the hinge lies
at the origin, x runs to the lip, z up, all points for the closed roof; the shell turns from x towards z.

What the settings leave open is taken so:

- The rise is drawn evenly from the part of 0.70 to 1.15 m that opens by 20 to 38 degrees.
- The handle sits at the lip, level with the hinge, and the hand pushes along its path: force times the distance from
  the hinge is the moment. (`upright`: straight up or down, as a strap hangs, which is a stricter pull-down limit.)
- Two springs, left and right, push in planes along the travel.
- A force in the list is F1, moving out near full extension at 20 C. Ratio and extended length belong to a body (rod,
  tube and stroke) and are the same for all its forces; so is the error of the ratio.
- A batch is one entry of the list: both springs of an order share the batch's error, each has its own besides.
- The survey: scales under the hinge line and under the lip, each +-0.5 kg; the same scales under the lip once more,
  the lip raised by 30 degrees +-0.5 degree; hinge to lip and the rise by tape, +-5 mm.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.lifting import Entries, Pair, Zone
from loftwright.core.motion import Array

SCALES = 0.5
TAPE = 0.005
TILT = np.radians(0.5)
LEAN = np.radians(30.0)
MOUNT = 0.005
BATCH, EACH = 0.05, 0.02
HALF_LOOP = (20.0, 60.0)
ROD_LENGTH = 0.002
RATIO = 0.03
DRAG = (0.0, 5.0)
CENTRE_HEIGHT = (0.02, 0.12)
SPRINGS = 2


@dataclass(frozen=True)
class Limits:
    """What is asked at the handle [N], and from which share of the travel on the roof rises by itself."""

    shut: float = 15.0
    start: float = 120.0
    stays: float = 40.0
    pull: float = 150.0
    rises: float = 0.45


LIMITS = Limits()


@dataclass(frozen=True)
class Roof:
    """One roof: hinge to lip [m], mass [kg], centre [m], friction moment [N m], opening [rad].

    `mount`: how far foot x, foot z, head x, head z [m] sit from where they are meant to be, [4].
    `cloth` [N] pulls down at the lip from half open on, growing evenly to the top. `upright`: how the hand acts.
    """

    lip: float
    mass: float
    centre_x: float
    centre_z: float
    drag: float
    opening: float
    mount: Array
    cloth: float = 0.0
    upright: bool = False


@dataclass(frozen=True)
class Springs:
    """Real springs of every entry at 20 C: F1 [N], full loop [N], extended length [m], each [entries, springs].

    `ratio` and `stroke` [m], `rod` [m] are [entries].
    """

    force_1: Array
    loop: Array
    extended: Array
    ratio: Array
    stroke: Array
    rod: Array


@dataclass(frozen=True)
class Survey:
    """What the builder reads: scales [kg] under hinge line, lip, and lip when raised; lip and rise by tape [m]."""

    at_hinge: float
    at_lip: float
    raised: float
    lip: float
    rise: float


@dataclass(frozen=True)
class World:
    """A roof and the springs on offer, hidden; the survey, the list and the zones, known to the builder."""

    number: int
    roof: Roof
    springs: Springs
    survey: Survey
    entries: Entries
    pair: Pair
    seed: tuple[int, ...]
    limits: Limits = LIMITS

    def random(self, stream: int) -> np.random.Generator:
        """Return the chances of this world's stream; every part of the benchmark has its own."""
        return np.random.default_rng([*self.seed, stream])


def catalogue(random: np.random.Generator) -> Entries:
    """Return a supplier's list: 8/18 mm up to 750 N, 10/22 mm up to 800 N, nine strokes."""
    rows = []
    body = 0
    for rod, tube, top in ((0.008, 0.018, 750), (0.010, 0.022, 800)):
        for stroke in range(100, 501, 50):
            extended = 2 * stroke / 1000 + random.uniform(0.045, 0.060)
            ratio = random.uniform(1.25, 1.40)
            rows += [(rod, tube, stroke / 1000, extended, ratio, force, body) for force in range(100, top + 1, 50)]
            body += 1
    rod, tube, stroke, extended, ratio, force, body = np.array(rows).T
    same = np.ones(len(rows))
    middle, half = np.mean(HALF_LOOP), np.ptp(HALF_LOOP) / 2
    return Entries(
        names=tuple(f"{d * 1000:.0f}/{t * 1000:.0f} {f:.0f} N {s * 1000:.0f} mm" for d, t, s, _, _, f, _ in rows),
        force_1=force,
        ratio=ratio,
        ratio_doubt=RATIO * same,
        loop=2 * middle * same,
        loop_doubt=2 * half * same,
        stroke=stroke,
        extended=extended,
        length_doubt=ROD_LENGTH * same,
        rod_diameter=rod,
        tube_diameter=tube,
        tolerance=(BATCH + EACH) * same,
        end_limit=np.inf * same,
        price=np.nan * same,
        body=body.astype(np.intp),
    )


def nominal_springs(entries: Entries) -> Springs:
    """Return the springs as the list has them."""
    one = np.ones((1, SPRINGS))
    return Springs(
        entries.force_1[:, None] * one,
        entries.loop[:, None] * one,
        entries.extended[:, None] * one,
        entries.ratio,
        entries.stroke,
        entries.rod_diameter,
    )


def hidden_springs(entries: Entries, random: np.random.Generator) -> Springs:
    """Return the springs as they would really come."""
    many = (len(entries.names), SPRINGS)
    batch = random.uniform(-BATCH, BATCH, many[0])
    each = random.uniform(-EACH, EACH, many)
    wrong = random.uniform(-RATIO, RATIO, int(entries.body.max()) + 1)
    return Springs(
        entries.force_1[:, None] * (1 + batch[:, None] + each),
        2 * random.uniform(*HALF_LOOP, many),
        entries.extended[:, None] + random.uniform(-ROD_LENGTH, ROD_LENGTH, many),
        entries.ratio + wrong[entries.body],
        entries.stroke,
        entries.rod_diameter,
    )


def lip_reading(mass: Array, centre_x: Array, centre_z: Array, lip: Array, lean: Array) -> Array:
    """Return what scales under the lip read [kg] when the shell leans: moments about the hinge line."""
    return np.asarray(mass * (centre_x - centre_z * np.tan(lean)) / lip)


def hand_path(lip: Array, q: Array, upright: bool) -> Array:
    """Return how far the hand moves for each radian [m] at an angle q [rad]: force times this is the moment."""
    return np.asarray(lip * (np.cos(q) if upright else np.ones_like(q)))


def surveyed(roof: Roof, rise: float, random: np.random.Generator) -> Survey:
    """Return the builder's readings of a roof."""
    at_lip = roof.mass * roof.centre_x / roof.lip
    lean = LEAN + random.uniform(-TILT, TILT)
    raised = lip_reading(*(np.float64(v) for v in (roof.mass, roof.centre_x, roof.centre_z, roof.lip, lean)))
    errors = random.uniform(-SCALES, SCALES, 3)
    return Survey(
        at_hinge=roof.mass - at_lip + errors[0],
        at_lip=at_lip + errors[1],
        raised=float(raised) + errors[2],
        lip=roof.lip + random.uniform(-TAPE, TAPE),
        rise=rise + random.uniform(-TAPE, TAPE),
    )


def world(number: int, seed: int, *, upright: bool = False) -> World:
    """Return one world; the same number and seed give the same world everywhere."""
    random = np.random.default_rng([seed, number, 0])
    lip = random.uniform(1.6, 2.6)
    rise = random.uniform(max(0.70, lip * np.sin(np.radians(20.0))), min(1.15, lip * np.sin(np.radians(38.0))))
    roof = Roof(
        lip=lip,
        mass=random.uniform(30.0, 70.0),
        centre_x=random.uniform(0.42, 0.56) * lip,
        centre_z=random.uniform(*CENTRE_HEIGHT),
        drag=random.uniform(*DRAG),
        opening=float(np.arcsin(rise / lip)),
        mount=random.uniform(-MOUNT, MOUNT, 4),
        upright=upright,
    )
    van, shell = random.uniform(0.08, 0.45), random.uniform(0.30, 0.75)
    foot = Zone("van", "van", van, van + 0.35, -random.uniform(0.07, 0.14), -0.03, 0.6)
    head = Zone("shell", "shell", shell, shell + 0.40, -0.02, 0.04, 0.6)
    survey = surveyed(roof, rise, random)
    entries = catalogue(random)
    springs = hidden_springs(entries, random)
    return World(number, roof, springs, survey, entries, Pair(foot, head, 1), (seed, number))
