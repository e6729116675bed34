"""A rigid shell on elastic supports: cases that can be worked out by hand, labelled "exact"."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.support_parts import HingeStiffness, hinge, link, stop, strap
from loftwright.strength.supports import (
    Support,
    about_origin,
    fitted_at,
    from_side_view,
    hold,
    motion_at,
    support,
    wrench_at,
)

X, Y, Z = np.eye(3)
SOFT = HingeStiffness(*(np.asarray(v) for v in (4e5, 2e5, 3e5, 2e3, 3e3)))


def pair(stiffness: HingeStiffness = SOFT, half: float = 0.5) -> tuple[Support, ...]:
    """Return two hinges at the rear, leaves along x."""
    return hinge("left hinge", [0, half, 0], stiffness) + hinge("right hinge", [0, -half, 0], stiffness)


def framed() -> list[Support]:
    """Return a stand that holds everything but sideways motion."""
    ways = [support("stand", f"way {i}", [0, 0, 0], np.eye(3)[i], 1e7) for i in (0, 2)]
    return ways + [support("stand", f"turn {i}", [0, 0, 0], np.eye(3)[i], 1e7, turning=True) for i in range(3)]


def test_two_hinges_and_a_brace_by_hand() -> None:
    """Exact: hinges without turning stiffness, fore and aft k_x each at y = +- 1/2, and a bar along y at x = 2.

    A side force F at x = 1: yaw moment about the hinge line F = 2 B + k_x / 2 r, B = k_b (y + 2 r), F = 2 k_y y + B.
    """
    kx, ky, kb, push = 4e5, 2e5, 1e5, 300.0
    free = HingeStiffness(*(np.asarray(v) for v in (kx, ky, 3e5, 1e-6, 1e-6)))
    brace = link("brace", [2, -0.5, 0], [2, 0.5, 0], stiffness=kb)
    found = hold([*pair(free), *brace, *strap("stop", [2, 0, -1], [2, 0, 0], stiffness=1e5)], wrench_at(push * Y, X))
    y, r = np.linalg.solve([[2 * ky + kb, 2 * kb], [2 * kb, 4 * kb + kx / 2]], [push, push])
    assert found.motion[[1, 5]] == pytest.approx([y, r], rel=1e-9)
    assert found.force("brace") == pytest.approx(kb * (y + 2 * r), rel=1e-9)
    assert found.vector("left hinge") == pytest.approx([kx * r / 2, -ky * y, 0.0], abs=1e-6)
    assert found.vector("right hinge") == pytest.approx([-kx * r / 2, -ky * y, 0.0], abs=1e-6)
    assert motion_at(found.motion, [2.0, 0.0, 0.0])[1] == pytest.approx(y + 2 * r)
    assert bool(found.held)


def test_sway_of_a_shell_held_by_turning_springs_alone() -> None:
    """Exact: one hinge, endless sideways and k_t about z: the lip at L sways F L^2 / k_t under F at the lip."""
    one = HingeStiffness(*(np.asarray(v) for v in (1e9, 1e12, 1e9, 1e9, 2.5e3)))
    parts = [*hinge("hinge", [0, 0, 0], one), *stop("stop", [2, 0, 0], Z, stiffness=1e5)]
    found = hold(parts, wrench_at(40.0 * Y, 2 * X))
    assert motion_at(found.motion, 2 * X)[1] == pytest.approx(40 * 4 / 2.5e3, rel=1e-8)
    assert found.moment("hinge") == pytest.approx(80.0, rel=1e-8)
    assert found.couple("hinge") == pytest.approx([0.0, 0.0, -80.0], abs=1e-6)


def test_crossed_straps_share_by_turns() -> None:
    """Exact: of two straps that pull apart only the one that is stretched acts, with the whole force."""
    parts = [*framed(), *strap("a", [0, -1, 0], [0, 0, 0], stiffness=1e4)]
    parts += strap("b", [0, 1, 0], [0, 0, 0], stiffness=2e4)
    found = hold(parts, np.array([[0, 50.0, 0, 0, 0, 0], [0, -50.0, 0, 0, 0, 0]]))
    assert found.force("a").tolist() == pytest.approx([50.0, 0.0])
    assert found.force("b").tolist() == pytest.approx([0.0, 50.0])
    assert found.active[:, -2:].tolist() == [[True, False], [False, True]]
    assert found.motion[:, 1].tolist() == pytest.approx([50 / 1e4, -50 / 2e4])


def test_play_is_used_up_before_the_bar_acts() -> None:
    """Exact: a bar with 3 mm of play beside a spring of k: moves F / k at first, then both act."""
    side = support("spring", "side", [0, 0, 0], Y, 1e4)
    bar = link("bar", [0, -1, 0], [0, 0, 0], stiffness=3e4, play=0.003)
    loads = np.zeros((3, 6))
    loads[:, 1] = [20.0, 200.0, -200.0]
    found = hold([*framed(), side, *bar], loads)
    moved = (200 + 3e4 * 0.003) / 4e4
    assert found.motion[:, 1].tolist() == pytest.approx([0.002, moved, -moved])
    assert found.tension[:, -1].tolist() == pytest.approx([0.0, 3e4 * (moved - 0.003), -3e4 * (moved - 0.003)])


def test_a_stop_pushes_and_does_not_pull() -> None:
    side = support("spring", "side", [0, 0, 0], Y, 1e4)
    block = stop("block", [0, 0, 0], Y, stiffness=3e4, gap=0.001)
    loads = np.zeros((2, 6))
    loads[:, 1] = [90.0, -90.0]
    found = hold([*framed(), side, *block], loads)
    pressed = (90 + 30) / 4e4
    assert found.motion[:, 1].tolist() == pytest.approx([0.009, -pressed])
    assert found.vector("block")[:, 1].tolist() == pytest.approx([0.0, 3e4 * (pressed - 0.001)])


def test_a_bar_square_to_the_sway_takes_no_share() -> None:
    """Exact: upright bars at mid-width do nothing against a level side force through the height of the hinges."""
    upright = link("bar", [2, 0, -1], [2, 0, 0], stiffness=1e6)
    found = hold([*pair(), *upright], wrench_at(100 * Y, 2 * X))
    assert found.force("bar") == pytest.approx(0.0, abs=1e-6)


def test_a_slanted_bar_alone_lifts_the_shell_instead_of_bracing_it() -> None:
    """Exact: what the bar pulls upright nothing balances about the pins: it takes no share without a stop."""
    slanted = link("bar", [2, -1, -1], [2, 0, 0], stiffness=1e6)
    push = wrench_at(100 * Y, 2 * X)
    assert hold([*pair(), *slanted], push).force("bar") == pytest.approx(0.0, abs=1e-5)
    top = link("top", [2, 0, -1], [2, 0, 0], stiffness=1e6)
    found = hold([*pair(), *slanted, *top], push)
    assert found.force("bar") > 50
    assert found.force("top") == pytest.approx(abs(float(found.vector("bar")[2])), rel=1e-6)


def test_a_shell_that_nothing_holds_is_said_not_to_be_held() -> None:
    """Hinges and a strap against lifting: pressed down, the strap goes slack and the shell falls."""
    parts = [*pair(), *strap("strap", [2, 0, -1], [2, 0, 0], stiffness=1e5)]
    lifted, pressed = wrench_at(100 * Z, 2 * X), wrench_at(-100 * Z, 2 * X)
    found = hold(parts, np.stack([lifted, pressed]))
    assert found.held.tolist() == [True, False]
    assert found.force("strap")[0] == pytest.approx(100.0)
    assert np.all(np.isfinite(found.motion))
    rate = [*parts, *strap("gas", [2, 0, -1], [2, 0, 0], stiffness=0), support("gas", "axial", 2 * X, Z, 300.0)]
    assert hold(rate, pressed).held.tolist() is False, "a third of a metre down is no hold"


def test_preload_keeps_a_strap_taut() -> None:
    """Exact: springs that press the shell on its strap let wind press it down by as much before it goes slack."""
    parts = [*pair(), *strap("strap", [2, 0, -1], [2, 0, 0], stiffness=1e5)]
    rest = wrench_at(150 * Z, 2 * X)
    found = hold(parts, np.stack([wrench_at(-f * Z, 2 * X) for f in (0, 100, 200)]), rest)
    assert found.held.tolist() == [True, True, False]
    assert found.force("strap")[:2].tolist() == pytest.approx([150.0, 50.0])


def test_axes_of_rows_come_first() -> None:
    """Supports differ by row, loads by row, direction and gust: each answer is that of the single case."""
    k = np.array([1e4, 2e4, 4e4])
    parts = [*pair(), *strap("s", [2, 0, -1], [2, 0, 0], stiffness=1e5), *link("b", [2, -1, 0], [2, 0, 0], stiffness=k)]
    load = np.random.default_rng(3).normal(size=(3, 4, 5, 6)) * 10 + wrench_at(80 * Z, 2 * X)
    preload = np.zeros((3, 6))
    preload[:, 2] = [1.0, 2.0, 3.0]
    found = hold(parts, load, preload)
    assert found.motion.shape == (3, 4, 5, 6)
    for i, d, g in ((0, 3, 4), (1, 0, 2), (2, 2, 0)):
        single = [*parts[:-1], *link("b", [2, -1, 0], [2, 0, 0], stiffness=k[i])]
        alone = hold(single, load[i, d, g], preload[i])
        assert alone.motion == pytest.approx(found.motion[i, d, g], rel=1e-7)
        assert alone.force("b") == pytest.approx(found.force("b")[i, d, g], rel=1e-7)


def test_points_that_differ_by_opening() -> None:
    """A trailing axis of the supports (openings) meets the same axis of the load."""
    height = np.array([0.2, 0.5, 0.9])
    top = np.stack([np.full(3, 2.0), np.zeros(3), height], axis=-1)[None, None]
    parts = [*pair(), *strap("s", [2, 0, -1], [2, 0, 0], stiffness=1e5), *link("b", [2, -1, 0], top, stiffness=1e5)]
    load = np.broadcast_to(wrench_at(90 * Z + 20 * Y, 2 * X), (2, 4, 3, 6))
    found = hold(parts, load)
    alone = hold([*parts[:-1], *link("b", [2, -1, 0], top[0, 0, 1], stiffness=1e5)], load[0, 0, 1])
    assert found.motion[1, 2, 1] == pytest.approx(alone.motion, rel=1e-8)


def test_wrenches() -> None:
    about = wrench_at([1.0, 2.0, 3.0], [0.4, -0.2, 0.5])
    moved = about_origin(wrench_at([1.0, 2.0, 3.0], [0.1, -0.3, 0.5]), [0.3, 0.1, 0.0])
    assert moved == pytest.approx(about)
    # A weight at x = 2 turns x towards -z in the side view.
    assert from_side_view(0.0, -50.0, -100.0) == pytest.approx(wrench_at([0, 0, -50], [2, 0, 0]))


def test_parts_are_named_once() -> None:
    assert hold(pair(), np.zeros(6)).parts == ("left hinge", "right hinge")


@pytest.mark.parametrize(
    ("direction", "stiffness", "gap"), [([0, 0, 0], 1.0, 0.0), ([0, 1, 0], -1.0, 0.0), ([0, 1, 0], 1.0, -0.1)]
)
def test_senseless_supports_are_refused(direction: list[float], stiffness: float, gap: float) -> None:
    with pytest.raises(ValueError, match="bar"):
        support("bar", "along", [0, 0, 0], direction, stiffness, gap=gap)


def test_no_or_too_many_supports_are_refused() -> None:
    with pytest.raises(ValueError, match="one support"):
        hold([], np.zeros(6))
    with pytest.raises(ValueError, match="40"):
        hold(strap("s", [0, 0, 0], [0, 0, 1], stiffness=1.0) * 41, np.zeros(6))


@pytest.mark.parametrize("play", [0.0, 0.002])
def test_a_bar_fitted_to_a_shell_that_already_leans(play: float) -> None:
    """Exact: a spring k leans by P / k under a still day's push; a bar K fitted then takes nothing of P.

    More push W moves the shell by w = W / k until the play g is used up, then k w + K (w - g) = W.
    """
    k, bar, day, more = 2.0e4, 6.0e4, 100.0, 400.0
    alone = [*framed(), support("spring", "sideways", [0, 0, 0], Y, k)]
    rest = hold(alone, day * np.array([0, 1.0, 0, 0, 0, 0]))
    (brace,) = link("brace", [0, -1, 0], [0, 0, 0], stiffness=bar, play=play)
    parts = [*alone, fitted_at(brace, rest.motion)]
    push = np.array([0.0, 1.0, 0, 0, 0, 0])
    still, blown, back = (hold(parts, p * push) for p in (day, day + more, day - more))
    assert still.motion[1] == pytest.approx(day / k)
    assert still.force("brace") == pytest.approx(0.0, abs=1e-6)
    w = (more + bar * play) / (k + bar)
    assert blown.motion[1] - still.motion[1] == pytest.approx(w)
    assert blown.force("brace") == pytest.approx(bar * (w - play))
    assert back.motion[1] - still.motion[1] == pytest.approx(-w)
    assert back.vector("brace") == pytest.approx([0.0, bar * (w - play), 0.0], abs=1e-6)


def test_a_strap_fitted_to_rows_and_cases() -> None:
    """Exact: two rows on springs of their own, two still days; the strap pulls K k / (k + K) of what comes on top."""
    k, bar = np.array([1e4, 3e4]), 5e4
    alone = [*framed(), support("spring", "sideways", [0, 0, 0], Y, k)]
    days = np.array([[50.0, -80.0], [20.0, 90.0]])[..., None] * np.array([0, 1.0, 0, 0, 0, 0])
    (one,) = strap("strap", [0, -1, 0], [0, 0, 0], stiffness=bar)
    parts = [*alone, fitted_at(one, hold(alone, days).motion)]
    gusts = np.array([0.0, 300.0, -300.0])[:, None] * np.array([0, 1.0, 0, 0, 0, 0])
    found = hold(parts, days[:, :, None] + gusts)
    assert found.motion.shape == (2, 2, 3, 6)
    pulled = np.broadcast_to((300.0 * bar / (k + bar))[:, None], (2, 2))
    assert found.force("strap")[..., 1] == pytest.approx(pulled)
    assert found.force("strap")[..., [0, 2]] == pytest.approx(0.0, abs=1e-6)


def test_a_turning_support_is_fitted_to_an_angle() -> None:
    """Exact: a turning spring beside another, fitted at its angle, takes nothing of the day."""
    (one,) = [support("stiff", "turn", [0, 0, 0], Z, 4e3, turning=True)]
    alone = [*framed(), support("spring", "sideways", [0, 0, 0], Y, 1e5)]
    day = np.array([0, 0, 0, 0, 0, 30.0])
    rest = hold(alone, day)
    found = hold([*alone, fitted_at(one, rest.motion)], day)
    assert found.moment("stiff") == pytest.approx(0.0, abs=1e-6)
    assert found.motion[5] == pytest.approx(30.0 / 1e7)
