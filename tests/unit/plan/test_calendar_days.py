"""Which hours are worked. Expected values counted by hand on a calendar."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from loftwright.plan.calendar_days import WorkCalendar, weekdays

FRIDAY = date(2026, 3, 6)
OFFICE = WorkCalendar(FRIDAY, weekdays(5), hours=8.0, begins=9.0)


def test_work_stops_for_the_night_and_the_weekend() -> None:
    # Friday 13:00 and 10 working hours: 4 on Friday, 6 on Monday, over at 15:00 three days later.
    assert float(OFFICE.after_work(13.0, 10.0)) == 3 * 24.0 + 15.0
    assert OFFICE.date_of(float(OFFICE.after_work(13.0, 10.0))) == date(2026, 3, 9)
    # And back again.
    assert float(OFFICE.before_work(3 * 24.0 + 15.0, 10.0)) == 13.0


def test_a_full_day_ends_in_the_evening_and_the_next_task_starts_in_the_morning() -> None:
    end = OFFICE.after_work(9.0, 8.0)
    assert float(end) == 17.0
    assert float(OFFICE.next_start(end)) == 3 * 24.0 + 9.0


def test_no_work_takes_no_time() -> None:
    assert float(OFFICE.after_work(30.0, 0.0)) == 30.0
    assert float(OFFICE.before_work(30.0, 0.0)) == 30.0


def test_a_group_that_does_not_fit_waits_for_the_morning() -> None:
    start = OFFICE.whole_day_start(np.array([9.0, 11.0, 9.0]), np.array([8.0, 7.0, 12.0]))
    assert start.tolist() == [9.0, 3 * 24.0 + 9.0, 9.0]
    latest = OFFICE.whole_day_latest(np.array([16.0, 10.0]), np.array([5.0, 5.0]))
    assert latest.tolist() == [12.0, 10.0]


def test_days_before_the_first_count_back() -> None:
    thursday = date(2026, 3, 5)
    assert OFFICE.evening_of(thursday) == -24.0 + 17.0
    assert OFFICE.date_of(OFFICE.evening_of(thursday)) == thursday
    assert float(OFFICE.worked_by(OFFICE.morning_of(thursday))) == -8.0


def test_weekends_only() -> None:
    calendar = WorkCalendar(FRIDAY, weekdays(2), hours=6.0)
    assert calendar.date_of(float(calendar.next_start(0.0))) == date(2026, 3, 7)
    assert calendar.date_of(float(calendar.after_work(0.0, 13.0))) == date(2026, 3, 14)


@pytest.mark.parametrize("days", [0, 8])
def test_a_week_has_one_to_seven_days(days: int) -> None:
    with pytest.raises(ValueError, match="1 to 7"):
        weekdays(days)


@pytest.mark.parametrize(("worked", "hours"), [((), 8.0), ((7,), 8.0), ((0,), 0.0), ((0,), 16.0)])
def test_a_calendar_without_working_hours_is_refused(worked: tuple[int, ...], hours: float) -> None:
    with pytest.raises(ValueError, match="must be"):
        WorkCalendar(FRIDAY, worked, hours)
