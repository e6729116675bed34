"""Windows in the walls: constructed cases, and distances a second way; computed here from first principles."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.answers.walled_windows import flat_row, panel_net
from loftwright.cloth.pieces import eased
from loftwright.cloth.sew_rules import BENT_SHEET, FROST, IN_CREASE, NEAR_EDGE, SHARP_CORNER
from loftwright.cloth.window_rows import WindowRows, eased_rows
from loftwright.cloth.windows import clearances
from loftwright.core.checks import Rule, Verdict
from tests.unit.answers.wall_cases import FULL, LAYERS, judged, planned, window, written

REAR = written()


def verdict(text: str, rule: Rule, part: str = "rear window") -> Verdict:
    return next(check.verdict for check in judged(text)[1] if check.rule is rule and check.part == part)


def square(
    side: float = 1.0, rows: int = 3, *, at: tuple[float, float] = (0.4, 0.1), radius: float = 0.05
) -> WindowRows:
    """Return a window of 0.2 by 0.1 in a square panel, its place the same in every row."""
    lower = np.broadcast_to(np.array([[0.0, 0.0], [side / 2, 0.0], [side, 0.0]]), (rows, 3, 2))
    upper = lower + np.array([0.0, side])
    x, y, r = (np.full(rows, v) for v in (*at, radius))
    return WindowRows(lower, upper, x, y, x + 0.2, y + 0.1, r)


def test_distances_in_a_square_panel() -> None:
    """Exact: 0.1 below, 0.8 above, 0.4 left and right; 40 mm less each for a layer 40 mm larger."""
    one = square()
    for by in (0.0, 0.04):
        clear = one.clear(by)
        for edge, far in (("bottom", 0.1), ("top", 0.8), ("left seam", 0.4), ("right seam", 0.4)):
            assert clear[edge] == pytest.approx(far - by, abs=1e-12)
    assert one.crease(0.0, (0.5,)) == pytest.approx(0.3, abs=1e-12)
    assert one.crease(0.0, (0.25, 0.5, 0.75)) == pytest.approx(0.05, abs=1e-12)
    assert square(at=(0.4, 0.47)).crease(0.0, (0.5,)) == pytest.approx(-0.03, abs=1e-12)
    assert square(at=(0.9, 0.1)).clear(0.0)["right seam"] == pytest.approx(-0.1, abs=1e-12)


def test_round_corners_come_nearer_to_a_slanted_seam_by_what_they_are_round() -> None:
    """A seam at 45 degrees: the corner's middle is d from it, the corner itself d - r (exact)."""
    lower = np.array([[[0.0, 0.0], [1.0, 0.0]]])
    upper = np.array([[[0.5, 0.5], [1.5, 0.5]]])
    x, y, r = np.array([0.4]), np.array([0.1]), np.array([0.05])
    one = WindowRows(lower, upper, x, y, x + 0.2, y + 0.1, r)
    # The left seam is y = x; of all corners the upper left one is nearest, its middle at (0.45, 0.15).
    assert one.clear(0.0)["left seam"][0] == pytest.approx(0.30 / math.sqrt(2.0) - 0.05, abs=1e-12)


def test_all_rows_agree_with_the_planned_outline() -> None:
    """Row 0 against `clearances`, which walks round the outline itself: a second way, within 0.5 mm."""
    case = planned(REAR + LAYERS + window() + window("left", bottom="90 mm", height="120 mm", along="-300 mm"))
    assert [one.name for one in case.pieces.windows.windows] == ["rear window", "left window"]
    for one in case.pieces.windows.windows:
        panel = case.panels.panels[one.panel]
        walked = min(clearances(one.largest, panel_net(panel, float(case.panels.ease[0]))).values())
        found = next(j for j in case.pieces.judged if j.rule is NEAR_EDGE and j.which == one.name)
        assert found.value is not None
        assert float(found.value[0]) == pytest.approx(walked, abs=5e-4)


def test_ease_in_all_rows_is_that_of_one() -> None:
    panel = planned(REAR).panels.panels[0]
    low, high = flat_row(panel)
    assert eased_rows(low[None], high[None], np.array([0.013]))[0] == pytest.approx(eased(low, high, 0.013), abs=1e-12)


def test_along_goes_to_the_right_seen_from_outside() -> None:
    left, right = (planned(REAR + window(along=f"{a} mm")).pieces.windows.windows[0] for a in (-200, 200))
    assert right.sight.left - left.sight.left == pytest.approx(0.4, abs=2e-3)
    assert right.panel == left.panel == 0
    # The rear wall's middle is the line's start, and the line goes to the right.
    assert right.arc - left.arc == pytest.approx(0.4, abs=1e-9)


