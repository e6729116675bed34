"""The order of work over the days: a bar a task, what is waited for behind it, room left, and days with an open roof.

A bar with a bold edge and a diamond before its name sets the finish; a thin line with a foot says how late a task may
end. Nothing is told by colour alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from loftwright.core.errors import Bug
from loftwright.core.work import Planned, Schedule
from loftwright.drawing.calendar_key import WAITS, calendar_key
from loftwright.drawing.page import (
    Drawing,
    Line,
    Polygon,
    Primitive,
    Text,
    text_width,
)
from loftwright.drawing.pattern_room import dashed
from loftwright.drawing.shadings import box, diamond, shaded, tick
from loftwright.drawing.tiles import wrapped
from loftwright.drawing.weeks import WORKED, Weeks, day_text, monday

_NAME, _SMALL, _SIGN = 2.3, 2.0, 2.8
_ROW, _TALL, _THICK, _LINE = 4.3, 7.0, 2.3, 2.8
"""Height of a row with its name beside or over the bar, of a bar, and of a further line of a name [mm]."""
_HEAD = 12.5
_DAY, _DAY_LEAST = 3.3, 2.3
"""A day is wished this wide, and never less [mm]."""
_BESIDE = 110.0
"""From this width on names stand beside the bars, else over them [mm]."""


@dataclass(frozen=True, slots=True)
class _Plan:
    """What all pages of a plan share."""

    width: float
    beside: bool
    worked: tuple[int, ...]
    today: date | None
    open_days: tuple[date, date] | None


def open_days(schedule: Schedule) -> tuple[date, date] | None:
    """Return the first and the last day on which there is a hole in the roof; None where no task opens it."""
    tasks = [p for p in schedule.tasks if p.task.roof_open]
    return (min(p.begins for p in tasks), max(p.ends for p in tasks)) if tasks else None


def order_of_work(
    schedule: Schedule,
    *,
    width: float,
    height: float = math.inf,
    weeks: int | None = None,
    today: date | None = None,
    worked: Sequence[int] = WORKED,
    opened: tuple[date, date] | None = None,
) -> tuple[Drawing, ...]:
    """Return the plan in pages of `weeks` weeks, at most `height` [mm] high, each with the tasks that fall into it.

    `worked` are the weekdays that are worked, Monday being 0; `weeks` as many as are readable where it is left out.
    `opened` are the first and the last day with an open roof, from the tasks where it is left out. Errors: Bug without
    tasks, or where not even one task fits the height.
    """
    if not schedule.tasks:
        raise Bug("an order of work needs tasks")
    beside = width >= _BESIDE
    left = min(0.42 * width, 78.0) if beside else 0.0
    room = width - left - 0.3
    count = weeks or max(1, int(room / (7 * _DAY)))
    first = monday(min(p.begins for p in schedule.tasks))
    last = max(max(p.free_from, p.latest_end) for p in schedule.tasks)
    total = (monday(last) - first).days // 7 + 1
    if room / (7 * min(count, total)) < _DAY_LEAST:
        raise Bug(f"{count} weeks do not fit into {room:.0f} mm")
    plan = _Plan(width, beside, tuple(worked), today, opened or open_days(schedule))
    pages: list[Drawing] = []
    for start, many in _shares(total, math.ceil(total / count)):
        span = Weeks(first + timedelta(weeks=start), many, left, room / (7 * many))
        # A task that only has room left is not named again.
        here = [p for p in schedule.tasks if span.shows(p.begins, max(p.ends, p.free_from))]
        if not here:
            continue
        _, high = calendar_key(here, plan.worked, 0.0, width)
        pages += [_page(some, span, plan) for some in _shared_out(here, span, plan, height - _HEAD - high - 5.0)]
    return tuple(pages)


def _shared_out(tasks: Sequence[Planned], span: Weeks, plan: _Plan, room: float) -> list[list[Planned]]:
    """Return tasks page by page, as many as fit `room` [mm] on each."""
    pages: list[list[Planned]] = [[]]
    used = 0.0
    for one in tasks:
        high = _row(one, span, plan)
        if high > room:
            raise Bug("no task fits the height of a page")
        if used + high > room:
            pages.append([])
            used = 0.0
        pages[-1].append(one)
        used += high
    return pages


def _lines(one: Planned, span: Weeks, plan: _Plan) -> list[str]:
    """Return the name in as many lines as it needs."""
    return wrapped(one.task.name, (span.left if plan.beside else plan.width) - 4.2, _NAME)


def _row(one: Planned, span: Weeks, plan: _Plan) -> float:
    """Return the height of a task's row [mm]."""
    return (_ROW if plan.beside else _TALL) + _LINE * (len(_lines(one, span, plan)) - 1)


