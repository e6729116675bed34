"""Weighing: exact constructed cases, refusals and both sides of each rule."""

from __future__ import annotations

import importlib.util
import math
from pathlib import Path

import numpy as np
import pytest

from loftwright.core.checks import Verdict
from loftwright.core.errors import ProjectFault
from loftwright.core.uncertain import even, exact, normal
from loftwright.mechanics.weigh import (
    FINEST_READING_SD,
    Balance,
    Line,
    NotEnough,
    Reading,
    Tilted,
    Weighed,
    Whole,
    agreement,
    chance_of,
    differs_most,
    one_more,
    standard_deviation,
    weigh,
)

_SPEC = importlib.util.spec_from_file_location("weighings", Path(__file__).with_name("weighings.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
weighings = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(weighings)
REAR, FRONT = weighings.REAR, weighings.FRONT
kilograms, settled, readings_of = weighings.kilograms, weighings.settled, weighings.readings_of


@pytest.mark.parametrize("chosen", [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3), (0, 1, 2, 3)])
def test_any_two_kinds_of_reading_give_back_mass_and_centre(chosen: tuple[int, ...]) -> None:
    readings = readings_of(46.0, 1.3)
    got = settled([readings[i] for i in chosen])
    assert got.mass == pytest.approx(46.0, rel=1e-9)
    assert got.centre == pytest.approx(1.3, rel=1e-9)
    assert got.freedom == len(chosen) - 2
    assert got.chi2 == pytest.approx(0.0, abs=1e-12)
    assert got.height is None


def test_two_lines_carry_the_doubt_of_scales_and_tape() -> None:
    # Constructed: m = R1 + R2 does not feel the tape; c = (R1 x1 + R2 x2) / m, differentiated by hand.
    got = settled(readings_of(46.0, 1.2)[:2])  # centre half-way: 23 kg each, span 2.3 m
    assert got.two_sd[0] == pytest.approx(0.5 * math.sqrt(2), rel=1e-9)
    scales = 0.5 * math.sqrt(2) * 1.15 / 46
    tape = 0.006 * math.sqrt(0.5)
    assert got.two_sd[1] == pytest.approx(math.hypot(scales, tape), rel=1e-9)


def test_balance_and_whole_carry_their_own_doubts() -> None:
    got = settled([Whole(kilograms(46.0)), Balance(normal(1.3, 0.01))])
    assert got.covariance == pytest.approx(np.diag([0.25**2, 0.005**2]), rel=1e-9)


def test_exact_readings_keep_the_finest_doubt_of_scales() -> None:
    got = settled([Whole(exact(46.0)), Balance(exact(1.3))])
    assert got.two_sd == pytest.approx((2 * FINEST_READING_SD, 0.001))


def test_even_ranges_count_with_their_standard_deviation() -> None:
    assert standard_deviation(even(40.0, 50.0)) == pytest.approx(5.0 / math.sqrt(3.0))
    assert standard_deviation(normal(46.0, 2.0)) == 1.0
    assert standard_deviation(exact(46.0)) == 0.0


@pytest.mark.parametrize(
    ("readings", "missing", "mass", "centre"),
    [
        ([], "two readings", None, None),
        ([Whole(kilograms(46.0)), Whole(kilograms(47.0))], "where the centre is", 46.5, None),
        ([Balance(normal(1.2, 0.01)), Balance(normal(1.22, 0.01))], "a reading of the scales", None, 1.21),
        ([Line(REAR, FRONT, kilograms(20.0))], "a different reading", None, None),
        ([Line(REAR, FRONT, kilograms(20.0)), Line(REAR, FRONT, kilograms(20.4))], "a different reading", None, None),
        # Both readings are moments about the same front support.
        (
            [Line(REAR, FRONT, kilograms(20.0)), Line(normal(0.5, 0.006), FRONT, kilograms(24.9))],
            "a different reading",
            None,
            None,
        ),
        (
            [Line(REAR, FRONT, kilograms(20.0)), Tilted(exact(0.5), REAR, FRONT, kilograms(24.0))],
            "a different reading",
            None,
            None,
        ),
        (
            [Line(REAR, FRONT, kilograms(10.0)), Line(FRONT, REAR, kilograms(-30.0))],
            "readings that agree",
            None,
            None,
        ),
    ],
)
def test_too_few_readings_say_what_is_missing(
    readings: list[Reading], missing: str, mass: float | None, centre: float | None
) -> None:
    got = weigh(readings)
    assert isinstance(got, NotEnough)
    assert got.missing.startswith(missing)
    assert got.mass == (None if mass is None else pytest.approx(mass))
    assert got.centre == (None if centre is None else pytest.approx(centre))


def test_impossible_supports_are_all_named() -> None:
    with pytest.raises(ProjectFault) as caught:
        weigh([Line(REAR, REAR, kilograms(20.0)), Tilted(exact(0.0), REAR, FRONT, kilograms(20.0))])
    assert [fault.sentence() for fault in caught.value.faults] == [
        "[weighing] reading 1, other is the same place as at: the two supports must stand apart; "
        "give the place of the support that carries the rest.",
        "[weighing] reading 2, angle is 0 degrees: a tilt lies between 0 and 90 degrees; "
        "give the angle by which the other end was raised.",
    ]


@pytest.mark.parametrize(("extra", "verdict"), [(0.5, Verdict.HOLDS), (3.0, Verdict.FAILS)])
def test_contradicting_readings_are_found(extra: float, verdict: Verdict) -> None:
    readings = readings_of(46.0, 1.3)
    readings[2] = Whole(kilograms(46.0 + extra))
    got = settled(readings)
    check = agreement(got)
    assert check.verdict is verdict
    assert check.part == ("most of all reading 3" if verdict is Verdict.FAILS else "")


def test_with_one_spare_reading_none_can_be_named() -> None:
    readings = readings_of(46.0, 1.3)[:3]
    readings[2] = Whole(kilograms(50.0))
    got = settled(readings)
    assert np.abs(got.standardised) == pytest.approx(np.abs(got.standardised[:1]).repeat(3))
    check = agreement(got)
    assert (check.verdict, check.part) == (Verdict.FAILS, "")


def test_a_tilted_reading_is_named_as_such() -> None:
    tilted = [
        Tilted(exact(t), REAR, FRONT, kilograms(46.0 * (1.05 + 0.2 * math.tan(t)) / 2.3 + extra))
        for t, extra in ((0.5, 0.0), (0.6, 5.0), (0.7, 0.0))
    ]
    assert differs_most(settled([*readings_of(46.0, 1.3), *tilted])) == "the tilted reading"


def test_without_a_spare_reading_agreement_is_not_known() -> None:
    got = settled(readings_of(46.0, 1.3)[:2])
    assert agreement(got).verdict is Verdict.NOT_KNOWN
    assert got.standardised == pytest.approx([0.0, 0.0])


def test_residuals_of_three_equal_weighings() -> None:
    # Constructed: readings 45, 46, 47 +- 0.5 kg have mean 46, chi-square (1 + 0 + 1) / 0.25^2 = 32.
    got = settled([*(Whole(kilograms(v)) for v in (45.0, 46.0, 47.0)), Balance(normal(1.3, 0.01))])
    assert got.mass == pytest.approx(46.0)
    assert got.chi2 == pytest.approx(32.0)
    assert got.standardised[2] == pytest.approx(1.0 / (0.25 * math.sqrt(2.0 / 3.0)))
    assert got.two_sd[0] == pytest.approx(0.5 / math.sqrt(3.0))


def test_what_one_more_reading_would_be_worth() -> None:
    readings = readings_of(46.0, 1.3)
    now = settled(readings[:2])
    then = one_more(readings[:2], Balance(normal(0.7, 0.01)))
    assert isinstance(then, Weighed)
    assert (then.mass, then.centre) == pytest.approx((now.mass, now.centre), rel=1e-9)
    assert then.two_sd[1] < now.two_sd[1]
    again = one_more(readings[:2], Whole(kilograms(99.0)))
    assert isinstance(again, Weighed)
    # Sum of two readings and a third of the whole, each +- 0.5 kg: variances 2 and 1 in parallel.
    assert again.two_sd[0] == pytest.approx(0.5 * math.sqrt(2.0 / 3.0))
    assert isinstance(one_more(readings[:1], readings[0]), NotEnough)
    assert isinstance(one_more(readings[:2], Tilted(exact(0.5), REAR, FRONT, kilograms(20.0))), NotEnough)


def test_mass_and_centre_err_together() -> None:
    # Conditional mean of a pair of normal errors and the spread of m (c - x0), computed here from first principles.
    got = settled(readings_of(46.0, 1.3)[:2])
    gauss = np.random.default_rng(7).standard_normal((40000, 2)) @ np.linalg.cholesky(got.covariance).T
    mass, centre = got.mass + gauss[:, 0], got.centre + gauss[:, 1]
    assert np.polyfit(mass, centre, 1)[0] == pytest.approx(got.centre_per_mass, rel=0.08)
    assert np.corrcoef(mass, centre)[0, 1] == pytest.approx(got.correlation, abs=0.01)
    for about in (0.0, 2.0):
        assert 2 * np.std(mass * (centre - about)) == pytest.approx(got.moment_doubt(about), rel=0.02)


@pytest.mark.parametrize(
    ("chi2", "freedom"), [(3.841, 1), (5.991, 2), (7.815, 3), (9.488, 4), (11.070, 5), (18.307, 10)]
)
def test_chances_of_chi_square(chi2: float, freedom: int) -> None:
    # Upper 5 % points of the printed chi-square table, from memory.
    assert chance_of(chi2, freedom) == pytest.approx(0.05, abs=2e-5)
