"""The fold in section: to scale, its two dimensions where the cloth is, nothing off the paper."""

from __future__ import annotations

import importlib.util
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.drawing.fold_section import FoldSection, fold_section
from loftwright.drawing.page import Line, Polyline, texts

_SPEC = importlib.util.spec_from_file_location("sample_pattern", Path(__file__).parent / "sample_pattern.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


def pose(closed: float) -> tuple[tuple[float, float], ...]:
    """A made-up fold: half a sine inwards."""
    deep, high = 225.0 * closed, 41.0 + 450.0 * (1.0 - closed)
    return tuple((deep * math.sin(math.pi * k / 60), high * k / 60) for k in range(61))


FOLD = FoldSection(
    "rear, middle", (pose(0.6), pose(0.85), pose(1.0)), ((-30, -40), (0, -40), (0, 0), (-30, 0)),
    ((-45, -10), (-45, 50), (320, 70)), "tip 225 mm in", "bundle 41 mm high",
    ((10, -40), (40, -40), (40, -15), (10, -15)),
    ((60, -90), (320, -90), (320, -75), (60, -75)), ((0, -5), (300, -5), (300, 62), (0, 45)),
)  # fmt: skip


def dims(page: Any) -> list[Line]:
    return [m for m in page.marks if isinstance(m, Line) and m.pen == "dim"]


@pytest.mark.parametrize(("width", "height"), [(178.0, 95.0), (186.0, 120.0), (120.0, 70.0)])
def test_dimensions_span_the_cloth(width: float, height: float) -> None:
    page = fold_section(FOLD, width=width, height=height)
    sample.tidy(page)
    cloth = max((m for m in page.marks if isinstance(m, Polyline) and m.pen == "rim"), key=lambda m: len(m.points))
    xs, ys = zip(*cloth.points, strict=True)
    level = [m for m in dims(page) if m.a[1] == m.b[1] and math.dist(m.a, m.b) == pytest.approx(max(xs) - min(xs))]
    upright = [m for m in dims(page) if m.a[0] == m.b[0] and math.dist(m.a, m.b) == pytest.approx(max(ys) - min(ys))]
    assert len(level) == 1
    assert len(upright) == 1
    # 225 to 41, as the pose was made.
    assert math.dist(level[0].a, level[0].b) / math.dist(upright[0].a, upright[0].b) == pytest.approx(225 / 41)
    said = {t.text for t in texts(page.marks)}
    assert {"tip 225 mm in", "bundle 41 mm high", "ring", "shell", "latch bar", "bed board", "cloth"} <= said


def test_a_bundle_may_be_higher_than_the_line_of_the_cloth() -> None:
    page = fold_section(replace(FOLD, high=(-4.0, 45.0), frames=FOLD.frames[-1:]), width=178.0, height=95.0)
    longest = max((m for m in dims(page) if m.a[0] == m.b[0] and m.a[0] > 160.0), key=lambda m: math.dist(m.a, m.b))
    level = [m for m in dims(page) if m.a[1] == m.b[1] and m.a[1] > 85.0]
    assert math.dist(longest.a, longest.b) / math.dist(level[0].a, level[0].b) == pytest.approx(49 / 225)


def test_nothing_folded_is_a_bug() -> None:
    with pytest.raises(Bug, match="closed pose"):
        fold_section(replace(FOLD, frames=()), width=178.0, height=95.0)
