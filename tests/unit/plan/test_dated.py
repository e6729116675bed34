"""The plan with its days, ticked off and planned again. Expected days counted by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from loftwright.core.checks import Verdict
from loftwright.core.work import After, Done, Hours, Task
from loftwright.plan.calendar_days import WorkCalendar, weekdays
from loftwright.plan.dated import Job, pace_so_far, planned
from loftwright.plan.finish_odds import drawn, finish, judge_finish, share_by

MONDAY = date(2026, 3, 2)
OFFICE = WorkCalendar(MONDAY, weekdays(5), hours=8.0, begins=9.0)


def hours(h: float) -> Hours:
    return Hours(h, h, h)


BOND = Task("bond", "bond", hours(4), wait=hours(24), wait_is="curing")
SAND = Task("sand", "sand", hours(2), (After("bond"),))
CLEAN = Task("clean", "clean", hours(3), (After("bond", waits=False),))
JOB = Job((BOND, SAND, CLEAN), OFFICE, MONDAY)


def days(job: Job) -> dict[str, tuple[int, int]]:
    return {row.task.id: (row.begins.day, row.ends.day) for row in planned(job).tasks}


def test_curing_runs_over_the_night_while_the_hands_do_something_else() -> None:
    # Monday 9 to 13 bonding, cured on Tuesday at 13; cleaning on Monday 13 to 16; sanding on Tuesday 13 to 15.
    got = planned(JOB)
    assert days(JOB) == {"bond": (2, 2), "clean": (2, 2), "sand": (3, 3)}
    assert got.finish == date(2026, 3, 3)
    assert got.path == ("bond", "sand")
    rows = {row.task.id: row for row in got.tasks}
    assert rows["bond"].free_from == date(2026, 3, 3)
    assert [rows[name].critical for name in ("bond", "sand", "clean")] == [True, True, False]
    # Cleaning may end with the sanding, on Tuesday at 15: 9 working hours... 16 to 17 on Monday, 9 to 15 on Tuesday.
    # Alone, it must be over before the sanding starts at 13: one hour on Monday, four on Tuesday.
    assert rows["clean"].slack == pytest.approx(5.0)
    assert rows["clean"].latest_end == date(2026, 3, 3)
    alone = {row.task.id: row for row in planned(replace(JOB, alone=False)).tasks}
    assert alone["clean"].slack == pytest.approx(7.0)


def test_curing_runs_over_a_weekend() -> None:
    friday = date(2026, 3, 6)
    job = replace(JOB, today=friday)
    assert days(job) == {"bond": (6, 6), "clean": (6, 6), "sand": (9, 9)}


def test_what_is_done_is_done_and_the_rest_starts_today() -> None:
    thursday = date(2026, 3, 5)
    job = replace(JOB, today=thursday, done={"bond": Done(6.0, date(2026, 3, 4))})
    got = planned(job)
    # Bonded on Wednesday, cured on Thursday at 17; cleaning today, sanding tomorrow.
    assert days(job) == {"bond": (4, 4), "clean": (5, 5), "sand": (6, 6)}
    assert {row.task.id: row.done for row in got.tasks} == {"bond": True, "clean": False, "sand": False}
    assert next(row for row in got.tasks if row.done).hours == 6.0
    assert got.path == ("sand",)
    assert got.too_early == ()
    assert pace_so_far(job.tasks, job.done) == pytest.approx(1.5)
    assert pace_so_far(job.tasks, {}) is None


def test_a_tick_out_of_turn_is_named() -> None:
    job = replace(JOB, done={"sand": Done(2.0, MONDAY)})
    assert planned(job).too_early == (("sand", "bond"),)


def test_a_slower_pace_takes_longer() -> None:
    slow = planned(replace(JOB, pace=Hours(2.0, 2.0, 2.0)))
    assert {row.task.id: row.hours for row in slow.tasks} == {"bond": 8.0, "clean": 6.0, "sand": 4.0}
    assert slow.finish == date(2026, 3, 4)


def test_the_day_of_the_finish_and_its_odds() -> None:
    wide = replace(JOB, tasks=(replace(BOND, hours=Hours(1, 4, 30)), SAND, CLEAN))
    plans = drawn(wide, 200, 1)
    got = finish(plans)
    assert got.expected == planned(wide).finish
    assert got.one_in_ten <= got.half <= got.nine_in_ten
    assert 0.1 <= share_by(plans, got.one_in_ten) <= share_by(plans, got.half) <= share_by(plans, got.nine_in_ten)
    assert share_by(plans, got.nine_in_ten) >= 0.9


def test_a_wanted_day_is_met_or_missed() -> None:
    plans = drawn(JOB, 10, 1)
    for wanted, verdict in ((date(2026, 3, 3), Verdict.HOLDS), (MONDAY, Verdict.FAILS)):
        judged = judge_finish(plans, wanted)
        assert judged.value is not None
        assert judged.limit is not None
        check = judged.rule.judge(float(judged.value[0]), float(judged.limit[0]))
        assert check.verdict is verdict


def test_slack_never_parts_what_belongs_on_one_day() -> None:
    # Ready Monday 9 to 11, cut and ring 11 to 17; the other work ends on Tuesday at 13. Were cut and ring parted by
    # the night there would be four hours to spare; together they must begin by 11, or all of it moves to Tuesday at 15.
    tasks = (
        Task("ready", "get ready", hours(2)),
        Task("cut", "cut", hours(3), (After("ready"),), one_day="cut"),
        Task("ring", "ring", hours(3), (After("cut"),), one_day="cut"),
        Task("other", "other work", hours(12)),
    )
    rows = {row.task.id: row for row in planned(Job(tasks, OFFICE, MONDAY, alone=False)).tasks}
    assert rows["ready"].slack == pytest.approx(0.0)
    assert rows["cut"].begins == rows["ring"].ends == MONDAY
    late = planned(Job((replace(tasks[0], hours=hours(2.5)), *tasks[1:]), OFFICE, MONDAY, alone=False))
    moved = {row.task.id: row for row in late.tasks}
    assert moved["cut"].begins == moved["ring"].ends == date(2026, 3, 3)
