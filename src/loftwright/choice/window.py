"""Between which delivered forces a spring meets every demand, in closed form, for all draws at once.

N springs of one kind push with S = N F dL/dq [N m/rad], dL/dq their rate over the driving angle q. Slowly moved,

    F = X h(c) + a,   X = w g,   h(c) = growth over compression c,                              (1)

with w the force of the warmed and aged spring by its list [N], g the delivered factor [1] and a = 0, loop/2 or loop
the friction of moving out, resting, or moving in. A demand S (N - lost)/N >= b (or <=) at one opening is then

    X >= (b / ((N - lost) dL/dq) - a) / h   where dL/dq > 0, X <= the same where dL/dq < 0,     (2)

(the other way round for <=), and where dL/dq = 0 it holds or not whatever the spring. The tightest of (2) over the
travel bounds X, and over w it bounds g. A limit on the greatest push caps X by (limit - loop) / h(greatest c).
Derived here. Cost: mounts x draws x travel x demands.

Inside this module the travel stands FIRST, [travel, mounts, draws], so that the tightest over the travel is found
row by row; results have no travel axis. Chances of mounting and length are in; growth h is that at the state's
temperature.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from loftwright.core.checks import Sense
from loftwright.core.lifting import Demand, Entries, Fit, Lift, Moving, Pair
from loftwright.core.motion import Array, Flags, Motion

NOTHING = -1
"""Binding cause where none binds."""
CEILINGS: tuple[str, ...] = ("end fitting", "bracket", "rod bends")
"""Limits on the greatest push of one spring; they follow the demands among the causes of a `Window`, in this order."""

LEAST_RATE = 1e-9
"""Rate dL/dq [m/rad] below which a spring neither lifts nor holds."""
LEAST_RATIO = 1.0 + 1e-6
"""No drawn force ratio is less [1]."""


@dataclass(frozen=True, slots=True)
class Ends:
    """Where both ends of a spring sit, closed [m], each [mounts]."""

    foot_x: Array
    foot_z: Array
    head_x: Array
    head_z: Array

    @property
    def count(self) -> int:
        """Number of mounts."""
        return int(self.foot_x.size)

    def pick(self, index: NDArray[np.intp] | slice) -> Ends:
        """Return the mounts at `index` [k], in that order."""
        return Ends(*(getattr(self, f.name)[index] for f in fields(self)))

    @property
    def table(self) -> Array:
        """The four coordinates side by side [m], [mounts, 4]."""
        return np.stack([getattr(self, f.name) for f in fields(self)], axis=-1)


def ends_of(fits: Sequence[Fit]) -> Ends:
    """Return the ends of several fits, all of one pair of zones."""
    return Ends(*(np.array([getattr(fit, f.name) for fit in fits], dtype=np.float64) for f in fields(Ends)))


def ends_from(table: Array) -> Ends:
    """Return ends from a `table` of coordinates [m], [mounts, 4]."""
    return Ends(*(np.ascontiguousarray(table[:, i]) for i in range(4)))


@dataclass(frozen=True, slots=True)
class Reach:
    """Length [m] of a spring and its rate dL/dq [m/rad], each [travel, mounts, draws]: travel first."""

    length: Array
    rate: Array

    def pick(self, index: NDArray[np.intp]) -> Reach:
        """Return the mounts at `index` [k], in that order."""
        return Reach(self.length[:, index], self.rate[:, index])


def _travel_first(motion: Motion) -> Motion:
    # The formulas take travel last; a last axis of one leaves the travel free to stand first.
    def turned(values: Array) -> Array:
        return np.ascontiguousarray(np.atleast_2d(values).T)[:, None, :, None]

    return Motion(*(turned(getattr(motion, f.name)) for f in fields(motion)))


_STILL = Motion(*(np.zeros((1, 1, 1, 1)) for _ in fields(Motion)))


def _body(lift: Lift, name: str) -> Motion:
    return _STILL if name == "van" else _travel_first(lift.travel.body(name))


def reach(lift: Lift, pair: Pair, ends: Ends) -> Reach:
    """Return how a spring between the `ends` [m] changes its length, brackets off as drawn; travel first."""
    chances = lift.chances
    length, rate = lift.formulas.lever(
        _body(lift, pair.foot.on),
        _body(lift, pair.head.on),
        ends.foot_x[:, None] + chances.foot_x,
        ends.foot_z[:, None] + chances.foot_z,
        ends.head_x[:, None] + chances.head_x,
        ends.head_z[:, None] + chances.head_z,
        np.asarray(pair.sideways),
    )
    shape = (lift.travel.fraction.size, ends.count, lift.draws)
    return Reach(np.broadcast_to(length[..., 0], shape), np.broadcast_to(rate[..., 0], shape))


@dataclass(frozen=True, slots=True)
class Asked:
    """One bound on S, or several of one kind merged, ready to be met: over the stations `first` to `last` alone.

    `bound` [N m/rad], [stations, 1, draws].
    """

    sense: Sense
    moving: Moving
    state: int
    lost: int
    first: int
    last: int
    bound: Array


def _asked(demand: Demand, bound: Array) -> Asked | None:
    """Return a demand without the stations at which nothing is asked; None where that is all of them."""
    some = np.flatnonzero((bound > -np.inf if demand.sense == "at least" else bound < np.inf).any(axis=0))
    if not some.size:
        return None
    first, last = int(some[0]), int(some[-1]) + 1
    stations = np.ascontiguousarray(bound[:, first:last].T)[:, None, :]
    return Asked(demand.sense, demand.moving, demand.state, demand.lost, first, last, stations)


def asked_of(lift: Lift) -> tuple[Asked, ...]:
    """Return the demands with those of one sense, state and way of moving merged: the tighter bound rules."""
    merged: dict[tuple[str, str, int, int], tuple[Demand, Array]] = {}
    for demand in lift.demands:
        key = (demand.sense, demand.moving, demand.state, demand.lost)
        tighter = np.maximum if demand.sense == "at least" else np.minimum
        bound = tighter(merged[key][1], demand.bound) if key in merged else demand.bound
        merged[key] = (demand, bound)
    return tuple(asked for demand, bound in merged.values() if (asked := _asked(demand, bound)) is not None)


def _met_by_nothing(bound: Array, least: bool) -> Flags:
    return np.asarray(bound <= 0 if least else bound >= 0)


class Line:
    """What the bounds (2) need of a mount at every opening; what several demands share is worked out once."""

    def __init__(self, at: Reach, count: int, loop: Array) -> None:
        """Take the reach, how many springs share the load, and their friction `loop` [N], [mounts, draws]."""
        self._count = count
        self._loop = loop
        self.growing: Flags = at.rate > 0
        self._all_growing: Flags = np.asarray(self.growing.all(axis=(1, 2)))
        size = np.abs(at.rate)
        self._flat: Flags | None = None
        if size.min() < LEAST_RATE:
            self._flat = size < LEAST_RATE
            self.growing = self.growing | self._flat
            self._per_rate = 1.0 / np.where(self._flat, LEAST_RATE, at.rate)
        else:
            self._per_rate = 1.0 / at.rate
        self._friction: dict[Moving, Array] = {}

    def friction(self, moving: Moving) -> Array:
        """Return what friction adds to the outward push [N], [travel, mounts, draws] (or [1, ...])."""
        if moving not in self._friction:
            if moving == "at rest":
                self._friction[moving] = self._loop[None] / 2
            else:
                inward = ~self.growing if moving == "raising" else self.growing
                self._friction[moving] = inward * self._loop
        return self._friction[moving]

    def gas_bounds(self, asked: Asked, yielding: Array) -> tuple[Array, Array]:
        """Return the least and the greatest X [N] that one bound allows, each [mounts, draws].

        `yielding` is 1/h [1] at the stations of `asked`, [stations, mounts, draws].
        """
        part = slice(asked.first, asked.last)
        shape = yielding.shape[1:]
        bound, left, least = asked.bound, self._count - asked.lost, asked.sense == "at least"
        if left <= 0:
            met = _met_by_nothing(bound, least).all(axis=0)
            low = np.broadcast_to(np.where(met, -np.inf, np.inf), shape)
            return low, np.full(shape, np.inf)
        value = bound / left * self._per_rate[part]
        if self._friction_matters(asked, part):
            friction = self.friction(asked.moving)
            value -= friction if friction.shape[0] == 1 else friction[part]
        value *= yielding
        growing = self.growing[part]
        if self._flat is not None and (flat := self._flat[part]).any():
            met = _met_by_nothing(bound, least)
            held, lost = (-np.inf, np.inf) if least else (np.inf, -np.inf)
            value = np.where(flat, np.where(met, held, lost), value)
        elif self._all_growing[part].all():
            # The common case: the spring grows longer all the way.
            tightest = value.max(axis=0) if least else value.min(axis=0)
            nothing = np.full(shape, np.inf if least else -np.inf)
            return (tightest, nothing) if least else (nothing, tightest)
        from_below = growing if least else ~growing
        low = np.where(from_below, value, -np.inf).max(axis=0)
        return low, np.where(from_below, np.inf, value).min(axis=0)

    def _friction_matters(self, asked: Asked, part: slice) -> bool:
        """Whether friction adds anything: not to springs that only grow while the roof is raised."""
        return asked.moving != "raising" or not bool(self._all_growing[part].all())


@dataclass(frozen=True, slots=True)
class Drawn:
    """One spring for each mount as drawn, each [mounts, draws] (or [.., 1] where every draw is alike).

    `ratio` [1]; `loop` [N]; `extended` [m]; `stroke` [m], [mounts, 1].
    """

    ratio: Array
    loop: Array
    extended: Array
    stroke: Array


def drawn(lift: Lift, entries: Entries) -> Drawn:
    """Return the springs of a list in every draw of the lift, [entries, draws]."""
    chances = lift.chances
    return Drawn(
        ratio=np.maximum(entries.ratio[:, None] + entries.ratio_doubt[:, None] * chances.ratio, LEAST_RATIO),
        loop=np.maximum(entries.loop[:, None] + entries.loop_doubt[:, None] * chances.loop, 0.0),
        extended=entries.extended[:, None] + entries.length_doubt[:, None] * chances.length,
        stroke=entries.stroke[:, None],
    )


def warmed(lift: Lift, entries: Entries, springs: Drawn, state: int) -> tuple[Array, Array]:
    """Return listed force w, aged [N], and force ratio [1] in one of the lift's states, each [entries, draws]."""
    at = lift.states[state]
    force, ratio = lift.formulas.warmed(
        entries.force_1[:, None], springs.ratio, springs.loop, entries.rod_diameter[:, None], at.kelvin
    )
    return force * at.age, ratio


