"""How the order of work is worded: days, working time, nights, and which page helps with a task."""

from __future__ import annotations

from datetime import date
from typing import Final

from loftwright.answers.decisions import DECISIONS
from loftwright.core.work import Task
from loftwright.core.work_pages import HelpPage
from loftwright.plan.roof_open import RoofOpen
from loftwright.reference.work_help import HELP_OF_CHAPTER, HELP_OF_TASK

MONTHS: Final = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
DAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
BOARD: Final = {page.title: page.path for page in DECISIONS}
"""Path of each page of the board by its title."""


def day_words(day: date) -> str:
    """Return a day as people write it.

    >>> day_words(date(2027, 4, 17))
    'Sat 17 April 2027'
    """
    return f"{DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def hours_words(hours: float) -> str:
    """Return working time [h]: to half an hour from two hours on, shorter ones in minutes.

    >>> hours_words(0.0), hours_words(0.7), hours_words(1.5), hours_words(7.6)
    ('none', '40 min', '90 min', '7.5 h')
    """
    if hours < 1.0 / 120.0:
        return "none"
    if hours < 2.0:
        return f"{max(5 * round(hours * 12.0), 5)} min"
    return f"{round(2.0 * hours) / 2.0:g} h"


def nights_words(nights: float) -> str:
    """Return so many nights, to a whole one.

    >>> nights_words(1.2), nights_words(4.0), nights_words(0.3)
    ('1 night', '4 nights', 'no night')
    """
    whole = round(nights)
    return "no night" if whole == 0 else f"{whole} {'night' if whole == 1 else 'nights'}"


def help_of(task: Task) -> HelpPage:
    """Return which page helps with a task: its own, or that of its chapter."""
    return help_page(HELP_OF_TASK.get(task.id) or HELP_OF_CHAPTER[task.chapter])


def help_page(words: tuple[str, str, str]) -> HelpPage:
    """Return the page that three words name: title of a page of the board, sheet, command."""
    title, sheet, command = words
    return HelpPage(title, BOARD[title], sheet, command)


def helpers_words(count: int) -> str:
    """Return how many helpers are wanted; nothing where none is."""
    return "" if not count else f"{count} {'helper' if count == 1 else 'helpers'}"


def half_nights(found: RoofOpen) -> float:
    """Return the nights with the roof open in half of the plans [1]."""
    draws = found.nights[1:] if found.nights.size > 1 else found.nights
    return float(sorted(draws)[len(draws) // 2])


def nine_nights(found: RoofOpen) -> float:
    """Return the nights with the roof open that nine of ten plans do not pass [1]."""
    draws = found.nights[1:] if found.nights.size > 1 else found.nights
    ranked = sorted(draws)
    return float(ranked[max(-(-9 * len(ranked) // 10) - 1, 0)])
