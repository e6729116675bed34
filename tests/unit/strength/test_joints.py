"""Bolted joints: every rule on both sides of its limit, and how the parts of a joint come together."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import ArrayLike

from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.judged import Judged
from loftwright.reference.bolts import BOLTS, CLASSES
from loftwright.reference.sheets import SHEETS
from loftwright.strength import joint_rules
from loftwright.strength.joint_judged import (
    MOST_USED,
    Mode,
    judge_use,
    judge_written,
    least_edge,
    least_spacing,
    use_of,
)
from loftwright.strength.joint_places import PLACES, rectangle
from loftwright.strength.joints import (
    FACTOR_ORIGINS,
    Backing,
    Factors,
    Joint,
    Layer,
    bearing_limit,
    clamp_limit,
    held_diameter,
    pull_limit,
    tightened,
)

STEEL, SKIN, MAT, FOAM, ALU = (
    SHEETS[name] for name in ("S235 steel", "roof steel", "glass mat laminate", "foam", "aluminium 6082 T6")
)
PLATE = Layer(STEEL, 0.004, 0.020)
SHELL = Layer(MAT, 0.004, 0.050, reach=0.12)
HINGE = Joint("hinge to shell", rectangle(2, 2, 0.06, 0.04), BOLTS["M8"], CLASSES["8.8"], (PLATE, SHELL), 0.015)
ROOF = replace(HINGE, name="hinge to roof", layers=(PLATE, Layer(SKIN, 0.0008, 0.050)))
BACKED = Backing(0.09, 0.07, 0.003, STEEL)
STILL = (0.0, 0.0, 0.0)


def found(rule: Rule, judged: tuple[Judged, ...], which: str = "") -> Check:
    """Return the worst judgement of a rule in the nominal row."""
    checks = []
    for one in judged:
        if one.rule is rule and which in one.which:
            assert one.value is not None
            assert one.limit is not None
            checks.append(rule.judge(float(one.value[0]), float(one.limit[0]), part=one.which))
    return min(checks, key=lambda check: check.margin or 0.0)


def judge(joint: Joint, force: ArrayLike, moment: ArrayLike, factors: Factors | None = None) -> tuple[Judged, ...]:
    return judge_use(joint, use_of(joint, force, moment, factors), factors)


def ask(joint: Joint, rule: Rule, force: object = STILL, moment: object = STILL, which: str = "") -> Check:
    return found(rule, judge(joint, np.asarray(force, float), np.asarray(moment, float)), which)


@pytest.mark.parametrize(
    ("rule", "force"),
    [
        (joint_rules.SHEAR, (1.0, 0.0, 0.0)),
        (joint_rules.TENSION, (0.0, 0.0, 1.0)),
        (joint_rules.TOGETHER, (0.7, 0.0, 0.7)),
        (joint_rules.TEARS, (1.0, 0.0, 0.0)),
        (joint_rules.PULLS_THROUGH, (0.0, 0.0, 1.0)),
        (joint_rules.SKIN_TOGETHER, (0.7, 0.0, 0.7)),
    ],
)
def test_loads_hold_and_fail(rule: Rule, force: tuple[float, ...]) -> None:
    worst = max(float(mode.use) for mode in use_of(ROOF, force, STILL).modes if mode.rule is rule)
    below, above = (np.asarray(force) * k / worst for k in (0.999, 1.001))
    assert ask(ROOF, rule, below).verdict is Verdict.HOLDS
    assert ask(ROOF, rule, above).verdict is Verdict.FAILS


def test_bolts_of_8_8_by_the_table() -> None:
    """EN 1993-1-8 Table 3.4 by hand: 0.6 and 0.9 of 800 MPa on 36.6 mm2, over 1.25 x 1.5."""
    shear, pull = (use_of(HINGE, f, STILL).modes[i] for i, f in enumerate(((4000.0, 0, 0), (0, 0, 4000.0))))
    assert shear.limit == pytest.approx(0.6 * 800e6 * 36.6e-6 / 1.875, rel=1e-3)
    assert pull.limit == pytest.approx(0.9 * 800e6 * 36.6e-6 / 1.875, rel=1e-3)
    assert (float(shear.value), float(pull.value)) == pytest.approx((1000.0, 1000.0))


def test_laminate_bends_until_it_is_backed() -> None:
    pull = (0.0, 0.0, 500.0)
    assert ask(HINGE, joint_rules.PEELS, pull).verdict is Verdict.FAILS
    assert ask(replace(HINGE, backing=BACKED), joint_rules.PEELS, pull).verdict is Verdict.HOLDS


def test_laminate_without_its_rib_is_not_known() -> None:
    joint = replace(HINGE, layers=(PLATE, replace(SHELL, reach=None)))
    judged = next(j for j in judge(joint, STILL, STILL) if j.rule is joint_rules.PEELS)
    assert (judged.value, judged.limit, judged.missing, judged.index) == (None, None, "reach", 1)
    assert "measure how far" in judged.unknown
    assert judged.rule.not_known(judged.unknown).verdict is Verdict.NOT_KNOWN


@pytest.mark.parametrize("which", ["S235 steel", "glass mat laminate"])
def test_edges(which: str) -> None:
    i = [layer.sheet.name for layer in HINGE.layers].index(which)
    least = least_edge(HINGE, HINGE.layers[i])
    for spare, verdict in ((1e-6, Verdict.HOLDS), (-1e-3, Verdict.FAILS)):
        layers = [*HINGE.layers]
        layers[i] = replace(layers[i], edge=least + spare)
        assert ask(replace(HINGE, layers=tuple(layers)), joint_rules.EDGE_NEAR, which=which).verdict is verdict


def test_least_distances_of_metal() -> None:
    assert least_edge(HINGE, PLATE) == pytest.approx(max(1.2 * 0.009, 1.5 * 0.008))
    assert least_spacing(ROOF) == pytest.approx(max(2.2 * 0.009, 3 * 0.008))


def test_holes_too_close() -> None:
    close = replace(HINGE, points=rectangle(2, 2, 0.06, 0.025))
    assert ask(HINGE, joint_rules.HOLES_CLOSE).verdict is Verdict.HOLDS
    assert ask(close, joint_rules.HOLES_CLOSE).verdict is Verdict.FAILS
    alone = replace(HINGE, points=((0.0, 0.0),))
    assert not [j for j in judge(alone, STILL, STILL) if j.rule is joint_rules.HOLES_CLOSE]


def test_unlike_metals() -> None:
    mixed = replace(HINGE, layers=(Layer(ALU, 0.005, 0.020), Layer(SKIN, 0.0008, 0.05)))
    assert ask(mixed, joint_rules.UNLIKE).verdict is Verdict.FAILS
    assert ask(replace(mixed, isolated=True), joint_rules.UNLIKE).verdict is Verdict.HOLDS
    assert ask(HINGE, joint_rules.UNLIKE).verdict is Verdict.HOLDS


def test_foam_crushes_without_a_spacer() -> None:
    core = Layer(FOAM, 0.025, 0.050, share=0.0)
    soft = replace(HINGE, layers=(PLATE, SHELL, core, SHELL))
    tubes = replace(HINGE, layers=(PLATE, SHELL, replace(core, spacer=True), SHELL))
    pull = (0.0, 0.0, 400.0)
    assert ask(soft, joint_rules.WORKS_LOOSE, pull).verdict is Verdict.FAILS
    assert ask(tubes, joint_rules.WORKS_LOOSE, pull).verdict is Verdict.HOLDS
    assert tightened(soft, Factors()) < 20.0


def test_metal_is_tightened_to_three_quarters_of_proof() -> None:
    assert tightened(ROOF, Factors()) == pytest.approx(0.75 * 580e6 * 36.6e-6, rel=1e-3)
    assert np.isinf(clamp_limit(ROOF, Factors()))


def test_thin_skin_by_hand() -> None:
    """Pull-over of 0.8 mm over a 16 mm washer with 3.0 (AISI S100): 1728 N; wider washers only up to the cap."""
    assert pull_limit(ROOF, ROOF.layers[1], 1, Factors()) == pytest.approx(1728.0)
    wide = replace(ROOF, washers=(0.016, 0.040))
    assert pull_limit(wide, wide.layers[1], 1, Factors()) == pytest.approx(1728.0 * 19.05 / 16)


def test_thick_plate_is_punched() -> None:
    expected = 0.6 * np.pi * BOLTS["M8"].mean_head * 0.004 * 360e6 / 1.875
    assert pull_limit(ROOF, PLATE, 0, Factors()) == pytest.approx(expected)


def test_backing_plate_spreads_as_far_as_it_is_stiff() -> None:
    thin, thick = (replace(ROOF, backing=replace(BACKED, thickness=t)) for t in (0.001, 0.006))
    widths = [float(held_diameter(joint, joint.layers[1], 1)) for joint in (ROOF, thin, thick)]
    assert widths == sorted(widths)
    assert widths[0] == 0.016
    assert widths[2] <= ROOF.spacing
    assert held_diameter(thick, PLATE, 0) == 0.016


def test_bearing_of_a_laminate_is_the_lesser_of_two() -> None:
    far = bearing_limit(HINGE, SHELL, Factors())
    near = bearing_limit(HINGE, replace(SHELL, edge=0.008), Factors())
    assert far == pytest.approx(0.008 * 0.004 * 117e6 / 4)
    assert near == pytest.approx(2 * (0.008 - 0.0045) * 0.004 * 62e6 / 4)


def test_thinner_sheet_never_bears_more() -> None:
    thick = np.linspace(0.0005, 0.005, 60)
    bears = bearing_limit(ROOF, Layer(SKIN, thick, 0.020), Factors())
    assert np.all(np.diff(bears) > 0.0)


def test_the_weakest_way_is_named() -> None:
    use = use_of(ROOF, (0.0, 0.0, 300.0), STILL)
    assert use.governing.rule is joint_rules.PULLS_THROUGH
    assert use.governing.layer == "roof steel"
    assert float(use.load_factor) == pytest.approx(1.0 / float(use.governing.use))
    assert np.isinf(use_of(ROOF, STILL, STILL).load_factor)


def test_rows_may_come_with_the_load_or_the_sheet() -> None:
    force = np.array([[0, 0, 100.0], [0, 0, 200.0], [0, 0, 300.0]])
    joint = replace(ROOF, layers=(PLATE, Layer(SKIN, np.array([0.0007, 0.0008, 0.001]), 0.05)))
    judged = judge(joint, force, np.zeros((3, 3)))
    assert use_of(joint, force, np.zeros((3, 3))).use.shape == (3,)
    for one in judged:
        assert one.value is not None
        assert one.value.shape == (one.limit.shape if one.limit is not None else ())


def test_places_give_sound_patterns() -> None:
    for place in PLACES.values():
        bolt = BOLTS[place.bolt]
        if not place.seam:
            joint = replace(HINGE, points=place.points, bolt=bolt)
            assert joint.spacing >= 3 * bolt.hole
    assert sum(place.seam for place in PLACES.values()) == 1


def test_every_factor_has_its_origin() -> None:
    assert set(FACTOR_ORIGINS) == set(Factors.__dataclass_fields__)


def test_a_plate_may_differ_from_row_to_row() -> None:
    wide = np.array([0.03, 0.04, 0.06])
    holes = np.stack([np.array(rectangle(2, 2, 0.06, float(w))) for w in wide])
    washer = np.array([0.014, 0.016, 0.018])
    edge = np.array([0.010, 0.015, 0.020])
    laminate = Layer(MAT, np.array([0.003, 0.004, 0.005]), edge, reach=0.12)
    backing = Backing(washer, washer, 0.003, STEEL)
    factors = Factors(bolt=np.array([1.1, 1.25, 1.4]), laminate=np.array([2.0, 3.0, 4.0]))
    force, moment = (100.0, -200.0, 300.0), (5.0, -6.0, 7.0)
    many = Joint("plate", holes, BOLTS["M8"], CLASSES["8.8"], (PLATE, laminate), edge, (0.016, washer), backing)
    found = judge(many, force, moment, factors)
    for row in range(3):
        one = Joint(
            "plate",
            rectangle(2, 2, 0.06, float(wide[row])),
            BOLTS["M8"],
            CLASSES["8.8"],
            (PLATE, Layer(MAT, 0.003 + 0.001 * row, float(edge[row]), reach=0.12)),
            float(edge[row]),
            (0.016, float(washer[row])),
            Backing(float(washer[row]), float(washer[row]), 0.003, STEEL),
        )
        alone = Factors(bolt=(1.1, 1.25, 1.4)[row], laminate=(2.0, 3.0, 4.0)[row])
        for wanted, got in zip(judge(one, force, moment, alone), found, strict=True):
            for a, b in ((wanted.value, got.value), (wanted.limit, got.limit)):
                assert a is not None
                assert b is not None
                assert np.broadcast_to(b, 3)[row] == pytest.approx(a[0])


def test_the_worst_of_several_loads_counts_in_each_row() -> None:
    loads = np.array([[[0, 0, 100.0], [0, 0, 400.0]], [[0, 0, 300.0], [0, 0, 200.0]]])
    use = use_of(ROOF, loads, np.zeros_like(loads))
    assert use.use.shape == (2, 2)
    together = judge(ROOF, loads, np.zeros_like(loads))
    alone = judge(ROOF, [[0, 0, 300.0], [0, 0, 400.0]], np.zeros((2, 3)))
    for one, other in zip(together, alone, strict=True):
        assert one.value == pytest.approx(other.value)


def test_a_fitting_is_not_judged_itself_but_touches_and_clamps() -> None:
    fitting = Layer(ALU, 0.0005, 0.001, fitting=True)
    joint = replace(ROOF, layers=(fitting, ROOF.layers[1]))
    said = judge(joint, (0.0, 0.0, 300.0), STILL)
    assert not [one for one in said if one.which.endswith(ALU.name)]
    unlike = next(one for one in said if one.rule is joint_rules.UNLIKE)
    assert unlike.value is not None
    assert unlike.value[0] >= 1.0
    # Under the head lies the fitting: only the nut's washer crushes the laminate.
    soft = replace(HINGE, layers=(replace(PLATE, fitting=True), SHELL), washers=(0.010, 0.030))
    assert clamp_limit(soft, Factors()) == pytest.approx(np.pi / 4 * (0.030**2 - 0.009**2) * MAT.crush / 4)


def test_skin_that_is_thick_in_some_rows_is_used_together_in_the_thin_ones_only() -> None:
    joint = replace(ROOF, layers=(PLATE, Layer(SKIN, np.array([0.002, 0.004]), 0.05)))
    both = next(one for one in use_of(joint, (0.0, 0.0, 300.0), STILL).modes if one.rule is joint_rules.SKIN_TOGETHER)
    assert both.use[0] > 0.0
    assert both.use[1] == 0.0


def test_bolts_that_are_not_written_down_are_not_known() -> None:
    every, some = judge_written((), 3), judge_written(("latch to the van",), 3)
    assert every.value is not None
    assert every.limit is not None
    assert joint_rules.NOT_WRITTEN.judge(float(every.value[0]), float(every.limit[0])).verdict is Verdict.HOLDS
    assert some.value is not None
    assert joint_rules.NOT_WRITTEN.judge(float(some.value[0]), float(every.limit[0])).verdict is Verdict.FAILS
    assert some.limit is None
    assert joint_rules.NOT_WRITTEN.not_known(some.unknown).verdict is Verdict.NOT_KNOWN
    assert "latch to the van" in some.unknown


def test_a_layer_that_bears_nothing_is_used_up() -> None:
    """Exact constructed case: no limit at all, a tenth of the load, twice the load."""
    mode = Mode(joint_rules.TEARS, "thin", np.array([300.0, 300.0, 300.0]), np.array([0.0, 30.0, 600.0]))
    assert mode.use.tolist() == [MOST_USED, 10.0, 0.5]


def test_a_layer_that_bears_nothing_is_used_to_the_full_without_a_warning() -> None:
    """Exact: under load it is far past its limit, without load it is not used at all."""
    # The hole is nearer to the edge than its own half: nothing is left to tear.
    joint = replace(HINGE, layers=(PLATE, replace(SHELL, edge=0.004)))
    pulled, idle = use_of(joint, (50.0, 0.0, 300.0), STILL), use_of(joint, STILL, STILL)
    lost = [one for one in pulled.modes if float(np.max(one.limit)) == 0.0]
    assert lost
    assert all(one.use == pytest.approx(MOST_USED) for one in lost)
    assert pulled.load_factor == pytest.approx(1.0 / MOST_USED)
    assert idle.use == pytest.approx(0.0)
