"""Home tests and lay-ups: exact cases and ranges."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Verdict
from loftwright.strength.shell_rules import judge_test
from loftwright.strength.shell_stiffness import (
    Part,
    bending_from_test,
    bending_of,
    closed_constant,
    open_constant,
    per_degree,
    reading_doubt,
    stiffness_by_layup,
    twist_from_test,
    twist_of_degree,
)


def test_solid_bar_cut_into_layers_is_the_solid_bar() -> None:
    layers = [Part(7e9, 0.3, 0.01, 0.01 * n) for n in range(5)]
    assert bending_of(layers) == pytest.approx(7e9 * 0.3 * 0.05**3 / 12)


def test_flat_box_of_two_skins_is_the_same_by_plate_and_by_box() -> None:
    # Two skins in shear: GJ / G = 4 b d^2 t1 t2 / (t1 + t2), as a plate; as a closed box whose ends count for nothing.
    b, d, t1, t2 = 1.2, 0.03, 0.004, 0.003
    assert closed_constant(b * d, [(b, t1), (b, t2)]) == pytest.approx(4 * b * d**2 * t1 * t2 / (t1 + t2))


def test_slit_box_against_closed_one() -> None:
    walls = [(1.0, 0.0025), (0.06, 0.0025), (1.0, 0.0025), (0.06, 0.0025)]
    assert closed_constant(0.06, walls) / open_constant(walls) == pytest.approx(1537.9, abs=0.1)


def test_moment_per_degree_both_ways() -> None:
    twist = np.array([50.0, 7200.0])
    assert twist_of_degree(per_degree(twist, 2.1), 2.1) == pytest.approx(twist)


def test_corner_test_gives_the_moment_per_degree_whatever_the_length() -> None:
    # T = F b and angle w / b, both read directly.
    for length in (1.5, 2.5):
        k = per_degree(twist_from_test(40.0, 1.2, length, 0.03), length)
        assert k == pytest.approx(40.0 * 1.2 / np.degrees(0.03 / 1.2))


def test_doubt_against_many_readings() -> None:
    draw = np.random.default_rng(3)
    force = draw.normal(100.0, 1.0, 40_000)
    with_weight, without = draw.normal(0.030, 0.0005, 40_000), draw.normal(0.010, 0.0005, 40_000)
    drawn = bending_from_test(force, 2.0, with_weight - without)
    said = reading_doubt(100.0, 2.0, 0.020, 0.001)
    assert 2 * np.std(drawn) / bending_from_test(100.0, 2.0, 0.020) == pytest.approx(said, rel=0.03)


def test_test_that_tells_and_one_that_does_not() -> None:
    for sinks, verdict in ((0.015, Verdict.HOLDS), (0.003, Verdict.FAILS)):
        one = judge_test(reading_doubt(100.0, 2.0, sinks, 0.001), which="bending test")
        assert one.value is not None
        assert one.limit is not None
        assert one.rule.judge(float(one.value), float(one.limit)).verdict is verdict


@pytest.mark.parametrize("made_of", ["foam-plywood", "glass-fibre", "aluminium-skin", "plywood", "unknown"])
def test_ranges_run_upwards_and_unknown_holds_them_all(made_of: str) -> None:
    found, every = stiffness_by_layup(made_of, 1.2, 0.06), stiffness_by_layup("unknown", 1.2, 0.06)
    for one, whole in ((found.bending, every.bending), (found.twist, every.twist)):
        assert 0 < one[0] < one[1]
        assert whole[0] <= one[0]
        assert whole[1] >= one[1]


def test_a_liner_stiffens_a_tray_a_hundredfold_and_not_known_spans_both() -> None:
    bare = stiffness_by_layup("glass-fibre", 1.2, 0.06, cavity=0.04, lined=False)
    shut = stiffness_by_layup("glass-fibre", 1.2, 0.06, cavity=0.04, lined=True)
    either = stiffness_by_layup("glass-fibre", 1.2, 0.06, cavity=0.04)
    assert shut.twist[0] > 100 * bare.twist[0]
    assert either.twist == (bare.twist[0], shut.twist[1])


def test_twist_of_a_flat_sandwich_by_hand() -> None:
    # High end: G 0.7 GPa, skins 6 and 5 mm, 40.5 mm apart, 1.2 m wide.
    found = stiffness_by_layup("foam-plywood", 1.2, 0.0)
    assert found.twist[1] == pytest.approx(0.7e9 * 4 * 1.2 * 0.0405**2 * 0.006 * 0.005 / 0.011)


def test_what_is_refused() -> None:
    with pytest.raises(ValueError, match="no known lay-up"):
        stiffness_by_layup("paper", 1.2, 0.06)
    with pytest.raises(ValueError, match="cavity"):
        stiffness_by_layup("plywood", 1.2, 0.06, lined=True)
