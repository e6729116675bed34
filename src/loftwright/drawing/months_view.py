"""A month as a grid of days, each with what happens on it; on a narrow page a list of the days instead."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from loftwright.core.errors import Bug
from loftwright.core.work import Schedule, WaitKind
from loftwright.drawing.calendar_view import open_days
from loftwright.drawing.page import Drawing, Line, Polygon, Primitive, Text, shortened
from loftwright.drawing.shadings import box, diamond, shaded, tick, triangle
from loftwright.drawing.tiles import wrapped
from loftwright.drawing.weeks import DAYS, MONTHS, WORKED, day_text, monday

_SIZE, _DAY, _TITLE, _LINE = 2.1, 3.0, 4.2, 2.75
_HEAD, _DAYS_HIGH, _LEAST = 7.0, 4.6, 13.0
_GRID = 130.0
"""From this width on a month is a grid, else a list [mm]."""
_OVER: dict[WaitKind, str] = {
    "curing": "cured",
    "delivery": "should be here",
    "weather": "over by now",
    "answer": "answer due",
    "": "free",
}


@dataclass(frozen=True, slots=True)
class DayNote:
    """One thing on one day, text ready; `critical` sets the finish, `wait` is only the end of a wait."""

    on: date
    text: str
    critical: bool = False
    done: bool = False
    wait: bool = False
    first: bool = True
    """Whether it begins on this day; else it goes on."""


def day_notes(schedule: Schedule, *, worked: Sequence[int] = WORKED) -> tuple[DayNote, ...]:
    """Return what falls on which day: each day of work, and the day on which a wait is over."""
    found = []
    for one in schedule.tasks:
        day = one.begins
        while day <= one.ends:
            if day.weekday() in worked or day in (one.begins, one.ends):
                found.append(DayNote(day, one.task.name, one.critical, one.done, first=day == one.begins))
            day += timedelta(days=1)
        if one.free_from > one.ends and one.task.wait_is:
            found.append(DayNote(one.free_from, f"{_OVER[one.task.wait_is]}: {one.task.name}", wait=True))
    return tuple(found)


_Written = tuple[str, DayNote | None, bool]
"""A line of text, its note, and whether the note begins there."""


@dataclass(frozen=True, slots=True)
class _Month:
    width: float
    notes: dict[date, list[DayNote]]
    opened: tuple[date, date] | None
    today: date | None
    worked: tuple[int, ...]
    most: int

    def is_open(self, day: date) -> bool:
        return self.opened is not None and self.opened[0] <= day <= self.opened[1]


def months(
    notes: Iterable[DayNote],
    *,
    width: float,
    opened: tuple[date, date] | None = None,
    today: date | None = None,
    worked: Sequence[int] = WORKED,
    most: int = 12,
) -> tuple[Drawing, ...]:
    """Return a drawing for each month with something in it, `width` [mm] wide; a day shows at most `most` lines.

    Days with an open roof are hatched at the top and say so. Errors: Bug without notes.
    """
    by_day: dict[date, list[DayNote]] = {}
    for note in notes:
        by_day.setdefault(note.on, []).append(note)
    if not by_day:
        raise Bug("a month needs something that happens")
    month = _Month(width, by_day, opened, today, tuple(worked), most)
    kinds = sorted({(day.year, day.month) for day in by_day})
    draw = _grid if width >= _GRID else _list
    return tuple(draw(month, *kind) for kind in kinds)


def months_view(
    schedule: Schedule, *, width: float, today: date | None = None, worked: Sequence[int] = WORKED
) -> tuple[Drawing, ...]:
    """Return the months of a schedule, as `months`."""
    notes = day_notes(schedule, worked=worked)
    return months(notes, width=width, opened=open_days(schedule), today=today, worked=worked)


def _days_of(year: int, month: int) -> list[date]:
    day = date(year, month, 1)
    found = []
    while day.month == month:
        found.append(day)
        day += timedelta(days=1)
    return found


def _told(month: _Month, days: Sequence[date]) -> str:
    said = []
    for day in days:
        if day in month.notes:
            said.append(f"{day_text(day, weekday=True)}: {', '.join(n.text for n in month.notes[day])}.")
    return " ".join(said)


def _said(note: DayNote) -> str:
    return note.text if note.first else f"... {note.text}"


def _written(notes: Sequence[DayNote], wide: float, most: int) -> list[_Written]:
    """Return lines, each with its note; notes that find no room are counted."""
    lines: list[_Written] = []
    for k, note in enumerate(notes):
        # What goes on is named in one line: it was told in full on its first day.
        said = wrapped(_said(note), wide, _SIZE) if note.first else [shortened(_said(note), wide, _SIZE)]
        left = len(notes) - k - 1
        room = most - len(lines) - (1 if left else 0)
        if room < 1:
            lines.append((f"and {left + 1} more", None, False))
            break
        if len(said) > room:
            said = [*said[: room - 1], shortened(" ".join(said[room - 1 :]), wide, _SIZE)]
        lines += [(text, note, i == 0) for i, text in enumerate(said)]
    return lines


def _sign(note: DayNote, x: float, base: float) -> list[Primitive]:
    if note.done:
        return [tick(x, base, 1.7, "ink")]
    if note.wait:
        return [triangle(x + 0.8, base - 0.1, 1.4, "thin-outline")]
    return [diamond(x + 0.8, base - 0.75, 1.5, "start-hole" if note.critical else "thin-outline")]


def _grid(month: _Month, year: int, number: int) -> Drawing:
    days = _days_of(year, number)
    wide = (month.width - 0.6) / 7
    marks: list[Primitive] = [Text((0.3, 4.6), f"{MONTHS[number - 1]} {year}", _TITLE, "start", "ink", True)]
    y = _HEAD + _DAYS_HIGH
    for k, name in enumerate(DAYS):
        marks.append(Text((0.3 + wide * (k + 0.5), y - 1.2), name, 2.5, "middle", "note"))
    week = monday(days[0])
    while week <= days[-1]:
        shown = [week + timedelta(days=k) for k in range(7)]
        inside = [_written(month.notes.get(day, []), wide - 4.4, month.most) for day in shown]
        high = max(_LEAST, 5.6 + _LINE * max(len(lines) for lines in inside))
        for k, (day, lines) in enumerate(zip(shown, inside, strict=True)):
            if day.month == number:
                marks += _cell(month, day, lines, 0.3 + wide * k, y, wide, high)
        y += high
        week += timedelta(days=7)
    under = _key(month, days, y + 1.0)
    return Drawing(month.width, y + 5.0, f"{MONTHS[number - 1]} {year}", _told(month, days), (*marks, *under))


def _cell(
    month: _Month, day: date, lines: Sequence[_Written], x: float, y: float, wide: float, high: float
) -> list[Primitive]:
    frame = box(x, y, x + wide, y + high)
    marks: list[Primitive] = []
    if day.weekday() not in month.worked:
        marks.append(Polygon(frame, "band-mild"))
    if month.is_open(day):
        strip = box(x + 6.0, y + 0.5, x + wide - 0.5, y + 4.2)
        marks += shaded(strip, "rising", gap=1.1, pen="hatch")
        marks.append(Text((x + wide - 1.2, y + 3.2), "roof open", _SIZE, "end", "limit", True, halo=True))
    marks.append(Polygon(frame, "thin-outline"))
    marks.append(Text((x + 1.0, y + 3.5), str(day.day), _DAY, "start", "ink", True))
    if day == month.today:
        inner = box(x + 0.5, y + 0.5, x + wide - 0.5, y + high - 0.5)
        marks.append(Polygon(inner, "marker"))
        if not month.is_open(day):
            marks.append(Text((x + wide - 1.4, y + 3.4), "today", _SIZE, "end", "ink", True))
    for k, (text, note, begins) in enumerate(lines):
        base = y + 7.2 + _LINE * k
        if note is not None and begins:
            marks += _sign(note, x + 0.9, base)
        marks.append(Text((x + 3.3, base), text, _SIZE, "start", "note" if note is not None and note.done else "ink"))
    return marks


def _list(month: _Month, year: int, number: int) -> Drawing:
    days = _days_of(year, number)
    left = 16.0
    marks: list[Primitive] = [Text((0.3, 4.6), f"{MONTHS[number - 1]} {year}", _TITLE, "start", "ink", True)]
    y = _HEAD
    for day in days:
        notes = month.notes.get(day, [])
        if not notes and day != month.today:
            continue
        extra = ["roof open"] if month.is_open(day) else []
        extra += ["today"] if day == month.today else []
        lines = _written(notes, month.width - left - 3.4, 10**6)
        high = max(_LINE * max(len(lines), 1 + len(extra)) + 2.2, 5.0)
        if day.weekday() not in month.worked:
            marks.append(Polygon(box(0.0, y, left - 2.0, y + high), "band-mild"))
        marks.append(Line((0.0, y), (month.width, y), "grid"))
        marks.append(Text((0.6, y + 3.4), f"{DAYS[day.weekday()]} {day.day}", 2.5, "start", "ink", True))
        for k, word in enumerate(extra):
            pen = "limit" if word == "roof open" else "ink"
            marks.append(Text((0.6, y + 3.4 + _LINE * (k + 1)), word, _SIZE, "start", pen, True))
        for k, (text, note, begins) in enumerate(lines):
            base = y + 3.4 + _LINE * k
            if note is not None and begins:
                marks += _sign(note, left, base)
            pen = "note" if note is not None and note.done else "ink"
            marks.append(Text((left + 2.4, base), text, _SIZE, "start", pen))
        y += high
    under = _key(month, days, y + 1.0)
    return Drawing(month.width, y + 5.0, f"{MONTHS[number - 1]} {year}", _told(month, days), (*marks, *under))


def _key(month: _Month, days: Sequence[date], top: float) -> list[Primitive]:
    notes = [note for day in days for note in month.notes.get(day, [])]
    signs = []
    if any(n.critical and not n.done and not n.wait for n in notes):
        signs.append((DayNote(days[0], "", critical=True), "sets the finish"))
    if any(not n.critical and not n.done and not n.wait for n in notes):
        signs.append((DayNote(days[0], ""), "has room"))
    if any(n.wait for n in notes):
        signs.append((DayNote(days[0], "", wait=True), "a wait is over"))
    if any(n.done for n in notes):
        signs.append((DayNote(days[0], "", done=True), "done"))
    marks: list[Primitive] = []
    x = 0.4
    for note, words in signs:
        marks += _sign(note, x, top + 2.4)
        marks.append(Text((x + 2.4, top + 2.4), words, _SIZE, "start", "note"))
        x += 21.0
    return marks
