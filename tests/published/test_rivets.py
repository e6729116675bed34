"""Blind rivets of aluminium with a steel pin against ISO 15977: least shear and pull. All figures from memory."""

from __future__ import annotations

import pytest

from loftwright.reference.rivets import RIVETS, rivet_nut


@pytest.mark.parametrize(
    ("size", "low", "high"),
    [("3.2", (500, 700), (750, 1100)), ("4.0", (850, 1200), (1250, 1800)), ("4.8", (1200, 1700), (1850, 2600))],
)
def test_least_loads(size: str, low: tuple[float, float], high: tuple[float, float]) -> None:
    weak, strong = (RIVETS[f"{size} mm, class {grade}"] for grade in "LH")
    assert (weak.shear, weak.pull) == low
    assert (strong.shear, strong.pull) == high
    assert weak.hole == pytest.approx(float(size) / 1000 + 0.0001)


def test_rivet_nuts_come_from_the_builder() -> None:
    assert not [name for name in RIVETS if "nut" in name]
    assert rivet_nut("M6 nut", "rivet nut", 0.006, 0.009, 0.013, 2000.0, 3000.0).pull == 3000.0
    with pytest.raises(ValueError, match="as the maker tested"):
        rivet_nut("M6 nut", "rivet nut", 0.006, 0.009, 0.013, 0.0, 3000.0)
