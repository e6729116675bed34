"""Resting on the seal, worked out by hand on a lid whose forces are set outright."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from loftwright.mechanics.feel import STATES, state
from loftwright.mechanics.figures import handle_height, latch_hold, lip_rise, resting_height, strap_needed

FRACTION = np.array([0.0, 0.02, 0.05, 0.5, 1.0])
LIP = np.array([[0.01, 0.02, 0.04, 0.5, 0.9]])


def roof_and_feel(pull: list[float], heat: str = "mild") -> tuple[SimpleNamespace, SimpleNamespace]:
    forces = np.full((len(STATES), 1, 5), 99.0)
    forces[state(heat, "new")] = pull  # type: ignore[arg-type]
    roof = SimpleNamespace(travel=SimpleNamespace(fraction=FRACTION), feet_z=np.array([-1.4]))
    felt = SimpleNamespace(
        pull_down=forces, lip=SimpleNamespace(z=LIP), hand=SimpleNamespace(z=np.array([[0.0, 0.1, 0.2, 0.5, 0.8]]))
    )
    return roof, felt


def test_it_rests_where_the_pull_turns() -> None:
    # From 30 N at a rise of 10 mm to -10 N at 30 mm: nought at 25 mm.
    found = resting_height(*roof_and_feel([50.0, 30.0, -10.0, -40.0, 60.0]))
    assert found == pytest.approx([0.025])


@pytest.mark.parametrize(
    "pull",
    [
        [-5.0, -10.0, -20.0, -40.0, 60.0],  # it falls shut
        [50.0, 40.0, 30.0, 10.0, 60.0],  # it rises all the way
        [50.0, 40.0, 30.0, -10.0, 60.0],  # it rises well past the seal
    ],
)
def test_on_its_stops_or_open_it_rests_on_no_seal(pull: list[float]) -> None:
    assert resting_height(*roof_and_feel(pull)).tolist() == [0.0]


def test_lip_handle_strap_and_latch() -> None:
    roof, felt = roof_and_feel([70.0, 1.0, 1.0, 1.0, 1.0], "sun")
    assert lip_rise(felt) == pytest.approx([0.89])
    assert handle_height(roof, felt) == pytest.approx([2.2])
    assert strap_needed(roof, felt, np.array([1.9, 2.5])) == pytest.approx([0.3, 0.0])
    assert latch_hold(felt).tolist() == [70.0]
    assert latch_hold(roof_and_feel([-3.0, 1.0, 1.0, 1.0, 1.0], "sun")[1]).tolist() == [0.0]
