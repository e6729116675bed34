"""Rows of chances: who stands where, shapes, bounds, and that the same seed draws the same roofs everywhere."""

from __future__ import annotations

import math
import zlib
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from loftwright.answers.draws import Input, Nominal, Rows, followed, joint, rows
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


def test_chances_are_made_of_the_generator_s_raw_bits() -> None:
    # Even: the upper 53 bits and one, over 2^53. Normal: sqrt(-2 ln u) cos(2 pi v) of two even ones, Box and Muller,
    # Annals of Mathematical Statistics 29 (1958) 610 (from memory). Bits: the 64-bit generator PCG.
    seed = [5, zlib.crc32(b"shell.mass")]
    raw = [int(b) for b in np.random.PCG64(seed).random_raw(8)]
    even_ones = [((b >> 11) + 1) / 2**53 for b in raw]
    assert joint(even(2.0, 4.0), "shell.mass", 4, 5).tolist() == pytest.approx([2 + 2 * u for u in even_ones[::2]])
    bell = [
        math.sqrt(-2 * math.log(u)) * math.cos(2 * math.pi * v)
        for u, v in zip(even_ones[::2], even_ones[1::2], strict=True)
    ]
    assert joint(normal(40.0, 2.0), "shell.mass", 4, 5).tolist() == pytest.approx([40.0 + g for g in bell])


def test_the_generator_s_bits_are_as_published() -> None:
    # PCG XSL RR 128/64 (O'Neill, PCG, HMC-CS-2014-0905; from memory), written out anew: state times multiplier plus
    # increment, halves of the state folded and turned right by its top six bits.
    generator = np.random.PCG64([1, 2])
    inside = generator.state["state"]
    state, step = inside["state"], inside["inc"]
    found = []
    for _ in range(5):
        state = (state * 0x2360ED051FC65DA44385DF649FCCF645 + step) % 2**128
        folded, turn = (state >> 64) ^ (state % 2**64), state >> 122
        found.append(((folded >> turn) | (folded << (64 - turn))) % 2**64)
    assert generator.random_raw(5).tolist() == found


def test_more_draws_begin_with_the_fewer() -> None:
    for value in (normal(40.0, 2.0), even(30.0, 300.0)):
        np.testing.assert_array_equal(joint(value, "shell.mass", 400, 1)[:200], joint(value, "shell.mass", 200, 1))


def test_fingerprint_of_two_streams() -> None:
    # No check of being right, only of staying the same: another machine must draw the same roofs.
    first = joint(normal(40.0, 2.0), "shell.mass", 3, 1)
    second = joint(even(30.0, 300.0), "forces.seal_line", 3, 7)
    np.testing.assert_allclose(first, [39.78513021208, 41.73902480517, 40.10300549096], rtol=1e-10)
    np.testing.assert_allclose(second, [84.5146301396, 271.415646718, 228.286131212], rtol=1e-10)


@pytest.mark.parametrize("draws", [1, 50, 2000])
def test_as_many_draws_as_are_asked_for(draws: int) -> None:
    got = drawn(draws)
    assert got.count == 5 + draws
    assert got("mass")[got.draws].size == draws
    # No two alike: the chances are real numbers.
    assert np.unique(got("mass")[got.draws]).size == np.unique(got("seal")[got.draws]).size == draws


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


def test_an_input_that_follows_another_is_that_input() -> None:
    # Pairs of a chain and a bystander: one column, one place among the rows, one stream.
    start = known(even(1.0, 3.0, Provenance.UNKNOWN))
    chain = {
        "a": start,
        "b": replace(start, same_as="a"),
        "c": replace(start, same_as="b"),
        "d": known(even(1.0, 3.0, Provenance.UNKNOWN)),
    }
    assert followed(chain, "c") == followed(chain, "b") == followed(chain, "a") == "a"
    at = Nominal(chain)
    for path in ("c", "b", "d"):
        at(path)
    assert list(at.asked) == ["a", "d"]
    got = rows(chain, at.asked, 200, 1)
    np.testing.assert_array_equal(got("a"), got("b"))
    np.testing.assert_array_equal(got("a"), got("c"))
    assert got("c")[got.alone["a"][0]] == 1.0
    assert set(got.alone) == set(got.columns) == {"a", "d"}
    assert np.abs(np.corrcoef(got("a")[got.draws], got("d")[got.draws])[0, 1]) < 0.3
