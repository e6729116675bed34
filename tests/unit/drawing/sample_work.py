"""A small order of work and a check that a drawing is tidy, for several tests of drawings."""

from __future__ import annotations

import math
from datetime import date
from itertools import combinations

from loftwright.core.work import Hours, Planned, Schedule, Task, WaitKind
from loftwright.drawing.page import Drawing, Group, Line, Rect, pen, text_box, texts


def tidy(drawing: Drawing) -> None:
    """Demand that every text and line lies on the paper, no text over another, and every pen is known."""
    paper = Rect(-0.3, -0.3, drawing.width + 0.3, drawing.height + 0.3)
    found = texts(drawing.marks)
    for text in found:
        assert text_box(text).within(paper), text
        assert not text.text.startswith("..."), text
    straight = [t for t in found if math.isclose(math.sin(2 * t.turn), 0.0, abs_tol=1e-6)]
    for a, b in combinations(straight, 2):
        assert not text_box(a).overlaps(text_box(b)), (a, b)
    for mark in drawing.marks:
        if not isinstance(mark, Group):
            pen(mark.pen)
        if isinstance(mark, Line):
            for x, y in (mark.a, mark.b):
                assert paper.x0 <= x <= paper.x1, mark
                assert paper.y0 <= y <= paper.y1, mark


def one(
    name: str,
    begins: date,
    ends: date,
    *,
    free: date | None = None,
    latest: date | None = None,
    wait: WaitKind = "",
    critical: bool = False,
    done: bool = False,
    roof_open: bool = False,
) -> Planned:
    """Return one planned task."""
    task = Task(name, f"Work on the {name}", Hours(1.0, 2.0, 3.0), wait_is=wait, roof_open=roof_open)
    last = latest or ends
    return Planned(task, begins, ends, free or ends, begins, last, 2.0, 0.0, 0.0, critical, done)


def plan() -> Schedule:
    """Return eight tasks over three weeks from Monday 2 November 2026 on; the roof is open from 17 to 19."""
    rows = (
        one("readings", date(2026, 11, 2), date(2026, 11, 3), done=True),
        one("order", date(2026, 11, 4), date(2026, 11, 4), free=date(2026, 11, 12), wait="delivery", critical=True),
        one("frame", date(2026, 11, 5), date(2026, 11, 6), latest=date(2026, 11, 11)),
        one("paint", date(2026, 11, 6), date(2026, 11, 9), free=date(2026, 11, 11), wait="curing"),
        one("forecast", date(2026, 11, 13), date(2026, 11, 13), free=date(2026, 11, 16), wait="weather", critical=True),
        one("cut", date(2026, 11, 17), date(2026, 11, 17), critical=True, roof_open=True),
        one("ring", date(2026, 11, 18), date(2026, 11, 19), critical=True, roof_open=True),
        one("lining", date(2026, 11, 20), date(2026, 11, 20), critical=True),
    )
    return Schedule(rows, date(2026, 11, 20), tuple(p.task.id for p in rows if p.critical), ())
