"""The best word against every word there is, and edges that cannot be joined."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from loftwright.cloth.triangulate import Measure, Word, triangulate
from loftwright.cloth.unfold import bridges_of, creases, strip_area, unfold
from loftwright.core.motion import Array

LOWER = np.array([[0.0, 0, 0], [1, 0, 0], [2, 0, 0], [3, 0, 0]])
UPPER = np.array([[0.2, 1, 0], [0.8, 1.1, 0.5], [1.9, 1.2, 0.6], [3.2, 1.0, 0.1]])


def every_word(m: int, k: int) -> list[Word]:
    found = []
    for chosen in combinations(range(m + k - 2), k - 1):
        word = np.zeros(m + k - 2, dtype=np.intp)
        word[list(chosen)] = 1
        found.append(word)
    return found


def total(low: Array, high: Array, word: Word, measure: str) -> float:
    """The sums written out once more, triangle by triangle."""
    if measure == "area":
        return float(strip_area(low, high, word))
    i, j = bridges_of(word)
    length = np.linalg.norm(high[j] - low[i], axis=-1)[1:-1]
    angle = np.abs(creases(low, high, word))
    if measure == "crease":
        return float(np.sum(angle**2 * length))
    areas = []
    for place, move in enumerate(word):
        a, b = low[i[place]], high[j[place]]
        c = low[i[place] + 1] if move == 0 else high[j[place] + 1]
        areas.append(float(np.linalg.norm(np.cross(b - a, c - a))) / 2)
    both = np.array(areas[:-1]) + np.array(areas[1:])
    return float(np.sum(angle**2 * length**2 / both))


def letters(word: Word) -> str:
    return "".join("PQ"[move] for move in word)


@pytest.mark.parametrize(
    ("measure", "best", "least", "second", "worst"),
    [
        ("area", "PQQPQP", 3.7040993649, 3.7041583866, 3.8973095766),
        ("crease", "QQPPPQ", 1.3594926809, 1.4152608020, 4.4249597994),
    ],
)
def test_twenty_words(measure: Measure, best: str, least: float, second: float, worst: float) -> None:
    """(m + k - 2)! / ((m - 1)! (k - 1)!) words. Figures computed from first principles: all 20 written out."""
    words = every_word(4, 4)
    assert len(words) == 20
    sums = sorted(total(LOWER, UPPER, word, measure) for word in words)
    assert (sums[0], sums[1], sums[-1]) == pytest.approx((least, second, worst), abs=1e-9)
    found = triangulate(LOWER, UPPER, measure)
    assert letters(found) == best
    assert total(LOWER, UPPER, found, measure) == pytest.approx(least, abs=1e-9)


def test_the_worst_word() -> None:
    word = np.array([0, 0, 0, 1, 1, 1])
    assert total(LOWER, UPPER, word, "area") == pytest.approx(3.8973095766, abs=1e-9)
    assert total(LOWER, UPPER, word, "crease") == pytest.approx(4.4249597994, abs=1e-9)


@pytest.mark.parametrize("measure", ["area", "crease", "bending"])
@pytest.mark.parametrize("seed", range(6))
def test_no_word_is_better(measure: Measure, seed: int) -> None:
    """Brute force on uneven edges of 5 and 4, 2 and 6, 3 and 5 points."""
    draw = np.random.default_rng(seed)
    m, k = [(5, 4), (2, 6), (3, 5)][seed % 3]
    low = np.column_stack([np.sort(draw.uniform(0, 3, m)), draw.normal(0, 0.2, m), draw.normal(0, 0.2, m)])
    high = np.column_stack([np.sort(draw.uniform(0, 3, k)), draw.normal(0, 0.2, k), 1 + draw.normal(0, 0.2, k)])
    least = min(total(low, high, word, measure) for word in every_word(m, k))
    assert total(low, high, triangulate(low, high, measure), measure) == pytest.approx(least, rel=1e-12)


@pytest.mark.parametrize("measure", ["bending", "twist"])
def test_a_point_and_an_edge_have_one_word(measure: Measure) -> None:
    assert triangulate(LOWER, UPPER[:1], measure).tolist() == [0, 0, 0]
    assert triangulate(LOWER[:1], UPPER, measure).tolist() == [1, 1, 1]


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (LOWER[:, :2], UPPER, "points in space"),
        (LOWER[:1], UPPER[:1], "three points"),
        (np.where(LOWER == 2, np.nan, LOWER), UPPER, "not finite"),
        (LOWER[[0, 1, 1, 2]], UPPER, "in one place"),
        (LOWER[None], UPPER, "one pair"),
    ],
)
def test_edges_that_make_no_strip(low: Array, high: Array, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        triangulate(low, high)


def test_measures_have_names() -> None:
    with pytest.raises(ValueError, match="no measure"):
        triangulate(LOWER, UPPER, "beauty")  # type: ignore[arg-type]


@pytest.mark.parametrize("word", [[0, 0, 0, 1, 1], [0, 0, 0, 0, 1, 1], [0, 0, 0, 1, 0, 2]])
def test_words_that_do_not_fit(word: list[int]) -> None:
    with pytest.raises(ValueError, match="the word must hold"):
        unfold(LOWER, UPPER, np.array(word))


def test_joined_points_in_one_place() -> None:
    with pytest.raises(ValueError, match="in one place"):
        unfold(LOWER, LOWER[:1], np.array([0, 0, 0]))
