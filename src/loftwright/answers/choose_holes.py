"""Insurance for chosen springs: holes in rows, and the card that leads from place to place.

All of it on the draws of a roof that is fitted with the springs; one and the same spring goes through all places.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from loftwright.answers.choose_roofs import Drawn, clear_places, moved_to
from loftwright.answers.draws import joint
from loftwright.answers.lifting import COARSE
from loftwright.choice.card import TuningCard
from loftwright.choice.card_learning import learn_and_judge
from loftwright.choice.card_signs import Asked
from loftwright.choice.holes import choose_row, share_error
from loftwright.choice.odds import LEAST_MARGIN, MOST_MARGIN, chance_of, margins
from loftwright.choice.patterns import delivered_quantiles, works_in
from loftwright.choice.window import Ends, bounds, ends_from
from loftwright.core.lifting import Entries, Fit, Lift, Pair
from loftwright.core.motion import Array, Flags, Motion, column
from loftwright.core.uncertain import normal
from loftwright.core.units import STANDARD_GRAVITY
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
MOST_LINES: Final = 10
"""Lines that fit on a card of one page, beside the holes of two brackets."""
SAME: Final = 0.0015
"""A hole of the file this near to another is that one [m]."""
ZERO_C: Final = 273.15


@dataclass(frozen=True, slots=True)
class Hand:
    """What a builder can read and mark: forces in whole steps of `force` [N], holes to a `grain` [m]."""

    force: float
    grain: float


METRIC: Final = Hand(STANDARD_GRAVITY, 0.001)
"""Whole kilograms and millimetres."""


@dataclass(frozen=True, slots=True)
class HoleNumbers:
    """Holes for one kind of spring in a `pair` of zones, and the card for them.

    `fit` is the place to start with. `feet` [feet, 2] and `heads` [heads, 2] are (x, z) closed [m]; `places` are the
    combinations used, by foot and head, `start` the first of them. Odds [1] on fresh draws: `first` of the start alone,
    `odds` that one place works with its standard `error`; `per_draw` [1, draws] the same roof by roof; `learned` on the
    draws of choosing. `card_odds` [1]: the share of roofs that end right by the card alone (None: no card is worth it).
    """

    name: str
    pair: Pair
    fit: Fit
    feet: Array
    heads: Array
    places: tuple[tuple[int, int], ...]
    start: int
    first: float
    odds: float
    error: float
    per_draw: Array
    learned: float
    card: TuningCard | None = None
    card_odds: float | None = None

    @property
    def ends(self) -> Ends:
        """The ends of the spring in every place [m]."""
        return ends_at_places(self.feet, self.heads, self.places)

    @property
    def drilled(self) -> int:
        """How many holes are drilled, the only one of an end left out where the other has several."""
        return sum(len(row) for row in (self.feet, self.heads) if len(row) > 1)


def ends_at_places(feet: Array, heads: Array, places: Sequence[tuple[int, int]]) -> Ends:
    """Return the ends [m] of a spring in every place of some `feet` [feet, 2] and `heads` [heads, 2] [m]."""
    which = np.array(places, dtype=np.intp).reshape(-1, 2)
    return ends_from(np.concatenate([feet[which[:, 0]], heads[which[:, 1]]], axis=1))


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


def level_row(
    project: Project, learn: Drawn, claim: Drawn, pair: Pair, entry: Entries, fit: Fit, hand: Hand
) -> HoleNumbers | None:
    """Return the level row, foot or head, through a fit that makes it likeliest that one hole works; None: none helps.

    `learn` and `claim` are fresh draws of the roof fitted with `entry` (one spring) at `fit`: the row is chosen on the
    first and its odds claimed on the second. Without a card.
    """
    most, spacing = project.choice.holes, project.choice.hole_spacing.nominal
    found: list[tuple[float, Ends]] = []
    for end in ("foot", "head"):
        ends = places_along(pair, fit, end, hand.grain)
        clear = clear_places(learn.project, ends)
        if clear.sum() < 2:
            continue
        ends = ends.pick(np.flatnonzero(clear))
        row = choose_row(works(learn, pair, entry, ends), ends.foot_x if end == "foot" else ends.head_x, spacing, most)
        if len(row.holes) > 1:
            found.append((row.learned, ends.pick(np.array(row.holes, dtype=np.intp))))
    if not found:
        return None
    ends = max(found, key=lambda one: one[0])[1]
    feet, heads = (np.unique(part, axis=0) for part in (ends.table[:, :2], ends.table[:, 2:]))
    places = [(i, j) for i in range(len(feet)) for j in range(len(heads))]
    return claimed(learn, claim, pair, entry, fit, feet, heads, places)


def drilled_holes(project: Project) -> tuple[Array, Array] | None:
    """Return feet [feet, 2] and heads [heads, 2] of the first spring that the file says are there [m]; None: none."""
    if len(project.spring) != 1:
        return None
    spring = project.spring[0]
    if not (spring.feet or spring.heads):
        return None
    feet, heads = (
        np.array([[point.x.nominal, point.z.nominal] for point in (some or (own,))])
        for some, own in ((spring.feet, spring.foot), (spring.heads, spring.head))
    )
    return feet, heads


def drilled_row(
    there: tuple[Array, Array], learn: Drawn, claim: Drawn, pair: Pair, entry: Entries, fit: Fit
) -> HoleNumbers:
    """Return holes that are there, feet [feet, 2] and heads [heads, 2] [m], every foot with every head.

    The place to start with is that of the spring in the file where it is one of them.
    """
    feet, heads = there
    places = [(i, j) for i in range(len(feet)) for j in range(len(heads))]
    row = claimed(learn, claim, pair, entry, fit, feet, heads, places)
    own = np.array([fit.foot_x, fit.foot_z, fit.head_x, fit.head_z])
    same = np.flatnonzero(np.abs(row.ends.table - own).max(axis=1) < SAME)
    if not same.size:
        return row
    start = int(same[0])
    first = float(works(claim, pair, entry, row.ends.pick(same[:1])).mean())
    return replace(row, start=start, first=first, fit=moved_to(fit, row.ends, start))


def works(base: Drawn, pair: Pair, entry: Entries, ends: Ends) -> Flags:
    """Return where each hole works, every draw taken with each of the delivered quantiles, [holes, draws x k]."""
    lift = base.lift()
    return works_in(lift, pair, entry, ends, delivered_quantiles(lift, entry.tolerance, QUANTILES)[0])


def claimed(
    learn: Drawn,
    claim: Drawn,
    pair: Pair,
    entry: Entries,
    fit: Fit,
    feet: Array,
    heads: Array,
    places: Sequence[tuple[int, int]],
) -> HoleNumbers:
    """Return holes (x, z) [m] with their odds on the draws of `claim`; the place to start with is from `learn`."""
    ends = ends_at_places(feet, heads, places)
    there, fresh = (works(one, pair, entry, ends) for one in (learn, claim))
    start = int(np.argmax(there.mean(axis=1)))
    per_draw = fresh.any(axis=0).reshape(-1, QUANTILES).mean(axis=1)
    odds = float(per_draw.mean())
    return HoleNumbers(
        name=entry.names[0],
        pair=pair,
        fit=moved_to(fit, ends, start),
        feet=feet,
        heads=heads,
        places=tuple(places),
        start=start,
        first=float(fresh[start].mean()),
        odds=odds,
        error=share_error(odds, fresh.shape[1]),
        per_draw=per_draw,
        learned=float(there.any(axis=0).mean()),
    )


def with_card(row: HoleNumbers, base: Drawn, entry: Entries, hand: Hand) -> HoleNumbers:
    """Return holes with the card learnt over all their places from the draws of `base`, where one is worth it."""
    lift = base.lift()
    window = bounds(lift, row.pair, row.ends, entry)
    factor = 1.0 + float(entry.tolerance[0]) * lift.chances.delivered
    good = (window.low <= factor) & (factor <= window.high) & window.fits & lift.holding
    readings = card_readings(base, lift, row.pair, entry, row.ends, factor)
    asked = (
        Asked("push", hand.force),
        Asked("pull", hand.force),
        Asked("rises", RISES_STEP),
        Asked("day", cuts=CUTS_C),
    )
    judged = learn_and_judge(good, readings, asked, starts=(row.start,), most_lines=MOST_LINES)
    worth = judged.card.lines and judged.odds > float(good[row.start].mean()) + judged.error
    return replace(row, card=judged.card, card_odds=judged.odds) if worth else row


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