def _shares(total: int, pages: int) -> list[tuple[int, int]]:
    """Return for each page its first week and how many it shows, spread evenly."""
    ends = [round(total * k / pages) for k in range(pages + 1)]
    return [(a, b - a) for a, b in pairwise(ends)]


def _page(tasks: Sequence[Planned], span: Weeks, plan: _Plan) -> Drawing:
    bottom = _HEAD + sum(_row(one, span, plan) for one in tasks) + 0.8
    marks = [*_ground(span, plan, bottom), *_today(span, plan, bottom)]
    y = _HEAD
    for k, one in enumerate(tasks):
        marks += _name(one, y, plan, span)
        high = _row(one, span, plan)
        # Beside its bar a name begins on its line; over it the bar comes after the last line.
        marks += _task(one, y + (_ROW if plan.beside else high) - 3.3, span, plan)
        y += high
        if plan.beside and k % 5 == 4:
            marks.append(Line((0.0, y), (span.right, y), "grid"))
    under, end = calendar_key(tasks, plan.worked, bottom + (4.0 if _under(span, plan) else 1.0), plan.width)
    told = " ".join(_told(one) for one in tasks)
    title = f"Order of work, {day_text(span.first)} to {day_text(span.last)} {span.last.year}"
    return Drawing(plan.width, end, title, told, (*marks, *under))


def _told(one: Planned) -> str:
    days = day_text(one.begins) if one.begins == one.ends else f"{day_text(one.begins)} to {day_text(one.ends)}"
    extra = ", done" if one.done else ", sets the finish" if one.critical else ""
    wait = f", free from {day_text(one.free_from)}" if one.free_from > one.ends else ""
    return f"{one.task.name}: {days}{wait}{extra}."


def _ground(span: Weeks, plan: _Plan, bottom: float) -> list[Primitive]:
    """Return days that are not worked, the open roof, weeks and days, under everything else."""
    marks: list[Primitive] = []
    opened = plan.open_days
    if opened is not None and span.shows(*opened):
        x0, x1 = span.x(opened[0]), span.end(opened[1])
        marks.append(Polygon(box(x0, _HEAD - 3.0, x1, bottom), "band-sun"))
        strip = box(x0, 0.4, x1, 3.4)
        marks += shaded(strip, "rising", gap=1.0, pen="hatch")
        edges = [x for x, day in zip((x0, x1), opened, strict=True) if span.first <= day <= span.last]
        marks += [Line((x, y0), (x, y1), "limit") for x in edges for y0, y1 in ((0.4, 3.4), (_HEAD - 3.0, bottom))]
        days = (opened[1] - opened[0]).days + 1
        words = f"roof open, {days} {'day' if days == 1 else 'days'}"
        half = text_width(words, _SIGN, bold=True) / 2
        x = min(max((x0 + x1) / 2, span.left + half + 0.5), plan.width - half - 0.5)
        marks.append(Text((x, 2.9), words, _SIGN, "middle", "limit", True, halo=True))
    for day in span.days():
        if day.weekday() not in plan.worked:
            marks.append(Polygon(box(span.x(day), _HEAD - 3.0, span.end(day), bottom), "band-mild"))
    for k in range(span.count + 1):
        start = span.first + timedelta(weeks=k)
        x = span.x(start)
        marks.append(Line((x, 4.2), (x, bottom), "fine"))
        if k < span.count:
            room = span.wide * 7 - 1.2
            words = next(
                (w for w in (f"week of {day_text(start)}", day_text(start)) if text_width(w, _NAME) <= room), ""
            )
            marks.append(Text((x + 0.8, 7.2), words, _NAME, "start", "ink"))
    size = min(_SMALL, 0.75 * span.wide)
    for day in span.days():
        if size >= 1.7 or day.weekday() == 0:
            middle = (span.x(day) + span.end(day)) / 2
            pen = "ink" if day.weekday() in plan.worked else "note"
            marks.append(Text((middle, _HEAD - 1.0), str(day.day), max(size, 1.7), "middle", pen))
    marks.append(Line((span.left, _HEAD), (span.right, _HEAD), "fine"))
    return marks


