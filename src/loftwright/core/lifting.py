"""What a roof asks of its springs, in the form in which the choice of springs is made.

Every requirement on hand forces is a bound on one number, the springs' generalised force

    S = N F(c) dL/dq   [N m/rad],  positive in the opening sense,                          (1)

at every opening, in one state (spring temperature and age) and one way of moving. N springs of one kind push
with F along their line of length L; q is the driving angle and c the compression. F is linear in the delivered
factor g, so that for given ends of the springs every bound on S is a bound on g, in closed form, for all draws
at once. Arrays are [draws] or [draws, travel] unless said otherwise.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from loftwright.core.checks import Rule, Sense
from loftwright.core.motion import Array, Flags, Motion, Travel

Moving = Literal["raising", "lowering", "at rest"]
"""How the roof moves: a spring that grows longer pushes with its outward force F, one that is squeezed with F + loop;
at rest, friction shaken off, with F + loop/2."""


@dataclass(frozen=True, slots=True)
class Demand:
    """One rule as a bound on S of all tried springs together, over part of the travel.

    `bound` [N m/rad], [draws, travel]: S must be at least (or at most) this; -inf (or +inf) where nothing is asked.
    `state` is the place in `Lift.states`; `lost` how many of the tried springs are gone.
    """

    rule: Rule
    sense: Sense
    moving: Moving
    state: int
    lost: int
    bound: Array


@dataclass(frozen=True, slots=True)
class SpringState:
    """Spring temperature `kelvin` [K] and the share `age` [1] of the gas force that is left, each [draws]."""

    name: str
    kelvin: Array
    age: Array


@dataclass(frozen=True, slots=True)
class Spread:
    """Distribution of a chance in units of its stated doubt: cumulative probability [k] over `x` [k], rising."""

    x: Array
    cumulative: Array

    def below(self, value: Array) -> Array:
        """Return the probability [1] of a chance below `value`, any shape."""
        return np.asarray(np.interp(value, self.x, self.cumulative))


@dataclass(frozen=True, slots=True)
class Chances:
    """Draws of what is not known of any spring or bracket, each [draws].

    `delivered`, `ratio`, `loop` and `length` are in units of the doubt that the spring's list states (two standard
    deviations, or half an even range): value = nominal + doubt x chance; `spread` is the distribution of `delivered`.
    `foot_x` ... `head_z` [m]: how far a bracket sits from where it was meant, the same for every hole of it.
    """

    delivered: Array
    ratio: Array
    loop: Array
    length: Array
    foot_x: Array
    foot_z: Array
    head_x: Array
    head_z: Array
    spread: Spread


@dataclass(frozen=True, slots=True)
class Entries:
    """Gas springs of a list, each field [entries]; forces of one spring, at 20 C, new.

    `force_1` F1 [N]; `ratio` F2/F1 and its doubt; `loop` full friction loop [N] and its doubt; `stroke` [m];
    `extended` [m] and its doubt; `rod_diameter`, `tube_diameter` [m]; `tolerance` [1] of the delivered force;
    `end_limit` [N]; `price` (nan: not given). `body` numbers springs that are alike in all but force: equal numbers
    share ratio, loop, stroke, extended length, diameters and doubts.
    """

    names: tuple[str, ...]
    force_1: Array
    ratio: Array
    ratio_doubt: Array
    loop: Array
    loop_doubt: Array
    stroke: Array
    extended: Array
    length_doubt: Array
    rod_diameter: Array
    tube_diameter: Array
    tolerance: Array
    end_limit: Array
    price: Array
    body: NDArray[np.intp]

    def pick(self, index: NDArray[np.intp]) -> Entries:
        """Return the entries at `index` [k], in that order."""
        arrays = {f.name: getattr(self, f.name)[index] for f in fields(self) if f.name != "names"}
        return Entries(names=tuple(self.names[int(i)] for i in index), **arrays)


@dataclass(frozen=True, slots=True)
class Zone:
    """Where a bracket may sit, closed: a rectangle [m] in the side view on a body, `place` [m] from the middle plane.

    `on`: "van", "shell", "arm a" or "arm b".
    """

    name: str
    on: str
    x_low: float
    x_high: float
    z_low: float
    z_high: float
    place: float


@dataclass(frozen=True, slots=True)
class Pair:
    """A zone for the foot with a zone for the head, and how many springs a side."""

    foot: Zone
    head: Zone
    per_side: int

    @property
    def sideways(self) -> float:
        """Distance across between the two ends of one spring [m]."""
        return self.head.place - self.foot.place

    @property
    def count(self) -> int:
        """Number of springs, both sides together."""
        return 2 * self.per_side


LeverOf = Callable[[Motion, Motion, Array, Array, Array, Array, Array], tuple[Array, Array]]
"""(foot body, head body, foot x, foot z, head x, head z, sideways) [...] -> length [m] and rate [m/rad], [..., n].

