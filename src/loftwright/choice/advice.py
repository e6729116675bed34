"""Nothing works: the smallest change that frees a roof, tried before it is said.

A kind of change (a limit eased, a bracket moved, weight taken off) has sizes, in whole steps up to the largest that
makes sense. Whoever knows the mechanics says what the odds are after a change; here is only the search for the
smallest size that is enough, with few trials, since each of them is a search for springs of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import Final

from loftwright.core.errors import Bug

LOOKS: Final = (1.0, 0.5, 0.25)
"""Shares of the largest size that are looked at before a kind is given up: a large change can overshoot."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of change: sizes `step`, 2 `step`, .. up to `steps` of them, in the unit that `name` is known by.

    `effort` [1]: work, money or loss that the largest size costs, on any one scale for all kinds; less in
    proportion. `eases`: ids of the demands that it helps.
    """

    name: str
    step: float
    steps: int
    effort: float
    eases: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Freed:
    """A change that was tried: sizes of one kind or two, the odds after it [1], and what it costs."""

    sizes: tuple[tuple[str, float], ...]
    odds: float
    effort: float


@dataclass(frozen=True, slots=True)
class Advised:
    """Changes that free the roof, the least effort first; the nearest of those that do not; trials made."""

    freed: tuple[Freed, ...]
    nearest: Freed | None
    trials: int


Tried = Callable[[Mapping[str, float]], float]
"""Sizes by the name of their kind -> odds [1] of the best springs after that change."""


def advise(
    kinds: Sequence[Kind],
    tried: Tried,
    wanted: float,
    binding: Mapping[str, float] | None = None,
    most_trials: int = 40,
    confirmed: Tried | None = None,
) -> Advised:
    """Return the smallest change of each kind after which the odds are at least those wanted.

    Kinds that ease what fails most often are tried first. Each is tried at its largest size (then at a half and a
    quarter); if that is enough, the size is halved between what is too little and what is enough, in whole steps.
    If no kind is enough alone, two are tried together, both at their largest, then made smaller together and one by
    one. Whatever is returned as freeing has been tried at exactly the size returned; with `confirmed` (fresh draws)
    it is grown step by step until that agrees, or dropped. Bug when two kinds share a name.

    `wanted` [1]: odds that are enough. `binding` [1]: by id of a demand, in which share of roofs it fails.
    `most_trials`: calls of `tried` and `confirmed` together that are never exceeded.
    """
    if len({kind.name for kind in kinds}) < len(kinds):
        raise Bug("two kinds of change share a name")
    search = _Search(tried, confirmed, wanted, most_trials)
    shares = binding or {}
    order = sorted(kinds, key=lambda kind: (-sum(shares.get(d, 0.0) for d in kind.eases), kind.effort))
    found = [freed for kind in order if (freed := search.smallest((kind,))) is not None]
    if not found:
        # The two that came furthest alone are the likeliest to be enough together.
        alone = {kind.name: search.furthest(kind) for kind in order}
        pairs = sorted(combinations(order, 2), key=lambda two: -sum(alone[kind.name] for kind in two))
        for two in pairs:
            freed = search.smallest(two)
            if freed is not None:
                found.append(freed)
                break
    found.sort(key=lambda freed: freed.effort)
    return Advised(tuple(found), None if found else search.nearest(kinds), search.trials)


@dataclass(slots=True)
class _Search:
    """Trials made so far, each change only once, and none beyond the number allowed."""

    tried: Tried
    confirmed: Tried | None
    wanted: float
    most: int
    trials: int = 0
    known: dict[tuple[tuple[str, float], ...], float] = field(default_factory=dict)

    def odds(self, kinds: tuple[Kind, ...], sizes: tuple[int, ...]) -> float | None:
        """Return the odds after a change of so many steps, None when no trial is left."""
        key = _key(kinds, sizes)
        if key not in self.known:
            if self.trials >= self.most:
                return None
            self.trials += 1
            self.known[key] = self.tried(dict(key))
        return self.known[key]

    def enough(self, kinds: tuple[Kind, ...], sizes: tuple[int, ...]) -> bool:
        odds = self.odds(kinds, sizes)
        return odds is not None and odds >= self.wanted

    def smallest(self, kinds: tuple[Kind, ...]) -> Freed | None:
        """Return the smallest change of these kinds that is enough and confirmed, or None."""
        for share in LOOKS:
            sizes = _part(kinds, share)
            if self.enough(kinds, sizes):
                break
        else:
            return None
        sizes = self._together(kinds, sizes)
        if len(kinds) > 1:
            # The one that costs most is made smaller first.
            for at in sorted(range(len(kinds)), key=lambda i: -kinds[i].effort * sizes[i] / kinds[i].steps):
                sizes = self._one(kinds, sizes, at)
        return self._agreed(kinds, sizes)

    def furthest(self, kind: Kind) -> float:
        """Return the best odds seen with this kind alone."""
        return max((odds for key, odds in self.known.items() if [n for n, _ in key] == [kind.name]), default=0.0)

    def nearest(self, kinds: Sequence[Kind]) -> Freed | None:
        """Return the change with the best odds of all that were tried; between equals the one of least effort."""
        by_name = {kind.name: kind for kind in kinds}

        def effort(key: tuple[tuple[str, float], ...]) -> float:
            return sum(by_name[n].effort * size / (by_name[n].step * by_name[n].steps) for n, size in key)

        if not self.known:
            return None
        key = max(self.known, key=lambda k: (self.known[k], -effort(k)))
        return Freed(key, self.known[key], effort(key))

    def _together(self, kinds: tuple[Kind, ...], sizes: tuple[int, ...]) -> tuple[int, ...]:
        """Return the sizes made smaller in proportion by bisection, always at sizes that were enough when tried."""
        grain = max(sizes)
        low, high = 0, grain
        while high - low > 1:
            middle = (low + high) // 2
            smaller = tuple(max(1, -(-size * middle // grain)) for size in sizes)
            if self.enough(kinds, smaller):
                high = middle
            else:
                low = middle
        return tuple(max(1, -(-size * high // grain)) for size in sizes)

    def _one(self, kinds: tuple[Kind, ...], sizes: tuple[int, ...], at: int) -> tuple[int, ...]:
        low, high = 0, sizes[at]
        while high - low > 1:
            middle = (low + high) // 2
            if self.enough(kinds, (*sizes[:at], middle, *sizes[at + 1 :])):
                high = middle
            else:
                low = middle
        return (*sizes[:at], high, *sizes[at + 1 :])

    def _agreed(self, kinds: tuple[Kind, ...], sizes: tuple[int, ...]) -> Freed | None:
        """Return the change once fresh draws agree, grown by a step at a time; None when they never do."""
        while True:
            key = _key(kinds, sizes)
            odds = self.known[key]
            if self.confirmed is not None:
                if self.trials >= self.most:
                    return None
                self.trials += 1
                odds = self.confirmed(dict(key))
            if odds >= self.wanted:
                effort = sum(kind.effort * size / kind.steps for kind, size in zip(kinds, sizes, strict=True))
                return Freed(key, odds, effort)
            grown = tuple(min(size + 1, kind.steps) for kind, size in zip(kinds, sizes, strict=True))
            if grown == sizes or not self.enough(kinds, grown):
                return None
            sizes = grown


def _part(kinds: tuple[Kind, ...], share: float) -> tuple[int, ...]:
    return tuple(max(1, round(kind.steps * share)) for kind in kinds)


def _key(kinds: tuple[Kind, ...], sizes: tuple[int, ...]) -> tuple[tuple[str, float], ...]:
    return tuple((kind.name, kind.step * size) for kind, size in zip(kinds, sizes, strict=True))
