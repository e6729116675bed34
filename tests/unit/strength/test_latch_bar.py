"""How latches share what pulls at a bar, and points what rests on a shell: exact cases."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.errors import Bug
from loftwright.strength.latch_bar import Bar, bar_shares, point_shares


def bar(*at: float, bending: float, latch: float = 1e6, roll: float = 1e-3, width: float = 1.4) -> Bar:
    return Bar(at, *(np.array(value) for value in (width, bending, latch, roll)))


def test_a_stiff_bar_shares_equally() -> None:
    # Exact: a rigid bar on three equal springs under a load in the middle.
    assert bar_shares(bar(-0.6, 0.0, 0.6, bending=1e12)).share == pytest.approx([1 / 3] * 3, rel=1e-6)


def test_a_limp_bar_is_a_continuous_beam() -> None:
    # Exact: two equal spans over three rigid supports, 3/8, 10/8, 3/8 of one span's load.
    shares = bar_shares(bar(-0.7, 0.0, 0.7, bending=1e-3)).share
    assert shares == pytest.approx([3 / 16, 10 / 16, 3 / 16], rel=1e-6)


def test_bending_of_a_bar_on_its_two_ends() -> None:
    # Exact: 5 w L^4 / (384 E I) above its ends, with w L = 1 and ends of 1 MN/m that give half a micrometre each.
    found = bar_shares(bar(-0.7, 0.7, bending=500.0))
    assert found.rise.max() == pytest.approx(5 * 1.4**3 / (384 * 500.0) + 0.5e-6, rel=1e-9)


def test_a_single_latch_leaves_the_levelling_to_the_hinges() -> None:
    # Exact: the latch takes the force, the hinges the couple of force times its distance from the middle.
    found = bar_shares(bar(-0.5, 0.5, bending=800.0, roll=2e4), lost=0)
    assert found.share == pytest.approx([0.0, 1.0])
    assert abs(float(found.roll)) == pytest.approx(0.5)


def test_the_bar_balances_with_any_latch_lost() -> None:
    rng = np.random.default_rng(5)
    rows = Bar(
        (-0.6, -0.1, 0.2, 0.65),
        rng.uniform(1.3, 1.6, 50),
        10 ** rng.uniform(1, 6, 50),
        10 ** rng.uniform(4, 7, 50),
        10 ** rng.uniform(2, 5, 50),
    )
    for lost in (None, 0, 1, 2, 3):
        found = bar_shares(rows, lost=lost)
        assert found.share.sum(axis=-1) == pytest.approx(1.0, abs=1e-9)
        assert found.share @ np.array(rows.at) + found.roll == pytest.approx(0.0, abs=1e-7)


def test_the_pull_is_the_stretch_times_the_stiffness() -> None:
    held = bar(-0.7, 0.0, 0.7, bending=300.0, latch=2e5, roll=1e3)
    found = bar_shares(held)
    assert found.rise[[0, 20, 40]] * 2e5 == pytest.approx(found.share, rel=1e-9)


@pytest.mark.parametrize(("at", "lost"), [((0.0,), 0), ((-0.8, 0.8), None)])
def test_a_bar_that_cannot_hold_is_refused(at: tuple[float, ...], lost: int | None) -> None:
    with pytest.raises(Bug):
        bar_shares(bar(*at, bending=100.0), lost=lost)


def test_a_shell_on_its_four_corners() -> None:
    # Exact: a load over one corner of a rectangle of equal springs gives 3/4 there and -1/4 opposite.
    shares = point_shares([0.0, 2.0, 2.0, 0.0], [-0.5, -0.5, 0.5, 0.5], 0.0, -0.5)
    assert shares == pytest.approx([0.75, 0.25, -0.25, 0.25])
    with pytest.raises(Bug):
        point_shares([0.0], [0.0], 0.0, 0.0)
