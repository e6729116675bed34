"""Bolt points of arms at hand: known linkages are found again, whatever is known of them.

Exact constructed cases: a linkage is built, moved by the package's own four-bar (checked elsewhere against a
handbook), and only its link lengths and its open pose are handed over.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from loftwright.mechanics.bolt_points import Box, Linkages, Wanted, bounds, displacement
from loftwright.mechanics.bolt_search import Answers, bolt_points, even_spread
from loftwright.mechanics.four_bar import FourBar, four_bar_travel

LIP, LOW = (-0.05, 0.01), (1.77, 0.01)
WIDE_VAN, WIDE_SHELL = Box(1.2, 1.8, -0.2, 0.05), Box(0.9, 1.7, -0.25, 0.12)
FEW: dict[str, Any] = {"tried": 6000, "rounds": 2}

KNOWN = {
    # van and shell pins of arm a, then of arm b, closed; swing of arm a in degrees
    "slanting arms": ((1.708, -0.019, 1.378, 0.041, 1.5875, -0.070, 1.276, -0.121), 47.0),
    "steep arms": ((1.60, -0.15, 1.30, 0.02, 1.72, -0.12, 1.45, 0.06), 40.0),
    "parallel arms": ((1.70, -0.10, 1.28, 0.02, 1.40, -0.16, 0.98, -0.04), 55.0),
}


@cache
def known(name: str) -> tuple[tuple[float, ...], Wanted]:
    """Return a linkage's pins and what it would be asked for."""
    pins, swing = KNOWN[name]
    found = four_bar_travel(FourBar(*(np.array([v]) for v in pins)), np.radians([swing]), raises=LIP)
    assert found.possible.all()
    shell = found.travel.shell
    lip = shell.point(np.array([LIP[0]]), np.array([LIP[1]]))
    tilt = -float(shell.phi[0, -1])
    shift = float(lip.x[0, -1] - lip.x[0, 0])
    van, a, plate, b = (float(v[0]) for v in found.bar.lengths())
    return pins, Wanted(
        arm_a=a,
        arm_b=b,
        van_plate=van,
        shell_plate=plate,
        lip=LIP,
        low=LOW,
        hand=LIP,
        end="front",
        rise=float(lip.z[0, -1] - lip.z[0, 0]),
        tilt=(tilt, tilt),
        shift=(shift, shift),
        a_van=WIDE_VAN,
        a_shell=WIDE_SHELL,
        b_van=WIDE_VAN,
        b_shell=WIDE_SHELL,
        free_on="shell",
        grip=np.radians(15.0),
        doubts=(0.004, 0.004),
    )


def spot(x: float, z: float) -> Box:
    return Box(x, x, z, z)


def nearest_miss(answers: Answers, pins: tuple[float, ...]) -> float:
    """Return how far the nearest answer's worst pin coordinate is from a known linkage's [m]."""
    best = answers.best
    return float(
        min((max(abs(p[i] - k) for p, k in zip(best.pins, pins, strict=True)) for i in range(len(best))), default=9)
    )


@pytest.mark.parametrize("name", KNOWN)
def test_shell_pivots_kept(name: str) -> None:
    pins, wanted = known(name)
    # Without turning, every shift meets the plate: then the shift must be told.
    shift = wanted.shift if name == "parallel arms" else (-0.7, 0.7)
    wanted = replace(wanted, a_shell=spot(*pins[2:4]), b_shell=spot(*pins[6:8]), shell_plate=None, shift=shift)
    assert nearest_miss(bolt_points(wanted, **FEW), pins) < 1e-3


@pytest.mark.parametrize("name", KNOWN)
def test_van_pivots_kept(name: str) -> None:
    pins, wanted = known(name)
    shift = wanted.shift if name == "parallel arms" else (-0.7, 0.7)
    wanted = replace(wanted, a_van=spot(*pins[:2]), b_van=spot(*pins[4:6]), van_plate=None, shift=shift, free_on="van")
    assert nearest_miss(bolt_points(wanted, **FEW), pins) < 1e-3


