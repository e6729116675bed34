"""Pieces of the walls: constructed cases and second ways, computed here from first principles; no printed source."""

from __future__ import annotations

import math
import re
from itertools import pairwise

import numpy as np
import pytest
from shapely.geometry import Polygon

from loftwright.answers.pieces_cut import WET_FIRST
from loftwright.answers.walled_pieces import nominal_pieces
from loftwright.cloth.sew_rules import ALLOWANCE
from loftwright.core.checks import Verdict
from loftwright.core.pattern import PatternPiece
from loftwright.project.assemble_sewing import edge_plan
from loftwright.project.demos import DEMOS, demo
from loftwright.project.file import loads
from tests.unit.answers.wall_cases import FULL, LAYERS, planned, window, written

LEVEL = written("scissor", walls__ease='"0 mm"', walls__upper_inset='"40 mm"')


def ring(piece: PatternPiece, kind: str = "cut") -> Polygon:
    return Polygon(next(c for c in piece.contours if c.kind == kind).flattened(0.00001))


def by_number(text: str) -> dict[str, PatternPiece]:
    return {piece.number: piece for piece in planned(text).pieces.pieces}


@pytest.mark.parametrize("lifts", ["hinge front", "hinge rear", "arms", "level arms", "scissor"])
def test_every_piece_is_valid_and_holds_its_stitch_line_and_holes(lifts: str) -> None:
    """Against shapely, a library of plane geometry: a second way to look at each outline."""
    more = LAYERS + window() + window("left", bottom="60 mm", height="150 mm")
    found = planned(written(lifts) + more).pieces.pieces
    assert sum(piece.number.startswith("W") for piece in found) == 4
    for piece in found:
        cut, stitch = ring(piece), ring(piece, "stitch")
        assert cut.is_valid, piece.number
        assert stitch.is_valid, piece.number
        assert stitch.difference(cut.buffer(2e-5)).area == 0.0, piece.number
        for hole in piece.of("cut")[1:]:
            assert stitch.contains(Polygon(hole.flattened())), piece.number


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_demos_have_a_piece_for_every_panel(name: str) -> None:
    found = nominal_pieces(demo(name))
    assert {"W1", "W2", "W3", "W4"} <= {piece.number for piece in found}
    assert len({piece.number for piece in found}) == len(found)


def test_seam_edges_of_neighbours_are_equally_long() -> None:
    """The stitch lines of both sides of each seam, measured on the finished pieces: within 0.1 mm."""
    found, panels = by_number(written()), planned(written()).panels.panels
    assert len(panels) == 4
    for k, panel in enumerate(panels):
        after = panels[(k + 1) % len(panels)]
        assert panel.right == after.left
        own, other = (np.array(found[one.number].of("stitch")[0].flattened()[:-1]) for one in (panel, after))
        right = math.dist(own[len(panel.lower_arc) - 1], own[len(panel.lower_arc)])
        left = math.dist(other[0], other[-1])
        assert right == pytest.approx(left, abs=1e-4)


