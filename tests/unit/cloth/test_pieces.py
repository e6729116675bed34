"""Pattern pieces: ease, shrinkage, match marks, ordinates. Exact constructed cases."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, Point

from loftwright.cloth.allowances import felled_seam, hem, staple_strip
from loftwright.cloth.cut_lines import Net, net_of
from loftwright.cloth.pieces import (
    INSIDE_UP,
    OUTSIDE_UP,
    Cloth,
    RimArc,
    arc_along,
    before_shrinking_piece,
    eased,
    ordinates,
    panel_piece,
    place_at,
    rim_marks,
    seam_marks,
)
from loftwright.cloth.windows import Layering, Sight, layers, placed
from loftwright.core.pattern import PatternPiece

NARROW, WIDE = felled_seam()
FINISHES = {"bottom": hem(), "right seam": WIDE, "top": staple_strip(), "left seam": NARROW}


def lines() -> tuple[np.ndarray, np.ndarray]:
    t = np.linspace(0.0, 1.0, 60)
    lower = np.stack([2.0 * t, 0.08 * t * (1 - t)], axis=1)
    return lower, np.stack([0.1 + 1.85 * t, 0.7 + 0.02 * t**2], axis=1)


def piece(cloth: Cloth, **more: bool) -> PatternPiece:
    lower, upper = lines()
    net = net_of(lower, upper)
    window = layers(placed(Sight(0.0, 0.2, 0.5, 0.2), net), Layering())["sight line"].contour("mark", "sight line")
    arcs = RimArc(1.0 + arc_along(lower), 1.05 + arc_along(upper))
    return panel_piece("W2", "right wall", net, FINISHES, cloth, arcs=arcs, seams=(2, 1), windows=(window,), **more)


@pytest.fixture(scope="module")
def plain() -> PatternPiece:
    return piece(Cloth("canvas"))


def test_ease_lengthens_both_seams_alike() -> None:
    lower, upper = lines()
    raised = eased(lower, upper, 0.008)
    for end in (0, -1):
        before, after = (float(np.hypot(*(line[end] - lower[end]))) for line in (upper, raised))
        assert after - before == pytest.approx(0.008, abs=1e-12)
    assert np.hypot(*(raised - upper).T) == pytest.approx(0.008)


def test_match_marks_at_equal_arc(plain: PatternPiece) -> None:
    """Each mark lies on the stitch line at the rim arc that its sign says, within 0.1 mm: by shapely."""
    lower, upper = lines()
    for line, start, low in ((LineString(lower), 1.0, True), (LineString(upper), 1.05, False)):
        for notch in plain.notches:
            if notch.sign.startswith("S") or (notch.at[1] < 0.4) is not low:
                continue
            along = start + line.project(Point(notch.at))
            if notch.sign != "*":
                assert notch.arc == pytest.approx(0.25 * int(notch.sign))
            assert along == pytest.approx(notch.arc, abs=1e-4)
            assert line.distance(Point(notch.at)) == pytest.approx(
                FINISHES["bottom" if low else "top"].allowance, abs=1e-4
            )
    assert [n.sign for n in plain.notches if n.sign == "*"] == ["*", "*"]


def test_seam_marks_from_the_lower_end(plain: PatternPiece) -> None:
    lower, upper = lines()
    for sign, seam in (("S2", (lower[-1], upper[-1])), ("S1", (lower[0], upper[0]))):
        line = LineString(seam)
        own = [notch for notch in plain.notches if notch.sign == sign]
        assert [line.project(Point(notch.at)) for notch in own] == pytest.approx([n.arc for n in own], abs=1e-9)
    assert {n.sign for n in plain.notches if n.sign.startswith("S")} == {"S1", "S2"}


def test_no_two_seams_are_marked_alike() -> None:
    every = [seam_marks(1.0, number) for number in range(1, 7)]
    for k, one in enumerate(every):
        for other in every[k + 1 :]:
            assert min(abs(a[0] - b[0]) for a, b in zip(one, other, strict=True)) > 0.03
        # Upside down it does not fit its own marks either.
        assert max(abs(a[0] - (1.0 - b[0])) for a, b in zip(one, reversed(one), strict=True)) > 0.03


def test_mirror_panel_does_not_match() -> None:
    """A left wall turned over on the right wall's rim: its odd mark misses by a fifth of the length."""
    right = {sign: at for at, sign in rim_marks(1.0, 3.0)}
    left = {sign: at for at, sign in rim_marks(4.0, 6.0)}
    turned_over = 1.0 + (6.0 - left["*"])
    assert abs(turned_over - right["*"]) == pytest.approx(0.4)
    assert not set(right) & set(left) - {"*"}


