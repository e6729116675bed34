"""Pictures of headroom, sun, cable loop, seal, wiring and finish: places and lengths true, words all there."""

from __future__ import annotations

import importlib.util
import math
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.drawing.loop_view import LoopPose, LoopView, hanging, loop_view
from loftwright.drawing.odds_days import FinishDays, finish_strip
from loftwright.drawing.page import Line, Polygon, Polyline, text_box, texts
from loftwright.drawing.room_map import Furniture, HeightClass, RoomMap, room_map
from loftwright.drawing.seal_path import LowPlace, SealPath, seal_path
from loftwright.drawing.shadings import box, shaded
from loftwright.drawing.sun_chart import HeadingsRose, MonthSun, Ray, SunYear, headings_rose, sun_chart
from loftwright.drawing.wiring_view import Thing, Wiring, wiring_view

_SPEC = importlib.util.spec_from_file_location("sample_work", Path(__file__).parent / "sample_work.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

WIDTHS = pytest.mark.parametrize("width", [84.0, 180.0])


def length(lines: list[Any]) -> float:
    return sum(math.dist(m.a, m.b) for m in lines)


@pytest.mark.parametrize(
    ("how", "times"), [("rising", 1), ("falling", 1), ("upright", 1), ("level", 1), ("crossed", 2), ("dense", 4)]
)
def test_hatching_is_as_dense_as_it_says(how: Any, times: int) -> None:
    """Constructed: lines `gap` apart over an area A have the length A / gap together, whatever their slope."""
    lines = shaded(box(0.0, 0.0, 60.0, 40.0), how, gap=1.5)
    assert length(lines) == pytest.approx(times * 2400.0 / 1.5, rel=0.03)
    ways = {round((m.b[1] - m.a[1]) / (m.b[0] - m.a[0]), 6) if abs(m.b[0] - m.a[0]) > 1e-9 else math.inf for m in lines}  # type: ignore[union-attr]
    wanted = {"rising": {-1.0}, "falling": {1.0}, "upright": {math.inf}, "level": {0.0}}
    assert ways == wanted.get(how, {-1.0, 1.0})


CLASSES = (
    HeightClass(0.0, "below 1.40 m"),
    HeightClass(1400.0, "1.40 to 1.85 m"),
    HeightClass(1850.0, "1.85 m and more"),
)


def room(**changes: Any) -> RoomMap:
    rows = tuple(tuple(2000.0 if 2 <= i < 6 and 3 <= j < 13 else 1300.0 for j in range(20)) for i in range(8))
    found = RoomMap("Headroom", rows, -300.0, -400.0, 100.0, 100.0, CLASSES, 1850.0, "one can stand here: 0.4 m²")
    return replace(found, **changes)


@WIDTHS
def test_standing_floor_is_outlined(width: float) -> None:
    """Constructed: ten cells by four are free, so the outline is 28 cells long and one line a side."""
    page = room_map(room(), width=width)
    sample.tidy(page)
    outline = [m for m in page.marks if isinstance(m, Line) and m.pen == "rim"]
    cell = (width - 6.0) / 20
    assert len(outline) == 4
    assert length(outline) == pytest.approx(28 * cell)
    blocked = tuple(tuple(i >= 5 and j < 8 for j in range(20)) for i in range(8))
    page = room_map(room(blocked=blocked), width=width)
    assert len([m for m in page.marks if isinstance(m, Line) and m.pen == "rim"]) == 6


@WIDTHS
def test_figures_and_names_are_on_the_map(width: float) -> None:
    page = room_map(
        room(
            figures=(((500.0, 0.0), "2.00"), ((1450.0, 150.0), "1.30")),
            furniture=(Furniture(-200.0, -350.0, 600.0, -220.0, "bench"),),
            walks=(((0.0, 60.0), (1000.0, 60.0), "walk 1.00 m"),),
            opening=(0.0, -200.0, 1000.0, 200.0),
            said=("Heights are over the floor.",),
        ),
        width=width,
    )
    sample.tidy(page)
    said = {t.text for t in texts(page.marks)}
    assert {"1.30", "walk 1.00 m", "bench", "opening above", "left side", "rear", "cab"} <= said
    assert {one.text for one in CLASSES} <= said


def test_a_map_needs_a_grid_and_rising_classes() -> None:
    with pytest.raises(Bug, match="equal length"):
        room_map(room(heights=((1.0,), (1.0, 2.0))), width=84.0)
    with pytest.raises(Bug, match="rise from 0"):
        room_map(room(classes=CLASSES[::-1]), width=84.0)


def year() -> SunYear:
    months = tuple(MonthSun(f"M{k}", 100.0 * k, 50.0 * k, f"{100 * k}", f"{50 * k}", k < 3) for k in range(1, 13))
    return SunYear("Sun", "Wh a day", months, ((0.0, "0"), (600.0, "600"), (1200.0, "1200")), 310.0, "used: 310 Wh")


@WIDTHS
def test_bars_are_to_scale(width: float) -> None:
    page = sun_chart(year(), width=width)
    sample.tidy(page)
    bars = [m for m in page.marks if isinstance(m, Polygon) and m.pen == "outline"]
    highs = [bar.points[2][1] - bar.points[0][1] for bar in bars]
    assert len(highs) == 24
    # The first month's first bar is 100, twelve times lower than the last month's.
    assert highs[22] == pytest.approx(12 * highs[0])
    assert highs[0] == pytest.approx(2 * highs[1])
    (use,) = [m for m in page.marks if isinstance(m, Line) and m.pen == "limit"]
    assert bars[0].points[2][1] - use.a[1] == pytest.approx(3.1 * highs[0])
    said = [t.text for t in texts(page.marks)]
    assert {"used: 310 Wh", "less than is used", "roof open, panel raised"} <= set(said)


@WIDTHS
def test_the_rose_points_to_the_best_heading(width: float) -> None:
    """Constructed: most light to the east, which is to the right of north."""
    rays = tuple(Ray(2 * math.pi * k / 8, 100.0 if k == 2 else 50.0) for k in range(8))
    page = headings_rose(
        HeadingsRose("Parking", rays, "to the east: best", "to the north: least", 60.0, "flat"), width=width
    )
    sample.tidy(page)
    east = next(text_box(t) for t in texts(page.marks) if t.text == "E")
    (head,) = [m for m in page.marks if isinstance(m, Polygon) and m.pen == "start-hole"]
    (north,) = [t for t in texts(page.marks) if t.text == "N"]
    assert head.points[0][0] == pytest.approx(north.at[0] + 26.0)
    assert east.y0 < head.points[0][1] < east.y1
    with pytest.raises(Bug, match="four headings"):
        headings_rose(HeadingsRose("Parking", rays[:3], "", ""), width=84.0)


@pytest.mark.parametrize(
    "ends", [((0.0, 0.0), (300.0, 100.0)), ((0.0, 0.0), (-250.0, 180.0)), ((0.0, 0.0), (0.0, 200.0))]
)
def test_a_hanging_loop_is_as_long_as_it_says(ends: Any) -> None:
    """Constructed: lengths of 200 chords add up to the arc, all points have one distance from one centre."""
    run = hanging(*ends, 620.0, pieces=200)
    assert sum(math.dist(a, b) for a, b in pairwise(run)) == pytest.approx(620.0, rel=1e-4)
    assert run[0] == ends[0]
    assert run[-1] == ends[1]
    middle = run[100]
    between = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
    assert middle[1] <= between[1] + 1e-6


def test_a_half_circle_hangs_by_its_radius() -> None:
    """Constructed: 100 pi over a chord of 200 is half a circle of radius 100."""
    run = hanging((0.0, 0.0), (200.0, 0.0), 100.0 * math.pi)
    assert min(z for _, z in run) == pytest.approx(-100.0, abs=1e-6)
    assert hanging((0.0, 0.0), (200.0, 0.0), 150.0) == ((0.0, 0.0), (200.0, 0.0))


@WIDTHS
def test_the_loop_is_shown_in_every_pose(width: float) -> None:
    poses = tuple(
        LoopPose(n, (1500.0 + k, 100.0 + 2 * k), (), f"{n}: apart")
        for n, k in (("Closed", 0), ("Half", 80), ("Open", 160))
    )
    van = (((-500.0, 0.0), (2500.0, 0.0)),)
    page = loop_view(
        LoopView("Loop", 620.0, "620 mm free", (1780.0, -60.0), poses, van, 50.0, "radius 50 mm"), width=width
    )
    sample.tidy(page)
    said = {t.text for t in texts(page.marks)}
    assert {"Closed", "Half", "Open", "620 mm free", "radius 50 mm", "Open: apart"} <= said
    cables = [m for m in page.marks if isinstance(m, Polyline) and m.pen == "rim"]
    longs = [sum(math.dist(a, b) for a, b in pairwise(m.points)) for m in cables]
    assert longs == pytest.approx([longs[0]] * 3, rel=1e-3)


@WIDTHS
def test_the_seal_says_where_water_stands(width: float) -> None:
    line = ((0.0, -600.0), (2000.0, -600.0), (2000.0, 600.0), (0.0, 600.0))
    low = LowPlace(((700.0, -600.0), (1200.0, -600.0)), "500 mm in water", (950.0, -600.0))
    seal = SealPath(
        "Seal", line, "6.40 m of seal", (0.0, 0.0), "the ends meet here", ((line[1], "R 80 mm"),), (low,),
        drains=((low.lowest or (0.0, 0.0), "drain here"),),
    )  # fmt: skip
    page = seal_path(seal, width=width)
    sample.tidy(page)
    found = {t.text: t for t in texts(page.marks)}
    assert {"6.40 m of seal", "the ends meet here", "500 mm in water", "R 80 mm", "drain here"} <= set(found)
    assert {"water stands here", "the ends meet", "drain"} <= set(found)
    # The joint is at the rear, to the left; the low place at the right side, below.
    assert found["the ends meet here"].at[0] < found["6.40 m of seal"].at[0] < found["R 80 mm"].at[0]
    assert found["500 mm in water"].at[1] > found["6.40 m of seal"].at[1]


@WIDTHS
def test_wiring_names_everything(width: float) -> None:
    source = (
        Thing("panel", "Panel", ("120 W",)),
        Thing("gland", "Gland", (), "2 × 4 mm², 0.6 m"),
        Thing("fuse", "Fuse 10 A", (), "2 × 4 mm², 3.2 m with the loop and a long word on the voltage that is lost"),
        Thing("controller", "Controller", ("15 A", "beside the battery"), "2 × 4 mm²"),
        Thing("battery", "Battery", ("95 Ah",), "2 × 6 mm²"),
    )
    loads = (
        (Thing("fuse", "Fuse 20 A", (), "0.2 m"), Thing("switch", "Switch"), Thing("lift", "Lift", ("11 A",), "2.4 m")),
    )
    loads += (
        (Thing("fuse", "Fuse 3 A", (), "0.1 m"), Thing("lamp", "Lamps", ("4 of 3 W",), "4.1 m")),
        (Thing("other", "Sockets"),),
    )
    page = wiring_view(Wiring("Wiring", source, loads, ("Fuse each cable.",)), width=width)
    sample.tidy(page)
    said = {t.text for t in texts(page.marks)}
    assert {"Panel", "Gland", "Fuse 10 A", "Battery", "Fuse 20 A", "Lift", "Lamps", "Sockets", "4.1 m"} <= said
    assert "From the battery: Fuse 20 A by 0.2 m, then Switch, then Lift 11 A by 2.4 m." in page.description
    with pytest.raises(Bug, match="what feeds it"):
        wiring_view(Wiring("Wiring", ()), width=width)


@WIDTHS
def test_days_after_the_wanted_one_are_hatched(width: float) -> None:
    first = date(2027, 1, 10)
    shares = tuple((first + timedelta(days=k), 0.05) for k in range(20))
    named = ((first + timedelta(days=2), "12 Jan: 10 of 100"), (first + timedelta(days=9), "19 Jan: half"))
    page = finish_strip(
        FinishDays("Finish", shares, named, first + timedelta(days=11), "wanted: 60 of 100"), width=width
    )
    sample.tidy(page)
    plain = [m for m in page.marks if isinstance(m, Polygon) and m.pen == "item"]
    late = [m for m in page.marks if isinstance(m, Polygon) and m.pen == "outline"]
    assert (len(plain), len(late)) == (12, 8)
    assert {"12 Jan: 10 of 100", "19 Jan: half", "wanted: 60 of 100", "18 Jan"} <= {t.text for t in texts(page.marks)}
    with pytest.raises(Bug, match="need days"):
        finish_strip(FinishDays("Finish", ()), width=width)
