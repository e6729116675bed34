"""Cut lines of panels: true allowances, trued corners, refusals. Exact constructed cases, distances by shapely."""

from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon

from loftwright.cloth.allowances import Finish, binding, felled_seam, hem, lapped_seam, plain_seam, staple_strip
from loftwright.cloth.cut_lines import EDGES, CutLine, Net, cleaned, cut_line, net_of, offset, verify
from loftwright.core.errors import Bug

NARROW, WIDE = felled_seam(0.010)
FINISHES = {"bottom": hem(0.0254, 0.0127), "right seam": WIDE, "top": staple_strip(), "left seam": NARROW}


def leaning(points: int = 120) -> Net:
    """A wall with a crowned lower line, a wavy upper one and two seams that lean by some 10 degrees."""
    t = np.linspace(0.0, 1.0, points)
    lower = np.stack([2.0 * t, 0.16 * t * (1 - t)], axis=1)
    upper = np.stack([0.15 + 1.75 * t, 0.9 + 0.02 * np.sin(3 * t)], axis=1)
    return net_of(lower, upper)


@pytest.fixture(scope="module")
def net() -> Net:
    return leaning()


@pytest.fixture(scope="module")
def cut(net: Net) -> CutLine:
    return cut_line(net, FINISHES)


@pytest.mark.parametrize("name", EDGES)
def test_allowance_true_all_along(net: Net, cut: CutLine, name: str) -> None:
    """From 400 points of each stitch line the whole cut line is as far as the edge's allowance, but for the corners."""
    line = LineString(net.edge(name))
    whole = LineString(np.concatenate([cut.outline, cut.outline[:1]]))
    allowance = FINISHES[name].allowance
    clear = 0.06 if name in ("bottom", "top") else 0.045
    for at in np.linspace(clear, line.length - clear, 400):
        assert line.interpolate(at).distance(whole) == pytest.approx(allowance, abs=1e-4)


def test_whole_net_lies_inside(net: Net, cut: CutLine) -> None:
    outer, inner = Polygon(cut.outline), Polygon(net.outline)
    assert outer.is_valid
    assert outer.covers(inner)


def test_counter_clockwise(cut: CutLine) -> None:
    assert Polygon(cut.outline).exterior.is_ccw


def mirrored(points: np.ndarray, through: np.ndarray, way: np.ndarray) -> np.ndarray:
    """Return points mirrored about a line: the second way, by reflection."""
    unit = way / np.hypot(*way)
    along = (points - through) @ unit
    return 2 * (through + along[:, None] * unit) - points


def straight() -> tuple[Net, CutLine]:
    lower, upper = np.array([[0.0, 0.0], [1.2, 0.03]]), np.array([[0.14, 0.6], [1.3, 0.55]])
    net = net_of(lower, upper)
    return net, cut_line(net, FINISHES)


@pytest.mark.parametrize("side", [0, 1])
def test_turned_hem_follows_the_seam(side: int) -> None:
    """Folded along the line and along its depth the hem's ends lie on the seam: by reflections, within 0.1 mm."""
    net, cut = straight()
    seam = LineString((net.right, net.left)[side])
    way, start = net.bottom[1] - net.bottom[0], net.bottom[0]
    out = np.array([way[1], -way[0]]) / np.hypot(*way)
    sewn = cut.sewn[side]
    ends = LineString(sewn)
    flap = np.asarray([ends.interpolate(at).coords[0] for at in np.linspace(0.0, 0.0385, 40)])
    depth = (flap - start) @ out
    under = depth > 0.0254
    assert under.sum() > 5
    folded = flap.copy()
    folded[under] = mirrored(flap[under], start + 0.0254 * out, way)
    beyond = (folded - start) @ out > 0
    folded[beyond] = mirrored(folded[beyond], start, way)
    assert max(Point(point).distance(seam) for point in folded) < 1e-4


