"""Insurance for chosen springs: a row of holes, the card that leads from hole to hole, forces to order together.

All of it on the draws of a roof that is fitted with the springs; one and the same spring goes through all holes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from loftwright.answers.choose_roofs import Drawn, chance_of, clear_places, ends_at
from loftwright.answers.draws import joint
from loftwright.answers.lifting import COARSE
from loftwright.choice.card import TuningCard
from loftwright.choice.card_learning import learn_and_judge
from loftwright.choice.card_signs import Asked
from loftwright.choice.holes import Row, choose_row, over_chances
from loftwright.choice.odds import LEAST_MARGIN, MOST_MARGIN, margins
from loftwright.choice.ratings import Order, Versus, choose_ratings, compare
from loftwright.choice.window import Ends, bounds
from loftwright.core.lifting import Entries, Fit, Lift, Pair
from loftwright.core.motion import Array, Flags, Motion, column
from loftwright.core.uncertain import normal
from loftwright.mechanics.balance import span
from loftwright.mechanics.feel import NEAR_CLOSED, clear_of_seal, state, takes_over
from loftwright.project.model import Project

EVERY: Final = 5
"""Candidate holes lie so many grains apart along a row."""
ROW: Final = 0.1
"""Furthest that a row of holes reaches from the first one, either way [m]: one bracket. Judgement."""
QUANTILES: Final = 8
"""Delivered forces, equally likely, that each draw is taken with when holes are chosen."""
SCALES: Final = (5.0, 0.03)
"""Doubt of a luggage scale, two standard deviations [N] and as a share of the reading: judgement."""
RISES_STEP: Final = 0.05
"""From how far open it rises by itself is read to this share of the travel [1]."""
RISES_DOUBT: Final = 0.03
"""Doubt of that reading, two standard deviations [1]: judgement."""
CUTS_C: Final = (10.0, 20.0)
"""Day temperatures that part the card's columns cool, mild and warm [degrees C]: judgement."""
DAYS_C: Final = (0.0, 30.0)
"""Days on which springs are tuned [degrees C]: judgement."""
ZERO_C: Final = 273.15


@dataclass(frozen=True, slots=True)
class Hand:
    """What a builder can read and mark: forces in whole steps of `force` [N], holes to a `grain` [m]."""

    force: float
    grain: float


METRIC: Final = Hand(9.80665, 0.001)
"""Whole kilograms and millimetres."""


@dataclass(frozen=True, slots=True)
class HoleNumbers:
    """A row of holes at the `end` of the springs that moves, and the card for it.

    `ends` are the holes [m] along the row, the other end alike in all; `row` counts places in it. `card_odds` [1]:
    the share of roofs that end right by the card alone (None: no card is worth it). `per_draw` [1, draws]: odds of
    the row.
    """

    end: Literal["foot", "head"]
    ends: Ends
    row: Row
    card: TuningCard | None
    card_odds: float | None
    per_draw: Array


@dataclass(frozen=True, slots=True)
class RatingNumbers:
    """Forces to order together for the same mounts: `entries` places in the list, `force_1` [N], odds [1].

    `name` is the spring whose mounts those are.

    `versus` compares one order for the first hole with one spring and the row of holes.
    """

    name: str
    entries: tuple[int, ...]
    first: int
    force_1: Array
    order: Order
    versus: Versus | None


def places_along(pair: Pair, fit: Fit, end: Literal["foot", "head"], grain: float) -> Ends:
    """Return candidate holes on a level line through the hole of a fit, within the zone of that end.

    `grain` [m] is what holes are marked out to.
    """
    zone = pair.foot if end == "foot" else pair.head
    at = fit.foot_x if end == "foot" else fit.head_x
    step = EVERY * grain
    before, after = (int((min(room, ROW) + 1e-9) / step) for room in (at - zone.x_low, zone.x_high - at))
    x = np.asarray(at + step * np.arange(-before, after + 1), dtype=np.float64)
    same: Array = np.full(x.size, 1.0)
    if end == "foot":
        return Ends(x, fit.foot_z * same, fit.head_x * same, fit.head_z * same)
    return Ends(fit.foot_x * same, fit.foot_z * same, x, fit.head_z * same)


def delivered_quantiles(lift: Lift, tolerance: float) -> Array:
    """Return `QUANTILES` equally likely delivered factors [1], [k]."""
    share = (np.arange(QUANTILES) + 0.5) / QUANTILES
    return np.asarray(1.0 + tolerance * np.interp(share, lift.chances.spread.cumulative, lift.chances.spread.x))


