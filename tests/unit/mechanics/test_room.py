"""Every rule on how the roof moves, holding and failing, on lids whose gaps can be worked out by hand.

Numbers: computed here from first principles (circles about the hinge or the arms' pivots).
"""

from __future__ import annotations

import importlib.util
import math
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.answers.draws import Rows
from loftwright.answers.judged_roof import assembled, inputs_of
from loftwright.answers.judging import decide
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.errors import CannotAssemble, ProjectFault
from loftwright.core.judged import Judged
from loftwright.mechanics import rules
from loftwright.mechanics.room import EVERY, SIDE_LIMIT, TAPE, judge_room, room
from loftwright.project.file import loads

_SPEC = importlib.util.spec_from_file_location("lids", Path(__file__).with_name("lids.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
lids = importlib.util.module_from_spec(_SPEC)
sys.modules["lids"] = lids
_SPEC.loader.exec_module(lids)

Q = lids.stations(120 // EVERY + 1)


def sides(
    rule: Rule, value: float, limit: str, changes: dict[str, Any] | None = None, *, step: float = 1e-5, **given: Any
) -> None:
    """Assert that a rule finds `value` [m] and holds and fails with its limit, at the path `limit`, a `step` away."""
    part = given.pop("part", "")
    inner = 1 if rule.sense == "at most" else -1
    for side, verdict in ((inner, Verdict.HOLDS), (-inner, Verdict.FAILS)):
        check = lids.look({**(changes or {}), limit: lids.metre(value + side * step)}, **given).check(rule, part)
        assert check.value == pytest.approx(value, abs=1e-9)
        assert check.verdict is verdict


# --- the shell ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("beyond", "verdict"), [(0.015, Verdict.HOLDS), (0.025, Verdict.FAILS)])
def test_rim_beyond_the_hinge_goes_down(beyond: float, verdict: Verdict) -> None:
    # Hinge at the height of the rim, 10 mm above the roof: the end beyond it sinks by its length times the sine.
    given = {
        "shell.length": lids.metre(2.0 + beyond),
        "shell.rim_height": "10 mm",
        "linkage.hinge.z": "10 mm",
    }
    check = lids.look(given).check(rules.RIM)
    assert check.value == pytest.approx(0.01 - beyond * 0.5, abs=1e-9)
    assert check.verdict is verdict


def test_rim_over_a_roof_that_bulges() -> None:
    # The roof stands 6 mm higher under the end beyond the hinge, level there.
    given = {"shell.length": "2.01 m", "shell.rim_height": "10 mm", "linkage.hinge.z": "10 mm"}
    flat = lids.look(given).check(rules.RIM)
    profile = '[["-1 m", "0 m"], ["1.9 m", "0 m"], ["1.95 m", "6 mm"], ["2.5 m", "6 mm"]]'
    text = lids.text(given).replace("[roof]", f"[roof]\nprofile = {profile}")
    parts = assembled(loads(text), lids.Nominal(inputs_of(loads(text))), stations=121)
    bulged = replace(lids.look(given), parts=parts).check(rules.RIM)
    assert flat.value == pytest.approx(0.005)
    assert bulged.value == pytest.approx(-0.001)
    assert bulged.margin < 0


def test_walls_of_a_shell_that_turns() -> None:
    # Walls 10 mm thick stand 200 mm behind and 50 mm before the opening; the hinge sits far in front, on the rim line,
    # so that both walls only go up and away from the upstand in front: 40 mm, closed.
    clear = {"shell.length": "2.25 m", "shell.overhang_rear": "0.2 m", "linkage.hinge.x": "2.3 m"}
    check = lids.look(clear).check(rules.SHELL_EDGE)
    assert check.value == pytest.approx(0.04)
    assert check.verdict is Verdict.HOLDS


@pytest.mark.parametrize("height", [0.2, 0.25, 0.3, 0.4])
def test_walls_that_swing_back_over_the_upstand(height: float) -> None:
    # Hinge high over the edge of the opening: the corner of the front wall, 40 mm in front and `height` below it,
    # swings back behind the upstand.
    corner = 2.0 + 0.04 * math.cos(lids.OPEN) - height * math.sin(lids.OPEN)
    assert corner < 1.95
    check = lids.look({"shell.length": "2.05 m", "linkage.hinge.z": f"{height} m"}).check(rules.SHELL_EDGE)
    assert check.value < 0
    assert check.verdict is Verdict.FAILS


def test_closed_shell_over_the_bed_board() -> None:
    # Inner face of the top at 190 mm, board at 120 mm.
    given = {"bed.to": "1.5 m", "bed.height": "120 mm"}
    sides(rules.SHELL_BED, 0.07, "requirements.clearance", given, extra=lids.BED)


def test_without_a_board_nothing_is_said_of_it() -> None:
    look = lids.look()
    for rule in (rules.SHELL_BED, rules.SPRING_BED):
        with pytest.raises(StopIteration):
            look.check(rule)


# --- springs ------------------------------------------------------------------------------------------


def test_spring_by_the_edge_of_the_opening() -> None:
    # Foot 50 mm behind the edge at x = 2, between lining and skin; rod of 10 mm.
    given = {"spring.0.foot.x": "1.95 m", "spring.0.foot.z": "-10 mm", "spring.0.stroke": "200 mm"}
    sides(rules.SPRING_ROOF, 0.05 - 0.005, "requirements.clearance", given)


def test_spring_under_the_shell() -> None:
    # Head 90 mm under the inner face of the top, tube of 22 mm.
    sides(rules.SPRING_SHELL, 0.19 - 0.1 - 0.011, "requirements.clearance")


def test_a_spring_above_the_shell_fails_by_how_far_it_pokes_out() -> None:
    check = lids.look({"spring.0.head.z": "250 mm"}).check(rules.SPRING_SHELL)
    assert check.value < -0.06
    assert check.verdict is Verdict.FAILS


def test_spring_over_the_bed_board() -> None:
    # Foot at -100 mm, its rod's half thickness above a board at -150 mm.
    sides(rules.SPRING_BED, 0.05 - 0.005, "requirements.clearance", {"bed.height": "-150 mm"}, extra=lids.BED)


def test_spring_beside_the_head() -> None:
    # The person, 1.6 m tall, stands 1 m before the rear edge on a floor 1.5 m below the roof; the springs are so close
    # to the middle that only the side view keeps them apart: from (1.1, 0.1) to a head of 110 mm round (1, -0.01).
    given = {"handle.at.x": "1 m", "spring.0.place": "50 mm"}
    sides(rules.HEAD, math.hypot(0.1, 0.11) - 0.11 - 0.011, "requirements.clearance", given)


def test_spring_to_the_side_of_the_head() -> None:
    # The same spring 200 mm from the middle: what is left beside head and tube counts where it is more.
    given = {"handle.at.x": "1 m", "spring.0.place": "200 mm"}
    sides(rules.HEAD, 0.2 - 0.11 - 0.011, "requirements.clearance", given)


# --- the hand and the hinges ---------------------------------------------------------------------------


def test_reach_to_the_strap() -> None:
    # The lip rises by 2 m times a half; strap of 400 mm; floor 1.5 m below the roof.
    sides(rules.REACH, 2.0 * 0.5 - 0.4 + 1.5, "person.reach", {"handle.strap_length": "400 mm"})


@pytest.mark.parametrize("play", [0.0, 1e-5])
@pytest.mark.parametrize(("share", "verdict"), [(0.99, Verdict.HOLDS), (1.01, Verdict.FAILS)])
def test_hinges_that_a_tape_can_set(play: float, share: float, verdict: Verdict) -> None:
    # A pin of 60 mm, out by what a tape just shows over 1 m of spacing, walks 60 mm sin a sin(q/2) as it turns by q;
    # what is beyond the play bends two plates in series.
    misfit = 0.06 * TAPE / 1.0 * math.sin(lids.OPEN / 2)
    stiffness = share * SIDE_LIMIT * 2 / (misfit - play)
    given = {"linkage.play": lids.metre(play), "linkage.plate_stiffness": f"{stiffness / 1000:.9f} N/mm"}
    check = lids.look(given).check(rules.BINDING)
    assert check.value == pytest.approx(share * SIDE_LIMIT, rel=1e-6)
    assert check.verdict is verdict


def test_play_that_takes_the_whole_misfit_leaves_no_side_force() -> None:
    assert lids.look({"linkage.play": "0.1 mm"}).check(rules.BINDING).value == 0.0


# --- arms ---------------------------------------------------------------------------------------------

ARM = math.hypot(0.4, 0.1)
TILT = math.atan2(0.1, 0.4)


def test_arms_of_the_lid_stay_parallel() -> None:
    travel = lids.look(arms=True).parts.roof.travel
    np.testing.assert_allclose(travel.shell.phi, 0.0, atol=1e-12)
    rise = travel.shell.z[0, -1]
    assert rise == pytest.approx(ARM * (math.sin(TILT + math.radians(60)) - math.sin(TILT)))


def test_arm_by_the_edge_of_the_opening() -> None:
    # Arm a from (1.95, -0.01), 30 mm wide, its first 60 mm left out; the cut edge of the opening ends at the skin.
    given = {
        "linkage.arm_a_van.x": "1.95 m",
        "linkage.arm_a_van.z": "-10 mm",
        "linkage.arm_a_shell.x": "1.55 m",
        "linkage.arm_a_shell.z": "90 mm",
    }
    theta = TILT + np.linspace(0.0, math.radians(60), Q.size)
    x, z = 1.95 - 0.06 * np.cos(theta), -0.01 + 0.06 * np.sin(theta)
    gap = float(np.hypot(2.0 - x, np.maximum(z, 0.0)).min()) - 0.015
    sides(rules.ARM_ROOF, gap, "requirements.clearance", given, arms=True)


def test_transmission_angle() -> None:
    # Of a parallelogram: between the arms and the line of the shell's pins, 0.6 m back and 0.25 m down.
    line = math.atan2(-0.25, -0.6)
    angles = []
    for q in np.linspace(0.0, math.radians(60), 121):
        arm = math.pi - (TILT + q)
        between = abs((arm - line + math.pi / 2) % math.pi - math.pi / 2)
        angles.append(between)
    least = min(angles)
    for side, verdict in ((-1, Verdict.HOLDS), (1, Verdict.FAILS)):
        limit = f"{math.degrees(least) + side * 0.01:.9f} deg"
        check = lids.look({"requirements.transmission_min": limit}, arms=True).check(rules.TRANSMISSION)
        assert check.value == pytest.approx(least, abs=1e-9)
        assert check.verdict is verdict


def two_rows(first: dict[str, Any], second: dict[str, Any], rule: Rule) -> Check:
    """Return the check of a rule where the nominal roof is the first, and the only other draw the second."""
    one, other = (inputs_of(loads(lids.text(changes, arms=True))) for changes in (first, second))
    columns = {path: np.array([one[path].value.nominal, other[path].value.nominal]) for path in one}
    rows = Rows(one, {}, slice(1, 2), 2, columns)
    parts = assembled(loads(lids.text(first, arms=True)), rows, stations=121)
    found = judge_room(room(parts.around, parts.roof), parts.roof, parts.around)
    return decide(next(j for j in found if j.rule is rule), rows, parts.roof.possible)


REACHES = {"linkage.arm_a_shell.x": "1.41 m"}
JAMS = {"linkage.arm_a_shell.x": "1.41 m", "linkage.arm_b_shell.x": "1.11 m", "linkage.arm_b_shell.z": "-0.25 m"}


def test_arms_that_do_not_reach() -> None:
    check = two_rows(REACHES, JAMS, rules.POSSIBLE)
    assert check.verdict is Verdict.HOLDS
    assert check.basis == "0 of 1 roofs like yours hold"
    # A plan that jams itself is refused before anything is judged; put to the rule all the same, it fails.
    jams = Judged(rules.POSSIBLE, np.zeros(1), np.ones(1))
    assert decide(jams, lids.ROW, np.zeros(1, dtype=bool)).verdict is Verdict.FAILS
    with pytest.raises(ProjectFault):
        two_rows(JAMS, REACHES, rules.POSSIBLE)
    with pytest.raises(StopIteration):
        lids.look(REACHES, arms=True).check(rules.POSSIBLE)


def test_a_roof_whose_arms_jam_is_refused_by_itself() -> None:
    # Two circles: the far pin of arm b's circle is out of reach from some swing of arm a on.
    with pytest.raises(CannotAssemble, match="jam"):
        lids.look(JAMS, arms=True)


def level(drop: float) -> dict[str, Any]:
    """Return arms whose four pivots lie in one line `drop` deep when arm a has swung by its tilt."""
    return {
        "linkage.arm_a_van.z": "-50 mm",
        "linkage.arm_a_shell.z": f"{-0.05 - drop:.6f} m",
        "linkage.arm_b_van.z": "-50 mm",
        "linkage.arm_b_shell.z": f"{-0.05 - drop:.6f} m",
    }


def test_equal_arms_that_lie_in_line_with_the_shell() -> None:
    # Pivots level: arms that hang below level when closed pass through the line on their way up, from rising ones it
    # is behind them.
    down, up = level(0.08), level(-0.08)
    check = two_rows(down, down, rules.LINES_UP)
    assert check.value == pytest.approx(math.atan2(0.08, 0.4) / math.radians(60), abs=1e-3)
    assert check.verdict is Verdict.FAILS
    assert two_rows(up, down, rules.LINES_UP).verdict is Verdict.HOLDS
