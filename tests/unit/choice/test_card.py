"""Tuning cards: followed line by line as a person would, against all cards there are, and where the best is known."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from loftwright.choice.card import Condition, Line, TuningCard, ends_well, follow
from loftwright.choice.card_learning import learn_and_judge, learn_card
from loftwright.choice.card_signs import Asked, best_double, best_single, histogram, signs_of
from loftwright.core.errors import Bug
from loftwright.core.motion import Array, Flags

PUSH, STAYS, DAY = Asked("push", 5.0), Asked("stays up"), Asked("day", cuts=(10.0, 20.0))


def toy(seed: int, draws: int, holes: int = 5, noise: float = 2.0) -> tuple[Flags, Array]:
    """Invented roofs: the further along the row, the lighter to start and the better it stays, the harder to pull."""
    rng = np.random.default_rng(seed)
    along = np.linspace(-1, 1, holes)[:, None]
    heavy, light, day = rng.normal(0, 14, draws), rng.normal(0, 10, draws), rng.choice([5.0, 15.0, 25.0], draws)
    push, hold = 100 + heavy - 30 * along, 40 + light - 0.5 * heavy + 22 * along
    works = (push < 118) & (push > 75) & (hold > 22) & (hold < 72)
    warm = 0.4 * (day - 15)
    seen = np.array([push - warm, (hold + 0.5 * warm > 20).astype(float) * 1e3, np.broadcast_to(day, push.shape)])
    seen[0] += noise * rng.standard_normal(push.shape)
    seen[1] = seen[1] > 0
    return works, seen


def by_hand(card: TuningCard, readings: Array, draw: int) -> tuple[int, int]:
    """A person at the van: one roof, one line after the other."""
    hole, ticked, moves = card.start, {card.start}, 0
    while moves < card.most_moves:
        for line in card.lines:
            if line.at != hole or (line.go != hole and line.go in ticked):
                continue
            seen = [(c, readings[c.reading, hole, draw]) for c in line.conditions]
            if all(value > c.limit if c.over else value <= c.limit for c, value in seen):
                break
        else:
            return hole, moves
        if line.go == hole:
            return hole, moves
        hole, moves = line.go, moves + 1
        ticked.add(hole)
    return hole, moves


def random_card(rng: np.random.Generator, holes: int, readings: int) -> TuningCard:
    lines = [
        Line(
            int(rng.integers(holes)),
            tuple(
                Condition(int(r), bool(rng.integers(2)), float(rng.normal()))
                for r in rng.choice(readings, rng.integers(1, 3), replace=False)
            ),
            int(rng.integers(holes)),
        )
        for _ in range(12)
    ]
    return TuningCard(int(rng.integers(holes)), tuple(lines), int(rng.integers(1, 5)), 0.0, 0.0)


@pytest.mark.parametrize("seed", range(8))
def test_followed_as_a_person_would(seed: int) -> None:
    rng = np.random.default_rng(seed)
    readings = rng.standard_normal((3, 4, 60))
    readings[rng.random(readings.shape) < 0.1] = np.nan
    card = random_card(rng, 4, 3)
    got = follow(card, readings)
    assert [(int(h), int(m)) for h, m in zip(got.hole, got.moves, strict=True)] == [
        by_hand(card, readings, d) for d in range(60)
    ]


def test_one_line_is_the_best_of_all() -> None:
    works, seen = toy(1, 400, holes=3)
    start = int(works.mean(axis=1).argmax())
    limits = np.arange(0, 250, 5.0)
    one = [(Condition(0, over, limit),) for over in (True, False) for limit in limits]
    one += [(Condition(1, over, 0.5),) for over in (True, False)]
    every = [*one, *(a + b for a, b in product(one[:-2], one[-2:]))]
    best = max(
        ends_well(TuningCard(start, (Line(start, c, go),), 3, 0, 0), works, seen).mean()
        for c in every
        for go in range(3)
    )
    card = learn_card(works, seen[:2], (PUSH, STAYS), most_lines=1)
    # Limits are tried at a dozen rounded quantiles only: all but a few draws of the best.
    assert best >= card.learned >= best - 0.01
    assert card.learned > card.staying + 0.05
    assert len(card.lines) == 1


@pytest.mark.parametrize("seed", range(6))
def test_best_conditions_are_the_best_of_all(seed: int) -> None:
    """Every limit, way and pair tried one by one, on gains of chance; some readings not taken."""
    rng = np.random.default_rng(seed)
    readings = np.stack([rng.normal(50, 20, (1, 90)), rng.integers(0, 2, (1, 90)), rng.choice([5.0, 15, 25], (1, 90))])
    readings[0, 0, :9] = np.nan
    signs = signs_of(readings, (PUSH, STAYS, DAY))
    delta = rng.normal(0, 1, (3, 90))
    single = [
        ((r, over, n),) for r in range(3) for over in (0, 1) for n in range(np.isfinite(signs.limits[r, 0]).sum())
    ]
    double = [a + b for a in single for b in single if a[0][0] < b[0][0]]
    side = signs.span + 2
    offset = np.arange(3)[:, None] * side
    got_one = best_single(histogram(signs.place[:, 0] + offset, delta, side), np.isfinite(signs.limits[:, 0]))
    sums = histogram(signs.cell[:, 0], delta, side * side).reshape(3, 3, side, side)
    got_two = best_double(sums, np.isfinite(signs.limits[:, 0]), signs.pairs)
    for every, got in ((single, got_one), (double, got_two)):
        for case, gain, conditions in got:
            best = max(float(delta[case, signs.fits(0, c)].sum()) for c in every)
            assert gain == pytest.approx(best)
            assert gain == pytest.approx(delta[case, signs.fits(0, conditions)].sum())


def test_a_reading_that_tells_all_is_used() -> None:
    """Which hole works is written on the roof, in fives: the card must find every one."""
    rng = np.random.default_rng(2)
    right = rng.integers(0, 4, 800)
    works = np.arange(4)[:, None] == right
    seen = np.broadcast_to(10.0 * right, (1, 4, 800))
    card = learn_card(works, seen, (PUSH,))
    assert card.learned == 1.0
    assert follow(card, seen).moves.max() <= 3


def test_a_hole_that_only_informs_is_used() -> None:
    """The start says that it fails, hole 1 never works but says which of 2 and 3 does: nothing is gained until then."""
    right = np.repeat([0, 2, 3], [330, 140, 130])
    works = np.arange(4)[:, None] == right
    seen = np.zeros((1, 4, 600))
    seen[0, 0] = right != 0
    seen[0, 1] = right == 3
    card = learn_card(works, seen, (STAYS,))
    assert card.learned == 1.0
    assert {(line.at, line.go) for line in card.lines} >= {(0, 1)}
    assert learn_card(works, seen, (STAYS,), most_lines=1).learned == pytest.approx(470 / 600)


def test_limits_are_round_and_cuts_are_kept() -> None:
    card = learn_card(*toy(3, 1500), (PUSH, STAYS, DAY))
    named = [c for line in card.lines for c in line.conditions]
    assert {c.reading for c in named} >= {0}
    for c in named:
        if c.reading == 0:
            assert c.limit % 5.0 == 0
        else:
            assert c.limit in ((0.5,) if c.reading == 1 else DAY.cuts)
    assert len(card.lines) <= 12
    assert max(sum(line.at == h for line in card.lines) for h in range(5)) <= 4


def test_near_the_best_that_any_card_could_do() -> None:
    works, seen = toy(4, 3000)
    fresh, fresh_seen = toy(5, 20_000)
    card = learn_card(works, seen, (PUSH, STAYS, DAY))
    found, covered = ends_well(card, fresh, fresh_seen).mean(), fresh.any(axis=0).mean()
    first = fresh[card.start].mean()
    # Of what holes can add to the first one, most is had by the card.
    assert found - first > 0.7 * (covered - first) > 0.1


def test_honest_odds() -> None:
    works, seen = toy(6, 1200)
    fresh, fresh_seen = toy(7, 30_000)
    judged = learn_and_judge(works, seen, (PUSH, STAYS, DAY))
    truth = ends_well(judged.card, fresh, fresh_seen).mean()
    assert judged.odds == pytest.approx(truth, abs=3 * judged.error)
    assert judged.error < 0.02


def test_readings_of_nothing_teach_nothing() -> None:
    rng = np.random.default_rng(8)
    works = rng.random((4, 1500)) < np.array([[0.6], [0.5], [0.4], [0.5]])
    seen = rng.normal(100, 20, (2, 4, 1500))
    judged = learn_and_judge(works, seen, (PUSH, PUSH))
    assert judged.odds == pytest.approx(0.6, abs=0.04)


def test_a_better_start_is_taken() -> None:
    """At hole 0 nothing is seen; hole 1, less likely alone, says which hole is right."""
    right = np.repeat([0, 1, 2], [500, 300, 200])
    works = np.arange(3)[:, None] == right
    seen = np.full((1, 3, 1000), 50.0)
    seen[0, 1] = 20.0 * right
    alone = learn_card(works, seen, (PUSH,), most_moves=1)
    assert (alone.start, alone.learned, alone.lines) == (0, 0.5, ())
    both = learn_card(works, seen, (PUSH,), starts=(0, 1), most_moves=1)
    assert (both.start, both.learned) == (1, 1.0)


def test_what_cannot_be_read_is_no_reason() -> None:
    works, seen = toy(9, 800)
    seen[0] = np.nan
    card = learn_card(works, seen, (PUSH, STAYS, DAY))
    assert all(c.reading != 0 for line in card.lines for c in line.conditions)


def test_shapes_must_belong_together() -> None:
    works, seen = toy(10, 50)
    with pytest.raises(Bug):
        learn_card(works, seen, (PUSH, STAYS))
