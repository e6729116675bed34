"""The walls as one strip: panels in their order at one scale, seams named between them."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.drawing.page import Group, Polyline, texts
from loftwright.drawing.strip_view import unrolled_walls

_SPEC = importlib.util.spec_from_file_location("sample_pattern", Path(__file__).parent / "sample_pattern.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


SEAMS = ("rear left", "rear right", "front right", "front left", "rear left")


def test_panels_stand_in_order_between_their_seams() -> None:
    pieces = (sample.rear(), sample.side(), sample.rear(), sample.side())
    page = unrolled_walls(pieces, SEAMS, width=186.0)
    sample.tidy(page)
    panels = [m for m in page.marks if isinstance(m, Group)]
    assert [p.name for p in panels] == ["panel W1", "panel W2", "panel W1", "panel W2"]
    spans = []
    for panel, piece in zip(panels, pieces, strict=True):
        (line,) = [m for m in panel.marks if isinstance(m, Polyline) and m.pen == "outline"]
        xs = [x for x, _ in line.points]
        net = [x for x, _ in piece.of("stitch")[0].flattened(0.001)]
        spans.append((min(xs), max(xs), (max(xs) - min(xs)) / (max(net) - min(net))))
    # One scale for all, to a ten thousandth.
    assert all(s[2] == pytest.approx(spans[0][2], rel=1e-4) for s in spans)
    names = [t for t in texts(page.marks) if t.text in SEAMS]
    assert tuple(t.text for t in names) == SEAMS
    for k, name in enumerate(names):
        assert k == 0 or name.at[0] > spans[k - 1][1]
        assert k == len(spans) or name.at[0] < spans[k][0]
    said = [t.text for t in texts(page.marks)]
    assert said.count("window") == 4
    assert all(notch.sign in said for piece in pieces for notch in piece.notches)


def test_it_fits_a_low_place_too() -> None:
    page = unrolled_walls((sample.rear(),), ("a", "b"), width=186.0, height=60.0)
    assert page.height <= 60.0 + 1e-9
    sample.tidy(page)
    with pytest.raises(Bug, match="every seam"):
        unrolled_walls((sample.rear(),), ("a",), width=186.0)