@dataclass(frozen=True, slots=True)
class Window:
    """Between which delivered factors g [1] each mount works.

    `lows`, `highs` [causes, mounts, draws]: for every demand of the lift in its order, then for `CEILINGS`, g must be
    at least and at most this (-inf, +inf: no matter). `closed_spare`, `open_spare` [m], [mounts, draws]: stroke left
    at both ends beyond what is asked; negative: the length does not fit.
    """

    lows: Array
    highs: Array
    closed_spare: Array
    open_spare: Array

    @property
    def low(self) -> Array:
        """Least g [1], [mounts, draws]."""
        return np.asarray(self.lows.max(axis=0))

    @property
    def high(self) -> Array:
        """Greatest g [1], [mounts, draws]."""
        return np.asarray(self.highs.min(axis=0))

    @property
    def below(self) -> NDArray[np.intp]:
        """Cause that binds from below, [mounts, draws]; `NOTHING` where none does."""
        return np.where(np.isneginf(self.low), NOTHING, self.lows.argmax(axis=0))

    @property
    def above(self) -> NDArray[np.intp]:
        """Cause that binds from above, [mounts, draws]; `NOTHING` where none does."""
        return np.where(np.isposinf(self.high), NOTHING, self.highs.argmin(axis=0))

    @property
    def fits(self) -> Flags:
        """Whether the lengths fit, [mounts, draws]."""
        return np.asarray((self.closed_spare >= 0) & (self.open_spare >= 0))


