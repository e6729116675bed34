"""The wall of several layers in many draws: a second way, one draw at a time."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth.fold import Layer, bending_length_of, loop_length, stiffness_of, strand_of
from loftwright.cloth.made_up import made_up

MASS = np.array([[0.35, 0.2, 0.1], [0.5, 0.15, 0.12], [0.3, 0.3, 0.05]])
THICK = np.array([[6e-4, 3e-3, 2e-4], [9e-4, 4e-3, 3e-4], [4e-4, 1e-3, 1e-4]])
BENDS = np.array([[0.04, 0.045, 0.03], [0.03, 0.05, 0.025], [0.06, 0.02, 0.04]])


@pytest.mark.parametrize("bond", [0.0, 0.3, 1.0])
def test_every_draw_is_the_strip_that_one_draw_makes(bond: float) -> None:
    """A second way: `fold.strand_of` and `fold.loop_length`, which take plain numbers."""
    found = made_up(MASS, THICK, BENDS, bond)
    for row in range(3):
        layers = tuple(Layer("", *(float(v[row, k]) for v in (MASS, THICK, BENDS))) for k in range(3))
        strand = strand_of(layers, 1.0, bond=bond)
        assert found.mass[row] == pytest.approx(strand.mass)
        assert found.stiffness[row] == pytest.approx(strand.stiffness)
        assert found.thickness[row] == pytest.approx(strand.thickness)
        assert found.loop[row] == pytest.approx(loop_length(layers, bond))


def test_a_layer_that_is_not_there_is_left_out() -> None:
    """A second way: the same wall without the layer in its middle."""
    there = np.array([[True, False, True]] * 3)
    with_gap, without = (
        made_up(MASS, THICK, BENDS, 0.3, there),
        made_up(*(v[:, [0, 2]] for v in (MASS, THICK, BENDS)), 0.3),
    )
    for name in ("mass", "thickness", "stiffness", "loop"):
        assert getattr(with_gap, name) == pytest.approx(getattr(without, name))
    nothing = made_up(MASS, THICK, BENDS, 0.0, np.zeros((3, 3), dtype=bool))
    assert not np.any(nothing.mass)
    assert not np.any(nothing.thickness)
    assert not np.any(nothing.loop)


def test_one_layer_keeps_its_own_bending_length_and_never_lies_flat() -> None:
    """Derived here: B = m g c3 turned round; contact not below what is asked for."""
    found = made_up([0.35], [6e-4], [0.04], 0.5, contact_least=0.002)
    assert float(found.loop) == pytest.approx(0.04)
    assert float(bending_length_of(0.35, stiffness_of(0.35, 0.04))) == pytest.approx(0.04)
    assert float(found.thickness) == 0.002
    with pytest.raises(ValueError, match="layer"):
        made_up(np.zeros((2, 0)), np.zeros((2, 0)), np.zeros((2, 0)))
