"""Clear sheet in a fold: closed forms against a boundary-value solution of the elastica, a second way."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp
from scipy.special import ellipe, ellipk

from loftwright.cloth import film
from loftwright.cloth.sew_rules import BENT_SHEET, FLAT, FROST, judge_frost, judge_sheet
from loftwright.core.checks import Verdict
from loftwright.reference.sewing import CLEAR_SHEETS


@pytest.fixture(scope="module")
def elastica():  # type: ignore[no-untyped-def]
    """Half the fold between faces 1 apart, stiffness 1: angle, x, y over its length; push and length unknown."""

    def grows(_: np.ndarray, state: np.ndarray, free: np.ndarray) -> np.ndarray:
        angle, x, _y = state
        push, length = free
        return length * np.stack([push * x, np.cos(angle), np.sin(angle)])

    def ends(a: np.ndarray, b: np.ndarray, _: np.ndarray) -> np.ndarray:
        return np.array([a[0], a[1], a[2], b[0] - math.pi / 2, b[2] - 0.5])

    share = np.linspace(0.0, 1.0, 60)
    guess = np.stack([math.pi / 2 * share, 0.8 * share, 0.5 * share])
    found = solve_bvp(grows, ends, share, guess, p=[3.0, 1.0], tol=1e-9)
    assert found.success
    return found


def test_push_reach_curvature_and_length(elastica) -> None:  # type: ignore[no-untyped-def]
    push, length = elastica.p
    reach = elastica.y[1, -1]
    assert push == pytest.approx(film.PUSH, rel=1e-6)
    assert reach == pytest.approx(film.REACH, rel=1e-6)
    assert push * reach == pytest.approx(film.TIP, rel=1e-6)
    assert 2 * length == pytest.approx(film.LENGTH, rel=1e-6)


def test_constants_by_elliptic_integrals() -> None:
    """The integral of sqrt(sin t) over a quarter is sqrt 2 (2 E - K) at m = 1/2, and by quadrature."""
    quarter = math.sqrt(2.0) * (2 * ellipe(0.5) - ellipk(0.5))
    assert quad(lambda t: math.sqrt(math.sin(t)), 0, math.pi / 2)[0] == pytest.approx(quarter, rel=1e-8)
    assert pytest.approx(2 * quarter, rel=1e-12) == film.TIP
    assert [round(film.TIP, 5), round(film.PUSH, 5)] == [2.39628, 2.87108]


@pytest.mark.parametrize(("gap", "push"), [(0.030, 0.702), (0.050, 0.253)])
def test_push_of_canvas(gap: float, push: float) -> None:
    """350 g/m2 with a bending length of 40 mm, B = w c^3: computed here from first principles a second way."""
    stiffness = 0.350 * 9.80665 * 0.040**3
    assert float(film.fold_push(stiffness, gap)) == pytest.approx(push, abs=0.0015)


def test_gap_and_radius_belong_together() -> None:
    gap = film.TIP * np.array([0.01, 0.02]) + 0.0005
    assert film.tip_radius(gap, 0.0005) == pytest.approx([0.01, 0.02])
    assert float(film.tip_radius(0.0004, 0.0005)) == 0.0
    assert float(film.bend_length(0.1)) == pytest.approx(0.218844)


def test_strain_of_a_bent_sheet() -> None:
    """Exact: the outer face of a ring of mean radius R and thickness t is longer by (R + t/2) / R - 1."""
    assert float(film.strain(0.0005, 0.0125)) == pytest.approx((0.0125 + 0.00025) / 0.0125 - 1)
    assert float(film.strain(0.0005, film.least_radius(0.0005, 0.02))) == pytest.approx(0.02)


def test_a_fold_needs_a_gap() -> None:
    with pytest.raises(ValueError, match="needs a gap"):
        film.fold_push(1.0, 0.0)


def test_sheet_in_the_fold() -> None:
    """20 mil sheet at 2 % keeps 12.7 mm: a gap of 25 mm is too narrow, of 35 mm wide enough."""
    sheet = CLEAR_SHEETS[0].thickness
    least = film.least_radius(sheet, 0.02)
    assert float(least) == pytest.approx(0.0127)
    for gap, verdict in ((0.025, Verdict.FAILS), (0.035, Verdict.HOLDS)):
        judged = judge_sheet("window 1", sheet, [gap], least, [True])
        assert BENT_SHEET.judge(float(judged.value[0]), float(judged.limit[0])).verdict is verdict


def test_sheet_between_the_creases_lies_flat() -> None:
    """Two rows of one gap that is too narrow: bent in the first, flat in the second."""
    judged = judge_sheet("window 1", CLEAR_SHEETS[0].thickness, [0.025], 0.0127, [True, False])
    checks = [BENT_SHEET.judge(*map(float, pair)) for pair in zip(judged.value, judged.limit, strict=True)]
    assert [check.verdict for check in checks] == [Verdict.FAILS, Verdict.HOLDS]
    assert judged.value[1] == FLAT


def test_sheet_lies_bent_within_half_the_length_of_the_bend() -> None:
    """Sheet of 0.5 mm in a gap of 30.5 mm: half of 2.18844 times 30 mm is 32.8 mm on either side of the crease."""
    assert list(film.lies_bent([-0.01, 0.032, 0.034], 0.0305, 0.0005)) == [True, True, False]
    # Where the sheet is thicker than the gap nothing is left of the bend but the crease.
    assert list(film.lies_bent([-0.001, 0.001], 0.0004, 0.0005)) == [True, False]


def test_frost() -> None:
    """Sheet that cracks at -29 degrees C: folded at -10 it is warned of, at +5 it is not."""
    for celsius, verdict in ((-10.0, Verdict.FAILS), (5.0, Verdict.HOLDS)):
        judged = judge_frost("window 1", [celsius + 273.15], CLEAR_SHEETS[0].cracks_from, [True])
        assert FROST.judge(float(judged.value[0]), float(judged.limit[0])).verdict is verdict


def test_sheet_that_is_not_bent_may_be_moved_in_frost() -> None:
    judged = judge_frost("window 1", [-10.0 + 273.15], CLEAR_SHEETS[0].cracks_from, [False])
    assert FROST.judge(float(judged.value[0]), float(judged.limit[0])).verdict is Verdict.HOLDS
