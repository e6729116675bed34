"""Windows: arcs, layers, tape, keep-outs. Exact constructed cases; distances a second way by shapely."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from loftwright.cloth.cut_lines import EDGES, Net, net_of
from loftwright.cloth.sew_rules import IN_CREASE, NEAR_EDGE, SHARP_CORNER, judge_corners, judge_place
from loftwright.cloth.windows import (
    Box,
    Layering,
    Sight,
    clearances,
    layers,
    placed,
    relief_notches,
    tape_length,
)
from loftwright.core.checks import Verdict

LAYERING = Layering()


@pytest.fixture(scope="module")
def net() -> Net:
    t = np.linspace(0.0, 1.0, 80)
    return net_of(np.stack([2.0 * t, 0.16 * t * (1 - t)], axis=1), np.array([[0.15, 0.7], [1.9, 0.65]]))


def test_arcs_are_quarter_circles() -> None:
    """Every point of the flattened corner is 40 mm from its centre; the arc's bulge is tan(90 / 4 degrees)."""
    contour = Box(0.0, 0.0, 0.6, 0.3, 0.04).contour("cut", "sight line")
    assert [b for _, _, b in contour.vertices if b] == pytest.approx([math.tan(math.pi / 8)] * 4)
    points = np.array(contour.flattened(1e-8))
    corner = points[(points[:, 0] >= 0.56) & (points[:, 1] >= 0.26)]
    assert len(corner) > 20
    assert np.hypot(*(corner - [0.56, 0.26]).T) == pytest.approx(0.04, abs=1e-12)
    assert Polygon(points).exterior.is_ccw
    assert Polygon(points).area == pytest.approx(0.6 * 0.3 - (4 - math.pi) * 0.04**2, abs=1e-8)


def test_round_and_sharp_boxes() -> None:
    """A box whose corners meet is a circle with four arcs; without radius it has four plain corners."""
    circle = Box(0.0, 0.0, 0.2, 0.2, 0.1).contour("cut", "porthole")
    assert [b > 0 for _, _, b in circle.vertices] == [True] * len(circle.vertices)
    assert Polygon(circle.flattened(1e-7)).area == pytest.approx(math.pi * 0.01, rel=1e-5)
    assert len(Box(0.0, 0.0, 0.2, 0.1, 0.0).contour("cut", "").vertices) == 4


def test_layers_are_parallel(net: Net) -> None:
    """Each layer is the sight line moved by its own width all round: by shapely's buffer."""
    box = placed(Sight(0.1, 0.2, 0.6, 0.25), net)
    sight = Polygon(box.contour("cut", "").flattened(1e-7))
    every = layers(box, LAYERING)
    for name, by in (
        ("outer cloth, cut", -0.010),
        ("clear sheet", 0.015),
        ("insect screen", 0.020),
        ("curtain", 0.040),
    ):
        own = LineString(every[name].contour("cut", name).flattened(1e-7))
        assert own.hausdorff_distance(sight.buffer(by, quad_segs=200).exterior) < 2e-5
    assert every["outer cloth, cut"].radius == pytest.approx(0.030)
    assert LAYERING.largest == 0.040


def test_tape_goes_round() -> None:
    box = Box(0.0, 0.0, 0.6, 0.3, 0.04)
    line = LineString(box.grown(0.03).contour("cut", "").flattened(1e-8))
    assert tape_length(box, LAYERING, overlap=0.0) == pytest.approx(line.length, abs=1e-5)
    assert tape_length(box, LAYERING, "three sides", 0.0) == pytest.approx(line.length - 0.52, abs=1e-5)


def test_relief_cuts_stop_short_of_the_sight_line() -> None:
    box = Box(0.0, 0.0, 0.6, 0.3, 0.04)
    cuts = relief_notches(box, LAYERING)
    assert len(cuts) == 4 * 6
    sight = LineString(box.contour("cut", "").flattened(1e-7))
    cut = LineString(box.grown(-0.01).contour("cut", "").flattened(1e-7))
    for mark in cuts:
        line = LineString([vertex[:2] for vertex in mark.vertices])
        assert line.distance(sight) == pytest.approx(0.002, abs=1e-6)
        assert line.distance(cut) < 1e-6
        assert line.length == pytest.approx(0.008)
    assert relief_notches(Box(0.0, 0.0, 0.6, 0.3, 0.0), LAYERING) == ()


