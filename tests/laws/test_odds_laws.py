"""What holds for all odds, whatever the roof: more choice, more knowledge and less asked never make them worse."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.choice.card import ends_well
from loftwright.choice.card_learning import learn_card
from loftwright.choice.card_signs import Asked
from loftwright.choice.holes import choose_row
from loftwright.choice.ratings import choose_ratings
from loftwright.choice.worth import groups_of, learning, learning_of_groups, learning_of_sets
from loftwright.core.motion import Array, Flags

SEEDS = range(4)


def roofs(seed: int, holes: int = 12, draws: int = 250) -> tuple[Flags, Array, Array, Array]:
    """Random holes along a line: works [holes, draws], place [m], chance [1] and readings [3, holes, draws]."""
    rng = np.random.default_rng(seed)
    place = np.sort(rng.uniform(0, 0.3, holes))
    middle, half = rng.normal(0.15, 0.07, draws), rng.uniform(0.0, 0.06, draws)
    off = np.abs(place[:, None] - middle)
    works = (off < half) ^ (rng.random((holes, draws)) < 0.05)
    readings = 1000 * (place[:, None] - middle) * np.array([1.0, -1.0, 0.3])[:, None, None]
    readings = readings + rng.normal(0, 20, readings.shape)
    return works, place, np.asarray(np.exp(-((off / 0.05) ** 2))), readings


@pytest.mark.parametrize("seed", SEEDS)
def test_more_holes_never_cover_less(seed: int) -> None:
    works, place, _, _ = roofs(seed)
    rows = [choose_row(works, place, 0.02, most, nodes=50_000) for most in (1, 2, 3, 4, 5)]
    odds = [row.learned for row in rows]
    assert odds == sorted(odds)
    assert odds[0] == works.mean(axis=1).max()
    assert all(row.learned <= row.bound <= works.any(axis=0).mean() for row in rows)


@pytest.mark.parametrize("seed", SEEDS)
def test_closer_holes_and_a_longer_line_never_cover_less(seed: int) -> None:
    works, place, _, _ = roofs(seed)
    odds = [choose_row(works, place, spacing, 4, nodes=50_000).learned for spacing in (0.06, 0.03, 0.0)]
    assert odds == sorted(odds)
    assert choose_row(works[:8], place[:8], 0.03, 4, nodes=50_000).learned <= odds[1]


@pytest.mark.parametrize("seed", SEEDS)
def test_asking_less_never_lowers_odds(seed: int) -> None:
    works, place, chance, _ = roofs(seed)
    eased = works | (np.random.default_rng(seed).random(works.shape) < 0.1)
    strict, loose = (choose_row(w, place, 0.03, 3, nodes=50_000).learned for w in (works, eased))
    assert loose >= strict
    easier = np.minimum(1.0, chance * 1.1)
    assert choose_ratings(easier, 3).odds >= choose_ratings(chance, 3).odds
    assert (learning(easier, place[None, :1] * np.ones((1, 250))).now) >= learning(chance, chance[:1]).now


@pytest.mark.parametrize("seed", SEEDS)
def test_more_ratings_never_insure_less(seed: int) -> None:
    chance = roofs(seed)[2]
    odds = [choose_ratings(chance, most).odds for most in (1, 2, 3, 4)]
    assert odds == sorted(odds)
    assert odds[0] == pytest.approx(chance.mean(axis=1).max(), abs=1e-12)
    assert odds[-1] <= 1


@pytest.mark.parametrize("draws", [7, 60, 250])
@pytest.mark.parametrize("seed", SEEDS)
def test_learning_never_lowers_the_best_odds(seed: int, draws: int) -> None:
    rng = np.random.default_rng(seed)
    chance = roofs(seed, draws=draws)[2]
    readings = np.concatenate([rng.standard_normal((4, draws)), rng.integers(0, 2, (3, draws)), np.zeros((1, draws))])
    for got in (learning(chance, readings), learning_of_sets(chance, readings, ((0, 1), (2, 5), (0, 1, 2)))):
        assert (got.plug_in >= got.now).all()
        assert (got.after >= got.now).all()
        assert (got.after <= got.plug_in + 1e-12).all()
        assert (got.plug_in <= got.all_known + 1e-12).all()
    # What reads the same in every roof teaches nothing.
    got = learning(chance, readings)
    assert got.plug_in[-1] == pytest.approx(got.now, abs=1e-12)
    assert got.gain[-1] == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_finer_groups_never_promise_less_on_the_same_draws(seed: int) -> None:
    chance = roofs(seed)[2]
    reading = np.random.default_rng(seed).standard_normal((1, 250))
    coarse, fine = (learning_of_groups(chance, groups_of(reading, n)).plug_in[0] for n in (4, 8))
    assert fine >= coarse - 1e-12


@pytest.mark.parametrize("seed", SEEDS[:2])
def test_more_lines_never_make_a_card_worse(seed: int) -> None:
    works, place, _, readings = roofs(seed, draws=300)
    holes = list(choose_row(works, place, 0.03, 4).holes)
    asked = (Asked("push", 5.0), Asked("pull", 5.0), Asked("lift", 5.0))
    cards = [learn_card(works[holes], readings[:, holes], asked, most_lines=most) for most in (0, 1, 3, 6, 12)]
    learned = [card.learned for card in cards]
    assert learned == sorted(learned)
    assert learned[0] == works[holes].mean(axis=1).max()
    assert learned[-1] <= works[holes].any(axis=0).mean()
    for card in cards:
        assert ends_well(card, works[holes], readings[:, holes]).mean() == pytest.approx(card.learned)
        assert card.learned >= card.staying
