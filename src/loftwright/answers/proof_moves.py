"""Where the springs of a built roof should go after its readings: a hole that is there, a new one, or other springs.

Looked for in one part of the draws after the readings and judged by every rule in another, so that nothing is claimed
on the draws that it was chosen on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from loftwright.answers.choose import own_fit
from loftwright.answers.choose_roofs import ends_at, joined, own_entry
from loftwright.answers.moved_roof import BuiltRoof, comparable, exact_odds, lifts, quick_odds
from loftwright.answers.proof import Odds, Proof
from loftwright.answers.proof_readings import is_same
from loftwright.answers.proof_words import MUCH_BETTER
from loftwright.choice.moves import chances
from loftwright.choice.next_move import Kind, next_moves
from loftwright.core.lifting import Entries, Fit, Lift, Pair, Zone
from loftwright.core.motion import Array, Flags
from loftwright.project.stock import Listed
from loftwright.project.zones import zones_of

AROUND, AWAY = 48, (1.0, 1.25, 1.6)
"""Directions and distances, in least spacings, in which a new hole is moved away from one that is too close."""
SAME_FORCE: Final = 0.01
"""Springs of the list this close in force to those that are fitted are no other springs [1]."""
BOTH: Final = (16, (1.0, 1.5))
"""The same round both ends at once."""
NEARER, BOTH_STEP = 200, 0.3
"""How many smaller moves follow, of how many least spacings at most."""
PER_HOLE, PER_ORDER = 0.03, 0.03
"""Odds that every hole to drill, and springs to order, must gain over less work [1]: judgement."""
SIMPLER: Final[dict[Kind, tuple[Kind, ...]]] = {
    "stay": (),
    "another hole": ("stay",),
    "new hole": ("stay", "another hole"),
    "other springs": ("stay",),
    "other springs in a new hole": ("stay", "new hole", "other springs"),
}
"""What is less work of the same sort: holes to drill stand beside springs to order."""
EDGE: Final = 1e-9
"""Rounding of places [m]."""
End = Literal["foot", "head"]
ENDS: Final[tuple[End, End]] = ("foot", "head")
COLUMNS: Final[dict[End, slice]] = {"foot": slice(0, 2), "head": slice(2, 4)}


@dataclass(frozen=True, slots=True)
class JudgedMove:
    """One thing that can be done, with its odds [1], judged by every rule in draws that did not choose it.

    `fit`: where the ends sit then; `new` are the ends at which a hole is drilled; `words` the hole
    that is used where it is one that there is. `spring`, `force_1` [N], `stroke` and `extended` [m] are those
    of the springs to order ("" and those that are fitted where none are).
    """

    kind: Kind
    fit: Fit
    odds: float
    new: tuple[End, ...]
    words: str
    spring: str
    force_1: float
    stroke: float
    extended: float

    @property
    def worth(self) -> float:
        """Odds less what the work must gain [1]."""
        moved = MUCH_BETTER if self.kind == "another hole" else 0.0
        return self.odds - moved - PER_HOLE * len(self.new) - (PER_ORDER if self.spring else 0.0)


def moves_of(proof: Proof, odds: Odds, listed: Listed, grain: float) -> tuple[JudgedMove, ...]:
    """Return what can be done after the readings, best first: staying, and what promises clearly more than less work.

    `listed` are the springs that can be ordered, `grain` [m] to what a hole can be marked out. Empty without readings,
    before a contradiction is cleared, with several entries in the spring list, and for holes in no zone.
    """
    project = proof.project
    learnt = bool(proof.sets) and all(one.used for one in proof.sets)
    if not learnt or len(project.spring) != 1:
        return ()
    pairs = zones_of(project).pairs
    known = own_fit(project, pairs, 0)
    if not known:
        return ()
    at = BuiltRoof(proof, pairs[known[0].pair], known[0], alike(listed.entries, own_entry(project)), grain)
    drilled = _drilled(at, odds)
    stays = drilled[0]
    # Where nearly all roofs are right nothing can be clearly better.
    found = drilled if stays.odds > 1.0 - MUCH_BETTER else [*drilled, *_looked_for(at)]
    worth = {one.kind: one.worth for one in found}
    kept = [one for one in found if all(one.worth > worth.get(kind, 0.0) for kind in SIMPLER[one.kind])]
    return tuple(sorted(kept, key=lambda one: -one.worth))


def alike(listed: Entries, own: Entries) -> Entries:
    """Return the springs of a list nearest in length and stroke to the file's own, and those after them, the last."""
    size = np.stack([listed.extended, listed.stroke, listed.rod_diameter, listed.tube_diameter])
    mine = np.array([own.extended[0], own.stroke[0], own.rod_diameter[0], own.tube_diameter[0]])
    off = np.abs(size - mine[:, None]).sum(axis=0)
    other = np.abs(listed.force_1 / own.force_1[0] - 1.0) > SAME_FORCE
    nearest = np.flatnonzero(other & (off <= off.min(initial=np.inf) + 1e-6))
    return joined(listed.pick(nearest), own)