def test_turned_seam_follows_the_bottom() -> None:
    """What stands beyond the right seam, folded about the seam and about its fell, ends on the hem's cut line."""
    net, cut = straight()
    sewn, way = cut.sewn[0], cut.sewn[0][1] - cut.sewn[0][0]
    out = np.array([way[1], -way[0]]) / np.hypot(*way)
    edge = LineString(cut.edges["bottom"])
    ring = cut.outline
    corner = int(np.argmin(np.hypot(*(ring - sewn[0]).T)))
    last = int(np.argmax(((ring[corner : corner + 6] - sewn[0]) @ out) > 0.02 - 1e-9))
    flap = ring[corner : corner + last + 1]
    depth = (flap - sewn[0]) @ out
    assert depth[-1] == pytest.approx(0.020, abs=1e-9)
    assert min(abs(depth - 0.010)) < 1e-9
    folded = flap.copy()
    folded[depth > 0.010] = mirrored(folded[depth > 0.010], sewn[0] + 0.010 * out, way)
    folded[1:] = mirrored(folded[1:], sewn[0], way)
    assert max(Point(point).distance(edge) for point in folded) < 1e-4
    assert net.right[0] == pytest.approx([1.2, 0.03])


def test_hem_on_a_crowned_edge_follows_the_seam(net: Net, cut: CutLine) -> None:
    """The same on a bent fold: each point goes as far inside the nearest point of the line as it was outside."""
    fold, seam = LineString(net.bottom), LineString(net.right)
    sewn = LineString(cut.sewn[0])
    compared = 0
    for at in np.linspace(0.0131, 0.036, 12):
        point = np.asarray(sewn.interpolate(at).coords[0])
        foot = np.asarray(fold.interpolate(fold.project(Point(point))).coords[0])
        if np.hypot(*(foot - net.bottom[-1])) > 1e-6:
            assert Point(2 * foot - point).distance(seam) < 1e-4
            compared += 1
    assert compared == 12


def test_neighbours_are_sewn_along_equal_seams() -> None:
    """Two panels that share a seam, one leaning, one upright: their sewn lines are alike to 0.1 mm."""
    net = leaning()
    length = float(np.hypot(*(net.right[1] - net.right[0])))
    beside = net_of(np.array([[0.0, 0.0], [1.0, 0.02]]), np.array([[0.0, length], [1.1, 0.9]]))
    here, there = cut_line(net, FINISHES).sewn[0], cut_line(beside, FINISHES).sewn[1]
    spans = []
    for line, seam in ((here, net.right), (there, beside.left[::-1])):
        ends = [int(np.argmin(np.hypot(*(line - end).T))) for end in seam]
        spans.append(float(np.hypot(*np.diff(line[ends[0] : ends[1] + 1], axis=0).T).sum()))
    assert spans[0] == pytest.approx(spans[1], abs=1e-4)


def test_sharp_corner_is_trimmed_square() -> None:
    """A tail of 24 degrees: mitred 20 mm would stand out 93 mm; trimmed it stays within 2.5 allowances."""
    tail = np.radians(24.0)
    lower = np.array([[0.0, 0.0], [1.5, 0.0]])
    upper = np.array([[0.1, 0.3], [1.5 - 0.3 / np.tan(tail), 0.3]])
    flat = Finish("lapped seam", 0.020)
    net = net_of(lower, upper)
    cut = cut_line(net, dict.fromkeys(EDGES, flat))
    half = tail / 2
    out = (cut.outline - [1.5, 0.0]) @ [np.cos(half), -np.sin(half)]
    assert out.max() == pytest.approx(0.020 * 2.5)
    assert np.hypot(*(cut.outline - [1.5, 0.0]).T)[cut.outline[:, 0] > 1.5].max() < 0.053


def test_flat_corner_is_a_mitre() -> None:
    """Without turns a corner is where the two moved edges meet: 20 and 12 mm at a right angle."""
    square = net_of(np.array([[0.0, 0.0], [1.0, 0.0]]), np.array([[0.0, 0.5], [1.0, 0.5]]))
    wide, thin = Finish("lapped seam", 0.020), Finish("lapped seam", 0.012)
    cut = cut_line(square, {"bottom": wide, "right seam": thin, "top": binding(), "left seam": plain_seam(0.025)})
    corner = np.hypot(*(cut.outline - [1.012, -0.020]).T)
    assert corner.min() < 1e-9
    assert Polygon(cut.outline).area == pytest.approx(1.037 * 0.520, abs=1e-9)


