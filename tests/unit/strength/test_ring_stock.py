"""Stock sections set side by side, and the pieces of one ring."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.reference.sections import STOCK_SECTIONS
from loftwright.strength.ring_response import respond
from loftwright.strength.ring_stock import StockRow, ring_mass, ring_pieces, stock_table
from tests.unit.strength.rings import HINGES, ring, roof, stock

FORCE = np.array([[-100.0, 0.0, -400.0]] * 2)
HEIGHT = np.array([0.05, 0.05])


@pytest.fixture(scope="module")
def rows() -> tuple[StockRow, ...]:
    """Return the whole table."""
    return stock_table(roof(), HINGES, FORCE, HEIGHT)


def test_every_bar_is_there_stiffest_first(rows: tuple[StockRow, ...]) -> None:
    assert {row.stock for row in rows} == set(STOCK_SECTIONS)
    kept = [row.kept for row in rows]
    assert kept == sorted(kept, reverse=True)
    assert all(row.racking is None for row in rows)


def test_a_ring_gives_back_something(rows: tuple[StockRow, ...]) -> None:
    assert all(row.given_back is not None and row.given_back > 0 for row in rows)


def test_same_size_in_steel_and_aluminium(rows: tuple[StockRow, ...]) -> None:
    by_name = {row.stock.name: row for row in rows}
    steel, alloy = by_name["tube 30x30x2 steel"], by_name["tube 30x30x2 aluminium"]
    assert steel.kept > alloy.kept
    assert steel.dip < alloy.dip
    assert alloy.mass == pytest.approx(steel.mass * 2700 / 7850)


def test_table_agrees_with_one_ring(rows: tuple[StockRow, ...]) -> None:
    row = next(row for row in rows if row.stock.name == "L 40x40x4 steel")
    one = respond(ring("L 40x40x4 steel", roof()), FORCE[None], HEIGHT[None], np.zeros(1))
    assert (row.dip, row.tilt, row.use * 235e6) == pytest.approx((one.dip[0], one.tilt[0], one.stress[0]), rel=1e-6)


def test_own_bars_and_uncut_bows() -> None:
    found = stock_table(roof(bows=()), HINGES, FORCE, HEIGHT, stock=(stock("tube 25x25x2 steel"),))
    assert len(found) == 1
    assert found[0].given_back is None
    assert found[0].kept > 1


def test_pieces_of_a_mitred_ring() -> None:
    """Round the outside of a 40 mm angle: 2.08 and 1.28 m, all ends at 45 degrees."""
    long, short, plate = ring_pieces(roof(), stock("L 40x40x4 steel"))
    assert (long.length, long.count, short.length, short.count, plate.count) == pytest.approx((2.08, 2, 1.28, 2, 4))
    assert long.mitre == short.mitre == pytest.approx(np.pi / 4)
    assert plate.length == pytest.approx(0.04 + 0.08 + 0.1)


def test_pieces_cut_square() -> None:
    long, short, _ = ring_pieces(roof(), stock("L 40x40x4 steel"), joint="square")
    assert (long.length, short.length, long.mitre) == pytest.approx((1.84, 1.04, 0.0))


def test_mass_by_the_table() -> None:
    """The table of rolled angles (EN 10056-1, from memory) has 2.42 kg/m for 40 x 40 x 4; fillets are 1 % of it."""
    assert ring_mass(roof(), stock("L 40x40x4 steel")) == pytest.approx(2.42 * 6.72, rel=0.02)
