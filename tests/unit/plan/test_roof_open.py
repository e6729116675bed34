"""Days with the roof open, and the rules on the order of work, each seen to hold and to fail."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.core.work import After, Done, Hours, Task
from loftwright.plan.calendar_days import WorkCalendar, weekdays
from loftwright.plan.dated import Job
from loftwright.plan.finish_odds import Drawn, drawn
from loftwright.plan.roof_open import judge_open, judge_ring, roof_open, trial_gain
from loftwright.plan.standard_tasks import Roof, standard_tasks
from loftwright.plan.work_rules import judge_helpers

MONDAY = date(2026, 3, 2)
OFFICE = WorkCalendar(MONDAY, weekdays(5), hours=8.0, begins=9.0)


def first(judged: Judged) -> Check:
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value[0]), float(judged.limit[0]), part=judged.which)


def hours(h: float) -> Hours:
    return Hours(h, h, h)


SMALL = (
    Task("ready", "get ready", hours(4)),
    Task("cut", "cut", hours(3), (After("ready"),), roof_open=True),
    Task("bond", "bond", hours(3), (After("cut"),), hours(20), "curing", roof_open=True),
    Task("closed", "close", hours(2), (After("bond"),), roof_open=True),
)


def test_open_time_and_its_parts_counted_by_hand() -> None:
    # Ready Monday 9 to 13, cut 13 to 16, bonded 16 to 17 and Tuesday 9 to 11, cured Wednesday 7, closed at 9 to 11.
    found = roof_open(drawn(Job(SMALL, OFFICE, MONDAY), 2, 1))
    assert found.days == pytest.approx((2 * 24.0 + 11.0 - 13.0) / 24.0)
    assert found.nights.tolist() == [2.0, 2.0, 2.0]
    assert {s.id: s.days * 24.0 for s in found.shares} == pytest.approx({"bond": 41.0, "cut": 3.0, "closed": 2.0})
    assert found.shares[0].id == "bond"
    assert all(s.critical == 1.0 for s in found.shares)


def test_what_holds_the_roof_open_from_outside_is_named_too() -> None:
    # The seal comes on Friday: until then nothing can close the roof.
    late = Task("seal", "order the seal", hours(1), wait=hours(100), wait_is="delivery")
    closed = replace(SMALL[3], after=(After("bond"), After("seal")))
    found = roof_open(drawn(Job((*SMALL[:3], closed, late), OFFICE, MONDAY), 2, 1))
    assert found.shares[0].id == "seal"
    assert sum(s.days for s in found.shares) == pytest.approx(float(found.days[0]))


@pytest.fixture(scope="module")
def plans() -> dict[bool, Drawn]:
    calendar = WorkCalendar(MONDAY, weekdays(2), 8.0)
    return {
        trial: drawn(Job(standard_tasks(Roof(trial=trial, brace=True)), calendar, MONDAY), 150, 2)
        for trial in (True, False)
    }


def test_the_trial_frame_shortens_the_days_with_the_roof_open(plans: dict[bool, Drawn]) -> None:
    gain = trial_gain(roof_open(plans[True]), roof_open(plans[False]))
    assert gain.without_half > gain.with_half + 3.0
    assert gain.without_nine > gain.with_nine
    assert gain.with_nine >= gain.with_half


def test_nights_with_the_roof_open(plans: dict[bool, Drawn]) -> None:
    nights = float(roof_open(plans[True]).nights[0])
    assert first(judge_open(roof_open(plans[True]), nights)).verdict is Verdict.HOLDS
    assert first(judge_open(roof_open(plans[False]), nights)).verdict is Verdict.FAILS


def test_ring_on_the_day_of_the_cut(plans: dict[bool, Drawn]) -> None:
    assert first(judge_ring(plans[True])).verdict is Verdict.HOLDS
    short = WorkCalendar(MONDAY, weekdays(2), 6.0)
    assert first(judge_ring(drawn(Job(standard_tasks(Roof()), short, MONDAY), 2, 2))).verdict is Verdict.FAILS


def test_a_ring_that_is_not_in_is_judged_after_the_cut_too() -> None:
    # By hand: 2 h of cutting were taken; a day of 12 h has room for the rest on the same day, and for none the next.
    long = WorkCalendar(MONDAY, weekdays(7), 12.0, begins=8.0)
    for later, verdict in ((0, Verdict.HOLDS), (1, Verdict.FAILS)):
        job = Job(standard_tasks(Roof()), long, MONDAY + timedelta(days=later), {"cut": Done(2.0, MONDAY)})
        assert first(judge_ring(drawn(job, 2, 2))).verdict is verdict


def test_helpers() -> None:
    tasks = standard_tasks(Roof())
    enough, short = first(judge_helpers(tasks, 3)), first(judge_helpers(tasks, 2))
    assert enough.verdict is Verdict.HOLDS
    assert short.verdict is Verdict.FAILS
    assert short.part == "Lift the shell on and bolt it to its hinges"


def test_a_job_without_a_cut_has_no_open_roof() -> None:
    with pytest.raises(KeyError):
        roof_open(drawn(Job(SMALL[:1], OFFICE, MONDAY), 2, 1))
