"""The list of holes: every hole once, with its torque, its edge and what goes on the cut metal."""

from __future__ import annotations

from dataclasses import replace

import pytest

from loftwright.reference.bolts import BOLTS, CLASSES
from loftwright.reference.rivets import RIVETS
from loftwright.reference.sheets import SHEETS
from loftwright.strength.hole_schedule import crosswise, joint_rows, schedule, seam_rows
from loftwright.strength.joint_places import rectangle
from loftwright.strength.joints import Backing, Joint, Layer
from loftwright.strength.seams import Seam

STEEL = Layer(SHEETS["S235 steel"], 0.004, 0.020)
SKIN = Layer(SHEETS["roof steel"], 0.0008, 0.011)
JOINT = Joint("latch", rectangle(2, 2, 0.04, 0.03), BOLTS["M8"], CLASSES["8.8"], (STEEL, SKIN), 0.010)
SEAM = Seam("ring to skin", (SKIN, STEEL), 1.0, RIVETS["4.0 mm, class H"], 0.050)


def test_torque_is_that_of_the_formula() -> None:
    """K d F with 0.2, 8 mm and 75 % of 580 MPa on 36.6 mm2, by hand: 25.5 N m."""
    rows = joint_rows(JOINT)
    assert [row.number for row in rows] == [1, 2, 3, 4]
    assert rows[0].torque == pytest.approx(0.2 * 0.008 * 0.75 * 580e6 * 36.6e-6, rel=1e-3)
    assert rows[0].hole == pytest.approx(0.009)


def test_soft_layers_are_tightened_less() -> None:
    laminate = Layer(SHEETS["glass mat laminate"], 0.003, 0.030)
    soft = joint_rows(replace(JOINT, layers=(STEEL, laminate)))[0]
    hard = joint_rows(JOINT)[0]
    assert soft.torque is not None
    assert hard.torque is not None
    assert soft.torque < 0.5 * hard.torque


def test_the_nearest_edge_is_told() -> None:
    row = joint_rows(JOINT)[0]
    assert (row.edge, row.edge_least) == pytest.approx((0.011, 0.012))
    assert not row.edge_enough
    assert joint_rows(replace(JOINT, layers=(STEEL, replace(SKIN, edge=0.03))))[0].edge_enough


def test_words_name_what_is_there() -> None:
    row = joint_rows(JOINT)[0]
    assert "zinc primer" in row.primer
    assert "16 mm under the head" in row.washer
    plate = replace(JOINT, backing=Backing(0.06, 0.05, 0.003, SHEETS["S235 steel"]), washers=(0.016, 0.024))
    assert "backing plate 60 x 50 x 3 mm" in joint_rows(plate)[0].washer


def test_tightened_crosswise() -> None:
    assert crosswise(rectangle(2, 2, 0.04, 0.03)) == (1, 4, 3, 2)
    assert crosswise([(0.0, 0.0)]) == (1,)
    assert sorted(crosswise(rectangle(3, 2, 0.04, 0.03))) == [1, 2, 3, 4, 5, 6]


def test_every_rivet_once() -> None:
    rows = seam_rows(SEAM)
    assert len(rows) == SEAM.count == 21
    assert sorted(row.order for row in rows) == list(range(1, 22))
    assert [row.x for row in sorted(rows, key=lambda row: row.order)[:3]] == pytest.approx([0.0, 0.2, 0.4])
    assert {row.torque for row in rows} == {None}
    double = seam_rows(replace(SEAM, lines=2))
    assert len(double) == 42
    assert {row.y for row in double} == {0.0, 1.0}


def test_whole_list_keeps_the_order_given() -> None:
    rows = schedule([SEAM, JOINT, replace(SEAM, rivet=None, glue_width=0.02)])
    assert [row.joint for row in rows] == ["ring to skin"] * 21 + ["latch"] * 4