def _made(
    at: BuiltRoof, kind: Kind, fit: Fit, odds: float, *, new: tuple[End, ...] = (), words: str = ""
) -> JudgedMove:
    ordered = fit.entry != at.own
    force, stroke, extended = (float(getattr(at.entries, f)[fit.entry]) for f in ("force_1", "stroke", "extended"))
    return JudgedMove(
        kind, fit, odds, new, words, at.entries.names[fit.entry] if ordered else "", force, stroke, extended
    )


def _drilled(at: BuiltRoof, odds: Odds) -> list[JudgedMove]:
    """Return staying, and the best of the other holes that are there, with the odds that are known of them."""
    if not odds.holes:
        return [_made(at, "stay", at.fit_at(at.here), odds.after, words=at.here.words)]
    here = next(one for one in odds.holes if is_same(at.project, one.position, at.here))
    found = [_made(at, "stay", at.fit_at(here.position), here.odds, words=here.position.words)]
    other = next((one for one in odds.holes if one is not here), None)
    if other is not None:
        found.append(_made(at, "another hole", at.fit_at(other.position), other.odds, words=other.position.words))
    return found


# --- what is not there yet -----------------------------------------------------------------------------


def _looked_for(at: BuiltRoof) -> list[JudgedMove]:
    """Return the best new hole, the best other springs, and both together, each judged by every rule."""
    held, fresh = lifts(at)
    here = at.fit_at(at.here)
    holes = [at.fit_at(place) for place in at.proof.places if not is_same(at.project, place, at.here)]
    entries = comparable(at.entries)
    drilled = [here, *holes]
    best: dict[Kind, _Found] = {}
    # One new hole at a time: the other end stays where it is.
    for end in ENDS:
        pair = _still(at.pair, here, end)
        for move in next_moves(held, fresh, pair, entries, here, holes, seed=at.project.settings.seed):
            if move.kind in ("stay", "another hole"):
                continue
            one: _Found | None = _Found(move.fit, move.odds, ())
            if move.kind.endswith("new hole"):
                one = _spaced(at, held if move.kind == "new hole" else fresh, drilled, move.fit, end)
            if one is not None and (move.kind not in best or one.odds > best[move.kind].odds):
                best[move.kind] = one
    two = _both_ends(at, held, drilled)
    if two is not None and ("new hole" not in best or two.odds >= best["new hole"].odds + MUCH_BETTER):
        best["new hole"] = two
    places = {at.fit_at(place): place.words for place in at.proof.places}
    found = []
    for kind, one in best.items():
        odds = exact_odds(at, one.fit)
        found.append(_made(at, kind, one.fit, odds, new=one.new, words=places.get(replace(one.fit, entry=at.own), "")))
    return found


@dataclass(frozen=True, slots=True)
class _Found:
    """What was looked for: springs and ends, odds in the search [1], and at which ends a hole is new."""

    fit: Fit
    odds: float
    new: tuple[End, ...]


def _still(pair: Pair, here: Fit, moving: End) -> Pair:
    """Return a pair of zones in which one end alone may move."""
    if moving == "foot":
        return replace(pair, head=_spot(pair.head, here.head_x, here.head_z))
    return replace(pair, foot=_spot(pair.foot, here.foot_x, here.foot_z))


