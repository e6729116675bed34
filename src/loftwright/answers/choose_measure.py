"""What to measure before springs are ordered: what each reading would change in the choice, and what that adds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.choose_holes import designs, same_size
from loftwright.answers.choose_search import Candidate
from loftwright.answers.roof_odds import NOTABLE, Gain
from loftwright.answers.to_measure import Task, tasks
from loftwright.choice.search import Budget, where_for
from loftwright.choice.worth import groups_of, groups_of_set, learning_of_groups
from loftwright.core.lifting import Fit, Pair
from loftwright.core.motion import Array
from loftwright.project.stock import Listed

LEADS: Final = 3
"""Readings that are named where none alone adds anything."""
PARTS: Final = 4
"""Springs are searched anew for each of so many even parts of the reading that tells most."""
TELLING: Final = 0.02
"""A reading that adds less room than this, as a share of its scale, is not searched for anew [1]: judgement."""


@dataclass(frozen=True, slots=True)
class Measured:
    """What to measure, the greatest gain per minute first; else `leads`, and the odds [1] after these `together`."""

    gains: tuple[Gain, ...]
    leads: tuple[Task, ...]
    together: float


def what_to_measure(
    listed: Listed,
    pairs: Sequence[Pair],
    finalists: Sequence[Candidate],
    base: float,
    executor: Executor | None,
    cancelled: Callable[[], bool],
) -> Measured:
    """Return what to measure before ordering; `base` are the odds now [1].

    Designs to choose from once it is read: all finalists, the best one's holes with every force of its size, and what a
    quick search finds for each part of the reading that tells most. Where no reading alone adds to the odds, readings
    are ranked by what they add to the room that the best design has.
    """
    entries, first = listed.entries, finalists[0]
    todo = tasks(first.drawn.project, first.drawn.rows, first.drawn.seed)
    # The springs themselves are not there yet.
    todo = tuple(task for task in todo if not all(path.startswith("spring.") for path in task.paths))
    if not todo:
        return Measured((), (), base)
    forces = [replace(first.fit, entry=int(i)) for i in same_size(entries, first.fit.entry)]
    chance, room = designs(first.drawn, first.pair, entries, forces)
    chance = np.concatenate([np.array([one.chance for one in finalists]), chance])
    groups = np.array([groups_of(t.readings)[0] if len(t.readings) == 1 else groups_of_set(t.readings) for t in todo])
    nearer = learning_of_groups(room, groups)
    top = int(nearer.gain.argmax())
    if nearer.gain[top] > TELLING:
        found = _searched_in_parts(listed, pairs, first, todo[top], executor, cancelled)
        chance = np.concatenate([chance, *found])
    minutes = np.array([float(task.how.minutes) for task in todo])
    learnt = learning_of_groups(chance, groups)
    gains = tuple(
        Gain(todo[i], base, min(1.0, base + float(learnt.gain[i])))
        for i in learnt.ranked(minutes)
        if learnt.gain[i] > max(float(learnt.error[i]), NOTABLE)
    )
    if gains:
        return Measured(gains, (), base)
    leads = [i for i in nearer.ranked(minutes) if nearer.gain[i] > nearer.error[i]][:LEADS]
    if not leads:
        return Measured((), (), base)
    every = groups_of_set(np.array([todo[i].readings[0] for i in leads]))
    together = learning_of_groups(chance, every[None])
    return Measured((), tuple(todo[i] for i in leads), min(1.0, base + float(together.gain[0])))


def _searched_in_parts(
    listed: Listed,
    pairs: Sequence[Pair],
    first: Candidate,
    task: Task,
    executor: Executor | None,
    cancelled: Callable[[], bool],
) -> list[Array]:
    """Return the chances [designs, draws] of what a quick search finds in each part of the draws, by one reading."""
    lift = first.drawn.lift()
    part = groups_of(task.readings[:1], PARTS)[0]
    by_pair: dict[int, list[Fit]] = {}
    for number in range(PARTS):
        rows = np.flatnonzero(part == number)
        if cancelled() or rows.size < 2:
            continue
        found = where_for(
            lift.only(rows),
            pairs,
            listed.entries,
            listed.pieces.tolist(),
            seed=first.drawn.seed + number,
            budget=Budget.small(),
            executor=executor,
            cancelled=cancelled,
            wanted=2,
        )
        for answer in found.answers:
            by_pair.setdefault(answer.fit.pair, []).append(answer.fit)
    return [designs(first.drawn, pairs[which], listed.entries, fits)[0] for which, fits in sorted(by_pair.items())]