def test_offset_of_an_arc_is_an_arc() -> None:
    """300 points of a quarter of radius 0.2, moved out 20 mm and, on the hollow side, in 20 mm."""
    t = np.linspace(0.0, np.pi / 2, 300)
    arc = 0.2 * np.stack([np.cos(t), np.sin(t)], axis=1)
    assert np.hypot(*offset(arc, 0.02).T) == pytest.approx(0.22, abs=1e-5)
    assert np.hypot(*offset(arc[::-1], 0.02).T) == pytest.approx(0.18, abs=1e-5)


def test_offset_cuts_its_loops() -> None:
    """A hollow bend tighter than the allowance: what is left is nowhere nearer to the line than the allowance."""
    line = np.array([[0.0, 0.0], [0.5, 0.0], [0.505, -0.002], [0.51, -0.004], [0.7, -0.25]])[:, ::1]
    moved = LineString(offset(line, 0.03))
    assert moved.is_simple
    assert LineString(line).distance(moved) == pytest.approx(0.03, abs=1e-6)


def test_offset_trims_a_spike() -> None:
    line = np.array([[0.0, 0.0], [1.0, 0.0], [0.2, 0.1]])
    moved = offset(line, 0.02)
    assert np.hypot(*(moved - [1.0, 0.0]).T).min() == pytest.approx(0.02)
    assert moved[:, 0].max() < 1.0 + 0.021


def test_too_wide_for_its_bend_is_refused() -> None:
    with pytest.raises(ValueError, match="crosses itself"):
        verify(np.array([[0.0, 0.0], [1.0, 0.0], [0.5, 0.5]]), np.array([[-1.0, -1], [2, 2], [2, -1], [-1, 2]]))


def test_a_cut_line_inside_its_net_is_refused() -> None:
    with pytest.raises(ValueError, match="does not hold the whole panel"):
        verify(np.array([[0.0, 0.0], [1.0, 0.0], [0.5, 0.5]]), np.array([[0.1, 0.0], [1.0, 0.0], [0.5, 0.5]]))


def test_a_crossed_net_is_our_own_mistake() -> None:
    bow = np.array([[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 1.0]])
    with pytest.raises(Bug, match="crosses itself"):
        verify(bow, bow)


def test_lines_that_do_not_fit_are_refused() -> None:
    lower, upper = np.array([[0.0, 0.0], [1.0, 0.0]]), np.array([[0.0, 0.5], [1.0, 0.5]])
    with pytest.raises(ValueError, match="join the ends"):
        net_of(lower, upper, right=np.array([[1.0, 0.0], [1.0, 0.6]]))
    with pytest.raises(ValueError, match="from left to right"):
        net_of(lower[::-1], upper[::-1])
    with pytest.raises(ValueError, match="no finish is given for right seam"):
        cut_line(net_of(lower, upper), {"bottom": hem(), "top": hem(), "left seam": lapped_seam()})
    with pytest.raises(ValueError, match="too sharp or too blunt"):
        cut_line(
            net_of(lower, upper, right=np.array([[1.0, 0.0], [1.2, -0.05], [1.0, 0.5]])), dict.fromkeys(EDGES, hem())
        )


def test_the_far_end_of_a_neighbour_does_not_tell_where_the_panel_lies() -> None:
    """Lines that dip by as much as the panel is high: their middle lies below both corners. A mirror image of itself.

    Beyond the corner the hem's cut line runs as the seam's turned part does: the two halves are alike.
    """
    x = np.linspace(0.0, 1.0, 41)
    low = np.stack([x, -1.2 * x * (1.0 - x)], axis=-1)
    edges = {"bottom": hem(), "right seam": plain_seam(), "top": hem(), "left seam": plain_seam()}
    outline = cut_line(net_of(low, low + np.array([0.0, 0.3])), edges).outline
    mirrored = Polygon(np.stack([1.0 - outline[:, 0], outline[:, 1]], axis=-1))
    assert Polygon(outline).symmetric_difference(mirrored).area < 1e-6
    assert Polygon(outline).area > 0.3


def test_near_points_are_one() -> None:
    line = np.array([[0.0, 0.0], [0.5, 0.0], [0.500001, 0.0], [1.0, 0.0], [1.000001, 0.0]])
    assert cleaned(line).tolist() == [[0.0, 0.0], [0.5, 0.0], [1.000001, 0.0]]
