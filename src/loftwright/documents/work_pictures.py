"""Pictures of bars, days and odds for paper and screens."""

from __future__ import annotations

import math

from loftwright.core.parts_pages import BarsText
from loftwright.core.work_pages import WorkPage
from loftwright.documents.chapters import WIDTH
from loftwright.drawing.bar_cuts import BarWords, bar_cuts
from loftwright.drawing.calendar_view import order_of_work
from loftwright.drawing.months_view import months_view
from loftwright.drawing.odds_days import FinishDays, finish_strip
from loftwright.drawing.page import Drawing


def bars_pictures(bars: BarsText, *, width: float = WIDTH, height: float = math.inf) -> tuple[Drawing, ...]:
    """Return how the bars of one section are cut, in pages of at most `height` [mm]; none without bars."""
    if not bars.plan.bars:
        return ()
    words = tuple(BarWords(word.title, word.lengths, word.left_over) for word in bars.words)
    return bar_cuts(bars.plan, words, width=width, height=height, said=bars.said)


def calendar_pictures(page: WorkPage, *, width: float = WIDTH, height: float = math.inf) -> tuple[Drawing, ...]:
    """Return the order of work over the days, in pages of at most `height` [mm]; none without tasks."""
    if not page.schedule.tasks:
        return ()
    return order_of_work(page.schedule, width=width, height=height, today=page.today, worked=page.worked)


def months_pictures(page: WorkPage, *, width: float = WIDTH) -> tuple[Drawing, ...]:
    """Return a month as a grid of days, for each month with work in it; none without tasks."""
    if not page.schedule.tasks:
        return ()
    return months_view(page.schedule, width=width, today=page.today, worked=page.worked)


def finish_picture(page: WorkPage, *, width: float = WIDTH) -> Drawing | None:
    """Return how many of 100 plans end on which day; None once everything is done."""
    days = page.finish_days
    if days is None or not days.shares:
        return None
    return finish_strip(
        FinishDays("When it will be done", days.shares, days.named, days.wanted, days.wanted_text), width=width
    )
