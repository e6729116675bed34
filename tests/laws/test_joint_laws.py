"""What holds for every bolted joint: loads and bolt forces balance, mirror images, proportion to the load."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.reference.bolts import BOLTS, CLASSES
from loftwright.reference.sheets import SHEETS
from loftwright.strength.bolt_groups import bolt_forces
from loftwright.strength.joint_judged import use_of
from loftwright.strength.joint_places import rectangle
from loftwright.strength.joints import Backing, Joint, Layer, to_plate

RNG = np.random.default_rng(5)
FORCE = RNG.normal(size=(40, 3)) * 500
MOMENT = RNG.normal(size=(40, 3)) * 20
HOLES = np.array([(0.01, 0.02), (0.07, 0.015), (0.02, 0.08), (0.075, 0.09), (0.04, 0.05)])

JOINT = Joint(
    "hinge",
    rectangle(2, 2, 0.06, 0.04),
    BOLTS["M8"],
    CLASSES["8.8"],
    (
        Layer(SHEETS["S235 steel"], 0.004, 0.020),
        Layer(SHEETS["glass mat laminate"], np.linspace(0.003, 0.005, 40), 0.040, reach=0.10),
    ),
    overhang=0.015,
    backing=Backing(0.09, 0.07, 0.003, SHEETS["S235 steel"]),
)


def test_reactions_balance_in_the_plane() -> None:
    found = bolt_forces(HOLES, FORCE, MOMENT, edge=0.02)
    assert found.x.sum(axis=-1) == pytest.approx(FORCE[:, 0])
    assert found.y.sum(axis=-1) == pytest.approx(FORCE[:, 1])
    turn = (HOLES[:, 0] * found.y - HOLES[:, 1] * found.x).sum(axis=-1)
    assert turn == pytest.approx(MOMENT[:, 2])


def test_pull_and_pressing_balance() -> None:
    found = bolt_forces(HOLES, FORCE, MOMENT, edge=0.02)
    assert found.pull.sum(axis=-1) - found.pressed == pytest.approx(FORCE[:, 2])
    assert found.pull.min() >= 0.0
    assert found.pressed.min() >= -1e-9


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_a_tilting_moment_is_held_about_the_pressing_line(sign: float) -> None:
    found = bolt_forces(HOLES, [0, 0, 0], [sign * 10, 0, 0], edge=0.02)
    y = HOLES[:, 1]
    line = y.min() - 0.01 if sign > 0 else y.max() + 0.01
    assert (found.pull * (y - line)).sum() == pytest.approx(sign * 10)


def test_mirror_image() -> None:
    flipped = bolt_forces(HOLES * [1, -1], FORCE * [1, -1, 1], MOMENT * [-1, 1, -1], edge=0.02)
    found = bolt_forces(HOLES, FORCE, MOMENT, edge=0.02)
    assert flipped.shear == pytest.approx(found.shear)
    assert flipped.pull == pytest.approx(found.pull)


def test_place_of_the_origin_does_not_matter() -> None:
    shift = np.array([0.3, -0.2])
    arm = np.array([*shift, 0.0])
    moved = bolt_forces(HOLES + shift, FORCE, MOMENT + np.cross(arm, FORCE), edge=0.02)
    found = bolt_forces(HOLES, FORCE, MOMENT, edge=0.02)
    assert moved.shear == pytest.approx(found.shear)
    assert moved.pull == pytest.approx(found.pull)


def test_twice_the_load_is_twice_used() -> None:
    once, twice = (use_of(JOINT, k * FORCE, k * MOMENT) for k in (1.0, 2.0))
    assert twice.use == pytest.approx(2 * once.use)
    assert use_of(JOINT, once.load_factor[:, None] * FORCE, once.load_factor[:, None] * MOMENT).use == pytest.approx(
        np.ones(40)
    )


def test_rows_do_not_mix() -> None:
    thick = np.asarray(JOINT.layers[1].thickness)
    for row in (0, 17, 39):
        laminate = Layer(JOINT.layers[1].sheet, float(thick[row]), 0.040, reach=0.10)
        alone = Joint(
            "hinge", JOINT.points, JOINT.bolt, JOINT.grade, (JOINT.layers[0], laminate), 0.015, None, JOINT.backing
        )
        assert use_of(alone, FORCE[row], MOMENT[row]).use == pytest.approx(use_of(JOINT, FORCE, MOMENT).use[row])


def test_a_turned_plate_carries_the_same() -> None:
    turned = Joint("hinge", JOINT.points, JOINT.bolt, JOINT.grade, JOINT.layers, axes=((0, 1, 0), (0, 0, 1), (1, 0, 0)))
    assert to_plate(turned, [1.0, 2.0, 3.0]).tolist() == [2.0, 3.0, 1.0]
    assert np.linalg.norm(to_plate(turned, FORCE), axis=-1) == pytest.approx(np.linalg.norm(FORCE, axis=-1))
