"""Patterns of cloth as they leave the program: tiles, long pages, SVG and DXF, measured in what was written."""

from __future__ import annotations

import importlib.util
import io
import re
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdf
import pytest
from ezdxf.filemanagement import read as read_dxf

from loftwright.core.book_views import PAPER_MM
from loftwright.core.errors import ProjectFault
from loftwright.documents.wall_patterns import LONGEST_PAGE, dxf, long_pdf, svgs, tiles_pdf


def loaded(name: str) -> Any:
    spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name(f"{name}.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


walls, marks = loaded("sample_walls"), loaded("paper_marks")

# 100 mm, and 4 in of 25.4 mm exactly.
SQUARES = {"metric": 100.0, "imperial": 4 * 25.4}


def page(units: str = "metric", *numbers: str) -> Any:
    whole = walls.page(units)
    return replace(whole, pieces=tuple(p for p in whole.pieces if not numbers or p.number in numbers))


def pages(data: bytes) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(data)).pages)


def text_of(one: pypdf.PageObject) -> str:
    return " ".join(one.extract_text().split()).replace("\ufb01", "fi").replace("\u00a0", " ")


@pytest.mark.parametrize(("units", "paper"), [("metric", "a4"), ("imperial", "letter"), ("metric", "letter")])
def test_the_square_is_true_on_the_page_and_so_is_the_bar_on_every_tile(units: str, paper: str) -> None:
    """Read back from what the PDF draws, to 0.02 mm; 0.1 mm is asked for."""
    found = pages(tiles_pdf(page(units, "W1", "C1"), paper))  # type: ignore[arg-type]
    side = SQUARES[units]
    assert len(found) > 3
    for number, one in enumerate(found):
        size = (float(one.mediabox.width) * marks.MM, float(one.mediabox.height) * marks.MM)
        assert size == pytest.approx(PAPER_MM[paper], abs=0.01)  # type: ignore[index]
        shapes = marks.shapes(one)
        squares = [s for s in shapes if s.size == pytest.approx((side, side), abs=0.02)]
        bars = [s for s in shapes if s.size == pytest.approx((side, 0.0), abs=0.02)]
        # The first page and the map have the square, tiles have the bar.
        assert len(squares) == (1 if number < 2 else 0), number
        assert len(bars) == (0 if number < 2 else 1), number
        # A square that is 0.1 mm larger would not be taken for it: the check above can fail.
        assert not any(s.size == pytest.approx((side + 0.1, side + 0.1), abs=0.02) for s in shapes)


def test_the_first_page_says_how_many_pages_there_are_and_where_each_piece_is() -> None:
    found = pages(tiles_pdf(page("metric", "W1", "W2", "C1")))
    first = text_of(found[0])
    assert f"{len(found)} pages with this one" in first
    for number, name in (("W1", "rear wall"), ("W2", "right wall")):
        row = re.search(rf"{number} {name} 1 of cotton canvas (\d+) (\d+) (\d+) to (\d+)", first)
        assert row is not None, first
        at, tiles, start, end = (int(part) for part in row.groups())
        assert (start, end) == (at + 1, at + tiles)
        assert f"Piece {number}, full size" in text_of(found[at - 1])
        assert f"tile 1 of {tiles}" in text_of(found[start - 1])
        assert f"tile {tiles} of {tiles}" in text_of(found[end - 1])
    assert "C1 window, clear sheet 2 of clear sheet 660 mm x 540 mm" in first
    assert "Check the square on the paper" in first
    assert "no licence" in first


def test_where_all_pieces_are_rectangles_there_is_the_first_page_alone() -> None:
    assert len(pages(tiles_pdf(page("metric", "C1", "C2")))) == 1


def test_long_pages_are_as_large_as_their_pieces_and_no_longer_than_a_page_may_be() -> None:
    """The cut lines' boxes read back from the PDF, to 0.1 mm on two metres."""
    every = page("metric")
    found = pages(long_pdf(every))
    assert len(found) == 2
    shapes = [shape for one in found for shape in marks.shapes(one)]
    for piece in every.pieces:
        spots = piece.of("cut")[0].flattened()
        xs, ys = zip(*spots, strict=True)
        wanted = (1000 * (max(xs) - min(xs)), 1000 * (max(ys) - min(ys)))
        assert any(s.size == pytest.approx(wanted, abs=0.1) for s in shapes), piece.number
    for one in found:
        assert float(one.mediabox.width) * marks.MM <= LONGEST_PAGE + 0.1
        assert len([s for s in marks.shapes(one) if s.size == pytest.approx((100.0, 100.0), abs=0.02)]) == 1


def test_each_piece_is_an_svg_in_millimetres() -> None:
    found = svgs(page("metric"))
    assert list(found) == ["W1.svg", "W2.svg", "W3.svg", "W4.svg", "C1.svg", "C2.svg"]
    for data in found.values():
        text = data.decode("utf-8")
        size = re.search(r'<svg[^>]* width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"', text)
        assert size is not None
        assert size.group(1, 2) == size.group(3, 4)


def test_one_drawing_has_every_cut_line_with_its_arcs() -> None:
    document = read_dxf(io.StringIO(dxf(page("metric")).decode("utf-8")))
    cuts = list(document.modelspace().query('LWPOLYLINE[layer=="CUT"]'))
    assert len(cuts) == len(walls.PIECES)
    assert sum(line.has_arc for line in cuts) == len(walls.PANELS)


def test_without_a_piece_there_is_no_pattern() -> None:
    empty = replace(walls.page(), pieces=())
    for make in (tiles_pdf, long_pdf, dxf, svgs):
        with pytest.raises(ProjectFault, match="loftwright walls"):
            make(empty)


def test_the_same_pieces_give_the_same_bytes() -> None:
    one = page("metric", "W1")
    assert tiles_pdf(one) == tiles_pdf(one)
    assert long_pdf(one) == long_pdf(one)
