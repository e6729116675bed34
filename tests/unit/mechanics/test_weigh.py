"""Weighing: exact constructed cases, refusals and both sides of each rule."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.core.checks import Verdict
from loftwright.core.errors import ProjectFault
from loftwright.core.uncertain import Uncertain, even, exact, normal
from loftwright.mechanics.weigh import (
    FINEST_READING_SD,
    SHAPE_HEIGHT_DOUBT,
    Balance,
    Line,
    NotEnough,
    Reading,
    Tilted,
    Weighed,
    Whole,
    agreement,
    body,
    centre_height,
    chance_of,
    combine,
    one_more,
    skin,
    skin_area,
    standard_deviation,
    weigh,
)

REAR, FRONT = normal(0.05, 0.006), normal(2.35, 0.006)


def kilograms(value: float, two_sd: float = 0.5) -> Uncertain:
    return normal(value, two_sd)


def settled(readings: list[Reading]) -> Weighed:
    got = weigh(readings)
    assert isinstance(got, Weighed)
    return got


def readings_of(mass: float, centre: float, two_sd: float = 0.5) -> list[Reading]:
    span = FRONT.nominal - REAR.nominal
    rear = mass * (FRONT.nominal - centre) / span
    return [
        Line(REAR, FRONT, kilograms(rear, two_sd)),
        Line(FRONT, REAR, kilograms(mass - rear, two_sd)),
        Whole(kilograms(mass, two_sd)),
        Balance(normal(centre, 0.01)),
    ]


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
    assert int(np.argmax(np.abs(got.standardised))) == 2 or verdict is Verdict.HOLDS


def test_without_a_spare_reading_agreement_is_not_known() -> None:
    got = settled(readings_of(46.0, 1.3)[:2])
    assert agreement(got).verdict is Verdict.NOT_KNOWN
    assert got.standardised == pytest.approx([0.0, 0.0])


def test_residuals_of_three_equal_weighings() -> None:
    # Constructed: readings 45, 46, 47 +- 0.5 kg have mean 46, chi-square (1 + 0 + 1) / 0.25^2 = 32.
    got = settled([*(Whole(kilograms(v)) for v in (45.0, 46.0, 47.0)), Balance(normal(1.3, 0.01))])
    assert got.mass == pytest.approx(46.0)
    assert got.residuals == pytest.approx([-1.0, 0.0, 1.0, 0.0], abs=1e-9)
    assert got.chi2 == pytest.approx(32.0)
    assert got.standardised[2] == pytest.approx(1.0 / (0.25 * math.sqrt(2.0 / 3.0)))
    assert got.two_sd[0] == pytest.approx(0.5 / math.sqrt(3.0))


def test_condition_tells_good_layouts_from_bad_ones() -> None:
    good = settled(readings_of(46.0, 1.3)[2:])
    near = normal(2.25, 0.006)
    bad = settled([Line(REAR, FRONT, kilograms(21.0)), Line(REAR, near, kilograms(19.864))])
    assert good.condition == pytest.approx(1.0)
    assert bad.condition > 10


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
    ("box", "area", "x", "z"),
    [
        # A flat lid: all skin in the rim plane.
        ((2.0, 1.0, 0.0, 0.0, 0.0), 2.0, 1.0, 0.0),
        # An open box: lid 2 at 0.5, sides 2 and ends 1 at 0.25.
        ((2.0, 1.0, 0.5, 0.5, 0.5), 5.0, 1.0, 0.35),
        # A wedge 3 long, 4 high at the front, 1 wide: top 5 at (1.5, 2), two triangles 6 each at (2, 4/3), front end 4
        # at (3, 2).
        ((3.0, 1.0, 0.0, 2.0, 4.0), 21.0, (7.5 + 24.0 + 12.0) / 21.0, (10.0 + 16.0 + 8.0) / 21.0),
    ],
)
def test_skin_of_simple_bodies(box: tuple[float, ...], area: float, x: float, z: float) -> None:
    got = skin(*box)
    assert float(got.area) == pytest.approx(area)
    assert float(skin_area(*box)) == pytest.approx(area)
    assert (float(got.x), float(got.z)) == pytest.approx((x, z))


def test_inertia_of_a_flat_lid_and_an_open_box() -> None:
    assert float(skin(2.0, 1.0, 0.0, 0.0, 0.0).gyration2) == pytest.approx(4.0 / 12)
    # Open box: lid 2 (L^2/12), sides 2 (L^2/12 + H^2/12), ends 1 (L^2/4 + H^2/12) about their own heights.
    lid = 2.0 * (4 / 12 + 0.15**2)
    sides = 2.0 * (4 / 12 + 0.25 / 12 + 0.1**2)
    ends = 1.0 * (1.0 + 0.25 / 12 + 0.1**2)
    assert float(skin(2.0, 1.0, 0.5, 0.5, 0.5).gyration2) == pytest.approx((lid + sides + ends) / 5)


def test_skin_by_numeric_integration() -> None:
    length, width, heights = 2.4, 1.5, (0.22, 0.36, 0.31)
    n = 4000
    edges = np.linspace(0.0, length, n + 1)
    top = np.interp(edges, [0.0, length / 2, length], heights)
    x, h, dx = (edges[1:] + edges[:-1]) / 2, (top[1:] + top[:-1]) / 2, length / n
    strips = width * np.hypot(dx, np.diff(top))
    walls = 2 * h * dx
    pieces = [(strips, x, h, 0 * h), (walls, x, h / 2, h**2 / 12)]
    for place, tall in ((0.0, heights[0]), (length, heights[2])):
        pieces.append(tuple(np.array([v]) for v in (width * tall, place, tall / 2, tall**2 / 12)))
    area = sum(float(np.sum(a)) for a, *_ in pieces)
    cx = sum(float(np.sum(a * px)) for a, px, _, _ in pieces) / area
    cz = sum(float(np.sum(a * pz)) for a, _, pz, _ in pieces) / area
    second = sum(float(np.sum(a * ((px - cx) ** 2 + (pz - cz) ** 2 + own))) for a, px, pz, own in pieces) / area
    got = skin(length, width, *heights)
    assert (float(got.area), float(got.x), float(got.z), float(got.gyration2)) == pytest.approx(
        (area, cx, cz, second), rel=1e-6
    )


def test_skin_broadcasts_over_draws() -> None:
    got = skin(np.array([2.0, 2.4]), 1.5, 0.3, np.array([[0.3], [0.4]]), 0.3)
    assert got.area.shape == got.x.shape == got.z.shape == got.gyration2.shape == (2, 2)
    assert float(got.z[1, 1]) == float(skin(2.4, 1.5, 0.3, 0.4, 0.3).z)


def test_bodies_add_and_come_off_again() -> None:
    shell, panel = body(46.0, 1.2, 0.2, 20.0), body(np.array([6.0, 8.0]), 1.5, 0.4)
    both = combine([shell, panel])
    back = combine([both], [panel])
    for got, want in zip(
        (back.mass, back.x, back.z, back.inertia), (shell.mass, shell.x, shell.z, shell.inertia), strict=True
    ):
        assert got == pytest.approx(np.broadcast_to(want, (2,)), rel=1e-12)
    about = both.inertia_about(2.2, 0.0)
    assert about == pytest.approx(shell.inertia_about(2.2, 0.0) + panel.inertia_about(2.2, 0.0))


def test_no_more_comes_off_than_there_is() -> None:
    with pytest.raises(ProjectFault, match=r"is up to 12 kg: it must be less than the 10 kg there is"):
        combine([body(10.0, 1.0, 0.1)], [body(np.array([3.0, 12.0]), 1.0, 0.1)])
    with pytest.raises(ProjectFault, match=r"must have been part of the shell as weighed"):
        combine([body(10.0, 1.0, 0.1, 2.0)], [body(3.0, 4.0, 0.1)])


@pytest.mark.parametrize(("degrees", "by", "verdict"), [(10.0, "shape", Verdict.FAILS), (35.0, "tilt", Verdict.HOLDS)])
def test_a_slight_tilt_leaves_the_height_to_the_shape(degrees: float, by: str, verdict: Verdict) -> None:
    angle, h, mass, centre = math.radians(degrees), 0.21, 60.0, 1.1
    level = readings_of(mass, centre)[:2]
    reads = mass * ((FRONT.nominal - centre) + h * math.tan(angle)) / (FRONT.nominal - REAR.nominal)
    tilted = Tilted(normal(angle, math.radians(0.5)), REAR, FRONT, kilograms(reads))
    got = settled([*level, tilted])
    assert got.height == pytest.approx(h)
    found = centre_height(0.24, 0.35, got)
    assert found.check is not None
    assert found.check.verdict is verdict
    assert found.check.value == pytest.approx(got.two_sd[2])
    assert found.by == by
    assert found.height == pytest.approx(h if by == "tilt" else 0.24)


def test_doubt_of_the_tilt_itself_reaches_the_height() -> None:
    # Constructed: h = (R L / m - (L - a)) / tan t, so dh/dt = -h / (sin t cos t); with sure scales only t counts.
    angle, h, mass = math.radians(40.0), 0.25, 46.0
    rear, front = exact(0.0), exact(2.0)
    level = [Line(rear, front, kilograms(mass / 2, 0.05)), Line(front, rear, kilograms(mass / 2, 0.05))]
    reads = kilograms(mass * (1.0 + h * math.tan(angle)) / 2.0, 0.05)
    got = settled([*level, Tilted(normal(angle, math.radians(3.0)), rear, front, reads)])
    by_angle = math.radians(3.0) * h / (math.sin(angle) * math.cos(angle))
    by_scales = 2.0 / (mass * math.tan(angle)) * 0.05 * math.sqrt(2.0)
    assert by_angle > 5 * by_scales
    assert got.two_sd[2] == pytest.approx(by_angle, rel=0.03)


def test_without_a_tilt_the_shape_gives_the_height() -> None:
    for weighed in (None, NotEnough("two readings"), settled(readings_of(46.0, 1.3))):
        found = centre_height(0.24, 0.35, weighed)
        assert (found.height, found.two_sd, found.by, found.check) == (0.24, SHAPE_HEIGHT_DOUBT * 0.35, "shape", None)


@pytest.mark.parametrize(
    ("chi2", "freedom"), [(3.841, 1), (5.991, 2), (7.815, 3), (9.488, 4), (11.070, 5), (18.307, 10)]
)
def test_chances_of_chi_square(chi2: float, freedom: int) -> None:
    # Upper 5 % points of the printed chi-square table, from memory.
    assert chance_of(chi2, freedom) == pytest.approx(0.05, abs=2e-5)
