"""The standard list, for every kind of roof, and the order that safety demands."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import product

import pytest

from loftwright.core.choices import LinkageKind
from loftwright.core.errors import ProjectFault
from loftwright.core.work import After
from loftwright.plan.calendar_days import WorkCalendar, weekdays
from loftwright.plan.dated import Job, planned
from loftwright.plan.standard_tasks import (
    Roof,
    before_the_cut,
    standard_tasks,
    unsafe_order,
    way_back,
    with_safe_order,
)
from loftwright.plan.tasks import all_before, network
from loftwright.reference.work import CHAPTERS, SAFE_ORDER

KINDS: tuple[tuple[LinkageKind, str], ...] = (("hinge", "bought"), ("four-bar", "built"), ("scissor", "at hand"))
ROOFS = [
    Roof(kind, shell, trial=flags[0], springs=flags[1], brace=flags[2], panel=flags[3], lining=flags[4],
         walls=flags[3], laminate=flags[4])
    for kind, shell in KINDS
    for flags in product((True, False), repeat=5)
]  # fmt: skip


def test_every_kind_of_roof_has_a_list_that_hangs_together() -> None:
    for roof in ROOFS:
        tasks = standard_tasks(roof)
        net = network(tasks)
        assert 40 <= len(tasks) <= 72
        before = all_before(net)
        for end in ("cut", "closed", "first-road"):
            assert net.number(end) >= 0
        # The first fast road comes last: everything that the roof needs is done before it.
        assert len(before[net.number("first-road")]) == len(tasks) - 1
        cut, closed = net.number("cut"), net.number("closed")
        inside = {net.tasks[i].id for i in before[closed] if i == cut or cut in before[i]}
        assert inside == {task.id for task in tasks if task.roof_open}


def test_safety_order_is_in_the_list_itself() -> None:
    # Judged on the rows as written, before anything is added.
    rows = {row.id for _, rows in CHAPTERS for row in rows}
    assert {name for pair in SAFE_ORDER for name in pair[:2]} <= rows
    for roof in ROOFS:
        assert unsafe_order(standard_tasks(roof)) == ()


def test_a_list_without_a_safe_order_is_given_one() -> None:
    tasks = tuple(replace(t, after=(), one_day="") if t.id == "cut" else t for t in standard_tasks(Roof()))
    assert ("isolate-battery", "cut") in {pair[:2] for pair in unsafe_order(tasks)}
    mended = with_safe_order(tasks)
    assert unsafe_order(mended) == ()
    assert {t.id for t in mended if t.one_day} == {"cut", "prime-edge", "fit-ring", "cover-on"}


def test_what_safety_needs_cannot_be_left_out_or_turned_round() -> None:
    tasks = [replace(t, after=tuple(a for a in t.after if a.id != "isolate-battery")) for t in standard_tasks(Roof())]
    with pytest.raises(ProjectFault, match="isolate-battery must come before it"):
        with_safe_order([t for t in tasks if t.id != "isolate-battery"])
    turned = [replace(t, after=(After("fit-ring"),)) if t.id == "make-ring" else t for t in standard_tasks(Roof())]
    with pytest.raises(ProjectFault, match="circle"):
        with_safe_order(turned)


def test_what_a_roof_does_not_have_is_not_on_the_list() -> None:
    plain = {t.id for t in standard_tasks(Roof(trial=False, springs=False, walls=False))}
    assert not plain & {"build-frame", "frame-hinges", "springs-on", "order-cloth", "panel-on", "brace-on"}
    full = standard_tasks(Roof("parallel arms", "built", brace=True, panel=True, lining=True, laminate=True))
    assert {"lay-up-shell", "stiffen-shell", "brace-on", "panel-wire", "lining-in"} <= {t.id for t in full}
    assert "get-shell" not in {t.id for t in full}


def test_without_the_frame_more_and_longer_tasks_fall_under_the_open_roof() -> None:
    with_frame, without = (
        [t for t in standard_tasks(Roof(trial=trial, brace=True)) if t.roof_open] for trial in (True, False)
    )
    assert len(without) > len(with_frame)
    longer = {t.id: t.hours.likely for t in without}
    assert all(longer[t.id] >= t.hours.likely for t in with_frame)


def test_cut_and_ring_fall_on_one_day_and_the_battery_is_off_before() -> None:
    for hours in (8.0, 10.0):
        calendar = WorkCalendar(date(2026, 3, 2), weekdays(2), hours)
        rows = {row.task.id: row for row in planned(Job(standard_tasks(Roof()), calendar, calendar.first)).tasks}
        assert rows["cut"].begins == rows["fit-ring"].ends == rows["cover-on"].ends
        assert rows["isolate-battery"].ends <= rows["cut"].begins
        assert rows["fit-ring"].free_from > rows["fit-ring"].ends


def test_before_the_cut_names_what_must_be_ticked_off() -> None:
    # Second way: walked back from the cut along what each task comes after.
    for roof in ROOFS[:8]:
        tasks = standard_tasks(roof)
        after = {t.id: {one.id for one in t.after} for t in tasks}
        wanted, left = set[str](), {"cut"}
        while left:
            left = {name for one in left for name in after[one]} - wanted
            wanted |= left
        assert {t.id for t in before_the_cut(tasks)} == wanted - {"go-no-go"}
        assert {"isolate-battery", "order-seal", "order-lift", "make-prop", "paint-shell", "mark-out"} <= wanted
    assert before_the_cut([t for t in standard_tasks(Roof()) if not t.roof_open and t.id == "design"]) == ()


def test_the_hole_is_covered_on_the_evening_of_the_cut_though_the_ring_is_late() -> None:
    # Constructed: a working day that cut and cover fill; the ring goes in on another.
    for days, hours in ((2, 4.0), (2, 3.0), (7, 4.0)):
        calendar = WorkCalendar(date(2026, 3, 2), weekdays(days), hours)
        for alone in (True, False):
            job = Job(standard_tasks(Roof()), calendar, calendar.first, alone=alone)
            rows = {row.task.id: row for row in planned(job).tasks}
            assert rows["cut"].begins == rows["cut"].ends == rows["cover-on"].ends
            assert rows["fit-ring"].ends > rows["cover-on"].ends
    cover = next(t for t in standard_tasks(Roof()) if t.id == "cover-on")
    assert {one.id for one in cover.after} == {"cut", "make-rain-cover"}
    assert "every evening until it is closed" in cover.note


def test_the_way_back_closes_the_hole() -> None:
    net = network(way_back())
    assert net.tasks[net.order[0]].id == "back-cover"
    assert len(all_before(net)[net.number("back-inspector")]) == len(net.tasks) - 1
    assert any(t.wait_is == "curing" and t.helpers >= 2 for t in net.tasks)


def test_every_task_that_cures_or_is_delivered_says_so() -> None:
    for roof in ROOFS[:8]:
        for task in (*standard_tasks(roof), *way_back()):
            assert (task.wait.most > 0.0) == (task.wait_is != "")
            assert task.hours.most >= 2 * task.hours.least
