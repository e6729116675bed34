from __future__ import annotations

import math
import struct
from importlib.resources import files
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loftwright.core.errors import Bug
from loftwright.drawing.page import (
    PENS,
    Circle,
    Line,
    Placer,
    Polygon,
    Rect,
    Text,
    crosses,
    pen,
    shortened,
    spread,
    text_box,
    text_width,
    unpatched,
)


def advances(name: str) -> dict[str, int]:
    """Advance widths in thousandths, read from a font file's own tables.

    Source: OpenType specification, tables "head", "hhea", "hmtx" and "cmap" format 4; layout from memory.
    """
    data = files("loftwright.documents").joinpath("fonts", name).read_bytes()

    def short(at: int) -> int:
        return int(struct.unpack_from(">H", data, at)[0])

    tables = {
        data[at : at + 4].decode(): struct.unpack_from(">I", data, at + 8)[0]
        for at in range(12, 12 + 16 * short(4), 16)
    }
    per_em, many, metrics, cmap = (
        short(tables["head"] + 18),
        short(tables["hhea"] + 34),
        tables["hmtx"],
        tables["cmap"],
    )
    widths: dict[str, int] = {}
    for i in range(short(cmap + 2)):
        sub = cmap + struct.unpack_from(">I", data, cmap + 8 + 8 * i)[0]
        if short(sub) != 4:
            continue
        n = short(sub + 6) // 2
        for j in range(n):
            end, start = short(sub + 14 + 2 * j), short(sub + 16 + 2 * n + 2 * j)
            delta, offset = short(sub + 16 + 4 * n + 2 * j), short(sub + 16 + 6 * n + 2 * j)
            for code in range(start, min(end, 0xFFFE) + 1):
                glyph = code
                if offset:
                    glyph = short(sub + 16 + 6 * n + 2 * j + offset + 2 * (code - start))
                if glyph or not offset:
                    glyph = (glyph + delta) & 0xFFFF
                    widths[chr(code)] = round(short(metrics + 4 * min(glyph, many - 1)) * 1000 / per_em)
    return widths


@pytest.mark.parametrize(("name", "bold"), [("LiberationSans-Regular.ttf", False), ("LiberationSans-Bold.ttf", True)])
def test_widths_are_those_of_the_shipped_font(name: str, bold: bool) -> None:
    font = advances(name)
    for code in range(32, 127):
        assert text_width(chr(code), 1000, bold=bold) == pytest.approx(font[chr(code)]), chr(code)
    # Other characters are never taken for narrower than they are.
    for char in "−°±×–·′″’½¼\u00a0éäöüßñÅ":
        assert text_width(char, 1000, bold=bold) >= font[char], char


def test_a_turned_text_is_as_tall_as_it_was_wide() -> None:
    flat, upright = text_box(Text((0, 0), "rise", 2.5)), text_box(Text((0, 0), "rise", 2.5, turn=-math.pi / 2))
    assert upright.y1 - upright.y0 == pytest.approx(flat.x1 - flat.x0)
    assert upright.x1 - upright.x0 == pytest.approx(flat.y1 - flat.y0)


@given(st.text(max_size=60), st.floats(1, 80))
def test_a_shortened_text_fits(text: str, width: float) -> None:
    short = shortened(text, width, 2.5)
    assert short == text or text_width(short, 2.5) <= max(width, text_width("...", 2.5))


@given(st.lists(st.tuples(st.floats(-20, 120), st.floats(0.5, 9)), max_size=10))
def test_spread_labels_do_not_touch_and_keep_their_order(wishes: list[tuple[float, float]]) -> None:
    centres, sizes = [w[0] for w in wishes], [w[1] for w in wishes]
    found = spread(centres, sizes, 0, 100, 0.5)
    order = sorted(range(len(found)), key=lambda i: (centres[i], i))
    for a, b in pairwise(order):
        assert found[b] - sizes[b] / 2 - (found[a] + sizes[a] / 2) >= 0.5 - 1e-9
    for centre, size in zip(found, sizes, strict=True):
        assert centre - size / 2 >= -1e-9
        assert centre + size / 2 <= 100 + 1e-9


