"""Rows of holes against all rows there are, and against a general integer solver: exact by construction."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from scipy import optimize, sparse

from loftwright.choice.holes import choose_row, over_chances, share_error
from loftwright.core.errors import Bug
from loftwright.core.motion import Array, Flags


def scattered(seed: int, holes: int, draws: int, share: float = 0.25) -> tuple[Flags, Array]:
    """Holes that work here and there, without any order: the hard case."""
    rng = np.random.default_rng(seed)
    return rng.random((holes, draws)) < share, np.sort(rng.uniform(0, 0.4, holes))


def banded(seed: int, holes: int, draws: int) -> tuple[Flags, Array]:
    """Holes that work side by side, as along a bracket."""
    rng = np.random.default_rng(seed)
    place = np.sort(rng.uniform(0, 0.4, holes))
    middle, half = rng.normal(0.2, 0.08, draws), rng.uniform(0.01, 0.05, draws)
    return np.abs(place[:, None] - middle) < half, place


def best_of_all(works: Flags, place: Array, spacing: float, most: int) -> int:
    """Try every row."""
    best = 0
    for size in range(1, most + 1):
        for row in combinations(range(len(place)), size):
            if size == 1 or np.diff(np.sort(place[list(row)])).min() >= spacing:
                best = max(best, int(works[list(row)].any(axis=0).sum()))
    return best


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("made", [scattered, banded])
def test_small_rows_are_the_best_of_all(made, seed: int) -> None:
    works, place = made(seed, 10, 120)
    row = choose_row(works, place, 0.03, 3)
    assert row.learned * 120 == pytest.approx(best_of_all(works, place, 0.03, 3))
    assert row.proven
    assert row.learned == pytest.approx(works[list(row.holes)].any(axis=0).mean())
    assert np.diff(place[list(row.holes)]).min() >= 0.03


@pytest.mark.parametrize(("made", "seed"), [(scattered, 1), (banded, 2)])
def test_long_rows_agree_with_an_integer_solver(made, seed: int) -> None:
    """Maximum coverage with pairs that exclude each other, by scipy.optimize.milp (HiGHS)."""
    holes, draws, most, spacing = 16, 80, 4, 0.03
    works, place = made(seed, holes, draws)
    # Unknowns: hole drilled, draw served. served <= sum of drilled holes that work; close pairs exclude each other.
    near = [(i, j) for i, j in combinations(range(holes), 2) if place[j] - place[i] < spacing]
    exclude = np.zeros((len(near), holes + draws))
    for k, pair in enumerate(near):
        exclude[k, list(pair)] = 1
    served = sparse.hstack([-sparse.csr_matrix(works.T.astype(float)), sparse.identity(draws)])
    count = np.concatenate([np.ones(holes), np.zeros(draws)])[None]
    got = optimize.milp(
        -np.concatenate([np.zeros(holes), np.ones(draws)]),
        constraints=[
            optimize.LinearConstraint(served, -np.inf, 0),
            optimize.LinearConstraint(exclude, -np.inf, 1),
            optimize.LinearConstraint(count, -np.inf, most),
        ],
        integrality=np.concatenate([np.ones(holes), np.zeros(draws)]),
        bounds=optimize.Bounds(0, 1),
    )
    row = choose_row(works, place, spacing, most, nodes=50_000)
    assert row.proven
    assert row.learned * draws == pytest.approx(-got.fun)


@pytest.mark.parametrize("seed", [8, 9, 21])
def test_the_search_finds_what_exchanging_misses(seed: int) -> None:
    works, place = scattered(seed, 12, 90)
    local, full = (choose_row(works, place, 0.03, 4, nodes=nodes) for nodes in (0, 50_000))
    best = best_of_all(works, place, 0.03, 4)
    assert local.learned * 90 < best < local.bound * 90
    assert not local.proven
    assert full.learned * 90 == pytest.approx(best)


def test_neighbours_are_solved_without_any_search() -> None:
    works, place = banded(3, 40, 2000)
    fast, slow = (choose_row(works, place, 0.025, 5, nodes=nodes) for nodes in (0, 50_000))
    assert fast.proven
    assert fast.learned == slow.learned


def test_holes_that_are_kept_stay_and_push_others_away() -> None:
    works, place = banded(4, 30, 500)
    free = choose_row(works, place, 0.03, 4)
    at = next(h for h in range(30) if h not in free.holes)
    row = choose_row(works, place, 0.03, 4, keep=(at,))
    assert at in row.holes
    assert np.diff(place[list(row.holes)]).min() >= 0.03
    assert row.learned <= free.learned
    with pytest.raises(Bug, match="closer"):
        choose_row(works, np.linspace(0, 0.1, 30), 0.03, 4, keep=(0, 1))
    with pytest.raises(Bug, match="room"):
        choose_row(works, place, 0.03, 1, keep=(0, 20))


def test_a_hole_that_serves_nobody_is_not_drilled() -> None:
    works = np.zeros((4, 50), dtype=bool)
    works[1, :30] = works[2, :20] = True
    row = choose_row(works, np.arange(4) * 0.1, 0.05, 4)
    assert (row.holes, row.start, row.first, row.odds) == ((1,), 1, 0.6, 0.6)
    assert choose_row(np.zeros((3, 9), dtype=bool), np.arange(3.0), 0.05, 2).odds == 0


def test_fresh_draws_undo_the_luck_of_choosing() -> None:
    # Every hole works in a quarter of the draws, independently of all others: three of them in 1 - 0.75^3.
    works, place = scattered(5, 30, 60)
    claim, _ = scattered(6, 30, 40_000)
    row = choose_row(works, place, 0.0, 3, claim=claim)
    truth = 1 - 0.75**3
    assert row.odds == pytest.approx(truth, abs=4 * row.error)
    assert row.learned > truth + 0.1
    assert row.first == pytest.approx(0.25, abs=0.01)


def test_one_spring_has_one_force_in_all_holes() -> None:
    """Two holes that want the same half of the spread are worth one; with opposite halves they are worth all."""
    delivered = (np.arange(100) + 0.5) / 100
    low, high = np.array([[0.0], [0.0], [0.5]]), np.array([[0.5], [0.5], [1.0]])
    works = over_chances(low, high, delivered)
    assert works.shape == (3, 100)
    assert works[[0, 1]].any(axis=0).mean() == 0.5
    assert works[[0, 2]].any(axis=0).mean() == 1.0


def test_error_of_a_share() -> None:
    """Standard error of a binomial share, sqrt(p (1 - p) / n), for many draws."""
    assert share_error(0.2, 10_000) == pytest.approx(0.004, rel=1e-3)
    assert share_error(1.0, 98) > 0