def test_placed_over_the_crown(net: Net) -> None:
    """Middle of the wall, 200 mm over the highest point of the crown below it (40 mm at the middle)."""
    box = placed(Sight(0.0, 0.2, 0.5, 0.2), net)
    assert (box.left, box.right) == pytest.approx((0.75, 1.25))
    assert box.bottom == pytest.approx(0.24, abs=2e-5)


@pytest.mark.parametrize("grow", [0.0, 0.04])
def test_clearances_by_shapely(net: Net, grow: float) -> None:
    box = placed(Sight(-0.3, 0.15, 0.7, 0.25), net).grown(grow)
    shape = Polygon(box.contour("cut", "").flattened(1e-6))
    found = clearances(box, net)
    for name in EDGES:
        assert found[name] == pytest.approx(shape.distance(LineString(net.edge(name))), abs=1e-4)


def test_beyond_a_seam_is_less_than_nought(net: Net) -> None:
    box = placed(Sight(0.8, 0.2, 0.5, 0.2), net)
    found = clearances(box, net)
    assert found["right seam"] < -0.04
    assert min(found["left seam"], found["bottom"], found["top"]) > 0


def test_largest_layer_is_judged(net: Net) -> None:
    """A sight line that keeps 70 mm from the top with a curtain that does not, and one lower that does."""
    said = []
    for bottom in (0.24, 0.14):
        box = placed(Sight(0.0, bottom, 0.6, 0.30), net)
        assert min(clearances(box, net).values()) > 0.070
        nearest = min(clearances(box.grown(LAYERING.largest), net).values())
        said.append(judge_place("window 1", [nearest], [0.2], [0.070])[0])
    checks = [NEAR_EDGE.judge(float(one.value[0]), float(one.limit[0])) for one in said]
    assert [check.verdict for check in checks] == [Verdict.FAILS, Verdict.HOLDS]


def test_what_a_window_keeps_clear_is_asked_for() -> None:
    """The same 50 mm from seam and crease: enough where 40 mm are to be kept, too little where 60 mm are."""
    for keep, verdict in ((0.040, Verdict.HOLDS), (0.060, Verdict.FAILS)):
        seam, crease = judge_place("window 1", [0.050], [0.050], [keep])
        assert NEAR_EDGE.judge(float(seam.value[0]), float(seam.limit[0])).verdict is verdict
        assert IN_CREASE.judge(float(crease.value[0]), float(crease.limit[0])).verdict is verdict


def test_across_a_crease_fails_whatever_is_kept() -> None:
    crease = judge_place("window 1", [0.2], [-0.010], [0.0])[1]
    assert IN_CREASE.judge(float(crease.value[0]), float(crease.limit[0])).verdict is Verdict.FAILS


def test_corner_radius() -> None:
    """Corners of 12 mm are too sharp for tape and keep 2 mm where the cloth is turned; of 40 mm they do for both."""
    for radius, verdict in ((0.012, Verdict.FAILS), (0.040, Verdict.HOLDS)):
        found = judge_corners("window 1", [radius], [0.010], taped=True)
        assert [one.which for one in found] == ["window 1, turned cloth", "window 1, tape"]
        checks = [SHARP_CORNER.judge(float(one.value[0]), float(one.limit[0])) for one in found]
        assert [check.verdict for check in checks] == [verdict, verdict]


def test_without_tape_only_the_turned_cloth_is_judged() -> None:
    (found,) = judge_corners("window 1", [0.020], [0.010], taped=False)
    assert SHARP_CORNER.judge(float(found.value[0]), float(found.limit[0])).verdict is Verdict.HOLDS


@pytest.mark.parametrize(("width", "radius"), [(0.05, 0.03), (0.0, 0.0), (0.5, -0.01)])
def test_impossible_windows_are_refused(width: float, radius: float) -> None:
    with pytest.raises(ValueError, match="corners must fit"):
        Sight(0.0, 0.1, width, 0.3, radius)
