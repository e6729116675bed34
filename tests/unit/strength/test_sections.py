"""Section properties: exact cases, and building up from parts."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.reference.metals import METALS
from loftwright.reference.sections import STOCK_SECTIONS
from loftwright.strength.sections import (
    angle,
    channel,
    flat,
    joined,
    mirrored,
    moved,
    polygon,
    round_tube,
    section_of,
    tee,
    tube,
)


def test_triangle() -> None:
    """b h^3 / 36, b^2 h^2 / 72 for a right triangle: exact."""
    b, h = 3.0, 2.0
    found = polygon([(1, 1), (1 + b, 1), (1, 1 + h)])
    assert found == pytest.approx((3.0, 2.0, 1 + h / 3, b * h**3 / 36, h * b**3 / 36, -(b**2) * h**2 / 72))


def test_direction_does_not_matter() -> None:
    points = [(0.0, 0.0), (4, 1), (3, 5), (1, 3)]
    assert polygon(points) == pytest.approx(polygon(points[::-1]))


def test_nothing_enclosed() -> None:
    with pytest.raises(ValueError, match="encloses nothing"):
        polygon([(0, 0), (1, 1), (2, 2)])


@pytest.mark.parametrize(
    "make",
    [
        lambda: tube(0.02, 0.02, 0.01),
        lambda: angle(0.03, 0.03, 0.0),
        lambda: flat(-0.01, 0.01),
        lambda: channel(0.01, 0.03, 0.005),
        lambda: tee(0.02, 0.004, 0.004),
        lambda: round_tube(0.02, 0.01),
    ],
)
def test_sizes_that_make_no_section(make: object) -> None:
    with pytest.raises(ValueError, match="sizes of a section"):
        make()  # type: ignore[operator]


def test_channel_is_box_less_box() -> None:
    found = channel(0.04, 0.02, 0.003)
    assert found.area == pytest.approx(0.04 * 0.02 - 0.034 * 0.017)
    assert found.ixy == pytest.approx(0.0, abs=1e-18)
    assert found.iy == pytest.approx((0.02 * 0.04**3 - 0.017 * 0.034**3) / 12)


def test_tee_from_two_flats() -> None:
    whole = tee(0.03, 0.03, 0.004)
    parts = joined(flat(0.03, 0.004), moved(flat(0.004, 0.026), 0.013, 0.004))
    assert (whole.area, whole.y, whole.ix, whole.iy) == pytest.approx((parts.area, parts.y, parts.ix, parts.iy))


def test_two_angles_side_by_side() -> None:
    """Back to back 5 mm apart: ix twice one, iy by the parallel axis, no product of inertia."""
    one = angle(0.04, 0.04, 0.003)
    left = moved(mirrored(one, across=True), -0.0025, 0.0)
    pair = joined(moved(one, 0.0025, 0.0), left)
    assert pair.ix == pytest.approx(2 * one.ix)
    assert pair.iy == pytest.approx(2 * (one.iy + one.area * (one.x + 0.0025) ** 2))
    assert pair.ixy == pytest.approx(0.0, abs=1e-20)
    assert pair.torsion == pytest.approx(2 * one.torsion)
    assert pair.torsion_modulus == pytest.approx(2 * one.torsion_modulus)


def test_skin_of_another_metal_counts_by_its_modulus() -> None:
    bar = section_of(next(s for s in STOCK_SECTIONS if s.name == "L 40x40x4 aluminium"))
    skin = moved(flat(0.024, 0.0008), float(bar.outline[:, 0].min()), float(bar.outline[:, 1].max()))
    one, three = (joined(bar, skin, ratio=n) for n in (1.0, 3.0))
    assert bar.ix < one.ix < three.ix
    assert three.area - bar.area == pytest.approx(3 * (one.area - bar.area))
    assert one.y > bar.y


def test_mirror_images() -> None:
    one = angle(0.05, 0.03, 0.003)
    upside = mirrored(one, up=True)
    assert (upside.y, upside.ixy, upside.ix) == pytest.approx((-one.y, -one.ixy, one.ix))
    assert upside.tilt == pytest.approx(-one.tilt)


def test_principal_axes_have_no_product() -> None:
    part = angle(0.05, 0.03, 0.003)
    turn = np.array([[np.cos(part.tilt), np.sin(part.tilt)], [-np.sin(part.tilt), np.cos(part.tilt)]])
    # Second moments about axes: [ix, -ixy; -ixy, iy].
    turned = turn @ np.array([[part.ix, -part.ixy], [-part.ixy, part.iy]]) @ turn.T
    assert turned[0, 0] == pytest.approx(part.principal[0])
    assert turned[0, 1] == pytest.approx(0.0, abs=1e-6 * part.ix)


def test_stock_is_whole() -> None:
    assert len({stock.name for stock in STOCK_SECTIONS}) == len(STOCK_SECTIONS)
    for stock in STOCK_SECTIONS:
        found = section_of(stock)
        assert stock.metal in METALS
        assert 0 < stock.price_low < stock.price_high
        size = found.outline.max(axis=0) - found.outline.min(axis=0)
        assert size == pytest.approx((stock.across, stock.deep))


def test_an_angle_in_the_ring_has_its_lying_leg_on_top() -> None:
    found = section_of(next(s for s in STOCK_SECTIONS if s.name == "L 30x50x3 steel"))
    assert found.outline[:, 1].max() - found.y < found.y - found.outline[:, 1].min()
    # The standing leg is towards the inside, +x.
    assert found.outline[:, 0].max() - found.x < found.x - found.outline[:, 0].min()