def choose_holes(
    project: Project, learn: Drawn, claim: Drawn, pair: Pair, entry: Entries, fit: Fit, hand: Hand
) -> HoleNumbers | None:
    """Return the row, foot or head, that makes it likeliest that one hole works; None where no row adds to one hole.

    `learn` and `claim` are fresh draws of the roof fitted with `entry` (one spring) at `fit`: the row is chosen on the
    first and its odds claimed on the second.
    """
    most, spacing = project.choice.holes, project.choice.hole_spacing.nominal
    found: list[HoleNumbers] = []
    for end in ("foot", "head"):
        ends = places_along(pair, fit, end, hand.grain)
        clear = clear_places(learn.project, ends)
        if clear.sum() < 2:
            continue
        ends = ends.pick(np.flatnonzero(clear))
        works, fresh = (_works(one, pair, entry, ends) for one in (learn, claim))
        line = ends.foot_x if end == "foot" else ends.head_x
        row = choose_row(works, line, spacing, most, claim=fresh)
        chosen = ends.pick(np.array(row.holes, dtype=np.intp))
        per_draw = fresh[list(row.holes)].any(axis=0).reshape(-1, QUANTILES).mean(axis=1)
        found.append(HoleNumbers(end, chosen, row, None, None, per_draw))
    if not found:
        return None
    best = max(found, key=lambda one: one.row.learned)
    if len(best.row.holes) < 2:
        return None
    return _with_card(best, learn, pair, entry, hand)


def _works(base: Drawn, pair: Pair, entry: Entries, ends: Ends) -> Flags:
    """Return where each hole works, every draw taken with each of the delivered quantiles, [holes, draws x k]."""
    lift = base.lift()
    window = bounds(lift, pair, ends, entry)
    fits = window.fits & lift.holding
    low = np.where(fits, window.low, np.inf)
    return over_chances(low, window.high, delivered_quantiles(lift, float(entry.tolerance[0])))


def _with_card(row: HoleNumbers, base: Drawn, pair: Pair, entry: Entries, hand: Hand) -> HoleNumbers:
    lift = base.lift()
    window = bounds(lift, pair, row.ends, entry)
    factor = 1.0 + float(entry.tolerance[0]) * lift.chances.delivered
    works = (window.low <= factor) & (factor <= window.high) & window.fits & lift.holding
    readings = card_readings(base, lift, pair, entry, row.ends, factor)
    asked = (
        Asked("push", hand.force),
        Asked("pull", hand.force),
        Asked("rises", RISES_STEP),
        Asked("day", cuts=CUTS_C),
    )
    start = row.row.holes.index(row.row.start)
    judged = learn_and_judge(works, readings, asked, starts=(start,))
    if not judged.card.lines:
        return row
    return HoleNumbers(row.end, row.ends, row.row, judged.card, judged.odds, row.per_draw)


