"""A strip of cloth under pressure, on cases that come out by hand. Computed here from first principles."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from loftwright.strength.cloth_tension import (
    PARTS,
    Holding,
    Panel,
    cloth_pull,
    edge_tension,
    gusts_at_limit,
    pressure_at,
    sag,
    strengths,
    tension,
    weakest,
)
from loftwright.strength.raised_shape import RaisedShape
from loftwright.strength.wind import velocity_pressure


def panel(slack: float = 0.01, *, span: float = 0.9, stiffness: float = 1e5) -> Panel:
    return Panel(np.array(span), np.array(slack), np.array(stiffness))


def holding(**given: float) -> Holding:
    whole = {"cloth": 20e3, "seam": 0.7, "staple": 90.0, "staple_pitch": 0.05, "screw": 500.0, "screw_pitch": 0.15}
    return Holding(**{name: np.array(value) for name, value in (whole | {"film": 8e3} | given).items()})


def of_sag(pressure: float, span: float, sagging: np.ndarray) -> np.ndarray:
    """Return the pull of a flexible cable under an even load: p L^2 / (8 s)."""
    return np.asarray(pressure * span**2 / (8.0 * sagging))


def test_a_cloth_that_does_not_stretch_keeps_the_sag_of_its_slack() -> None:
    stiff = panel(0.02, stiffness=1e12)
    u = math.sqrt(3 * 0.02 / 8)
    assert float(sag(stiff, 300.0)) == pytest.approx(0.9 * u, rel=1e-6)
    # T by (3) is a small difference of a huge stiffness; that by the sag is sure.
    assert float(of_sag(300.0, 0.9, sag(stiff, 300.0))) == pytest.approx(300 * 0.9 / (8 * u), rel=1e-6)


def test_a_flat_cloth_sags_with_the_cube_root_of_pressure() -> None:
    flat = panel(0.0)
    ratio = sag(flat, 800.0) / sag(flat, 100.0)
    assert float(ratio) == pytest.approx(2.0)
    assert float(tension(flat, 800.0) / tension(flat, 100.0)) == pytest.approx(4.0)


def test_sag_and_tension_agree_both_ways() -> None:
    for slack in (-0.002, 0.0, 0.005, 0.03):
        cloth = panel(slack)
        assert float(tension(cloth, 400.0)) == pytest.approx(float(of_sag(400.0, 0.9, sag(cloth, 400.0))), rel=1e-9)


def test_still_air() -> None:
    assert float(tension(panel(0.02), 0.0)) == pytest.approx(0.0, abs=1e-9)
    assert float(tension(panel(0.0), 0.0)) == pytest.approx(0.0, abs=1e-9)
    # Stretched by a thousandth: k e / (1 - e).
    assert float(tension(panel(-0.001), 0.0)) == pytest.approx(1e5 * 0.001 / 0.999)


def test_which_way_the_wind_pushes_does_not_matter() -> None:
    assert float(tension(panel(), -250.0)) == float(tension(panel(), 250.0))


@pytest.mark.parametrize("slack", [-0.001, 0.0, 0.01, 0.03])
def test_the_pressure_at_a_limit_brings_that_limit(slack: float) -> None:
    cloth = panel(slack)
    limits = np.array([500.0, 2000.0, 9000.0])
    assert edge_tension(cloth, pressure_at(cloth, limits)) == pytest.approx(limits, rel=1e-9)


def test_a_cloth_stretched_beyond_its_limit_has_no_wind_left() -> None:
    assert float(pressure_at(panel(-0.01), 500.0)) == 0.0


def test_strengths_by_hand() -> None:
    found = strengths(holding(aged=0.5, uneven=2.0))
    assert tuple(found) == PARTS
    assert {name: float(value) for name, value in found.items()} == pytest.approx(
        {"cloth": 5000.0, "seam": 3500.0, "staples": 900.0, "strip screws": 500 / 0.3, "window film": 2000.0}
    )
    assert tuple(strengths(Holding(np.array(1e4)))) == ("cloth",)


def test_the_weakest_goes_first_and_safety_lowers_every_gust() -> None:
    gusts = gusts_at_limit(panel(), holding(), 1.3)
    names, which, first = weakest(gusts)
    assert names[int(which)] == "staples"
    assert float(first) == float(gusts["staples"])
    safer = gusts_at_limit(panel(), replace(holding(), safety=4.0), 1.3)
    assert all(safer[name] < gusts[name] for name in names)
    # At that gust the staples hold exactly what is allowed.
    pressure = 1.3 * velocity_pressure(gusts["staples"])
    assert float(edge_tension(panel(), pressure)) == pytest.approx(float(strengths(holding())["staples"]) / 2)


def test_rows() -> None:
    rows = Panel(np.array([0.5, 0.9]), np.array([0.01, 0.02]), np.array([1e5, 6e4]))
    gusts = gusts_at_limit(rows, holding(), np.array([1.0, 1.6]))
    assert {value.shape for value in gusts.values()} == {(2,)}
    _, which, first = weakest(gusts)
    assert which.shape == first.shape == (2,)


def test_taut_walls_of_a_box_pull_straight_down() -> None:
    numbers = (0.0, 2.0, 1.0, 0.0, 0.5, 2.0, 1.0, 0.1, 0.0, 0.0, 0.0, 2.0)
    shape = RaisedShape(*(np.array(v) for v in numbers))
    found = cloth_pull(shape, np.full(4, 100.0))
    assert found == pytest.approx([0.0, 0.0, -600.0, 0.0, 600.0, 0.0])
    closed = replace(shape, shell_z=np.array(0.0))
    assert cloth_pull(closed, np.full(4, 100.0)) == pytest.approx(np.zeros(6))
