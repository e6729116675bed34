"""Water on the inside of the walls and heat lost: exact constructed cases, balance closed a second way."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth.warmth import (
    WarmPart,
    dew_point,
    dripping_humidity,
    fresh_air,
    heat_lost,
    judge_drips,
    judge_heater,
    resistance,
    surface_temperature,
    transmittance,
    vapour_density,
    water_breathed,
)
from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.reference.warmth import CANVAS, CLEAR_SHEET, FLEECE, FOAM, INSIDE_UP, LAMINATE

WARM, COLD = 285.15, 273.15
SINGLE = transmittance(resistance([0.0008], [CANVAS]))
FLEECED = transmittance(resistance([0.0008, 0.010], [CANVAS, FLEECE]))


def check(judged: Judged) -> Check:
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value.flat[0]), float(judged.limit.flat[0]))


def test_it_drips_when_the_face_is_at_the_dew_point() -> None:
    """A second way: at the humidity found, the dew point of the air is the temperature of the face."""
    for u in (SINGLE, FLEECED):
        humidity = dripping_humidity(u, WARM, COLD)
        assert dew_point(WARM, humidity) == pytest.approx(surface_temperature(u, WARM, COLD), abs=1e-9)


def test_more_wall_or_milder_air_never_drips_sooner() -> None:
    thick = np.linspace(0.001, 0.05, 30)
    u = transmittance(resistance(np.stack([np.full(30, 0.0008), thick], -1), [CANVAS, FLEECE]))
    assert np.all(np.diff(dripping_humidity(u, WARM, COLD)) > 0.0)
    assert np.all(np.diff(dripping_humidity(SINGLE, WARM, np.linspace(253.15, WARM, 30))) > 0.0)
    assert dripping_humidity(SINGLE, WARM, WARM) == pytest.approx(1.0)


def test_rows() -> None:
    r = resistance(np.full((5, 2), 0.001), np.full((5, 2), 0.05))
    assert r.shape == (5,)
    assert heat_lost(np.full((5, 3), 2.0), np.full((5, 3), 1.5), WARM, COLD) == pytest.approx(np.full(5, 108.0))


def test_breath_of_a_night() -> None:
    least, most = water_breathed(2.0, 8.0)
    assert least == pytest.approx(0.48)
    assert most == pytest.approx(0.80)


def test_fresh_air_carries_off_what_is_breathed() -> None:
    highest = dripping_humidity(SINGLE, WARM, COLD)
    flow = fresh_air(2.0, WARM, highest, COLD, 0.9)
    out = flow * (vapour_density(WARM, highest) - vapour_density(COLD, 0.9))
    assert out * 3600.0 * 8.0 == pytest.approx(water_breathed(2.0, 8.0)[1])
    assert np.isinf(fresh_air(2.0, WARM, 0.3, WARM, 0.5))


def parts(u: np.ndarray) -> tuple[WarmPart, ...]:
    return (WarmPart("cloth", np.array([3.4]), np.atleast_1d(u)),)


def test_single_cloth_drips_where_fleece_does_not() -> None:
    (single,) = judge_drips(parts(SINGLE), WARM, COLD, 0.70)
    (fleeced,) = judge_drips(parts(FLEECED), WARM, COLD, 0.70)
    assert check(single).verdict is Verdict.FAILS
    assert check(fleeced).verdict is Verdict.HOLDS
    assert single.which == "cloth"


def test_heater() -> None:
    # 3.4 m2 x 5.4545 W/m2K x 12 K = 222.5 W.
    assert check(judge_heater(parts(SINGLE), WARM, COLD, 230.0)).verdict is Verdict.HOLDS
    assert check(judge_heater(parts(SINGLE), WARM, COLD, 210.0)).verdict is Verdict.FAILS
    unknown = judge_heater(parts(SINGLE), WARM, COLD, None)
    assert unknown.value is None
    assert "heater" in unknown.unknown


@pytest.mark.parametrize(
    ("thickness", "conductivity", "inside", "r", "u"),
    [
        pytest.param([0.0008, 0.010], [CANVAS, FLEECE], 0.13, 0.433333, 2.307692, id="canvas and fleece"),
        pytest.param([0.0008], [CANVAS], 0.13, 0.183333, 5.454545, id="canvas"),
        pytest.param([0.0006], [CLEAR_SHEET], 0.13, 0.173529, 5.762712, id="clear sheet"),
        pytest.param([0.003, 0.020], [LAMINATE, FOAM], INSIDE_UP, 0.726429, 1.376598, id="roof"),
    ],
)
def test_cloth_walls(thickness: list[float], conductivity: list[float], inside: float, r: float, u: float) -> None:
    """Exact constructed cases: layers in series added by hand from the conductivities that we take."""
    found = resistance(thickness, conductivity, inside=inside)
    assert found == pytest.approx(r, abs=1e-6)
    assert transmittance(found) == pytest.approx(u, abs=1e-6)


def test_the_face_lies_where_the_resistances_divide_the_fall() -> None:
    """A second way: the temperatures of a chain of resistances, from the same heat through each."""
    layers = np.array([0.13, 0.0008 / CANVAS, 0.010 / FLEECE, 0.04])
    flow = 20.0 / layers.sum()
    assert surface_temperature(1.0 / layers.sum(), 288.15, 268.15) == pytest.approx(288.15 - flow * 0.13)
    assert heat_lost([1.0 / layers.sum()], [4.0], 288.15, 268.15) == pytest.approx(4.0 * flow)