@pytest.mark.parametrize("name", ["slanting arms", "steep arms"])
def test_all_lengths_the_pose_and_one_pivot(name: str) -> None:
    pins, wanted = known(name)
    wanted = replace(wanted, a_van=spot(*pins[:2]), free_on="van")
    found = bolt_points(wanted, tried=12_000, keep=40, rounds=0)
    assert nearest_miss(found, pins) < 1e-3


def test_seen_from_the_other_side_it_is_the_same() -> None:
    """Mirrored, low end at the rear: the pins of the mirrored linkage are found."""
    pins, wanted = known("slanting arms")
    across = 1.72

    def over(box: Box) -> Box:
        return Box(across - box.x_high, across - box.x_low, box.z_low, box.z_high)

    turned = tuple(across - p if i % 2 == 0 else p for i, p in enumerate(pins))
    other = replace(
        wanted,
        end="rear",
        lip=(across - LIP[0], LIP[1]),
        low=(across - LOW[0], LOW[1]),
        hand=(across - LIP[0], LIP[1]),
        shift=(-0.7, 0.7),
        a_van=over(WIDE_VAN),
        b_van=over(WIDE_VAN),
        a_shell=spot(*turned[2:4]),
        b_shell=spot(*turned[6:8]),
        shell_plate=None,
    )
    assert nearest_miss(bolt_points(other, **FEW), turned) < 1e-3


def test_recovery_degrades_no_faster_than_what_is_measured() -> None:
    """Arms and plate read 1 mm off, lip and slope 3 mm and half a degree: the bolt points follow within 3 cm."""
    pins, exact = known("slanting arms")
    wanted = replace(exact, a_shell=spot(*pins[2:4]), b_shell=spot(*pins[6:8]), shell_plate=None, van_plate=None)
    rng = np.random.default_rng(3)
    misses = []
    for _ in range(40):
        off = rng.normal(size=5)
        tilt = exact.tilt[0] + np.radians(0.25) * off[3]
        noisy = replace(
            wanted,
            arm_a=exact.arm_a + 0.0005 * off[0],
            arm_b=exact.arm_b + 0.0005 * off[1],
            rise=exact.rise + 0.0015 * off[2],
            tilt=(tilt, tilt),
            shift=(exact.shift[0] + 0.0015 * off[4],) * 2,
        )
        misses.append(nearest_miss(bolt_points(noisy, tried=1, rounds=0), pins))
    assert max(misses) < 0.03
    assert float(np.median(misses)) < 0.01


@cache
def free_answers() -> tuple[Wanted, Answers]:
    _, wanted = known("slanting arms")
    wanted = replace(
        wanted, van_plate=None, shell_plate=None, tilt=(0.17, 0.5), shift=(-0.6, 0.6), grip=np.radians(40.0)
    )
    return wanted, bolt_points(wanted, tried=12_000)


def test_answers_do_what_was_asked() -> None:
    wanted, answers = free_answers()
    best = answers.best
    assert len(best) >= 3
    _, a, _, b = best.bar().lengths()
    assert np.allclose(a, wanted.arm_a, atol=1e-9)
    assert np.allclose(b, wanted.arm_b, atol=1e-9)
    assert np.allclose(best.rise, wanted.rise, atol=1e-9)
    assert (best.grip >= wanted.grip).all()
    assert (best.tilt >= 0.17).all()
    assert (best.tilt <= 0.5).all()
    for box, k in ((wanted.a_van, 0), (wanted.a_shell, 2), (wanted.b_van, 4), (wanted.b_shell, 6)):
        assert box.holds(best.pins[k], best.pins[k + 1]).all()
    moved = four_bar_travel(best.bar(), best.opens, stations=121, raises=LIP)
    assert moved.possible.all()
    # The whole shell ends where the two positions have it: on the circuit of the closed roof.
    pose = displacement(wanted, best.free)
    assert np.allclose(moved.travel.shell.phi[:, -1], pose.phi, atol=1e-9)
    assert np.allclose(moved.travel.shell.x[:, -1], pose.x, atol=1e-9)
    assert np.allclose(best.sense, moved.sense)


