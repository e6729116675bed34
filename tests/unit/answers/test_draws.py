"""Rows of chances: who stands where, shapes, bounds, and that the same seed draws the same roofs everywhere."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from loftwright.answers.draws import Input, Nominal, Rows, joint, rows
from loftwright.core.uncertain import Provenance, Uncertain, even, exact, normal


def known(value: Uncertain, low: float = -1e9, high: float = 1e9) -> Input:
    return Input(value, low, high, "measure it")


INPUTS = {
    "mass": known(normal(40.0, 2.0)),
    "lever": known(exact(0.9)),
    "seal": known(even(30.0, 300.0, Provenance.UNKNOWN)),
    "left alone": known(normal(5.0, 1.0)),
}


def drawn(draws: int = 200, seed: int = 1, inputs: dict[str, Input] | None = None) -> Rows:
    chosen = inputs or INPUTS
    return rows(chosen, dict.fromkeys(path for path in chosen if path != "left alone"), draws, seed)


def test_nominal_first_then_each_input_alone_at_both_ends_then_the_draws() -> None:
    got = drawn()
    assert dict(got.alone) == {"mass": (1, 2), "seal": (3, 4)}
    assert got.draws == slice(5, 205)
    assert got.count == 205
    assert got("mass")[:5].tolist() == [40.0, 38.0, 42.0, 40.0, 40.0]
    assert got("seal")[:5].tolist() == [165.0, 165.0, 165.0, 30.0, 300.0]
    assert set(got("lever")) == {0.9}
    assert got("mass").shape == (205,)


def test_only_what_is_asked_for_is_drawn() -> None:
    assert set(drawn().columns) == {"mass", "lever", "seal"}
    with pytest.raises(KeyError):
        drawn()("left alone")


def test_nominal_hands_out_one_row_and_remembers_in_order() -> None:
    at = Nominal(INPUTS)
    assert at("seal").tolist() == [165.0]
    assert at("mass").tolist() == [40.0]
    assert at("seal").tolist() == [165.0]
    assert list(at.asked) == ["seal", "mass"]


def test_the_same_seed_draws_the_same_and_another_seed_does_not() -> None:
    one, again, other = drawn(seed=3), drawn(seed=3), drawn(seed=4)
    for path in one.columns:
        np.testing.assert_array_equal(one(path), again(path))
    assert not np.array_equal(one("mass")[one.draws], other("mass")[other.draws])


def test_fingerprint_of_two_streams() -> None:
    # No check of being right, only of staying the same: another machine must draw the same roofs.
    first = joint(normal(40.0, 2.0), "shell.mass", 3, 1)
    second = joint(even(30.0, 300.0), "forces.seal_line", 3, 7)
    np.testing.assert_allclose(first, [39.157383823, 39.275516664, 40.836927437], rtol=1e-10)
    np.testing.assert_allclose(second, [84.514630140, 207.540178873, 271.415646718], rtol=1e-10)


def test_more_draws_begin_with_the_same_ones() -> None:
    few, many = drawn(60), drawn(300)
    for path in ("mass", "seal"):
        np.testing.assert_array_equal(few(path)[few.draws], many(path)[many.draws][:60])


def test_a_new_input_leaves_the_others_alone() -> None:
    before, after = drawn(), drawn(inputs={"wind": known(even(5.0, 15.0)), **INPUTS})
    for path in ("mass", "seal"):
        np.testing.assert_array_equal(before(path)[before.draws], after(path)[after.draws])


def test_streams_of_two_inputs_have_nothing_to_do_with_each_other() -> None:
    names = [f"spring.{i}.force" for i in range(12)]
    values = np.array([joint(normal(0.0, 2.0), name, 2000, 1) for name in names])
    correlation = np.corrcoef(values) - np.eye(12)
    # 66 pairs of 2000: none beyond 4.5 standard errors.
    assert np.abs(correlation).max() < 4.5 / np.sqrt(2000)


def test_plus_minus_is_two_standard_deviations() -> None:
    values = joint(normal(40.0, 2.0), "mass", 20000, 1)
    assert values.mean() == pytest.approx(40.0, abs=4 / np.sqrt(20000))
    assert values.std() == pytest.approx(1.0, rel=0.03)
    assert stats.kstest(values, "norm", args=(40.0, 1.0)).pvalue > 0.001


def test_a_range_is_even_between_its_ends() -> None:
    values = joint(even(30.0, 300.0), "seal", 20000, 1)
    assert values.min() >= 30.0
    assert values.max() <= 300.0
    assert stats.kstest(values, "uniform", args=(30.0, 270.0)).pvalue > 0.001


def test_an_exact_value_does_not_move() -> None:
    assert set(joint(exact(0.9), "lever", 50, 1)) == {0.9}


def test_no_draw_leaves_its_bounds() -> None:
    inputs = {"friction": known(normal(1.0, 4.0), 0.0, 2.5)}
    got = drawn(2000, inputs=inputs)
    assert got("friction").min() == 0.0
    assert got("friction").max() == 2.5
    # The ends of the range are cut too.
    assert got("friction")[:3].tolist() == [1.0, 0.0, 2.5]
