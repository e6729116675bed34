"""Amounts from counts and lengths: exact constructed cases; standard lengths of bolts from memory."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import CutPiece, StockBar
from loftwright.core.trial_frame import Bar
from loftwright.plan.parts import line_of, merged
from loftwright.plan.quantities_of import (
    BoltedJoint,
    RivetedSeam,
    bar_parts,
    bead_volume,
    bolt_length,
    bolted,
    edge_area,
    primer_part,
    rivet_count,
    riveted,
    seal_part,
    sealant_part,
    timber_parts,
)
from loftwright.plan.stock_cutting import cut_from_stock
from loftwright.reference.bolts import BOLTS
from loftwright.reference.consumables import INCH_LENGTHS, METRIC_LENGTHS, NUT_HEIGHTS


@pytest.mark.parametrize(
    ("bolt", "grip_mm", "locking", "length_mm"),
    [
        # grip + two washers + nut + two threads, by hand
        ("M6", 8.0, True, 25.0),  # 8 + 3.2 + 8.0 + 2.0 = 21.2
        ("M6", 6.8, True, 20.0),  # 6.8 + 3.2 + 8.0 + 2.0 = 20.0 exactly
        ("M6", 6.9, True, 25.0),
        ("M8", 20.0, False, 35.0),  # 20 + 3.2 + 6.8 + 2.5 = 32.5
        ("1/4-20", 6.35, True, 22.225),  # 0.25 + 0.13 + 0.328 + 0.1 = 0.808 in: 7/8
    ],
)
def test_length_of_bolts(bolt: str, grip_mm: float, locking: bool, length_mm: float) -> None:
    assert bolt_length(bolt, grip_mm / 1000, locking=locking) * 1000 == pytest.approx(length_mm)


@pytest.mark.parametrize("name", BOLTS)
def test_every_bolt_reaches_through(name: str) -> None:
    size = BOLTS[name]
    sold = METRIC_LENGTHS if size.thread == "metric" else INCH_LENGTHS
    for grip in np.linspace(0.002, 0.12, 60):
        length = bolt_length(name, float(grip))
        beyond = length - grip - 2 * size.washer_thick - NUT_HEIGHTS[name][1]
        assert beyond >= 2 * size.pitch - 1e-9
        assert any(math.isclose(length, one) for one in sold)


def test_bolts_come_with_washers_and_nuts() -> None:
    joints = [
        BoltedJoint("hinges", "M6", "A2-70", 16, 0.008),
        BoltedJoint("latches", "M6", "A2-70", 8, 0.012),
        BoltedJoint("brackets", "M8", "8.8", 8, 0.01, wide=True, locking=False),
    ]
    parts = {part.name: part for part in merged(bolted(joints, "joints.count"))}
    assert parts["hexagon bolt M6 x 25 mm, A2-70"].quantity == 16
    assert parts["hexagon bolt M6 x 30 mm, A2-70"].quantity == 8
    assert parts["plain washer M6, to suit A2-70"].quantity == 48
    assert parts["self-locking nut M6, to suit A2-70"].quantity == 24
    assert parts["wide washer M8, to suit 8.8"].quantity == 16
    assert parts["nut M8, to suit 8.8"].quantity == 8
    # One in twenty over: 16.8 are 17.
    assert line_of(parts["hexagon bolt M6 x 25 mm, A2-70"]).amount == 17


def test_inch_bolts_are_named_in_inches_and_long_ones_are_rod() -> None:
    (bolt, *_) = bolted([BoltedJoint("hinges", "1/4-20", "grade 5", 4, 0.25 * 0.0254)], "")
    assert bolt.name == "hexagon bolt 1/4-20 x 7/8 in, grade 5"
    rod, _, nut = bolted([BoltedJoint("beam", "M8", "8.8", 2, 0.18)], "")
    assert rod.name.startswith("threaded rod M8")
    assert nut.quantity == 4
    with pytest.raises(Bug):
        bolt_length("M6", 0.0)


def test_rivets_by_pitch() -> None:
    assert rivet_count(1.0, 0.05) == 21
    assert rivet_count(1.01, 0.05, lines=2) == 44
    (part,) = riveted([RivetedSeam("sides", "4.0 x 10", 4.0, 0.04)], "seam")
    line = line_of(part)
    assert (part.quantity, line.needed, line.amount) == (101, 112, 150)
    with pytest.raises(Bug):
        rivet_count(1.0, 0.0)


def test_seal_sealant_and_primer() -> None:
    assert line_of(seal_part(7.2, "seal")).amount == 8.0  # 7.56 m
    beads = bead_volume([10.0, 4.0], 0.006)
    assert beads * 1e3 == pytest.approx([0.28274, 0.11310], rel=1e-4)
    sealant = line_of(sealant_part(float(beads.sum()), "seal"))
    assert (sealant.needed, sealant.packs) == (pytest.approx(0.47501, rel=1e-4), 2)
    bare = edge_area(7.2, 0.001)
    assert float(bare) == pytest.approx(7.2 * 0.041)
    primer = line_of(primer_part(float(bare), "cut"))
    assert primer.needed == pytest.approx(1.2 * 2 * 0.2952 / 8.0)
    assert (primer.packs, primer.amount) == (1, 0.25)


def test_bars_of_a_plan_and_of_the_timber_frame() -> None:
    plan = cut_from_stock([CutPiece(f"{i}", 1.9) for i in range(4)], [StockBar(2.0), StockBar(6.0)], 0.003)
    parts = bar_parts(plan, "L 40x40x4 steel", "frame", "ring")
    assert sum(part.quantity for part in parts) == len(plan.bars)
    assert {part.unit for part in parts} == {"pieces"}
    bars = [Bar(0.045, 0.095, 3.0, (("A", 2.0),), 1.0)] * 3 + [Bar(0.022, 0.095, 2.4, (("B", 2.0),), 0.4)]
    timber = {part.name: part.quantity for part in timber_parts(bars, "trial frame")}
    assert timber == {"softwood 45 x 95 mm, bar of 3 m": 3.0, "softwood 22 x 95 mm, bar of 2.4 m": 1.0}
