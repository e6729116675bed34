"""What holds for every network of tasks; random ones, seeded, computed here from first principles."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import numpy as np
import pytest

from loftwright.core.work import After, Hours, Task
from loftwright.plan.calendar_days import WorkCalendar, weekdays
from loftwright.plan.dated import Job
from loftwright.plan.finish_odds import drawn
from loftwright.plan.one_builder import in_turn, turns
from loftwright.plan.roof_open import roof_open
from loftwright.plan.schedule import passes
from loftwright.plan.standard_tasks import Roof, standard_tasks
from loftwright.plan.tasks import Network, network

MONDAY = date(2026, 3, 2)
ALWAYS = WorkCalendar(MONDAY, weekdays(7), hours=24.0, begins=0.0)
WEEKENDS = WorkCalendar(MONDAY, weekdays(2), hours=7.0, begins=10.0)
SEEDS = range(12)


def some(seed: int) -> tuple[Network, np.ndarray, np.ndarray]:
    """Return a network with 3 rows of work and wait."""
    rng = np.random.default_rng(seed)
    tasks = []
    for i in range(9):
        before = [j for j in range(i) if rng.random() < 0.35]
        links = tuple(After(f"t{j}", bool(rng.random() < 0.6)) for j in before)
        tasks.append(Task(f"t{i}", f"task {i}", Hours(0, 1, 2), links))
    return network(tasks), rng.integers(1, 30, (3, 9)) / 2.0, rng.integers(0, 40, (3, 9)) / 2.0


def paths_from(net: Network, i: int) -> list[list[int]]:
    """Return every path from a task to one with nothing after it."""
    onward = {link.then for link in net.out[i]}
    return [[i, *rest] for then in onward for rest in paths_from(net, then)] if onward else [[i]]


@pytest.mark.parametrize("seed", SEEDS)
def test_slack_is_that_of_what_follows_and_the_room_before_it(seed: int) -> None:
    # slack_i = min over links (room between i and j + slack_j); the room alone is the free slack.
    net, work, wait = some(seed)
    got = passes(net, work, wait)
    for i in range(len(net.tasks)):
        end = got.early_finish[:, i]
        room = [got.finish - wait[:, i] - end]
        total = [room[0]]
        for link in net.out[i]:
            gap = got.early_start[:, link.then] - end - wait[:, i] * link.waits
            room.append(gap)
            total.append(gap + got.slack[:, link.then])
        assert got.free_slack[:, i] == pytest.approx(np.min(room, axis=0), abs=1e-9)
        assert got.slack[:, i] == pytest.approx(np.min(total, axis=0), abs=1e-9)
    assert (got.free_slack >= -1e-9).all()
    assert (got.slack >= got.free_slack - 1e-9).all()


@pytest.mark.parametrize("seed", SEEDS)
def test_finish_is_the_longest_path_and_the_chain_adds_up_to_it(seed: int) -> None:
    net, work, _ = some(seed)
    got = passes(net, work)
    paths = [path for i in range(len(net.tasks)) if not net.into[i] for path in paths_from(net, i)]
    lengths = np.array([work[:, path].sum(axis=-1) for path in paths])
    assert got.finish == pytest.approx(lengths.max(axis=0))
    on = got.chain()
    assert (work * on).sum(axis=-1) == pytest.approx(got.finish)
    assert np.abs(got.slack[on]).max() < 1e-9


@pytest.mark.parametrize("seed", SEEDS)
def test_a_calendar_that_never_rests_changes_nothing(seed: int) -> None:
    net, work, wait = some(seed)
    bare, dated = passes(net, work, wait), passes(net, work, wait, calendar=ALWAYS)
    for name in ("early_start", "early_finish", "late_start", "late_finish", "slack", "free_slack"):
        assert getattr(dated, name) == pytest.approx(getattr(bare, name), abs=1e-6), name


@pytest.mark.parametrize("seed", SEEDS)
def test_with_a_calendar_every_link_is_kept_both_ways(seed: int) -> None:
    net, work, wait = some(seed)
    got = passes(net, work, wait, calendar=WEEKENDS)
    for start, end in ((got.early_start, got.early_finish), (got.late_start, got.late_finish)):
        assert WEEKENDS.worked_by(end) - WEEKENDS.worked_by(start) == pytest.approx(work, abs=1e-6)
        for links in net.into:
            for link in links:
                earliest = end[:, link.before] + wait[:, link.before] * link.waits
                assert (start[:, link.then] >= earliest - 1e-6).all()
    assert (got.late_start >= got.early_start - 1e-6).all()
    assert (got.slack >= got.free_slack - 1e-6).all()
    assert (got.late_finish + wait).max(axis=-1) == pytest.approx(got.finish)
    # What may slip by all of its slack may slip: the finish stays; an hour more moves it.
    i = int(np.argmax(got.slack[0]))
    for extra, moves in ((0.0, False), (8.0, True)):
        longer = work.copy()
        longer[0, i] += max(float(got.slack[0, i]), 0.0) + extra
        late = float(passes(net, longer, wait, calendar=WEEKENDS).finish[0])
        assert (late > float(got.finish[0]) + 1e-6) == moves


@pytest.mark.parametrize("seed", SEEDS)
def test_one_builder_does_one_task_at_a_time(seed: int) -> None:
    net, work, wait = some(seed)
    order = turns(net, work[0], wait[0], WEEKENDS)
    assert sorted(order) == list(range(9))
    alone = passes(in_turn(net.tasks, order), work, wait, calendar=WEEKENDS)
    for before, then in pairwise(order):
        assert (alone.early_start[:, then] >= alone.early_finish[:, before] - 1e-6).all()
    assert (alone.finish >= passes(net, work, wait, calendar=WEEKENDS).finish - 1e-6).all()


@pytest.mark.parametrize("trial", [True, False])
def test_what_holds_the_roof_open_adds_up_to_the_days_it_is_open(trial: bool) -> None:
    plans = drawn(Job(standard_tasks(Roof(trial=trial)), WEEKENDS, MONDAY), 100, 5)
    found = roof_open(plans)
    assert sum(share.days for share in found.shares) == pytest.approx(float(found.days[1:].mean()), abs=1e-9)
    assert all(0.0 < share.critical <= 1.0 for share in found.shares)


def test_working_time_and_elapsed_time_undo_each_other() -> None:
    work = np.linspace(0.1, 300.0, 997)
    for calendar in (ALWAYS, WEEKENDS, WorkCalendar(date(2026, 3, 5), weekdays(5))):
        for back in (calendar.start_of(work), calendar.end_of(work)):
            assert calendar.worked_by(back) == pytest.approx(work, abs=1e-6)
            assert (np.diff(back) > 0).all()
