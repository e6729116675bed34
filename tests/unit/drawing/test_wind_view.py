"""The raised roof in the wind: pushes point as the wind does, bars say how much of a limit is used."""

from __future__ import annotations

import importlib.util
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from loftwright.drawing.page import Drawing, Line, Polygon, Rect, pen, text_box, texts
from loftwright.drawing.wind_view import flat, wanted_gust, wind_view

_SPEC = importlib.util.spec_from_file_location(
    "sample_hold", Path(__file__).parents[1] / "documents" / "sample_hold.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
hold: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(hold)


def heads(drawing: Drawing) -> list[tuple[float, float]]:
    """Return the way in which each arrow of the picture points [mm]."""
    found = [m.points for m in drawing.marks if isinstance(m, Polygon) and m.pen == "start-hole"]
    return [(t[0] - (a[0] + b[0]) / 2, t[1] - (a[1] + b[1]) / 2) for t, a, b in found]


@pytest.mark.parametrize("direction", range(4))
@pytest.mark.parametrize("width", [178.0, 150.0])
@pytest.mark.parametrize("gust", [0, 36, 80])
def test_words_stay_on_the_paper_and_apart(direction: int, width: float, gust: int) -> None:
    drawing = wind_view(hold.WIND, direction, gust, width=width)
    paper = Rect(-0.1, -0.1, drawing.width + 0.1, drawing.height + 0.1)
    found = texts(drawing.marks)
    for text in found:
        assert text_box(text).within(paper), text
    for a, b in combinations(found, 2):
        assert not text_box(a).overlaps(text_box(b), -0.1), (a.text, b.text)
    for mark in drawing.marks:
        pen(mark.pen)  # type: ignore[union-attr]


def test_the_wind_blows_from_where_it_says() -> None:
    # Last of the arrows is the wind's own; the picture's axes are those of `flat`.
    for direction, push in ((0, (0.0, -1.0, 0.0)), (1, (0.0, 1.0, 0.0)), (2, (-1.0, 0.0, 0.0)), (3, (1.0, 0.0, 0.0))):
        x, y = heads(wind_view(hold.WIND, direction, 36, width=178.0))[-1]
        wx, wy = flat(push)
        assert x * wx + y * -wy > 0.99 * (x * x + y * y) ** 0.5 * (wx * wx + wy * wy) ** 0.5


def test_the_most_used_part_comes_first_and_is_hatched_past_its_limit() -> None:
    drawing = wind_view(hold.WIND, 0, 36, width=178.0)
    at = {t.text.split(":")[0]: t.at[1] for t in texts(drawing.marks) if ":" in t.text}
    assert min(at, key=at.__getitem__) == "brace"
    shares = [t.text for t in texts(drawing.marks) if t.text.endswith(" %")]
    # (18 / 17.2)^2 and (18 / 21)^2, computed here.
    assert shares[:2] == ["110 %", "73 %"]
    assert any(isinstance(m, Line) and m.pen == "hatch" for m in drawing.marks)
    calm = wind_view(hold.WIND, 0, 10, width=178.0)
    assert not any(isinstance(m, Line) and m.pen == "hatch" for m in calm.marks)


def test_bars_are_as_long_as_the_share_of_the_limit() -> None:
    drawing = wind_view(hold.WIND, 0, 36, width=178.0)
    bars = [m.points for m in drawing.marks if isinstance(m, Polygon) and m.pen == "item"]
    limit = next(m.a[0] for m in drawing.marks if isinstance(m, Line) and m.pen == "limit")
    start = bars[0][0][0]
    shares = sorted(((p[1][0] - start) / (limit - start) for p in bars), reverse=True)
    used = sorted((min(1.0, part.used[0][36]) for part in hold.WIND.parts), reverse=True)
    assert shares == pytest.approx(used)


def test_the_gust_that_is_wanted() -> None:
    assert hold.WIND.gusts[wanted_gust(hold.WIND)] == 18.0
    assert wanted_gust(replace(hold.WIND, wanted=500.0)) == len(hold.WIND.gusts) - 1


def test_without_a_brace_nothing_is_compared() -> None:
    words = [t.text for t in texts(wind_view(replace(hold.WIND, sway_without=()), 0, 36, width=178.0).marks)]
    assert "The free end sways 19 mm." in words
