"""Bars that shops keep, by their plain sizes, with what a metre costs.

Sizes follow the usual metric and inch series, angles of 25 mm and more EN 10056-1, tubes EN 10219-2, from memory;
sharp corners. Prices are wide judgement ranges in whole units of a
strong currency, cut to length and bought singly; they serve only to set one bar against another. A builder
adds bars of their own as further rows.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

Kind = Literal["angle", "flat", "channel", "tube", "round tube", "tee"]


@dataclass(frozen=True, slots=True)
class StockSection:
    """One bar: its `kind`, `across` lying and `deep` standing [m], wall `thick` [m], metal and price [price/m].

    A flat has its thickness in `deep`; a round tube has its diameter in both.
    """

    name: str
    kind: Kind
    across: float
    deep: float
    thick: float
    metal: str
    price_low: float
    price_high: float


_MM, _IN = 0.001, 0.0254


def _metric(kind: Kind, across: float, deep: float, thick: float, metal: str, low: float, high: float) -> StockSection:
    word = {"angle": "L", "flat": "flat", "channel": "U", "tube": "tube", "round tube": "round", "tee": "T"}[kind]
    size = f"{across:g}" if kind == "round tube" else f"{across:g}x{deep:g}"
    size = size if kind == "flat" else f"{size}x{thick:g}"
    name = f"{word} {size} {'steel' if metal == 'S235' else 'aluminium'}"
    return StockSection(name, kind, across * _MM, deep * _MM, thick * _MM, metal, low, high)


STOCK_SECTIONS: Final[tuple[StockSection, ...]] = (
    _metric("flat", 40, 5, 5, "S235", 2.5, 6),
    _metric("flat", 50, 6, 6, "S235", 3.5, 8),
    _metric("angle", 25, 25, 3, "S235", 2, 5),
    _metric("angle", 30, 30, 3, "S235", 2.5, 6),
    _metric("angle", 40, 40, 3, "S235", 3.5, 8),
    _metric("angle", 40, 40, 4, "S235", 4, 9),
    _metric("angle", 50, 50, 5, "S235", 6, 14),
    _metric("angle", 30, 50, 3, "S235", 4, 9),
    _metric("tube", 20, 20, 2, "S235", 2.5, 6),
    _metric("tube", 25, 25, 2, "S235", 3, 7),
    _metric("tube", 30, 30, 2, "S235", 3.5, 8),
    _metric("tube", 40, 20, 2, "S235", 3.5, 8),
    _metric("tube", 30, 50, 3, "S235", 6, 14),
    _metric("channel", 40, 20, 3, "S235", 4, 9),
    _metric("tee", 30, 30, 4, "S235", 4, 9),
    _metric("angle", 30, 30, 3, "6060-T66", 4, 10),
    _metric("angle", 40, 40, 4, "6060-T66", 6, 15),
    _metric("angle", 50, 50, 5, "6060-T66", 9, 22),
    _metric("angle", 30, 50, 3, "6060-T66", 5, 13),
    _metric("tube", 25, 25, 2, "6060-T66", 5, 12),
    _metric("tube", 30, 30, 2, "6060-T66", 6, 14),
    _metric("tube", 40, 20, 2, "6060-T66", 6, 14),
    _metric("tube", 30, 50, 3, "6060-T66", 10, 24),
    _metric("round tube", 25, 25, 2, "6060-T66", 5, 12),
    _metric("channel", 40, 40, 4, "6060-T66", 9, 20),
    StockSection("L 1-1/2x1-1/2x1/8 in steel", "angle", 1.5 * _IN, 1.5 * _IN, _IN / 8, "S235", 3, 9),
    StockSection("L 2x2x1/8 in steel", "angle", 2 * _IN, 2 * _IN, _IN / 8, "S235", 4, 12),
    StockSection("tube 1x1x0.065 in steel", "tube", _IN, _IN, 0.065 * _IN, "S235", 3, 9),
    StockSection("L 1-1/2x1-1/2x1/8 in aluminium", "angle", 1.5 * _IN, 1.5 * _IN, _IN / 8, "6061-T6", 6, 18),
    StockSection("L 2x2x1/4 in aluminium", "angle", 2 * _IN, 2 * _IN, _IN / 4, "6061-T6", 14, 36),
)
"""What is set side by side in the table of rings. Inch steel is reckoned as S235."""
