"""What holds for every panel: its mirror image is cut from the mirror image of its piece, however it lies."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from loftwright.cloth.allowances import (
    Finish,
    binding,
    felled_seam,
    hem,
    lapped_seam,
    plain_seam,
    staple_strip,
    track,
    zip_edge,
)
from loftwright.cloth.cut_lines import EDGES, Net, cut_line, net_of

NARROW, WIDE = felled_seam()
FINISHES = {"bottom": hem(), "right seam": WIDE, "top": staple_strip(), "left seam": NARROW}
SWAPPED = {**FINISHES, "right seam": NARROW, "left seam": WIDE}

panels = st.builds(
    lambda length, height, leans, crown, wave: (
        np.stack([length * T, 4 * crown * T * (1 - T)], axis=1),
        np.stack([leans[0] + (length + leans[1] - leans[0]) * T, height + wave * np.sin(5 * T)], axis=1),
    ),
    st.floats(0.6, 2.4),
    st.floats(0.25, 1.0),
    st.tuples(st.floats(-0.06, 0.06), st.floats(-0.06, 0.06)),
    st.floats(-0.03, 0.04),
    st.floats(-0.02, 0.02),
)
T = np.linspace(0.0, 1.0, 41)
FEW = settings(max_examples=12, deadline=None, derandomize=True)


def ring(net: Net, finishes: dict[str, Finish]) -> Polygon:
    return Polygon(cut_line(net, finishes).outline)


@FEW
@given(panels)
def test_mirror_image(lines: tuple[np.ndarray, np.ndarray]) -> None:
    lower, upper = lines
    flip = np.array([-1.0, 1.0])
    here = np.array(ring(net_of(lower, upper), FINISHES).exterior.coords) * flip
    there = ring(net_of(lower[::-1] * flip, upper[::-1] * flip), SWAPPED)
    assert there.exterior.hausdorff_distance(LineString(here)) < 1e-6


@FEW
@given(panels, st.floats(-3.0, 3.0))
def test_turning_the_panel_turns_its_cut_line(lines: tuple[np.ndarray, np.ndarray], turn: float) -> None:
    spin = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    here = np.array(ring(net_of(*lines), FINISHES).exterior.coords) @ spin
    there = ring(net_of(lines[0] @ spin, lines[1] @ spin), FINISHES)
    assert there.exterior.hausdorff_distance(LineString(here)) < 1e-6


@FEW
@given(panels, st.floats(0.007, 0.03))
def test_wider_allowances_hold_narrower_ones(lines: tuple[np.ndarray, np.ndarray], width: float) -> None:
    net = net_of(*lines)
    thin, wide = (ring(net, dict.fromkeys(EDGES, plain_seam(by))) for by in (width, width + 0.004))
    assert wide.buffer(1e-6).covers(thin)


KINDS = (hem(), hem(0.03, 0.03), hem(0.02, 0.0), binding(), staple_strip(), track(), zip_edge(), lapped_seam(), WIDE)


@FEW
@given(panels, st.tuples(*[st.sampled_from(KINDS)] * 4))
def test_any_finish_beside_any_other(
    lines: tuple[np.ndarray, np.ndarray], kinds: tuple[Finish, Finish, Finish, Finish]
) -> None:
    """Away from the corners every edge has its own allowance within 0.1 mm, whatever stands beside it."""
    net, finishes = net_of(*lines), dict(zip(EDGES, kinds, strict=True))
    cut = ring(net, finishes).exterior
    for name in EDGES:
        edge = LineString(net.edge(name))
        for share in (0.35, 0.5, 0.65):
            assert abs(edge.interpolate(share, normalized=True).distance(cut) - finishes[name].allowance) < 1e-4
