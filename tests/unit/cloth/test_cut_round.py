"""One allowance all round: exact constructed cases."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth.cut_round import all_round, crosses
from loftwright.core.pattern import area_of

SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
BOW_TIE = np.array([[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 1.0]])


def area(line: np.ndarray) -> float:
    return area_of(tuple((float(x), float(y)) for x, y in line))


def test_a_square_grows_to_a_square() -> None:
    """1 m and 50 mm all round: 1.1 m square (exact), turning left."""
    assert area(all_round(SQUARE, 0.05)) == pytest.approx(1.1**2, abs=1e-12)
    assert np.array_equal(all_round(SQUARE, 0.0), SQUARE)


def test_a_sharp_corner_is_cut_square() -> None:
    """A corner of 10 degrees would stand out by 1 / sin 5 deg, 11 times the allowance; 2.5 times is the most."""
    tip = np.array([[0.0, 0.0], [1.0, -np.tan(np.radians(5.0))], [1.0, np.tan(np.radians(5.0))]])
    found = all_round(tip, 0.01)
    assert found[:, 0].min() == pytest.approx(-0.025, abs=1e-4)


def test_a_line_that_crosses_itself_is_refused() -> None:
    assert crosses(BOW_TIE)
    assert not crosses(SQUARE)
    with pytest.raises(ValueError, match="cross"):
        all_round(BOW_TIE, 0.01)
