"""What holds for every shell on elastic supports, and the same answers by other ways of finding the least energy."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from scipy.optimize import lsq_linear

from loftwright.strength.supports import Held, Support, hold, motion_at, support

SEEDS = range(8)
LOADS = 40


def random_supports(seed: int, *, gaps: bool = True, one_way: int = 5, two_way: int = 8) -> list[Support]:
    """Return supports at random places: two-way ones, turning ones among them, and one-way ones, some with gaps."""
    rng = np.random.default_rng(seed)
    found = []
    for i in range(two_way + one_way):
        way = rng.normal(size=3)
        gap = float(rng.uniform(0, 0.002)) if gaps and i % 2 else 0.0
        kind = "both" if i < two_way else ("pull", "push")[i % 2]
        place = rng.uniform([0, -0.7, 0], [2, 0.7, 0.8])
        k = 10 ** rng.uniform(4, 6)
        turns = i in (0, 1)
        free = gap if i >= two_way else 0.0
        found.append(support(f"part {i}", "way", place, way, k, kind=kind, gap=free, turning=turns))
    return found


def random_loads(seed: int, size: float = 60.0) -> np.ndarray:
    return np.random.default_rng(100 + seed).normal(size=(LOADS, 6)) * size


def stretch(found: Held, s: Support) -> np.ndarray:
    """Return how far a support is stretched, from the motion of its point."""
    if s.turning:
        return np.asarray(found.motion[..., 3:] @ s.direction)
    return np.asarray(motion_at(found.motion, s.point) @ s.direction)


@pytest.mark.parametrize("seed", SEEDS)
def test_reactions_balance_random_loads(seed: int) -> None:
    supports, load = random_supports(seed), random_loads(seed)
    found = hold(supports, load)
    force, moment = load[:, :3].copy(), load[:, 3:].copy()
    for s in supports:
        force += found.vector(s.part)
        moment += found.couple(s.part) + np.cross(s.point, found.vector(s.part))
    assert bool(np.all(found.held))
    assert np.abs(force).max() < 1e-6
    assert np.abs(moment).max() < 1e-6


@pytest.mark.parametrize("seed", SEEDS)
def test_complementarity(seed: int) -> None:
    """A strap pulls where it is stretched past its slack, a stop pushes where pressed past its gap; else nought."""
    supports = random_supports(seed)
    found = hold(supports, random_loads(seed))
    for i, s in enumerate(supports):
        over = stretch(found, s)
        past = over - s.gap if s.kind == "pull" else -over - s.gap
        sign = 1.0 if s.kind == "pull" else -1.0
        expected = s.stiffness * over if s.kind == "both" else sign * s.stiffness * np.maximum(past, 0.0)
        assert found.tension[:, i] == pytest.approx(expected, rel=1e-6, abs=1e-6)
    one_way = [i for i, s in enumerate(supports) if s.kind != "both"]
    assert 0.1 < found.active[:, one_way].mean() < 0.9, "the loads must try both states"


@pytest.mark.parametrize("seed", SEEDS)
def test_doubling_the_load_doubles_every_force(seed: int) -> None:
    """True without gaps, one-way supports or not: the energy keeps its form when motions are doubled."""
    supports, load = random_supports(seed, gaps=False), random_loads(seed)
    once, twice = hold(supports, load), hold(supports, 2 * load)
    assert twice.tension == pytest.approx(2 * once.tension, rel=1e-7, abs=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_forces_add_up_when_all_supports_are_two_way(seed: int) -> None:
    supports, first, second = random_supports(seed, one_way=0), random_loads(seed), random_loads(seed + 50)
    both = hold(supports, first, second)
    apart = hold(supports, first).tension + hold(supports, second).tension
    assert both.tension == pytest.approx(apart, rel=1e-7, abs=1e-6)


def ways(supports: list[Support]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return rows b, stiffness and gap, with pushes turned about so that every one-way leg pulls."""
    rows = [
        np.r_[np.zeros(3), s.direction] if s.turning else np.r_[s.direction, np.cross(s.point, s.direction)]
        for s in supports
    ]
    sign = np.array([-1.0 if s.kind == "push" else 1.0 for s in supports])
    return (
        sign[:, None] * np.array(rows),
        np.array([float(s.stiffness) for s in supports]),
        np.array([float(s.gap) for s in supports]),
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_the_same_motion_by_bounded_least_squares(seed: int) -> None:
    """Second way: k max(0, e - g)^2 is the least of k (e - g - y)^2 over y <= 0: least squares in (u, y) by SciPy."""
    supports, load = random_supports(seed), random_loads(seed)[:6]
    b, k, gap = ways(supports)
    two = np.array([s.kind == "both" for s in supports])
    root = np.linalg.cholesky((b[two].T * k[two]) @ b[two]).T
    legs = int(np.sum(~two))
    weight = np.sqrt(k[~two])
    matrix = np.block([[root, np.zeros((6, legs))], [weight[:, None] * b[~two], -np.diag(weight)]])
    # Unknowns in units of their own, so that the solver's tolerances mean something.
    scale = 1.0 / np.linalg.norm(matrix, axis=0)
    top = np.r_[np.full(6, np.inf), np.zeros(legs)]
    for w, motion in zip(load, hold(supports, load).motion, strict=True):
        right = np.r_[np.linalg.solve(root.T, w), weight * gap[~two]]
        fit = lsq_linear(matrix * scale, right, (-np.inf, top), method="bvls", tol=1e-14)
        assert motion == pytest.approx((fit.x * scale)[:6], rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_one_set_of_active_supports_alone_is_consistent_and_it_is_found(seed: int) -> None:
    """Second way: try every set of the one-way supports; the energy is strictly convex, so that one is right."""
    supports, load = random_supports(seed), random_loads(seed)[:10]
    b, k, gap = ways(supports)
    one = np.flatnonzero([s.kind != "both" for s in supports])
    found = hold(supports, load)
    for w, motion, active in zip(load, found.motion, found.active, strict=True):
        right = []
        for chosen in product((False, True), repeat=one.size):
            on = np.ones(len(supports), dtype=bool)
            on[one] = chosen
            u = np.linalg.solve((b[on].T * k[on]) @ b[on], w + (k * gap * on) @ b)
            if np.array_equal(b[one] @ u > gap[one], np.array(chosen)):
                right.append((chosen, u))
        assert len(right) == 1
        assert active[one].tolist() == list(right[0][0])
        assert motion == pytest.approx(right[0][1], rel=1e-7, abs=1e-12)


@pytest.mark.parametrize("play", [0.0, 0.001])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_stiffer_brace_never_adds_sway_along_itself(seed: int, play: float) -> None:
    """The point where the brace is fixed never moves further along the brace, counted from where nothing is strained.

    Proof: E(u) + k g(u), with E convex and g = max(0, |e| - play)^2 / 2, has its least at u_k. For k < K,
    E(u_k) + k g(u_k) <= E(u_K) + k g(u_K) and E(u_K) + K g(u_K) <= E(u_k) + K g(u_k); added,
    (K - k) (g(u_K) - g(u_k)) <= 0. One-way supports and gaps elsewhere do not matter. Elsewhere, or across the
    brace, nothing of the kind is true: see the next test.
    """
    rng = np.random.default_rng(200 + seed)
    at, way = rng.uniform([0, -0.7, 0], [2, 0.7, 0.8]), rng.normal(size=3)
    k = np.r_[0.0, np.logspace(3, 8, 11)]
    brace = support("brace", "along", at, way, k, gap=np.full(k.shape, play))
    load = np.broadcast_to(random_loads(seed), (k.size, LOADS, 6))
    found = hold([*random_supports(seed), brace], load)
    past = np.maximum(np.abs(stretch(found, brace)) - play, 0.0)
    assert np.all(np.diff(past, axis=0) <= 1e-12)
    assert past[-1].max() < 0.1 * past[0].max()


def test_a_brace_can_add_sway_elsewhere() -> None:
    """Exact: a shell on one side spring k and one turning spring k_t, pushed at a = k_t / (k L): x = -L stands still.

    A brace at x = +L takes that balance away, so that the other end sways.
    """
    k, turn, far = 1e5, 4e4, 1.0
    stand = [support("stand", f"way {i}", [0, 0, 0], np.eye(3)[i], 1e7) for i in (0, 2)]
    stand += [support("stand", f"turn {i}", [0, 0, 0], np.eye(3)[i], 1e7, turning=True) for i in (0, 1)]
    stand += [
        support("side", "y", [0, 0, 0], [0, 1, 0], k),
        support("turn", "z", [0, 0, 0], [0, 0, 1], turn, turning=True),
    ]
    at = turn / (k * far)
    load = np.array([0.0, 100.0, 0.0, 0.0, 0.0, 100.0 * at])
    brace = support("brace", "y", [far, 0, 0], [0, 1, 0], 1e5)
    end = [-far, 0.0, 0.0]
    assert motion_at(hold(stand, load).motion, end)[1] == pytest.approx(0.0, abs=1e-12)
    assert motion_at(hold([*stand, brace], load).motion, end)[1] > 1e-4


def test_many_cases_at_once_are_those_one_by_one() -> None:
    supports = random_supports(3)
    load = random_loads(3).reshape(5, 8, 6)
    found = hold(supports, load)
    for i, j in ((0, 0), (2, 5), (4, 7)):
        assert hold(supports, load[i, j]).tension == pytest.approx(found.tension[i, j], rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_set_is_found_though_others_on_the_way_hold_nothing(seed: int) -> None:
    """Three two-way supports hold no shell: most sets of the one-way ones are loose, and the right one must be found.

    Second way: every set that holds, tried one by one.
    """
    rng = np.random.default_rng(300 + seed)
    supports = random_supports(seed, one_way=6, two_way=3)
    b, k, gap = ways(supports)
    one = np.arange(3, 9)
    on = np.ones((64, 9), dtype=bool)
    on[:, one] = np.array(list(product((False, True), repeat=6)))
    whole = np.einsum("sn,ni,nj->sij", k * on, b, b)
    holding = np.linalg.cond(whole) < 1e8
    on, whole = on[holding], whole[holding]
    assert on.shape[0] > 0
    load = rng.normal(size=(60, 6)) * 20
    found = hold(supports, load)
    right = load[:, None] + (k * gap * on) @ b
    u = np.linalg.solve(whole, right[..., None])[..., 0]
    fits = np.all((u @ b[one].T > gap[one]) == on[:, one], axis=-1) & (np.abs(u).max(axis=-1) < 0.05)
    assert fits.sum(axis=-1).max() == 1
    for case in np.flatnonzero(fits.any(axis=-1)):
        assert bool(found.held[case])
        assert found.motion[case] == pytest.approx(u[case, np.argmax(fits[case])], rel=1e-6, abs=1e-10)