_BLOCK = 60_000
"""Numbers worked on at once: what a processor keeps near itself."""


def block_size(lift: Lift) -> int:
    """Return how many mounts are best worked on at once."""
    return max(1, _BLOCK // (lift.draws * lift.travel.fraction.size))


def bounds(lift: Lift, pair: Pair, ends: Ends, entries: Entries) -> Window:
    """Return the exact window of each mount with its own entry.

    `ends` [mounts] [m]; `entries` hold one spring for each mount, or one for all of them.
    Validity: slow movement; compressions beyond the stroke follow the growth formula but do not fit.
    """
    if entries.force_1.size == 1 and ends.count != 1:
        entries = entries.pick(np.zeros(ends.count, dtype=np.intp))
    step = block_size(lift)
    blocks = [
        _bounds(lift, pair, ends.pick(part), entries.pick(np.arange(part.start, part.stop)))
        for part in (slice(at, min(at + step, ends.count)) for at in range(0, ends.count, step))
    ]
    if not blocks:
        nothing = np.zeros((0, lift.draws))
        causes = np.zeros((len(lift.demands) + len(CEILINGS), 0, lift.draws))
        return Window(causes, causes, nothing, nothing)
    return Window(
        np.concatenate([b.lows for b in blocks], axis=1),
        np.concatenate([b.highs for b in blocks], axis=1),
        np.concatenate([b.closed_spare for b in blocks]),
        np.concatenate([b.open_spare for b in blocks]),
    )


def _bounds(lift: Lift, pair: Pair, ends: Ends, entries: Entries) -> Window:
    at = reach(lift, pair, ends)
    springs = drawn(lift, entries)
    line = Line(at, pair.count, springs.loop)
    squeezed = springs.extended - at.length
    least, most = squeezed.min(axis=0), squeezed.max(axis=0)
    shape = (len(lift.demands) + len(CEILINGS), *least.shape)
    lows, highs = np.full(shape, -np.inf), np.full(shape, np.inf)
    growth = lift.formulas.growth
    for state in range(len(lift.states)):
        own = [(i, asked) for i, d in enumerate(lift.demands) if d.state == state and (asked := _asked(d, d.bound))]
        if not own:
            continue
        force, ratio = warmed(lift, entries, springs, state)
        yielding = 1.0 / growth(ratio, springs.stroke, squeezed)
        for i, asked in own:
            low, high = line.gas_bounds(asked, yielding[asked.first : asked.last])
            lows[i], highs[i] = low / force, high / force
    force, ratio = warmed(lift, entries, springs, lift.hottest)
    greatest = growth(ratio, springs.stroke, most)
    for i, limit in enumerate(ceilings(lift, entries, springs, least)):
        if limit is not None:
            highs[len(lift.demands) + i] = (limit - springs.loop) / greatest / force
    return Window(lows, highs, *spares(lift, springs, least, most))


def spares(lift: Lift, springs: Drawn, least: Array, most: Array) -> tuple[Array, Array]:
    """Return stroke left beyond the margins, closed and open [m], from `least` and `most` compression [m], [...]."""
    return springs.stroke - most - lift.closed_margin, least - lift.open_margin


def ceilings(lift: Lift, entries: Entries, springs: Drawn, least: Array) -> tuple[Array | None, ...]:
    """Return the limits on the greatest push [N] in the order of `CEILINGS`, each [mounts, draws], None for none.

    The rod bends where most of it is out, at `least` compression [m]: bare rod = stroke - c, length = extended - c.
    """
    bends = bending(lift, entries, springs.extended - least, springs.stroke - least)
    return entries.end_limit[:, None], lift.bracket_limit, bends


def bending(lift: Lift, entries: Entries, length: Array, bare: Array) -> Array:
    """Return the greatest push that the rods bear [N], from `length` and `bare` rod [m], each [entries, ...]."""
    rod, tube = entries.rod_diameter[:, None], entries.tube_diameter[:, None]
    return lift.formulas.bending_load(rod, tube, length, np.maximum(bare, 0.0)) / lift.bending_factor