def test_marks_keep_off_the_seams() -> None:
    marks = rim_marks(0.24, 1.26)
    assert [sign for _, sign in marks] == ["2", "*", "3", "4"]
    assert rim_marks(0.0, 0.625, 0.25)[0] == (0.25, "*")


def test_a_mark_beyond_its_edge_is_refused() -> None:
    line = np.array([[0.0, 0.0], [1.0, 0.0]])
    with pytest.raises(ValueError, match="must lie on its edge"):
        place_at(line, arc_along(line), 1.5)


def test_arcs_for_every_point() -> None:
    lower, upper = lines()
    with pytest.raises(ValueError, match="needs its rim arc"):
        panel_piece("W", "w", net_of(lower, upper), FINISHES, Cloth("c"), arcs=RimArc(np.arange(3.0), np.arange(3.0)))


def test_ordinates_of_a_known_line() -> None:
    """Exact: a parabola below, a straight slope above, every 100 mm and at the corners."""
    x = np.linspace(0.0, 1.0, 101)
    net = net_of(np.stack([x, 0.2 * x * (1 - x)], axis=1), np.array([[-0.05, 0.5], [1.0, 0.6]]))
    found = ordinates(net)
    assert [round(at, 3) for at, _, _ in found] == [-0.05, *(round(0.1 * k, 3) for k in range(11))]
    for at, low, high in found[1:]:
        assert low == pytest.approx(0.2 * at * (1 - at), abs=1e-6)
        assert high == pytest.approx(0.5 + 0.1 * (at + 0.05) / 1.05, abs=1e-6)
    assert found[0] == pytest.approx((-0.05, 0.5, 0.5), abs=1e-6)


def test_ordinates_do_not_mind_how_the_panel_lies() -> None:
    """Turned by 20 degrees the heights over the chord of the lower line are the same."""
    turn = np.radians(20.0)
    spin = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    lower, upper = lines()
    assert np.array(ordinates(net_of(lower @ spin, upper @ spin))) == pytest.approx(
        np.array(ordinates(net_of(lower, upper))), abs=1e-7
    )


def test_words_grain_and_edges(plain: PatternPiece) -> None:
    assert plain.side == OUTSIDE_UP
    assert piece(Cloth("canvas"), inside=True).side == INSIDE_UP
    assert [words.text for words in plain.words][:3] == ["W2 right wall", "canvas", OUTSIDE_UP]
    assert plain.grain is not None
    assert plain.grain[0][1] == plain.grain[1][1]
    assert plain.edges[0] == ("bottom", "hem", "hem, 38.1 mm")
    upward = piece(Cloth("canvas", warp_along=False, nap=True))
    assert upward.grain is not None
    assert upward.grain[0][0] == upward.grain[1][0]
    assert upward.nap


def test_shrunk_it_is_the_finished_piece(plain: PatternPiece) -> None:
    """Cloth that shrinks by 3 % along and 1 % across: what was cut shrinks to the plain piece, marks and all."""
    wet = piece(Cloth("canvas", 0.03, 0.01))
    for own, finished in zip(wet.contours[:2], plain.contours[:2], strict=True):
        shrunk = np.array(own.vertices) * [0.97, 0.99, 1.0]
        assert shrunk == pytest.approx(np.array(finished.vertices), abs=1e-12)
    for notch, finished_notch in zip(wet.notches, plain.notches, strict=True):
        assert np.array(notch.at) * [0.97, 0.99] == pytest.approx(np.array(finished_notch.at))
        assert np.hypot(*notch.out) == pytest.approx(1.0)
    sight = LineString(np.array(wet.contours[2].flattened()) * [0.97, 0.99])
    assert sight.hausdorff_distance(LineString(plain.contours[2].flattened(1e-6))) < 1e-4
    assert [round(at, 3) for at, _, _ in wet.ordinates][1] == 0.1
    across = piece(Cloth("canvas", 0.03, 0.01, warp_along=False))
    assert across.box[3] == pytest.approx(plain.box[3] / 0.97)


def test_even_shrinkage_keeps_arcs(plain: PatternPiece) -> None:
    wet = before_shrinking_piece(plain, 0.02, 0.02)
    assert [b for _, _, b in wet.contours[2].vertices] == [b for _, _, b in plain.contours[2].vertices]
    assert wet.box[2] == pytest.approx(plain.box[2] / 0.98)
    assert before_shrinking_piece(replace(plain, grain=None), 0.02, 0.02).grain is None


def test_net_edges_by_name() -> None:
    net: Net = net_of(*lines())
    assert net.edge("top") is net.top
