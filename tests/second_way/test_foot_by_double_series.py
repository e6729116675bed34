"""A foot on a field of the roof, by Navier's double series for a square patch: a second way, computed here."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.plate_support import Field, under_even_load, under_foot

NU = 0.3


def navier(long: float, side: float, terms: int = 400) -> tuple[float, float]:
    """Return sag times D and the greater middle moment for a unit force on a square patch amid a field 1 m short."""
    m = np.arange(1, terms, 2.0)
    along, across = np.meshgrid(m, m, indexing="ij")
    patch = 4 / long * np.sinc(along * side / 2) * np.sinc(across * side / (2 * long))
    square_a, square_b = (along * np.pi) ** 2, (across * np.pi / long) ** 2
    sag = patch / (square_a + square_b) ** 2
    moments = (
        (sag * (square_a + NU * square_b)).sum(),
        (sag * (square_b + NU * square_a)).sum(),
    )
    return float(sag.sum()), float(max(moments))


@pytest.mark.parametrize("long", [1.0, 1.3, 1.75, 2.0])
@pytest.mark.parametrize("side", [0.08, 0.15])
def test_a_foot_on_a_field(long: float, side: float) -> None:
    # A square patch against the handbook's circle of like area, and a table read between its columns: 3 %. The
    # handbook's sag is that of a point force, so that it may be more, up to 5 % for the larger patch.
    one = np.array(1.0)
    found = under_foot(Field(one, np.array(long), one, one, one * 1e-3), 1.0, side)
    sag, moment = navier(long, side)
    assert float(found.moment) == pytest.approx(moment, rel=0.03)
    assert 0.99 * sag <= float(found.sag) <= 1.05 * sag


def test_a_patch_as_large_as_the_field_is_an_even_load() -> None:
    one = np.array(1.0)
    found = under_even_load(Field(one, one, one, one, one), 1.0)
    sag, moment = navier(1.0, 1.0)
    assert float(found.sag) == pytest.approx(sag, rel=1e-6)
    assert float(found.moment) == pytest.approx(moment, rel=1e-4)
