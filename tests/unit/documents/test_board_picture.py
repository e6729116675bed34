from __future__ import annotations

import json
import re
from dataclasses import replace
from itertools import combinations

import pytest

from loftwright.answers.trial import trial
from loftwright.core.board_views import Readout, Trial
from loftwright.core.scene import Pose
from loftwright.documents.board_picture import CHART_PX_PER_MM, PX_PER_MM, picture
from loftwright.documents.pens import DARK, DARK_PENS, LIGHT, pen_colours, pens_css
from loftwright.drawing.page import PENS
from loftwright.drawing.scene import at_fraction, placed
from loftwright.project.demos import DEMOS, demo

WIDTHS = (300, 330, 440, 548, 552, 600, 768, 900, 1100)
WORDS = ("ink", "note", "limit", "cold", "hot", "sun")
"""Pens of which texts are written."""


@pytest.fixture(scope="module")
def trials() -> dict[str, Trial]:
    return {name: trial(demo(name), draws=4) for name in DEMOS}


def units(name: str) -> str:
    return demo(name).settings.units


def made(trials: dict[str, Trial], name: str, width: float = 900, **more: object) -> dict:
    return picture(trials[name], width_px=width, units=units(name), **more)  # type: ignore[arg-type]


Box = tuple[float, float, float, float]


def boxes(svg: str) -> list[tuple[str, Box]]:
    """Boxes of all texts that stand upright or turned by a quarter; half an em a letter is less than they take."""
    found = []
    for attributes, text in re.findall(r"<text ([^>]*)>([^<]*)</text>", svg):
        given = dict(re.findall(r'([\w-]+)="([^"]*)"', attributes))
        x, y, size = (float(given[k]) for k in ("x", "y", "font-size"))
        wide = 0.4 * size * len(text)
        left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[given.get("text-anchor", "start")]
        box = (x + left, y - 0.7 * size, x + left + wide, y)
        if "rotate(-90" in given.get("transform", ""):
            box = (x - 0.7 * size, y - left - wide, x, y - left)
        found.append((text, box))
    return found


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_can_be_drawn_at_every_width(trials: dict[str, Trial], name: str, width: int) -> None:
    found = made(trials, name, width)
    assert found["side"]["size"][0] == pytest.approx(width / PX_PER_MM)
    assert found["side"]["size"][1] <= 1.15 * found["side"]["size"][0] + 1e-9
    for svg in (found["side"]["svg"], *(chart["svg"] for chart in found["charts"])):
        assert "nan" not in svg
        _, _, w, h = (float(v) for v in re.search(r'viewBox="([^"]+)"', svg)[1].split())  # type: ignore[index]
        placed_texts = boxes(svg)
        assert placed_texts
        for text, (x0, y0, x1, y1) in placed_texts:
            assert x0 >= -0.01, text
            assert y0 >= -0.01, text
            assert x1 <= w + 0.01, text
            assert y1 <= h + 0.01, text
        for (a, p), (b, q) in combinations(placed_texts, 2):
            apart = p[0] >= q[2] or q[0] >= p[2] or p[1] >= q[3] or q[1] >= p[3]
            assert apart, f"{a!r} lies on {b!r}"


@pytest.mark.parametrize("width", [300, 900])
@pytest.mark.parametrize("name", DEMOS)
def test_words_are_large_enough_to_read(trials: dict[str, Trial], name: str, width: int) -> None:
    found = made(trials, name, width)
    side = [float(v) for v in re.findall(r'font-size="([\d.]+)"', found["side"]["svg"])]
    charts = [float(v) for c in found["charts"] for v in re.findall(r'font-size="([\d.]+)"', c["svg"])]
    assert min(side) * PX_PER_MM >= 14
    assert min(charts) * CHART_PX_PER_MM >= 12


def test_it_is_ready_for_json_and_the_same_each_time(trials: dict[str, Trial]) -> None:
    for name in DEMOS:
        text = json.dumps(made(trials, name), allow_nan=False)
        assert text == json.dumps(made(trials, name))


def test_the_window_it_was_given_is_kept(trials: dict[str, Trial]) -> None:
    for name in DEMOS:
        first = made(trials, name)
        # As it comes back from the page: through text.
        window = tuple(json.loads(json.dumps(first["side"]["window"])))
        assert made(trials, name, window=window)["side"] == first["side"]


