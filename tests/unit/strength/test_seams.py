"""Line joints: rivets and glue, each rule on both sides of its limit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.core.checks import Check, Rule, Verdict
from loftwright.reference.rivets import RIVETS, rivet_of
from loftwright.reference.sheets import SHEETS
from loftwright.strength import joint_rules
from loftwright.strength.joints import Factors, Layer
from loftwright.strength.seams import GLUED_PITCH, SEAL_PITCH, Seam, judge_seam, pitch_for, rivet_bearing, rivet_limits

SKIN = Layer(SHEETS["roof steel"], 0.0008, 0.012)
RING = Layer(SHEETS["S235 steel"], 0.002, 0.015)
FLANGE = Layer(SHEETS["glass mat laminate"], 0.003, 0.020)
SEAM = Seam("ring to skin", (SKIN, RING), 2.0, RIVETS["4.8 mm, class H"], 0.050)


def worst(seam: Seam, rule: Rule, shear: float = 0.0, pull: float = 0.0) -> Check:
    """Return the worst judgement of a rule in the nominal row."""
    checks = []
    for one in judge_seam(seam, shear, pull):
        if one.rule is rule:
            assert one.value is not None
            if one.limit is None:
                checks.append(rule.not_known(one.unknown, value=float(one.value[0])))
            else:
                checks.append(rule.judge(float(one.value[0]), float(one.limit[0])))
    return min(checks, key=lambda check: -np.inf if check.margin is None else check.margin)


def test_rivets_hold_up_to_their_flow() -> None:
    shear, pull = (float(v) for v in rivet_limits(SEAM, Factors()))
    flow = shear / 0.050
    assert worst(SEAM, joint_rules.RIVETS_GIVE, 0.999 * flow).verdict is Verdict.HOLDS
    assert worst(SEAM, joint_rules.RIVETS_GIVE, 1.001 * flow).verdict is Verdict.FAILS
    assert worst(SEAM, joint_rules.RIVETS_GIVE, 0.6 * flow, 0.6 * pull / 0.050).verdict is Verdict.FAILS


def test_rivets_too_far_apart() -> None:
    assert worst(SEAM, joint_rules.RIVETS_FAR).verdict is Verdict.HOLDS
    assert worst(replace(SEAM, pitch=0.080), joint_rules.RIVETS_FAR).verdict is Verdict.FAILS
    assert worst(replace(SEAM, pitch=0.080, glue_width=0.02), joint_rules.RIVETS_FAR).verdict is Verdict.HOLDS


def test_rivets_too_near() -> None:
    assert worst(SEAM, joint_rules.HOLES_CLOSE).verdict is Verdict.HOLDS
    assert worst(replace(SEAM, pitch=0.010), joint_rules.HOLES_CLOSE).verdict is Verdict.FAILS
    assert (
        worst(replace(SEAM, layers=(replace(SKIN, edge=0.005), RING)), joint_rules.EDGE_NEAR).verdict is Verdict.FAILS
    )


def test_glue_waits_for_a_test_strip() -> None:
    glued = replace(SEAM, glue_width=0.020)
    flow = 0.25e6 * 0.020
    assert worst(glued, joint_rules.BOND, flow).verdict is Verdict.NOT_KNOWN
    assert worst(replace(glued, glue=1.01e6), joint_rules.BOND, flow).verdict is Verdict.HOLDS
    assert worst(replace(glued, glue=0.99e6), joint_rules.BOND, flow).verdict is Verdict.FAILS


def test_a_seam_of_glue_alone_has_no_rivets() -> None:
    glued = Seam("shell flange", (FLANGE, SKIN), 2.0, glue_width=0.03, glue=2e6)
    assert glued.count == 0
    with pytest.raises(ValueError, match="no rivets"):
        rivet_limits(glued, Factors())


def test_unlike_metals_in_a_seam() -> None:
    mixed = replace(SEAM, layers=(SKIN, Layer(SHEETS["aluminium 6082 T6"], 0.002, 0.015)))
    assert worst(mixed, joint_rules.UNLIKE).verdict is Verdict.FAILS
    assert worst(replace(mixed, isolated=True), joint_rules.UNLIKE).verdict is Verdict.HOLDS


def test_pitch_is_just_close_enough() -> None:
    flow = np.array([0.0, 1e3, 3e4, 6e4])
    pitch = pitch_for(SEAM, flow, 0.1 * flow)
    assert pitch[:2].tolist() == [SEAL_PITCH, SEAL_PITCH]
    for p, q in zip(pitch[2:], flow[2:], strict=True):
        just = replace(SEAM, pitch=float(p))
        used = next(j for j in judge_seam(just, q, 0.1 * q) if j.rule is joint_rules.RIVETS_GIVE)
        assert used.value == pytest.approx(1.0)
    assert pitch_for(replace(SEAM, glue_width=0.02), 0.0, -5.0) == GLUED_PITCH
    assert pitch_for(replace(SEAM, lines=2), flow[3], 0.0) == pytest.approx(2 * pitch_for(SEAM, flow[3], 0.0))


def test_a_thick_partner_keeps_the_rivet_straight() -> None:
    thin, mean, thick = (float(rivet_bearing(0.004, 0.001, t, 270e6)) for t in (0.001, 0.00175, 0.0025))
    assert thick == pytest.approx(2.1 * 270 * 4)
    assert mean == pytest.approx(0.5 * (thin + thick))


def test_rivet_in_laminate_and_plywood() -> None:
    for sheet, borne in (("glass mat laminate", 117e6 / 4), ("plywood", 30e6 / 3)):
        seam = replace(SEAM, layers=(Layer(SHEETS[sheet], 0.001, 0.02), RING))
        assert rivet_limits(seam, Factors())[0] == pytest.approx(min(925.0, 0.0048 * 0.001 * borne))


def test_pitch_and_rivet_may_differ_from_row_to_row() -> None:
    size, pitch = np.array([0.0032, 0.004, 0.0048]), np.array([0.030, 0.045, 0.080])
    many = judge_seam(replace(SEAM, rivet=rivet_of(size), pitch=pitch), 8000.0 * np.ones(3), 2000.0 * np.ones(3))
    for row in range(3):
        alone = replace(SEAM, rivet=rivet_of(float(size[row])), pitch=float(pitch[row]))
        for one, other in zip(judge_seam(alone, 8000.0, 2000.0), many, strict=True):
            assert one.value is not None
            assert other.value is not None
            assert np.broadcast_to(other.value, 3)[row] == pytest.approx(one.value[0])
    assert replace(SEAM, pitch=pitch).count == int(np.ceil(2.0 / 0.030)) + 1


def test_a_rivet_of_any_size_follows_the_listed_ones() -> None:
    for listed in (RIVETS[f"{mm} mm, class L"] for mm in ("3.2", "4.0", "4.8")):
        found = rivet_of(listed.diameter)
        for field in ("hole", "head", "shear", "pull"):
            assert getattr(found, field) == pytest.approx(getattr(listed, field))
    sizes = np.linspace(0.002, 0.012, 101)
    assert np.all(np.diff(rivet_of(sizes).shear) > 0.0)
    assert np.all(np.diff(rivet_of(sizes).pull) > 0.0)
