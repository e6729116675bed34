"""Sections on the work: when, with whom, what is bought, what is done."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import ShellIs
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.body_sections import length_key
from loftwright.project.keys import Choice, Count, Key, Section, Words, YesNo
from loftwright.project.riding_sections import plain

_DAY = r"\d{4}-\d{2}-\d{2}"
_ALLOWED = 'a day as year-month-day, such as "2027-04-17"'


def _hours(meaning: str) -> Key:
    return Key(
        Dimension.TIME,
        0.0,
        2.0e6,
        meaning,
        unknown=(3600.0, 28_800.0),
        unknown_reason="from an hour to a day",
    )


class Plan(Section):
    """When the work begins, how much of it a week holds, and with whom."""

    start: Annotated[
        str | None,
        Words(
            "first day of work, such as 2027-04-17; left out: a Monday far ahead",
            pattern=_DAY,
            allowed=_ALLOWED,
            example="2027-04-17",
        ),
    ] = None
    finish: Annotated[
        str | None,
        Words("day by which it should be done; left out: none", pattern=_DAY, allowed=_ALLOWED, example="2027-06-30"),
    ] = None
    today: Annotated[
        str | None,
        Words(
            "day from which the rest is planned anew; left out: the last day ticked off, else the first day",
            pattern=_DAY,
            allowed=_ALLOWED,
            example="2027-05-02",
        ),
    ] = None
    hours: Annotated[
        Uncertain,
        Key(
            Dimension.TIME,
            1800.0,
            57_600.0,
            "working hours in a day on which you work",
            unknown=(10_800.0, 28_800.0),
            unknown_reason="from an afternoon to a full day",
            default="6 h",
            default_reason="judgement: with meals and looking for tools",
        ),
    ]
    days: Annotated[
        int, Count("days of the week on which you work, Saturday first", 1, 7, default=2, default_reason="weekends")
    ]
    people: Annotated[
        int, Count("people who can help on the day of the cut, beside you", 0, 8, default=1, default_reason="a friend")
    ]
    trial_frame: Annotated[
        bool,
        YesNo(
            "whether hinges, springs, latches and cloth are tried on a timber frame first",
            True,
            "it shortens the days with an open roof",
        ),
    ]
    shell_is: Annotated[
        ShellIs,
        Choice(
            "whether the shell is bought or built",
            "bought",
            "the usual way",
            default="bought",
            default_reason="the usual way",
        ),
    ]
    open_days: Annotated[
        Uncertain,
        Key(
            Dimension.TIME,
            0.0,
            8.64e6,
            "days for which the roof may be open to the rain, counted through nights and workdays",
            unknown=(86_400.0, 604_800.0),
            unknown_reason="from a weekend to a week",
            default="3 d",
            default_reason="judgement: as far ahead as forecasts are good",
        ),
    ]
    budget: Annotated[
        Uncertain | None,
        plain(
            "money for all of it, as a bare number in the project's currency; left out: none set",
            0.0,
            1.0e7,
            (500.0, 5000.0),
            "from a salvaged lid to all new",
        ),
    ] = None
    bar: Annotated[
        Uncertain,
        length_key(
            "length of the metal bars that are sold",
            0.5,
            12.0,
            (2.0, 6.0),
            "common bars",
            "6 m, assumed",
            "common bars",
        ),
    ]
    kerf: Annotated[
        Uncertain,
        length_key("what the saw takes away at each cut", 0.0, 0.01, (0.001, 0.003), "common blades", "2 mm, assumed"),
    ]


class Bought(Section):
    """One part of the list: its price, what is ordered and what is there; or a part of your own."""

    part: Annotated[
        str,
        Words(
            "which part, by its name in the list of parts",
            pattern=r"[a-z0-9][a-z0-9 .&/-]*",
            allowed="a part's name in small letters",
            example="rim-seal",
        ),
    ]
    name: Annotated[str | None, Words("what you call it, for a part of your own; left out: as in the list")] = None
    count: Annotated[
        Uncertain | None,
        plain(
            "how much is needed in the list's unit, for a part of your own; left out: as reckoned",
            0.0,
            1.0e5,
            (1.0, 4.0),
            "a few",
        ),
    ] = None
    price: Annotated[
        Uncertain | None,
        plain(
            "price of one unit, as a bare number in the project's currency; left out: as in the price table",
            0.0,
            1.0e6,
            (1.0, 100.0),
            "from a bolt to a window",
        ),
    ] = None
    ordered: Annotated[
        Uncertain,
        plain("how much is ordered or bought", 0.0, 1.0e5, (0.0, 1.0), "none or some", "0", "nothing ordered yet"),
    ]
    have: Annotated[
        Uncertain,
        plain("how much of it lies in the garage", 0.0, 1.0e5, (0.0, 1.0), "none or some", "0", "nothing there yet"),
    ]
    note: Annotated[str | None, Words("a note of yours; left out: none")] = None


class Todo(Section):
    """One task: ticked off, or with hours of your own, or a task of your own."""

    task: Annotated[
        str,
        Words(
            "which task, by its name in the order of work",
            pattern=r"[a-z0-9][a-z0-9 -]*",
            allowed="a task's name in small letters",
            example="mark-out",
        ),
    ]
    name: Annotated[str | None, Words("what is to be done, for a task of your own; left out: as in the list")] = None
    after: Annotated[
        str | None, Words("tasks that come before it, with commas, for a task of your own; left out: none")
    ] = None
    least: Annotated[Uncertain | None, _hours("working time if all goes well; left out: as in the list")] = None
    likely: Annotated[Uncertain | None, _hours("likely working time; left out: as in the list")] = None
    most: Annotated[Uncertain | None, _hours("working time if much goes wrong; left out: as in the list")] = None
    done: Annotated[
        str | None,
        Words("day on which it was done; left out: not done yet", pattern=_DAY, allowed=_ALLOWED, example="2027-04-18"),
    ] = None
    took: Annotated[Uncertain | None, _hours("working time that it took; left out: the likely time")] = None