def card_readings(base: Drawn, lift: Lift, pair: Pair, entry: Entries, ends: Ends, factor: Array) -> Array:
    """Return what is read at the handle with the spring in each hole, [push, pull, rises, day; holes; draws].

    `ends` [m]; `factor` is the delivered force [1], [draws]. Push [N] just off the seal, raised slowly; pull [N] at
    the top, lowered slowly; from which share of the travel [1] it rises by itself; day temperature [degrees C], even
    within `DAYS_C`. Springs new, no rain; the error of scales and eye is in.
    """
    rows, roof, felt = base.rows, base.roof, base.felt
    draws = rows.draws
    count = draws.stop - draws.start
    off_seal = np.broadcast_to(clear_of_seal(roof, felt, NEAR_CLOSED), felt.hand.x.shape)[0]
    first = int(np.argmax(off_seal))
    stations = np.unique([*range(0, roof.travel.fraction.size, COARSE), first])
    days = np.random.PCG64([base.seed, 7]).random_raw(count) >> np.uint64(11)
    celsius = DAYS_C[0] + (DAYS_C[1] - DAYS_C[0]) * days.astype(np.float64) * 2.0**-53

    def at(values: Array) -> Array:
        return np.broadcast_to(values, (rows.count, values.shape[-1]))[draws][:, stations]

    def body(motion: Motion) -> Motion:
        return Motion(*(at(np.atleast_2d(getattr(motion, f.name))) for f in fields(motion)))

    chances = lift.chances
    foot = body(roof.travel.body(pair.foot.on)).point(
        ends.foot_x[:, None] + chances.foot_x, ends.foot_z[:, None] + chances.foot_z
    )
    head = body(roof.travel.body(pair.head.on)).point(
        ends.head_x[:, None] + chances.head_x, ends.head_z[:, None] + chances.head_z
    )
    length, rate = span(foot, head, np.asarray(pair.sideways))
    loop = np.maximum(entry.loop + entry.loop_doubt * chances.loop, 0.0)
    listed = np.maximum(entry.ratio + entry.ratio_doubt * chances.ratio, 1.0 + 1e-6)
    force, ratio = lift.formulas.warmed(entry.force_1, listed, loop, entry.rod_diameter, celsius + ZERO_C)
    squeezed = column(entry.extended + entry.length_doubt * chances.length) - length
    gas = column(force * factor) * lift.formulas.growth(column(ratio), entry.stroke, squeezed)
    drive = felt.drive.at(state("mild", "new"))
    weight, friction, path = (at(v) for v in (drive.weight, drive.friction, drive.hand_path))
    up, down = at(drive.loads_raising), at(drive.loads_lowering)
    growing = rate > 0
    raising = pair.count * rate * (gas + np.where(growing, 0.0, column(loop)))
    lowering = pair.count * rate * (gas + np.where(growing, column(loop), 0.0))
    push_up = -(weight + raising + up - friction) / path
    push = push_up[..., int(np.searchsorted(stations, first))]
    pull = ((weight + lowering + down + friction) / path)[..., -1]
    rises = np.minimum(takes_over(push_up, roof.travel.fraction[stations]), 1.0)
    fixed, share = SCALES
    noise = [joint(normal(0.0, 1.0), f"scale.{name}", count, base.seed) for name in ("push", "pull", "rises")]
    read = [hand + error * (fixed + share * np.abs(hand)) for hand, error in zip((push, pull), noise, strict=False)]
    return np.stack([*read, rises + RISES_DOUBT * noise[2], np.broadcast_to(celsius, push.shape)])


def same_size(listed: Entries, entry: int) -> NDArray[np.intp]:
    """Return the places of all springs of the list that are as long and as thick as an entry, weakest first."""
    sizes = (listed.stroke, listed.extended, listed.rod_diameter, listed.tube_diameter)
    alike = np.flatnonzero(np.all([np.isclose(size, size[entry], atol=1e-6) for size in sizes], axis=0))
    return alike[np.argsort(listed.force_1[alike], kind="stable")]


def choose_forces(
    project: Project, learn: Drawn, claim: Drawn, pair: Pair, listed: Entries, fit: Fit, row: HoleNumbers | None
) -> RatingNumbers | None:
    """Return which forces of the same size to order together; None where the list holds but one."""
    alike = same_size(listed, fit.entry)
    if alike.size < 2:
        return None
    entries = listed.pick(alike)
    chance, fresh = (_chances(one, pair, entries, fit) for one in (learn, claim))
    order = choose_ratings(chance, project.choice.ratings, claim=fresh)
    versus = None if row is None else compare(order.per_draw, row.per_draw)
    return RatingNumbers(
        listed.names[fit.entry],
        tuple(int(alike[i]) for i in order.forces),
        int(alike[order.first]),
        listed.force_1[alike[list(order.forces)]],
        order,
        versus,
    )


def _chances(base: Drawn, pair: Pair, entries: Entries, fit: Fit) -> Array:
    lift = base.lift()
    one = ends_at(fit)
    ends = one.pick(np.zeros(entries.force_1.size, dtype=np.intp))
    return chance_of(lift, entries, bounds(lift, pair, ends, entries))


def designs(base: Drawn, pair: Pair, listed: Entries, fits: Sequence[Fit]) -> tuple[Array, Array]:
    """Return the chance that each design works and the room it has [1], each [designs, draws], fits of one pair.

    The room is the log margin between `LEAST_MARGIN` and `MOST_MARGIN`, as a share of the way from one to the other.
    """
    lift = base.lift()
    entries = listed.pick(np.array([fit.entry for fit in fits], dtype=np.intp))
    ends = Ends(*(np.array([getattr(fit, f) for fit in fits]) for f in ("foot_x", "foot_z", "head_x", "head_z")))
    window = bounds(lift, pair, ends, entries)
    room = (margins(window) - LEAST_MARGIN) / (MOST_MARGIN - LEAST_MARGIN)
    return chance_of(lift, entries, window), room
