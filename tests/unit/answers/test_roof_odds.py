"""The odds that everything holds: bounds on the force against the judgement of every rule, and gains that are none."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.lifting import all_hold
from loftwright.answers.roof_odds import Window, gains, window_of
from loftwright.answers.to_measure import Task
from loftwright.mechanics.feel import feel
from loftwright.mechanics.guide_rules import judge_guides
from loftwright.mechanics.hand_rules import hand_forces, judge_feel
from loftwright.mechanics.room import judge_room
from loftwright.project.demos import DEMOS, demo
from loftwright.reference.measuring import MEASUREMENTS


@pytest.mark.parametrize("name", DEMOS)
def test_bounds_on_the_force_say_what_the_judgement_says(name: str) -> None:
    # A second way to each verdict: at the planned force the bounds must hold in just those roofs that are judged well.
    found = judged_roof(demo(name)).numbers
    roof, rows = found.roof, found.rows
    felt = feel(roof)
    hand = hand_forces(roof, felt)
    judged = (*judge_room(found.space, roof, found.around), *judge_feel(roof, felt, hand), *judge_guides(roof, felt))
    window = replace(window_of(rows, roof, felt, hand, judged), tolerance=0.0)
    delivered = roof.fitted[0].delivered[rows.draws]
    told = window.chance(delivered) > 0
    assert np.array_equal(told, all_hold(judged, roof.possible)[rows.draws])


def test_noise_is_hardly_ever_sold_as_gain() -> None:
    dice = np.random.default_rng(5)
    sold = 0
    for _ in range(150):
        middle = 1.0 + 0.15 * dice.standard_normal(200)
        window = Window(middle - 0.08, middle + 0.08, np.ones(200, dtype=bool), 0.05)
        noise = Task(MEASUREMENTS["shell.mass"], ("shell.mass",), dice.standard_normal((3, 200)))
        sold += len(gains(window, (noise,), 0.3))
    assert sold <= 4


def test_a_telling_reading_is_noticed() -> None:
    dice = np.random.default_rng(6)
    middle = 1.0 + 0.15 * dice.standard_normal(200)
    window = Window(middle - 0.08, middle + 0.08, np.ones(200, dtype=bool), 0.05)
    telling = Task(MEASUREMENTS["shell.mass"], ("shell.mass",), middle[None] + 0.01 * dice.standard_normal((1, 200)))
    (gain,) = gains(window, (telling,), 0.3)
    assert gain.after - gain.before > 0.2
