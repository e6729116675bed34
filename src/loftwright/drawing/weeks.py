"""Names of days and months, and where a day falls on a page that shows some weeks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
WORKED = (0, 1, 2, 3, 4)
"""Weekdays that are worked where nothing else is said, Monday being 0."""


def day_text(day: date, *, weekday: bool = False) -> str:
    """Return a day as it is written: "5 Nov", with its weekday "Thu 5 Nov"."""
    text = f"{day.day} {MONTHS[day.month - 1][:3]}"
    return f"{DAYS[day.weekday()]} {text}" if weekday else text


def monday(day: date) -> date:
    """Return the Monday of the week of `day`."""
    return day - timedelta(days=day.weekday())


@dataclass(frozen=True, slots=True)
class Weeks:
    """Some weeks side by side on the page: the first Monday, how many, from where [mm], and a day's width [mm]."""

    first: date
    count: int
    left: float
    wide: float

    @property
    def last(self) -> date:
        """The last Sunday."""
        return self.first + timedelta(days=7 * self.count - 1)

    @property
    def right(self) -> float:
        """Where the last day ends [mm]."""
        return self.left + self.wide * 7 * self.count

    def days(self) -> list[date]:
        """Return every day shown."""
        return [self.first + timedelta(days=k) for k in range(7 * self.count)]

    def x(self, day: date) -> float:
        """Return where a day begins [mm], not beyond the page's first and last day."""
        return min(max(self.left + self.wide * (day - self.first).days, self.left), self.right)

    def end(self, day: date) -> float:
        """Return where a day ends [mm]."""
        return self.x(day + timedelta(days=1))

    def shows(self, first: date, last: date) -> bool:
        """Return whether some day from `first` to `last` is shown."""
        return first <= self.last and last >= self.first
