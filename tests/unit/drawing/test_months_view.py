"""Months: every day under its weekday, what happens on it, the rest counted where there is no room."""

from __future__ import annotations

import importlib.util
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.drawing.months_view import DayNote, day_notes, months, months_view
from loftwright.drawing.page import texts

_SPEC = importlib.util.spec_from_file_location("sample_work", Path(__file__).parent / "sample_work.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


def test_days_stand_under_their_weekday() -> None:
    """2 November 2026 is a Monday and 1 November a Sunday: any calendar."""
    (page,) = months_view(sample.plan(), width=180.0)
    found = texts(page.marks)
    heads = {t.text: t.at[0] for t in found if t.text in ("Mon", "Sun")}
    days = {t.text: t.at for t in found if t.text in ("1", "2", "8", "9", "30") and t.bold}
    half = (180.0 - 0.6) / 14
    assert days["2"][0] == days["9"][0] == days["30"][0] == pytest.approx(heads["Mon"] - half + 1.0)
    assert days["1"][0] == days["8"][0] == pytest.approx(heads["Sun"] - half + 1.0)
    assert days["1"][1] < days["2"][1] < days["9"][1]
    assert days["2"][1] == days["8"][1]


@pytest.mark.parametrize("width", [84.0, 180.0])
def test_what_happens_is_said(width: float) -> None:
    (page,) = months_view(sample.plan(), width=width, today=date(2026, 11, 5))
    found = [t.text for t in texts(page.marks)]
    said = " ".join(found)
    assert found.count("roof open") == 3
    assert "today" in found
    for words in ("Work on the cut", "cured:", "should be here:", "a wait is over", "sets the finish", "November 2026"):
        assert words in said


def test_notes_fall_on_worked_days() -> None:
    notes = [n for n in day_notes(sample.plan()) if n.text == "Work on the paint"]
    # Friday 6 to Monday 9: not at the weekend.
    assert [(n.on.day, n.first) for n in notes] == [(6, True), (9, False)]
    (over,) = [n for n in day_notes(sample.plan()) if n.text == "cured: Work on the paint"]
    assert over.on == date(2026, 11, 11)
    assert over.wait


def test_a_full_day_counts_the_rest() -> None:
    notes = [DayNote(date(2026, 11, 4), f"one of many things, number {k}") for k in range(12)]
    (page,) = months(notes, width=180.0, most=7)
    said = [t.text for t in texts(page.marks)]
    shown = sum(text.startswith("one of") for text in said)
    assert f"and {12 - shown} more" in said


def test_a_month_without_anything_is_a_bug() -> None:
    with pytest.raises(Bug, match="something that happens"):
        months((), width=180.0)
