from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from loftwright.drawing.page import Circle, Drawing, Group, Line, Polygon, Polyline, Rect, Text, text_box
from loftwright.drawing.svg import number, svg

SPACE = "{http://www.w3.org/2000/svg}"


def drawn(*marks: object) -> ET.Element:
    return ET.fromstring(svg(Drawing(40, 20, "T", "D", marks)))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (-0.0, "0"), (-0.0001, "0"), (1.5, "1.5"), (10.0, "10"), (2.34567, "2.346"), (-3.0, "-3")],
)
def test_numbers_are_short_and_without_negative_nought(value: float, text: str) -> None:
    assert number(value) == text


def test_a_millimetre_is_a_millimetre() -> None:
    root = drawn(Line((0, 0), (10, 0), "ink"))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("40mm", "20mm", "0 0 40 20")


def test_text_stays_text_whatever_it_says() -> None:
    wicked = "<script>alert(\"x\")</script> & 'quoted'"
    root = drawn(Text((1, 2), wicked, halo=True))
    found = root.findall(f"{SPACE}text")
    assert [t.text for t in found] == [wicked]
    assert root.find(f".//{SPACE}script") is None


def test_a_patch_of_paper_lies_under_a_text_and_turns_with_it() -> None:
    turned = Text((10, 8), "1.42 m", 2.4, "middle", turn=-math.pi / 2, halo=True)
    root = drawn(Text((1, 2), "plain"), turned)
    patch, text = list(root)[-2:]
    assert [e.tag for e in root].count(f"{SPACE}rect") == 1
    assert (patch.tag, text.tag) == (f"{SPACE}rect", f"{SPACE}text")
    assert patch.get("transform") == text.get("transform") == "rotate(-90 10 8)"
    flat = text_box(replace(turned, turn=0.0))
    x, y, w, h = (float(patch.get(k, "nan")) for k in ("x", "y", "width", "height"))
    assert flat.within(Rect(x, y, x + w, y + h))


def test_every_mark_carries_its_pen() -> None:
    root = drawn(
        Polyline(((0, 0), (1, 1)), "cold"),
        Polygon(((0, 0), (1, 1), (1, 0)), "shell"),
        Circle((2, 2), 1, "pivot"),
        Group("part", (Line((0, 0), (1, 1), "rod"),), (3, 4)),
    )
    assert [e.get("class") for e in root.iter() if e.get("class")] == ["pen-cold", "pen-shell", "pen-pivot", "pen-rod"]
    group = root.find(f"{SPACE}g")
    assert group is not None
    assert (group.get("data-part"), group.get("transform")) == ("part", "translate(3 4)")


def test_an_open_line_is_never_filled() -> None:
    line = drawn(Polyline(((0, 0), (1, 1), (2, 0)), "shell")).find(f"{SPACE}polyline")
    assert line is not None
    assert line.get("fill") == "none"


def test_joined_lines_are_the_same_lines_in_the_same_order() -> None:
    """Read from both texts: each stretch with its pen, and what lies above what."""
    marks = (
        Line((0, 0), (1, 2), "hatch"),
        Line((1.5, 0), (0.25, 3), "hatch"),
        Line((2, 0), (2, 4), "grid"),
        Circle((3, 3), 1, "pivot"),
        Line((5, 5), (6, 7.125), "hatch"),
        Line((7, 5), (8, 7), "limit"),
        Line((8, 5), (9, 7), "limit"),
        Group("spring 0", (Line((0, 1), (1, 1), "tube"), Line((1, 1), (2, 1), "tube"))),
    )

    def stretches(text: str) -> list[tuple[str, ...]]:
        found: list[tuple[str, ...]] = []
        for mark in ET.fromstring(text).iter():
            css, name = mark.get("class", ""), mark.tag.removeprefix(SPACE)
            looks = tuple(mark.get(key, "") for key in ("stroke", "stroke-width", "stroke-dasharray", "fill"))
            if name == "line":
                found.append((css, *(mark.get(key, "") for key in ("x1", "y1", "x2", "y2")), *looks))
            elif name == "path":
                for way in mark.get("d", "").split("M")[1:]:
                    found.append((css, *way.replace("L", " ").split(), *looks))
            elif name == "circle":
                found.append((css,))
        return found

    drawing = Drawing(10, 10, "T", "D", marks)
    apart, joined = svg(drawing), svg(drawing, joined=True)
    assert stretches(joined) == stretches(apart)
    assert (apart.count("<line"), joined.count("<line"), joined.count("<path")) == (8, 4, 2)
