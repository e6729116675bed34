"""Copper conductors: resistance, drop, warmth.

Source: IEC 60228, Table 3 (class 5, plain and tinned) and the factors of its Annex; read in two public reproductions.
Drops are computed here from first principles, 2 x 5 m x 10 A x R'.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.fitout.wire import drop, resistance, sizes

NAMES = (1.5, 2.5, 4.0, 6.0, 10.0, 16.0)


def test_resistances() -> None:
    area, plain = sizes()
    _, tinned = sizes(tinned=True)
    assert area[:6] * 1e6 == pytest.approx(NAMES)
    assert plain[:7] * 1e3 == pytest.approx([13.3, 7.98, 4.95, 3.30, 1.91, 1.21, 0.780])
    assert tinned[:7] * 1e3 == pytest.approx([13.7, 8.21, 5.09, 3.39, 1.95, 1.24, 0.795])


def test_strands_cost_some_copper() -> None:
    # 17.241 ohm mm2/km over the area is solid standard copper: the table's limit lies above it, by less than a fifth.
    area, plain = sizes()
    over = plain * 1e3 / (17.241 / (area * 1e6))
    assert np.all((over > 1.0) & (over < 1.2))


def test_drop_over_five_metres() -> None:
    _, plain = sizes()
    lost = drop(5.0, 10.0, plain[:6])
    assert lost == pytest.approx([1.330, 0.798, 0.495, 0.330, 0.191, 0.121], abs=5e-4)
    assert 100.0 * lost / 12.0 == pytest.approx([11.08, 6.65, 4.13, 2.75, 1.59, 1.01], abs=5e-3)


@pytest.mark.parametrize(
    ("celsius", "printed"), [(5, 1.064), (10, 1.042), (25, 0.980), (40, 0.926), (65, 0.847), (80, 0.806), (100, 0.758)]
)
def test_warmth(celsius: float, printed: float) -> None:
    # Factor that brings a reading to 20 C; read in a public reproduction.
    assert 1.0 / float(resistance(1.0, 273.15 + celsius)) == pytest.approx(printed, abs=6e-4)
