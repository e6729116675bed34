"""Working time and elapsed time: which hours of which days are worked, and how the two are turned into each other.

Time is counted in hours [h] from midnight before the first day. Working time w(t) is how many of the hours up to t
are worked. Curing and delivery run in elapsed time, work in working time.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loftwright.core.motion import Array, array_of

DAY: Final = 24.0
WEEK: Final = 7
TINY: Final = 1e-7
"""Times nearer than this [h] are one and the same."""

_WORKED: Final = {
    1: (5,),
    2: (5, 6),
    3: (4, 5, 6),
    4: (0, 1, 2, 3),
    5: (0, 1, 2, 3, 4),
    6: (0, 1, 2, 3, 4, 5),
    7: (0, 1, 2, 3, 4, 5, 6),
}


def weekdays(days_per_week: int) -> tuple[int, ...]:
    """Return which days are worked, Monday being 0, for `days_per_week` from 1 to 7.

    Up to three days a week are taken at the weekend and the Friday before it, from four on they start on Monday:
    judgement. ValueError for any other count.

    >>> weekdays(2), weekdays(5)
    ((5, 6), (0, 1, 2, 3, 4))
    """
    if days_per_week not in _WORKED:
        raise ValueError(f"{days_per_week} days a week: wanted 1 to 7")
    return _WORKED[days_per_week]


@cache
def _week(first: int, worked: tuple[int, ...]) -> tuple[NDArray[np.bool_], NDArray[np.int64]]:
    """Return for seven days from weekday `first` on whether they are worked, and the worked days before each."""
    works = np.array([(first + i) % WEEK in worked for i in range(WEEK)])
    return works, np.concatenate(([0], np.cumsum(works))).astype(np.int64)


@dataclass(frozen=True, slots=True)
class WorkCalendar:
    """Which hours are worked: from `first` on, `hours` [h] a day starting `begins` [h] after midnight.

    `worked` are weekdays, Monday being 0. ValueError where no hour is worked or a day has too few hours.
    """

    first: date
    worked: tuple[int, ...]
    hours: float = 8.0
    begins: float = 9.0

    def __post_init__(self) -> None:
        if not self.worked or not set(self.worked) <= set(range(WEEK)):
            raise ValueError("at least one day of the week must be worked")
        if self.hours <= 0.0 or self.begins < 0.0 or self.begins + self.hours > DAY:
            raise ValueError("a working day must begin and end on the same day")

    def _week(self) -> tuple[NDArray[np.bool_], NDArray[np.int64]]:
        return _week(self.first.weekday(), self.worked)

    def worked_by(self, time: ArrayLike) -> Array:
        """Return the working hours up to `time`.

            w(t) = h (n_week floor(d / 7) + n(d mod 7)) + works(d) min(max(t - 24 d - b, 0), h), d = floor(t / 24)  (1)

        Parameters
        ----------
        time: elapsed [h], [...]; before the first day it is negative.

        Returns
        -------
        Working time [h], [...].
        """
        t = array_of(time)
        works, before = self._week()
        day = np.floor(t / DAY + TINY / DAY).astype(np.int64)
        whole = len(self.worked) * (day // WEEK) + before[day % WEEK]
        part = np.clip(t - DAY * day - self.begins, 0.0, self.hours) * works[day % WEEK]
        return np.asarray(self.hours * whole + part)

    def _day_of(self, number: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return the day on which the worked day `number`, counted from 0, falls."""
        works, _ = self._week()
        places = np.flatnonzero(works)
        return np.asarray(WEEK * (number // len(places)) + places[number % len(places)], dtype=np.int64)

    def start_of(self, work: ArrayLike) -> Array:
        """Return the last moment by which `work` hours are worked and the next one begins: a morning, not an evening.

        Parameters
        ----------
        work: working time [h], [...].

        Returns
        -------
        Elapsed time [h], [...].
        """
        w = array_of(work)
        number = np.floor((w + TINY) / self.hours).astype(np.int64)
        rest = np.maximum(w - number * self.hours, 0.0)
        return np.asarray(DAY * self._day_of(number) + self.begins + rest)

    def end_of(self, work: ArrayLike) -> Array:
        """Return the first moment by which `work` hours are worked: an evening, not the next morning.

        Parameters
        ----------
        work: working time [h], [...].

        Returns
        -------
        Elapsed time [h], [...].
        """
        w = array_of(work)
        number = np.ceil((w - TINY) / self.hours).astype(np.int64) - 1
        rest = np.clip(w - number * self.hours, 0.0, self.hours)
        return np.asarray(DAY * self._day_of(number) + self.begins + rest)

    def next_start(self, time: ArrayLike) -> Array:
        """Return the first working moment at or after `time` [h], [...]."""
        return self.start_of(self.worked_by(time))

    def after_work(self, start: ArrayLike, work: ArrayLike) -> Array:
        """Return when `work` [h of work] begun at `start` [h] is over, [...]; no work ends where it starts."""
        done = self.end_of(self.worked_by(start) + array_of(work))
        return np.where(array_of(work) > TINY, done, array_of(start))

    def before_work(self, end: ArrayLike, work: ArrayLike) -> Array:
        """Return the latest start of `work` [h of work] that is over by `end` [h], [...]; none starts where it ends."""
        begun = self.start_of(self.worked_by(end) - array_of(work))
        return np.where(array_of(work) > TINY, begun, array_of(end))

    def whole_day_start(self, time: ArrayLike, block: ArrayLike) -> Array:
        """Return the first working moment at or after `time` from which a `block` still fits into the same day.

        A block longer than a working day begins in the morning.

        Parameters
        ----------
        time: elapsed [h], [...].
        block: working time that should not be parted by a night [h], [...].
        """
        start = self.next_start(time)
        gone = start - DAY * np.floor(start / DAY) - self.begins
        fits = (gone <= TINY) | (gone + array_of(block) <= self.hours + TINY)
        tomorrow = self.next_start(DAY * (np.floor(start / DAY) + 1.0))
        return np.where(fits, start, tomorrow)

    def whole_day_latest(self, time: ArrayLike, block: ArrayLike) -> Array:
        """Return the latest moment at or before the working moment `time` from which a `block` fits into the same day.

        Parameters
        ----------
        time: elapsed [h], [...].
        block: working time that should not be parted by a night [h], [...].
        """
        t = array_of(time)
        morning = DAY * np.floor(t / DAY) + self.begins
        latest = morning + np.maximum(self.hours - array_of(block), 0.0)
        return np.minimum(t, latest)

    def date_of(self, time: float) -> date:
        """Return the day on which the elapsed `time` [h] falls."""
        return self.first + timedelta(days=int(np.floor(time / DAY + TINY / DAY)))

    def evening_of(self, day: date) -> float:
        """Return the end of the working hours of `day` as elapsed time [h]; at the weekend too."""
        return DAY * (day - self.first).days + self.begins + self.hours

    def morning_of(self, day: date) -> float:
        """Return the start of the working hours of `day` as elapsed time [h]."""
        return DAY * (day - self.first).days + self.begins
