"""Statics of the latched shell: balance, tightened latches, pressures at which parts reach their limit."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.latched import (
    Lines,
    hold,
    latch_share,
    preloaded,
    pressure_breaking,
    pressure_freeing,
    pressure_reaching,
    pressure_reaching_size,
    sudden,
)
from loftwright.strength.road import push_at


@pytest.mark.parametrize(("hinge", "latch"), [(0.1, 2.3), (2.3, 0.1)])
def test_reactions_balance(hinge: float, latch: float) -> None:
    rng = np.random.default_rng(1)
    x, z, along, lift = rng.uniform(-1, 1, (4, 30))
    load = push_at(x, z, forward=along, up=lift)
    lines = Lines(np.array(hinge), np.array(0.05), np.array(latch))
    held = hold(lines, load)
    back = push_at(hinge, 0.05, forward=held.hinge_forward, up=held.hinge_up)
    total = load + back + push_at(latch, 0.0, up=-held.latch_line)
    for part in (total.forward, total.up, total.moment):
        assert part == pytest.approx(0.0, abs=1e-12)


def test_a_load_over_the_latches_is_theirs_alone() -> None:
    held = hold(Lines(np.array(0.0), np.array(0.0), np.array(2.0)), push_at(2.0, 0.0, up=300.0))
    assert (float(held.latch_line), float(held.hinge_up)) == (300.0, 0.0)


def test_a_tightened_latch() -> None:
    # Exact: F = P + phi S while S < P / (1 - phi), then F = S; continuous where the stop comes free.
    net = np.array([0.0, 100.0, 625.0, 626.0, 900.0])
    found = preloaded(net, 0.0, 500.0, 0.2)
    assert found.latch == pytest.approx([500.0, 520.0, 625.0, 626.0, 900.0])
    assert found.stop == pytest.approx([500.0, 420.0, 0.0, 0.0, 0.0])
    assert float(latch_share(1e6, 4e6)) == pytest.approx(0.2)


def test_a_shell_pressed_down_hard_leaves_the_latch_slack() -> None:
    found = preloaded(-4000.0, -200.0, 500.0, 0.2)
    assert (float(found.latch), float(found.stop)) == (0.0, 4000.0)


def test_pressures_turn_the_forces_round() -> None:
    rest, still, slope, pre, phi = -80.0, 40.0, 1.3, 300.0, 0.25
    free = float(pressure_freeing(rest, still, slope, pre, phi))
    assert float(preloaded(still + slope * free, rest, pre, phi).stop) == pytest.approx(0.0, abs=1e-9)
    for limit in (350.0, 900.0):
        broken = float(pressure_breaking(rest, still, slope, pre, phi, limit))
        assert float(preloaded(still + slope * broken, rest, pre, phi).latch) == pytest.approx(limit)


def test_pressures_never_or_at_once() -> None:
    assert pressure_reaching([10.0, 10.0, 0.0], [-1.0, 1.0, 2.0], [50.0, 5.0, 50.0]).tolist() == [np.inf, 0.0, 25.0]
    # 3-4-5: parts (3, 4 q) reach the size 5 at q = 1.
    assert float(pressure_reaching_size([3.0, 0.0], [0.0, 4.0], 5.0)) == pytest.approx(1.0)
    assert float(pressure_reaching_size([3.0, 0.0], [0.0, 0.0], 5.0)) == np.inf
    assert float(pressure_reaching_size([6.0, 0.0], [0.0, 1.0], 5.0)) == 0.0


def test_a_sudden_load_with_slack() -> None:
    # Exact: the work of the force over slack and stretch equals the work stored, F (s + d) = k d^2 / 2.
    force, slack, stiffness = 700.0, 0.01, 2e5
    most = float(sudden(force, slack, stiffness))
    stretch = most / stiffness
    assert force * (slack + stretch) == pytest.approx(stiffness * stretch**2 / 2)
    assert float(sudden(force, 0.0, stiffness)) == pytest.approx(2 * force)
    assert float(sudden(-5.0, slack, stiffness)) == 0.0


def test_a_scale_in_place_of_the_latch_reads_what_springs_push_too() -> None:
    # By hand: a latch that pulls 300 N while springs push up by 120 N presses on its stop by 180 N; one that pulls
    # less than the springs push leaves its stop free and pulls what they push.
    held, slack = preloaded(120.0, 120.0, 300.0, 0.2), preloaded(120.0, 120.0, 100.0, 0.2)
    assert (float(held.latch), float(held.stop)) == (300.0, 180.0)
    assert (float(slack.latch), float(slack.stop)) == (120.0, 0.0)
    assert float(pressure_freeing(120.0, 120.0, 1.0, 100.0, 0.2)) == 0.0
