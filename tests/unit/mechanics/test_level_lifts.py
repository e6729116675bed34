"""Crossing arms and straight guides: their rules holding and failing, and the guides' rub worked out by hand.

Numbers: computed here from first principles, moments about the middle of the shoes.
"""

from __future__ import annotations

import importlib.util
import math
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from loftwright.answers.draws import Nominal, Rows
from loftwright.answers.judged_roof import assembled, inputs_of, judged_roof
from loftwright.answers.judging import decide
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.motion import Wrench
from loftwright.mechanics import rules
from loftwright.mechanics.feel import feel, state
from loftwright.mechanics.guide_rules import judge_guides, with_rub
from loftwright.mechanics.guides import Shoes, guided, guides_travel
from loftwright.mechanics.room import judge_room, room
from loftwright.project.file import edited, loads


def _load(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name(f"{name}.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


lids = _load("lids")
G = lids.G
ROW = Rows({}, {}, slice(0, 1), 1, {})

SCISSOR = """kind = "scissor"
opens = "30 deg"
arm_a_van = ["1.8 m", "-0.1 m"]
arm_a_shell = ["0.8 m", "0.1 m"]"""
GUIDES = """kind = "guides"
rise = "0.4 m"
guide = ["1.9 m", "-0.2 m"]
guide_far = ["0.1 m", "-0.2 m"]
guide_length = "0.4 m"
guide_friction = "0.1"
"""


def level(link: str, changes: dict[str, Any] | None = None) -> str:
    """Return the plain lid on another linkage, its spring upright under the middle, as a project file."""
    text = lids.LID.replace('kind = "hinge"\n', link + "\n").replace('opens = "30 deg"\nhinge', "hinge")
    text = text.replace('hinge = ["2 m", "0 m"]\n', "")
    here = {"spring.0.foot.x": "1 m", "spring.0.foot.z": "-0.4 m", "spring.0.head.x": "1 m", "spring.0.head.z": "0.1 m"}
    return edited(text, here | {"spring.0.extended_length": "0.95 m", "spring.0.stroke": "0.46 m"} | (changes or {}))


def check(text: str, rule: Rule) -> Check:
    project = loads(text)
    parts = assembled(project, Nominal(inputs_of(project)), stations=121)
    felt = feel(parts.roof)
    found = [*judge_room(room(parts.around, parts.roof), parts.roof, parts.around), *judge_guides(parts.roof, felt)]
    return decide(next(j for j in found if j.rule is rule), ROW, parts.roof.possible)


@pytest.mark.parametrize(("up", "verdict"), [(0.15, Verdict.HOLDS), (0.13, Verdict.FAILS)])
def test_crossing_arms_that_start_flat(up: float, verdict: Verdict) -> None:
    found = check(level(SCISSOR, {"linkage.arm_a_shell.z": lids.metre(-0.1 + up)}), rules.FLAT)
    assert found.value == pytest.approx(math.atan2(up, 1.0), abs=1e-12)
    assert found.verdict is verdict


def test_the_rim_of_a_level_lift_is_looked_at_from_end_to_end() -> None:
    # On level ground the rim rises everywhere; on a roof that bulges over the front it starts below.
    assert check(level(SCISSOR), rules.RIM).value == pytest.approx(0.0, abs=1e-12)
    bulged = level(GUIDES).replace(
        "[roof]", '[roof]\nprofile = [["-1 m", "0 m"], ["1.9 m", "0 m"], ["1.95 m", "6 mm"]]'
    )
    assert check(bulged, rules.RIM).value == pytest.approx(-0.006, abs=1e-9)


@pytest.mark.parametrize(("x", "gap"), [(1.9, 0.085), (1.99, -0.005), (2.1, -0.115)])
def test_posts_beside_and_through_the_roof(x: float, gap: float) -> None:
    # The post is 30 mm thick and passes the cut edge at x = 2 m from below the lining, 25 mm under the skin, upwards.
    found = check(level(GUIDES, {"linkage.guide.x": lids.metre(x), "shell.length": "2.2 m"}), rules.ARM_ROOF)
    assert found.value == pytest.approx(gap, abs=1e-9)
    assert found.verdict is (Verdict.HOLDS if gap > 0.01 else Verdict.FAILS)


@pytest.mark.parametrize(("factor", "verdict"), [(1 - 1e-6, Verdict.HOLDS), (1 + 1e-6, Verdict.FAILS)])
def test_a_push_too_far_beside_short_guides_jams(factor: float, verdict: Verdict) -> None:
    # The handle is 1 m from the middle of both pairs: 2 mu e / L = 1 at mu = 0.4 / 2.
    found = check(level(GUIDES, {"linkage.guide_friction": f"{0.2 * factor:.9f}"}), rules.GUIDE_JAMS)
    assert found.value == pytest.approx(factor, abs=1e-9)
    assert found.verdict is verdict


@pytest.mark.parametrize(("step", "verdict"), [(1e-6, Verdict.HOLDS), (-1e-6, Verdict.FAILS)])
def test_push_and_pull_against_the_rub(step: float, verdict: Verdict) -> None:
    # Weight and springs act at the middle, 1 m from the hand: H = D + (2 mu e / L) H, so H = D / (1 - 0.5) here. The
    # springs are 0.45 m pressed of 0.46 when closed and 0.05 m when open: closed they push most, open least.
    closed, opened = (1 / (1 - 0.2 * c / 0.46) for c in (0.45, 0.05))
    up = (40 * G - 2 * 150 * lids.AGED * opened) / 0.5
    weak = {"spring.0.force": "150 N", "person.push_limit": lids.newton(up + step)}
    found = check(level(GUIDES, weak), rules.GUIDE_PUSH)
    assert found.value == pytest.approx(up, abs=1e-7)
    assert found.verdict is verdict
    down = (2 * 200 * closed - 40 * G) / 0.5
    strong = {"spring.0.force": "200 N", "requirements.pull_to_start_down": lids.newton(down + step)}
    found = check(level(GUIDES, strong), rules.GUIDE_PULL)
    assert found.value == pytest.approx(down, abs=1e-7)
    assert found.verdict is verdict


COIL = """
[[coil]]
kind = "pushes"
foot = ["1 m", "-0.4 m"]
head_on = "shell"
head = ["1.2 m", "0.1 m"]
rate = "0.5 N/mm"
free_length = "0.9 m"
"""


def test_without_rub_it_is_the_force_of_the_other_rules() -> None:
    project = loads(level(GUIDES, {"linkage.guide_friction": "0"}) + COIL)
    roof = assembled(project, Nominal(inputs_of(project)), stations=121).roof
    felt = feel(roof)
    for heat, age in (("cold", "aged"), ("hot", "new")):
        for raising, plain in ((True, felt.push_up), (False, felt.pull_down)):
            rubbed = with_rub(roof, felt, heat, age, raising=raising)
            np.testing.assert_allclose(rubbed.hand, plain[state(heat, age)], rtol=1e-12, atol=1e-9)
    assert np.ptp(felt.push_up) > 1.0


def hand_by_search(
    load: tuple[float, float, float], hand: tuple[float, float], lean: float, mu: float, raising: bool
) -> float:
    """Return the hand force at which pushes, rub and friction balance, by halving: force along the guides left over."""
    along, square = np.array([np.sin(lean), np.cos(lean)]), np.array([np.cos(lean), -np.sin(lean)])
    way, half = (1.0 if raising else -1.0), 0.15

    def left(force: float) -> float:
        whole = np.array(load[:2]) + np.array([0.0, way * force])
        moment = load[2] + hand[0] * way * force
        n, turn = whole @ square, moment / half
        ends = ((n + turn) / 2, (n - turn) / 2)
        return float(way * whole @ along) - mu * sum(abs(end) for end in ends)

    low, high = -1e5, 1e5
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if left(middle) < 0 else (low, middle)
    return low


def test_the_rub_is_that_of_two_ends_pressed_apart() -> None:
    rng = np.random.default_rng(8)
    for _ in range(60):
        lean, mu = float(rng.uniform(-0.3, 0.3)), float(rng.uniform(0.0, 0.25))
        fx, fz, m = (float(v) for v in rng.uniform(-300, 300, 3))
        x = float(rng.uniform(-0.4, 0.4))
        travel = guides_travel(np.array([0.3]), np.array([lean]), stations=2)
        one = np.ones((1, 2))
        hand = travel.shell.point(np.array([x]), np.array([0.1]))
        shoes = Shoes(np.zeros(1), np.zeros(1), np.array([0.3]), np.array([mu]))
        for raising in (True, False):
            up = (np.zeros((1, 2)), one)
            found = guided(travel, Wrench(fx * one, fz * one, m * one), hand, up, shoes, raising=raising)
            if found.jams[0, 0] < 0.95:
                second = hand_by_search((fx, fz, m), (x, 0.1), lean, mu, raising)
                assert found.hand[0, 0] == pytest.approx(second, rel=1e-9, abs=1e-6)


def test_guides_say_a_length_and_what_they_leave_out() -> None:
    outcome = judged_roof(loads(level(GUIDES, {"settings.draws": 50})))
    assert any("rub of guides" in said for said in outcome.assumptions)
    assert outcome.numbers.unequal is None
    assert all(failure.twist_moment is None for failure in outcome.numbers.failures)
    assert not any(found.rule is rules.TWIST for found in outcome.checks)
    # Left and right guides that spread as they rise are pulled together by as much as they spread.
    assert float(outcome.numbers.space.reading[0]) == pytest.approx(0.001)