def _spot(zone: Zone, x: float, z: float) -> Zone:
    return replace(zone, x_low=x, x_high=x, z_low=z, z_high=z)


def _spaced(at: BuiltRoof, lift: Lift, drilled: Sequence[Fit], fit: Fit, end: End) -> _Found | None:
    """Return a new hole at `end` to whole grains, far enough from those that are there.

    Where it is too close to one it goes to the best place round those that are there; None where there is no room.
    """
    there = np.unique(_spots(drilled, end), axis=0)
    own = _allowed(at, _spots([fit], end), there, end)
    tried = own if len(own) else _allowed(at, (there[:, None] + _ring(at, AROUND, AWAY)).reshape(-1, 2), there, end)
    if not len(tried):
        return None
    table = np.tile(ends_at(fit).table, (len(tried), 1))
    table[:, COLUMNS[end]] = tried
    return _best(at, lift, fit, table, (end,))


def _both_ends(at: BuiltRoof, lift: Lift, drilled: Sequence[Fit]) -> _Found | None:
    """Return the best two new holes, one at each end, for the springs that are fitted; None where there is no room.

    Tried are places round the holes that the springs are in, then smaller moves from the best of them.
    """
    here = drilled[0]
    there = {end: np.unique(_spots(drilled, end), axis=0) for end in ENDS}
    round_it = _ring(at, *BOTH)
    feet, heads = (_allowed(at, _spots([here], end) + round_it, there[end], end) for end in ENDS)
    if not len(feet) or not len(heads):
        return None
    table = np.hstack([np.repeat(feet, len(heads), axis=0), np.tile(heads, (len(feet), 1))])
    first = _best(at, lift, here, table, ENDS)
    dice = 2 * chances((NEARER, 4), (at.project.settings.seed, NEARER)) - 1
    table = ends_at(first.fit).table + BOTH_STEP * at.project.choice.hole_spacing.nominal * dice
    table = np.round(table / at.grain) * at.grain
    good = np.logical_and(*(_apart(at, table[:, COLUMNS[end]], there[end], end) for end in ENDS))
    second = _best(at, lift, here, np.vstack([ends_at(first.fit).table, table[good]]), ENDS)
    return second if second.odds > first.odds else first


def _spots(fits: Sequence[Fit], end: End) -> Array:
    """Return where one end of several fits sits [m], [fits, 2]."""
    return np.array([[getattr(one, f"{end}_x"), getattr(one, f"{end}_z")] for one in fits])


def _ring(at: BuiltRoof, directions: int, spacings: Sequence[float]) -> Array:
    """Return places all round nought [m], [places, 2], at so many least spacings between holes."""
    angle, space = np.linspace(0.0, 2 * np.pi, directions, endpoint=False), at.project.choice.hole_spacing.nominal
    unit = np.column_stack([np.cos(angle), np.sin(angle)])
    return np.vstack([(far * space + at.grain) * unit for far in spacings])


def _allowed(at: BuiltRoof, places: Array, there: Array, end: End) -> Array:
    """Return places [m] to whole grains, [allowed, 2], those in the zone and far enough from the holes `there`."""
    marked = np.round(places / at.grain) * at.grain
    return np.asarray(marked[_apart(at, marked, there, end)])


def _apart(at: BuiltRoof, places: Array, there: Array, end: End) -> Flags:
    """Return which places [m], [places, 2], lie in the zone and far enough from the holes `there`, [holes, 2]."""
    zone = at.pair.foot if end == "foot" else at.pair.head
    low, high = np.array([zone.x_low, zone.z_low]), np.array([zone.x_high, zone.z_high])
    inside = ((places >= low - EDGE) & (places <= high + EDGE)).all(axis=1)
    off = places[:, None] - there
    least = np.hypot(off[..., 0], off[..., 1]).min(axis=1)
    return np.asarray(inside & (least >= at.project.choice.hole_spacing.nominal - EDGE))


def _best(at: BuiltRoof, lift: Lift, fit: Fit, table: Array, new: tuple[End, ...]) -> _Found:
    odds = quick_odds(at, lift, fit.entry, table)
    best = int(np.argmax(odds))
    return _Found(Fit(fit.pair, fit.entry, *(float(v) for v in table[best])), float(odds[best]), new)