It must go by broadcasting alone: a search lets the travel stand first and hands in a last axis of one.
"""
WarmedBy = Callable[[Array, Array, Array, Array, Array], tuple[Array, Array]]
"""(F1, ratio, loop, rod diameter, kelvin) -> F1 and ratio at that temperature; all broadcast."""
GrowthOf = Callable[[Array, Array, Array], Array]
"""(ratio, stroke, compression) with ratio and stroke broadcasting against compression -> F(c)/F1."""
BendingLoad = Callable[[Array, Array, Array, Array], Array]
"""(rod diameter, tube diameter, length, bare rod) -> load at which the spring bends sideways [N]; all broadcast."""


@dataclass(frozen=True, slots=True)
class Formulas:
    """The mechanics' own formulas, handed in so that each is written in one place."""

    lever: LeverOf
    warmed: WarmedBy
    growth: GrowthOf
    bending_load: BendingLoad


@dataclass(frozen=True, slots=True)
class Lift:
    """One roof in many draws, ready to try springs on it.

    `demands` leave the tried springs out; weight, friction and all other loads are in their bounds. `holding` [draws]
    says where everything holds that no spring can change. `closed_margin` and `open_margin` [m] are the stroke to
    keep at both ends; `hottest` the place of the state in which springs push most; `bracket_limit` [N] or None;
    `bending_factor` how many times the greatest push a rod must bear; `top_pressure` [Pa] of the gas, pushed in at
    20 C, above which no spring is taken.
    """

    travel: Travel
    demands: tuple[Demand, ...]
    states: tuple[SpringState, ...]
    hottest: int
    chances: Chances
    holding: Flags
    closed_margin: Array
    open_margin: Array
    bracket_limit: Array | None
    bending_factor: float
    top_pressure: float
    formulas: Formulas

    @property
    def draws(self) -> int:
        """Number of draws."""
        return int(self.holding.size)

    def only(self, rows: NDArray[np.intp]) -> Lift:
        """Return the same roof in the draws `rows` [k] alone; what is shared by all draws stays shared."""

        def few(values: Array) -> Array:
            return values[rows] if values.shape[0] == self.draws else values

        def body(motion: Motion) -> Motion:
            # One row stands for all draws.
            parts = (np.atleast_2d(getattr(motion, f.name)) for f in fields(motion))
            return Motion(*(few(part) for part in parts))

        travel = self.travel
        drawn = {f.name: few(getattr(self.chances, f.name)) for f in fields(self.chances) if f.name != "spread"}
        return replace(
            self,
            travel=Travel(travel.fraction, few(travel.q), body(travel.shell), tuple(body(a) for a in travel.arms)),
            demands=tuple(replace(d, bound=few(d.bound)) for d in self.demands),
            states=tuple(replace(s, kelvin=few(s.kelvin), age=few(s.age)) for s in self.states),
            chances=Chances(**drawn, spread=self.chances.spread),
            holding=self.holding[rows],
            closed_margin=few(self.closed_margin),
            open_margin=few(self.open_margin),
            bracket_limit=None if self.bracket_limit is None else few(self.bracket_limit),
        )


@dataclass(frozen=True, slots=True)
class Fit:
    """Springs tried on a roof: which of the pairs of zones, which entry, and where the ends sit, closed [m]."""

    pair: int
    entry: int
    foot_x: float
    foot_z: float
    head_x: float
    head_z: float
