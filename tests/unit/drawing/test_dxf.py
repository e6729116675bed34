"""Files of patterns, read back by the library that is not ours: every vertex, bulge, layer and text is there."""

from __future__ import annotations

import importlib.util
import io
import math
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.core.pattern import Contour, PatternPiece, Words
from loftwright.drawing.dxf import pattern_dxf

_SPEC = importlib.util.spec_from_file_location("sample_pattern", Path(__file__).parent / "sample_pattern.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


def read(data: bytes) -> Any:
    import ezdxf

    return ezdxf.read(io.StringIO(data.decode("utf-8")))  # type: ignore[attr-defined]


def lines(document: Any, layer: str) -> list[Any]:
    return [e for e in document.modelspace() if e.dxftype() == "LWPOLYLINE" and e.dxf.layer == layer]


@pytest.fixture(scope="module")
def both() -> Any:
    return read(pattern_dxf((sample.rear(), sample.side())))


def test_millimetres_and_layers(both: Any) -> None:
    # $INSUNITS 4 is millimetres: DXF reference, header variables, from memory.
    assert both.header["$INSUNITS"] == 4
    assert {layer.dxf.name for layer in both.layers} >= {"STITCH", "CUT", "MARKS", "TEXT"}
    assert {e.dxf.layer for e in both.modelspace()} == {"STITCH", "CUT", "MARKS", "TEXT"}


def test_every_contour_is_read_back_equal(both: Any) -> None:
    """Each vertex within a millionth of a millimetre of the piece's, moved as a whole; each bulge as it was."""
    for layer, kind in (("STITCH", "stitch"), ("CUT", "cut")):
        found = lines(both, layer)
        assert len(found) == 2
        for entity, piece in zip(found, (sample.rear(), sample.side()), strict=True):
            (contour,) = piece.of(kind)
            points = list(entity.get_points("xyb"))
            assert entity.closed
            assert len(points) == len(contour.vertices)
            dx, dy = points[0][0] - 1000 * contour.vertices[0][0], points[0][1] - 1000 * contour.vertices[0][1]
            for (x, y, b), (px, py, pb) in zip(points, contour.vertices, strict=True):
                assert (x - dx, y - dy) == pytest.approx((1000 * px, 1000 * py), abs=1e-6)
                assert b == pytest.approx(pb, abs=1e-12)


def test_stitch_and_cut_of_a_piece_move_together(both: Any) -> None:
    for piece, stitch, cut in zip(
        (sample.rear(), sample.side()), lines(both, "STITCH"), lines(both, "CUT"), strict=True
    ):
        a, b = next(iter(stitch.get_points("xy"))), next(iter(cut.get_points("xy")))
        p, q = piece.of("stitch")[0].vertices[0], piece.of("cut")[0].vertices[0]
        assert (b[0] - a[0], b[1] - a[1]) == pytest.approx((1000 * (q[0] - p[0]), 1000 * (q[1] - p[1])), abs=1e-6)


def test_pieces_do_not_touch(both: Any) -> None:
    first, second = lines(both, "CUT")
    right = max(x for x, _ in first.get_points("xy"))
    assert min(x for x, _ in second.get_points("xy")) > right + 50.0


def test_a_rounded_window_has_four_quarter_arcs(both: Any) -> None:
    """An arc's bulge is the tangent of a quarter of its angle: tan(90/4 degrees), computed here."""
    windows = [line for line in lines(both, "MARKS") if len(line) == 8]
    assert len(windows) == 3
    for window in windows:
        bulges = sorted(b for (b,) in window.get_points("b"))
        assert bulges == pytest.approx([0.0] * 4 + [math.tan(math.pi / 8)] * 4)


def test_the_check_square_is_a_hundred_millimetres(both: Any) -> None:
    def is_square(line: Any) -> bool:
        points = list(line.get_points("xy"))
        sides = [math.dist(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]
        return (
            len(points) == 4
            and sides == pytest.approx([100.0] * 4)
            and math.dist(points[0], points[2]) == (pytest.approx(100.0 * math.sqrt(2)))
        )

    assert sum(is_square(line) for line in lines(both, "MARKS") if line.closed) == 1


def test_texts_are_read_back_upright() -> None:
    square = Contour("cut", ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0), (0.0, 1.0, 0.0)))
    words = (
        Words((0.5, 0.5), "W9 tent", 0.03), Words((0.2, 0.5), "up", 0.02, math.pi / 2),
        Words((0.8, 0.5), "over", 0.02, math.pi),
    )  # fmt: skip
    piece = PatternPiece("W9", "tent", "canvas", 1, "", (square,), words=words)
    texts = {e.dxf.text: e for e in read(pattern_dxf((piece,))).modelspace() if e.dxftype() == "TEXT"}
    assert set(texts) == {"100 mm", "W9 tent", "up", "over"}
    assert all(e.dxf.layer == "TEXT" for e in texts.values())
    assert texts["W9 tent"].dxf.height == pytest.approx(30.0)
    assert [texts[w.text].dxf.rotation for w in words] == pytest.approx([0.0, 90.0, 0.0])
    apart = texts["over"].get_placement()[1] - texts["W9 tent"].get_placement()[1]
    assert (apart.x, apart.y) == pytest.approx((300.0, 0.0))


def test_every_sign_of_a_match_mark_is_there(both: Any) -> None:
    texts = [e.dxf.text for e in both.modelspace() if e.dxftype() == "TEXT"]
    for piece in (sample.rear(), sample.side()):
        assert all(notch.sign in texts for notch in piece.notches)
        assert any(piece.number in text for text in texts)


def test_the_library_finds_nothing_to_mend(both: Any) -> None:
    assert not both.audit().errors


def test_same_pieces_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    from ezdxf import options  # type: ignore[attr-defined]

    first = pattern_dxf((sample.rear(),))
    assert pattern_dxf((sample.rear(),)) == first
    # Nothing of today in it, neither as a date in words nor as the day's Julian number.
    assert f"{date.today():%Y-%m-%d}" not in first.decode()
    raw = first.decode().splitlines()
    # The Julian number of 1 January 2000 is 2451544.5 at midnight: astronomical almanacs, from memory.
    assert abs(float(raw[raw.index("$TDCREATE") + 2]) - 2451544.5) < 1.0
    assert options.write_fixed_meta_data_for_testing is False
    with pytest.raises(Bug, match="needs a piece"):
        pattern_dxf(())