def test_answers_differ_and_come_best_first() -> None:
    _, answers = free_answers()
    best = answers.best
    assert (np.diff(best.grade) <= 0).all()
    pins = np.stack(best.pins, axis=-1)
    apart = np.abs(pins[:, None] - pins[None]).max(axis=-1) + np.eye(len(best))
    assert apart.min() > 0.002


def test_a_wider_place_never_has_a_worse_best() -> None:
    wanted, answers = free_answers()
    narrow = replace(wanted, a_van=Box(1.5, 1.75, -0.1, 0.0), b_van=Box(1.5, 1.75, -0.1, 0.0))
    found = bolt_points(narrow, tried=12_000)
    assert len(found.best)
    assert found.best.grade[0] <= answers.best.grade[0] + 0.02


def test_what_comes_near_is_asked_of_every_answer() -> None:
    wanted, _ = free_answers()
    asked: list[int] = []

    def clear(bar: FourBar, opens: np.ndarray, sense: np.ndarray) -> np.ndarray:
        asked.append(opens.size)
        return np.asarray(bar.pins()[0]) - 1.5

    found = bolt_points(wanted, clear=clear, tried=6000)
    assert asked
    assert (found.best.pins[0] >= 1.5).all()
    assert np.allclose(found.best.gap, found.best.pins[0] - 1.5)


@pytest.mark.parametrize(
    ("change", "stopped"),
    [
        ({"rise": 1.9}, "reach"),
        ({"a_van": Box(0.0, 0.05, -0.2, 0.0)}, "in_zone"),
        ({"grip": np.radians(89.0)}, "grip"),
    ],
)
def test_no_answer_says_where_it_stopped(change: dict[str, Any], stopped: str) -> None:
    wanted, _ = free_answers()
    found = bolt_points(replace(wanted, **change), **FEW)
    assert len(found.best) == 0
    assert getattr(found.sifted, stopped) == 0
    assert found.sifted.tried > 0


def test_a_lip_that_would_sink_first_is_left_out() -> None:
    # Both arms stand past the upright and would have to go over the top.
    wanted = replace(
        known("parallel arms")[1],
        rise=0.02,
        van_plate=None,
        shell_plate=None,
        tilt=(0.0, 0.0),
        shift=(0.55, 0.55),
    )
    found = bolt_points(wanted, **FEW)
    for i in range(len(found.best)):
        bar = FourBar(*(p[i : i + 1] for p in found.best.pins))
        lip = four_bar_travel(bar, found.best.opens[i : i + 1], raises=LIP).travel.shell.point(
            *(np.array([v]) for v in LIP)
        )
        assert lip.z.min() >= LIP[1] - 0.0021


def test_same_question_same_answer() -> None:
    wanted, answers = free_answers()
    again = bolt_points(wanted, tried=12_000)
    assert all(np.array_equal(a, b) for a, b in zip(again.best.pins, answers.best.pins, strict=True))


def test_places_are_spread_evenly() -> None:
    wanted, _ = free_answers()
    low, high = bounds(wanted)
    spread = (even_spread(4000, low, high) - low) / (high - low)
    for column in spread.T:
        counts = np.histogram(column, bins=20, range=(0, 1))[0]
        # Chance would scatter them by 14 about 200.
        assert counts.std() < 11


def test_picked_linkages_keep_their_order() -> None:
    best = free_answers()[1].best
    picked: Linkages = best.pick(np.array([1, 0]))
    assert picked.grade.tolist() == [best.grade[1], best.grade[0]]
    assert len(best.pick(slice(0, 1))) == 1
