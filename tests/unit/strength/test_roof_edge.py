"""One weight on the whole roof: what it says of skin and bows."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.frame import Frame, Stiffness, solve
from loftwright.strength.roof_edge import (
    MOST_BOW,
    MOST_FACTOR,
    bow_with_skin,
    edge_factor,
    flat_dip,
    plate_stiffness,
)

WEIGHT = 20 * 9.80665


def test_flat_dip_is_that_of_a_great_clamped_disc() -> None:
    """Exact case, Timoshenko's clamped disc with a force off its middle (from memory), for a radius of 1 km."""
    radius, edge, stiffness = 1000.0, 0.12, 9.85
    b = radius - edge
    disc = WEIGHT * (radius**2 - b**2) ** 2 / (16 * np.pi * stiffness * radius**2)
    assert flat_dip(WEIGHT, edge, stiffness) == pytest.approx(disc, rel=2e-4)


def test_flat_dip_by_sums() -> None:
    """Second way: a strip of plate built in along one edge, by sines along it and exact bending across, summed.

    Along a period 2 S the force is a sum of cos(n pi x / S); each wave bends across as (a + b y) e^(-m y) beyond the
    force and with both exponentials before it.
    """
    edge, stiffness, reach = 0.12, 9.85, 15.0
    m = np.arange(1, 20000) * np.pi / reach
    # Green's function of (d2/dy2 - m2)^2 on a half line built in at nought, at the force's own place.
    a = m * edge
    own = (1 - np.exp(-2 * a) * (1 + 2 * a + 2 * a**2)) / (4 * m**3)
    # The even part, m = 0, is a cantilever.
    dip = WEIGHT / stiffness * (own.sum() / reach + edge**3 / 3 / (2 * reach))
    assert flat_dip(WEIGHT, edge, stiffness) == pytest.approx(dip, rel=1e-3)


def test_a_flat_roof_has_no_more_than_its_flat_skin() -> None:
    flat = flat_dip(WEIGHT, 0.12, plate_stiffness(210e9, 0.0008))
    assert plate_stiffness(210e9, 0.0008) == pytest.approx(210e9 * 0.0008**3 / 10.92)
    dips = np.array([2.0, 1.0, 0.2, 1e-9]) * flat
    assert edge_factor(dips, 0.12, 210e9, 0.0008) == pytest.approx([1.0, 1.0, 5.0, MOST_FACTOR])


def test_a_bow_is_found_from_its_dip() -> None:
    """Second way: the frame solver loads a built-in beam of the stiffness found and gives back the dip."""
    found = float(bow_with_skin(0.0011, 1.6, 1800.0))
    joints = np.array([[0.0, 0.0, 0.0], [0.8, 0.0, 0.0], [1.6, 0.0, 0.0]])
    frame = Frame(joints, np.array([[0, 1], [1, 2]]), np.tile([0.0, 0.0, 1.0], (2, 1)))
    one = np.ones(2)
    loads, held = np.zeros((1, 3, 6)), np.zeros((3, 6), dtype=np.bool_)
    loads[0, 1, 2] = -WEIGHT
    held[[0, 2]] = True
    moved = solve(frame, Stiffness(1e7 * one, found * one, found * one, 0 * one, one), loads, held).moved
    assert moved[0, 1, 2] == pytest.approx(-0.0011)
    assert bow_with_skin(np.array([1.0, 1e-9]), 1.6, 1800.0) == pytest.approx([1800.0, 1800.0 * MOST_BOW])