IN_BEND = {"bottom": "400 mm", "width": "300 mm", "film": "0.5 mm"}
BOTH = (
    written(stow__cavity='"60 mm, measured"', temperatures__cold='"-20 C"')
    + window(name="good", along="-350 mm", width="300 mm", corner_radius="45 mm")
    + window(name="low", along="350 mm", width="300 mm", bottom="30 mm", corner_radius="12 mm")
    + window(name="soft", along="-350 mm", film_bends="12 mm", **IN_BEND)
    + window(name="stiff", along="350 mm", film_bends="40 mm", **IN_BEND)
)


@pytest.mark.parametrize(
    ("rule", "holds", "fails"),
    [
        (NEAR_EDGE, "good", "low"),
        (IN_CREASE, "good", "soft"),
        (SHARP_CORNER, "good, tape", "low, tape"),
        (SHARP_CORNER, "good, turned cloth", "low, turned cloth"),
        (BENT_SHEET, "soft", "stiff"),
        (FROST, "good", "soft"),
    ],
)
def test_both_sides_of_each_limit(rule: Rule, holds: str, fails: str) -> None:
    assert verdict(BOTH, rule, holds) is Verdict.HOLDS
    assert verdict(BOTH, rule, fails) is Verdict.FAILS


def test_sheet_in_the_bend_has_the_gap_over_2_4() -> None:
    """Cavity 60 mm, sheet 0.5 mm: R = (60 - 0.5) / 2.39628, of the weightless fold between two faces."""
    check = next(c for c in judged(BOTH)[1] if c.rule is BENT_SHEET and c.part == "soft")
    assert check.value == pytest.approx(0.0595 / 2.39628, abs=1e-6)


def test_an_unknown_cavity_is_not_known_yet() -> None:
    assert verdict(FULL, BENT_SHEET, "left window") is Verdict.NOT_KNOWN


def test_the_largest_layer_governs() -> None:
    """Without a curtain the largest layer is the tape, 30 mm beyond the sight line; then the screen, 20 mm."""

    def near(**keys: str) -> float:
        case = planned(REAR + window(**keys)).pieces
        found = next(j for j in case.judged if j.rule is NEAR_EDGE)
        assert found.value is not None
        return float(found.value[0])

    whole = near()
    assert near(curtain="false") - whole == pytest.approx(0.010, abs=1e-9)
    assert near(curtain="false", opens="fixed") - whole == pytest.approx(0.020, abs=1e-9)
    assert near(curtain="false", screen="false") - whole == pytest.approx(0.025, abs=1e-9)


def test_pieces_of_a_window_and_what_it_has_not() -> None:
    found = {p.number: p for p in planned(REAR + window()).pieces.pieces}
    assert [found[n].material for n in ("F1", "N1", "C1")] == ["clear sheet", "insect screen", "curtain"]
    for number, more in (("F1", 0.015), ("N1", 0.020), ("C1", 0.040)):
        x0, y0, x1, y1 = found[number].box
        assert x1 - x0 == pytest.approx(0.5 + 2 * more, abs=1e-9)
        assert y1 - y0 == pytest.approx(0.2 + 2 * more, abs=1e-9)
    fewer = {p.number for p in planned(REAR + window(curtain="false", screen="false")).pieces.pieces}
    assert "F1" in fewer
    assert not {"N1", "C1"} & fewer


def test_a_window_across_a_seam_or_beyond_its_wall_fails_and_has_no_hole() -> None:
    text = REAR + window(along="750 mm", name="far window")
    case = planned(text).pieces
    assert not case.windows.windows[0].holed
    assert all(len(piece.of("cut")) == 1 for piece in case.pieces if piece.number.startswith("W"))
    found = next(one for one in case.judged if one.rule is NEAR_EDGE)
    assert found.value is not None
    assert found.limit is not None
    assert NEAR_EDGE.judge(float(found.value[0]), float(found.limit[0])).verdict is Verdict.FAILS
    assert any("far window" in one for one in case.windows.said)


def test_two_windows_in_one_place_fail() -> None:
    text = REAR + window() + window(along="520 mm", width="200 mm", name="other")
    one, other = planned(text).pieces.windows.windows
    assert one.panel == other.panel
    # 170 mm from sight line to sight line, less 40 mm of either curtain.
    apart = other.sight.left - one.sight.right - 0.08
    assert apart == pytest.approx(0.09, abs=2e-3)
    near = REAR + window() + window(along="400 mm", width="200 mm", name="other")
    values = [float(j.value[0]) for j in planned(near).pieces.judged if j.rule is NEAR_EDGE and j.value is not None]
    # 120 mm nearer than those above.
    assert values[1] == pytest.approx(apart - 0.12, abs=2e-3)
    assert NEAR_EDGE.judge(values[1], 0.04).verdict is Verdict.FAILS
