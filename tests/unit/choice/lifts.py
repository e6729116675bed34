"""One small roof on a hinge, in many draws, as the choice of springs takes it, and lists of invented springs.

Bounds on the springs' share are worked out here from the principle of virtual work, for a weight and a pin friction.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import erf
from typing import Any

import numpy as np

from loftwright.core.checks import Rule, Source
from loftwright.core.lifting import Chances, Demand, Entries, Lift, Pair, Spread, SpringState, Zone
from loftwright.core.motion import Travel
from loftwright.mechanics.hinge import hinge_travel
from loftwright.mechanics.tried import FORMULAS

G = 9.80665
HINGE_X, HINGE_Z = 2.1, 0.0
COLD, MILD, HOT = 0, 1, 2
AGED = 0.92
LIMITS = {"shut": 15.0, "start": 120.0, "rises": 0.45, "stays up": 40.0, "pull": 150.0}


def rule(name: str, sense: Any) -> Rule:
    """Return a rule that only this file knows."""
    return Rule(name, name, name, "N", sense, "", "", Source("constructed", "", "judgement"))


@dataclass(frozen=True)
class Roof:
    """The drawn values behind a lift, [draws] each."""

    travel: Travel
    mass: Any
    x: Any
    z: Any
    friction: Any
    handle: Any


def roof(draws: int, seed: int, stations: int = 31, *, mass: float = 46.0, doubt: float = 1.0) -> Roof:
    """Return a roof of about 46 kg; row 0 is nominal."""
    rng = np.random.default_rng(seed)

    def drawn(nominal: float, two_sd: float) -> Any:
        values = nominal + doubt * two_sd / 2 * rng.standard_normal(draws)
        values[0] = nominal
        return values

    travel = hinge_travel(
        np.full(draws, HINGE_X),
        np.full(draws, HINGE_Z),
        np.full(draws, np.radians(28.0)),
        end="front",
        stations=stations,
    )
    friction = np.abs(drawn(3.0, 2.0))
    return Roof(travel, drawn(mass, 1.5), drawn(1.08, 0.03), drawn(0.07, 0.04), friction, np.zeros(draws))


def lift_of(drawn: Roof, seed: int, *, lost: bool = False, limits: dict[str, float] = LIMITS) -> Lift:
    """Return what the roof asks of its springs."""
    travel = drawn.travel
    draws, fraction = drawn.mass.size, travel.fraction
    rng = np.random.default_rng([seed, 1])
    way = travel.shell.point(drawn.handle, 0 * drawn.handle).dz
    weight = -G * drawn.mass[:, None] * travel.shell.point(drawn.x, drawn.z).dz
    friction = drawn.friction[:, None] * np.ones_like(way)

    def asked(name: str, sense: Any, moving: Any, state: int, where: Any, bound: Any, gone: int = 0) -> Demand:
        nothing = -np.inf if sense == "at least" else np.inf
        return Demand(rule(name, sense), sense, moving, state, gone, np.where(where, bound, nothing))

    demands = [
        asked("shut", "at most", "at rest", HOT, fraction <= 0.05, -limits["shut"] * way - weight),
        asked("start", "at least", "raising", COLD, fraction <= 0.1, friction - weight - limits["start"] * way),
        asked("rises", "at least", "raising", MILD, fraction >= limits["rises"], friction - weight),
        asked("stays up", "at least", "at rest", COLD, fraction >= 0.95, limits["stays up"] * way - weight),
        asked("pull", "at most", "lowering", HOT, fraction >= 0.0, limits["pull"] * way - weight - friction),
    ]
    if lost:
        demands.append(asked("one lost", "at least", "at rest", COLD, fraction >= 0.95, -weight, 1))

    def chance() -> Any:
        values = rng.standard_normal(draws) / 2
        values[0] = 0.0
        return values

    def even(half: float) -> Any:
        values = rng.uniform(-half, half, draws)
        values[0] = 0.0
        return values

    x = np.linspace(-2.5, 2.5, 401)
    cumulative = np.array([0.5 + 0.5 * erf(v * 2 / 2**0.5) for v in x])
    chances = Chances(
        chance(), chance(), chance(), chance(), even(5e-3), even(5e-3), even(5e-3), even(5e-3), Spread(x, cumulative)
    )
    age = np.ones(draws)
    states = tuple(
        SpringState(name, np.full(draws, 273.15 + celsius) + (even(2.0) if draws > 1 else 0.0), age * left)
        for name, celsius, left in (("cold", -5.0, AGED), ("mild", 20.0, 1.0), ("hot", 40.0, 1.0))
    )
    return Lift(
        travel=travel,
        demands=tuple(demands),
        states=states,
        hottest=HOT,
        chances=chances,
        holding=np.ones(draws, dtype=bool),
        closed_margin=np.full(draws, 0.005),
        open_margin=np.full(draws, 0.005),
        bracket_limit=np.full(draws, 1500.0),
        bending_factor=3.0,
        top_pressure=16.0e6,
        formulas=FORMULAS,
    )


def small_lift(draws: int = 40, seed: int = 5, stations: int = 31, **more: Any) -> Lift:
    """Return the usual roof."""
    return lift_of(roof(draws, seed, stations), seed, **more)


def pair(*, wider: float = 0.0, sideways: float = 0.0, per_side: int = 1) -> Pair:
    """Return zones for the foot on the van and the head on the shell, each `wider` [m] on every side."""
    return Pair(
        Zone("foot", "van", 1.60 - wider, 1.95 + wider, -0.12 - wider, -0.03 + wider, 0.60),
        Zone("head", "shell", 1.15 - wider, 1.55 + wider, -0.02 - wider, 0.04 + wider, 0.60 + sideways),
        per_side,
    )


def listed(*, strokes: Any = range(100, 501, 50), forces: Any = range(150, 801, 50), kinds: int = 1) -> Entries:
    """Return springs of all forces for all strokes [mm]; `kinds` sets of them with other ratios and lengths."""
    rows = []
    for body, (kind, stroke) in enumerate((k, s) for k in range(kinds) for s in strokes):
        rod, tube = (0.008, 0.018) if kind % 2 else (0.010, 0.022)
        ratio, dead = 1.25 + 0.15 * (kind * 7 % 11) / 11, 0.045 + 0.015 * (kind * 5 % 7) / 7
        for force in forces:
            rows.append((force, ratio, stroke / 1000, 2 * stroke / 1000 + dead, rod, tube, body))
    force, ratio, stroke, extended, rod, tube, body = (
        np.array(column, dtype=float) for column in zip(*rows, strict=True)
    )
    same = np.ones(len(rows))
    return Entries(
        names=tuple(f"{b:.0f}-{f:.0f}" for f, b in zip(force, body, strict=True)),
        force_1=force,
        ratio=ratio,
        ratio_doubt=0.03 * same,
        loop=60.0 * same,
        loop_doubt=20.0 * same,
        stroke=stroke,
        extended=extended,
        length_doubt=0.002 * same,
        rod_diameter=rod,
        tube_diameter=tube,
        tolerance=0.05 * same,
        end_limit=1500.0 * same,
        price=np.nan * same,
        body=body.astype(np.intp),
    )
