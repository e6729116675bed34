"""The order of work over days: bars on their days, waits hatched, the open roof in words, pages without losses."""

from __future__ import annotations

import importlib.util
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.core.work import Schedule
from loftwright.drawing.calendar_view import open_days, order_of_work
from loftwright.drawing.page import Line, Polygon, texts

_SPEC = importlib.util.spec_from_file_location("sample_work", Path(__file__).parent / "sample_work.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

TODAY = date(2026, 11, 5)


def test_bars_lie_on_their_days() -> None:
    """Constructed: one week on one page; a day is a seventh of what is right of the names."""
    monday = date(2026, 11, 2)
    rows = [sample.one(f"day {k}", monday + timedelta(days=k), monday + timedelta(days=k)) for k in range(5)]
    (page,) = order_of_work(Schedule(tuple(rows), rows[-1].ends, (), ()), width=180.0)
    sample.tidy(page)
    bars = [m for m in page.marks if isinstance(m, Polygon) and m.pen == "item"]
    starts = [bar.points[0][0] for bar in bars]
    steps = [b - a for a, b in pairwise(starts)]
    day = (180.0 - 0.42 * 180.0 - 0.3) / 7
    assert steps == pytest.approx([day] * 4)
    assert bars[0].points[0][0] == pytest.approx(0.42 * 180.0 + 0.2)


@pytest.mark.parametrize("width", [84.0, 180.0])
def test_signs_are_said_in_words(width: float) -> None:
    pages = order_of_work(sample.plan(), width=width, today=TODAY)
    said = [t.text for page in pages for t in texts(page.marks)]
    for page in pages:
        sample.tidy(page)
    for words in (
        "roof open, 3 days", "today, 5 Nov", "it is on its way", "it cures or dries", "wait for dry weather",
        "may still end here", "done", "no work on these days",
    ):  # fmt: skip
        assert words in said
    assert any(text.startswith("sets the finish") for text in said)
    for one in sample.plan().tasks:
        assert one.task.name in said


def test_a_weekend_parts_a_bar() -> None:
    """Constructed: Friday to Monday is two boxes and a line; worked seven days a week it is one box."""
    row = sample.one("paint", date(2026, 11, 6), date(2026, 11, 9))
    plan = Schedule((row,), row.ends, (), ())

    def boxes(worked: tuple[int, ...]) -> int:
        (page,) = order_of_work(plan, width=180.0, worked=worked)
        return sum(isinstance(m, Polygon) and m.pen == "item" for m in page.marks)

    assert boxes((0, 1, 2, 3, 4)) == 2
    assert boxes(tuple(range(7))) == 1


def test_bold_edges_are_those_that_set_the_finish() -> None:
    (page,) = order_of_work(sample.plan(), width=180.0)
    bold = [m for m in page.marks if isinstance(m, Polygon) and m.pen == "marker"]
    assert len(bold) == sum(p.critical for p in sample.plan().tasks)


def test_the_open_roof_is_bounded_where_it_opens_and_closes() -> None:
    assert open_days(sample.plan()) == (date(2026, 11, 17), date(2026, 11, 19))
    pages = order_of_work(sample.plan(), width=180.0, weeks=1)
    assert len(pages) == 3
    bounds = [{m.a[0] for m in page.marks if isinstance(m, Line) and m.pen == "limit"} for page in pages]
    assert [len(edges) for edges in bounds] == [0, 0, 2]


@pytest.mark.parametrize("width", [84.0, 180.0])
def test_long_names_are_written_in_full(width: float) -> None:
    words = "Measure the roof with its crown and its camber, all bows and every cable, and write down what was found"
    row = sample.one("roof", date(2026, 11, 4), date(2026, 11, 5))
    plan = Schedule((replace(row, task=replace(row.task, name=words)), *sample.plan().tasks), row.ends, (), ())
    page = order_of_work(plan, width=width)[0]
    sample.tidy(page)
    assert words in " ".join(t.text for t in texts(page.marks))


def test_rows_go_on_over_pages() -> None:
    monday = date(2026, 11, 2)
    rows = tuple(sample.one(f"piece {k}", monday, monday + timedelta(days=k % 5)) for k in range(40))
    pages = order_of_work(Schedule(rows, monday, (), ()), width=180.0, height=90.0)
    assert all(page.height <= 90.0 for page in pages)
    said = [t.text for page in pages for t in texts(page.marks)]
    assert all(said.count(row.task.name) == 1 for row in rows)


def test_what_cannot_be_drawn_is_a_bug() -> None:
    with pytest.raises(Bug, match="needs tasks"):
        order_of_work(Schedule((), TODAY, (), ()), width=180.0)
    far = sample.one("far", date(2027, 3, 1), date(2027, 3, 2))
    long = Schedule((*sample.plan().tasks, far), far.ends, (), ())
    with pytest.raises(Bug, match="do not fit"):
        order_of_work(long, width=84.0, weeks=12)
    with pytest.raises(Bug, match="no task fits"):
        order_of_work(sample.plan(), width=180.0, height=20.0)