def test_spread_moves_nothing_without_need_and_a_pair_evenly() -> None:
    assert spread([10, 30], [4, 4], 0, 100, 1) == [10, 30]
    assert spread([20, 20], [4, 4], 0, 100, 0) == [18, 22]


def test_spread_says_when_labels_cannot_fit() -> None:
    with pytest.raises(Bug, match="do not fit"):
        spread([1, 2, 3], [4, 4, 4], 0, 10, 0)


def test_a_placer_never_gives_a_place_twice() -> None:
    placer = Placer(Rect(0, 0, 40, 20))
    found = [placer.place(Text((20, 10), "label", 2.5, "middle"), [(20, 10)]) for _ in range(60)]
    boxes = [text_box(text) for text in found if text is not None]
    assert None in found
    assert len(boxes) > 5
    assert all(box.within(placer.bounds) for box in boxes)
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])


def test_a_placer_keeps_off_lines_while_it_can() -> None:
    placer = Placer(Rect(0, 0, 40, 20))
    placer.avoid_line([(0, 9.5), (40, 9.5)])
    found = placer.place(Text((20, 10), "label", 2.5, "middle"), [(20, 10)])
    assert found is not None
    assert not any(text_box(found).overlaps(line) for line in placer.avoided)


def test_an_unknown_pen_is_refused() -> None:
    with pytest.raises(Bug, match="no pen"):
        pen("crayon")


def test_dashes_alone_tell_the_curves_apart() -> None:
    dashes = [
        PENS[name].dash for name in ("cold", "cold-aged", "mild", "mild-aged", "hot", "hot-aged", "sun", "sun-aged")
    ]
    assert len(set(dashes)) == len(dashes)


@given(*[st.floats(-3, 3)] * 4)
def test_a_line_that_touches_a_box_is_found(ax: float, ay: float, bx: float, by: float) -> None:
    # Second way: many points along the line, each looked at by itself.
    box = Rect(-1.0, -0.5, 1.0, 0.5)
    points = [(ax + (bx - ax) * i / 200, ay + (by - ay) * i / 200) for i in range(201)]
    if any(box.x0 <= x <= box.x1 and box.y0 <= y <= box.y1 for x, y in points):
        assert crosses(box, (ax, ay), (bx, by))
    far = Rect(box.x0 - 0.05, box.y0 - 0.05, box.x1 + 0.05, box.y1 + 0.05)
    if not any(far.x0 <= x <= far.x1 and far.y0 <= y <= far.y1 for x, y in points):
        assert not crosses(box, (ax, ay), (bx, by))


def test_only_a_text_over_lines_keeps_its_patch() -> None:
    clear, crossed, ringed, beside = (Text((0, y), "label", halo=True) for y in (0.0, 10.0, 20.0, 30.0))
    marks = (
        Line((-5, 9), (5, 9.5), "dim"),
        Circle((1, 19.5), 0.5, "pivot"),
        Polygon(((-9, 25), (9, 25), (9, 35), (-9, 35)), "shell"),
    )
    found = unpatched([clear, crossed, ringed, beside], marks)
    assert [t.halo for t in found if isinstance(t, Text)] == [False, True, True, False]


def test_one_of_many_overlaps_when_it_does_alone() -> None:
    box = Rect(2, 2, 4, 4)
    others = [Rect(x / 2, y / 2, x / 2 + w, y / 2 + w) for x in range(12) for y in range(12) for w in (0.5, 1.0, 3.0)]
    for gap in (0.0, 0.5):
        alone = [box.overlaps(other, gap) for other in others]
        assert [box.overlaps_any([other], gap) for other in others] == alone
        assert {True, False} == set(alone)
        assert box.overlaps_any([other for other, one in zip(others, alone, strict=True) if not one], gap) is False
        assert box.overlaps_any(others, gap) is True
