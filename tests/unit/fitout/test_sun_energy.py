"""Yield of a panel: laws of mirror and turn, a second way by pvlib, and clouds."""

from __future__ import annotations

import time

import numpy as np
import pytest

from loftwright.fitout.clear_sky import ClearDay, clear_day, clear_year
from loftwright.fitout.sun import Face, SunPlace, panel_face, sunset_angle
from loftwright.fitout.sun_energy import (
    CLEAR,
    Weather,
    best_heading,
    energy,
    gain,
    headings,
    kept,
    light_on,
    through_glass,
    uncovered,
    winter,
)

NORTH = np.deg2rad(50.0)
TILT = np.deg2rad(28.0)
TURNS = headings(16)


@pytest.fixture(scope="module")
def days() -> ClearDay:
    return clear_year(NORTH, altitude=200.0)


@pytest.fixture(scope="module")
def raised(days: ClearDay) -> np.ndarray:
    return light_on(days, panel_face(TURNS, TILT))


@pytest.fixture(scope="module")
def flat(days: ClearDay) -> np.ndarray:
    return light_on(days, panel_face(TURNS, 0.0))


def test_east_and_west_are_mirrors(raised: np.ndarray) -> None:
    # Heading h and -h: morning and afternoon change places. Exact.
    assert raised[:, 1:] == pytest.approx(raised[:, :0:-1], rel=1e-9)
    assert not np.allclose(raised[:, 0], raised[:, 8])


def test_flat_panel_does_not_care_where_the_van_points(flat: np.ndarray) -> None:
    assert flat == pytest.approx(np.repeat(flat[:, :1], 16, axis=1), rel=1e-9)


def test_no_tilt_is_flat(days: ClearDay, flat: np.ndarray) -> None:
    level = np.sum(days.level * days.hours, axis=-1)
    bare = light_on(days, panel_face(TURNS, 0.0), glass=0.0)
    assert bare[:, 3] == pytest.approx(level, rel=1e-9)
    assert np.all(flat[:, 0] < level)
    assert light_on(days, panel_face(TURNS, 1e-9)) == pytest.approx(flat, rel=1e-6)


@pytest.mark.parametrize("leaning", [-0.3, 0.0, 0.4])
def test_hemispheres_are_mirrors(leaning: float) -> None:
    # The sun as far south over southern land is the sun as far north over northern land, with north and south
    # exchanged: heading h becomes pi - h. Exact.
    here = clear_day(np.full(12, 0.8), leaning, 1367.0)
    there = clear_day(np.full(12, -0.8), -leaning, 1367.0)
    found = light_on(here, panel_face(TURNS, TILT))
    other = light_on(there, panel_face(np.pi - TURNS, TILT))
    assert found == pytest.approx(other, rel=1e-9)


def test_half_a_year_between_hemispheres() -> None:
    # By the calendar it is not exact: the sun is 3.3 % nearer in January, and the days of the months differ a little.
    for slope in (0.0, TILT):
        here = light_on(clear_year(0.7), panel_face(TURNS, slope))
        there = light_on(clear_year(-0.7), panel_face(np.pi - TURNS, slope))
        assert there.sum(axis=0) == pytest.approx(here.sum(axis=0), rel=0.02)
        assert there[:, 0] == pytest.approx(np.roll(here[:, 0], 6), rel=0.12)
        assert not np.allclose(there[:, 0], here[:, 0], rtol=0.12)


def test_equator_is_its_own_mirror() -> None:
    # On the equator a panel that faces north gets what one that faces south gets with the sun on the other side.
    june, other = (clear_day(np.zeros(12), side, 1367.0) for side in (0.4, -0.4))
    assert light_on(june, panel_face(TURNS, TILT)) == pytest.approx(
        light_on(other, panel_face(np.pi - TURNS, TILT)), rel=1e-9
    )


def test_which_way_a_raised_panel_faces() -> None:
    north = np.array(0.0)
    assert float(panel_face(north, 0.3).azimuth) == pytest.approx(np.pi)  # hinge at the rear: faces backward
    assert np.cos(float(panel_face(north, -0.3).azimuth)) == pytest.approx(1.0)  # hinge at the front: forward
    assert float(panel_face(north, 0.0, 0.3).azimuth) == pytest.approx(np.pi / 2)  # left side up: faces right, east
    assert float(panel_face(np.pi / 2, 0.3).azimuth) == pytest.approx(1.5 * np.pi)
    both = panel_face(north, np.arctan(0.3), np.arctan(0.4))
    assert np.tan(float(both.tilt)) == pytest.approx(0.5)


def test_second_way_by_pvlib(days: ClearDay) -> None:
    # The same sum with the library's own light on a tilted plane (evenly bright sky) and its glass.
    from pvlib import iam, irradiance

    face = panel_face(TURNS[3:4], TILT)
    tilt, azimuth = (np.rad2deg(float(angle[0])) for angle in (face.tilt, face.azimuth))
    zenith, around = np.rad2deg(days.place.zenith), np.rad2deg(days.place.azimuth)
    lit = (days.beam, days.level, days.scattered)
    theirs = irradiance.get_total_irradiance(tilt, azimuth, zenith, around, *lit, albedo=0.2, model="isotropic")
    angle = irradiance.aoi(tilt, azimuth, zenith, around)
    glass = iam.ashrae(angle, b=0.05)
    total = theirs["poa_direct"] * glass + theirs["poa_diffuse"]
    assert light_on(days, face)[:, 0] == pytest.approx(np.sum(total * days.hours, axis=-1), rel=1e-9)
    cosine = np.cos(np.deg2rad(np.array([0.0, 30.0, 60.0, 80.0])))
    assert through_glass(cosine) == pytest.approx(iam.ashrae(np.array([0.0, 30.0, 60.0, 80.0]), b=0.05), rel=1e-9)


