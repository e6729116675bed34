"""The lower edge against water: heights to scale over the roof, and a warning where water reaches the staples."""

from __future__ import annotations

import importlib.util
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.drawing.page import Line, texts
from loftwright.drawing.water_section import Measure, WaterSection, water_sections

_SPEC = importlib.util.spec_from_file_location("sample_pattern", Path(__file__).parent / "sample_pattern.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


def section(place: str, upstand: float, staples: float, water: float, lap: float, gap: float) -> WaterSection:
    return WaterSection(place, *(Measure(mm, f"{mm:g} mm") for mm in (upstand, staples, water, lap, gap)))


THREE = (
    section("Front", 45, 35, 12, 30, 15),
    replace(section("Side", 40, 30, 8, 28, 12), end_lap=Measure(80.0, "80 mm")),
    section("Corner", 40, 31, 14, 28, 12),
)


def test_heights_are_to_scale() -> None:
    page = water_sections(THREE, width=186.0)
    sample.tidy(page)
    lengths = [round(math.dist(m.a, m.b), 6) for m in page.marks
               if isinstance(m, Line) and m.pen == "dim" and m.a[0] == m.b[0]]  # fmt: skip
    # At 1 : 1, as its words say, millimetres on paper are those of the edge.
    assert any(t.text.startswith("1 : 1 ") for t in texts(page.marks))
    for one in THREE:
        for measure in (one.upstand, one.staples, one.water, one.lap, one.hem_gap):
            assert measure.mm in lengths
    said = {t.text for t in texts(page.marks)}
    assert {"upstand 45 mm", "staples 35 mm", "water 12 mm", "lap 30 mm", "gap 15 mm"} <= said
    assert any(text.startswith("end lap 80 mm") for text in said)


def test_a_staple_line_in_water_is_said() -> None:
    for water, reached in ((17.0, False), (18.0, True), (21.0, True)):
        page = water_sections((section("Corner", 40, 18, water, 28, 12),), width=70.0)
        assert any("water reaches the staples" in t.text for t in texts(page.marks)) is reached


@pytest.mark.parametrize("high", [12.0, 90.0])
def test_low_and_high_edges_are_tidy(high: float) -> None:
    sample.tidy(
        water_sections([section(p, high, 0.8 * high, 0.3 * high, 0.6 * high, 0.4 * high) for p in "ABC"], width=186.0)
    )


def test_no_section_is_a_bug() -> None:
    with pytest.raises(Bug, match="needs a section"):
        water_sections((), width=186.0)
