"""Bolt groups: what cannot be held is refused, and the plain cases."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.bolt_groups import bolt_forces, clamped, in_plane, tilting


def test_one_bolt_holds_no_twist() -> None:
    assert in_plane([(0.1, 0.2)], 3.0, 4.0, 0.1 * 4.0 - 0.2 * 3.0)[0].tolist() == [3.0]
    with pytest.raises(ValueError, match="second hole"):
        in_plane([(0.1, 0.2)], 0.0, 0.0, 1.0)


def test_bolts_in_one_line_need_a_plate_beyond_them() -> None:
    row = [(0.0, 0.0), (0.1, 0.0)]
    with pytest.raises(ValueError, match="one line"):
        bolt_forces(row, [0, 0, 0], [1, 0, 0])
    with pytest.raises(ValueError, match="both ways"):
        clamped(row, 0.0, 1.0, 0.0)
    assert bolt_forces(row, [0, 0, 0], [1, 0, 0], edge=0.02).pull == pytest.approx([50.0, 50.0])


def test_points_are_pairs() -> None:
    with pytest.raises(ValueError, match="pairs"):
        in_plane([1.0, 2.0], 0.0, 0.0, 0.0)


def test_a_push_pulls_no_bolt() -> None:
    found = bolt_forces([(0, 0), (0.1, 0)], [0, 0, -100.0], [0, 5.0, 0], edge=0.02)
    assert found.pressed == pytest.approx(100.0)
    assert found.pull == pytest.approx(0.0)


def test_clamped_pulls_at_least_as_hard_as_a_pressed_edge() -> None:
    holes = [(0, 0), (0.06, 0), (0, 0.04), (0.06, 0.04)]
    edge = bolt_forces(holes, [0, 0, 0], [7.0, 0, 0], edge=0.01).pull
    assert edge.max() <= clamped(holes, 0.0, 7.0, 0.0).max()


def test_the_heel_further_out_helps() -> None:
    pulls = [float(tilting([0.0, 0.04], 5.0, 0.02, share).max()) for share in (0.0, 0.5, 1.0)]
    assert pulls == sorted(pulls, reverse=True)
    assert np.ptp(pulls) > 0.0