def test_a_point_of_the_table_lies_where_the_drawing_puts_it(trials: dict[str, Trial]) -> None:
    # What the page does: the pose at a station turns a grip's closed place, the view puts it on the drawing.
    found, tried = made(trials, "quellmere"), trials["quellmere"]
    x, y, scale = found["side"]["view"]
    grip = next(g for g in found["grips"] if g["path"] == "spring.0.head")
    pose = Pose(*found["poses"][grip["body"]][-1])
    there = placed(pose, tuple(grip["at"]))
    assert there == pytest.approx(placed(at_fraction(tried.poses, 1.0).shell, tried.scene.springs[0].head), abs=1e-4)
    assert 0 < x + scale * there[0] < found["side"]["size"][0]
    assert 0 < y - scale * there[1] < found["side"]["size"][1]


def test_tables_are_as_long_as_their_stations(trials: dict[str, Trial]) -> None:
    for name in DEMOS:
        found = made(trials, name)
        n = len(found["fraction"])
        assert found["fraction"][0] == 0
        assert found["fraction"][-1] == 1
        assert len(found["opening"]) == n
        assert all(len(rows) == n for rows in found["poses"].values())
        assert all(len(one["texts"]) == n for one in found["readouts"])
        assert all(len(curve["y"]) == len(found["x"]) for curve in found["curves"])
        assert {g["body"] for g in found["grips"]} <= {"van", *found["poses"]}


def test_charts_have_the_markers_that_their_panels_name(trials: dict[str, Trial]) -> None:
    for name in DEMOS:
        for width in (330, 900):
            for chart in made(trials, name, width)["charts"]:
                for panel in chart["panels"]:
                    assert f'data-part="marker {panel["kind"]}"' in chart["svg"]
                    assert panel["x0"] < panel["x1"]


def test_a_roof_without_springs_has_no_lengths(trials: dict[str, Trial]) -> None:
    bare = replace(trials["fennimoor"], strips=())
    assert [chart["name"] for chart in picture(bare, width_px=900, units="metric")["charts"]] == ["forces"]


def test_how_far_open_is_said_once(trials: dict[str, Trial]) -> None:
    tried = trials["fennimoor"]
    texts = tuple("1" for _ in tried.poses.fraction)
    more = replace(tried, readouts=(Readout(tried.chart.x_label, texts), Readout("the lip", texts)))
    assert [r["label"] for r in picture(more, width_px=900, units="metric")["readouts"]] == ["the lip"]


def test_words_of_the_builder_are_escaped_and_cleaned(trials: dict[str, Trial]) -> None:
    tried = trials["fennimoor"]
    wicked = "</script><img src=x onerror=alert(1)>\x07"
    grips = tuple(replace(grip, label=wicked) for grip in tried.grips)
    strips = tuple(replace(one, name=wicked) for one in tried.strips)
    found = picture(replace(tried, grips=grips, strips=strips), width_px=900, units="metric")
    assert all("<img" not in chart["svg"] for chart in found["charts"])
    assert all(grip["label"] == wicked.removesuffix("\x07") for grip in found["grips"])


# --- looks -----------------------------------------------------------------------------------------


def luminance(colour: str) -> float:
    """Relative luminance. Source: WCAG 2.2, definition of relative luminance; from memory."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    """Contrast ratio. Source: WCAG 2.2, definition of contrast ratio; from memory."""
    light, dark = sorted((luminance(a), luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("name", WORDS)
def test_every_word_stands_out_from_the_paper(name: str) -> None:
    colour = PENS[name].colour
    assert contrast(colour, LIGHT["paper"]) >= 7
    assert contrast(DARK_PENS[colour], DARK["paper"]) >= 7


def test_every_colour_of_a_pen_has_one_for_both_looks() -> None:
    used = {colour for pen in PENS.values() for colour in (pen.colour, pen.fill) if colour != "none"}
    assert used <= set(DARK_PENS)
    for dark in (False, True):
        declared = set(re.findall(r"--pen-(\w+):", pen_colours(dark=dark)))
        assert {colour.removeprefix("#") for colour in used} <= declared


def test_the_style_sheet_knows_every_pen_and_both_looks() -> None:
    css = pens_css()
    assert all(f".pen-{name}" in css for name in PENS)
    assert 'data-look="dark"' in css
    assert "prefers-color-scheme: dark" in css
    assert set(re.findall(r"var\(--pen-(\w+)\)", css)) <= set(re.findall(r"--pen-(\w+):", css))