def test_an_even_sky_is_the_cautious_choice(days: ClearDay) -> None:
    # Perez's sky by pvlib, brighter round the sun, gives a panel that faces south more, by up to a tenth.
    from pvlib import irradiance

    face = panel_face(TURNS[:1], TILT)
    zenith, around = np.rad2deg(days.place.zenith), np.rad2deg(days.place.azimuth)
    theirs = irradiance.get_total_irradiance(
        28.0,
        180.0,
        zenith,
        around,
        days.beam,
        days.level,
        days.scattered,
        dni_extra=days.outside,
        albedo=0.2,
        model="perez",
    )
    more = np.sum(theirs["poa_global"] * days.hours, axis=-1) / light_on(days, face, glass=0.0)[:, 0]
    assert np.all((more > 0.99) & (more < 1.10))


def test_raising_pays_in_winter_when_the_van_points_north(raised: np.ndarray, flat: np.ndarray) -> None:
    more = gain(raised, flat)
    # Computed here from first principles for December at noon, 50 N: beam square to level sin 17.0 deg, square to a
    # panel tilted 28 deg sin 45.0 deg, so at most 2.4 times; the scattered light brings it down.
    assert 0.5 < more[11, 0] < np.sin(np.deg2rad(45.0)) / np.sin(np.deg2rad(17.0)) - 1.0 + 0.2
    assert more[11, 8] < 0.0
    index, best = best_heading(raised, winter(NORTH))
    assert int(index) == 0
    assert float(best) > 3.0
    assert best_heading(flat, winter(NORTH))[1] == pytest.approx(1.0)
    assert gain(np.zeros((12, 1)), np.zeros((12, 1))) == pytest.approx(0.0)


def test_clouds_make_tilting_pay_less(days: ClearDay, raised: np.ndarray, flat: np.ndarray) -> None:
    cloud = Weather(np.array(0.5), np.array(0.25), np.array(0.2))
    level = light_on(days, panel_face(TURNS, 0.0), cloud, glass=0.0)
    bare = light_on(days, panel_face(TURNS, 0.0), glass=0.0)
    assert level == pytest.approx(0.5 * bare, rel=1e-9)
    some = gain(light_on(days, panel_face(TURNS, TILT), cloud), light_on(days, panel_face(TURNS, 0.0), cloud))
    assert 0.0 < some[11, 0] < gain(raised, flat)[11, 0]
    # A month darker than a closed cover is all cover: then tilting loses a little sky.
    dark = Weather(np.array(0.2), np.array(0.25), np.array(0.2))
    assert np.all(light_on(days, panel_face(TURNS, TILT), dark) < light_on(days, panel_face(TURNS, 0.0), dark))


def test_energy_and_use(days: ClearDay, raised: np.ndarray) -> None:
    assert float(energy(np.full((12, 1), 1000.0), 100.0, 1.0)[0, 0]) == pytest.approx(100.0)
    left = kept(0.15, 0.10, 0.04, 0.30, 0.10)
    least = energy(raised, 100.0, left)
    assert np.all(least < energy(raised, 100.0, kept(0.02, 0.01, 0.01, 0.03, 0.0)))
    by_month = np.sort(least[:, 0])
    short = uncovered(least, by_month[4] + 1e-6)
    assert int(short[:, 0].sum()) == 5


def test_polar_night_and_polar_day() -> None:
    far = clear_year(np.deg2rad(80.0))
    dark = light_on(far, panel_face(TURNS, 0.0))
    assert dark[11] == pytest.approx(0.0)
    assert np.all(np.isfinite(dark))
    assert float(sunset_angle(np.deg2rad(80.0), np.deg2rad(23.0))) == pytest.approx(np.pi)
    assert np.sum(far.hours[5]) == pytest.approx(24.0)


def test_rows_are_like_single_ones(days: ClearDay, raised: np.ndarray) -> None:
    many = clear_year(np.array([NORTH, 0.6]), altitude=np.array([200.0, 0.0]), turbidity=np.array([3.0, 4.0]))
    tilts = np.array([[TILT], [0.1]])
    found = light_on(many, panel_face(TURNS, tilts), Weather(np.ones(2), np.full(2, 0.25), np.full(2, 0.2)))
    assert found.shape == (2, 12, 16)
    assert found[0] == pytest.approx(raised, rel=1e-9)
    assert energy(found, np.array([100.0, 200.0]), 0.8).shape == (2, 12, 16)


def test_more_moments_change_little(raised: np.ndarray) -> None:
    fine = light_on(clear_year(NORTH, altitude=200.0, steps=480), panel_face(TURNS, TILT))
    assert raised == pytest.approx(fine, rel=0.01)


def test_a_year_takes_no_time(days: ClearDay) -> None:
    start = time.perf_counter()
    year = clear_year(0.9)
    for slope in (0.0, TILT):
        light_on(year, panel_face(TURNS, slope), CLEAR)
    assert time.perf_counter() - start < 1.0


def test_sun_behind_gives_no_beam() -> None:
    day = ClearDay(
        SunPlace(np.full((12, 1), 1.4), np.zeros((12, 1))),
        *(np.full((12, 1), value) for value in (800.0, 0.0, 0.0, 1367.0, 1.0)),
    )
    assert light_on(day, Face(np.array([0.5]), np.array([np.pi]))) == pytest.approx(0.0)
