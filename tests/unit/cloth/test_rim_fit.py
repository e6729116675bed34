"""Rims fitted to points: exact constructed cases and a second way by shapely and scipy; no printed source."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from scipy.optimize import least_squares

from loftwright.cloth.rim_fit import RimFit, fitted, nearest_rim
from loftwright.cloth.rim_model import SHAPE, linear
from loftwright.cloth.rims import Heights, rounded
from loftwright.core.motion import Array

TRUE = {
    "rear": 0.05,
    "front": 2.05,
    "right": -0.59,
    "left": 0.61,
    "radius": 0.15,
    "height": 0.01,
    "pitch": 0.005,
    "crown": 0.02,
    "camber": 0.01,
    "roll": -0.003,
    "twist": 0.004,
    "taper": 0.002,
}


def measured(every: int = 14, radius: float = 0.15, **other: float) -> Array:
    """Return exact points of a rim: vertices that `rounded` lays on outline and surface."""
    know = {**TRUE, **other}
    size = know["front"] - know["rear"], know["left"] - know["right"]
    surface = Heights(**{name: know[name] for name in SHAPE})
    rim = rounded(know["rear"], *size, radius, surface, aside=(know["left"] + know["right"]) / 2.0)
    return np.asarray(rim.points[3::every])


def noise(shape: tuple[int, ...], seed: int, sd: float = 0.003) -> Array:
    return np.asarray(np.random.default_rng(seed).normal(0.0, sd, shape))


@pytest.fixture(scope="module")
def exact() -> RimFit:
    return fitted(measured())


@pytest.fixture(scope="module")
def noisy() -> RimFit:
    return fitted(measured() + noise((29, 3), 3))


def test_exact_points_give_the_rim_back(exact: RimFit) -> None:
    assert exact.left_out == ()
    assert dict(zip(exact.names, exact.values, strict=True)) == pytest.approx(TRUE, abs=1e-9)
    assert exact.off.max() < 1e-9
    assert exact.scatter < 1e-9
    # With nothing left over, what is known of the measuring tells how well: sd, not the residuals.
    assert exact.deviations.min() > 0.0005


@pytest.mark.parametrize("corners", ["ends", "four"])
def test_corners_of_their_own(corners: str) -> None:
    radii = (0.12, 0.2, 0.2, 0.12) if corners == "ends" else (0.1, 0.15, 0.2, 0.25)
    rim = rounded(0.0, 2.0, 1.2, radii, Heights(0.0, 0.02, 0.01))
    fit = fitted(rim.points[3::9], corners=corners)  # type: ignore[arg-type]
    found = [value for name, value in zip(fit.names, fit.values, strict=True) if "radius" in name]
    assert found == pytest.approx(radii[:2] if corners == "ends" else radii, abs=1e-9)


def test_slopes_are_those_of_finite_differences(exact: RimFit) -> None:
    p = measured() + noise((29, 3), 8, 0.01)
    jacobian = linear(p, exact.names, exact.values, None)[1]
    step = 1e-6
    for k in range(exact.values.size):
        change = step * np.eye(exact.values.size)[k]
        ends = [linear(p, exact.names, exact.values + sign * change, None)[0] for sign in (1.0, -1.0)]
        np.testing.assert_allclose(jacobian[:, k], (ends[0] - ends[1]) / (2.0 * step), atol=1e-8)


def test_a_second_way_by_shapely_and_scipy(noisy: RimFit) -> None:
    # Distances to the outline by polygons, least squares by another method; the same minimum.
    p = measured() + noise((29, 3), 3)
    places = shapely.points(p[:, :2])

    def off(values: Array) -> Array:
        know = dict(zip(noisy.names, values, strict=True))
        core = shapely.box(know["rear"], know["right"], know["front"], know["left"]).buffer(-know["radius"])
        outline = core.buffer(know["radius"], quad_segs=400)
        distance = shapely.distance(places, outline.exterior) * np.where(shapely.contains(outline, places), -1.0, 1.0)
        u = 2.0 * (p[:, 0] - know["rear"]) / (know["front"] - know["rear"]) - 1.0
        v = 2.0 * (p[:, 1] - know["right"]) / (know["left"] - know["right"]) - 1.0
        z = know["height"] + know["pitch"] * u / 2 + know["roll"] * v / 2 + know["twist"] * u * v / 4
        z = z - (know["crown"] + know["taper"] * u) * v**2 - know["camber"] * u**2
        return np.concatenate([distance, p[:, 2] - z])

    second = least_squares(off, list(TRUE.values()), xtol=1e-12, ftol=1e-12)
    # The radius is known to 9 mm, the sides to 1 mm: hundredths of a millimetre are the polygons' and the steps'.
    np.testing.assert_allclose(noisy.values, second.x, atol=5e-5)
    assert noisy.scatter == pytest.approx(np.sqrt(2.0 * second.cost / noisy.freedom), rel=1e-4)


def test_covariance_is_that_of_many_measurings(exact: RimFit) -> None:
    # Second way: 120 rims measured anew with the same error. A deviation is then known to 1 / sqrt(240) = 6.5 %,
    # so the greatest of twelve hardly differs by 22 %.
    p = measured()
    rng = np.random.default_rng(11)
    found = np.array(
        [nearest_rim(p + rng.normal(0.0, 0.003, p.shape), exact.names, exact.values, None)[0] for _ in range(120)]
    )
    np.testing.assert_allclose(found.std(axis=0, ddof=1), exact.deviations, rtol=0.22)
    np.testing.assert_allclose(found.mean(axis=0), exact.values, atol=4.0 * 0.0095 / np.sqrt(120))
    sides = np.corrcoef(found.T)[5, 7], exact.covariance[5, 7] / np.prod(exact.deviations[[5, 7]])
    assert sides[0] == pytest.approx(sides[1], abs=0.2)


def test_drawn_rims_spread_as_the_covariance_says(exact: RimFit) -> None:
    drawn = exact.drawn(4, 401)
    np.testing.assert_allclose(drawn.points[0], exact.loop().points, atol=1e-14)
    front = [k for k, name in enumerate(exact.loop().places) if name == "front"]
    assert drawn.points[1:, front[0], 0].std() == pytest.approx(exact.deviations[1], rel=0.12)
    np.testing.assert_allclose(exact.drawn(4, 5).points, drawn.points[:5], atol=1e-14)
    assert np.abs(exact.drawn(5, 5).points[1:] - drawn.points[1:5]).max() > 1e-4


def test_a_length_typed_wrong_is_found_and_named() -> None:
    p = measured() + noise((29, 3), 3)
    for number, axis, by in ((6, 1, 0.1), (20, 1, -0.3), (2, 2, 0.05), (28, 0, 0.9)):
        wrong = p.copy()
        wrong[number, axis] += by
        fit = fitted(wrong)
        assert fit.worst == number
        # Off the rim through the others by what was added, but for the noise and where it then lies.
        if abs(by) < 0.2:
            assert fit.worst_off == pytest.approx(abs(by), abs=0.015)
        assert fit.others_scatter == pytest.approx(0.003, rel=0.35)


def test_few_points_leave_terms_out() -> None:
    # Two points a side tell no taper; four points, one in the middle of each side, tell neither twist nor two bows.
    x = np.array([0.0, 2.0, 0.4, 1.7, 0.3, 1.5, 0.0, 2.0])
    y = np.array([-0.5, -0.4, -0.6, -0.6, 0.6, 0.6, 0.3, 0.5])
    z = 0.05 - 0.02 * (y / 0.6) ** 2 - 0.01 * (x - 1.0) ** 2
    fit = fitted(np.stack([x, y, z], axis=-1), radius=0.0)
    assert fit.left_out == ("taper",)
    assert (fit.value("crown"), fit.value("camber"), fit.value("taper")) == pytest.approx((0.02, 0.01, 0.0), abs=1e-9)
    x, y = np.array([0.0, 2.0, 1.0, 1.0, 1.0]), np.array([0.0, 0.0, -0.6, 0.6, 0.6])
    few = fitted(np.stack([x, y, 0.05 - 0.02 * (y / 0.6) ** 2], axis=-1), radius=0.1)
    assert set(few.left_out) == {"camber", "twist", "taper"}


@pytest.mark.parametrize(
    ("points", "words"),
    [
        (np.zeros((8, 2)), "x, y and z"),
        (np.zeros((3, 3)), "at least five"),
        (np.outer(np.arange(8.0), [1.0, 0.0, 0.0]), "on one line"),
        (
            np.array(
                [(0.0, y, 0.0) for y in (-0.3, 0.0, 0.3)]
                + [(x, y, 0.0) for x in (0.5, 1.5) for y in (-0.6, 0.6)]
                + [(2.0, 0.1, 0.0)]
            ),
            "do not tell the radius",
        ),
    ],
)
def test_points_that_tell_too_little_are_refused(points: Array, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        fitted(points)


def test_feet_and_places_of_the_points(exact: RimFit) -> None:
    rim = exact.loop()
    np.testing.assert_allclose(exact.arc, rim.arc[3:400:14], atol=1e-8)
    assert exact.places == rim.places[3::14]


def test_laws_of_scale_datum_and_mirror(noisy: RimFit) -> None:
    p = measured() + noise((29, 3), 3)
    inches = fitted(p / 0.0254, sd=0.003 / 0.0254)
    np.testing.assert_allclose(inches.values * 0.0254, noisy.values, atol=1e-9)
    shifted = fitted(p + np.array([0.4, -0.2, 0.1]))
    moved = dict(zip(noisy.names, noisy.values, strict=True))
    for name, by in (("rear", 0.4), ("front", 0.4), ("right", -0.2), ("left", -0.2), ("height", 0.1)):
        moved[name] += by
    assert dict(zip(shifted.names, shifted.values, strict=True)) == pytest.approx(moved, abs=1e-9)
    mirror = fitted(p * [1.0, -1.0, 1.0])
    for name, sign in (("crown", 1.0), ("twist", -1.0), ("roll", -1.0), ("radius", 1.0), ("taper", 1.0)):
        assert mirror.value(name) == pytest.approx(sign * noisy.value(name), abs=1e-9)
    assert mirror.value("left") == pytest.approx(-noisy.value("right"), abs=1e-9)
    order = np.random.default_rng(0).permutation(29)
    np.testing.assert_allclose(fitted(p[order]).values, noisy.values, atol=1e-9)
