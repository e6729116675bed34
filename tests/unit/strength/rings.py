"""A roof to put rings round, for tests."""

from __future__ import annotations

from loftwright.reference.metals import METALS
from loftwright.reference.sections import STOCK_SECTIONS, StockSection
from loftwright.strength.ring import Influence, ring_influence
from loftwright.strength.ring_roof import Bow, Roof
from loftwright.strength.sections import section_of

HINGES = ((0.0, 0.4), (0.0, -0.4))


def bow(x: float, *, cut: bool = True, tied: bool = True) -> Bow:
    """Return a bow of a pressed hat of thin sheet."""
    return Bow(x, 210e9 * 1.2e-8, 210e9 * 1e-4, 81e9 * 5e-11, cut, tied)


def roof(
    *, radius: float = 0.08, cut: bool = True, tied: bool = True, bows: tuple[float, ...] = (0.5, 1.0, 1.5)
) -> Roof:
    """Return an opening of 2.0 by 1.2 m in a roof of 0.8 mm sheet."""
    return Roof(2.0, 1.2, radius, 0.2, 0.0008, 210e9, tuple(bow(x, cut=cut, tied=tied) for x in bows))


def stock(name: str) -> StockSection:
    """Return a bar of the table by its name."""
    return next(s for s in STOCK_SECTIONS if s.name == name)


def ring(name: str, on: Roof, points: tuple[tuple[float, float], ...] = HINGES) -> Influence:
    """Return a ring of a stock bar."""
    bar = stock(name)
    metal = METALS[bar.metal]
    return ring_influence(on, section_of(bar), metal.young, metal.shear, points)
