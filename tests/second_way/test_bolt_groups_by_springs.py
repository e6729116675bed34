"""Forces in a bolt group a second way: a rigid plate on springs in space, solved with numpy's least squares."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from loftwright.strength.bolt_groups import bolt_forces, clamped, in_plane, tilting

Array = NDArray[np.float64]


def springs(points: Array, stiffness: Array, load: Array) -> Array:
    """Return forces [n, 3] in springs of stiffness [n, 3] at points [n, 2] that hold force and moment `load` [6]."""
    rows = []
    for x, y in points:
        # Displacement of a point of the plate under three shifts and three turns.
        rows.append([[1, 0, 0, 0, 0, -y], [0, 1, 0, 0, 0, x], [0, 0, 1, y, -x, 0]])
    shape = np.array(rows, dtype=np.float64)
    whole = np.einsum("nki,nk,nkj->ij", shape, stiffness, shape)
    move = np.linalg.lstsq(whole, load, rcond=None)[0]
    return np.asarray(stiffness * (shape @ move))


@pytest.mark.parametrize("count", [3, 4, 7])
def test_any_group_under_any_load(count: int) -> None:
    rng = np.random.default_rng(count)
    points = rng.uniform(-0.1, 0.1, (count, 2))
    load = rng.normal(size=6) * [1000, 1000, 1000, 50, 50, 50]
    found = springs(points, np.ones((count, 3)), load)
    x, y = in_plane(points, load[0], load[1], load[5])
    assert np.stack([x, y], axis=-1) == pytest.approx(found[:, :2], abs=1e-6)
    assert clamped(points, load[2], load[3], load[4]) == pytest.approx(found[:, 2], abs=1e-6)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_plate_that_tilts_about_its_edge(sign: float) -> None:
    """Two very stiff springs at the pressing line stand for the edge; those of the bolts are soft beside them."""
    bolts = np.array([[-0.03, -0.02], [0.03, -0.02], [-0.03, 0.02], [0.03, 0.02]])
    line = -sign * (0.02 + 0.5 * 0.015)
    points = np.vstack([bolts, [[-0.05, line], [0.05, line]]])
    stiffness = np.vstack([np.ones((4, 3)), np.full((2, 3), 1e8)])
    found = springs(points, stiffness, np.array([0, 0, 0, sign * 20.0, 0, 0]))
    pull = tilting(bolts[:, 1], sign * 20.0, 0.015)
    assert pull == pytest.approx(found[:4, 2], rel=1e-4)
    whole = bolt_forces(bolts, [0, 0, 0], [sign * 20.0, 0, 0], edge=0.015)
    assert whole.pull == pytest.approx(pull)
    assert whole.pressed == pytest.approx(-found[4:, 2].sum(), rel=1e-4)