def test_felled_seams_have_two_different_allowances() -> None:
    """Of 20 mm: 10 mm wide when sewn, 8 mm on the wrapped side. Measured on the pieces."""
    piece = by_number(written())["W1"]
    cut, stitch = ring(piece), ring(piece, "stitch")
    x0, _, x1, _ = stitch.bounds
    middle = stitch.centroid.y
    at = {}
    for name, line in (("cut", cut), ("stitch", stitch)):
        points = np.array(line.exterior.coords)
        for side, sign in (("left", -1.0), ("right", 1.0)):
            xs = [
                a[0] + (middle - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
                for a, b in pairwise(points)
                if (a[1] - middle) * (b[1] - middle) < 0
            ]
            at[name, side] = max(xs) if sign > 0 else min(xs)
    ends = np.array(stitch.exterior.coords)
    assert x1 > x0
    lean = [math.cos(math.atan2(abs(d[0]), abs(d[1]))) for d in (ends[-2] - ends[0],)]
    assert (at["stitch", "left"] - at["cut", "left"]) * lean[0] == pytest.approx(0.020, abs=2e-4)
    assert (at["cut", "right"] - at["stitch", "right"]) * lean[0] == pytest.approx(0.008, abs=2e-4)
    assert [edge[1] for edge in piece.edges] == [
        "drip hem",
        "flat-felled, narrow side",
        "staple strip",
        "flat-felled, wide side",
    ]


def test_shrinkage_divides_by_what_is_left_along_each_thread() -> None:
    """3 % along and 1 % across: L / (1 - s), exactly, and not L (1 + s)."""
    plain = written(water__lap='"20 mm"')
    before, after = by_number(plain)["W2"].box, by_number(plain + LAYERS)["W2"].box
    assert (after[2] - after[0]) / (before[2] - before[0]) == pytest.approx(1.0 / 0.97, abs=1e-6)
    assert (after[3] - after[1]) / (before[3] - before[1]) == pytest.approx(1.0 / 0.99, abs=1e-6)
    turned = by_number(plain + LAYERS.replace('role = "outer"', 'role = "outer"\ngrain = "up the wall"'))["W2"]
    assert (turned.box[2] - turned.box[0]) / (before[2] - before[0]) == pytest.approx(1.0 / 0.99, abs=1e-6)
    assert turned.grain is not None
    assert abs(turned.grain[1][0] - turned.grain[0][0]) < 1e-9


def test_ease_lengthens_every_seam_by_itself() -> None:
    """Both ends of the upper line go up along their own seams by the ease (exact)."""
    slack = {s.number: s.length for s in planned(written(walls__ease='"20 mm"')).pieces.seams}
    tight = {s.number: s.length for s in planned(written(walls__ease='"0 mm"')).pieces.seams}
    assert len(slack) == 4
    assert all(slack[k] - tight[k] == pytest.approx(0.020, abs=1e-9) for k in slack)


def test_lining_is_shorter_by_two_pi_times_the_build() -> None:
    """A closed level line moved inward by t becomes 2 pi t shorter (exact); insulation here is 8 mm thick."""

    def around(letter: str, text: str) -> float:
        case = planned(text)
        return sum(
            float(np.sum(np.hypot(*np.diff(np.array(piece.of("stitch")[0].flattened()[: len(panel.lower_arc)]).T))))
            for panel, piece in zip(
                case.panels.panels,
                [one for one in case.pieces.pieces if one.number.startswith(letter)],
                strict=True,
            )
        )

    flat = LEVEL + LAYERS.replace('"3 %"', '"0 %"').replace('"1 %"', '"0 %"')
    assert around("W", flat) - around("L", flat) == pytest.approx(2.0 * math.pi * 0.008, abs=0.0015)


def test_insulation_stops_short_of_corners() -> None:
    """From the end of one corner to the next, less 100 mm at either; measured along the lower edge."""
    case = planned(LEVEL + LAYERS)
    piece = next(p for p in case.pieces.pieces if p.number.startswith("I") and p.name == "right wall")
    begin, end = (np.ravel(v) for v in case.lines.lower.row(0).corner_arcs())
    line = np.array(piece.of("stitch")[0].flattened())
    low = line[line[:, 1] < np.mean(piece.box[1::2])]
    assert float(np.ptp(low[:, 0])) == pytest.approx(float(begin[1] - end[0]) - 0.2, abs=0.002)


def test_marks_lie_at_equal_rim_arc_on_both_lines() -> None:
    """Signs are whole spacings of 300 mm along the rim, on the lower and the upper edge alike."""
    for piece in by_number(written()).values():
        whole = [notch for notch in piece.notches if re.fullmatch(r"\d+", notch.sign)]
        assert whole, piece.number
        assert all(notch.arc == pytest.approx(0.3 * int(notch.sign), abs=1e-6) for notch in whole)
        assert sum(notch.sign == "*" for notch in piece.notches) == 2
    signs = [{n.sign for n in p.notches if n.sign.startswith("S")} for p in by_number(written()).values()]
    assert all(len(pair) == 2 for pair in signs)


def test_mirror_images_say_so() -> None:
    found = by_number(written())
    pair = [piece for piece in found.values() if "left" in piece.name or "right" in piece.name]
    assert len(pair) == 2
    assert all(any("mirror" in words.text for words in piece.words) for piece in pair)
    assert pair[1].number in next(words.text for words in pair[0].words if "mirror" in words.text)


def test_drip_hem_is_lap_and_hem_beyond_the_staples() -> None:
    plan = edge_plan("drip hem", np.array([0.035]), np.array([0.020]))
    assert plan.finish.allowance == pytest.approx(0.055)
    assert plan.finish.turns[0] == pytest.approx(0.020)
    assert plan.finish.turns[1] == pytest.approx(0.020 + 0.035 * 2.0 / 3.0)
    # The raw end lies between fold and stitches, turned twice.
    assert plan.finish.lies_at(0.055) == pytest.approx(-0.020 + 0.035 / 3.0)


def test_too_narrow_an_allowance_fails_and_a_usual_one_holds() -> None:
    for part in ("upper edge, staple strip", "seams, flat-felled, wide side"):
        verdicts = []
        for text in (written(sewing__upper_allowance='"6 mm"', sewing__seam_allowance='"8 mm"'), written()):
            one = next(j for j in planned(text).pieces.judged if j.which == part)
            assert one.value is not None
            assert one.limit is not None
            verdicts.append(ALLOWANCE.judge(float(one.value[0]), float(one.limit[0])).verdict)
        assert verdicts == [Verdict.FAILS, Verdict.HOLDS]


@pytest.mark.parametrize(
    ("lower", "upper", "seam"),
    [("binding", "track", "plain"), ("zip", "plain", "lapped"), ("hem", "staple strip", "felled")],
)
def test_every_finish_makes_a_piece(lower: str, upper: str, seam: str) -> None:
    text = written(sewing__lower_edge=f'"{lower}"', sewing__upper_edge=f'"{upper}"', sewing__seam=f'"{seam}"')
    found = planned(text).pieces
    assert len(found.pieces) == 4
    assert not any("No pattern" in one for one in found.said)


def test_crossing_lines_are_told_of_and_the_others_cut() -> None:
    """A front wall 100 mm high whose cloth is cut 30 mm too short has stitch lines that cross at its crown."""
    found = planned(written("hinge front", walls__ease='"-30 mm"')).pieces
    assert len(found.pieces) == 3
    assert any("front wall" in one and "cross" in one for one in found.said)
    lost = [one for one in found.judged if one.value is None]
    assert [one.which for one in lost] == ["the front wall"]


def test_cloth_that_shrinks_says_to_be_wetted_before_its_windows_are_sewn_in() -> None:
    """On pieces with windows whose cloth still shrinks, and on no other."""
    said = {one.number: [words.text for words in one.words] for one in planned(FULL).pieces.pieces}
    with_windows = {f"W{one.panel + 1}" for one in planned(FULL).pieces.windows.windows}
    assert with_windows
    assert {number for number, texts in said.items() if WET_FIRST in texts} == with_windows
    steady = FULL.replace('shrink_along = "3 %"', 'shrink_along = "0 %"').replace('= "1 %"', '= "0 %"')
    assert not any(WET_FIRST in [words.text for words in one.words] for one in planned(steady).pieces.pieces)


def test_no_layer_is_said() -> None:
    found = planned(written()).pieces
    assert {piece.material for piece in found.pieces} == {"outer cloth"}
    assert any("[[layer]]" in one for one in found.said)
    assert loads(written()).layer == ()