def _name(one: Planned, top: float, plan: _Plan, span: Weeks) -> list[Primitive]:
    """Return the sign and the name of a task, beside or over its bar."""
    base = top + 3.0 if plan.beside else top + 2.7
    marks: list[Primitive] = []
    if one.done:
        marks.append(tick(0.3, base, 2.0))
    elif one.critical:
        marks.append(diamond(1.2, base - 0.8))
    pen = "note" if one.done else "ink"
    # A name over the bars stands on the days' ground and lines.
    return [
        *marks,
        *(
            Text((3.0, base + _LINE * k), line, _NAME, "start", pen, halo=not plan.beside)
            for k, line in enumerate(_lines(one, span, plan))
        ),
    ]


def _task(one: Planned, top: float, span: Weeks, plan: _Plan) -> list[Primitive]:
    """Return a task's bar from `top` down: work, its wait behind it, how late it may end under it."""
    y0, y1 = top, top + _THICK
    middle = (y0 + y1) / 2
    marks: list[Primitive] = []
    edge = "marker" if one.critical and not one.done else "thin-outline"
    if one.free_from > one.ends and span.shows(one.ends, one.free_from):
        start = span.end(one.ends) if one.ends >= span.first else span.left
        end = span.end(one.free_from)
        if end - start > 0.2:
            wait = box(start, y0 + 0.3, end, y1 - 0.3)
            how = WAITS[one.task.wait_is][0] if one.task.wait_is in WAITS else "rising"
            marks += [Polygon(wait, "paper"), *shaded(wait, how, gap=0.9), Polygon(wait, "thin-outline")]
    if one.latest_end > one.ends and not (one.done or one.critical) and span.shows(one.ends, one.latest_end):
        a = span.end(one.ends) if one.ends >= span.first else span.left
        b = span.end(one.latest_end)
        if b - a > 0.2:
            marks.append(Line((a, y1 + 0.5), (b, y1 + 0.5), "fine"))
            if one.latest_end <= span.last:
                marks.append(Line((b, y1 - 0.3), (b, y1 + 0.7), "fine"))
    if not span.shows(one.begins, one.ends):
        return marks
    day = max(one.begins, span.first)
    stop = min(one.ends, span.last)
    marks.append(Line((span.x(day), middle), (span.end(stop), middle), "ink"))
    while day <= stop:
        # Days in a row that are worked are one box; over days that are not only a line goes on.
        run = day
        while run < stop and _works(run + timedelta(days=1), one, plan):
            run += timedelta(days=1)
        if _works(day, one, plan):
            shape = box(span.x(day) + 0.2, y0, span.end(run) - 0.2, y1)
            marks += [Polygon(shape, "paper" if one.done else "item"), Polygon(shape, edge)]
            day = run
        day += timedelta(days=1)
    return marks


def _works(day: date, one: Planned, plan: _Plan) -> bool:
    return day.weekday() in plan.worked or day in (one.begins, one.ends)


def _today(span: Weeks, plan: _Plan, bottom: float) -> list[Primitive]:
    """Return a dashed line through today, its number in a frame, and the word above, or below where that is taken."""
    today = plan.today
    if today is None or not _shows_today(span, plan):
        return []
    x0, x1 = span.x(today), span.end(today)
    words = f"today, {day_text(today)}"
    half = text_width(words, _NAME, bold=True) / 2
    at = min(max((x0 + x1) / 2, span.left + half + 0.3), plan.width - half - 0.3)
    base = bottom + 2.6 if _under(span, plan) else 2.9
    return [
        Text((at, base), words, _NAME, "middle", "ink", True),
        Polygon(box(x0 + 0.1, _HEAD - 3.0, x1 - 0.1, _HEAD - 0.2), "outline"),
        *dashed((((x0 + x1) / 2, _HEAD), ((x0 + x1) / 2, bottom)), "sign", dash=1.6, gap=1.0),
    ]


def _shows_today(span: Weeks, plan: _Plan) -> bool:
    return plan.today is not None and span.first <= plan.today <= span.last


def _under(span: Weeks, plan: _Plan) -> bool:
    """Return whether the word for today stands under the plan, because the open roof has its words above."""
    if plan.today is None or plan.open_days is None or not _shows_today(span, plan):
        return False
    x, (first, last) = span.x(plan.today), plan.open_days
    return span.shows(first, last) and span.x(first) - 44.0 < x < span.end(last) + 44.0
