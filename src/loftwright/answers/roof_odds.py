"""Out of 100 roofs like this one: how many meet everything, what fails in the rest, and what to measure next.

What knowing more is worth is seen by what one would do with it: order springs of another force for the same holes.
Every hand force f is linear in a factor x on the gas force as drawn, f(x) = f + s (x - 1) with s = +-G / path and G
the gas's part of the springs' drive, so that every limit on it is one on x,

    x <= 1 + (limit - f) / s   or   x >= the same, by the signs of s and of the rule;              (1)

what is not linear in the springs is taken as judged for the springs planned. The choice of springs and holes looks
further, and exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.draws import Rows
from loftwright.answers.lifting import all_hold, margin_of, normal_spread
from loftwright.answers.to_measure import Task, tasks
from loftwright.core.checks import Rule
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags, column
from loftwright.mechanics.feel import Feel, Roof
from loftwright.mechanics.hand_rules import HandForce
from loftwright.mechanics.rules import BRACKET, END_FITTING, ROD_BENDS, TAKES_OVER
from loftwright.project.model import Project

FACTORS: Final = np.geomspace(0.7, 1.0 / 0.7, 15)
"""Forces that are tried in the same holes, over the planned one [1]."""
CEILINGS: Final = (END_FITTING, BRACKET, ROD_BENDS)
"""Rules on the greatest push of one spring, which bound its force too."""
WITHIN: Final = (0.4, 2.5)
"""A factor that is not bound counts as bound here [1], so that its window has a middle."""
FOLLOWED: Final = (0.5, 1.0)
"""How far a reading is followed [1]."""
MUCH_BETTER: Final = 0.03
"""Odds that another force in the same holes must add to be spoken of [1]: judgement."""
PLANNED: Final = FACTORS.size // 2
"""Place of the planned force among them."""
ERRORS: Final = 2.0
"""A gain counts where it is above so many of its standard errors [1]."""
NOTABLE: Final = 0.01
"""Gains below this are not spoken of [1]."""


@dataclass(frozen=True, slots=True)
class Fails:
    """One requirement, and in what share of the roofs it fails [1]; `which` names the part."""

    rule: Rule
    which: str
    share: float


@dataclass(frozen=True, slots=True)
class Gain:
    """One thing to measure and the best odds [1] before and after it, other forces in the same holes allowed."""

    task: Task
    before: float
    after: float

    @property
    def per_minute(self) -> float:
        """Odds gained per minute of work [1/min]."""
        return (self.after - self.before) / self.task.how.minutes


@dataclass(frozen=True, slots=True)
class RoofOdds:
    """The odds of a roof as planned.

    `meets` [1]: share of the roofs that meet everything that can be judged, the delivered force averaged; `rest`:
    what fails, most often first; `unjudged`: what cannot be judged yet. Where something fails in every roof, `apart`
    [1] is the share that meets everything else, and what follows is said of that. `factor` on the planned force is
    the best in the same holes (None without springs), with the odds `best` [1]; `planned` [1] are those of the planned
    force. `gains`: what to measure, the greatest gain per minute first.
    """

    meets: float
    rest: tuple[Fails, ...]
    unjudged: tuple[tuple[Rule, str], ...]
    apart: float | None
    factor: float | None
    best: float
    planned: float
    gains: tuple[Gain, ...]


def failing(judged: Sequence[Judged], possible: Flags, rows: slice) -> tuple[Fails, ...]:
    """Return in what share of the `rows` each requirement fails, most often first; those that never do are left out."""
    found = []
    for one in judged:
        margin = margin_of(one, possible.size)
        if margin is not None:
            share = float(np.mean((margin[rows] < 0) & possible[rows]))
            if share > 0:
                found.append(Fails(one.rule, one.which, share))
    return tuple(sorted(found, key=lambda f: -f.share))


def unjudged(judged: Sequence[Judged]) -> tuple[tuple[Rule, str], ...]:
    """Return the rules that cannot be judged before something is measured, with their part."""
    return tuple((one.rule, one.which) for one in judged if one.value is None or one.limit is None)


def roof_odds(
    project: Project, rows: Rows, roof: Roof, felt: Feel, hand: Sequence[HandForce], judged: Sequence[Judged]
) -> RoofOdds:
    """Return the odds of a roof as planned, over its joint draws."""
    counted = float(all_hold(judged, roof.possible)[rows.draws].mean())
    rest, open_rules = failing(judged, roof.possible, rows.draws), unjudged(judged)
    if not roof.fitted:
        return RoofOdds(counted, rest, open_rules, None, None, counted, counted, ())
    window = window_of(rows, roof, felt, hand, judged)
    meets = float(window.chance(FACTORS[PLANNED]).mean())
    always = {(one.rule.id, one.which) for one in rest if one.share >= 1.0} if counted == 0.0 else set()
    apart = None
    if always:
        judged = [one for one in judged if (one.rule.id, one.which) not in always]
        hand = [one for one in hand if (one.asked.rule.id, "") not in always]
        window = window_of(rows, roof, felt, hand, judged)
        apart = float(window.chance(FACTORS[PLANNED]).mean())
    chance = window.chance(FACTORS[:, None]).mean(axis=1)
    best = int(chance.argmax())
    planned, better = float(chance[PLANNED]), float(chance[best])
    base = better if better - planned >= MUCH_BETTER else planned
    found = gains(window, tasks(project, rows, project.settings.seed), base)
    return RoofOdds(meets, rest, open_rules, apart, float(FACTORS[best]), better, planned, found)


@dataclass(frozen=True, slots=True)
class Window:
    """Between which factors on the planned force a roof works, and where all else holds, [draws] each.

    Another spring of the same list brings another delivered force: `tolerance` [1] of it is averaged (0: it is one
    with the spring as planned).
    """

    low: Array
    high: Array
    holding: Flags
    tolerance: float

    def chance(self, factor: Array) -> Array:
        """Return the chance that everything holds with the planned force times `factor` [1], [..., draws]."""
        if self.tolerance <= 0:
            inside = ((self.low <= factor) & (factor <= self.high)).astype(np.float64)
        else:
            spread = normal_spread()
            least, most = ((edge / factor - 1.0) / self.tolerance for edge in (self.low, self.high))
            inside = np.maximum(spread.below(most) - spread.below(least), 0.0)
        return np.asarray(inside * self.holding)


def window_of(rows: Rows, roof: Roof, felt: Feel, hand: Sequence[HandForce], judged: Sequence[Judged]) -> Window:
    """Return between which factors on the planned force everything holds; other rules as judged for it."""
    low, high, bound = factor_window(rows, roof, felt, hand, judged)
    holding = all_hold([one for one in judged if one.rule.id not in bound], roof.possible)[rows.draws]
    if len(roof.fitted) > 1:
        return Window(low, high, holding, 0.0)
    delivered = roof.fitted[0].delivered[rows.draws]
    tolerance = rows.inputs["spring.0.delivered"].value.spread
    return Window(low * delivered, high * delivered, holding, tolerance)


def gains(window: Window, todo: Sequence[Task], base: float) -> tuple[Gain, ...]:
    """Return what each task would add to the best odds, the greatest gain per minute first; no gain is left out.

    Who has read r orders the force times exp(k b (r - mean)) (2): the middle of the window in which it works, on a
    log scale, is fitted to the readings by least squares, b, and followed by half or in full, k. Fit and order are
    taken from one half of the draws and scored in the other, both ways round, so that noise is not sold as gain. It is
    noticed where it is above twice its standard error, found from differences in the same draws, and added to `base`
    [1].
    """
    now = window.chance(FACTORS[:, None])
    best = int(now.mean(axis=1).argmax())
    near = FACTORS[max(best - 1, 0) : best + 2]
    middle = (np.log(np.clip(window.low, *WITHIN)) + np.log(np.clip(window.high, *WITHIN))) / 2
    halves = np.arange(middle.size) % 2
    found = []
    for task in todo:
        aside = task.readings - task.readings.mean(axis=1, keepdims=True)
        aside /= np.maximum(aside.std(axis=1, keepdims=True), 1e-12)
        more = np.empty(middle.size)
        for half in (0, 1):
            here, there = halves == half, halves != half
            slope = np.linalg.lstsq(aside[:, here].T, middle[here] - middle[here].mean(), rcond=None)[0]
            follow = np.exp(slope @ aside)
            tried = np.concatenate([window.chance(near[:, None] * follow**k) for k in FOLLOWED])
            order = tried[int(tried[:, here].mean(axis=1).argmax())]
            more[there] = order[there] - now[best, there]
        if more.mean() > max(NOTABLE, ERRORS * float(more.std()) / np.sqrt(more.size)):
            found.append(Gain(task, base, min(1.0, base + float(more.mean()))))
    return tuple(sorted(found, key=lambda gain: -gain.per_minute))


def factor_window(
    rows: Rows, roof: Roof, felt: Feel, hand: Sequence[HandForce], judged: Sequence[Judged]
) -> tuple[Array, Array, frozenset[str]]:
    """Return between which factors on the drawn gas force all linear rules hold [1], [draws] each, after eq. (1).

    Also returned: the ids of the rules that are in these bounds.
    """
    draws = rows.draws
    low, high = np.full(draws.stop - draws.start, -np.inf), np.full(draws.stop - draws.start, np.inf)
    bound: set[str] = set()
    shares: dict[tuple[str, int], Array] = {}
    for one in hand:
        asked = one.asked
        if asked.lost is not None and len(roof.fitted) > 1:
            # Which of several kinds is lost makes a difference: taken as judged.
            continue
        key = (asked.moving, asked.state)
        if key not in shares:
            shares[key] = gas_share(felt, *key, draws)
        # A lost coil, cord or torsion spring (below nought) leaves the gas springs whole.
        whole = asked.lost is None or asked.lost < 0
        left = 1.0 if whole else 1.0 - 1.0 / roof.fitted[asked.lost or 0].mount.count
        at_most = asked.rule.sense == "at most"
        limit = (asked.limit if asked.limit.ndim > 1 else column(asked.limit))[draws]
        path = np.broadcast_to(asked.path_of(felt.drive), one.force.shape)[draws]
        where = np.broadcast_to(asked.where, one.force.shape)[draws]
        slope = asked.sign * left * shares[key] / path
        with np.errstate(divide="ignore", invalid="ignore"):
            edge = 1.0 + (limit - one.force[draws]) / slope
        from_below = (slope < 0) == at_most
        low = np.maximum(low, np.where(where & from_below, edge, -np.inf).max(axis=-1))
        high = np.minimum(high, np.where(where & ~from_below, edge, np.inf).min(axis=-1))
        if asked.rule is TAKES_OVER:
            # The share itself lies between two stations, and the push there straight between theirs.
            force, rate = (_at_share(roof, values, draws) for values in (one.force[draws], slope))
            with np.errstate(divide="ignore", invalid="ignore"):
                edge = 1.0 - force / rate
            low = np.maximum(low, np.where(rate < 0, edge, -np.inf))
            high = np.minimum(high, np.where(rate < 0, np.inf, edge))
        bound.add(asked.rule.id)
    most = {fitted.name: force.max(axis=-1) for fitted, force in zip(roof.fitted, felt.end_force, strict=True)}
    loops = {fitted.name: fitted.mount.spring.loop for fitted in roof.fitted}
    for ceiling in judged:
        if ceiling.rule in CEILINGS and ceiling.value is not None and ceiling.limit is not None:
            push, loop = most[ceiling.which], loops[ceiling.which]
            # The rod bends at so many times the greatest push, the others are limits on the push itself.
            bears = push * ceiling.value / ceiling.limit if ceiling.rule is ROD_BENDS else ceiling.limit
            edge = (bears - loop) / np.maximum(push - loop, 1e-9)
            high = np.minimum(high, np.broadcast_to(edge, rows.count)[draws])
            bound.add(ceiling.rule.id)
    return low, high, frozenset(bound)


def _at_share(roof: Roof, values: Array, draws: slice) -> Array:
    """Return `values` [draws, travel] where the roof must rise by itself at the latest, straight between stations."""
    fraction = roof.travel.fraction
    share = np.broadcast_to(roof.limits.rises_from, roof.possible.shape)[draws]
    after = np.clip(np.searchsorted(fraction, share), 1, fraction.size - 1)
    part = np.clip((share - fraction[after - 1]) / (fraction[after] - fraction[after - 1]), 0.0, 1.0)
    row = np.arange(share.size)
    return np.asarray((1 - part) * values[row, after - 1] + part * values[row, after])


def gas_share(felt: Feel, moving: str, at: int, rows: slice) -> Array:
    """Return the gas's part of the springs' drive [N m/rad] in state `at`, [rows, travel]: without friction."""
    found = np.zeros(1)
    for push in felt.springs:
        rate = push.line.rate
        loop = column(push.mount.spring.loop)
        raising, lowering = push.raising[at], push.lowering[at]
        if moving == "raising":
            gas = raising - np.where(rate > 0, 0.0, loop)
        elif moving == "lowering":
            gas = lowering - np.where(rate > 0, loop, 0.0)
        else:
            gas = (raising + lowering - loop) / 2
        found = found + (push.mount.count * rate * gas)[rows]
    return found
