"""What holds for every weighing, and the same answers by general-purpose least squares."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import optimize, stats

from loftwright.core.uncertain import Uncertain, exact, normal
from loftwright.mechanics.weigh import Balance, Line, Reading, Tilted, Weighed, Whole, chance_of, weigh

SEEDS = range(12)


def made(seed: int, noise: float = 1.0, tilted: bool = True) -> list[Reading]:
    """Return readings of a random shell, `noise` times as wrong as they say."""
    rng = np.random.default_rng(seed)
    mass, centre, height = rng.uniform(30, 80), rng.uniform(0.9, 1.4), rng.uniform(0.1, 0.3)
    rear, front = rng.uniform(0.0, 0.2), rng.uniform(2.1, 2.4)

    def read(value: float, two_sd: float) -> Uncertain:
        return normal(value + noise * two_sd / 2 * rng.standard_normal(), two_sd)

    at, other = read(rear, 0.006), read(front, 0.006)
    share = (front - centre) / (front - rear)
    readings: list[Reading] = [
        Line(at, other, read(mass * share, 0.5)),
        Line(other, at, read(mass * (1 - share), 0.5)),
        Whole(read(mass, 0.8)),
        Balance(read(centre, 0.012)),
    ]
    if tilted:
        lean = rng.uniform(0.4, 0.7)
        angle = read(lean, 0.009)
        readings.append(Tilted(angle, at, other, read(mass * (share + height * np.tan(lean) / (front - rear)), 0.5)))
    return readings


def settled(readings: list[Reading]) -> Weighed:
    got = weigh(readings)
    assert isinstance(got, Weighed)
    return got


def shifted(value: Uncertain, by: float) -> Uncertain:
    return replace(value, nominal=value.nominal + by, low=value.low + by, high=value.high + by)


def scaled(value: Uncertain, by: float) -> Uncertain:
    return replace(value, nominal=value.nominal * by, low=value.low * by, high=value.high * by)


def changed(reading: Reading, place: float, stretch: float, weight: float) -> Reading:
    """Return a reading with its places moved and then stretched, its scales in another unit."""

    def moved(value: Uncertain) -> Uncertain:
        return scaled(shifted(value, place), stretch)

    match reading:
        case Whole(reads):
            return Whole(scaled(reads, weight))
        case Balance(at):
            return Balance(moved(at))
        case Line(at, other, reads):
            return Line(moved(at), moved(other), scaled(reads, weight))
        case Tilted(angle, at, other, reads):
            return Tilted(angle, moved(at), moved(other), scaled(reads, weight))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_datum_does_not_matter(seed: int) -> None:
    readings = made(seed)
    got, there = settled(readings), settled([changed(r, -7.5, 1.0, 1.0) for r in readings])
    assert there.mass == pytest.approx(got.mass, rel=1e-9)
    assert there.centre + 7.5 == pytest.approx(got.centre, rel=1e-9)
    assert there.height == pytest.approx(got.height, rel=1e-8)
    assert there.covariance == pytest.approx(got.covariance, rel=1e-6, abs=1e-12)
    assert there.chi2 == pytest.approx(got.chi2, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_units_do_not_matter(seed: int) -> None:
    readings, inch, pound = made(seed), 1 / 0.0254, 1 / 0.45359237
    got, there = settled(readings), settled([changed(r, 0.0, inch, pound) for r in readings])
    assert there.mass == pytest.approx(got.mass * pound, rel=1e-9)
    assert there.centre == pytest.approx(got.centre * inch, rel=1e-9)
    units = np.array([pound, inch, inch])
    assert there.covariance == pytest.approx(got.covariance * np.outer(units, units), rel=1e-6, abs=1e-12)
    assert there.chi2 == pytest.approx(got.chi2, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_mirrored_shell_gives_the_mirrored_answer(seed: int) -> None:
    readings, length = made(seed), 2.5

    def turned(value: Uncertain) -> Uncertain:
        return Uncertain(length - value.nominal, length - value.high, length - value.low, value.shape, value.provenance)

    mirrored: list[Reading] = []
    for r in readings:
        if isinstance(r, Whole):
            mirrored.append(r)
        elif isinstance(r, Balance):
            mirrored.append(Balance(turned(r.at)))
        else:
            mirrored.append(replace(r, at=turned(r.at), other=turned(r.other)))
    got, there = settled(readings), settled(mirrored)
    assert (there.mass, length - there.centre, there.height) == pytest.approx((got.mass, got.centre, got.height))
    assert there.two_sd == pytest.approx(got.two_sd, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_readings_does_not_matter(seed: int) -> None:
    readings = made(seed)
    got, there = settled(readings), settled(readings[::-1])
    assert (there.mass, there.centre, there.chi2) == pytest.approx((got.mass, got.centre, got.chi2), rel=1e-9)
    assert there.standardised[::-1] == pytest.approx(got.standardised, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_more_readings_never_widen(seed: int) -> None:
    # Readings without error, so that the fitted values and with them the weights stay the same.
    readings = made(seed, noise=0.0)
    for count in range(2, len(readings)):
        fewer, more = settled(readings[:count]), settled(readings[: count + 1])
        gain = fewer.covariance[:2, :2] - more.covariance[:2, :2]
        assert np.all(np.linalg.eigvalsh(gain) >= -1e-12)


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_covariance_is_what_repeated_weighings_scatter(seed: int) -> None:
    truth = made(seed, noise=0.0)
    got = settled(truth)
    rng = np.random.default_rng(seed + 100)
    lines: dict[Uncertain, Uncertain] = {}

    def misread(value: Uncertain) -> Uncertain:
        return shifted(value, value.spread / 2 * rng.standard_normal())

    found, chi2 = [], []
    for _ in range(1500):
        lines.clear()
        again: list[Reading] = []
        for r in truth:
            match r:
                case Whole(reads):
                    again.append(Whole(misread(reads)))
                case Balance(at):
                    again.append(Balance(misread(at)))
                case Line(at, other, reads) | Tilted(_, at, other, reads):
                    for place in (at, other):
                        if place not in lines:
                            lines[place] = misread(place)
                    moved = replace(r, at=lines[at], other=lines[other], reads=misread(reads))
                    again.append(replace(moved, angle=misread(moved.angle)) if isinstance(moved, Tilted) else moved)
        one = settled(again)
        found.append([one.mass, one.centre, one.height])
        chi2.append(one.chi2)
    scatter = np.cov(np.array(found, dtype=np.float64).T)
    # 1500 weighings settle a standard deviation to about 2 %, four times that is allowed.
    assert np.sqrt(np.diag(scatter)) == pytest.approx(np.sqrt(np.diag(got.covariance)), rel=0.08)
    correlation = scatter / np.sqrt(np.outer(np.diag(scatter), np.diag(scatter)))
    expected = got.covariance / np.sqrt(np.outer(np.diag(got.covariance), np.diag(got.covariance)))
    assert correlation == pytest.approx(expected, abs=0.1)
    assert np.mean(chi2) == pytest.approx(got.freedom, rel=0.12)


@pytest.mark.parametrize("seed", SEEDS)
def test_second_way_by_a_general_optimiser(seed: int) -> None:
    # Every place is an unknown of its own, measured once: errors in variables, solved by scipy.
    readings = made(seed)
    places = sorted({p for r in readings if isinstance(r, Line | Tilted) for p in (r.at, r.other)}, key=str)
    angles = [r.angle for r in readings if isinstance(r, Tilted)]

    def misfit(v: np.ndarray) -> np.ndarray:
        m, c, h = v[:3]
        where = dict(zip(places, v[3 : 3 + len(places)], strict=True))
        leans = dict(zip(angles, v[3 + len(places) :], strict=True))
        out = [(where[p] - p.nominal) / (p.spread / 2) for p in places]
        out += [(leans[a] - a.nominal) / (a.spread / 2) for a in angles]
        for r in readings:
            if isinstance(r, Balance):
                out.append((c - r.at.nominal) / (r.at.spread / 2))
                continue
            value = m
            if not isinstance(r, Whole):
                x1, x2 = where[r.at], where[r.other]
                value = m * (x2 - c) / (x2 - x1)
                if isinstance(r, Tilted):
                    value += m * h * np.tan(leans[r.angle]) / abs(x2 - x1)
            out.append((value - r.reads.nominal) / (r.reads.spread / 2))
        return np.array(out)

    start = np.array([50.0, 1.2, 0.2, *(p.nominal for p in places), *(a.nominal for a in angles)])
    fit = optimize.least_squares(misfit, start, x_scale="jac", xtol=1e-14, ftol=1e-14, gtol=1e-14)
    covariance = np.linalg.inv(fit.jac.T @ fit.jac)[:3, :3]
    got = settled(readings)
    assert got.height is not None
    # The doubt of places is carried to first order here and exactly there: the two agree to a fraction of the doubt.
    apart = np.array([got.mass, got.centre, got.height]) - fit.x[:3]
    assert np.all(np.abs(apart) < 0.02 * np.sqrt(np.diag(covariance)))
    assert got.covariance == pytest.approx(covariance, rel=0.03, abs=2e-6)
    assert got.chi2 == pytest.approx(2 * fit.cost, rel=0.02, abs=0.02)


@pytest.mark.parametrize("seed", SEEDS)
def test_second_way_by_ordinary_linear_least_squares(seed: int) -> None:
    # Places exact and all scales alike: then (m, m c) is an ordinary linear problem that numpy solves.
    rng = np.random.default_rng(seed)
    mass, centre = 50.0, 1.15
    readings: list[Reading] = []
    rows, rights = [], []
    for x1, x2 in zip(rng.uniform(0.0, 0.6, 5), rng.uniform(1.5, 2.4, 5), strict=True):
        reads = mass * (x2 - centre) / (x2 - x1) + 0.2 * rng.standard_normal()
        readings.append(Line(exact(x1), exact(x2), normal(reads, 0.4)))
        rows.append([x2 / (x2 - x1), -1 / (x2 - x1)])
        rights.append(reads)
    m, moment = np.linalg.lstsq(np.array(rows), np.array(rights), rcond=None)[0]
    got = settled(readings)
    assert (got.mass, got.centre) == pytest.approx((m, moment / m), rel=1e-8)
    by_moment = 0.2**2 * np.linalg.inv(np.array(rows).T @ np.array(rows))
    to_centre = np.array([[1.0, 0.0], [-moment / m**2, 1 / m]])
    assert got.covariance == pytest.approx(to_centre @ by_moment @ to_centre.T, rel=1e-6)


@pytest.mark.parametrize("freedom", range(1, 9))
def test_chances_agree_with_scipy(freedom: int) -> None:
    for chi2 in (0.0, 0.3, 1.0, 4.0, 12.0, 40.0):
        assert chance_of(chi2, freedom) == pytest.approx(stats.chi2.sf(chi2, freedom), rel=1e-10)
